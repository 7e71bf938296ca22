// See pitch_curve.h.
#include "geometry/pitch_curve.h"

#include "geometry/pose_sweep.h"

namespace hitchwright {

std::vector<PitchPoint> sweep_pitch(const Setup& setup, const MountedModel& model, int count) {
    std::vector<double> heights;
    for (int i = 0; i < count; ++i) heights.push_back(model.travel.low + (model.travel.high - model.travel.low) * i / (count - 1));
    const std::vector<PoseNumbers> poses = sweep_pose_numbers(setup, model, heights);
    std::vector<PitchPoint> points;
    for (std::size_t i = 0; i < poses.size(); ++i) {
        if (poses[i].closes) points.push_back({heights[i], poses[i].pitch});
    }
    return points;
}

}  // namespace hitchwright
