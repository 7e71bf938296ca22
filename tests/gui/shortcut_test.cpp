// Keys of the window: each line of the table is pressed, and does what its words say.
#include <catch2/catch.hpp>

#include <set>
#include <string>

#include <imgui_internal.h>

#include "gui/rooms.h"
#include "gui/shortcuts.h"
#include "tests/gui/headless.h"

using namespace hitchwright;
using hitchwright::test::Headless;

namespace {

/// A set-up in which the line can be done: a room may be there for drawn implements alone.
const char* setup_for(const Shortcut& shortcut) {
    constexpr const char* mounted = "compact-tiller-bottoms-out";
    const Headless window(mounted);
    const bool room = shortcut.action == Action::show_side_room || shortcut.action == Action::show_lower_room || shortcut.action == Action::next_picture;
    return room && !can_do(window.app(), shortcut) ? "utility-drawn-cutter-short" : mounted;
}

/// Brings the window where the action has something to do; false: it always has.
void prepare(Headless& window, const Shortcut& shortcut) {
    AppState& app = window.app();
    const Action action = shortcut.action;
    const bool needs_change = action == Action::undo || action == Action::redo || action == Action::save ||
                              action == Action::copy_options || action == Action::close;
    if (needs_change) REQUIRE(change_value(app, "choices.lift_stop", "26 in").empty());
    if (action == Action::redo) undo(app);
    if (action == Action::fit_picture) app.view.camera.fitted = false;
    if (action == Action::at_work) app.view.ball_height = app.results.bands->travel.high;
    if (action == Action::show_side_room) app.view.side_room = side_rooms()[shortcut.place == 0 ? 1 : 0].choice;
    if (action == Action::show_lower_room) app.view.lower_room = lower_rooms()[shortcut.place == 0 ? 1 : 0].choice;
    if (action == Action::next_answer) app.view.side_room = SideRoom::answers;
    if (action == Action::copy_options) ImGui::SetClipboardText("");
    window.settle();
}

/// The panel has the keyboard.
bool has_keyboard(std::string_view panel) {
    const ImGuiWindow* window = GImGui->NavWindow;
    return window != nullptr && std::string_view(window->Name).find("/" + std::string(panel) + "_") != std::string_view::npos;
}

/// What the action was to do has been done.
bool is_done(Headless& window, const Shortcut& shortcut) {
    AppState& app = window.app();
    switch (shortcut.action) {
        case Action::keys: return app.view.shows_keys && window.is_shown("Close this list");
        case Action::undo: return !has_changes(app) && can_redo(app);
        case Action::redo: return has_changes(app) && !can_redo(app);
        case Action::read_again: return app.view.notice == "Read again; your changes stand over it.";
        case Action::save: return app.view.save.open && window.is_shown("Do not write");
        case Action::open: return app.view.files.dialog.open && app.view.files.dialog.wish == FileWish::open && window.is_shown("answer path");
        case Action::save_as:
            return app.view.files.dialog.open && app.view.files.dialog.wish == FileWish::save_as && window.is_shown("answer path");
        case Action::take_with_you: return app.view.take.open && window.is_shown("export path");
        case Action::copy_options: return std::string(ImGui::GetClipboardText()) == join_options(app.now.edits);
        case Action::change_units: return app.view.units == UnitSystem::millimetre;
        case Action::change_theme: return app.view.theme == Theme::dark;
        case Action::larger: return app.view.scale > 1.0F;
        case Action::smaller: return app.view.scale < 1.0F;
        case Action::show_side_room: return app.view.side_room == side_rooms()[shortcut.place].choice;
        case Action::show_lower_room: return app.view.lower_room == lower_rooms()[shortcut.place].choice;
        case Action::fit_picture: return app.view.camera.fitted;
        case Action::at_work: return !app.view.ball_height;
        case Action::next_picture:
            if (app.now.setup.implement.attachment == Attachment::mounted) return app.view.act.switches.mounted == MountedPicture::plan;
            return app.view.drawn_picture == DrawnPicture::side;
        case Action::next_answer: return app.view.side_room == SideRoom::answers && app.view.answers.kind == AnswerKind::trust;
        case Action::go_to_inputs: return app.view.focus == "find";
        case Action::go_to_picture: return has_keyboard("picture");
        case Action::go_to_findings: return has_keyboard("findings");
        case Action::close: return app.view.asks_to_close && !app.view.closed;
    }
    return false;
}

}  // namespace

TEST_CASE("shortcuts: every key of the table does what its line says", "[gui]") {
    for (const Shortcut& s : shortcuts()) {
        INFO(say_chord(s.chord) << ": " << s.words);
        Headless window(setup_for(s));
        prepare(window, s);
        REQUIRE(can_do(window.app(), s));
        REQUIRE_FALSE(is_done(window, s));
        window.press_key(s.chord.key, s.chord.control, s.chord.shift);
        CHECK(is_done(window, s));
    }
}

TEST_CASE("shortcuts: none is one of the three that browsers keep for tabs and windows (Ctrl with N, T and W)", "[practice]") {
    for (const Shortcut& s : shortcuts()) CHECK_FALSE((s.chord.control && std::string_view("NTW").find(static_cast<char>(s.chord.key)) != std::string_view::npos));
}

TEST_CASE("shortcuts: the key of the next picture goes through all of them and back to the first", "[gui]") {
    Headless window("utility-drawn-cutter-short");
    std::set<DrawnPicture> seen;
    for (int i = 0; i < 4; ++i) {
        seen.insert(window.app().view.drawn_picture);
        window.press_key(key_f1 + 5);
    }
    CHECK(seen.size() == 4);
    CHECK(window.app().view.drawn_picture == DrawnPicture::plan);
}

TEST_CASE("shortcuts: Ctrl with a number leads to the rooms that a wide window shows, in the order of their buttons", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    constexpr SideRoom order[] = {SideRoom::findings, SideRoom::holes, SideRoom::cut, SideRoom::compare, SideRoom::answers, SideRoom::changes, SideRoom::yard, SideRoom::level};
    for (std::size_t i = 0; i < std::size(order); ++i) {
        window.press_key('1' + static_cast<int>(i), true);
        CHECK(window.app().view.side_room == order[i]);
    }
    window.press_key('9', true);
    CHECK(window.app().view.side_room == SideRoom::level);
}

TEST_CASE("shortcuts: no keys are given twice, and each has words", "[gui]") {
    std::set<std::string> chords;
    for (const Shortcut& s : shortcuts()) {
        CHECK(chords.insert(say_chord(s.chord)).second);
        CHECK(s.words.size() > 5);
    }
    CHECK(say_chord({'Z', true, true}) == "Ctrl+Shift+Z");
    CHECK(say_chord({key_f1 + 4}) == "F5");
    CHECK(say_key_of(Action::redo) == " (Ctrl+Shift+Z)");
}

TEST_CASE("shortcuts: a key counts neither without what is held beside it nor behind an open question", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    window.press_key('U');
    window.press_key('U', true, true);
    CHECK(window.app().view.units == UnitSystem::inch);
    window.press_key(key_f1);
    REQUIRE(window.app().view.shows_keys);
    window.press_key('U', true);
    CHECK(window.app().view.units == UnitSystem::inch);
    window.press_key(key_f1);
    CHECK_FALSE(window.app().view.shows_keys);
    window.press_key('U', true);
    CHECK(window.app().view.units == UnitSystem::millimetre);
}

TEST_CASE("shortcuts: the button of the list opens it, and its button closes it again", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    window.click("Keys");
    REQUIRE(window.app().view.shows_keys);
    window.click("Close this list");
    CHECK_FALSE(window.app().view.shows_keys);
}

TEST_CASE("shortcuts: with files that cannot be read only what needs no set-up can be done", "[gui]") {
    Headless window("no-such-setup");
    REQUIRE_FALSE(window.app().problems.empty());
    for (const Shortcut& s : shortcuts()) {
        INFO(s.words);
        CHECK((can_do(window.app(), s) || s.action != Action::read_again));
        CHECK_FALSE((can_do(window.app(), s) && s.action == Action::fit_picture));
    }
    window.press_key(key_f1);
    CHECK(window.app().view.shows_keys);
}
