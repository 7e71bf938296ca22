// A swing strap with stops, taken as part of the mast.
//
// A strap held at angle s (frame I, mast pin to strap pin) is a mast whose pin lies at M + w unit(s); the upper link e ends
// there. Pitch extremes over the travel: at one height they lie at the stops or where strap and link are in line
// (floating_link.h), so that they are the extremes of at most four rigid linkages, the in-line ones over the heights at
// which the strap is between its stops.
// Frame T and I, m and rad.
#pragma once

#include "geometry/mounted_extremes.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// The linkage with the strap held at `strap_angle`; its upper_length stays the link's own.
PlanarLinkage hold_strap(const MountedModel& model, double strap_angle);

/// Pitch over all the heights, the strap anywhere between its stops. Needs model.strap_has_stops. `upper_length` of the
/// extremes is the distance upper-link pin to the pin of the rigid linkage they come from.
PitchExtremes find_strap_pitch_extremes(const MountedModel& model, const HeightRange& heights);

}  // namespace hitchwright
