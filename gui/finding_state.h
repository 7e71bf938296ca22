// Which findings are folded out, and the search for how far readings may be off that somebody asked for.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "geometry/verdict_room.h"

namespace hitchwright {

struct FindingState {
    std::set<std::string> open;  ///< by finding_id
    std::string asked;           ///< finding whose readings are looked at; empty: none
    int revision = -1;           ///< of the results the search belongs to
    std::optional<RoomSearch> search;  ///< as long as there is something to do
    std::vector<ReadingRoom> rooms;    ///< of a search that is done, tightest first
};

}  // namespace hitchwright
