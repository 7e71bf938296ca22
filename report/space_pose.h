// A mounted set-up in space at one place of its hitch, for the pictures that show both sides.
//
// With lift arm and rods the tilt is the one they give, else the hitch is level. The upper link is as it is set: its slack is
// not counted, as in levelling.h. Frame T, m, rad.
#pragma once

#include <optional>
#include <string>

#include "geometry/analysis.h"

namespace hitchwright {

/// Where somebody looks at the set-up: the mean height of the lower hitch points, and their sway to the right.
struct HitchView {
    double ball_height = 0.0;
    double sway = 0.0;
    bool operator==(const HitchView&) const = default;
};

/// Linkage, rods and implement there.
struct SpacePose {
    bool closes = false;   ///< false: the other members are meaningless
    bool on_rods = false;  ///< `rods` holds the arms and rods
    SpatialSolution hitch;
    RodPose rods;
    Vec3<double> left_pivot{0, 0, 0}, right_pivot{0, 0, 0};  ///< of the lower links
    Vec3<double> mast_pin{0, 0, 0};  ///< that the upper link acts on
};

/// At a height and sway, both brought inside travel and sway of the set-up.
SpacePose find_space_pose(const MountedModel& model, const HitchView& at);

/// Ends of the sway at a ball height, from how far it was found to go or from the check chains with the hitch level; nothing
/// without a source, or where nothing stops it within reach.
SwayLimits find_sway_ends(const MountedSpace& space, double ball_height);

/// The view brought inside the travel, and inside the sway there.
HitchView bring_inside(const MountedModel& model, HitchView at);

/// A point of the implement, read in frame I at `y` to the right of its middle, in frame T.
Vec3<double> place_in_space(const MountedModel& model, const SpacePose& pose, const Reading& x, const Reading& z, double y);

/// Point of the implement farthest behind its lower hitch points; null: none is known.
struct RearmostPoint {
    std::string name;
    Point at = Point::Zero();  ///< frame I, moved back by a coupler
};
std::optional<RearmostPoint> find_rearmost_point(const Implement& implement, const MountedModel& model);

/// The place in full as the searches over boxes take it: a box without extent.
SpatialBox make_place_box(const MountedModel& model, const HitchPlace<double>& at);

/// Length of one lift rod, m, that puts the ball of its side at a height with the lift arms where they are in a pose; nothing
/// where the linkage does not reach it. The other rod stays.
std::optional<double> find_rod_for_ball(const MountedModel& model, const SpacePose& pose, TractorSide side, double ball_height);

}  // namespace hitchwright
