// See cut_line.h.
#include "geometry/cut_line.h"

#include <algorithm>
#include <cmath>

#include "geometry/cut_set.h"

namespace hitchwright {
namespace {

/// Largest shortening that keeps one bound. Along the line the longer half loses x, the other max(0, x - d).
double find_most(const OverlapBound& limit, double difference) {
    const double weight_long = difference >= 0.0 ? limit.weight_a : limit.weight_b;
    const double alone = limit.bound / weight_long;
    const double d = std::fabs(difference);
    if (alone <= d) return alone;
    const double weight_short = difference >= 0.0 ? limit.weight_b : limit.weight_a;
    return (limit.bound + weight_short * d) / (weight_long + weight_short);
}

}  // namespace

CutPair find_cut_at(const TelescopingHalves& halves, double shortening) {
    const double difference = halves.tube_a - halves.tube_b;
    return {std::max(0.0, shortening - std::max(0.0, -difference)),
            std::max(0.0, shortening - std::max(0.0, difference))};
}

double find_shortening(const CutPair& cut) { return std::max(cut.a, cut.b); }

bool is_on_cut_line(const TelescopingHalves& halves, const CutPair& cut) {
    const CutPair on = find_cut_at(halves, find_shortening(cut));
    return std::fabs(on.a - cut.a) <= cut_tolerance && std::fabs(on.b - cut.b) <= cut_tolerance;
}

TelescopingHalves undo_cut(const TelescopingHalves& halves, const CutPair& cut) {
    TelescopingHalves whole = halves;
    whole.tube_a += cut.a;
    whole.tube_b += cut.b;
    whole.closed_length = find_root_length(halves) + std::max(whole.tube_a, whole.tube_b);
    return whole;
}

GuardResult check_guard_after_cut(const TelescopingHalves& steel, const TelescopingHalves& guard, const CutPair& cut,
                                  const ShaftTravel& travel) {
    const CutHalves steel_left = cut_halves(steel, cut), guard_left = cut_halves(guard, cut);
    if (steel_left.status == CutStatus::ok && guard_left.status == CutStatus::ok)
        return check_guard_tubes(steel_left.halves, guard_left.halves, travel.shortest, travel.longest);
    // More comes off than a guard tube has: nothing is left to meet, and the overlap falls on below 0.
    GuardResult r = check_guard_tubes(steel, guard, travel.shortest, travel.longest);
    if (r.status != HalvesStatus::ok) return r;
    r.overlap_at_longest -= cut.a + cut.b;
    r.gap_at_shortest += std::max(guard.tube_a, guard.tube_b) - std::max({guard.tube_a - cut.a, guard.tube_b - cut.b, 0.0});
    return r;
}

CutInterval find_cut_interval(const TelescopingHalves& halves, const ShaftTravel& travel, const CutLimits& limits) {
    CutInterval r;
    r.least = std::max(0.0, halves.closed_length - (travel.shortest - limits.gap_required));
    r.longest = std::max(halves.tube_a, halves.tube_b);
    r.most = r.longest;
    for (const OverlapBound& bound : make_overlap_bounds(halves, travel, limits))
        r.most = std::min(r.most, find_most(bound, halves.tube_a - halves.tube_b));
    r.any = r.least <= r.most + cut_tolerance;
    if (r.any) r.most = std::max(r.most, r.least);
    return r;
}

CutPlace find_cut_place(const CutInterval& interval, double shortening) {
    if (shortening < interval.least - cut_tolerance) return CutPlace::too_little_gap;
    return shortening > interval.most + cut_tolerance ? CutPlace::too_little_overlap : CutPlace::inside;
}

double snap_into(const CutInterval& interval, double wanted, const Mark& mark) {
    const double first = round_up_to_mark(interval.least, mark), last = round_down_to_mark(interval.most, mark);
    if (first > last + cut_tolerance) return 0.5 * (interval.least + interval.most);
    return std::clamp(std::round(wanted / mark.step) * mark.step, first, last);
}

}  // namespace hitchwright
