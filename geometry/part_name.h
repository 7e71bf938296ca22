// What a part of the implement is called in an answer. A file may leave the name of an only one out; of several each has one.
#pragma once

#include <string>

#include "geometry/setup.h"

namespace hitchwright {

inline const std::string nameless_point = "the point", nameless_contact = "the ground contact";

inline const std::string& part_name(const ImplementPoint& point) { return point.name.empty() ? nameless_point : point.name; }

inline const std::string& part_name(const GroundContact& contact) { return contact.name.empty() ? nameless_contact : contact.name; }

}  // namespace hitchwright
