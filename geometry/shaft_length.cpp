#include "geometry/shaft_length.h"

#include <cmath>

namespace hitchwright {

namespace {

// Distance from the joint centre out to the reference point; marks it in `groove_missing` or `end_missing` and
// gives 0 when it is not known.
double reach(const ShaftEndDistances& end, LengthReference reference, bool& groove_missing, bool& end_missing) {
    switch (reference) {
        case LengthReference::locking_grooves:
            groove_missing = groove_missing || !end.centre_to_groove.has_value();
            return end.centre_to_groove.value_or(0.0);
        case LengthReference::shaft_ends:
            end_missing = end_missing || !end.centre_to_end.has_value();
            return end.centre_to_end.value_or(0.0);
        case LengthReference::joint_centres:
            break;
    }
    return 0.0;
}

double reach_both(LengthReference reference, const ShaftEndDistances& tractor_end,
                  const ShaftEndDistances& implement_end, MissingDistances& missing) {
    return reach(tractor_end, reference, missing.tractor_centre_to_groove, missing.tractor_centre_to_end) +
           reach(implement_end, reference, missing.implement_centre_to_groove, missing.implement_centre_to_end);
}

}  // namespace

LengthConversion convert_shaft_length(double length, LengthReference from, LengthReference to,
                                      const ShaftEndDistances& tractor_end, const ShaftEndDistances& implement_end) {
    LengthConversion result;
    double outward = 0.0;
    if (from != to) {
        outward = reach_both(to, tractor_end, implement_end, result.missing) -
                  reach_both(from, tractor_end, implement_end, result.missing);
    }
    const double converted = length + outward;
    if (result.missing.any()) {
        result.status = LengthConversionStatus::missing_distance;
    } else if (!std::isfinite(converted)) {
        result.status = LengthConversionStatus::not_finite;
    } else if (length <= 0.0 || converted <= 0.0) {
        result.status = LengthConversionStatus::length_not_positive;
    } else {
        result.status = LengthConversionStatus::ok;
        result.length = converted;
    }
    return result;
}

}  // namespace hitchwright
