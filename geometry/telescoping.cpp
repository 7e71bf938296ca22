#include "geometry/telescoping.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {

namespace {

// Two tubes and a closed overlap are three tape readings of 1/16 in: they may differ by about 3 mm (1/8 in).
constexpr double overlap_agreement = 0.003;

// m; a tube equal to the closed shaft to rounding is not longer than it.
constexpr double rounding_length = 1e-9;

bool finite_or_unknown(const std::optional<double>& value) { return !value || std::isfinite(*value); }

bool positive_or_unknown(const std::optional<double>& value) { return !value || *value > 0.0; }

// Overlap when closed, as measured or from the table's longest length.
std::optional<double> find_closed_overlap(const HalvesReadings& readings) {
    if (readings.overlap_closed) {
        return readings.overlap_closed;
    }
    if (readings.longest_usable) {
        return 2.0 * (*readings.longest_usable - readings.closed_length);
    }
    return std::nullopt;
}

HalvesStatus check_readings(const HalvesReadings& r) {
    if (!std::isfinite(r.closed_length) || !finite_or_unknown(r.tube_a) || !finite_or_unknown(r.tube_b) ||
        !finite_or_unknown(r.overlap_closed) || !finite_or_unknown(r.longest_usable)) {
        return HalvesStatus::not_finite;
    }
    if (r.closed_length <= 0.0 || !positive_or_unknown(r.tube_a) || !positive_or_unknown(r.tube_b) ||
        !positive_or_unknown(r.overlap_closed)) {
        return HalvesStatus::length_not_positive;
    }
    if (r.longest_usable && *r.longest_usable <= r.closed_length) {
        return HalvesStatus::longest_not_beyond_closed;
    }
    if (r.longest_usable && r.tube_a && r.tube_b && *r.longest_usable >= r.closed_length + std::min(*r.tube_a, *r.tube_b)) {
        return HalvesStatus::longest_beyond_tubes;
    }
    if (r.longest_usable && r.overlap_closed && *r.longest_usable >= r.closed_length + *r.overlap_closed) {
        return HalvesStatus::longest_beyond_tubes;
    }
    if (r.tube_a && r.tube_b && r.overlap_closed &&
        std::abs(std::min(*r.tube_a, *r.tube_b) - *r.overlap_closed) > overlap_agreement) {
        return HalvesStatus::overlap_disagrees;
    }
    return HalvesStatus::ok;
}

// One tube known: the other is the closed overlap, if that is known, else as long.
void assume_other_tube(const HalvesReadings& readings, AssumedHalves& result) {
    const double known = readings.tube_a ? *readings.tube_a : *readings.tube_b;
    const std::optional<double> overlap = find_closed_overlap(readings);
    double other = known;
    result.assumption = HalvesAssumption::other_tube_equal;
    if (overlap) {
        result.assumption = readings.overlap_closed ? HalvesAssumption::other_tube_from_overlap
                                                    : HalvesAssumption::other_tube_from_longest;
        other = *overlap;
        // The closed overlap is the shorter tube, so a known tube cannot be shorter, but for a tape's error. A known
        // tube that IS the shorter one leaves the longer open: it is then taken as equal.
        if (other > known + overlap_agreement) {
            result.status = HalvesStatus::overlap_longer_than_tube;
            return;
        }
        other = std::min(other, known);
        if (known - other <= overlap_agreement) result.assumption = HalvesAssumption::other_tube_equal;
    }
    result.halves = {readings.closed_length, readings.tube_a.value_or(other), readings.tube_b.value_or(other)};
}

void assume_equal_halves(const HalvesReadings& readings, AssumedHalves& result) {
    const std::optional<double> overlap = find_closed_overlap(readings);
    if (!overlap) {
        result.status = HalvesStatus::nothing_known;
        return;
    }
    result.assumption =
        readings.overlap_closed ? HalvesAssumption::equal_halves : HalvesAssumption::equal_halves_from_longest;
    result.halves = {readings.closed_length, *overlap, *overlap};
}

}  // namespace

HalvesStatus check_halves(const TelescopingHalves& halves) {
    if (!std::isfinite(halves.closed_length) || !std::isfinite(halves.tube_a) || !std::isfinite(halves.tube_b)) {
        return HalvesStatus::not_finite;
    }
    if (halves.closed_length <= 0.0 || halves.tube_a <= 0.0 || halves.tube_b <= 0.0) {
        return HalvesStatus::length_not_positive;
    }
    if (find_root_length(halves) < -rounding_length) {
        return HalvesStatus::tube_longer_than_shaft;
    }
    return HalvesStatus::ok;
}

double find_root_length(const TelescopingHalves& halves) {
    return halves.closed_length - std::max(halves.tube_a, halves.tube_b);
}

double find_overlap(const TelescopingHalves& halves, double length) {
    return halves.closed_length + std::min(halves.tube_a, halves.tube_b) - length;
}

double find_gap(const TelescopingHalves& halves, double length) { return length - halves.closed_length; }

bool bottoms_out(const TelescopingHalves& halves, double length, double gap) { return find_gap(halves, length) < gap; }

CutHalves cut_halves(const TelescopingHalves& halves, const CutPair& cut) {
    CutHalves result;
    result.halves = halves;
    if (!std::isfinite(cut.a) || !std::isfinite(cut.b)) {
        return result;
    }
    if (cut.a < 0.0 || cut.b < 0.0) {
        result.status = CutStatus::negative;
        return result;
    }
    if (cut.a >= halves.tube_a || cut.b >= halves.tube_b) {
        result.status = CutStatus::whole_tube;
        return result;
    }
    result.status = CutStatus::ok;
    result.halves.tube_a -= cut.a;
    result.halves.tube_b -= cut.b;
    result.halves.closed_length = find_root_length(halves) + std::max(result.halves.tube_a, result.halves.tube_b);
    return result;
}

CutPair find_cuts_for_closed_length(const TelescopingHalves& halves, double target_closed_length) {
    const double roots = find_root_length(halves);
    return {std::max(0.0, roots + halves.tube_a - target_closed_length),
            std::max(0.0, roots + halves.tube_b - target_closed_length)};
}

AssumedHalves make_halves(const HalvesReadings& readings) {
    AssumedHalves result;
    result.status = check_readings(readings);
    if (result.status != HalvesStatus::ok) {
        return result;
    }
    if (readings.tube_a && readings.tube_b) {
        result.halves = {readings.closed_length, *readings.tube_a, *readings.tube_b};
    } else if (readings.tube_a || readings.tube_b) {
        assume_other_tube(readings, result);
    } else {
        assume_equal_halves(readings, result);
    }
    if (result.status == HalvesStatus::ok) {
        result.status = check_halves(result.halves);
    }
    if (result.status != HalvesStatus::ok) {
        result.halves = TelescopingHalves{};
    }
    return result;
}

AssumedHalves make_guard_halves(double guard_closed_length, double overlap_with_shaft_closed,
                                double shaft_closed_length) {
    HalvesReadings readings;
    readings.closed_length = guard_closed_length;
    readings.overlap_closed = overlap_with_shaft_closed + (shaft_closed_length - guard_closed_length);
    return make_halves(readings);
}

GuardResult check_guard_tubes(const TelescopingHalves& steel, const TelescopingHalves& guard, double shortest,
                              double longest) {
    GuardResult result;
    result.status = check_halves(guard);
    if (result.status == HalvesStatus::ok && !(std::isfinite(shortest) && std::isfinite(longest))) {
        result.status = HalvesStatus::not_finite;
    }
    if (result.status != HalvesStatus::ok) {
        return result;
    }
    result.bottom_before_steel = guard.closed_length > steel.closed_length + rounding_length;
    result.gap_at_shortest = find_gap(guard, shortest);
    result.overlap_at_longest = find_overlap(guard, longest);
    return result;
}

}  // namespace hitchwright
