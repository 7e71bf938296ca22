// A rule set: the limits a fit is judged by. The user chooses it, every finding names it.
//
// Published rules disagree (gap 10-76 mm, overlap 110-250 mm or a third or a half of the tube, joint angle
// 15-35 deg), so no limit is built into the geometry: all come from a rule set read from presets/rules.
// A single angle in a set is its PTO-off limit; blanks are taken from the set called "general".
#pragma once

#include <string>

#include "geometry/reading.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// Limits for the driveline and the room around it. Lengths in m, angles in rad, fractions as ratios.
struct RuleSet {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(RuleSet);
    std::string key;      ///< file name without ending, the name typed on the command line
    std::string name;     ///< name shown
    std::string note;     ///< when to use it, in a sentence
    Limit gap_required;   ///< least gap left at the shortest point of the whole travel
    Limit gap_aimed;      ///< gap a cut aims for
    Limit overlap_least;  ///< least overlap at the longest point
    Limit overlap_fraction;       ///< least overlap at the longest point, share of the free tube of the longer half
    Limit overlap_fraction_work;  ///< the same over the working band only
    Limit overlap_fraction_aimed; ///< share a cut would like to leave at the longest point
    Limit angle_free;     ///< joint angle up to which work is not limited
    Limit angle_pto_off;  ///< joint angle above which the PTO must be off
    Limit angle_stop;     ///< joint angle that must not be reached at all: lift stop
    Limit angle_watch;    ///< joint angle above which the joint is named (wear), not limited
    Limit non_uniformity; ///< two-joint speed non-uniformity (max minus min ratio) above which it is named
    Limit clearance;      ///< least room between the turning shaft's guard or the implement and anything else
    Limit guard_overlap;  ///< least overlap of the guard tubes
    Limit turn_plain;       ///< drawn: sharpest turn (yaw) with plain joints
    Limit turn_wide_angle;  ///< drawn: sharpest turn with a wide-angle joint
    Limit relative_pitch;   ///< drawn: pitch of the implement against the tractor either way
    Limit front_axle_share; ///< least share of the base on the front axle (axle_loads.h); the set-up says which base
    Limit rear_axle_share;  ///< least share of the tractor's empty mass on the rear axle

    bool operator==(const RuleSet&) const = default;
};

}  // namespace hitchwright
