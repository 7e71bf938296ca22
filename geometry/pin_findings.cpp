// Findings about pins found from ball readings; see mounted_findings.h.
#include <cmath>
#include <string>

#include "geometry/mounted_findings.h"

namespace hitchwright {
namespace {

const Limit circle_rule{0.0, true, Grade::D, "circle of least squares through the balls' positions"};

std::string name_of(const Setup& s, std::size_t i) {
    const std::string& name = s.tractor.ball_readings[i].name;
    return name.empty() ? std::to_string(i + 1) : name;
}

const char* word_of(CircleFitStatus status) {
    switch (status) {
        case CircleFitStatus::ok: return "found";
        case CircleFitStatus::not_finite: return "not_finite";
        case CircleFitStatus::too_few: return "too_few";
        case CircleFitStatus::coincident: return "coincident";
        case CircleFitStatus::too_straight: return "too_straight";
    }
    return "not_finite";
}

const char* word_of(RodStatus status) {
    switch (status) {
        case RodStatus::ok: return "rod_found";
        case RodStatus::not_asked: return "rod_not_asked";
        case RodStatus::arm_unknown: return "rod_arm_unknown";
        case RodStatus::pivot_unknown: return "rod_pivot_unknown";
        case RodStatus::too_few: return "rod_too_few";
        case RodStatus::too_straight: return "rod_too_straight";
        case RodStatus::impossible: return "rod_impossible";
    }
    return "rod_not_asked";
}

Finding make(Severity severity, const std::string& other) {
    Finding f;
    f.kind = FindingKind::hidden_pins;
    f.severity = severity;
    f.other = other;
    f.rule = circle_rule;
    return f;
}

void ask_again(Finding& f) { f.remedies = {{RemedyKind::measure, 0.0, 0.0, "tractor.ball_reading"}}; }

Finding report_pivot(const HiddenPins& p) {
    Finding f = make(Severity::good, "found");
    f.value = p.pivot_z.value;
    f.terms = {{"pivot_x", p.pivot_x.value, Dimension::length, "front pivot of the lower link behind the rear axle"},
               {"pivot_x_error", p.pivot_x.tolerance, Dimension::length, "its 95 % error"},
               {"pivot_z", p.pivot_z.value, Dimension::length, "above the floor"},
               {"pivot_z_error", p.pivot_z.tolerance, Dimension::length, "its 95 % error"},
               {"length", p.length.known ? p.length.value : p.projected_length.value, Dimension::length,
                p.length.known ? "lower link, pivot to ball" : "lower link in side view"},
               {"length_error", p.length.known ? p.length.tolerance : p.projected_length.tolerance, Dimension::length, "its 95 % error"},
               {"arc", p.pivot.arc, Dimension::angle, "turn of the link from the lowest to the highest reading"}};
    return f;
}

Finding report_no_pivot(const Setup& s, const HiddenPins& p) {
    const LowerLinkReadings& l = s.tractor.lower_link;
    const bool taped = l.pivot_x.known && l.pivot_z.known && l.length.known;
    // Where the pivot was taped besides nothing is missing.
    Finding f = make(taped ? Severity::watch : Severity::unknown, word_of(p.pivot.status));
    f.terms = {{"arc", p.pivot.arc, Dimension::angle, "turn of the link over the readings"},
               {"arc_needed", p.pivot.arc_needed, Dimension::angle, "turn that readings this good can tell from a straight line"}};
    ask_again(f);
    return f;
}

Finding report_reading(const Setup& s, const HiddenPins& p, std::size_t i) {
    Finding f = make(Severity::watch, "left_out");
    f.subject = name_of(s, i);
    f.value = p.readings[i].off;
    f.has_limit = true;
    f.limit = p.readings[i].allowed;
    f.margin = f.limit - std::fabs(f.value);
    f.has_height = true;
    f.height = s.tractor.ball_readings[i].z.value;
    ask_again(f);
    return f;
}

Finding report_taped(const TapedAgainstFit& t) {
    Finding f = make(t.agrees ? Severity::good : Severity::watch, t.agrees ? "taped_agrees" : "taped_contradicts");
    f.subject = t.key;
    f.value = t.apart;
    f.has_limit = true;
    f.limit = t.allowed;
    f.margin = t.allowed - std::fabs(t.apart);
    if (!t.agrees) f.remedies = {{RemedyKind::measure, 0.0, 0.0, t.key}};
    return f;
}

void report_rod(const HiddenPins& p, std::vector<Finding>& out) {
    if (p.rod_status == RodStatus::not_asked) return;
    Finding f = make(p.decision.use_rod ? Severity::good : Severity::watch, word_of(p.rod_status));
    f.value = p.rod_length.value;
    f.terms = {{"rod_length", p.rod_length.value, Dimension::length, "lift rod, pin to pin"},
               {"rod_length_error", p.rod_length.tolerance, Dimension::length, "its 95 % error"},
               {"rod_pin_along", p.rod_pin_along.value, Dimension::length, "its pin from the front pivot along the link"},
               {"rod_pin_along_error", p.rod_pin_along.tolerance, Dimension::length, "its 95 % error"}};
    if (!p.decision.use_rod) ask_again(f);
    out.push_back(f);
}

}  // namespace

std::vector<Finding> check_hidden_pins(const Setup& s, const HiddenPins& p) {
    std::vector<Finding> out;
    if (!p.asked) return out;
    out.push_back(p.decision.use_pivot ? report_pivot(p) : report_no_pivot(s, p));
    if (p.one_is_wrong) {
        Finding f = make(Severity::unknown, "one_is_wrong");
        ask_again(f);
        out.push_back(f);
    }
    for (std::size_t i = 0; i < p.readings.size(); ++i) {
        if (p.decision.left_out[i]) out.push_back(report_reading(s, p, i));
    }
    for (const TapedAgainstFit& t : p.taped) out.push_back(report_taped(t));
    report_rod(p, out);
    return out;
}

}  // namespace hitchwright
