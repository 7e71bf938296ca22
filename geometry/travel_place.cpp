#include "geometry/travel_place.h"

namespace hitchwright {

namespace {

double find_share(double value, const HeightRange& range) {
    return range.high > range.low ? (value - range.low) / (range.high - range.low) : 0.0;
}

double find_value(double share, const HeightRange& range) { return range.low + share * (range.high - range.low); }

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

}  // namespace hitchwright
