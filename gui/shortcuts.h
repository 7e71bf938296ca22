// Keys of the window: one table of what a key does and the words for it. The window acts by it and the panel of keys lists
// it, so that the two cannot differ.
//
// Keys count as the window system names them (for letters and digits their capital character), with Ctrl and Shift as the
// table says. While somebody types into a field only those count that go
// to another panel, and those that open, save or close, which take the text first; none while a question is open.
#pragma once

#include <cstddef>
#include <span>
#include <string>

#include "gui/app_state.h"

namespace hitchwright {

/// What can be done with a key.
enum class Action {
    keys,
    undo,
    redo,
    read_again,
    open,
    save,
    take_with_you,
    save_as,
    copy_options,
    change_units,
    change_theme,
    larger,
    smaller,
    fit_picture,
    at_work,
    next_picture,  ///< of a drawn implement
    next_answer,
    go_to_inputs,
    go_to_picture,
    go_to_findings,
    close,
    show_side_room,   ///< by its place in the row
    show_lower_room
};

/// A key with what is held beside it. `key`: capital letter, digit, or one of key_f1 ... .
struct KeyChord {
    int key = 0;
    bool control = false, shift = false;
    bool operator==(const KeyChord&) const = default;
};
inline constexpr int key_f1 = 290;  ///< as GLFW numbers them; F2 is one more

struct Shortcut {
    Action action{};
    KeyChord chord;
    std::string words;  ///< what it does, for the list
    std::size_t place = 0;  ///< of a room in its row, from 0
};

/// The table, in the order of the list; the rooms (rooms.h) are in it by the order of their buttons, those with a number.
std::span<const Shortcut> shortcuts();

/// "Ctrl+Shift+Z"
std::string say_chord(const KeyChord& chord);

/// " (Ctrl+Z)" behind the words of a button's hint; empty without a key.
std::string say_key_of(Action action);

/// False: there is nothing to do now (nothing to undo, say).
bool can_do(const AppState& app, const Shortcut& shortcut);

/// Does it; nothing where it cannot be done.
void do_shortcut(AppState& app, const Shortcut& shortcut);

/// Number of a key in ImGuiIO::KeysDown.
int find_key_index(int key);

/// The line of the table whose keys were pressed in this frame and count; null: none.
const Shortcut* find_pressed();

}  // namespace hitchwright
