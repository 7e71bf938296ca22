// What a mounted implement and its shaft go through over the whole travel: extremes with proven bounds.
//
// The shaft is searched in space where the box has a sway or tilt, else in the side plane; the pitch in the side plane.
//
// Quantities are searched through smooth functions of them: angles through their cosine, pitch through tan(p/2),
// non-uniformity through its square; closeness is measured in the quantity itself (0.01 mm, 0.001 deg promised).
#pragma once

#include <optional>

#include "geometry/mounted_model.h"
#include "geometry/travel_search.h"

namespace hitchwright {

/// Pitch over the travel, rad.
struct PitchExtremes {
    TravelExtreme least, greatest;
};
/// Distance of the joint centres over a range of heights, m.
struct LengthExtremes {
    TravelExtreme shortest, longest;
};
/// Joint angles over a range of heights, rad.
struct AngleExtremes {
    TravelExtreme tractor, implement;  ///< greatest
};
/// Driveline over a range of heights. Lengths m between joint centres, angles rad.
struct ShaftExtremes {
    TravelExtreme shortest, longest;
    TravelExtreme tractor_angle, implement_angle;  ///< greatest
    bool turns = true;             ///< false: a joint reaches 90 deg and cannot turn there; no non-uniformity then
    TravelExtreme non_uniformity;  ///< greatest minus least speed ratio, greatest over the range
};

/// The whole box of a model: travel in force, slack, sway and tilt, each with each.
TravelBox make_travel_box(const MountedModel& model);

PitchExtremes find_pitch_extremes(const MountedModel& model, const TravelBox& box);

/// Parts of the next, for searches that ask many times. Need model.has_shaft.
LengthExtremes find_length_extremes(const MountedModel& model, const TravelBox& box);
AngleExtremes find_angle_extremes(const MountedModel& model, const TravelBox& box);

/// The driveline at one place of the box (its low ends count); nothing where the linkage does not close. Needs model.has_shaft.
std::optional<ShaftState<double>> find_shaft_at(const MountedModel& model, const TravelBox& place);

/// Needs model.has_shaft.
ShaftExtremes find_shaft_extremes(const MountedModel& model, const TravelBox& box);

/// Ball heights at which a joint's angle does not exceed `limit` (rad, below pi). Needs model.has_shaft.
std::vector<HeightRange> find_heights_within_angle(const MountedModel& model, const TravelBox& box, JointEnd joint,
                                                   double limit);

/// Ball heights at which the shaft is at least `shortest` long, and at most `longest` long (m).
std::vector<HeightRange> find_heights_longer_than(const MountedModel& model, const TravelBox& box, double shortest);
std::vector<HeightRange> find_heights_shorter_than(const MountedModel& model, const TravelBox& box, double longest);

}  // namespace hitchwright
