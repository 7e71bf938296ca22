// Search order and directory listing.
#include "presets/library.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include <fmt/format.h>

#include "presets/file_text.h"
#include "presets/nearest.h"
#include "presets/reading_log.h"
#include "presets/toml_reader.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view ending = ".toml";
// More files than this in one folder are not a collection of presets.
constexpr std::size_t most_entries = 1000;

bool ends_in_toml(std::string_view name) { return name.size() > ending.size() && name.ends_with(ending); }

// "tractors/compact.toml" -> "compact".
std::string_view key_of(std::string_view path) {
    const std::size_t slash = path.rfind('/');
    std::string_view name = slash == std::string_view::npos ? path : path.substr(slash + 1);
    if (ends_in_toml(name)) {
        name.remove_suffix(ending.size());
    }
    return name;
}

std::vector<PresetEntry> list_folder(const std::string& root, FileKind kind, std::string_view below) {
    std::vector<PresetEntry> entries;
    std::error_code error;
    fs::directory_iterator at(fs::path(root) / below, error);
    for (; !error && at != fs::directory_iterator{} && entries.size() < most_entries; at.increment(error)) {
        const std::string name = at->path().filename().string();
        // A log stands beside its set-up and is none.
        if (ends_in_toml(name) && !is_log_name(name) && !at->is_directory(error)) {
            entries.push_back({kind, std::string(key_of(name)), at->path().string(), std::string(below) + "/" + name, false, false});
        }
        error.clear();
    }
    return entries;
}

// An empty key: all.
std::vector<PresetEntry> list_embedded(std::span<const EmbeddedFile> files, FileKind kind, std::string_view key) {
    std::vector<PresetEntry> entries;
    for (const EmbeddedFile& file : files) {
        if (!key.empty() && key_of(file.path) != key) continue;
        const std::string_view folder = file.path.substr(0, file.path.rfind('/'));
        const auto folders = file_kind_folders(kind);
        if (std::find(folders.begin(), folders.end(), folder) != folders.end()) {
            entries.push_back({kind, std::string(key_of(file.path)), std::string(embedded_mark) + std::string(file.path),
                               std::string(file.path), true, false});
        }
    }
    return entries;
}

// By key, the user's first. An empty key: all.
std::vector<PresetEntry> list_entries(const std::string& user_folder, std::span<const EmbeddedFile> embedded, FileKind kind,
                                      std::string_view key) {
    std::vector<PresetEntry> entries;
    for (const std::string_view folder : file_kind_folders(kind)) {
        if (!user_folder.empty()) {
            const auto found = list_folder(user_folder, kind, folder);
            entries.insert(entries.end(), found.begin(), found.end());
        }
    }
    if (!key.empty()) std::erase_if(entries, [&](const PresetEntry& entry) { return entry.key != key; });
    const std::size_t users = entries.size();
    for (PresetEntry& entry : list_embedded(embedded, kind, key)) {
        entry.hidden = std::any_of(entries.begin(), entries.begin() + static_cast<std::ptrdiff_t>(users),
                                   [&](const PresetEntry& user) { return user.key == entry.key; });
        entries.push_back(std::move(entry));
    }
    std::stable_sort(entries.begin(), entries.end(), [](const PresetEntry& a, const PresetEntry& b) {
        return a.key != b.key ? a.key < b.key : (a.embedded != b.embedded ? b.embedded : a.below < b.below);
    });
    return entries;
}

// Resolves a path typed in a set-up against the folder of that set-up; "this folder" is said once.
std::string resolve(std::string_view name, std::string_view folder) {
    if (!name.empty() && name.front() == '/') return std::string(name);
    while (!folder.empty() && name.starts_with("./")) name.remove_prefix(2);
    return std::string(folder) + std::string(name);
}

PresetText read_path(const std::string& path) {
    PresetText result;
    FileText text = read_file_text(path);
    const std::size_t slash = path.rfind('/');
    result.text = std::move(text.text);
    result.byte_order_mark = text.byte_order_mark;
    result.file = path;
    result.key = std::string(key_of(path));
    result.folder = slash == std::string::npos ? std::string{} : path.substr(0, slash + 1);
    result.problems = std::move(text.problems);
    return result;
}

}  // namespace

bool is_path(std::string_view name) { return name.find('/') != std::string_view::npos || name.ends_with(ending); }

Library::Library(std::string user_folder, std::span<const EmbeddedFile> embedded)
    : user_folder_(std::move(user_folder)), embedded_(embedded) {}

std::vector<PresetEntry> Library::list(FileKind kind) const { return list_entries(user_folder_, embedded_, kind, {}); }

std::optional<PresetEntry> Library::find(FileKind kind, std::string_view key) const {
    std::vector<PresetEntry> entries = key.empty() ? std::vector<PresetEntry>{} : list_entries(user_folder_, embedded_, kind, key);
    return entries.empty() ? std::nullopt : std::optional(std::move(entries.front()));
}

PresetText Library::read(const PresetEntry& entry) const {
    if (!entry.embedded) {
        return read_path(entry.file);
    }
    PresetText result;
    result.file = entry.file;
    result.key = entry.key;
    result.embedded = true;
    for (const EmbeddedFile& file : embedded_) {
        if (file.path == entry.below) {
            FileText text = check_file_text(file.text, entry.file);
            result.text = std::move(text.text);
            result.problems = std::move(text.problems);
            return result;
        }
    }
    result.problems.push_back({entry.file, 0, 0, {}, "this file is not built into the program", {}, {}, {}});
    return result;
}

PresetText Library::read(FileKind kind, std::string_view name, std::string_view folder) const {
    if (is_path(name)) {
        return read_path(resolve(name, folder));
    }
    if (const auto entry = find(kind, name)) {
        return read(*entry);
    }
    std::vector<std::string> keys;
    std::string all;
    for (const PresetEntry& entry : list(kind)) {
        if (!entry.hidden) {
            keys.push_back(entry.key);
            all += (all.empty() ? "" : ", ") + entry.key;
        }
    }
    PresetText result;
    result.file = std::string(name);
    result.problems.push_back({result.file, 0, 0, {}, fmt::format("there is no {} of that name", file_kind_name(kind)), {},
                               fmt::format("a path with a slash or ending in .toml, or one of: {}", all.empty() ? "(none)" : all),
                               nearest_word(name, keys)});
    return result;
}

std::string find_user_folder(const std::function<const char*(const char*)>& variable) {
    const auto value = [&](const char* name) {
        const char* text = variable(name);
        return std::string(text == nullptr ? "" : text);
    };
    const std::string own = value("HITCHWRIGHT_PRESETS"), data = value("XDG_DATA_HOME"), home = value("HOME");
    if (!own.empty()) {
        return own;
    }
    if (!data.empty() && data.front() == '/') {
        return data + "/hitchwright/presets";
    }
    return home.empty() ? std::string{} : home + "/.local/share/hitchwright/presets";
}

Library open_library() {
    return Library(find_user_folder([](const char* name) -> const char* { return std::getenv(name); }));
}

std::string peek_name(std::string_view text) {
    const ParsedToml parsed = parse_toml(text, {});
    const SourceNode* name = parsed.ok() ? parsed.root.find("name") : nullptr;
    const bool fine = name != nullptr && name->kind == SourceKind::text && !has_control_characters(name->typed, true);
    return fine ? name->typed : std::string{};
}

}  // namespace hitchwright
