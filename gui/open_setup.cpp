#include "gui/open_setup.h"

#include <filesystem>

#include "gui/typing.h"
#include "gui/window_state.h"

namespace hitchwright {

std::string find_whole_name(const std::string& name) {
    if (!is_path(name)) return name;
    std::error_code failed;
    const std::filesystem::path whole = std::filesystem::absolute(name, failed);
    return failed ? name : whole.lexically_normal().string();
}

void show_opened(AppState& app, AppState opened) {
    keep_window_view(opened.view, std::move(app.view));
    opened.results.revision = app.results.revision + 1;
    app = std::move(opened);
    // A question about the set-up before would be answered for this one.
    app.view.files.dialog = {};
    if (!app.drafted) note_recent(app.view.files.recent, find_whole_name(app.name));
}

bool open_setup(AppState& app, const std::string& name) {
    const std::string whole = find_whole_name(name);
    AppState opened = open_app(app.library, whole, {}, app.view.units, app.mark);
    if (!opened.problems.empty()) {
        app.view.files.refused = {whole, std::move(opened.problems)};
        return false;
    }
    show_opened(app, std::move(opened));
    return true;
}

void ask_to_open(AppState& app, const std::string& name) {
    app.view.files.waits_for_typing = is_typing(app);
    if (app.view.files.waits_for_typing || would_lose(app))
        app.view.files.waiting = find_whole_name(name);
    else
        open_setup(app, name);
}

void open_waiting(AppState& app) {
    FileView& files = app.view.files;
    if (files.waiting.empty() || !files.waits_for_save || app.view.save.open) return;
    const std::string name = std::exchange(files.waiting, {});
    files.waits_for_save = false;
    if (has_changes(app)) return;
    // A text that was refused is still there to be lost.
    if (would_lose(app)) files.waiting = name;
    else open_setup(app, name);
}

}  // namespace hitchwright
