// What the machine does with one combination of holes: the columns of the hole study. Extremes are bounded.
//
// The link is set for the working attitude; poses are taken by the kernel, extremes of shaft length, joint angles and
// the load's rise from the same panels (hole_search.h). Rows are plain values; what is not known is empty.
// Lengths m, angles rad, heights are ball heights in frame T.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/dead_centre_room.h"
#include "geometry/lift_ratio.h"
#include "geometry/link_length.h"
#include "geometry/mounted_extremes.h"
#include "geometry/mounted_model.h"
#include "geometry/shaft_cut.h"

namespace hitchwright {

/// A combination of holes, by place in the lists of tractor and implement.
struct HoleCombination {
    std::size_t tractor_pin = 0, mast_pin = 0;
    std::size_t rod_hole = 0;  ///< of the lift rod in the lower links; 0 too where none are listed
    bool operator==(const HoleCombination&) const = default;
};

/// A point of the implement and its height above level ground, hitch fully raised.
struct RaisedPoint {
    std::string name;
    double height = 0.0;
    bool operator==(const RaisedPoint&) const = default;
};

/// The shaft over the travel.
struct HoleShaft {
    TravelExtreme shortest, longest;
    TravelExtreme travel_angle, work_angle;  ///< of the joint that bends more
    JointEnd travel_joint = JointEnd::tractor, work_joint = JointEnd::tractor;  ///< which that is
    std::vector<HeightRange> work_heights;  ///< both joints within the limit of unrestricted work
    std::vector<HeightRange> pto_heights;   ///< both joints within the PTO-off limit
    bool has_plan = false;
    CutPlan plan;  ///< gap and overlap (plan.uncut), and what to cut
};

/// One row of the study. Without `has_numbers` only holes, names and `is_present` mean anything.
struct HoleNumbers {
    HoleCombination holes;
    std::string tractor_pin, mast_pin;  ///< names as on the machine
    std::string rod_hole;               ///< likewise; empty where none are listed
    bool is_present = false;            ///< what the set-up has chosen
    bool has_numbers = false;           ///< the linkage closes somewhere in the travel
    bool whole_travel = false;          ///< ... and throughout
    HeightRange travel;                 ///< heights the numbers are taken over

    double upper_length = 0.0;              ///< link length, pin to pin
    bool for_working_attitude = false;      ///< ... that gives it; false: no working height, the typed length is kept
    std::optional<UpperLinkReach> reach;    ///< with the link's least and most length read
    std::optional<double> turns;            ///< from the present length; positive: lengthen

    double pitch_low = 0.0, pitch_top = 0.0;  ///< at both ends of the travel
    std::optional<double> pitch_working;
    std::optional<double> transport_pitch;
    double transport_height = 0.0;  ///< 0: not known
    std::optional<RaisedPoint> tail;    ///< rearmost point or contact, its underside
    std::optional<RaisedPoint> lowest;  ///< lowest point or contact: ground clearance at the top
    std::optional<double> inverse_hitch_distance;  ///< 1/X in the working position (without one: at the lowest); 0: parallel

    HeightRange rod_lift_share;  ///< lift at the balls beside that with the rod in the hole of the tape, at both ends of the
                                 ///< travel; 0 where it is that hole or not known
    LiftRatio lift;
    DeadCentreRoom dead_centre;
    std::optional<HoleShaft> shaft;
    int evaluations = 0;  ///< of the bounded searches
};

/// All combinations in the order of the lists; empty when a list is.
std::vector<HoleCombination> list_hole_combinations(const Setup& setup);

/// The set-up with these holes chosen. With a working height known the link's typed length is taken away, since
/// another hole wants another length.
Setup choose_holes(const Setup& setup, const HoleCombination& holes);

/// True when the set-up itself chooses these holes.
bool is_chosen(const Setup& setup, const HoleCombination& holes);

/// The numbers of one combination. `chosen` as from choose_holes, `result` its model.
HoleNumbers find_hole_numbers(const Setup& chosen, const MountedModelResult& result, const HoleCombination& holes,
                              const Mark& mark);

/// The numbers of all combinations without verdicts: for a table that follows a slider. Order of the lists.
std::vector<HoleNumbers> find_all_hole_numbers(const Setup& setup, const Mark& mark);

}  // namespace hitchwright
