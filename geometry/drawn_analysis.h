// The whole answer for a drawn set-up, as analysis.h is for a mounted one: extremes, turns, drawbar positions, ditch.
//
//   readings -> drawn_model -> extremes over the box and over the level turn (bounded) -> turn limits, positions of the
//   drawbar's pin, cut plan -> findings. The shaft is judged over the whole box: its corners may never be reached, so the
//   level turn and the way across the ditch are given beside it.
// Error bands (error_model.h): the length or angle at the attitude of its extreme, or at that attitude's mirror image, whichever
// is worse then. Sides of the box are decisions, but a clevis' play is a reading. A turn stop: its margin at the stop's yaw
// moved likewise, over the margin's slope. The ditch carries no band.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "geometry/ditch_study.h"
#include "geometry/drawbar_study.h"
#include "geometry/drawn_extremes.h"
#include "geometry/drawn_model.h"
#include "geometry/error_model.h"
#include "geometry/finding.h"
#include "geometry/special_members.h"
#include "geometry/turn_limits.h"

namespace hitchwright {

/// Bands of what a drawn set-up is judged by, each of the value less its limit where that was read.
struct DrawnBands {
    bool known = false;  ///< false: no shaft with halves, or a reading moved by its tolerance makes it impossible
    ErrorBand gap, overlap;  ///< m; overlap beyond what is needed with the tubes as they are
    ErrorBand tractor_angle, implement_angle;  ///< over the box, rad
    ErrorBand straight_tractor_angle, straight_implement_angle, straight_non_uniformity;  ///< straight and level
    ErrorBand guard_gap, guard_overlap;      ///< with a guard, m
    ErrorBand drawbar_length, drawbar_top, pto_above_drawbar;  ///< m
    ErrorBand level_pitch;    ///< its size beyond the play of a clevis, rad
    ErrorBand vertical_load;  ///< beyond what the position may carry, kg
    ReadingShare broken_by;   ///< not known: the reading that makes the shaft impossible; share: its tolerance
    Dimension broken_by_dimension = Dimension::length;
};

/// Ditch of the set-up, where one is given.
struct DitchAnalysis {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(DitchAnalysis);
    std::vector<std::string> no_ground;  ///< keys for want of which, or by which, the measures make no ground; then no study
    std::vector<std::string> missing;  ///< keys without which nothing stands on the ground; then no study
    bool shaft_unknown = false;        ///< the implement has a PTO shaft whose length or tubes are not known: lengths are not judged
    Crossing crossing;
    std::optional<DitchStudy> study;
    std::vector<std::string> pins_that_pass;  ///< other positions of the drawbar with which this crossing passes
};

struct DrawnAnalysis {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(DrawnAnalysis);
    DrawnModel model;
    DrawnExtremes whole, turn;  ///< with model.has_shaft; out_of_plane is not searched
    DrivelineState straight;    ///< straight and level: where the machine works most
    bool has_plan = false;
    CutLimits limits;
    CutPlan plan;             ///< by the bounds of the lengths
    double plan_error = 0.0;  ///< m, of the cut or of the overlap lacking (find_plan_error)
    DrawbarStudy positions;  ///< as drawbar_positions.h judges them
    DrawnBands bands;
    std::array<TurnResult, 2> turns;    ///< left, right; held to where the PTO must be off
    std::array<ErrorBand, 2> turn_bands;  ///< of the first stop of each side, rad; 0: none, or stopped from straight on
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

/// Analyses a drawn set-up, that of `errors`, whose hitch is known (model.hitch_ok). `threads`: as of analyze. `beside`: other work
/// to be done meanwhile with errors like these, may be empty.
DrawnAnalysis analyze_drawn(const ErrorModel& errors, const DrawnModel& model, const Mark& mark, int threads = 1,
                            const std::function<void(const ErrorModel&)>& beside = {});

/// Its findings.
std::vector<Finding> check_drawn(const ErrorModel& errors, const DrawnAnalysis& drawn);

}  // namespace hitchwright
