// Levelling from side to side: roll and edge heights of the implement with its lift rods as they are set, per turn of the
// levelling screw, and the rod lengths for a wanted roll.
//
// All with the hitch centred. A turn of the screw is taken with the lift arms where they are, as at the machine; a wanted roll
// at the working height, which the lever holds, so that the arms follow: the rod without a screw says where they stand. With a
// screw in both rods the arms stay where the present rods have them and both rods change. Exact: no small angles. The
// implement's weight is taken as hanging on both rods; slots and chains are not in it. Frame T, m, rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/error_model.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// Both ends of a part of the implement, above the ground.
struct EdgeHeights {
    std::string name;
    double half_width = 0.0;
    double left = 0.0, right = 0.0;  ///< m
};

/// The implement at one mean height of the lower hitch points.
struct LevelPose {
    bool closes = false;
    double ball_height = 0.0;  ///< of the middle between both
    double arm_angle = 0.0;
    Attitude attitude;
    double left_ball = 0.0, right_ball = 0.0;  ///< heights
    std::vector<EdgeHeights> edges;            ///< of every outline point that has a width
};

/// One rod against what a wanted roll asks for.
struct RodLength {
    TractorSide side = TractorSide::right;
    double set = 0.0, wanted = 0.0;
    std::optional<double> turns;  ///< of the levelling screw, lengthening positive
    bool screw = false;           ///< this rod has one
    std::optional<double> short_by, long_by;  ///< beyond the screw's range; nothing: inside, or not known
    std::optional<double> end;  ///< of that range, the one `wanted` is nearer to, or beyond
    bool at_shortest = false;   ///< `end` is the shortest
    ErrorBand band;             ///< of `wanted` less `end`, where somebody asked for the roll
};

struct WantedRoll {
    bool typed = false;   ///< false: nobody asked, level is taken
    double roll = 0.0;
    bool reached = false; ///< by linkage and rods
    std::vector<RodLength> rods;  ///< left, right
};

struct Levelling {
    LevelPose low, working, high;  ///< rods as set; `working` does not close without a working height in the travel
    std::optional<LevelPose> after_turn;  ///< at the working height's arm angle, one turn longer on the levelling rod
    TractorSide turned = TractorSide::right;
    std::optional<WantedRoll> wanted;  ///< with a working height
    /// Right less left end of the widest part (without one: of the balls) at the working height, less what is wanted, m; none where `working`
    /// does not close or no pose has the wanted roll.
    std::optional<double> difference;
    std::string measured_at;  ///< that part's name; empty: the balls
    double measured_width = 0.0;
    ErrorBand band;           ///< of `difference`, m
};

/// Nothing without arm and rods. Of the set-up of `errors`.
std::optional<Levelling> study_levelling(const ErrorModel& errors, const MountedModel& model);

/// The implement on its rods at a mean height and a sway.
LevelPose find_level_pose(const Setup& setup, const MountedModel& model, double ball_height, double sway = 0.0);

}  // namespace hitchwright
