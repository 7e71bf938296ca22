// Whether a crossing passes, without its study, and what is left where it does. Of ditch_study.cpp and ditch_search.cpp.
#pragma once

#include <array>
#include <optional>

#include "geometry/ditch_way.h"

namespace hitchwright {

/// Changes between two looks are taken to be no faster than this many times the fastest seen: a rule tried, not a proof.
inline constexpr double ditch_rate_margin = 3.0;

/// Of each quantity, in the order of `ditch_quantities`: least room on the way, m or rad.
using DitchRooms = std::array<double, ditch_quantities.size()>;

inline DitchRooms make_endless_rooms() {
    DitchRooms rooms;
    rooms.fill(1e300);  // as find_room has it
    return rooms;
}

/// A station by its heading and place.
struct DitchPlace {
    Heading heading = Heading::as_given;
    double place = 0.0;  ///< m
};

/// What a look at a crossing tells.
struct DitchPass {
    bool passes = false;
    bool stands = true;  ///< false: it fails because the rig finds no stand somewhere, whatever the limits
    std::optional<DitchRooms> rooms;   ///< where the whole way was looked at
    std::optional<DitchPlace> breaks;  ///< a station that breaks a limit
};

/// As passes_ditch of ditch_study.h. Rooms are those of the stations looked at first.
DitchPass look_whether_passes(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits);

/// The worst station beside a place where another crossing much like this one was worst, looked for at few places. That it
/// breaks no limit says nothing about other places.
struct DitchPeak {
    DitchPlace at;
    bool breaks = false;  ///< it stands and breaks a limit
};
DitchPeak find_peak_near(const DrawnModel& model, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits,
                         const DitchPlace& seen);

}  // namespace hitchwright
