// See pitch_curve.h.
#include "geometry/pitch_curve.h"

namespace hitchwright {

std::vector<PitchPoint> sweep_pitch(const Setup& setup, const MountedModel& model, int count) {
    std::vector<PitchPoint> points;
    for (int i = 0; i < count; ++i) {
        const double h = model.travel.low + (model.travel.high - model.travel.low) * i / (count - 1);
        const PoseReport report = make_pose_report(setup, model, h);
        if (report.pose.closes) points.push_back({h, report.pose.pitch});
    }
    return points;
}

}  // namespace hitchwright
