// See drawn_text.h.
#include "report/drawn_text.h"

#include <fmt/format.h>

#include <cmath>

#include "report/finding_sentences.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

std::string format_box(const DrawnModel& m, const TextStyle& style) {
    const AttitudeBox& b = m.box;
    const auto angle = [](double a) { return format_angle(a); };
    return format_paragraph(
        fmt::format("Judged over all attitudes of the implement against the tractor up to {} of turn to the left ({}), {} to the right "
                    "({}), {} rear down ({}), {} rear up ({}), {} of roll ({}). The corners of that may never be reached.",
                    angle(-b.yaw.low), box_bound_name(m.bounds.turn_left), angle(b.yaw.high), box_bound_name(m.bounds.turn_right),
                    angle(-b.pitch.low), box_bound_name(m.bounds.pitch_down), angle(b.pitch.high), box_bound_name(m.bounds.pitch_up),
                    angle(b.roll.high), box_bound_name(m.bounds.roll)),
        style.width, 0, 2);
}

/// "35.0 left, 25.0 up, 10.0 right": turn, pitch of the rear, side that is up; deg.
std::string format_short(const Attitude& a) {
    const auto part = [](double angle, const char* positive, const char* negative) {
        const double degrees = std::fabs(angle) * 180.0 / 3.14159265358979323846;
        return fmt::format("{:5.1f} {}", degrees, degrees < 0.05 ? "" : angle > 0.0 ? positive : negative);
    };
    return fmt::format("{:<12}{:<11}{}", part(a.yaw, "right", "left"), part(a.pitch, "up", "down"), part(a.roll, "right", "left"));
}

std::string format_row(const char* name, const AttitudeExtreme& whole, const AttitudeExtreme& turn, bool length, bool least, const SafeWords& w) {
    const auto show = [&](double v) {
        if (!length) return format_angle(v, Rounding::up);
        return least ? w.at_most(v) : w.at_least(v);
    };
    return fmt::format("{:<16}{:>13}{:>13}  {}\n", name, show(whole.bound), show(turn.bound), format_short(whole.at));
}

std::string format_lengths(const DrawbarInterval& i, const SafeWords& w, const TextStyle& style) {
    if (!i.known) return {};
    const std::string proof = i.rises ? "" : " Only the ends are certain.";
    const std::string text = i.any ? fmt::format("Drawbar lengths, PTO end to pin, with which this shaft serves as it is: {}{} to {}{}.{}", w.at_least(i.low),
                                                 i.low_open ? " or less" : "", w.at_most(i.high), i.high_open ? " or more" : "", proof)
                                   : fmt::format("No drawbar length serves this shaft as it is: the gap wants {} or more, the overlap {} or less.",
                                                 w.at_least(i.low), w.at_most(i.high));
    return format_paragraph(text, style.width, 0, 2);
}

/// How well the extremes are known, from the bounds as they came out.
std::string format_bounds(const DrawnAnalysis& d, int evaluations) {
    double length = 1.0e-5, angle = 1.0e-3 / 180.0 * 3.14159265358979323846;
    for (const DrawnExtremes* e : {&d.whole, &d.turn}) {
        for (const AttitudeExtreme* x : {&e->shortest, &e->longest}) length = std::max(length, std::fabs(x->bound - x->value));
        for (const AttitudeExtreme* x : {&e->tractor_angle, &e->implement_angle}) angle = std::max(angle, std::fabs(x->bound - x->value));
    }
    return fmt::format("Extremes are bounded to {:.2g} mm and {:.2g} deg over all attitudes, not sampled ({} evaluations).", length * 1000.0,
                       angle * 180.0 / 3.14159265358979323846, evaluations);
}

}  // namespace

std::string_view box_bound_name(BoxBound bound) {
    switch (bound) {
        case BoxBound::typed: return "the set-up";
        case BoxBound::rules: return "the rule set";
        case BoxBound::general: return "operator manuals of drawn machines";
        case BoxBound::assumed: return "assumed";
        case BoxBound::clevis: return "free play of the clevis";
    }
    return "assumed";
}

std::string format_drawn_study(const Analysis& analysis, const TextStyle& style) {
    if (!analysis.drawn) return {};
    const DrawnAnalysis& d = *analysis.drawn;
    const SafeWords w{style.units};
    std::string text;
    if (d.model.has_shaft) {
        text += fmt::format("{:<16}{:>13}{:>13}  {}\n", "Shaft, deg", "over all", "level turn", "turn        rear       side up");
        text += format_row("shortest", d.whole.shortest, d.turn.shortest, true, true, w);
        text += format_row("longest", d.whole.longest, d.turn.longest, true, false, w);
        text += format_row("tractor joint", d.whole.tractor_angle, d.turn.tractor_angle, false, false, w);
        text += format_row("implement joint", d.whole.implement_angle, d.turn.implement_angle, false, false, w);
        if (d.whole.turns && d.turn.turns)
            text += fmt::format("{:<16}{:>13}{:>13}  {}\n", "uneven rotation", format_percent(d.whole.non_uniformity.bound, Rounding::up),
                                format_percent(d.turn.non_uniformity.bound, Rounding::up), format_short(d.whole.non_uniformity.at));
    }
    text += format_box(d.model, style);
    if (d.model.articulation_assumed)
        text += format_paragraph("Where the hitch turns was not given: taken at the top of the drawbar.", style.width, 0, 2);
    if (d.model.level_source == LevelPitchSource::taken_level)
        text += format_paragraph("How the implement stands on its wheels was not given: taken as level.", style.width, 0, 2);
    text += format_lengths(d.lengths, w, style);
    if (d.model.has_shaft) {
        text += format_paragraph(format_bounds(d, analysis.evaluations), style.width, 0, 0);
    }
    return text + '\n';
}

}  // namespace hitchwright
