// See hole_curves.h.
#include "gui/hole_curves.h"

#include <algorithm>

namespace hitchwright {
namespace {

constexpr int points_per_curve = 33;

}  // namespace

HoleCurves make_hole_curves(const Setup& setup, const HoleStudy& study) {
    HoleCurves all;
    bool any = false;
    for (const HoleResult& r : study.results) {
        all.curves.emplace_back();
        if (!r.analysis.linkage) continue;
        all.curves.back() =
            sweep_pitch(choose_holes(setup, r.numbers.holes), r.analysis.linkage->model, points_per_curve);
        for (const PitchPoint& p : all.curves.back()) {
            all.height_low = any ? std::min(all.height_low, p.ball_height) : p.ball_height;
            all.height_high = any ? std::max(all.height_high, p.ball_height) : p.ball_height;
            all.pitch_low = std::min(all.pitch_low, p.pitch);
            all.pitch_high = std::max(all.pitch_high, p.pitch);
            any = true;
        }
    }
    return all;
}

}  // namespace hitchwright
