// See held_strap.h.
#include "geometry/held_strap.h"

#include <cmath>
#include <vector>

#include "geometry/angle.h"
#include "geometry/travel_search.h"

namespace hitchwright {
namespace {

void widen(PitchExtremes& all, const PitchExtremes& more) {
    const int evaluations = all.least.evaluations + more.least.evaluations;
    if (more.least.value < all.least.value) all.least = more.least;
    if (more.greatest.value > all.greatest.value) all.greatest = more.greatest;
    all.least.evaluations = evaluations;
}

PitchExtremes find_held_extremes(const MountedModel& m, const HeightRange& heights, double strap_angle) {
    MountedModel held = m;
    held.linkage = hold_strap(m, strap_angle);
    return find_pitch_extremes(held, {heights, {held.linkage.upper_length, held.linkage.upper_length}});
}

/// Heights at which strap and link can be in line, `sign` +1 stretched, -1 folded: the strap then points from the mast pin
/// to the upper-link pin, or away from it, and must be within half the swing of its middle.
std::vector<HeightRange> find_in_line_heights(const MountedModel& m, const TravelBox& box, double sign) {
    const double half_swing = 0.5 * (m.strap_stop_high - m.strap_stop_low);
    const Point middle = sign * unit_vector(0.5 * (m.strap_stop_low + m.strap_stop_high));
    const Point upper_pin = m.linkage.upper_pin;
    const auto away_from_middle = [&](const auto& pose) {
        const auto x = upper_pin.x() - pose.ball.x - pose.mast_arm.x;
        const auto z = upper_pin.y() - pose.ball.z - pose.mast_arm.z;
        const auto along = x * pose.cos_pitch + z * pose.sin_pitch;
        const auto up = z * pose.cos_pitch - x * pose.sin_pitch;
        return -(along * middle.x() + up * middle.y());
    };
    return find_heights_inside(m.linkage, box, away_from_middle, -box.upper_lengths.low * std::cos(half_swing));
}

}  // namespace

PlanarLinkage hold_strap(const MountedModel& m, double strap_angle) {
    PlanarLinkage held = m.linkage;
    held.mast_pin = m.linkage.mast_pin + m.slack * unit_vector(strap_angle);
    return held;
}

PitchExtremes find_strap_pitch_extremes(const MountedModel& m, const HeightRange& heights) {
    PitchExtremes all = find_held_extremes(m, heights, m.strap_stop_low);
    widen(all, find_held_extremes(m, heights, m.strap_stop_high));
    for (const double sign : {1.0, -1.0}) {
        const double apart = m.linkage.upper_length + sign * m.slack;
        const TravelBox box{heights, {apart, apart}};
        for (const HeightRange& part : find_in_line_heights(m, box, sign)) {
            widen(all, find_pitch_extremes(m, {part, box.upper_lengths}));
        }
    }
    return all;
}

}  // namespace hitchwright
