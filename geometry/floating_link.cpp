// See floating_link.h.
#include "geometry/floating_link.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "geometry/angle.h"
#include "geometry/lower_link.h"
#include "geometry/mast_closure.h"

namespace hitchwright {
namespace {

PitchBand no_band(LinkagePart part, Misfit misfit, double shortfall = 0.0) {
    return {.closure = {part, misfit, shortfall}};
}

/// One end of a band.
struct BandPoint {
    double pitch = 0.0;
    BandEnd end = BandEnd::stop;
};

/// Angle from `from` up to `to`, both on one half turn: rounding must not turn 0 or half a turn round.
double find_swing(double from, double to) {
    const double swing = wrap_angle(to - from);
    return swing < -0.5 * pi ? swing + 2.0 * pi : std::max(swing, 0.0);
}

/// Band between the pitch at the farthest and at the nearest mast pin.
PitchBand make_band(const BandPoint& farthest, const BandPoint& nearest, MastSide side) {
    // Above the line the mast pin comes nearer as the rear rises, below it as the rear falls.
    const BandPoint& low = side == MastSide::above ? farthest : nearest;
    const BandPoint& high = side == MastSide::above ? nearest : farthest;
    return {.closure = {},
            .low = low.pitch,
            .high = low.pitch + find_swing(low.pitch, high.pitch),
            .low_end = low.end,
            .high_end = high.end};
}

/// Where a strap at angle `strap_angle` of frame I carries the upper link: the mast pin in effect, frame I.
Point find_strap_pin(const PlanarLinkage& linkage, const SwingStrap& strap, double strap_angle) {
    return linkage.mast_pin + strap.strap_length * unit_vector(strap_angle);
}

bool is_between_stops(const SwingStrap& strap, double strap_angle) {
    const double beyond = std::fmod(strap_angle - strap.stop_low, 2.0 * pi);
    return (beyond < 0.0 ? beyond + 2.0 * pi : beyond) <= strap.stop_high - strap.stop_low;
}

bool is_sound(const SwingStrap& strap) {
    const double swing = strap.stop_high - strap.stop_low;
    return std::isfinite(strap.link_length) && std::isfinite(swing) && strap.strap_length > 0.0 &&
           strap.link_length > strap.strap_length && swing >= 0.0;
}

bool has_stops(const SwingStrap& strap) { return strap.stop_high - strap.stop_low < 2.0 * pi; }

/// Strap angles at which the strap pin is nearest to the ball, farthest from it, or on a stop: closing at these is
/// closing everywhere between the stops.
std::vector<double> find_strap_extremes(const PlanarLinkage& linkage, const SwingStrap& strap) {
    std::vector<double> angles;
    const double outward = direction(linkage.mast_pin);
    for (const double angle : {outward, outward + pi}) {
        if (is_between_stops(strap, angle)) {
            angles.push_back(angle);
        }
    }
    if (has_stops(strap)) {
        angles.push_back(strap.stop_low);
        angles.push_back(strap.stop_high);
    }
    return angles;
}

Closure find_strap_closure(const PlanarLinkage& linkage, const Point& ball, const SwingStrap& strap) {
    Closure worst;
    for (const double angle : find_strap_extremes(linkage, strap)) {
        const Closure closure =
            solve_mast(ball, linkage.upper_pin, strap.link_length, find_strap_pin(linkage, strap, angle), linkage.side)
                .closure;
        if (closure.misfit == Misfit::undefined) {
            return closure;
        }
        if (closure.shortfall > worst.shortfall) {
            worst = closure;
        }
    }
    return worst;
}

/// Candidates for the ends of the band: in line with the upper link, and on the stops.
std::vector<BandPoint> find_strap_candidates(const PlanarLinkage& linkage, const Point& ball, const SwingStrap& strap) {
    std::vector<BandPoint> points;
    for (const double sign : {1.0, -1.0}) {
        const MastPose pose = solve_mast(ball, linkage.upper_pin, strap.link_length + sign * strap.strap_length,
                                         linkage.mast_pin, linkage.side);
        // Stretched, the strap points from the mast pin to the upper-link pin; folded, away from it.
        const double towards = pose.upper_link_angle + (sign > 0.0 ? pi : 0.0);
        if (pose.closure.closes() && is_between_stops(strap, towards - pose.pitch)) {
            points.push_back({pose.pitch, BandEnd::in_line});
        }
    }
    if (has_stops(strap)) {
        for (const double angle : {strap.stop_low, strap.stop_high}) {
            const MastPose pose = solve_mast(ball, linkage.upper_pin, strap.link_length,
                                             find_strap_pin(linkage, strap, angle), linkage.side);
            points.push_back({pose.pitch, BandEnd::stop});
        }
    }
    return points;
}

}  // namespace

PitchBand find_pitch_band(const PlanarLinkage& linkage, double ball_height, const LinkStops& stops) {
    const LowerLinkPose lower = solve_lower_link(linkage.lower_pivot, linkage.lower_length, ball_height);
    if (!lower.closure.closes()) {
        return {.closure = lower.closure};
    }
    const double mast = std::hypot(linkage.mast_pin.x(), linkage.mast_pin.y());
    const Point back = lower.ball - linkage.upper_pin;
    const double apart = std::hypot(back.x(), back.y());
    const double least = std::abs(apart - mast);
    const double most = apart + mast;
    if (!std::isfinite(most) || mast == 0.0 || apart == 0.0) {
        return no_band(LinkagePart::mast, Misfit::undefined);
    }
    if (!(0.0 <= stops.shortest && stops.shortest <= stops.longest) || !std::isfinite(stops.longest)) {
        return no_band(LinkagePart::upper_link, Misfit::undefined);
    }
    if (stops.longest < least) {
        return no_band(LinkagePart::upper_link, Misfit::too_short, least - stops.longest);
    }
    if (stops.shortest > most) {
        return no_band(LinkagePart::upper_link, Misfit::too_long, stops.shortest - most);
    }
    const auto at = [&](double distance) {
        const double within = std::clamp(distance, least, most);
        const MastPose pose = solve_mast(lower.ball, linkage.upper_pin, within, linkage.mast_pin, linkage.side);
        return BandPoint{pose.pitch, within == distance ? BandEnd::stop : BandEnd::dead_centre};
    };
    return make_band(at(stops.longest), at(stops.shortest), linkage.side);
}

PitchBand find_pitch_band(const PlanarLinkage& linkage, double ball_height, const SwingStrap& strap) {
    const LowerLinkPose lower = solve_lower_link(linkage.lower_pivot, linkage.lower_length, ball_height);
    if (!lower.closure.closes()) {
        return {.closure = lower.closure};
    }
    if (!is_sound(strap)) {
        return no_band(LinkagePart::upper_link, Misfit::undefined);
    }
    const Closure closure = find_strap_closure(linkage, lower.ball, strap);
    if (!closure.closes()) {
        return {.closure = closure};
    }
    std::vector<BandPoint> points = find_strap_candidates(linkage, lower.ball, strap);
    if (points.empty()) {
        return no_band(LinkagePart::upper_link, Misfit::undefined);
    }
    for (BandPoint& point : points) {  // on one turn, whatever the reference
        point.pitch = points.front().pitch + wrap_angle(point.pitch - points.front().pitch);
    }
    const auto [low, high] = std::minmax_element(
        points.begin(), points.end(), [](const BandPoint& a, const BandPoint& b) { return a.pitch < b.pitch; });
    return {.closure = {}, .low = low->pitch, .high = high->pitch, .low_end = low->end, .high_end = high->end};
}

}  // namespace hitchwright
