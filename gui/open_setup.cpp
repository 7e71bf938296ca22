#include "gui/open_setup.h"

#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "gui/typing.h"
#include "gui/window_state.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 300;

/// A set-up that is in no file, from its text.
void open_text(AppState& app, const std::string& text, const std::string& title) {
    AppState opened = open_draft(app.library, text, "pair", app.view.units, app.mark);
    if (!opened.problems.empty()) {
        app.view.files.refused = {title, std::move(opened.problems)};
        return;
    }
    show_opened(app, std::move(opened));
    app.view.notice = "This pair is in no file yet: \"Write into a file\" keeps it as a set-up.";
}

void wait_or_open(AppState& app, const std::string& name, const std::string& text) {
    FileView& files = app.view.files;
    files.waits_for_typing = is_typing(app);
    files.waiting = name;
    files.waiting_text = text;
    if (!files.waits_for_typing && !would_lose(app)) open_what_waits(app);
}

}  // namespace

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

void ask_to_open(AppState& app, const std::string& name) { wait_or_open(app, find_whole_name(name), {}); }

void drop_files(AppState& app, std::span<const char* const> paths) {
    if (paths.empty() || paths.front() == nullptr) return;
    ask_to_open(app, paths.front());
    if (paths.size() > 1)
        app.view.notice = fmt::format("Of {} files dropped only the first counts: {}.", paths.size(), escape_text(paths.front(), most_shown));
}

void ask_to_open_text(AppState& app, const std::string& text, const std::string& title) { wait_or_open(app, title, text); }

void open_what_waits(AppState& app) {
    const std::string name = std::exchange(app.view.files.waiting, {}), text = std::exchange(app.view.files.waiting_text, {});
    if (text.empty()) open_setup(app, name);
    else open_text(app, text, name);
}

void forget_waiting(AppState& app) {
    app.view.files.waiting.clear();
    app.view.files.waiting_text.clear();
}

void open_waiting(AppState& app) {
    FileView& files = app.view.files;
    if (files.waiting.empty() || !files.waits_for_save || app.view.save.open) return;
    files.waits_for_save = false;
    if (has_changes(app)) return forget_waiting(app);
    // A text that was refused is still there to be lost: then it goes on waiting.
    if (!would_lose(app)) open_what_waits(app);
}

}  // namespace hitchwright
