// Handles of a ditch in its picture: what a person pulls at, and the measure it changes.
//
// A ditch by its measures is symmetrical about its middle, z = 0 level ground (ground_profile.h):
//   depth at the middle of the bottom, half the bottom's width at its rear corner, side slope at the corner of the ground
// behind. The picture lies along the way, the measures square to the ditch: s = x sin(crossing angle). A ridge is a ditch of
// negative depth. The crossing angle has a dial of its own, seen from above. m, rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/drawn_readings.h"
#include "report/drawing.h"
#include "report/format_length.h"

namespace hitchwright {

enum class DitchMeasure { depth, bottom_width, side_slope, crossing_angle };

/// One handle.
struct DitchHandle {
    DitchMeasure measure{};
    DrawingPoint at;  ///< in the picture; of the crossing angle: on the dial, from its middle, length 1, upwards the tractor's right
};

/// All four; empty for a ground by points or by measures that make none.
std::vector<DitchHandle> list_ditch_handles(const DitchReadings& ditch);

/// The ditch with one measure pulled to a place, inside what the measure may be. The others stay.
DitchReadings pull_handle(const DitchReadings& before, DitchMeasure measure, DrawingPoint to, UnitSystem units);

/// The ground along the way between two places; empty where the measures make none.
Polyline draw_ditch_ground(const DitchReadings& ditch, double first, double last);

/// Key, value for KEY=VALUE, and words of a measure: "depth 14 in".
const char* ditch_key(DitchMeasure measure);
std::string ditch_value(const DitchReadings& ditch, DitchMeasure measure, UnitSystem units);
std::string say_ditch_measure(const DitchReadings& ditch, DitchMeasure measure, UnitSystem units);

/// The measure a step greater or smaller, as an arrow key does it.
DitchReadings step_handle(const DitchReadings& before, DitchMeasure measure, int steps, UnitSystem units);

}  // namespace hitchwright
