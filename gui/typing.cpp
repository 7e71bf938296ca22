#include "gui/typing.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>
#include <imgui.h>

#include "gui/file_dialog.h"
#include "gui/open_setup.h"
#include "gui/save_changes.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 80;

void save(AppState& app) {
    if (app.drafted || app.now.edits != Edits{}) return ask_to_save(app);
    const std::vector<std::string> refused = list_refused_texts(app);
    if (!refused.empty()) app.view.notice = "There is nothing to write. Typed and not taken: " + refused.front();
}

void perform(AppState& app, AfterTyping wish) {
    switch (wish) {
        case AfterTyping::none: break;
        case AfterTyping::open: start_file_dialog(app, FileWish::open); break;
        case AfterTyping::save: save(app); break;
        case AfterTyping::save_as: start_file_dialog(app, FileWish::save_as); break;
        case AfterTyping::close:
            if (would_lose(app)) app.view.asks_to_close = true;
            else app.view.closed = true;
            break;
    }
}

}  // namespace

bool is_typing(const AppState& app) {
    return std::any_of(app.view.fields.begin(), app.view.fields.end(), [](const auto& f) { return f.second.active; });
}

std::vector<std::string> list_refused_texts(const AppState& app) {
    std::vector<std::string> lines;
    for (const auto& [key, field] : app.view.fields) {
        if (!field.message.empty() && !field.text.empty())
            lines.push_back(fmt::format("{}: \"{}\" ({})", escape_text(key, most_shown), escape_text(field.text, most_shown), field.message));
    }
    return lines;
}

bool would_lose(const AppState& app) { return has_changes(app) || !list_refused_texts(app).empty(); }

void do_after_typing(AppState& app, AfterTyping wish) {
    if (is_typing(app)) app.view.after_typing = wish;
    else perform(app, wish);
}

void ask_to_close(AppState& app) { do_after_typing(app, AfterTyping::close); }

void end_typing(AppState& app) {
    const bool waits = app.view.after_typing != AfterTyping::none || app.view.files.waits_for_typing;
    // The field sees in this frame that it was left, as by a click beside it.
    if (waits && is_typing(app)) ImGui::SetWindowFocus(nullptr);
}

void do_waiting(AppState& app) {
    perform(app, std::exchange(app.view.after_typing, AfterTyping::none));
    if (!std::exchange(app.view.files.waits_for_typing, false)) return;
    if (!would_lose(app)) open_what_waits(app);
}

}  // namespace hitchwright
