// Findings about add-on parts; see mounted_findings.h.
#include <algorithm>
#include <cmath>
#include <string>

#include "geometry/mounted_findings.h"

namespace hitchwright {
namespace {

const Limit arithmetic{0.0, true, Grade::D, "closure of the linkage"};

const char* seat_word(MastSeat seat) {
    switch (seat) {
        case MastSeat::held: return "held";
        case MastSeat::below_seat: return "below_seat";
        case MastSeat::above_lip: return "above_lip";
        case MastSeat::beside: return "beside";
    }
    return "beside";
}

/// Mast pins that the coupler would hold.
void add_pins_that_fit(const Setup& s, const std::string& present, Finding& f) {
    for (const MastPin& p : s.implement.mast_pins) {
        const bool other = p.height.known && p.name != present;
        if (other && fit_coupler(s.parts.coupler, p).seat == MastSeat::held) {
            f.remedies.push_back({RemedyKind::other_mast_pin, 0.0, 0.0, p.name});
        }
    }
}

Finding check_seat(const Setup& s, const MountedModel& m) {
    const Coupler& c = s.parts.coupler;
    const CouplerFit& fit = m.coupler_fit;
    const MastPin& pin = s.implement.mast_pins[m.mast_pin];
    Finding f;
    f.kind = FindingKind::coupler_seat;
    f.subject = pin.name;
    f.other = seat_word(fit.seat);
    f.rule = arithmetic;
    f.value = fit.above_seat;
    f.has_limit = true;
    f.margin = fit.above_seat;
    if (c.hook_depth.known && c.hook_depth.value - fit.above_seat < f.margin) {
        f.limit = c.hook_depth.value;
        f.margin = f.limit - fit.above_seat;
    }
    f.terms = {{"tilt", fit.tilt, Dimension::angle, "pitch of the implement less that of the coupler"},
               {"error", fit.error, Dimension::length, "error of hook and mast readings together"},
               {"hook_height", c.hook_height.value, Dimension::length, "top hook above the lower hooks"}};
    f.cautions = {Caution::never_under_raised};
    if (fit.seat != MastSeat::held) {
        f.severity = Severity::forbids;
        add_pins_that_fit(s, pin.name, f);
        f.remedies.push_back({RemedyKind::match_part, c.hook_height.value, 0.0, "a mast pin at the height of the coupler's top hook"});
        return f;
    }
    // A pin above its seat is held only as far as the hook is deep: without that nobody knows.
    if (!c.hook_depth.known && fit.above_seat > fit.error) {
        f.severity = Severity::unknown;
        f.other = "depth_unknown";
        f.band = 0.0;  // for want of a reading, not for its error
        f.has_limit = false;
        f.margin = 0.0;
        f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, "coupler.hook_depth"});
        return f;
    }
    f.severity = f.margin < 0.0 ? Severity::watch : Severity::good;
    return f;
}

Finding check_extender(const Setup& s, const MountedModel& m) {
    Finding f;
    f.kind = FindingKind::link_extender;
    f.severity = Severity::watch;
    f.subject = s.parts.link_extender.name.empty() ? "link extender" : s.parts.link_extender.name;
    f.other = m.travel_moved_by_extender ? "taped" : "lift_arm";
    f.value = s.parts.link_extender.length.value;
    f.rule = arithmetic;
    f.terms = {{"lift_share", m.lower_length_own / m.linkage.lower_length, Dimension::ratio,
                "lift at the balls as a share of that without it, the links at the same angle"}};
    f.cautions = {Caution::weigh_before_relying};
    return f;
}

Finding check_rod_hole(const Setup& s, const MountedModel& m) {
    Finding f;
    f.kind = FindingKind::lift_rod_hole;
    f.severity = Severity::watch;
    f.subject = m.rod_hole;
    f.other = s.tractor.lift_rod_holes[m.rod_holes.taped].name;
    f.value = s.tractor.lift_rod_holes[m.rod_holes.chosen].pin_along_link.value;
    f.rule = arithmetic;
    const HeightRange& share = m.lift_share_in_hole;
    if (share.low > 0.0) {
        f.terms.push_back({"lift_share_low", share.low, Dimension::ratio,
                           "lift at the balls as a share of that in the other hole, at the lowest position of the arm"});
    }
    if (share.high > 0.0) {
        f.terms.push_back({"lift_share_top", share.high, Dimension::ratio,
                           "lift at the balls as a share of that in the other hole, at the highest position of the arm"});
    }
    f.cautions = {Caution::weigh_before_relying};
    return f;
}

}  // namespace

std::vector<Finding> check_parts(const Setup& s, const MountedModel& m) {
    std::vector<Finding> out;
    if (m.has_coupler) out.push_back(check_seat(s, m));
    if (s.parts.link_extender.fitted && m.linkage.lower_length > m.lower_length_own) out.push_back(check_extender(s, m));
    if (m.travel_moved_to_hole) out.push_back(check_rod_hole(s, m));
    return out;
}

}  // namespace hitchwright
