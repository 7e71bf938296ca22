// Units of machine-readable output: the name that stands in a key or column, and the factor from SI.
#pragma once

#include <numbers>
#include <string_view>

#include "geometry/reading.h"
#include "report/format_length.h"

namespace hitchwright {

/// A unit at the edge: number printed = SI value * per_si.
struct EdgeUnit {
    std::string_view name;
    double per_si = 1.0;
};

/// Millimetres or inches, degrees, kilograms, newtons, kilowatts, rpm, kilopascals, newton metres; ratios and
/// counts have the unit "1".
constexpr EdgeUnit find_edge_unit(Dimension dimension, UnitSystem lengths = UnitSystem::millimetre) {
    switch (dimension) {
        case Dimension::length:
            return lengths == UnitSystem::inch ? EdgeUnit{"in", 1.0 / metres_per_inch} : EdgeUnit{"mm", 1e3};
        case Dimension::length_per_turn:
            return lengths == UnitSystem::inch ? EdgeUnit{"in/turn", 1.0 / metres_per_inch} : EdgeUnit{"mm/turn", 1e3};
        case Dimension::angle:
            return {"deg", 180.0 / std::numbers::pi};
        case Dimension::mass:
            return {"kg", 1.0};
        case Dimension::force:
            return {"N", 1.0};
        case Dimension::power:
            return {"kW", 1e-3};
        case Dimension::rotation_speed:
            return {"rpm", 30.0 / std::numbers::pi};
        case Dimension::pressure:
            return {"kPa", 1e-3};
        case Dimension::torque:
            return {"Nm", 1.0};
        case Dimension::count:
        case Dimension::ratio:
            break;
    }
    return {"1", 1.0};
}

}  // namespace hitchwright
