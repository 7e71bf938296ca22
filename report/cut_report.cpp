// See cut_report.h.
#include "report/cut_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/caution_text.h"
#include "report/exact_cut.h"
#include "report/finding_text.h"

namespace hitchwright {
namespace {

constexpr std::size_t indent = 2;

std::string_view say_halves_status(HalvesStatus status) {
    switch (status) {
        case HalvesStatus::ok:
            return "";
        case HalvesStatus::not_finite:
            return "a length is not a number";
        case HalvesStatus::length_not_positive:
            return "the closed length and the tubes must be above 0";
        case HalvesStatus::tube_longer_than_shaft:
            return "a free tube is longer than the closed shaft";
        case HalvesStatus::overlap_longer_than_tube:
            return "the overlap of the closed shaft is longer than a tube";
        case HalvesStatus::overlap_disagrees:
            return "tubes and overlap of the closed shaft contradict each other";
        case HalvesStatus::longest_beyond_tubes:
            return "at the longest usable length the tubes as given would have parted";
        case HalvesStatus::longest_not_beyond_closed:
            return "the longest length is not above the closed length";
        case HalvesStatus::nothing_known:
            return "neither tubes nor overlap nor longest length are given";
    }
    return "";
}

/// Least cut: rounded up; tape marks or millimetres.
std::string format_least(const CutCase& c, const SafeWords& w) {
    const CutPair& least = c.plan.least_cut;
    if (std::fabs(least.a - least.b) <= cut_tolerance) return w.at_least(least.a) + " from each half";
    return fmt::format("{} from the tractor half, {} from the implement half", w.at_least(least.a),
                       w.at_least(least.b));
}

std::string format_limits(const CutCase& c, const SafeWords& w, const TextStyle& style) {
    std::string text = fmt::format("Held to{}: gap of {} at the shortest point",
                                   c.rule_set.empty() ? "" : fmt::format(" (rule set {})", printable_text(c.rule_set)),
                                   w.need(c.limits.gap_required));
    if (c.limits.gap_aimed > c.limits.gap_required)
        text += fmt::format(" (a cut aims for {})", w.need(c.limits.gap_aimed));
    text += ", overlap at the longest of ";
    const bool share = c.limits.overlap_fraction > 0.0, length = c.limits.overlap_least > 0.0;
    if (length) text += fmt::format("at least {}", w.need(c.limits.overlap_least));
    if (share)
        text += fmt::format("{}{} of the longer tube after the cut", length ? " and " : "",
                            format_share(c.limits.overlap_fraction));
    text = format_paragraph(text + '.', style.width, 0, indent);
    if (c.gap_rule.set)
        text += format_paragraph(fmt::format("Gap: {}.", format_source(c.gap_rule)), style.width, indent, indent + 2);
    if (c.overlap_rule.set)
        text += format_paragraph(fmt::format("Overlap: {}.", format_source(c.overlap_rule)), style.width, indent,
                                 indent + 2);
    return text;
}

/// Where shortest and longest come from: ", from direct readings".
std::string say_source(const CutCase& c) {
    std::string text;
    if (c.source == TravelSource::direct_readings) text = ", from direct readings";
    if (c.source == TravelSource::articulation) text = ", over all turns and dips";
    return c.model.empty() ? text : text + ", " + c.model;
}

std::string format_shaft(const CutCase& c, const SafeWords& w, const TextStyle& style) {
    std::string text = format_paragraph(
        fmt::format("Shaft as it is, between {}: closed {}; free tubes {} (tractor half) and {} (implement half).",
                    reference_name(c.reference), w.at_least(c.halves.closed_length), w.place(c.halves.tube_a),
                    w.place(c.halves.tube_b)),
        style.width, 0, indent);
    if (const std::string made = format_cuts_made(c.made_before, w); !made.empty())
        text += format_paragraph(made, style.width, 0, indent);
    text += format_paragraph(format_halves_assumption(c.assumption), style.width, 0, indent);
    const auto at = [&](const std::optional<double>& h) {
        return h ? " (ball height " + w.place(*h) + ")" : std::string();
    };
    return text + format_paragraph(fmt::format("Needed through the travel{}: shortest {}{}, longest {}{}.",
                                               say_source(c),
                                               w.at_most(c.travel.shortest), at(c.height_at_shortest),
                                               w.at_least(c.travel.longest), at(c.height_at_longest)),
                                   style.width, 0, indent);
}

std::string format_uncut(const CutCase& c, const SafeWords& w, const TextStyle& style) {
    const ShaftMargins& m = c.plan.uncut;
    const std::string gap = m.gap < 0.0 ? fmt::format("it bottoms out by {}", w.need(-m.gap))
                                        : fmt::format("{} of gap is left", w.have(m.gap));
    const std::string overlap = m.overlap < 0.0 ? fmt::format("it comes apart by {}", w.need(-m.overlap))
                                                : fmt::format("{} of overlap is left", w.have(m.overlap));
    return format_paragraph(fmt::format("As it is {} where {} of gap is needed; {} where {} is needed.", gap,
                                        w.need(c.limits.gap_required), overlap, w.need(m.overlap_needed)),
                            style.width, 0, indent);
}

/// "Gap +- 1/2 in, overlap +- 1/2 in" where the readings' errors were carried through.
std::string format_bands(const CutCase& c, const SafeWords& w, const TextStyle& style) {
    if (!c.gap_band || !c.overlap_band) return {};
    return format_paragraph(fmt::format("The readings may move the gap by {} and the overlap by {} (95 %).",
                                        w.need(*c.gap_band), w.need(*c.overlap_band)),
                            style.width, 0, indent);
}

std::string format_interval(const CutCase& c, const SafeWords& w, const TextStyle& style) {
    const CutPlan& p = c.plan;
    if (p.least_total <= 0.0 && !p.equal_possible) return {};
    std::string text =
        format_paragraph(fmt::format("Least cut that leaves the gap: {}.", format_least(c, w)), style.width, 0, indent);
    if (!p.equal_possible)
        return text + format_paragraph("No cut of the same length from both halves works.", style.width, 0, indent);
    if (p.answer == CutAnswer::cut_between_marks) {
        return text +
               format_paragraph(
                   fmt::format("The same from each half: {} to {}. No mark lies in between, so keep to millimetres.",
                               format_ratio(p.equal_least * 1e3, 2, Rounding::up) + " mm",
                               format_ratio(p.equal_most * 1e3, 2, Rounding::down) + " mm"),
                   style.width, 0, indent);
    }
    return text + format_paragraph(fmt::format("The same from each half: at least {}, at most {}.",
                                               w.at_least(p.equal_least), w.at_most(p.equal_most)),
                                   style.width, 0, indent);
}

std::string format_ways_out(const CutCase& c, const std::vector<Remedy>& ways_out, const SafeWords& w,
                            const TextStyle& style) {
    std::string text = "Ways out\n";
    bool first = true;
    for (const std::string& way : list_cut_ways_out(c, ways_out, w)) {
        text += format_paragraph((first ? "Do: " : "Or: ") + way, style.width, indent, indent + 4);
        first = false;
    }
    return text;
}

std::string format_answered(const CutCase& c, const std::vector<Remedy>& ways_out, const SafeWords& w,
                            const TextStyle& style) {
    const CutPlan& p = c.plan;
    std::string text;
    if (p.answer == CutAnswer::no_cut_works) {
        text += format_paragraph(format_cut_obstacle(p, w), style.width, 0, 0) + '\n' +
                format_ways_out(c, ways_out, w, style);
    } else if (p.answer != CutAnswer::no_cut_needed) {
        text += format_paragraph(format_what_cut_leaves(c, w), style.width, 0, 0);
        for (const Caution caution : {Caution::stop_before_touching, Caution::measure_before_cutting})
            text += format_labelled("! ", caution_sentence(caution), style.width, 0, 2);
    }
    text += '\n' + format_shaft(c, w, style) + format_uncut(c, w, style) + format_bands(c, w, style) +
            format_paragraph(c.note, style.width, 0, indent);
    if (p.answer != CutAnswer::no_cut_works) text += format_interval(c, w, style);
    if (p.answer == CutAnswer::cut_short_of_aim) {
        text += format_paragraph(
            fmt::format(
                "The gap aimed for, {}, would cost too much overlap; this is the largest mark inside the limits.",
                w.need(c.limits.gap_aimed)),
            style.width, 0, indent);
    }
    if (p.answer == CutAnswer::no_cut_needed && !p.uncut.gap_aim_reached && p.to_aim_admissible) {
        text += format_paragraph(fmt::format("To reach the gap aimed for you may cut {}.",
                                             format_cut(p.to_aim, p.recommended_step, style.units)),
                                 style.width, 0, indent);
    }
    return text + '\n' + format_limits(c, w, style);
}

}  // namespace

namespace {

std::string format_plan_answer(const CutCase& c, UnitSystem units) {
    const CutPlan& p = c.plan;
    switch (p.answer) {
        case CutAnswer::halves_invalid:
            return fmt::format("NOT KNOWN: {}.", say_halves_status(p.halves_status));
        case CutAnswer::travel_invalid:
            return "NOT KNOWN: shortest and longest length must be above 0, the longest not below the shortest.";
        case CutAnswer::limits_invalid:
            return "NOT KNOWN: the limits are out of range, or no overlap at all is asked for.";
        case CutAnswer::mark_invalid:
            return "NOT KNOWN: the marks to cut by are too fine.";
        case CutAnswer::no_cut_needed:
            return "NO CUT NEEDED: gap and overlap are kept as the shaft is.";
        case CutAnswer::no_cut_works:
            return "NO CUT WORKS.";
        case CutAnswer::cut_to_aim:
        case CutAnswer::cut_short_of_aim:
        case CutAnswer::cut_between_marks:
            return "CUT " + format_cut(p.recommended, p.recommended_step, units) + ".";
    }
    return "NOT KNOWN.";
}

}  // namespace

std::vector<std::string> list_cut_ways_out(const CutCase& c, const std::vector<Remedy>& ways_out, const SafeWords& w) {
    Finding none;
    none.kind = FindingKind::no_cut_works;
    std::vector<std::string> ways{format_remedy({RemedyKind::order_shaft, c.plan.closed_at_most, c.plan.extended_at_least, ""}, none, {w, c})};
    for (const Remedy& r : ways_out) {
        if (r.kind != RemedyKind::order_shaft) ways.push_back(format_remedy(r, none, {w, c}));
    }
    return ways;
}

std::string format_cut_answer(const CutCase& c, UnitSystem units) {
    const std::string answer = format_plan_answer(c, units);
    if (!c.contradicted) return answer;
    return "NOT KNOWN: direct readings do not agree; \"fit\" says which. By the others it would be: " + answer;
}

std::string format_cut_report(const CutCase& c, std::string_view title, const std::vector<Remedy>& ways_out,
                              const TextStyle& style) {
    const SafeWords w{style.units};
    std::string text = title.empty() ? "" : format_paragraph(printable_text(title, 70), style.width, 0, 0) + '\n';
    text += format_paragraph(format_cut_answer(c, style.units), style.width, 0, 4);
    if (is_answered(c.plan)) text += format_answered(c, ways_out, w, style);
    text += "\nCautions\n";
    for (const Caution caution : list_cutting_cautions())
        text += format_labelled("! ", caution_sentence(caution), style.width, indent, indent + 2);
    return text;
}

std::string_view cut_answer_word(CutAnswer answer) {
    switch (answer) {
        case CutAnswer::halves_invalid:
            return "halves_invalid";
        case CutAnswer::travel_invalid:
            return "travel_invalid";
        case CutAnswer::limits_invalid:
            return "limits_invalid";
        case CutAnswer::mark_invalid:
            return "mark_invalid";
        case CutAnswer::no_cut_needed:
            return "no_cut_needed";
        case CutAnswer::cut_to_aim:
            return "cut_to_aim";
        case CutAnswer::cut_short_of_aim:
            return "cut_short_of_aim";
        case CutAnswer::cut_between_marks:
            return "cut_between_marks";
        case CutAnswer::no_cut_works:
            return "no_cut_works";
    }
    return "halves_invalid";
}

std::string_view cut_obstacle_word(CutObstacle obstacle) {
    switch (obstacle) {
        case CutObstacle::none:
            return "none";
        case CutObstacle::too_short_uncut:
            return "too_short_uncut";
        case CutObstacle::cut_costs_overlap:
            return "cut_costs_overlap";
        case CutObstacle::tubes_used_up:
            return "tubes_used_up";
    }
    return "none";
}

std::string_view halves_status_word(HalvesStatus status) {
    switch (status) {
        case HalvesStatus::ok:
            return "ok";
        case HalvesStatus::not_finite:
            return "not_finite";
        case HalvesStatus::length_not_positive:
            return "length_not_positive";
        case HalvesStatus::tube_longer_than_shaft:
            return "tube_longer_than_shaft";
        case HalvesStatus::overlap_longer_than_tube:
            return "overlap_longer_than_tube";
        case HalvesStatus::overlap_disagrees:
            return "overlap_disagrees";
        case HalvesStatus::longest_not_beyond_closed:
            return "longest_not_beyond_closed";
        case HalvesStatus::longest_beyond_tubes:
            return "longest_beyond_tubes";
        case HalvesStatus::nothing_known:
            return "nothing_known";
    }
    return "nothing_known";
}

std::string_view halves_assumption_word(HalvesAssumption assumption) {
    switch (assumption) {
        case HalvesAssumption::none:
            return "none";
        case HalvesAssumption::equal_halves:
            return "equal_halves";
        case HalvesAssumption::equal_halves_from_longest:
            return "equal_halves_from_longest";
        case HalvesAssumption::other_tube_from_overlap:
            return "other_tube_from_overlap";
        case HalvesAssumption::other_tube_from_longest:
            return "other_tube_from_longest";
        case HalvesAssumption::other_tube_equal:
            return "other_tube_equal";
    }
    return "none";
}

}  // namespace hitchwright
