// Finding a preset by its name alone, whatever its kind, and the words people use for kinds.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "cli/option_values.h"
#include "presets/library.h"

namespace hitchwright {

/// All presets, or those of one kind, by kind and name; hidden ones included.
std::vector<PresetEntry> list_presets(const Library& library, std::optional<FileKind> kind);

/// The kind a word stands for: "tractor", and the name of its folder, "tractors".
std::optional<FileKind> find_kind(std::string_view word);

/// A problem for a word that is no kind.
UsageProblem refuse_kind(const std::string& where, const std::string& word);

/// The one preset of that name, or what is wrong: none, or several kinds without `--kind`. The failure's command is
/// left to the caller.
std::variant<PresetEntry, Failure> find_preset(const Library& library, std::string_view name,
                                               std::optional<FileKind> kind);

}  // namespace hitchwright
