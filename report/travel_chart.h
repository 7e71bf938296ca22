// The page of lines over the travel: shaft length, joint angles and pitch against ball height, with their limits.
//
// The lines are sampled for the eye; the marks at the extremes are the bounded ones of the analysis. Cautions stand on
// the page as on every print.
#pragma once

#include "geometry/analysis.h"
#include "report/chart.h"
#include "report/side_view.h"

namespace hitchwright {

/// Panels of a set-up: length (with a shaft and its halves), joint angles (with a shaft), pitch. Empty without a linkage.
std::vector<ChartPanel> make_travel_panels(const Setup& setup, const Analysis& analysis, UnitSystem units);

/// The whole page. `scene` gives verdict, sentence, subtitle, cautions.
PagePicture compose_travel_chart(const SideViewScene& scene, const std::vector<ChartPanel>& panels,
                                 const PageSetup& page, const TextMeasure& measure);

}  // namespace hitchwright
