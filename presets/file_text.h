// Reading a whole file that may be anything: a directory, a pipe, far too large, not text.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "presets/problem.h"

namespace hitchwright {

/// Largest file that is read, in bytes (1 MiB). A set-up is a few kB; anything larger is a mistake and
/// is refused before it is read or parsed.
inline constexpr std::size_t most_file_bytes = std::size_t{1} << 20;

/// The text of a file, or why there is none.
struct FileText {
    std::string text;               ///< UTF-8, without byte order mark
    std::vector<Problem> problems;  ///< empty: the text was read
    bool byte_order_mark = false;   ///< there was one

    bool ok() const { return problems.empty(); }
};

/// Reads a regular file. Refused, each with a sentence: missing, directory, device or pipe, over
/// `most_file_bytes`, no permission, broken UTF-8 (with line, column and byte).
FileText read_file_text(const std::string& path);

/// The checks on text alone: size and UTF-8; a byte order mark at the start is dropped.
/// `file` is the name that stands in the problems.
FileText check_file_text(std::string_view bytes, const std::string& file);

}  // namespace hitchwright
