// One heading of a way across a ditch, place by place, and what a station can be the worst in. Of ditch_study.cpp and
// ditch_pass.cpp.
#pragma once

#include <array>
#include <deque>
#include <functional>
#include <vector>

#include "geometry/ditch_study.h"
#include "geometry/terrain_solver.h"

namespace hitchwright {

/// Everything a station can be the worst in.
inline constexpr std::array ditch_quantities{
    DitchQuantity::shortest, DitchQuantity::longest,    DitchQuantity::tractor_angle, DitchQuantity::implement_angle,
    DitchQuantity::pitch_up, DitchQuantity::pitch_down, DitchQuantity::roll};

inline bool needs_shaft(DitchQuantity q) {
    return static_cast<int>(q) <= static_cast<int>(DitchQuantity::implement_angle);
}

/// A station's value of a quantity, m or rad.
double value_of(const DitchStation& station, DitchQuantity quantity);

/// The same; roll goes through level from one side to the other.
double signed_value_of(const DitchStation& station, DitchQuantity quantity);

/// Greater is worse.
double badness(const DitchStation& station, DitchQuantity quantity);

/// The rig on its way over the ground, or over the same ground from the other side. Not to be shared between threads: it
/// remembers.
class DitchMarch {
public:
    /// `model` and `rig` must outlive it.
    DitchMarch(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, Heading heading);
    DitchMarch(const DitchMarch&) = delete;
    DitchMarch& operator=(const DitchMarch&) = delete;

    /// The station at a place. `near`: a pose near by, or null.
    DitchStation at(double place, const TerrainPose* near) const;
    /// `at` for the search of a peak: remembered, since peaks of several quantities are looked for in the same stretch.
    const DitchStation& look(double place, const TerrainPose* near) const;
    /// With what the limits are about alone of the driveline.
    DitchStation limited_at(double place, const TerrainPose* near) const;

    /// Places from the run-up to the run-out, `step` apart at most (m).
    std::vector<double> list_places(double step) const;

private:
    const DrawnModel& model_;
    const TerrainRig& rig_;
    Crossing crossing_;
    TerrainSolver solver_;
    mutable std::deque<DitchStation> looked_;
};

/// Worst state between two places, `best` or worse than it, by the golden section: one new place in each step. `enough`: of the
/// worst so far and the distance (m) within which a worse one could still lie; ends the search early.
using PeakEnough = std::function<bool(const DitchStation&, double)>;
DitchStation find_peak(const DitchMarch& way, DitchStation best, double from, double to, DitchQuantity quantity,
                       const PeakEnough& enough = {});

/// With the same ground from both sides the second heading is the first over again.
std::vector<Heading> list_headings(const Crossing& crossing);

}  // namespace hitchwright
