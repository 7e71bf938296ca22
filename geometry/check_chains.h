// Check chains, or stabilisers that slide: how far the lower hitch points can sway before one comes taut.
//
// A chain runs from B on the tractor to C on the lower link's line: C = P + along l. At a height and tilt of the hitch
//   F(s) = |B - C|^2 - length^2
// has a zero at the sway s where that chain is taut. The chains mirror each other, so that centred one tightens as the hitch
// moves to the right and the other as it moves to the left. A limit on the wrong side of the middle: that chain is taut before
// the hitch is centred, and where the right limit lies left of the left one the chains stop the lift. Frame T, m.
#pragma once

#include <optional>

#include "geometry/lift_rods.h"

namespace hitchwright {

struct CheckChains {
    double anchor_x = 0.0, anchor_half_spread = 0.0, anchor_z = 0.0;
    double pin_along = 0.0;  ///< along the lower link from its pivot
    double left_length = 0.0, right_length = 0.0;  ///< taut
};

/// Sways at which a chain is taut; a chain that does not come taut within the linkage's reach sets no limit.
struct SwayLimits {
    std::optional<double> left, right;  ///< m, to the right positive
};

/// F of one chain.
template <class T>
T find_chain_excess(const SpatialLinkage& k, const CheckChains& chains, const Vec3<T>& hitch, const Vec3<T>& right_axis,
                    TractorSide side) {
    const double sign = find_side_sign(side), length = side == TractorSide::right ? chains.right_length : chains.left_length;
    const Vec3<T> ball = find_ball(k, hitch, right_axis, side);
    const Vec3<T> pivot{T(k.side_view.lower_pivot.x()), T(sign * k.half_spread_at_pivot), T(k.side_view.lower_pivot.y())};
    const Vec3<T> pin = pivot + T(chains.pin_along / k.lower_length) * (ball - pivot);
    return square(pin.x - chains.anchor_x) + square(pin.y - sign * chains.anchor_half_spread) + square(pin.z - chains.anchor_z) -
           length * length;
}

/// Both limits at a height and tilt. Nothing where the lower links do not reach the centred place.
SwayLimits find_sway_limits(const SpatialLinkage& linkage, const CheckChains& chains, double height, double tilt_sine);

/// Which chain comes taut as the hitch moves to that side; nothing where neither tightens.
std::optional<TractorSide> find_limiting_chain(const SpatialLinkage& linkage, const CheckChains& chains, double height,
                                               TractorSide towards);

/// The sway at which `chain` is taut over heights and tilts of a box, with slopes (variables 0 and 2), near the limit in the
/// box's middle; whole lines where it cannot be bounded. box[1] and box[3] do not matter.
SpatialJet enclose_sway_limit(const SpatialLinkage& linkage, const CheckChains& chains, TractorSide chain, const SpatialBox& box);

}  // namespace hitchwright
