// A drawn machine as it stands in a ditch or on a ridge, from its left side.
//
// Cut along the way through the middle of the machine; crossed at an angle, the ground under the left and under the right
// wheels is dashed and the right wheels are ghosted. Wheels, hitch, joint centres and shaft are where the study of the way
// has them (ditch_study.h); bars are the readings, the rest is sketched. x: along the way rearward from the middle of the
// ditch, z: up from the level ground, m.
#pragma once

#include <string>

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/side_view.h"

namespace hitchwright {

/// Another drawn set-up on the same ground, ghosted with words for it: what stands on the left, its bars, hitch and shaft.
struct DitchGhost {
    const Setup& setup;
    const DrawnAnalysis& drawn;
    const DitchStation& station;
    std::string words;
};

/// One place on the way. `heading`: over the ground as given, or the other way. Needs drawn.ditch with a study.
Drawing draw_ditch_view(const Setup& setup, const DrawnAnalysis& drawn, const DitchStation& station, Heading heading, UnitSystem units,
                        const DitchGhost* other = nullptr);

/// The page with the worst place on the way.
PagePicture compose_ditch_view(const SideViewScene& scene, const Setup& setup, const Analysis& analysis, const PageSetup& page,
                               const TextMeasure& measure);

}  // namespace hitchwright
