#include "geometry/travel_place.h"

namespace hitchwright {

TravelPlace find_place(const TravelExtreme& extreme, const HeightRange& range, const HeightRange& lengths, bool in_work) {
    TravelPlace p;
    p.in_work = in_work;
    p.height = extreme.height;
    if (extreme.height - range.low < 1.0e-6) p.kind = TravelPlace::Kind::low_end;
    if (range.high - extreme.height < 1.0e-6) p.kind = TravelPlace::Kind::high_end;
    if (lengths.high > lengths.low) p.length_share = (extreme.upper_length - lengths.low) / (lengths.high - lengths.low);
    return p;
}

TravelBox find_box_at(const TravelPlace& place, const MountedModel& model) {
    const HeightRange lengths = effective_upper_lengths(model);
    const HeightRange& range = place.in_work ? model.working_band : model.travel;
    const double height = place.kind == TravelPlace::Kind::low_end    ? range.low
                          : place.kind == TravelPlace::Kind::high_end ? range.high
                                                                      : place.height;
    const double length = lengths.low + place.length_share * (lengths.high - lengths.low);
    return {{height, height}, {length, length}};
}

}  // namespace hitchwright
