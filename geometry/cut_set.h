// The admissible cuts of a shaft as linear bounds and as a polygon; the parts shaft_cut.h is built from.
//
// Every overlap rule is a bound weight_a c_a + weight_b c_b <= bound with weights above 0; the gap bounds each cut from
// below (find_cuts_for_closed_length). The polygon is what the bounds leave of the rectangle of all cuts, cut off one
// bound after the other. Derivation of the bounds: head of shaft_cut.h. Lengths in m.
#pragma once

#include <vector>

#include "geometry/shaft_cut.h"

namespace hitchwright {

/// weight_a c_a + weight_b c_b <= bound, weights in (0, 1], bound in m.
struct OverlapBound {
    double weight_a = 1.0;
    double weight_b = 1.0;
    double bound = 0.0;

    bool operator==(const OverlapBound&) const = default;
};

/// True when a share of the tube is asked for over a known working band.
bool asks_overlap_in_work(const ShaftTravel& travel, const CutLimits& limits);

/// What the overlap rules allow to be cut: the least length, the share of either tube, and both shares in work if
/// asked.
std::vector<OverlapBound> make_overlap_bounds(const TelescopingHalves& halves, const ShaftTravel& travel,
                                              const CutLimits& limits);

/// Corners of the admissible set, anticlockwise from `least`, its least corner, which must be admissible. Corners
/// closer than `cut_tolerance` are one; a set without area has one or two.
std::vector<CutPair> find_admissible_set(const TelescopingHalves& halves, const ShaftTravel& travel,
                                         const CutLimits& limits, const CutPair& least);

}  // namespace hitchwright
