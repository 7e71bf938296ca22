// The ball heights at which the planar linkage closes, and its dead centres.
//
// With D = H - U (ball less upper-link pin), m = |mast pin| and e the upper link, the pose closes exactly while
//     |m - e| <= |D| <= m + e.
// Equality is a dead centre: upper link and mast in one line, stretched (m + e) or folded (|m - e|). Those balls lie
// where the circle of the ball about the lower-link pivot meets the circles m + e and |m - e| about U: at most four
// points, in closed form. Between neighbouring ones nothing changes, so one test in each gap settles it; nothing is
// sampled. Frame T; the lower link reaches rearward (ball behind its pivot).
#pragma once

#include <vector>

#include "geometry/height_range.h"
#include "geometry/planar_linkage.h"

namespace hitchwright {

/// How upper link and mast fall into one line.
enum class DeadCentreKind {
    stretched,  ///< the mast pin between upper-link pin and ball: the linkage pulls tight
    folded,     ///< one lying back over the other
};

/// A ball height at which the pitch turns over or the linkage locks.
struct DeadCentre {
    double height = 0.0;  ///< m
    DeadCentreKind kind = DeadCentreKind::stretched;

    bool operator==(const DeadCentre&) const = default;
};

/// All heights that close, as disjoint closed ranges in rising order; ends accurate to about 1e-15 of the lengths, so
/// the pose at an end itself may fail by rounding. A height that closes alone (the circles touch) is left out, since
/// nothing can move there. Lengths that are not positive finite numbers give none.
std::vector<HeightRange> find_closable_heights(const PlanarLinkage& linkage);

/// Dead centres with heights inside `range`, rising. Touching circles give one.
std::vector<DeadCentre> find_dead_centres(const PlanarLinkage& linkage, const HeightRange& range);

}  // namespace hitchwright
