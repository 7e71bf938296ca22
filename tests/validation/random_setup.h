// Random mounted set-ups of plausible machines, and their poses by a second route.
//
// Ranges: those the presets were chosen from, four classes of tractor from sub-compact to row-crop and PTO-driven mounted
// implements (invented machines; judgement where nothing is published). Some have joints beside the median plane, slopes and plan
// angles, a phase error, a wide-angle joint at either end, slack in the upper link, a dead centre close to an end of travel.
// The second route takes the readings of the set-up, closes upper link and mast as two circles (mast_closure.h) and asks
// driveline_geometry.h, wide_angle_joint.h and two_joint.h: none of the kernel's code.
#pragma once

#include <optional>
#include <random>
#include <vector>

#include "geometry/driveline_geometry.h"
#include "geometry/mounted_model.h"
#include "geometry/setup.h"

namespace validation {

/// What a random set-up has beyond the plain one.
struct Features {
    bool beside = false;      ///< lateral offsets, slopes, plan angles, phase error
    bool wide_angle = false;  ///< at one end
    bool slack = false;       ///< slot, chain or swing strap
    bool dead_centre = false; ///< within 5 mm of an end of the travel
};

/// A set-up with its model; every pose of its travel box closes and no joint comes near 90 deg.
struct RandomSetup {
    hitchwright::Setup setup;
    hitchwright::MountedModel model;
    Features features;
};

/// Draws until a set-up closes; throws std::runtime_error after 1000 tries.
RandomSetup make_random_setup(std::mt19937& random, const Features& features);

/// `count` set-ups, features by turns: every second beside, every fourth wide-angle, every fifth with slack, every
/// seventh close to a dead centre.
std::vector<RandomSetup> make_random_setups(unsigned seed, int count);

/// A pose by the second route. m, rad.
struct ReferencePose {
    double pitch = 0.0;
    double length = 0.0;
    double tractor_angle = 0.0, implement_angle = 0.0;
    double non_uniformity = 0.0;
};

/// Both machines' shafts in frame T, and the pitch.
struct ReferenceShafts {
    double pitch = 0.0;
    hitchwright::MachineShaft stub, input;
};

/// Poses of one set-up by the second route.
class Reference {
public:
    explicit Reference(const hitchwright::Setup& setup);

    /// Nothing when the linkage has no pose.
    std::optional<ReferenceShafts> shafts_at(double ball_height, double upper_length) const;

    /// Nothing when the linkage or a wide-angle joint has no pose.
    std::optional<ReferencePose> at(double ball_height, double upper_length) const;

private:
    hitchwright::Setup setup_;
    hitchwright::Point lower_pivot_, upper_pin_, mast_pin_;
    double lower_length_ = 0.0;
};

}  // namespace validation
