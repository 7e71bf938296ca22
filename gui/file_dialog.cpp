#include "gui/file_dialog.h"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "gui/open_setup.h"
#include "gui/save_changes.h"
#include "presets/number_text.h"
#include "presets/reading_log.h"

namespace hitchwright {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_entries = 4000;
constexpr std::string_view ending = ".toml";

bool is_setup_file(const std::string& name) {
    return name.size() > ending.size() && name.ends_with(ending) && !is_log_name(name);
}

void enter_folder(FileDialog& dialog, const std::string& folder) {
    dialog.folder = folder;
    dialog.entries = list_setup_folder(folder);
    dialog.marked = -1;
    dialog.message.clear();
    dialog.over.clear();
    dialog.focus_field = true;
}

/// The path typed, absolute, from the folder listed.
std::string find_typed(const FileDialog& dialog) {
    const std::string typed(trim(dialog.path));
    if (typed.empty()) return {};
    return (fs::path(dialog.folder) / typed).lexically_normal().string();
}

std::string without_slash(std::string folder) {
    while (folder.size() > 1 && folder.back() == '/') folder.pop_back();
    return folder;
}

void close_dialog(AppState& app) { app.view.files.dialog.open = false; }

void open_typed(AppState& app, const std::string& typed, const std::string& path) {
    // A name alone that no file has is one of the set-ups built in, or of the user's folder.
    std::error_code error;
    const bool preset = !is_path(typed) && !fs::exists(path, error);
    close_dialog(app);
    ask_to_open(app, preset ? typed : path);
}

}  // namespace

std::vector<FolderEntry> list_setup_folder(const std::string& folder) {
    std::vector<FolderEntry> entries;
    std::error_code error;
    fs::directory_iterator at(folder, fs::directory_options::skip_permission_denied, error);
    for (; !error && at != fs::directory_iterator{} && entries.size() < most_entries; at.increment(error)) {
        std::error_code unknown;
        const std::string name = at->path().filename().string();
        const bool is_folder = at->is_directory(unknown);
        if (!name.starts_with('.') && (is_folder || is_setup_file(name))) entries.push_back({name, is_folder});
    }
    std::sort(entries.begin(), entries.end(), [](const FolderEntry& a, const FolderEntry& b) {
        return a.folder != b.folder ? a.folder : a.name < b.name;
    });
    if (folder != "/") entries.insert(entries.begin(), {"..", true});
    return entries;
}

void start_file_dialog(AppState& app, FileWish wish) {
    FileDialog dialog;
    dialog.open = true;
    dialog.wish = wish;
    std::error_code error;
    const fs::path here = fs::current_path(error);
    const std::string own =
        has_own_file(app) ? fs::path(find_whole_name(app.source.file)).parent_path().string() : std::string{};
    enter_folder(dialog, fs::is_directory(own, error) ? own : here.string());
    if (wish == FileWish::save_as && !app.source.key.empty()) dialog.path = app.source.key + "-2" + std::string(ending);
    app.view.files.dialog = std::move(dialog);
}

void move_mark(FileDialog& dialog, int steps) {
    if (dialog.entries.empty()) return;
    const int last = static_cast<int>(dialog.entries.size()) - 1;
    dialog.marked = dialog.marked < 0 ? (steps > 0 ? 0 : last) : std::clamp(dialog.marked + steps, 0, last);
}

void take_entry(AppState& app, int entry) {
    FileDialog& dialog = app.view.files.dialog;
    if (entry < 0 || entry >= static_cast<int>(dialog.entries.size())) return;
    const FolderEntry taken = dialog.entries[static_cast<std::size_t>(entry)];
    const fs::path path = (fs::path(dialog.folder) / taken.name).lexically_normal();
    if (taken.folder) {
        enter_folder(dialog, without_slash(path.string()));
        return;
    }
    dialog.path = taken.name;
    // Enter then answers for the name in the field.
    dialog.marked = -1;
    dialog.message.clear();
    dialog.over.clear();
    if (dialog.wish == FileWish::open) answer_file_dialog(app);
}

void answer_file_dialog(AppState& app) {
    FileDialog& dialog = app.view.files.dialog;
    dialog.message.clear();
    dialog.over.clear();
    const std::string path = find_typed(dialog);
    if (path.empty()) {
        dialog.message = "Type a path, or choose a file of the list.";
        return;
    }
    std::error_code error;
    if (fs::is_directory(path, error)) {
        dialog.path.clear();
        enter_folder(dialog, without_slash(path));
        return;
    }
    if (dialog.wish == FileWish::open) return open_typed(app, std::string(trim(dialog.path)), path);
    const SaveOutcome outcome = save_as(app, path, Existing::refused);
    if (outcome.written) return close_dialog(app);
    dialog.message = outcome.message;
    if (outcome.may_replace) dialog.over = path;
}

void write_over(AppState& app) {
    FileDialog& dialog = app.view.files.dialog;
    if (dialog.over.empty()) return;
    const SaveOutcome outcome = save_as(app, std::exchange(dialog.over, {}), Existing::replaced);
    if (outcome.written) return close_dialog(app);
    dialog.message = outcome.message;
}

}  // namespace hitchwright
