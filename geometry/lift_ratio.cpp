#include "geometry/lift_ratio.h"

#include <cmath>

#include "geometry/dead_centre_room.h"
#include "geometry/mounted_extremes.h"
#include "geometry/travel_panels.h"

namespace hitchwright {
namespace {

/// Nearer to a dead centre than this the rise changes so fast that no number is worth printing (rad, 1 deg).
constexpr double least_link_angle = 0.01745;
/// Steepest lower link (sine) whose ball still rises by the link's turning.
constexpr double steepest_link = 0.9998;

}  // namespace

LiftRatio choose_load_point(const Implement& implement, const MountedModel& model) {
    const ImplementMassReadings& m = implement.mass;
    LiftRatio r;
    r.at = Point(behind_balls_610, 0.0);
    if (!m.cg_x.known) return r;
    r.point = m.cg_z.known ? LoadPoint::centre_of_gravity : LoadPoint::centre_of_gravity_height_unknown;
    r.at = find_body_point(model, m.cg_x, m.cg_z);
    return r;
}

bool has_bounded_rise(const MountedModel& m) {
    for (const double h : {m.travel.low, m.travel.high}) {
        if (std::fabs(h - m.linkage.lower_pivot.y()) > steepest_link * m.linkage.lower_length) return false;
    }
    return find_dead_centre_angle(m.linkage, make_travel_box(m)) >= least_link_angle;
}

LiftRatio find_lift_ratio(const Setup& setup, const MountedModel& m) {
    LiftRatio r = choose_load_point(setup.implement, m);
    if (!has_bounded_rise(m)) return r;
    r.known = true;
    TravelBox box = make_travel_box(m);
    box.upper_lengths.low = box.upper_lengths.high;
    const LoadRise rise{m.linkage, r.at};
    TravelPanels<1, LoadRise> panels(m.linkage, box, rise);
    const PlainCloseness close{rise_closeness};
    r.rise_most = panels.find_greatest(0, box.heights, close);
    r.rise_least = panels.find_least(0, box.heights, close);
    return r;
}

}  // namespace hitchwright
