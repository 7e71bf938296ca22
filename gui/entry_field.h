// A field for any value of the set-up: a text, a choice or a switch, with where the value comes from below it.
//
// What is typed is read as in the files ("23 in", "3'2 1/2\"", "585mm"); what cannot be read stays in the field with the
// reason under it, and the old value goes on counting. Enter or leaving the field takes what was typed, Escape brings the
// old text back, F1 opens the hint. Leaving a field in which nothing was typed changes nothing.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/setup_entries.h"
#include "gui/screen.h"

namespace hitchwright {

/// A text field of that name. `shown`: what stands in it unless somebody types. Gives what is to be taken.
std::optional<std::string> show_text_control(Screen& screen, const std::string& name, const std::string& shown, const char* when_empty);

/// A list to choose from; the key chosen, or nothing. A name that the closed list would cut off stands in full above it.
std::optional<std::string> show_choice(Screen& screen, const char* label, const std::string& now, const std::vector<NamedPreset>& all);

/// The field of an entry below its label. `when_empty`: what holds when there is no value.
void show_entry_field(Screen& screen, const SetupEntry& entry, std::string_view label, const char* when_empty);

/// A header that folds what is below it, with words that wrap; true: it is open.
bool show_fold(Screen& screen, const std::string& name, std::string_view words, bool& open);

/// A line that can be clicked, behind the mark of an origin; true: it was.
bool show_link(Screen& screen, const std::string& name, std::optional<Origin> origin, std::string_view words);

/// A button that Enter presses as well, as it does everywhere but in Dear ImGui.
bool show_button(const char* words);

/// The panel's focus goes to the control that follows if it was asked for; call it just before the control.
void use_go_to(Screen& screen, const std::string& key);

}  // namespace hitchwright
