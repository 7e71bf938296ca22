#include "gui/session.h"

#include <cmath>

#include <fmt/format.h>

#include "gui/open_setup.h"
#include "gui/rooms.h"
#include "gui/state_folder.h"

namespace hitchwright {
namespace {

std::string find_state_file(const std::string& folder) { return folder.empty() ? folder : folder + "/window.toml"; }

constexpr const char* dark_word = "dark";
constexpr const char* light_word = "light";

/// The room's word, for keeping.
template <class Room>
std::string name_of(std::span<const RoomEntry<Room>> rooms, Room room) {
    for (const RoomEntry<Room>& entry : rooms) {
        if (entry.choice == room) return entry.name;
    }
    return {};
}

/// Words of another version of the program say nothing.
void use_state(ViewState& view, const WindowState& before) {
    if (before.theme == dark_word || before.theme == light_word)
        view.theme = before.theme == dark_word ? Theme::dark : Theme::light;
    if (before.scale) view.scale = static_cast<float>(*before.scale);
    view.side_room = find_side_room(before.side_room).value_or(view.side_room);
    view.lower_room = find_lower_room(before.lower_room).value_or(view.lower_room);
}

}  // namespace

Session::Session(const std::string& folder)
    : folder_(folder), read_(load_window_state(find_state_file(folder))), written_(read_.state), recovery_(folder) {}

void Session::fill_options(ViewerOptions& options) const {
    const WindowState& before = read_.state;
    if (!options.says_size && before.size) options.size = *before.size;
    if (options.says_units || !before.units) return;
    options.units = *before.units;
    if (!options.says_mark) options.mark = options.units == UnitSystem::inch ? sixteenth_inch_mark : millimetre_mark;
}

AppState Session::open(const Library& library, const ViewerOptions& options) const {
    const auto open_one = [&](const std::string& name, const Edits& edits) {
        return open_app(library, name, edits, options.units, options.mark);
    };
    if (!options.setup.empty()) return open_one(options.setup, options.edits);
    if (read_.state.recent.empty()) return open_one(demo_setup, {});
    AppState last = open_one(read_.state.recent.front(), {});
    if (last.problems.empty()) return last;
    AppState demo = open_one(demo_setup, {});
    demo.view.notice = fmt::format("{}, opened last, cannot be read any more: a built-in set-up is shown.",
                                   escape_text(read_.state.recent.front()));
    return demo;
}

void Session::begin(AppState& app) {
    use_state(app.view, read_.state);
    app.view.files.recent = read_.state.recent;
    if (app.problems.empty()) note_recent(app.view.files.recent, find_whole_name(app.name));
    if (state_trouble_.empty() && recovery_.trouble().empty()) app.view.files.left = find_left_changes(folder_);
}

WindowState Session::take_state(const AppState& app) const {
    WindowState state = written_;
    state.units = app.view.units;
    state.theme = app.view.theme == Theme::dark ? dark_word : light_word;
    // As it is written, so that the same scale is the same state.
    state.scale = std::round(1000.0 * static_cast<double>(app.view.scale)) / 1000.0;
    state.side_room = name_of(side_rooms(), app.view.side_room);
    state.lower_room = name_of(lower_rooms(), app.view.lower_room);
    state.recent = app.view.files.recent;
    return state;
}

void Session::write_state(const WindowState& state) {
    if (state == written_) return;
    written_ = state;
    if (make_state_folder(folder_).empty()) state_trouble_ = save_window_state(find_state_file(folder_), state);
}

void Session::follow(AppState& app) {
    recovery_.follow(app);
    app.view.files.not_kept = recovery_.trouble();
    write_state(take_state(app));
}

void Session::end(const AppState& app, WindowSize size) {
    WindowState state = take_state(app);
    if (is_window_size(size)) state.size = size;
    write_state(state);
    recovery_.end();
}

std::string Session::troubles() const {
    std::string text = read_.left_out;
    const auto add = [&](const std::string& reason, const char* what) {
        if (!reason.empty()) text += fmt::format("{}{} ({})", text.empty() ? "" : "; ", what, reason);
    };
    add(recovery_.trouble(), "changes are not kept against a crash");
    add(state_trouble_, "the window's own state is not kept");
    return text;
}

}  // namespace hitchwright
