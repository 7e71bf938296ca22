// Where in the travel of the lift the shaft is not as it should be: what the track of a lift slider is marked with.
//
// Each band is what is left of the travel when the heights inside a limit (mounted_extremes.h, rounded inward) are taken
// out, so that a band is never too narrow. Gap and overlap as in telescoping.h: the shaft bottoms out where it would have
// to be shorter than closed, its halves part where it would have to be longer than S_0 + min(t_a, t_b). What the readings'
// errors leave open is as in the findings: a joint's bands begin where its finding says that the PTO goes off or the lift
// stops; gap and overlap have a doubtful band as wide as the error at the worst place of the travel. Ball heights, m.
#pragma once

#include <optional>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/height_bands.h"

namespace hitchwright {

/// Ball heights at which a joint bends too far; each band holds the next one, as the limits grow.
struct JointBands {
    std::vector<HeightRange> no_work;    ///< beyond the angle for work
    std::vector<HeightRange> pto_off;    ///< beyond the angle at which it may turn at all
    std::vector<HeightRange> past_stop;  ///< beyond what the joint can bend
    bool operator==(const JointBands&) const = default;
};

/// Ball heights at which the telescoping tubes are too close or too far apart. Each band holds the next one.
struct TubeBands {
    std::vector<HeightRange> gap_doubtful;  ///< less gap than the rules ask for, or so near it that the readings leave it open
    std::vector<HeightRange> gap_short;     ///< less than the rules ask for, errors allowed for
    std::vector<HeightRange> bottoms_out;   ///< none left, and not in doubt
    std::vector<HeightRange> overlap_doubtful, overlap_short, apart;  ///< the same for the overlap
    double gap_needed = 0.0;      ///< m
    double overlap_needed = 0.0;  ///< m, with the tubes as they are
    double gap_error = 0.0, overlap_error = 0.0;  ///< two sigma at the worst place of the travel, m; 0: not known
    bool operator==(const TubeBands&) const = default;
};

/// Ball heights at which the guard tubes do not cover the shaft as they should; as the readings are.
struct GuardBands {
    std::vector<HeightRange> meet;           ///< the guards are pushed home
    std::vector<HeightRange> overlap_short;  ///< less overlap than the rules ask for; holds `bare`
    std::vector<HeightRange> bare;           ///< the guards part, the shaft is bare between them
    double overlap_needed = 0.0;             ///< m
    bool operator==(const GuardBands&) const = default;
};

/// Ball heights at which any two parts come near each other (clearance.h). Each band holds the next one.
struct ClearanceBands {
    std::vector<HeightRange> little;     ///< less room than the rules ask for
    std::vector<HeightRange> may_touch;  ///< nearer than the readings' errors
    std::vector<HeightRange> touch;      ///< they touch, or stand past a stop that would keep them apart
    bool operator==(const ClearanceBands&) const = default;
};

/// Everything the track shows.
struct TravelBands {
    HeightRange travel;
    HeightRange work;                ///< heights at which the shaft is driven
    std::optional<TubeBands> tubes;  ///< none: the tubes are not known, or the rules ask for nothing
    std::optional<GuardBands> guard;            ///< none: no guard tubes are known
    std::optional<ClearanceBands> clearances;   ///< none: nothing is measured against anything
    std::optional<JointBands> tractor_joint, implement_joint;  ///< none: no shaft
    bool operator==(const TravelBands&) const = default;
};

/// Bands of a set-up and its analysis; none when the linkage has no travel.
std::optional<TravelBands> find_travel_bands(const Setup& setup, const Analysis& analysis);

}  // namespace hitchwright
