// How far readings may be off before the answer is another one (geometry/verdict_room.h), in words. What a reading may be
// off is rounded down, so that nobody relies on room that is not there.
#pragma once

#include <string>
#include <vector>

#include "geometry/verdict_room.h"
#include "report/text_layout.h"

namespace hitchwright {

/// An amount of a reading, rounded down; a length below 1/8 in in thousandths of an inch, millimetres in tenths.
std::string format_room(double amount, Dimension dimension, UnitSystem units);

/// One side for a sentence about the verdict or, with `of_finding`, about the finding.
struct RoomWords {
    std::string lower, higher;  ///< "may be 1/2 in lower before it says MUST NOT RUN"; "not within 2 1/2 in lower"
    std::string error;          ///< "good to 1/8 in"; empty: no error is known
    bool inside_error = false;  ///< the answer changes within the reading's own error
};
RoomWords describe_room(const ReadingRoom& room, bool of_finding, UnitSystem units);

/// What stands below the list, for the search that was done.
std::string say_how_searched();

/// The part of a report: readings that change the verdict, tightest first, then the count of those that do not.
std::string format_how_far(const std::vector<ReadingRoom>& rooms, Verdict now, const TextStyle& style);

}  // namespace hitchwright
