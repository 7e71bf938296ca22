#include "geometry/cut_set.h"

#include <cmath>
#include <cstddef>

namespace hitchwright {

namespace {

// The part of the polygon with weight_a c_a + weight_b c_b <= bound; keeps the order and the first corner.
std::vector<CutPair> clip(const std::vector<CutPair>& corners, const OverlapBound& limit) {
    std::vector<CutPair> kept;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const CutPair& p = corners[i];
        const CutPair& q = corners[(i + 1) % corners.size()];
        const double excess_p = limit.weight_a * p.a + limit.weight_b * p.b - limit.bound;
        const double excess_q = limit.weight_a * q.a + limit.weight_b * q.b - limit.bound;
        if (excess_p <= 0.0) {
            kept.push_back(p);
        }
        if ((excess_p < 0.0 && excess_q > 0.0) || (excess_p > 0.0 && excess_q < 0.0)) {
            const double share = excess_p / (excess_p - excess_q);
            kept.push_back({p.a + share * (q.a - p.a), p.b + share * (q.b - p.b)});
        }
    }
    return kept;
}

bool same_corner(const CutPair& p, const CutPair& q) {
    return std::abs(p.a - q.a) <= cut_tolerance && std::abs(p.b - q.b) <= cut_tolerance;
}

}  // namespace

bool asks_overlap_in_work(const ShaftTravel& travel, const CutLimits& limits) {
    return travel.longest_in_work > 0.0 && limits.overlap_fraction_in_work > 0.0;
}

std::vector<OverlapBound> make_overlap_bounds(const TelescopingHalves& halves, const ShaftTravel& travel,
                                              const CutLimits& limits) {
    const TelescopingHalves& h = halves;
    const double f = limits.overlap_fraction;
    const double room = find_root_length(h) + h.tube_a + h.tube_b - travel.longest;
    std::vector<OverlapBound> bounds{{1.0, 1.0, room - limits.overlap_least},
                                     {1.0 - f, 1.0, room - f * h.tube_a},
                                     {1.0, 1.0 - f, room - f * h.tube_b}};
    if (asks_overlap_in_work(travel, limits)) {
        const double w = limits.overlap_fraction_in_work;
        const double room_in_work = room + travel.longest - travel.longest_in_work;
        bounds.push_back({1.0 - w, 1.0, room_in_work - w * h.tube_a});
        bounds.push_back({1.0, 1.0 - w, room_in_work - w * h.tube_b});
    }
    return bounds;
}

std::vector<CutPair> find_admissible_set(const TelescopingHalves& halves, const ShaftTravel& travel,
                                         const CutLimits& limits, const CutPair& least) {
    std::vector<CutPair> corners = {
        least, {halves.tube_a, least.b}, {halves.tube_a, halves.tube_b}, {least.a, halves.tube_b}};
    for (const OverlapBound& limit : make_overlap_bounds(halves, travel, limits)) {
        corners = clip(corners, limit);
    }
    std::vector<CutPair> distinct = {least};
    for (const CutPair& corner : corners) {
        if (!same_corner(corner, distinct.back()) && !same_corner(corner, least)) {
            distinct.push_back(corner);
        }
    }
    return distinct;
}

}  // namespace hitchwright
