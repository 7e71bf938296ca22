// The lines over the travel: shaft length, joint angles, pitch, height of the tail, overlap and lift against ball
// height, with their limits; and the same of a drawn implement's shaft over its turn.
//
// The lines are sampled for the eye (geometry/travel_quantity.h); the marks at the extremes are the bounded ones of the
// analysis. Hatched: too little gap or bottomed out, too little overlap or apart. Cautions stand on the page as on
// every print.
#pragma once

#include "geometry/analysis.h"
#include "geometry/curve_bands.h"
#include "geometry/travel_quantity.h"
#include "report/chart.h"
#include "report/side_view.h"

namespace hitchwright {

/// What a panel is about, in the order in which they stand.
enum class CurveKind { pitch, tail_height, shaft_length, joint_angles, overlap, lift };

/// Short name of a panel, for a list to choose from: "pitch", "tail height".
std::string_view curve_name(CurveKind kind);

/// A panel with what it is about.
struct CurvePanel {
    CurveKind kind = CurveKind::pitch;
    ChartPanel chart;
};

/// Panels of a set-up: pitch; heights of tail and lowest point (with measured points); shaft length and joint angles
/// (with a shaft), overlap (with its halves); what the lift carries (where that is known). Empty without a linkage.
/// `bands`: shaded about the lines they are known for; null: none.
std::vector<CurvePanel> make_travel_panels(const Setup& setup, const Analysis& analysis, UnitSystem units,
                                           const CurveBands* bands = nullptr);

/// Panels of a drawn implement over the turn that is judged, at a pitch and roll: shaft length, joint angles, overlap.
/// Empty without a shaft.
std::vector<CurvePanel> make_turn_panels(const Setup& setup, const DrawnAnalysis& drawn, double pitch, double roll,
                                         UnitSystem units);

/// The whole page. `scene` gives verdict, sentence, subtitle, cautions.
PagePicture compose_travel_chart(const SideViewScene& scene, const std::vector<CurvePanel>& panels,
                                 const PageSetup& page, const TextMeasure& measure);

}  // namespace hitchwright
