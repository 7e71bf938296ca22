// See check_chains.h.
#include "geometry/check_chains.h"

#include <algorithm>
#include <cmath>

#include "geometry/scalar_zero.h"

namespace hitchwright {
namespace {

constexpr double probe = 1e-6;        ///< m, step of a first slope
constexpr double sway_end = 1e-13;    ///< m
constexpr double most_sway = 1.0;     ///< m, beyond any linkage
constexpr double taut_error = 1e-10;  ///< m: what may be left of a chain's length
constexpr double flat_slope = 1e-6;   ///< m: a chain whose square of length changes less per m of sway sets no limit

std::optional<double> find_excess(const SpatialLinkage& k, const CheckChains& chains, TractorSide chain, double h, double s, double tilt) {
    const SpatialSolution p = solve_spatial_pose(k, {h, s, tilt});
    if (!p.reached) return std::nullopt;
    return find_chain_excess(k, chains, p.pose.hitch, p.pose.right, chain);
}

/// dF/ds of one chain, centred.
std::optional<double> find_tightening(const SpatialLinkage& k, const CheckChains& chains, TractorSide chain, double h, double tilt) {
    const std::optional<double> left = find_excess(k, chains, chain, h, -probe, tilt), right = find_excess(k, chains, chain, h, probe, tilt);
    if (!left || !right) return std::nullopt;
    return (*right - *left) / (2.0 * probe);
}

std::optional<double> find_limit(const SpatialLinkage& k, const CheckChains& chains, TractorSide chain, double h, double tilt) {
    const auto f = [&](double s) { return find_excess(k, chains, chain, h, s, tilt); };
    const std::optional<double> sway = find_scalar_zero(f, {0.0, probe, sway_end, -most_sway, most_sway});
    if (!sway) return std::nullopt;
    // A search that is stopped by the links' reach ends there, with the chain still slack.
    const double length = chain == TractorSide::right ? chains.right_length : chains.left_length;
    const std::optional<double> left_over = f(*sway);
    return left_over && std::fabs(*left_over) <= 2.0 * length * taut_error ? sway : std::nullopt;
}

}  // namespace

std::optional<TractorSide> find_limiting_chain(const SpatialLinkage& k, const CheckChains& chains, double h, TractorSide towards) {
    for (const TractorSide chain : {TractorSide::left, TractorSide::right}) {
        const std::optional<double> slope = find_tightening(k, chains, chain, h, 0.0);
        if (slope && find_side_sign(towards) * *slope > flat_slope) return chain;
    }
    return std::nullopt;
}

SwayLimits find_sway_limits(const SpatialLinkage& k, const CheckChains& chains, double h, double tilt) {
    const auto limit = [&](TractorSide towards) -> std::optional<double> {
        const std::optional<TractorSide> chain = find_limiting_chain(k, chains, h, towards);
        return chain ? find_limit(k, chains, *chain, h, tilt) : std::nullopt;
    };
    return {limit(TractorSide::left), limit(TractorSide::right)};
}

SpatialJet enclose_sway_limit(const SpatialLinkage& k, const CheckChains& chains, TractorSide chain, const SpatialBox& box) {
    SpatialJet unknown(whole_line());
    unknown.d.fill(whole_line());
    const std::optional<double> centre = find_limit(k, chains, chain, box[0].middle(), box[2].middle());
    if (!centre) return unknown;
    const auto excess = [&](const Interval& sway) {
        const SpatialBox at{box[0], sway, box[2], Interval(box[3].middle())};
        const HitchEnclosure<SpatialJet> h = enclose_hitch(k, at);
        SpatialJet f = find_chain_excess(k, chains, h.hitch, h.axis.along, chain);
        const HitchEnclosure<Interval> m = enclose_hitch_point(k, detail::find_middle(at));
        narrow_by_mean(f, find_chain_excess(k, chains, m.hitch, m.axis.along, chain), at);
        return f;
    };
    const JetRoot<SpatialJet> sway = enclose_jet_root(*centre, 1, excess);
    return sway.proven ? sway.root : unknown;
}

}  // namespace hitchwright
