// See direct_check.h.
#include "geometry/direct_check.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/shaft_kernel.h"
#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

/// Joint centre outward to the point taped at one machine; empty: not known.
std::optional<double> find_outward(const JointReadings& joint, LengthReference reference) {
    if (reference == LengthReference::joint_centres) return 0.0;
    const Reading& r = reference == LengthReference::shaft_ends ? joint.offset : joint.centre_to_groove;
    return r.known ? std::optional<double>(r.value) : std::nullopt;
}

double find_distance_at(const MountedModel& m, double height, double upper_length, double out_a, double out_b) {
    const KernelPose<double> pose = solve_kernel<double>(m.linkage, height, upper_length);
    const Vec3<double> k = detail::place_in_space(pose, m.ends.implement_joint);
    const Vec3<double> u = detail::turn_in_space(pose, m.ends.input_axis);
    const Vec3<double> from = m.ends.tractor_joint - out_a * m.ends.stub_axis;
    const Vec3<double> v = k + out_b * u - from;
    return std::sqrt(square(v.x) + square(v.y) + square(v.z));
}

bool closes(const MountedModel& m, double height, double upper_length) {
    PlanarLinkage k = m.linkage;
    k.upper_length = upper_length;
    return closes_at(k, height);
}

/// Read less predicted for every reading; empty where it cannot be simulated.
std::vector<std::optional<double>> find_differences(const Setup& s, const MountedModel& m) {
    std::vector<std::optional<double>> out;
    for (const DirectReading& r : s.direct_readings) {
        const std::optional<double> predicted = predict_direct_reading(s, m, r);
        out.push_back(predicted ? std::optional<double>(r.distance.value - *predicted) : std::nullopt);
    }
    return out;
}

void find_bands(const Setup& setup, const MountedModel& model, DirectComparison& c) {
    std::vector<double> squares(c.checks.size()), widest(c.checks.size());
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec&) {
        if (!r.known || r.tolerance <= 0.0) return;
        const double value = r.value;
        std::array<std::vector<std::optional<double>>, 2> at;
        for (std::size_t i = 0; i < 2; ++i) {
            r.value = value + (i == 0 ? -1.0 : 1.0) * r.tolerance;
            const MountedModelResult result = make_mounted_model(moved, &model.pin_decision, RangeSearch::none);
            if (result.linkage_ok && result.model.has_shaft) at[i] = find_differences(moved, result.model);
        }
        r.value = value;
        if (at[0].empty() || at[1].empty()) return;
        for (std::size_t q = 0; q < c.checks.size(); ++q) {
            const std::size_t i = c.checks[q].reading;
            if (!at[0][i] || !at[1][i]) continue;
            const double share = 0.5 * std::fabs(*at[1][i] - *at[0][i]);
            squares[q] += share * share;
            if (share <= widest[q] || key.starts_with("direct_reading")) continue;
            widest[q] = share;
            c.checks[q].widest = key;
        }
    });
    for (std::size_t q = 0; q < c.checks.size(); ++q) c.checks[q].band = std::sqrt(squares[q]);
}

/// True when all readings of `trial` agree within the bands found for the set-up as given.
bool would_agree(const Setup& trial, const DirectComparison& c) {
    const MountedModelResult result = make_mounted_model(trial);
    if (!result.linkage_ok || !result.model.has_shaft) return false;
    const std::vector<std::optional<double>> off = find_differences(trial, result.model);
    return std::all_of(c.checks.begin(), c.checks.end(), [&](const DirectCheck& check) {
        return off[check.reading] && std::fabs(*off[check.reading]) <= direct_doubt * check.band;
    });
}

bool find_one_reading(const Setup& s, DirectComparison& c) {
    const auto wrong = [](const DirectCheck& check) { return !check.agrees; };
    if (c.checks.size() < 3 || std::count_if(c.checks.begin(), c.checks.end(), wrong) != 1) return false;
    const auto at = std::find_if(c.checks.begin(), c.checks.end(), wrong);
    c.cause = DirectCause::one_reading;
    c.subject = s.direct_readings[at->reading].name;
    return true;
}

bool find_other_points(const Setup& s, DirectComparison& c) {
    for (const LengthReference points : {LengthReference::joint_centres, LengthReference::locking_grooves, LengthReference::shaft_ends}) {
        Setup trial = s;
        bool differs = false;
        for (DirectReading& r : trial.direct_readings) {
            differs = differs || r.reference != points;
            r.reference = points;
        }
        if (!differs || !would_agree(trial, c)) continue;
        c.cause = DirectCause::other_points;
        c.points = points;
        return true;
    }
    return false;
}

bool find_other_hole(const Setup& s, const MountedModel& m, DirectComparison& c) {
    Setup trial = s;
    // The link stays as long as it is: a wrong hole goes unnoticed, a link turned to the length it should not have does not.
    trial.choices.upper_link_length = make_reading(m.linkage.upper_length, Origin::computed);
    for (const NamedPoint& pin : s.tractor.upper_link_pins) {
        trial.choices.upper_link_pin = pin.name;
        if (pin.name == s.tractor.upper_link_pins[m.tractor_pin].name || !would_agree(trial, c)) continue;
        c.cause = DirectCause::upper_link_pin;
        c.subject = pin.name;
        return true;
    }
    trial.choices.upper_link_pin = s.choices.upper_link_pin;
    for (const MastPin& pin : s.implement.mast_pins) {
        trial.choices.mast_pin = pin.name;
        if (pin.name == s.implement.mast_pins[m.mast_pin].name || !would_agree(trial, c)) continue;
        c.cause = DirectCause::mast_pin;
        c.subject = pin.name;
        return true;
    }
    return false;
}

}  // namespace

std::optional<double> predict_direct_reading(const Setup& s, const MountedModel& m, const DirectReading& r) {
    const std::optional<double> a = find_outward(s.driveline.tractor_joint, r.reference);
    const std::optional<double> b = find_outward(s.driveline.implement_joint, r.reference);
    if (!a || !b || !m.has_shaft) return std::nullopt;
    const HeightRange lengths = effective_upper_lengths(m);
    const double h = r.ball_height.value;
    if (!closes(m, h, lengths.low) || !closes(m, h, lengths.high)) return std::nullopt;
    const double one = find_distance_at(m, h, lengths.low, *a, *b), other = find_distance_at(m, h, lengths.high, *a, *b);
    return std::clamp(r.distance.value, std::min(one, other), std::max(one, other));
}

DirectComparison compare_direct_readings(const Setup& setup, const MountedModel& model) {
    DirectComparison c;
    const std::vector<std::optional<double>> off = find_differences(setup, model);
    for (std::size_t i = 0; i < off.size(); ++i) {
        if (!off[i]) continue;
        DirectCheck check;
        check.reading = i;
        check.off = *off[i];
        check.predicted = setup.direct_readings[i].distance.value - *off[i];
        c.checks.push_back(check);
    }
    find_bands(setup, model, c);
    for (DirectCheck& check : c.checks) {
        check.agrees = std::fabs(check.off) <= direct_doubt * check.band;
        c.agree = c.agree && check.agrees;
    }
    if (!c.agree && !find_one_reading(setup, c) && !find_other_points(setup, c)) find_other_hole(setup, model, c);
    return c;
}

}  // namespace hitchwright
