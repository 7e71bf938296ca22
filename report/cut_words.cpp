// See cut_words.h.
#include "report/cut_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/exact_cut.h"
#include "report/text_layout.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

bool same(double a, double b) { return std::fabs(a - b) <= cut_tolerance; }

/// " (ball height 8 in)" where it is known.
std::string at_height(const std::optional<double>& height, const SafeWords& words) {
    return height ? fmt::format(" (ball height {})", words.place(*height)) : std::string();
}

/// Why the halves lose different lengths; empty when they do not.
std::string format_difference(const CutCase& c, const SafeWords& words) {
    const double difference = c.halves.tube_a - c.halves.tube_b;
    if (same(c.plan.recommended.a, c.plan.recommended.b) || same(difference, 0.0)) return {};
    return fmt::format(" The {} half has the longer tube by {}: up to that it is cut alone, both beyond it.",
                       difference > 0.0 ? "tractor" : "implement", words.place(std::fabs(difference)));
}

TelescopingHalves find_halves_after(const CutCase& c) {
    const CutHalves after = cut_halves(c.halves, c.plan.recommended);
    return after.status == CutStatus::ok ? after.halves : c.halves;
}

}  // namespace

namespace {

/// From direct readings alone.
std::optional<CutCase> make_direct_case(const Setup& setup, const DirectAnalysis& d) {
    if (!d.has_plan) return std::nullopt;
    CutCase c;
    c.halves = d.shaft.halves;
    c.assumption = d.shaft.uncut.assumption;
    c.source = TravelSource::direct_readings;
    c.made_before = {setup.choices.cut_tractor_half.value_or(0.0), setup.choices.cut_implement_half.value_or(0.0)};
    c.travel = {d.travel.shortest.length, d.travel.longest.length};
    c.height_at_shortest = d.travel.shortest.height;
    c.height_at_longest = d.travel.longest.height;
    c.limits = d.limits;
    c.plan = d.plan;
    c.contradicted = d.travel.rough;
    c.note = format_direct_note(d.travel);
    c.gap_band = d.gap_band;
    c.overlap_band = d.overlap_band;
    return c;
}

void set_rules(const Setup& setup, CutCase& c) {
    c.rule_set = setup.rules.name;
    c.gap_rule = setup.rules.gap_required;
    const double share = c.limits.overlap_fraction * std::max(c.halves.tube_a, c.halves.tube_b);
    c.overlap_rule = share > c.limits.overlap_least ? setup.rules.overlap_fraction : setup.rules.overlap_least;
}

void set_bands(const Analysis& analysis, CutCase& c) {
    for (const Finding& f : analysis.findings) {
        if (f.kind == FindingKind::direct_reading && f.severity == Severity::unknown) c.contradicted = true;
        if (f.band <= 0.0) continue;
        if (f.kind == FindingKind::gap_at_shortest) c.gap_band = f.band;
        if (f.kind == FindingKind::overlap_at_longest || f.kind == FindingKind::separation) c.overlap_band = f.band;
    }
}

std::optional<CutCase> make_drawn_case(const Setup& setup, const Analysis& analysis) {
    const DrawnAnalysis& d = *analysis.drawn;
    if (!d.has_plan) return std::nullopt;
    CutCase c;
    c.halves = d.model.halves;
    c.assumption = d.model.uncut.assumption;
    c.source = TravelSource::articulation;
    c.made_before = {setup.choices.cut_tractor_half.value_or(0.0), setup.choices.cut_implement_half.value_or(0.0)};
    c.travel = {d.whole.shortest.bound, d.whole.longest.bound};
    c.limits = d.limits;
    c.plan = d.plan;
    c.model = say_model_source(analysis);
    for (const PinStudy& p : d.positions.pins) {
        if (p.fit == ShaftFit::fits && p.pin != d.model.pin)
            c.note += (c.note.empty() ? "Drawbar first, cut last: the shaft serves as it is with the pin in position " : " or ") + printable_text(p.name, 24);
    }
    if (!c.note.empty()) c.note += ".";
    set_rules(setup, c);
    set_bands(analysis, c);
    return c;
}

}  // namespace

std::optional<CutCase> make_cut_case(const Setup& setup, const Analysis& analysis) {
    if (analysis.direct && analysis.direct->has_plan) {
        std::optional<CutCase> c = make_direct_case(setup, *analysis.direct);
        set_rules(setup, *c);
        return c;
    }
    if (analysis.drawn) return make_drawn_case(setup, analysis);
    if (!analysis.linkage || !analysis.shaft || !analysis.shaft->has_plan) return std::nullopt;
    const MountedModel& m = analysis.linkage->model;
    const ShaftAnalysis& s = *analysis.shaft;
    CutCase c;
    c.halves = m.halves;
    c.assumption = m.uncut.assumption;
    c.made_before = {setup.choices.cut_tractor_half.value_or(0.0), setup.choices.cut_implement_half.value_or(0.0)};
    c.travel = {s.travel.shortest.bound, s.travel.longest.bound};
    c.height_at_shortest = s.travel.shortest.height;
    c.height_at_longest = s.travel.longest.height;
    c.limits = s.limits;
    c.plan = s.plan;
    c.model = say_model_source(analysis);
    set_rules(setup, c);
    set_bands(analysis, c);
    return c;
}

namespace {

// No cut works by the readings, but one might: each half that is cut carries the gap's error over to the overlap.
bool might_cut(const CutPlan& p, double gap_band, double overlap_band) {
    const int halves_cut = (p.least_cut.a > 0.0 ? 1 : 0) + (p.least_cut.b > 0.0 ? 1 : 0);
    return p.obstacle != CutObstacle::tubes_used_up && p.overlap_short_by < overlap_band + halves_cut * gap_band;
}

// The cut works by the readings, but what it leaves might be too little.
bool might_fail(const CutPlan& p, double gap_band, double overlap_band) {
    return p.answer != CutAnswer::no_cut_needed &&
           (p.after.overlap - p.after.overlap_needed < overlap_band || p.after.gap < gap_band);
}

}  // namespace

bool is_too_close(const CutCase& c) {
    const auto straddles = [](double margin, const std::optional<double>& band) {
        return band && std::fabs(margin) < *band;
    };
    const double uncut_overlap = c.plan.uncut.overlap - c.plan.uncut.overlap_needed;
    if (straddles(c.plan.uncut.gap - c.limits.gap_required, c.gap_band) || straddles(uncut_overlap, c.overlap_band)) {
        return true;
    }
    if (!c.gap_band || !c.overlap_band || uncut_overlap < 0.0) return false;
    return c.plan.answer == CutAnswer::no_cut_works ? might_cut(c.plan, *c.gap_band, *c.overlap_band)
                                                    : might_fail(c.plan, *c.gap_band, *c.overlap_band);
}

std::string format_direct_note(const DirectTravel& t) {
    std::string note = fmt::format(
        "From {} direct readings, grade P: common practice, no linkage behind it. Between the heights read a smooth curve is "
        "taken.", t.lengths.size());
    if (t.travel_assumed) note += " The lowest and the highest reading must be the ends of the travel.";
    if (t.rough)
        note += " One reading stands off the curve through the others by more than a tape is wrong: take it again first.";
    return note;
}

std::string format_cut_length(double length, double step, UnitSystem units) {
    const auto counts = [step](double unit) { return step > 0.0 && same(std::round(step / unit) * unit, step); };
    const bool inches = counts(sixteenth_inch_mark.step), tenths = counts(0.0001);
    if (inches && (units == UnitSystem::inch || !tenths)) return format_inches(length);
    if (counts(millimetre_mark.step)) return format_millimetres(length);
    if (tenths) return format_millimetres(length, MillimetrePlaces::tenth);
    return format_ratio(length * 1e3, 2) + " mm";
}

std::string format_cut(const CutPair& cut, double step, UnitSystem units) {
    return say_cut(cut, format_cut_length(cut.a, step, units), format_cut_length(cut.b, step, units));
}

std::string format_overlap_reason(const TelescopingHalves& halves, const CutLimits& limits, const SafeWords& words) {
    const double tube = std::max(halves.tube_a, halves.tube_b);
    if (limits.overlap_fraction * tube < limits.overlap_least) return {};
    return fmt::format(" ({} of the {} tube)", format_share(limits.overlap_fraction), words.place(tube));
}

std::string format_what_cut_leaves(const CutCase& c, const SafeWords& words) {
    const ShaftMargins& after = c.plan.after;
    const ShownPair gap = words.have_need(after.gap, c.limits.gap_required);
    const ShownPair overlap = words.have_need(after.overlap, after.overlap_needed);
    const std::string why = format_overlap_reason(find_halves_after(c), c.limits, words);
    return fmt::format(
        "Closed length becomes {}. Gap left at the shortest point{}: {}, {} needed. Overlap left at the longest "
        "point{}: "
        "{}, {} needed{}.{}",
        words.need(after.closed_length), at_height(c.height_at_shortest, words), gap.value, gap.limit,
        at_height(c.height_at_longest, words), overlap.value, overlap.limit, why, format_difference(c, words));
}

std::string format_cut_obstacle(const CutPlan& plan, const SafeWords& words) {
    switch (plan.obstacle) {
        case CutObstacle::too_short_uncut:
            return fmt::format(
                "The shaft is too short as it is: {} of overlap are lacking, and a cut can only take more.",
                words.need(plan.overlap_short_by));
        case CutObstacle::cut_costs_overlap:
            return fmt::format("What must come off for the gap leaves {} too little overlap at the longest point.",
                               words.need(plan.overlap_short_by));
        case CutObstacle::tubes_used_up:
            return "Even with its tubes cut away the shaft cannot close far enough: the yokes would meet.";
        case CutObstacle::none:
            break;
    }
    return "No cut keeps both gap and overlap.";
}

std::string_view format_halves_assumption(HalvesAssumption assumption) {
    switch (assumption) {
        case HalvesAssumption::none:
            return "";
        case HalvesAssumption::equal_halves:
            return "Tubes not measured: taken as equal, each as long as the overlap of the closed shaft.";
        case HalvesAssumption::equal_halves_from_longest:
            return "Tubes not measured: taken as equal, from the table's longest length, which leaves half the "
                   "overlap.";
        case HalvesAssumption::other_tube_from_overlap:
            return "One tube not measured: taken as long as the overlap of the closed shaft.";
        case HalvesAssumption::other_tube_from_longest:
            return "One tube not measured: taken from the table's longest length, which leaves half the overlap.";
        case HalvesAssumption::other_tube_equal:
            return "One tube not measured: taken as long as the other.";
    }
    return "";
}

std::string_view reference_name(LengthReference reference) {
    switch (reference) {
        case LengthReference::joint_centres:
            return "joint centres";
        case LengthReference::locking_grooves:
            return "locking grooves";
        case LengthReference::shaft_ends:
            return "shaft ends";
    }
    return "joint centres";
}

}  // namespace hitchwright
