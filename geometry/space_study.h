// What a side view cannot answer: level from side to side, sway, and the room beside the tyres.
//
// Tail swing: how far the rearmost point of the implement goes sideways while the balls go from one end of their sway to the
// other, the lower links leading it. Nothing here counts for a set-up that says nothing of rods, sway, chains or tyres. m, rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/levelling.h"
#include "geometry/special_members.h"
#include "geometry/tyre_gap.h"

namespace hitchwright {

/// How far the lower hitch points can go to each side at one height.
struct SwayAt {
    double ball_height = 0.0;
    std::optional<double> left, right;  ///< m, to the right positive; nothing: no limit within reach
};

struct TailSwing {
    std::string name;    ///< rearmost point
    double behind = 0.0; ///< of the lower hitch points, m
    double left = 0.0, right = 0.0;  ///< sideways at the ends of the sway, to the right positive
    double balls = 0.0, tail = 0.0;  ///< from one end to the other
};

struct SwayStudy {
    SwaySource source = SwaySource::none;
    SwayAt low, working, high;
    std::optional<TailSwing> tail;      ///< at the working height
    std::vector<HeightRange> blocked;   ///< heights of the travel that the chains do not let the hitch reach, level
    double blocked_by = 0.0;            ///< m that they lack in the middle of the first of these
    ErrorBand total_band;               ///< of the sway from one end to the other at the working height
    ErrorBand blocked_band;             ///< of what is left there, less than 0
};

struct SpaceStudy {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(SpaceStudy);
    std::optional<Levelling> levelling;
    std::optional<SwayStudy> sway;      ///< with a source
    std::optional<TyreRoom> tyre;       ///< with tyre and link measured
    ErrorBand tyre_band;                ///< of its least room, m
    TyreRoomParts tyre_parts;
    SideRanges side;                    ///< the shaft was judged over
    bool side_closes = true;
    bool rods_told = false;             ///< the set-up says something of its rods, or asks for a roll
    /// Anything of it was asked for.
    bool asked() const { return rods_told || sway || tyre || !side.planar() || !side_closes; }
};

/// Of the set-up of `errors`, but for `levelling`: study_levelling of levelling.h asks nothing of the rest and so can be done at
/// the same time.
SpaceStudy study_sway_and_room(const ErrorModel& errors, const MountedModel& model);

}  // namespace hitchwright
