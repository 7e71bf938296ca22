// A set-up as a flat list of what is known of it, and what differs between two such lists.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/reading.h"
#include "geometry/setup.h"

namespace hitchwright {

/// One known value of a set-up.
struct SetupValue {
    std::string key;  ///< as for --set: "tractor.pto.stub_x", "tractor.upper_link_pin[2].z", "driveline.use"
    std::optional<Reading> reading;  ///< of a reading; a limit of the rules has neither error nor origin of its own
    Dimension dimension = Dimension::length;
    bool has_origin = false;  ///< false: a limit
    std::string text;         ///< of all else: word, name, whole numbers, true or false
};

/// Everything that is known, in the order of the files. Machines and rules come with the name they are used by
/// ("tractor.use", "rules"; "none" where there is no driveline), rules with their limits ("rules.gap_required").
/// Words that say that nothing is known (unknown, none) are listed as they stand; of a part that is off nothing is.
std::vector<SetupValue> list_values(const Setup& setup);

/// One value that is not the same in both.
struct ValueDifference {
    std::string key;
    std::optional<SetupValue> old_value, new_value;  ///< empty: not known there
};

/// What differs, in the order of the old list; what only the new one has stands behind what is before it there. Numbers
/// differ by more than 1e-12 of their size, so that 11 in and 279.4 mm are the same; a reading differs as well by its
/// error or its origin.
std::vector<ValueDifference> compare_values(const Setup& old_setup, const Setup& new_setup);

}  // namespace hitchwright
