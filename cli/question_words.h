// Words of single questions of the dialogue behind "new", and what kind of question a line of the card makes.
#pragma once

#include <string>

#include "geometry/card_lines.h"

namespace hitchwright {

/// List of an item's key: "tractor.upper_link_pin[2].x" -> "tractor.upper_link_pin"; of another key the key.
std::string list_of(const std::string& key);

/// Item of a key: "tractor.upper_link_pin[2]"; empty: the key has none.
std::string item_of(const std::string& key);

/// True for the name of a hole, position, bar, point, wheel or reading: it asks whether there is a further one.
bool is_item_name(const CardLine& line);

/// True for what only a ditch or ridge needs.
bool is_for_ditch(const CardLine& line);

/// The question for the name of a next item.
std::string ask_for_item(const std::string& key);

/// What an item of a key's list is called.
std::string item_word(const std::string& key);

/// What can be typed, with examples.
std::string say_allowed(const CardLine& line);

}  // namespace hitchwright
