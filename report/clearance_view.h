// Clearances of an analysis as marks of the side view: which are worth showing, and between which two points.
//
// The two nearest points are taken from the pose in which the analysis found the least room, by the same kernel. Frame
// T, m.
#pragma once

#include <vector>

#include "geometry/analysis.h"
#include "report/side_view.h"

namespace hitchwright {

/// At most this many clearances are marked; the fit report has all.
inline constexpr std::size_t clearances_shown = 2;

/// Room (m) beyond which a clearance is not marked, unless it is the guard's or the rule asks for more.
inline constexpr double near_clearance = 0.10;

/// Marks for the clearances below what is needed or near it, and the guard's in any case; the least first.
std::vector<ClearanceView> make_clearance_views(const Setup& setup, const MountedModel& model,
                                                const TractorView& tractor, const std::vector<Clearance>& clearances,
                                                UnitSystem units);

}  // namespace hitchwright
