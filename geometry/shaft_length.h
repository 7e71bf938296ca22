// A closed or extended straight shaft's length between other points than the ones it was measured between.
//
// People measure a shaft between its joint centres, its locking grooves or the outer ends of its yokes. On a straight
// shaft the three differ by the fixed distances from each joint centre outwards, along one line. All in m.
// Not for the machines' own grooves with bent joints: that is find_groove_distance in driveline_geometry.h.
#pragma once

#include <optional>

#include "geometry/setup.h"

namespace hitchwright {

/// Distances of one shaft end (m), from the joint centre outwards, away from the tubes. Nothing: not known.
struct ShaftEndDistances {
    std::optional<double> centre_to_groove;  ///< joint centre to locking groove, pin or ball
    std::optional<double> centre_to_end;     ///< joint centre to the outer end of the yoke

    bool operator==(const ShaftEndDistances&) const = default;
};

/// What became of a conversion.
enum class LengthConversionStatus {
    ok,
    not_finite,          ///< the length or a distance is no finite number
    missing_distance,    ///< one or more distances are needed and not known; `missing` names them
    length_not_positive  ///< the given or the resulting length is not above 0
};

/// Which distances a conversion needed and did not find.
struct MissingDistances {
    bool tractor_centre_to_groove = false;
    bool tractor_centre_to_end = false;
    bool implement_centre_to_groove = false;
    bool implement_centre_to_end = false;

    bool operator==(const MissingDistances&) const = default;
    /// True when something is missing.
    bool any() const {
        return tractor_centre_to_groove || tractor_centre_to_end || implement_centre_to_groove ||
               implement_centre_to_end;
    }
};

/// A converted length, or what stands in the way.
struct LengthConversion {
    LengthConversionStatus status = LengthConversionStatus::not_finite;
    double length = 0.0;  ///< m between the points asked for; 0 unless status is ok
    MissingDistances missing;

    bool operator==(const LengthConversion&) const = default;
};

/// The length between the points `to` of a straight shaft that measures `length` (m) between the points `from`.
/// A distance that is not needed may stay unknown.
LengthConversion convert_shaft_length(double length, LengthReference from, LengthReference to,
                                      const ShaftEndDistances& tractor_end, const ShaftEndDistances& implement_end);

}  // namespace hitchwright
