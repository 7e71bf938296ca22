// See trust_machine.h.
#include "tests/validation/trust_machine.h"

#include <algorithm>
#include <cmath>

#include "geometry/visit_readings.h"
#include "geometry/ways_out.h"

namespace validation {

using namespace hitchwright;

namespace {

/// What rivals an extreme must stand farther off than errors reach: several bands (m, rad).
constexpr double far_length = 0.03, far_angle = 0.05;

/// Where an extreme of the driveline is, over heights and lengths of the link, and whether anything competes with it.
struct Extreme {
    TravelExtreme at;
    bool plain = false;
};

constexpr int steps = 40;

/// True when the greatest value is at an end and falls from there at once, or well inside, and nothing else comes near it.
bool stands_alone(const std::array<double, steps + 1>& v, std::size_t top, double far) {
    constexpr std::size_t inside = 6;
    constexpr double fall = 0.001;  // per step: enough that errors do not turn the slope
    const bool at_end = top == 0 || top == steps;
    if (!at_end && (top < inside || top > steps - inside)) return false;
    if (at_end && v[top] - v[top == 0 ? 1 : steps - 1] < fall) return false;
    for (const int way : {-1, 1}) {
        bool left = false;  // far below already: must stay there; until then falling
        for (int i = static_cast<int>(top) + way; i >= 0 && i <= steps; i += way) {
            const auto k = static_cast<std::size_t>(i);
            const bool below = v[top] - v[k] >= far;
            if (left ? !below : v[k] >= v[static_cast<std::size_t>(i - way)]) return false;
            left = left || below;
        }
        const bool to_end = way < 0 ? top > 0 : top < steps;
        if (to_end && !left) return false;
    }
    return true;
}

template <class F>
Extreme find_greatest(const MountedModel& m, const HeightRange& heights, double far, const F& value) {
        const HeightRange lengths = effective_upper_lengths(m);
    const bool slack = lengths.high > lengths.low;
    Extreme best;
    best.at.value = -1e9;
    for (int k = 0; k <= (slack ? 4 : 0); ++k) {
        const double e = slack ? lengths.low + (lengths.high - lengths.low) * k / 4 : lengths.low;
        std::array<double, steps + 1> v{};
        const int last = heights.high > heights.low ? steps : 0;
        for (int i = 0; i <= last; ++i) {
            const double h = last == 0 ? heights.low : heights.low + (heights.high - heights.low) * i / steps;
            v[static_cast<std::size_t>(i)] = value(solve_kernel<double>(m.linkage, h, e));
        }
        std::size_t top = 0;
        for (std::size_t i = 1; i <= static_cast<std::size_t>(last); ++i) {
            if (v[i] > v[top]) top = i;
        }
        if (v[top] <= best.at.value) continue;
        double place = static_cast<double>(top), peak = v[top];
        if (top > 0 && top < static_cast<std::size_t>(last)) {
            const double bend = v[top - 1] - 2.0 * v[top] + v[top + 1], slope = 0.5 * (v[top + 1] - v[top - 1]);
            place -= slope / bend;
            peak -= 0.5 * slope * slope / bend;
        }
        best.at.value = best.at.bound = peak;
        best.at.height = last == 0 ? heights.low : heights.low + (heights.high - heights.low) * place / steps;
        best.at.upper_length = e;
        best.plain = !slack && last > 0 && stands_alone(v, top, far);
    }
    return best;
}

ShaftExtremes find_extremes(const MountedModel& m, const HeightRange& heights, std::array<bool, 4>& plain) {
    using Pose = KernelPose<double>;
    const auto angle = [](double cosine) { return std::acos(std::clamp(cosine, -1.0, 1.0)); };
    const Extreme least = find_greatest(m, heights, far_length, [&](const Pose& p) { return -find_shaft_state(m.ends, p).length; });
    const Extreme most = find_greatest(m, heights, far_length, [&](const Pose& p) { return find_shaft_state(m.ends, p).length; });
    const Extreme tractor = find_greatest(m, heights, far_angle, [&](const Pose& p) { return angle(find_shaft_state(m.ends, p).cos_tractor_joint); });
    const Extreme implement = find_greatest(m, heights, far_angle, [&](const Pose& p) { return angle(find_shaft_state(m.ends, p).cos_implement_joint); });
    plain = {least.plain, most.plain, tractor.plain, implement.plain};
    ShaftExtremes e;
    e.shortest = least.at;
    e.shortest.value = e.shortest.bound = -least.at.value;
    e.longest = most.at;
    e.tractor_angle = tractor.at;
    e.implement_angle = implement.at;
    return e;
}

}  // namespace

void set_usual_tolerances(Setup& s) {
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
}

std::optional<Seen> look_at(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s, nullptr, RangeSearch::none);
    if (!r.linkage_ok || !r.model.has_halves) return std::nullopt;
    Seen seen;
    seen.linkage.model = r.model;
    const MountedModel& m = seen.linkage.model;
    seen.linkage.box = {m.travel, effective_upper_lengths(m)};
    std::array<bool, 4> plain{}, in_work{};
    seen.shaft.travel = find_extremes(m, m.travel, plain);
    seen.shaft.work = find_extremes(m, m.working_band, in_work);
    seen.shaft.limits = make_cut_limits(s.rules);
    const ShaftExtremes& t = seen.shaft.travel;
    const double longer = std::max(m.halves.tube_a, m.halves.tube_b);
    const double needed = std::max(seen.shaft.limits.overlap_least, seen.shaft.limits.overlap_fraction * longer);
    seen.number = {find_gap(m.halves, t.shortest.value), find_overlap(m.halves, t.longest.value) - needed, t.tractor_angle.value,
                   t.implement_angle.value, t.shortest.value, t.longest.value};
    // An overlap needs a share of the longer tube: which one that is may change too.
    const bool tubes_apart = std::fabs(m.halves.tube_a - m.halves.tube_b) > 0.02;
    seen.plain = {plain[0], plain[1] && tubes_apart, plain[2], plain[3], plain[0], plain[1]};
    return seen;
}

}  // namespace validation
