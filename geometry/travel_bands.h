// Where in the travel of the lift the shaft is not as it should be: what the track of a lift slider is marked with.
//
// Each band is what is left of the travel when the heights inside a limit (mounted_extremes.h, rounded inward) are taken
// out, so that a band is never too narrow. Gap and overlap as in telescoping.h: the shaft bottoms out where it would have
// to be shorter than closed, its halves part where it would have to be longer than S_0 + min(t_a, t_b). A joint's bands
// begin where its finding says that the PTO goes off or the lift stops, which allows for the readings' errors; gap and
// overlap are those of the readings as they are. Ball heights, m.
#pragma once

#include <optional>
#include <vector>

#include "geometry/analysis.h"

namespace hitchwright {

/// The parts of `whole` that lie in none of `inside`; both in rising order. Ends that touch leave no band.
std::vector<HeightRange> find_remaining_heights(const HeightRange& whole, const std::vector<HeightRange>& inside);

/// The union of bands and one more, in rising order.
std::vector<HeightRange> add_heights(std::vector<HeightRange> bands, const HeightRange& more);

/// Ball heights at which a joint bends too far; each band holds the next one, as the limits grow.
struct JointBands {
    std::vector<HeightRange> no_work;    ///< beyond the angle for work
    std::vector<HeightRange> pto_off;    ///< beyond the angle at which it may turn at all
    std::vector<HeightRange> past_stop;  ///< beyond what the joint can bend
    bool operator==(const JointBands&) const = default;
};

/// Ball heights at which the telescoping tubes are too close or too far apart.
struct TubeBands {
    std::vector<HeightRange> gap_short;      ///< less gap than the rules ask for; holds bottoms_out
    std::vector<HeightRange> bottoms_out;
    std::vector<HeightRange> overlap_short;  ///< less overlap than the rules ask for; holds apart
    std::vector<HeightRange> apart;
    double gap_needed = 0.0;      ///< m
    double overlap_needed = 0.0;  ///< m, with the tubes as they are
    bool operator==(const TubeBands&) const = default;
};

/// Everything the track shows.
struct TravelBands {
    HeightRange travel;
    HeightRange work;                ///< heights at which the shaft is driven
    std::optional<TubeBands> tubes;  ///< none: the tubes are not known, or the rules ask for nothing
    std::optional<JointBands> tractor_joint, implement_joint;  ///< none: no shaft
    bool operator==(const TravelBands&) const = default;
};

/// Bands of an analysed set-up; none when the linkage has no travel.
std::optional<TravelBands> find_travel_bands(const Analysis& analysis);

}  // namespace hitchwright
