// See travel_marks.h.
#include "report/travel_marks.h"

#include <algorithm>

#include "geometry/pose_report.h"

namespace hitchwright {
namespace {

constexpr int path_steps = 24;
constexpr double beside_path = 0.03;  // m behind the path of the balls

DrawingPoint ball_at(const Setup& setup, const MountedModel& model, double height) {
    const PoseReport report = make_pose_report(setup, model, height);
    return {report.pose.ball.x(), report.pose.ball.y()};
}

/// Heights of both joints together, in rising order without overlaps.
std::vector<HeightRange> join(std::vector<HeightRange> ranges) {
    std::sort(ranges.begin(), ranges.end(), [](const HeightRange& a, const HeightRange& b) { return a.low < b.low; });
    std::vector<HeightRange> joined;
    for (const HeightRange& r : ranges) {
        if (!joined.empty() && r.low <= joined.back().high) joined.back().high = std::max(joined.back().high, r.high);
        else joined.push_back(r);
    }
    return joined;
}

}  // namespace

Drawing draw_travel_marks(const Setup& setup, const MountedModel& model, const TravelBands& bands, UnitSystem units) {
    Drawing d;
    if (model.has_working_height) {
        const DrawingPoint at = ball_at(setup, model, model.working_height);
        add_shape(d, Role::travel_arc, Marker{at, MarkerForm::cross, 1.8}, "working height");
        d.labels.push_back({at, "work " + format_length(at.z, units), 5, false});
    }
    std::vector<HeightRange> off;
    for (const std::optional<JointBands>& joint : {bands.tractor_joint, bands.implement_joint}) {
        if (joint) off.insert(off.end(), joint->pto_off.begin(), joint->pto_off.end());
    }
    for (const HeightRange& r : join(off)) {
        Polyline line;
        for (int i = 0; i <= path_steps; ++i) {
            const DrawingPoint p = ball_at(setup, model, r.low + (r.high - r.low) * i / path_steps);
            line.points.push_back({p.x + beside_path, p.z});
        }
        const bool lower = r.low <= bands.travel.low, upper = r.high >= bands.travel.high;
        const std::string from = format_length(r.low, units, Rounding::down), to = format_length(r.high, units, Rounding::up);
        const std::string words = lower && upper ? "PTO off at every height"
                                  : upper        ? "PTO off above " + from
                                  : lower        ? "PTO off below " + to
                                                 : "PTO off from " + from + " to " + to;
        d.labels.push_back({line.points[path_steps / 2], words, 3, true});
        add_shape(d, Role::separation, std::move(line), "where the PTO must be off");
    }
    return d;
}

}  // namespace hitchwright
