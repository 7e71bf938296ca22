// Whether a pose of the linkage closes; if not, which part is short or long and by how much.
//
// A pose that cannot exist is a normal result, not an error: the part and the shortfall are what the user can act on.
#pragma once

#include "geometry/circle_circle.h"

namespace hitchwright {

/// Part of the three-point linkage a failed closure is charged to.
enum class LinkagePart { none, lower_link, upper_link, lift_arm, lift_rod, mast };

/// What is wrong with that part.
enum class Misfit {
    none,       ///< the pose closes
    too_short,  ///< the part would have to be longer by the shortfall
    too_long,   ///< the part would have to be shorter by the shortfall
    undefined,  ///< no single pose: a length is zero, negative or not finite, or pins coincide
};

/// Outcome of a closure.
struct Closure {
    LinkagePart part = LinkagePart::none;
    Misfit misfit = Misfit::none;
    double shortfall = 0.0;  ///< m, positive for too_short and too_long, else 0

    constexpr bool closes() const { return misfit == Misfit::none; }
    bool operator==(const Closure&) const = default;
};

/// Closure of a pair of bars that should meet: `part` of length `part_length` and another of `other_length` (m).
/// Apart: the part is too short. One inside the other: the part is too long if it is the longer, else too short.
constexpr Closure find_closure(const CircleIntersection& meeting, LinkagePart part, double part_length,
                               double other_length) {
    switch (meeting.miss) {
        case Miss::none:
            return {};
        case Miss::apart:
            return {part, Misfit::too_short, meeting.shortfall};
        case Miss::inside:
            return {part, part_length > other_length ? Misfit::too_long : Misfit::too_short, meeting.shortfall};
        case Miss::undefined:
            break;
    }
    return {part, Misfit::undefined, 0.0};
}

}  // namespace hitchwright
