// Short words for the fields of a set-up, made from their keys: what a form writes beside a field. From where to where a
// reading is taken is said by setup_fields.h.
#pragma once

#include <string>
#include <string_view>

namespace hitchwright {

/// "Lower link: pivot, behind the hub" for the pattern tractor.lower_link.pivot_x; of an item of a list only what it
/// is: "Above the floor". `drawn`: an implement on the drawbar, whose points count from the hitch.
std::string field_label(std::string_view pattern, bool drawn = false);

/// What an item of a list is called: "upper-link hole" for tractor.upper_link_pin.
std::string list_label(std::string_view list);

}  // namespace hitchwright
