#include "geometry/travel_place.h"

namespace hitchwright {

namespace {

double find_share(double value, const HeightRange& range) {
    return range.high > range.low ? (value - range.low) / (range.high - range.low) : 0.0;
}

double find_value(double share, const HeightRange& range) { return range.low + share * (range.high - range.low); }

bool is_same(const Vec3<double>& a, const Vec3<double>& b) { return a.x == b.x && a.y == b.y && a.z == b.z; }

bool is_same(const PlanarLinkage& a, const PlanarLinkage& b) {
    return a.lower_pivot == b.lower_pivot && a.lower_length == b.lower_length && a.upper_pin == b.upper_pin && a.upper_length == b.upper_length &&
           a.mast_pin == b.mast_pin && a.side == b.side;
}

bool is_same(const SpatialLinkage& a, const SpatialLinkage& b) {
    return is_same(a.side_view, b.side_view) && a.lower_length == b.lower_length && a.half_spread_at_pivot == b.half_spread_at_pivot &&
           a.half_spread_at_ball == b.half_spread_at_ball;
}

}  // namespace

TravelPlace find_place(const TravelExtreme& extreme, const HeightRange& range, const TravelBox& box, bool in_work) {
    TravelPlace p;
    p.in_work = in_work;
    p.height = extreme.height;
    if (extreme.height - range.low < 1.0e-6) p.kind = TravelPlace::Kind::low_end;
    if (range.high - extreme.height < 1.0e-6) p.kind = TravelPlace::Kind::high_end;
    p.length_share = find_share(extreme.upper_length, box.upper_lengths);
    p.sway_share = find_share(extreme.sway, box.sway);
    p.tilt_share = find_share(extreme.tilt_sine, box.tilt_sine);
    return p;
}

TravelBox find_box_at(const TravelPlace& place, const MountedModel& model) {
    const HeightRange lengths = effective_upper_lengths(model);
    const HeightRange& range = place.in_work ? model.working_band : model.travel;
    const double height = place.kind == TravelPlace::Kind::low_end    ? range.low
                          : place.kind == TravelPlace::Kind::high_end ? range.high
                                                                      : place.height;
    const double length = find_value(place.length_share, lengths), sway = find_value(place.sway_share, model.space.side.sway),
                 tilt = find_value(place.tilt_share, model.space.side.tilt_sine);
    return {{height, height}, {length, length}, {sway, sway}, {tilt, tilt}};
}

bool has_same_poses(const MountedModel& a, const MountedModel& b) {
    const SideRanges &of_a = a.space.side, &of_b = b.space.side;
    if (of_a.sway != of_b.sway || of_a.tilt_sine != of_b.tilt_sine) return false;
    return is_same(a.linkage, b.linkage) && is_same(a.space.linkage, b.space.linkage) && a.travel == b.travel &&
           a.working_band == b.working_band && a.float_kind == b.float_kind && a.slack == b.slack;
}

bool has_same_ends(const MountedModel& a, const MountedModel& b) {
    const DrivelineEnds &x = a.ends, &y = b.ends;
    return a.has_shaft == b.has_shaft && is_same(x.tractor_joint, y.tractor_joint) && is_same(x.stub_axis, y.stub_axis) &&
           is_same(x.implement_joint, y.implement_joint) && is_same(x.input_axis, y.input_axis) && x.yoke_phase_error == y.yoke_phase_error &&
           x.wide_angle == y.wide_angle && x.spacing == y.spacing;
}

}  // namespace hitchwright
