// One line of a batch: a set-up as JSON in, its answer as JSON out. docs/batches.md.
#pragma once

#include <string>

#include "cli/line_reader.h"
#include "cli/option_values.h"
#include "presets/file_text.h"
#include "presets/library.h"

namespace hitchwright {

/// Longest line that is read, in bytes: a set-up inside a line may be as large as one in a file.
inline constexpr std::size_t most_line_bytes = most_file_bytes;

/// What holds for all lines.
struct BatchOptions {
    const Library& library;
    CommonValues common;  ///< `rules`: of lines that name none; `sets`: before those of the line
    bool full = false;    ///< the whole answer of `fit`, not the brief one
};

/// The answer to one line, line ended.
struct BatchAnswer {
    std::string text;
    bool has_errors = false;  ///< there is no verdict; the answer says why
};

/// Answers a line, whatever is in it. Uses one thread; may be called on several at once.
BatchAnswer answer_batch_line(const InputLine& line, const BatchOptions& options);

}  // namespace hitchwright
