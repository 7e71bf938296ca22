#include "geometry/envelope.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hitchwright {
namespace {

/// The table reaches this much beyond the box, and at least so far (rad, 20 deg).
constexpr double beyond = 1.5, least_reach = 20.0 / 180.0 * 3.14159265358979323846;

AngleRange widen(const AngleRange& r) { return {std::min(beyond * r.low, -least_reach), std::max(beyond * r.high, least_reach)}; }

EnvelopeCell make_cell(const DrawnModel& m, const TurnLimits& limits, double yaw, double pitch) {
    const DrivelineState s = find_driveline_state(m, {pitch, 0.0, yaw});
    EnvelopeCell c;
    c.yaw = yaw;
    c.pitch = pitch;
    c.length = s.length;
    c.tractor_angle = s.tractor_angle;
    c.implement_angle = s.implement_angle;
    if (m.has_halves) {
        c.gap_margin = find_gap(m.halves, s.length) - limits.gap;
        c.overlap_margin = find_overlap(m.halves, s.length) - limits.overlap;
    }
    c.joint_margin = std::numeric_limits<double>::infinity();
    if (limits.tractor_angle) c.joint_margin = std::min(c.joint_margin, *limits.tractor_angle - s.tractor_angle);
    if (limits.implement_angle) c.joint_margin = std::min(c.joint_margin, *limits.implement_angle - s.implement_angle);
    return c;
}

/// Zero between two corners of a triangle, where the sign changes.
std::optional<std::array<double, 2>> find_crossing(const EnvelopeCell& a, const EnvelopeCell& b, EnvelopeQuantity q) {
    const double fa = find_margin(a, q), fb = find_margin(b, q);
    if (!std::isfinite(fa + fb) || (fa < 0.0) == (fb < 0.0)) return std::nullopt;
    const double t = fa / (fa - fb);
    return std::array<double, 2>{a.yaw + t * (b.yaw - a.yaw), a.pitch + t * (b.pitch - a.pitch)};
}

/// A triangle has no saddle: its zero is one straight piece or none.
void add_triangle(const EnvelopeCell& a, const EnvelopeCell& b, const EnvelopeCell& c, EnvelopeQuantity q, std::vector<ZeroSegment>& out) {
    std::vector<std::array<double, 2>> ends;
    for (const auto& [u, v] : {std::pair{&a, &b}, std::pair{&b, &c}, std::pair{&c, &a}}) {
        if (const auto p = find_crossing(*u, *v, q)) ends.push_back(*p);
    }
    if (ends.size() == 2) out.push_back({ends[0][0], ends[0][1], ends[1][0], ends[1][1]});
}

}  // namespace

double find_margin(const EnvelopeCell& c, EnvelopeQuantity q) {
    switch (q) {
        case EnvelopeQuantity::gap: return c.gap_margin;
        case EnvelopeQuantity::overlap: return c.overlap_margin;
        case EnvelopeQuantity::joint: return c.joint_margin;
    }
    return c.gap_margin;
}

AttitudeBox find_envelope_range(const DrawnModel& m) { return {widen(m.box.yaw), widen(m.box.pitch), {0.0, 0.0}}; }

Envelope study_envelope(const DrawnModel& m, const TurnLimits& limits, std::size_t yaws, std::size_t pitches) {
    Envelope e;
    e.yaw = find_envelope_range(m).yaw;
    e.pitch = find_envelope_range(m).pitch;
    e.yaws = std::max<std::size_t>(yaws, 2);
    e.pitches = std::max<std::size_t>(pitches, 2);
    e.has_halves = m.has_halves;
    e.has_joint_limit = limits.tractor_angle.has_value() || limits.implement_angle.has_value();
    const auto value = [](const AngleRange& r, std::size_t i, std::size_t n) {
        return i + 1 == n ? r.high : r.low + (r.high - r.low) * static_cast<double>(i) / static_cast<double>(n - 1);
    };
    for (std::size_t j = 0; j < e.pitches; ++j) {
        for (std::size_t i = 0; i < e.yaws; ++i) e.cells.push_back(make_cell(m, limits, value(e.yaw, i, e.yaws), value(e.pitch, j, e.pitches)));
    }
    return e;
}

std::vector<ZeroSegment> find_zero_line(const Envelope& e, EnvelopeQuantity q) {
    std::vector<ZeroSegment> out;
    if (q == EnvelopeQuantity::joint ? !e.has_joint_limit : !e.has_halves) return out;
    for (std::size_t j = 0; j + 1 < e.pitches; ++j) {
        for (std::size_t i = 0; i + 1 < e.yaws; ++i) {
            add_triangle(e.at(i, j), e.at(i + 1, j), e.at(i + 1, j + 1), q, out);
            add_triangle(e.at(i, j), e.at(i + 1, j + 1), e.at(i, j + 1), q, out);
        }
    }
    return out;
}

}  // namespace hitchwright
