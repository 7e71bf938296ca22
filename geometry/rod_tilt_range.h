// How far lift rods of any lengths tilt the lower hitch points over heights and sways, with bounds.
//
// What one rod does at a height the other nearly does too: the tilt hangs on a small difference of large numbers, which intervals
// over a range of heights cannot tell from nothing. Taylor models of the height can (taylor_model.h). Over a panel of heights, at
// one sway, polynomials through solved poses stand for sin(tau) and for the heading sin(chi); what they are off by follows from
// the equations they solve alone, lift_rods.h's F and spatial_linkage.h's G: with |F| <= rho on the polynomial and |dF/dsin(tau)| >= m
// > 0 for all values within delta of it, rho/m <= delta, there is one zero within rho/m of it. So for G, for all tilts at once.
// Whether the tilt rises or falls with the sway is plain enough for intervals over strips of height; then its least and greatest
// values lie at the ends of the sways. Panels are halved until all this shows.
#pragma once

#include <optional>

#include "geometry/height_range.h"
#include "geometry/lift_rods.h"

namespace hitchwright {

/// Least and greatest sine of the tilt, rounded outward, off by `closeness` at the most; nothing where that does not show on
/// panels narrower than a 64th of the heights.
std::optional<HeightRange> find_rod_tilt_range(const SpatialLinkage& linkage, const LiftRods& rods, const HeightRange& heights,
                                               const HeightRange& sways, double closeness);

}  // namespace hitchwright
