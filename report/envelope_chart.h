// The envelope as a chart: turn across, pitch up; where the shaft bottoms or parts and a joint passes its limit is hatched,
// with the zero lines, the box that is judged and the way across the ditch.
#pragma once

#include "geometry/analysis.h"
#include "geometry/envelope.h"
#include "report/side_view.h"

namespace hitchwright {

/// The whole page. Without a shaft it says so in place of the chart.
PagePicture compose_envelope_chart(const SideViewScene& scene, const Setup& setup, const Analysis& analysis, const PageSetup& page,
                                   const TextMeasure& measure);

/// Where the chart's axes lie inside `area`, and back from a point to turn and pitch.
struct EnvelopeAxes {
    AngleRange yaw, pitch;
    PageRect area;
    PagePoint to_page(double yaw_angle, double pitch_angle) const;
    /// The nearest attitude of the chart, without roll.
    Attitude to_attitude(PagePoint at) const;
};
EnvelopeAxes find_envelope_axes(const DrawnModel& model, const PageRect& area);

/// The chart alone inside `area`, its axes included. Needs analysis.drawn with a shaft.
void add_envelope(PagePicture& page, const Setup& setup, const DrawnAnalysis& drawn, const PageRect& area, const TextMeasure& measure);

}  // namespace hitchwright
