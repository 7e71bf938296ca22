// The whole answer for a set-up: numbers, findings, verdict. Pure: the same set-up gives the same analysis.
//
//   readings -> mounted_model -> extremes over the travel (bounded) -> cut plan -> findings -> verdict
// A part that cannot be computed is left out and a finding says which reading is missing or which part does not close.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/axle_study.h"
#include "geometry/clearance.h"
#include "geometry/closable_heights.h"
#include "geometry/direct_analysis.h"
#include "geometry/drawn_analysis.h"
#include "geometry/finding.h"
#include "geometry/float_study.h"
#include "geometry/hidden_pins.h"
#include "geometry/link_length.h"
#include "geometry/lift_study.h"
#include "geometry/linkage_quantities.h"
#include "geometry/model_fit.h"
#include "geometry/mounted_extremes.h"
#include "geometry/mounted_model.h"
#include "geometry/part_effect.h"
#include "geometry/pose_report.h"
#include "geometry/setup.h"
#include "geometry/shaft_cut.h"
#include "geometry/space_study.h"
#include "geometry/special_members.h"
#include "geometry/unjudged.h"

namespace hitchwright {

/// Linkage part of the answer.
struct LinkageAnalysis {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(LinkageAnalysis);
    MountedModel model;
    TravelBox box;
    PitchExtremes pitch;
    std::vector<DeadCentre> dead_centres;  ///< within the travel as given, before it was cut to what closes
    std::optional<UpperLinkReach> reach;   ///< with the link's least and most length known
    std::optional<double> turns;           ///< from the present length; positive: lengthen
    std::optional<double> pitch_per_turn;  ///< at the working pose, rad
    TransportPitch transport;              ///< at `transport_height`
    double transport_height = 0.0;         ///< 0: not known
    Grade transport_grade = Grade::C;
    std::optional<double> inverse_vertical_convergence;
    std::optional<double> inverse_horizontal_convergence;
    std::optional<PitchBand> working_band_of_pitch;  ///< floating link: pitches the stops allow at the working height
    std::optional<FloatPose> working_float;          ///< floating link on level ground at the working height
    PoseReport low, working, high;
};

/// Shaft part of the answer.
struct ShaftAnalysis {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(ShaftAnalysis);
    ShaftExtremes travel;        ///< over the whole travel
    ShaftExtremes work;          ///< over the working band
    bool has_plan = false;
    CutLimits limits;
    CutPlan plan;                ///< from the halves as the set-up has them (cuts of the set-up made), by the bounds of the lengths
    double plan_error = 0.0;     ///< m, of the cut or of the overlap lacking (find_plan_error)
    std::vector<HeightRange> tractor_free, tractor_on, tractor_reach;        ///< heights inside each angle limit
    std::vector<HeightRange> implement_free, implement_on, implement_reach;
    GuardResult guard;
    bool has_guard = false;
};

struct Analysis {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Analysis);
    Verdict verdict = Verdict::not_known;
    std::vector<Finding> findings;  ///< worst first
    std::optional<LinkageAnalysis> linkage;
    std::optional<ShaftAnalysis> shaft;
    std::optional<DrawnAnalysis> drawn;    ///< a drawn set-up whose hitch is known; then neither linkage nor shaft
    std::optional<DirectAnalysis> direct;  ///< with direct readings of a shaft
    std::optional<ModelFit> fit;           ///< with direct or pose readings; where `used`, all else is of the fitted model
    std::string decided_by;                ///< word and subject of the finding the next readings are for; empty: none has a band
    std::vector<NextReading> next;         ///< what would narrow it most, best first
    HiddenPins pins;                       ///< what ball readings say; `asked` is false without any
    std::vector<Clearance> clearances;
    std::vector<GroundClearance> ground;
    std::optional<SpaceStudy> space;       ///< of a mounted set-up whose linkage is ok
    std::optional<LiftStudy> lift;         ///< of a mounted set-up whose linkage is ok
    std::optional<AxleStudy> axles;        ///< with a linkage, or a drawbar, that is ok
    std::optional<FloatStudy> floating;  ///< for a floating upper link
    std::vector<Unjudged> unjudged;  ///< optional questions left open for want of readings
    std::vector<PartEffect> part_effects;  ///< one for every add-on part that is fitted
    int evaluations = 0;  ///< function evaluations of all bounded searches
};

/// Analyses a set-up. Never throws on readings. `mark`: what cuts are rounded to. `effort`: what error bands may cost. `threads`: with
/// two, a thread is started for half of the work; the answer is the same.
Analysis analyze(const Setup& setup, const Mark& mark, BandEffort effort = BandEffort::draws_where_close, int threads = 1);

/// The same without comparing add-on parts: part_effects is empty.
Analysis analyze_alone(const Setup& setup, const Mark& mark, BandEffort effort = BandEffort::draws_where_close, int threads = 1);

/// Position reports at `count` >= 2 even steps of ball height over the travel; empty when the linkage does not close.
/// Readings that cannot be count as not given, as in analyze.
std::vector<PoseReport> sweep_travel(const Setup& setup, int count);

}  // namespace hitchwright
