// The whole answer for a drawn set-up, as analysis.h is for a mounted one: extremes, turns, drawbar positions, ditch.
//
//   readings -> drawn_model -> extremes over the box and over the level turn (bounded) -> turn limits, positions of the
//   drawbar's pin, cut plan -> findings. The shaft is judged over the whole box: its corners may never be reached, so the
//   level turn and the way across the ditch are given beside it.
// Error bands: the length or angle at the attitude of its extreme, every reading moved by its tolerance (first order). Limits
// of the box are decisions, no readings. A turn stop: its margin at the stop's yaw moved likewise, over the margin's slope.
// The ditch carries no band.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "geometry/ditch_study.h"
#include "geometry/drawbar_study.h"
#include "geometry/drawn_extremes.h"
#include "geometry/drawn_model.h"
#include "geometry/finding.h"
#include "geometry/turn_limits.h"

namespace hitchwright {

/// 95 % band of one quantity and the reading that moves it most.
struct DrawnBand {
    double width = 0.0;  ///< m or rad
    std::string widest;  ///< key
    double share = 0.0;  ///< of that reading
};

struct DrawnBands {
    bool known = false;  ///< false: a reading moved by its tolerance makes the shaft impossible
    DrawnBand gap, overlap, tractor_angle, implement_angle;
    DrawnBand straight_tractor_angle, straight_implement_angle;  ///< straight and level
    std::string broken_by;  ///< not known: the reading that makes the shaft impossible, its error and dimension
    double broken_share = 0.0;
    Dimension broken_dimension = Dimension::length;
};

/// Ditch of the set-up, where one is given.
struct DitchAnalysis {
    std::vector<std::string> no_ground;  ///< keys for want of which, or by which, the measures make no ground; then no study
    std::vector<std::string> missing;  ///< keys without which nothing stands on the ground; then no study
    bool shaft_unknown = false;        ///< the implement has a PTO shaft whose length or tubes are not known: lengths are not judged
    Crossing crossing;
    std::optional<DitchStudy> study;
    std::vector<std::string> pins_that_pass;  ///< other positions of the drawbar with which this crossing passes
};

struct DrawnAnalysis {
    DrawnModel model;
    DrawnExtremes whole, turn;  ///< with model.has_shaft; out_of_plane is not searched
    DrivelineState straight;    ///< straight and level: where the machine works most
    bool has_plan = false;
    CutLimits limits;
    CutPlan plan;
    DrawbarStudy positions;  ///< as drawbar_positions.h judges them
    DrawnBands bands;
    std::array<TurnResult, 2> turns;    ///< left, right; held to where the PTO must be off
    std::array<DrawnBand, 2> turn_bands;  ///< of the first stop of each side, rad; 0: none, or stopped from straight on
    DrawbarInterval lengths;            ///< for the shaft as it is, with this position's height and level attitude
    std::optional<SteadyTurn> steady;   ///< what driving the tightest circle forward comes to
    std::optional<DitchAnalysis> ditch;
};

/// True when the set-up names a ditch or ridge, by its measures or by points, be they enough for a ground or not.
bool has_ditch(const Setup& setup);

/// Keys for want of which the readings of a ditch make no ground, or that contradict each other; empty: they make one.
std::vector<std::string> find_ground_faults(const DitchReadings& ditch);

/// The ground of a set-up, level beyond its ends. Needs has_ditch and no faults.
Crossing make_crossing(const DitchReadings& ditch);

/// Analyses a drawn set-up whose hitch is known (model.hitch_ok).
DrawnAnalysis analyze_drawn(const Setup& setup, const DrawnModel& model, const Mark& mark);

/// Its findings.
std::vector<Finding> check_drawn(const Setup& setup, const DrawnAnalysis& drawn);

}  // namespace hitchwright
