// The kinds of files, their words and the folders they live in.
#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

namespace hitchwright {

/// What a file describes.
enum class FileKind { tractor, implement, driveline, setup, rules, specification_list };

/// All kinds, in the order in which they are listed.
inline constexpr std::array<FileKind, 6> file_kinds = {FileKind::tractor, FileKind::implement, FileKind::driveline,
                                                       FileKind::setup, FileKind::rules, FileKind::specification_list};

/// The word behind `kind =`: "tractor", "implement", "driveline", "setup", "rules", "specification_list".
std::string_view file_kind_word(FileKind kind);

/// The kind in a sentence: "tractor", "set-up", "rule set", ...
std::string_view file_kind_name(FileKind kind);

/// The kind a word stands for.
std::optional<FileKind> find_file_kind(std::string_view word);

/// Folders below presets/ (or below the user's folder) that hold files of a kind, the usual one first.
std::vector<std::string_view> file_kind_folders(FileKind kind);

/// The version of the file format this program reads.
inline constexpr int file_version = 1;

}  // namespace hitchwright
