// What the shaft of a drawn implement goes through: extremes with proven bounds over a box of attitudes, and over the turn.
//
// The box is yaw x pitch x roll of the implement against the tractor (bounded_extreme.h over interval jets of the three
// angles). Its corners may never be reached, and it knows nothing of the ground; so the turn on level ground (yaw alone, at
// the level attitude) is given apart, and the way across a ditch in terrain.h. 0.01 mm and 0.001 deg are promised.
#pragma once

#include "geometry/drawn_model.h"

namespace hitchwright {

/// An extreme over a box of attitudes. |value - bound| is the proven error. Where the mirror image of the attitude gives the
/// same, `at` is the one turned (else rolled) to the left.
struct AttitudeExtreme {
    double value = 0.0;  ///< attained at `at`
    double bound = 0.0;  ///< on the far side: nothing in the box lies beyond it
    Attitude at;
    int evaluations = 0;
    bool converged = false;

    bool operator==(const AttitudeExtreme&) const = default;
};

/// Driveline over a box of attitudes. Lengths m between joint centres, angles rad.
struct DrawnExtremes {
    AttitudeExtreme shortest, longest;
    AttitudeExtreme tractor_angle, implement_angle;  ///< greatest
    bool turns = true;              ///< false: a joint reaches 90 deg and cannot turn there; no non-uniformity then
    AttitudeExtreme non_uniformity; ///< greatest minus least speed ratio, greatest over the box
    AttitudeExtreme out_of_plane;   ///< greatest sin B1 sin B2 |sin f|, f: angle between the bending planes (drawn_kernel.h);
                                    ///< what yokes in one plane cannot cancel. f itself: find_driveline_state at `at`. Not
                                    ///< searched with a wide-angle joint, which leaves nothing to cancel
};

/// The turn on level ground: yaw of the box at the level attitude.
AttitudeBox make_turn_box(const DrawnModel& model);

/// Parts of the next, for searches that ask many times. Need model.has_shaft.
AttitudeExtreme find_shortest(const DrawnModel& model, const AttitudeBox& box);
AttitudeExtreme find_longest(const DrawnModel& model, const AttitudeBox& box);
AttitudeExtreme find_greatest_joint_angle(const DrawnModel& model, const AttitudeBox& box, JointEnd joint);

/// All of them. Needs model.has_shaft.
DrawnExtremes find_drawn_extremes(const DrawnModel& model, const AttitudeBox& box);

/// Function evaluations of all searches together.
int count_evaluations(const DrawnExtremes& extremes);

/// Everything about the driveline at one attitude.
struct DrivelineState {
    double length = 0.0;           ///< S, m
    double tractor_angle = 0.0, implement_angle = 0.0, last_angle = 0.0;  ///< rad; last: behind a steady bearing, else 0
    double bending_plane_angle = 0.0;  ///< f of two_joint.h, rad
    bool turns = true;             ///< false: a joint is bent to 90 deg
    double non_uniformity = 0.0;
};
/// Needs model.has_shaft.
DrivelineState find_driveline_state(const DrawnModel& model, const Attitude& attitude);

}  // namespace hitchwright
