#include "cli/preset_lookup.h"

#include <algorithm>

#include <fmt/format.h>

#include "presets/nearest.h"

namespace hitchwright {

std::vector<PresetEntry> list_presets(const Library& library, std::optional<FileKind> kind) {
    std::vector<PresetEntry> entries;
    for (const FileKind each : file_kinds) {
        if (kind && *kind != each) continue;
        for (PresetEntry& entry : library.list(each)) entries.push_back(std::move(entry));
    }
    return entries;
}

std::optional<FileKind> find_kind(std::string_view word) {
    for (const FileKind kind : file_kinds) {
        if (word == file_kind_word(kind) || word == file_kind_folders(kind).front()) return kind;
    }
    return std::nullopt;
}

UsageProblem refuse_kind(const std::string& where, const std::string& word) {
    std::vector<std::string> words;
    words.reserve(file_kinds.size());
    for (const FileKind kind : file_kinds) words.emplace_back(file_kind_word(kind));
    return {where,
            fmt::format("{} was read, which is no kind of file; allowed: {}", in_quotes(word), join_words(words)),
            nearest_word(word, words)};
}

std::variant<PresetEntry, Failure> find_preset(const Library& library, std::string_view name,
                                               std::optional<FileKind> kind) {
    std::vector<PresetEntry> found;
    std::vector<std::string> names;
    for (PresetEntry& entry : list_presets(library, kind)) {
        if (entry.hidden) continue;
        names.push_back(entry.key);
        const bool first = found.empty() || found.back().kind != entry.kind;
        if (entry.key == name && first) found.push_back(std::move(entry));
    }
    if (found.size() == 1) return found.front();
    Failure failure;
    if (found.empty()) {
        failure.code = exit_code::bad_file;
        failure.problems.push_back({std::string(name),
                                    0,
                                    0,
                                    {},
                                    "there is no preset of that name",
                                    {},
                                    "a name from \"hitchwright presets list\"",
                                    nearest_word(name, names)});
        failure.message = "a file is missing";
        return failure;
    }
    std::vector<std::string> kinds;
    kinds.reserve(found.size());
    for (const PresetEntry& entry : found) kinds.emplace_back(file_kind_word(entry.kind));
    failure.code = exit_code::usage;
    failure.usage.push_back(
        {"--kind",
         fmt::format("there are several presets {}; name the kind: {}", in_quotes(name), join_words(kinds)),
         {}});
    return failure;
}

}  // namespace hitchwright
