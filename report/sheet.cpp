// See sheet.h.
#include "report/sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/proposed_setup.h"
#include "report/caution_text.h"
#include "report/cut_words.h"
#include "report/fit_report.h"
#include "report/sheet_lines.h"
#include "report/text_layout.h"
#include "report/trust_text.h"
#include "report/variant_text.h"

namespace hitchwright {
namespace {

std::vector<SheetField> list_fields(const Setup& s) {
    const JobDetails& j = s.job;
    std::vector<SheetField> fields{{"Customer", j.customer},
                                   {"Technician", j.technician},
                                   {"Date", j.date},
                                   {"Hours", j.hours},
                                   {"Tractor", s.tractor.name},
                                   {"serial", j.tractor_serial},
                                   {"Implement", s.implement.name},
                                   {"serial", j.implement_serial}};
    if (s.implement.pic.fitted) {
        fields.push_back({"Shaft", s.has_driveline ? s.driveline.name : ""});
        fields.push_back({"number", j.driveline_serial});
    }
    return fields;
}

/// Height of the lowest thing of the rear of the implement in a pose; nothing without points and wheels.
std::optional<double> find_tail(const Setup& s, const MountedModel& m, const PlanarPose& pose) {
    std::optional<double> height;
    double rearmost = 0.0;
    const auto look = [&](const Reading& x, const Reading& z, double radius) {
        if (!x.known || !z.known) return;
        const Point in_frame_i = find_body_point(m, x, z);
        if (height && in_frame_i.x() <= rearmost) return;
        rearmost = in_frame_i.x();
        height = place_point(pose, in_frame_i).y() - radius;
    };
    for (const ImplementPoint& p : s.implement.points) look(p.x, p.z, 0.0);
    for (const GroundContact& c : s.implement.ground_contacts) look(c.x, c.z, c.radius.value_or(0.0));
    return height;
}

/// How far each of the values may be off, in their order: at one height, or the widest of several.
std::vector<std::string> list_bands(const SheetSource& x, const std::vector<double>& heights, bool halves) {
    const auto within = [&](CurveNumber number) {
        std::string text;
        double widest = 0.0;
        for (const double h : heights) {
            const std::optional<ErrorBand> band = x.bands->find(h, number);
            if (!band || std::max(band->below, band->above) <= widest) continue;
            widest = std::max(band->below, band->above);
            text = say_within(x, h, number).substr(1);
        }
        return text;
    };
    std::vector<std::string> bands{"", within(CurveNumber::pitch), ""};
    if (x.analysis.shaft)
        for (const CurveNumber n : {CurveNumber::shaft_length, CurveNumber::tractor_joint, CurveNumber::implement_joint}) bands.push_back(within(n));
    if (halves)
        for (const CurveNumber n : {CurveNumber::gap, CurveNumber::overlap}) bands.push_back(within(n));
    return bands;
}

/// Bands at the heights that the sheet speaks of.
CurveBands find_sheet_bands(const Setup& s, const Analysis& a, const std::optional<CutCase>& cut) {
    if (!a.linkage) return {};
    std::vector<double> heights;
    for (const PoseReport* p : {&a.linkage->low, &a.linkage->working, &a.linkage->high}) {
        if (p->pose.closes) heights.push_back(p->pose.ball_height);
    }
    if (cut && cut->height_at_shortest) heights.push_back(*cut->height_at_shortest);
    if (cut && cut->height_at_longest) heights.push_back(*cut->height_at_longest);
    std::sort(heights.begin(), heights.end());
    heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
    return find_curve_bands(s, a, std::move(heights));
}

void add_expected(const SheetSource& x, Sheet& sheet) {
    const Setup& s = x.setup;
    const Analysis& a = x.analysis;
    const SafeWords& w = x.words;
    if (!a.linkage) return;
    const LinkageAnalysis& l = *a.linkage;
    const bool halves = a.shaft && l.model.has_halves;
    sheet.expected_heads = {"ball centre", "pitch", "rear end"};
    if (a.shaft) sheet.expected_heads.insert(sheet.expected_heads.end(), {"shaft", "tractor joint", "implement joint"});
    if (halves) sheet.expected_heads.insert(sheet.expected_heads.end(), {"gap", "overlap"});
    std::vector<double> heights;
    const auto add = [&](const char* where, const PoseReport& p) {
        if (!p.pose.closes) return;
        const std::optional<double> tail = find_tail(s, l.model, p.pose);
        ExpectedReadings row{where,
                             {w.place(p.pose.ball_height), format_angle(p.pose.pitch), tail ? w.place(*tail) : "-"}};
        if (a.shaft)
            row.values.insert(row.values.end(), {w.place(p.shaft_length), format_angle(p.tractor_angle),
                                                 format_angle(p.implement_angle)});
        if (halves) {
            const CutPair cut = a.shaft->has_plan && advises_cut(a) ? a.shaft->plan.recommended : CutPair{};
            const TelescopingHalves after = cut_halves(l.model.halves, cut).halves;
            const auto room = [&](double v) { return v < 0.0 ? "none" : w.have(v); };
            row.values.push_back(room(find_gap(after, p.shaft_length)));
            row.values.push_back(room(find_overlap(after, p.shaft_length)));
        }
        row.bands = list_bands(x, {p.pose.ball_height}, halves);
        heights.push_back(p.pose.ball_height);
        sheet.expected.push_back(std::move(row));
    };
    add("lowest", l.low);
    add("working", l.working);
    add("highest", l.high);
    sheet.expected_bands = list_bands(x, heights, halves);
}

void add_cut(const CutCase& c, const SafeWords& w, Sheet& sheet) {
    const CutPair& cut = c.plan.recommended;
    if (c.contradicted) return;
    if (c.plan.answer == CutAnswer::no_cut_works || (cut.a <= 0.0 && cut.b <= 0.0)) return;
    const double step = c.plan.recommended_step;
    const auto row = [&](const char* part, double tube, double off, bool measured) {
        const std::string less = format_cut_length(off, step, w.units);
        sheet.cut.push_back(
            {part, measured ? w.place(tube) : std::string(), less, measured ? w.place(tube - off) : std::string()});
    };
    const bool tubes = c.assumption == HalvesAssumption::none;
    row("tube, tractor half", c.halves.tube_a, cut.a, tubes);
    row("guard tube, tractor half", 0.0, cut.a, false);
    row("tube, implement half", c.halves.tube_b, cut.b, tubes);
    row("guard tube, implement half", 0.0, cut.b, false);
    sheet.cut_note = fmt::format("{}Mark from the free ends, not before stub to input shaft was measured directly. {}{}",
                                 c.model.empty() ? "" : fmt::format("The cut is {}. ", c.model), format_what_cut_leaves(c, w), c.note.empty() ? "" : " " + c.note);
}

std::vector<Caution> list_cautions(const Setup& s, const Analysis& a) {
    std::vector<Caution> list = list_closing_cautions(a);
    const auto want = [&](Caution c) {
        if (std::find(list.begin(), list.end(), c) == list.end()) list.push_back(c);
    };
    for (const Finding& f : a.findings) {
        if (f.severity >= Severity::good) continue;
        for (const Caution c : f.cautions) want(c);
    }
    want(Caution::nobody_between);
    want(Caution::weigh_before_relying);
    want(Caution::rops_and_belt);
    if (s.implement.attachment == Attachment::drawn) {
        for (const Caution c : {Caution::cross_ditches_slowly, Caution::hitch_to_drawbar_only, Caution::safety_chains})
            want(c);
    } else {
        want(Caution::never_under_raised);
    }
    if (s.implement.pic.fitted) {
        for (const Caution c : {Caution::keep_from_turning_shaft, Caution::guards_complete, Caution::tug_both_ends,
                                Caution::parts_or_breaks})
            want(c);
    }
    std::sort(list.begin(), list.end());
    return list;
}

}  // namespace

namespace {

std::string say_changes(const std::vector<ProposedChange>& changes, const SafeWords& w) {
    std::string text;
    for (const ProposedChange& c : changes) {
        const char* what = c.key == "choices.upper_link_pin"  ? "upper link in hole"
                           : c.key == "choices.mast_pin"      ? "mast hole"
                           : c.key == "choices.lift_rod_hole" ? "lift rod in hole"
                           : c.key == "choices.drawbar_pin"   ? "drawbar pin in position"
                           : c.key == "choices.lift_stop"     ? "lift stop at"
                           : c.key == "choices.lower_stop"    ? "lower stop at"
                           : c.key == "choices.left_lift_rod_length"  ? "left lift rod"
                           : c.key == "choices.right_lift_rod_length" ? "right lift rod"
                                                              : "in front";
        const std::string value = !c.name.empty()                  ? printable_text(c.name, 24)
                                  : c.dimension == Dimension::mass ? format_mass(c.value, w.units, Rounding::up)
                                  : c.key == "choices.lower_stop"  ? w.at_least(c.value)
                                  : c.key.ends_with("_lift_rod_length") ? w.place(c.value)
                                                                   : w.at_most(c.value);
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", what, value);
    }
    return text;
}

void add_variants(const Setup& s, const Analysis& now, const Mark& mark, Sheet& sheet) {
    for (const VariantAnswer& a : study_variants(s, list_variants(s), mark)) {
        // Paper is short: another hole that changes nothing is left out.
        const bool hole = a.variant.kind == VariantKind::upper_link_pin || a.variant.kind == VariantKind::mast_pin || a.variant.kind == VariantKind::lift_rod_hole;
        if (hole && a.analysis.verdict == now.verdict) continue;
        sheet.variants.push_back({format_switch(a.variant), say_variant(a.variant), std::string(verdict_headline(a.analysis.verdict)),
                                  a.analysis.verdict != now.verdict});
    }
    std::stable_sort(sheet.variants.begin(), sheet.variants.end(), [](const SheetVariant& a, const SheetVariant& b) { return a.changes > b.changes; });
}

/// Cautions that speak of a height or a turn stated: only where one is.
bool speaks_of_nothing(Caution c, const SheetSource& source) {
    const std::string limits = say_pto_limits(source);
    if (c == Caution::pto_off_above_height)
        return limits.find(" above ") == std::string::npos && limits.find(" below ") == std::string::npos;
    return c == Caution::turn_with_pto_off && limits.find("beyond") == std::string::npos;
}

}  // namespace

Sheet make_sheet(const Setup& s, const Analysis& a, UnitSystem units, std::string_view version) {
    Sheet sheet;
    const SafeWords w{units};
    sheet.title = s.name.empty() ? s.key : s.name;
    sheet.fields = list_fields(s);
    sheet.verdict = format_verdict_sentence(s, a, units);
    sheet.verdict_word = a.verdict;
    sheet.steps = list_steps(s, a, units);
    const ProposedSetup proposed = propose_setup(s, a);
    const Mark mark = units == UnitSystem::inch ? sixteenth_inch_mark : millimetre_mark;
    const Analysis then = proposed.changes.empty() ? a : analyze_alone(proposed.setup, mark);
    sheet.after = say_changes(proposed.changes, w);
    const std::optional<CutCase> c = make_cut_case(proposed.setup, then);
    const CurveBands bands = find_sheet_bands(proposed.setup, then, c);
    const SheetSource source{proposed.setup, then, w, &bands};
    if (a.fit) sheet.model = a.fit->used ? fmt::format("Targets and cut are {}.", say_model_source(a)) : say_fit_use(a);
    for (const auto add : {add_job_lines, add_hitch_lines, add_levelling_lines, add_travel_lines, add_driveline_lines,
                           add_drawn_lines, add_load_lines, add_specification_lines, add_run_lines})
        add(source, sheet.lines);
    add_reading_lines({s, a, w}, sheet.lines);
    std::stable_sort(sheet.lines.begin(), sheet.lines.end(),
                     [](const SheetLine& l, const SheetLine& r) { return l.section < r.section; });
    if (c && advises_cut(then)) add_cut(*c, w, sheet);
    add_expected(source, sheet);
    add_variants(proposed.setup, then, mark, sheet);
    sheet.cautions = list_cautions(proposed.setup, then);
    std::erase_if(sheet.cautions, [&](Caution caution) { return speaks_of_nothing(caution, source); });
    sheet.program = fmt::format("Hitchwright {}", version);
    return sheet;
}

std::string say_what(const SheetLine& line, bool worksheet) {
    if (worksheet || line.hint.empty()) return line.what;
    return line.what + (line.what.ends_with('.') ? " " : ". ") + line.hint;
}

std::string say_read(const SheetLine& line, bool worksheet) {
    // What was read is given to a student, what follows from it is not.
    return worksheet || line.mark.empty() ? line.measured : line.mark + ": " + line.measured;
}

std::string_view sheet_section_title(SheetSection section) {
    switch (section) {
        case SheetSection::job:
            return "Before anything";
        case SheetSection::safe_state:
            return "Made safe";
        case SheetSection::readings:
            return "Readings to take again, before anything rests on them";
        case SheetSection::hitch:
            return "Hitch";
        case SheetSection::levelling:
            return "Levelling";
        case SheetSection::full_travel:
            return "Through the whole travel";
        case SheetSection::driveline:
            return "Driveline";
        case SheetSection::drawn:
            return "Drawbar and turns";
        case SheetSection::loads:
            return "Loads";
        case SheetSection::specification:
            return "Measured against specification";
        case SheetSection::run:
            return "First run and handing over";
    }
    return "";
}

std::string_view sheet_section_word(SheetSection section) {
    switch (section) {
        case SheetSection::job:
            return "job";
        case SheetSection::safe_state:
            return "safe_state";
        case SheetSection::readings:
            return "readings";
        case SheetSection::hitch:
            return "hitch";
        case SheetSection::levelling:
            return "levelling";
        case SheetSection::full_travel:
            return "full_travel";
        case SheetSection::driveline:
            return "driveline";
        case SheetSection::drawn:
            return "drawn";
        case SheetSection::loads:
            return "loads";
        case SheetSection::specification:
            return "specification";
        case SheetSection::run:
            return "run";
    }
    return "";
}

std::vector<Caution> section_cautions(SheetSection section) {
    switch (section) {
        case SheetSection::job:
            return {Caution::stop_before_touching};
        case SheetSection::safe_state:
            return {Caution::never_under_raised};
        case SheetSection::readings:
            return {Caution::stop_before_touching};
        case SheetSection::hitch:
            return {Caution::nobody_between};
        case SheetSection::levelling:
            return {Caution::never_under_raised};
        case SheetSection::full_travel:
            return {Caution::nobody_between, Caution::never_under_raised};
        case SheetSection::driveline:
            return {Caution::measure_before_cutting, Caution::guards_complete, Caution::tug_both_ends};
        case SheetSection::drawn:
            return {Caution::hitch_to_drawbar_only, Caution::cross_ditches_slowly};
        case SheetSection::loads:
            return {Caution::weigh_before_relying};
        case SheetSection::specification:
            return {Caution::stop_before_touching};
        case SheetSection::run:
            return {Caution::keep_from_turning_shaft, Caution::rops_and_belt};
    }
    return {};
}

}  // namespace hitchwright
