// Text that somebody is still typing, or that was refused: neither may be lost by saving, opening or closing. Nothing here
// draws; Dear ImGui is asked to let go of the field only.
#pragma once

#include <string>
#include <vector>

#include "gui/app_state.h"

namespace hitchwright {

/// True while the keyboard is in a field of a value.
bool is_typing(const AppState& app);

/// Why a text in the fields for a further item of a list is not taken: only "Add" takes it.
inline constexpr const char* not_added = "typed for another one, and not added";

/// What stands in fields and was not taken, a line each: field, text, why. What was typed for a further item of a list and not
/// added is among it.
std::vector<std::string> list_refused_texts(const AppState& app);

/// True when closing, or opening another set-up, loses something: changes, or a text that was not taken.
bool would_lose(const AppState& app);

/// Does it now, or, while somebody is typing, once the text is taken.
void do_after_typing(AppState& app, AfterTyping wish);

/// Closes the window, or asks first.
void ask_to_close(AppState& app);

/// At the beginning of a frame, before any field: when something waits for a text, its field lets the keyboard go and
/// takes it in this frame.
void end_typing(AppState& app);

/// At the end of a frame: what waited is done.
void do_waiting(AppState& app);

}  // namespace hitchwright
