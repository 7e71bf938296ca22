// One position of a mounted set-up in full: pitch, link angles, shaft, gap and overlap.
//
// A rigid link has one pose for a ball height. A floating one rests on the ground when the ground holds it up within
// its stops, else it hangs at its longest (ground_contact.h); without ground contacts it is taken at half its slack up to
// the working height and at its longest above. A swing strap is taken in line with the link when it hangs.
#pragma once

#include <optional>
#include <vector>

#include "geometry/ground_contact.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// Everything about one position of the hitch. Shaft members are 0 without a shaft.
struct PoseReport {
    PlanarPose pose;
    double upper_length = 0.0;  ///< effective, m
    std::optional<double> inverse_hitch_distance;  ///< 1/X, 1/m; 0 with parallel links, empty at a dead centre
    double shaft_length = 0.0, tractor_angle = 0.0, implement_angle = 0.0, non_uniformity = 0.0;
    bool turns = false;  ///< both joints below 90 deg; else non_uniformity is not given (0)
    double gap = 0.0, overlap = 0.0;  ///< with the halves as the set-up has them
    FloatState float_state = FloatState::carried;  ///< for a floating link: who decides the pitch
};

/// Report at a ball height inside the model's travel.
PoseReport make_pose_report(const Setup& setup, const MountedModel& model, double ball_height);

/// Contacts of the implement with the ground, in frame I (moved to the ball by a coupler).
std::vector<Contact> list_contacts(const Implement& implement, const MountedModel& model);

/// Pitches the floating link's stops allow at a ball height.
PitchBand find_float_band(const MountedModel& model, double ball_height);

/// Floating link on level ground at a ball height; nothing for a rigid one, without ground contacts, or where the lower links do
/// not reach.
std::optional<FloatPose> find_float_pose(const Setup& setup, const MountedModel& model, double ball_height);

}  // namespace hitchwright
