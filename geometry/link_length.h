// The upper-link length for a wanted pitch: as a length, in turns, against the thread at hand; and the transport pitch.
//
// At ball height h the ball H is known, so the length follows at once: e = |U - (H + R(pitch) M)|, M the mast pin in
// frame I. It sets that pitch on the machine only if the mast pin lies on the working side of the line ball ->
// upper-link pin; otherwise the linkage would have to pass its dead centre first, and the result says so. Frame T, m
// and rad; pitch positive: rear up. A longer link lowers the rear.
#pragma once

#include <optional>

#include "geometry/closure.h"
#include "geometry/planar_linkage.h"

namespace hitchwright {

/// Upper-link length for a pitch.
struct WantedLength {
    Closure closure{};              ///< of the lower link (height out of reach), or mast/upper_link undefined
    double length = 0.0;            ///< m, pin to pin
    bool past_dead_centre = false;  ///< the mast pin would lie on the other side: not reached by turning the link

    bool operator==(const WantedLength&) const = default;
};

/// Length that gives `pitch` at `ball_height`. `linkage.upper_length` is not used.
WantedLength solve_upper_link_length(const PlanarLinkage& linkage, double ball_height, double pitch);

/// Turns from the present to the wanted length, positive: lengthen. `advance_per_turn`: change of length in one turn of
/// the body, both threads together, m. Empty unless that is positive and all are finite.
std::optional<double> find_turns(double wanted_length, double present_length, double advance_per_turn);

/// A wanted length against the usable range of the link at hand; all m and >= 0.
struct UpperLinkReach {
    bool within = false;
    double too_short_by = 0.0;             ///< the link at its longest still lacks this
    double too_long_by = 0.0;              ///< the link at its shortest is still longer by this
    double thread_left_to_shorten = 0.0;   ///< from the wanted length; 0 when not within
    double thread_left_to_lengthen = 0.0;  ///< from the wanted length; 0 when not within

    bool operator==(const UpperLinkReach&) const = default;
};

/// Checks `wanted_length` against `least` (screwed right in) and `most` (least thread still holding), both usable.
/// Empty for a range upside down or numbers that are not finite.
std::optional<UpperLinkReach> check_upper_link_reach(double wanted_length, double least, double most);

/// Transport pitch: what the implement does when lifted to standard transport height, the link having been set so that
/// the mast is vertical with the lower links level (ISO 730, transport pitch; grade A reading in docs/references.md).
/// The mast is vertical at pitch 0: its height is measured square to the implement frame.
/// Not the pitch at the top with the present link.
struct TransportPitch {
    Closure closure{};              ///< at either height
    double upper_length = 0.0;      ///< m, set with the links level
    double pitch = 0.0;             ///< rad, at transport height
    bool past_dead_centre = false;  ///< the level pose lies on the other side of the dead centre: no pitch given

    bool operator==(const TransportPitch&) const = default;
};

/// Transport pitch of a linkage at `transport_height`, m. `linkage.upper_length` is not used.
TransportPitch solve_transport_pitch(const PlanarLinkage& linkage, double transport_height);

}  // namespace hitchwright
