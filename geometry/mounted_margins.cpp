// See mounted_margins.h.
#include "geometry/mounted_margins.h"

#include <algorithm>

#include "geometry/carried_bands.h"
#include "geometry/finding_band.h"

namespace hitchwright {
namespace {

using Found = std::optional<double>;
/// A pitch that the link is set to does not move with the readings: its band is that of rounding, m and rad.
constexpr double no_band = 1e-12;

/// The number a finding is judged by, for moved readings.
using MarginNumber = std::function<Found(const Setup&, const MountedModel&)>;

struct Margin {
    MarginNumber number;
    bool of_margin = false;  ///< the margin itself; else value less limit
    bool change = true;      ///< breaking the limit asks for a change
};

/// `least`: it is held against its shortest.
Margin carry_reach(bool least) {
    return {[least](const Setup& s, const MountedModel& m) -> Found {
        const UpperLinkReadings& u = s.tractor.upper_link;
        return m.linkage.upper_length - (least ? u.length_least : u.length_most).value;
    }};
}

Margin carry_pitch() {
    return {[](const Setup& s, const MountedModel& m) -> Found {
        if (!m.travel.contains(m.working_height)) return std::nullopt;
        const PlanarPose pose = m.float_kind == UpperLinkKind::rigid ? solve_pose(m.linkage, m.working_height) : make_pose_report(s, m, m.working_height).pose;
        return pose.closes ? Found(pose.pitch - m.working_pitch) : std::nullopt;
    },
            false, false};  // its play is finer than any pitch is known: the link is set by eye at work
}

/// A chosen height against the end of the travel beyond which it lies.
Margin carry_height(bool low, bool change, const std::function<double(const Setup&, const MountedModel&)>& height) {
    return {[low, height](const Setup& s, const MountedModel& m) -> Found { return height(s, m) - (low ? m.travel.low : m.travel.high); },
            false, change};
}

Margin carry_float() {
    return {[](const Setup& s, const MountedModel& m) -> Found {
                const std::optional<FloatPose> p = find_float_pose(s, m, m.working_height);
                if (!p || p->state == FloatState::no_pitch) return std::nullopt;
                return std::min(p->pitch_up_left, p->pitch_down_left);
            },
            true};
}

Margin carry_seat(bool lip) {
    return {[lip](const Setup& s, const MountedModel& m) -> Found {
                if (!m.has_coupler) return std::nullopt;
                return m.coupler_fit.above_seat - (lip ? s.parts.coupler.hook_depth.value : 0.0);
            },
            false, false};
}

/// The lowest part with the hitch raised.
Margin carry_top() {
    return {[](const Setup& s, const MountedModel& m) { return find_lowest_height(s, m, m.travel.high, effective_upper_lengths(m).high); }};
}

Margin carry_working(const std::string& part) {
    return {[part](const Setup& s, const MountedModel& m) -> Found {
                if (!m.travel.contains(m.working_height)) return std::nullopt;
                const PoseReport r = make_pose_report(s, m, m.working_height);
                return find_part_height(s, m, part, m.working_height, r.upper_length);
            },
            false, false};
}

std::optional<Margin> find_margin(const Setup& s, const LinkageAnalysis& a, const Finding& f) {
    const bool low = f.limit == a.model.travel.low;
    switch (f.kind) {
        case FindingKind::upper_link_reach: return carry_reach(f.limit == s.tractor.upper_link.length_least.value);
        case FindingKind::working_pitch: return carry_pitch();
        case FindingKind::travel_bound: {
            if (f.subject == "working height") return carry_height(low, true, [](const Setup&, const MountedModel& m) { return m.working_height; });
            const bool lower = f.value == s.choices.working_band_low.value;
            return carry_height(low, false, [lower](const Setup& moved, const MountedModel&) {
                return (lower ? moved.choices.working_band_low : moved.choices.working_band_high).value;
            });
        }
        case FindingKind::floating_link_band: return carry_float();
        case FindingKind::coupler_seat: return carry_seat(f.limit > 0.0);
        case FindingKind::ground_clearance: return f.other == "top" ? carry_top() : carry_working(f.subject);
        default: return std::nullopt;
    }
}

}  // namespace

void carry_mounted_margins(const ErrorModel& errors, const LinkageAnalysis& a, std::vector<Finding>& findings) {
    std::vector<std::pair<Finding*, Margin>> asked;
    for (Finding& f : findings) {
        if (!f.has_limit) continue;
        if (std::optional<Margin> m = find_margin(errors.setup(), a, f)) asked.emplace_back(&f, std::move(*m));
    }
    if (asked.empty()) return;
    Propagation p = propagate_model(errors, a.model.pin_decision, asked.size(), [&](const MovedSetup& moved, const MountedModel& m, std::span<Found> out) {
        for (std::size_t i = 0; i < asked.size(); ++i) {
            if (moved.asks(i)) out[i] = asked[i].second.number(moved.setup, m);
        }
    }, reads_linkage_and(errors, a.model, {"tractor.upper_link.", "implement.point", "implement.ground_contact", "coupler."}));
    for (std::size_t i = 0; i < asked.size(); ++i) {
        auto& [f, margin] = asked[i];
        if (!(p.bands[i].width > no_band)) continue;
        if (margin.of_margin) set_margin_band(*f, std::move(p.bands[i]));
        else set_band(*f, p.bands[i]);
        if (margin.change) doubt_if_close(*f, errors);
    }
}

}  // namespace hitchwright
