#include "geometry/finding.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(Finding);

std::string_view verdict_word(Verdict v) {
    switch (v) {
        case Verdict::fits: return "fits";
        case Verdict::fits_after_change: return "fits_after_change";
        case Verdict::must_not_run: return "must_not_run";
        case Verdict::too_close_to_call: return "too_close_to_call";
        case Verdict::not_known: return "not_known";
    }
    return "not_known";
}

std::string_view severity_word(Severity s) {
    switch (s) {
        case Severity::forbids: return "forbids";
        case Severity::unknown: return "unknown";
        case Severity::change: return "change";
        case Severity::condition: return "condition";
        case Severity::watch: return "watch";
        case Severity::good: return "good";
    }
    return "unknown";
}

std::string_view finding_word(FindingKind k) {
    switch (k) {
        case FindingKind::missing_reading: return "missing_reading";
        case FindingKind::linkage_cannot_close: return "linkage_cannot_close";
        case FindingKind::upper_link_reach: return "upper_link_reach";
        case FindingKind::working_pitch: return "working_pitch";
        case FindingKind::pitch_range: return "pitch_range";
        case FindingKind::dead_centre_in_travel: return "dead_centre_in_travel";
        case FindingKind::travel_bound: return "travel_bound";
        case FindingKind::gap_at_shortest: return "gap_at_shortest";
        case FindingKind::overlap_at_longest: return "overlap_at_longest";
        case FindingKind::overlap_in_work: return "overlap_in_work";
        case FindingKind::separation: return "separation";
        case FindingKind::cut: return "cut";
        case FindingKind::no_cut_works: return "no_cut_works";
        case FindingKind::joint_angle_in_work: return "joint_angle_in_work";
        case FindingKind::joint_angle_over_travel: return "joint_angle_over_travel";
        case FindingKind::joint_angle_watch: return "joint_angle_watch";
        case FindingKind::non_uniformity: return "non_uniformity";
        case FindingKind::guard_gap: return "guard_gap";
        case FindingKind::guard_overlap: return "guard_overlap";
        case FindingKind::clearance: return "clearance";
        case FindingKind::ground_clearance: return "ground_clearance";
        case FindingKind::floating_link_band: return "floating_link_band";
        case FindingKind::floating_link_slot: return "floating_link_slot";
        case FindingKind::hidden_pins: return "hidden_pins";
        case FindingKind::direct_reading: return "direct_reading";
        case FindingKind::direct_travel: return "direct_travel";
        case FindingKind::model_fit: return "model_fit";
        case FindingKind::coupler_seat: return "coupler_seat";
        case FindingKind::link_extender: return "link_extender";
        case FindingKind::lift_rod_hole: return "lift_rod_hole";
        case FindingKind::side_level: return "side_level";
        case FindingKind::levelling_rod: return "levelling_rod";
        case FindingKind::lift_rods_set: return "lift_rods_set";
        case FindingKind::sway: return "sway";
        case FindingKind::check_chain: return "check_chain";
        case FindingKind::tyre_room: return "tyre_room";
        case FindingKind::side_motion: return "side_motion";
        case FindingKind::other_tyres: return "other_tyres";
        case FindingKind::category_match: return "category_match";
        case FindingKind::pin_match: return "pin_match";
        case FindingKind::span_match: return "span_match";
        case FindingKind::mast_match: return "mast_match";
        case FindingKind::pto_type_match: return "pto_type_match";
        case FindingKind::pto_speed_match: return "pto_speed_match";
        case FindingKind::pto_spline_match: return "pto_spline_match";
        case FindingKind::pto_rotation_match: return "pto_rotation_match";
        case FindingKind::driveline_power: return "driveline_power";
        case FindingKind::drawbar_length: return "drawbar_length";
        case FindingKind::drawbar_height: return "drawbar_height";
        case FindingKind::drawbar_drop: return "drawbar_drop";
        case FindingKind::drawbar_load: return "drawbar_load";
        case FindingKind::hitch_play: return "hitch_play";
        case FindingKind::turn_limit: return "turn_limit";
        case FindingKind::articulation_angle: return "articulation_angle";
        case FindingKind::ditch_crossing: return "ditch_crossing";
        case FindingKind::lift_capacity: return "lift_capacity";
        case FindingKind::load_rise: return "load_rise";
        case FindingKind::front_axle_share: return "front_axle_share";
        case FindingKind::rear_axle_share: return "rear_axle_share";
        case FindingKind::carried_load: return "carried_load";
        case FindingKind::specification_line: return "specification_line";
        case FindingKind::specification_not_measured: return "specification_not_measured";
        case FindingKind::joint_model: return "joint_model";
    }
    return "missing_reading";
}

namespace {

/// What hurts people first when it is wrong: the shaft, then what touches, then what does not match.
int find_rank(FindingKind k) {
    constexpr FindingKind order[] = {
        FindingKind::separation, FindingKind::overlap_at_longest, FindingKind::gap_at_shortest, FindingKind::no_cut_works,
        FindingKind::cut, FindingKind::overlap_in_work, FindingKind::linkage_cannot_close,
        FindingKind::direct_reading, FindingKind::direct_travel, FindingKind::model_fit,
        FindingKind::hidden_pins, FindingKind::check_chain, FindingKind::side_motion, FindingKind::coupler_seat, FindingKind::dead_centre_in_travel, FindingKind::joint_angle_in_work, FindingKind::joint_angle_over_travel,
        FindingKind::front_axle_share, FindingKind::carried_load, FindingKind::lift_capacity,
        FindingKind::drawbar_load, FindingKind::turn_limit, FindingKind::ditch_crossing, FindingKind::drawbar_length,
        FindingKind::guard_overlap, FindingKind::guard_gap, FindingKind::clearance, FindingKind::tyre_room, FindingKind::pto_speed_match,
        FindingKind::pto_rotation_match, FindingKind::pto_spline_match, FindingKind::pto_type_match,
        FindingKind::driveline_power, FindingKind::missing_reading, FindingKind::upper_link_reach,
        FindingKind::working_pitch, FindingKind::levelling_rod, FindingKind::side_level};
    const auto at = std::find(std::begin(order), std::end(order), k);
    return static_cast<int>(at - std::begin(order));
}

double find_relative_margin(const Finding& f) {
    return f.has_limit ? f.margin / std::max(std::fabs(f.limit), 1.0e-3) : 0.0;
}

}  // namespace

void sort_findings(std::vector<Finding>& findings) {
    std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
        if (a.severity != b.severity) return a.severity < b.severity;
        if (find_rank(a.kind) != find_rank(b.kind)) return find_rank(a.kind) < find_rank(b.kind);
        return find_relative_margin(a) < find_relative_margin(b);
    });
}

Verdict find_verdict(const std::vector<Finding>& findings) {
    const auto has = [&](Severity s) {
        return std::any_of(findings.begin(), findings.end(), [s](const Finding& f) { return f.severity == s; });
    };
    const bool missing = std::any_of(findings.begin(), findings.end(), [](const Finding& f) {
        return f.severity == Severity::unknown && f.band == 0.0;  // unknown for want of a reading, not for its error
    });
    if (has(Severity::forbids)) return Verdict::must_not_run;
    if (missing) return Verdict::not_known;
    if (has(Severity::unknown)) return Verdict::too_close_to_call;
    if (has(Severity::change)) return Verdict::fits_after_change;
    return findings.empty() ? Verdict::not_known : Verdict::fits;
}

}  // namespace hitchwright
