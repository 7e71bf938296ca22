// See fit_numbers.h.
#include "report/fit_numbers.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/cut_report.h"
#include "report/edge_units.h"
#include "report/finding_text.h"
#include "report/fit_report.h"

namespace hitchwright {
namespace {

void take_linkage(FitNumbers& n, const Setup& setup, const LinkageAnalysis& linkage) {
    const MountedModel& m = linkage.model;
    if (m.tractor_pin < setup.tractor.upper_link_pins.size()) n.upper_link_pin = setup.tractor.upper_link_pins[m.tractor_pin].name;
    if (m.mast_pin < setup.implement.mast_pins.size()) n.mast_pin = setup.implement.mast_pins[m.mast_pin].name;
    n.lift_rod_hole = m.rod_hole;
    n.upper_link = m.linkage.upper_length;
    if (m.has_working_height) n.working_pitch = linkage.working.pose.pitch;
}

void take_shaft(FitNumbers& n, const ShaftAnalysis& s) {
    n.shortest = s.travel.shortest.bound;
    n.longest = s.travel.longest.bound;
    n.joint_angle_in_work = std::max(s.work.tractor_angle.bound, s.work.implement_angle.bound);
    n.joint_angle_over_travel = std::max(s.travel.tractor_angle.bound, s.travel.implement_angle.bound);
}

void take_drawn(FitNumbers& n, const Setup& setup, const DrawnAnalysis& d) {
    if (d.model.pin < setup.tractor.drawbar_pins.size()) n.drawbar_pin = setup.tractor.drawbar_pins[d.model.pin].name;
    if (!d.model.has_shaft) return;
    n.shortest = d.whole.shortest.bound;
    n.longest = d.whole.longest.bound;
    n.joint_angle_in_work = std::max(d.straight.tractor_angle, d.straight.implement_angle);
    n.joint_angle_over_travel = std::max(d.whole.tractor_angle.bound, d.whole.implement_angle.bound);
}

void take_cut(FitNumbers& n, const CutCase& c) {
    n.shortest = c.travel.shortest;
    n.longest = c.travel.longest;
    n.cut_answer = std::string(cut_answer_word(c.plan.answer));
    if (!is_answered(c.plan)) return;
    n.gap = c.plan.uncut.gap;
    n.overlap = c.plan.uncut.overlap;
    if (c.plan.answer == CutAnswer::no_cut_works) return;
    n.cut_tractor_half = c.plan.recommended.a;
    n.cut_implement_half = c.plan.recommended.b;
}

void take_loads(FitNumbers& n, const Analysis& a) {
    if (a.lift && a.lift->least_capacity) n.lift_least = a.lift->least_capacity->bound;
    if (a.lift && a.lift->mass_known) n.load = a.lift->mass;
    if (!a.axles || !a.axles->known) return;
    for (const FrontShare& s : a.axles->shares) {
        if (s.base != a.axles->binding) continue;
        n.front_axle_share = s.share;
        n.front_axle_share_wanted = s.wanted;
    }
}

struct JsonAdder {
    JsonObject& object;
    void text(std::string_view name, const std::string& value) {
        object.add(name, value.empty() ? JsonValue() : JsonValue(value));
    }
    void number(std::string_view name, Dimension dimension, const std::optional<double>& value) {
        const std::string key = name_with_unit(name, dimension);
        if (value) object.number(key, *value * find_edge_unit(dimension).per_si);
        else object.add(key, JsonValue());
    }
};

JsonValue make_brief_finding(const Finding& f, const FindingContext& context) {
    const EdgeUnit unit = find_edge_unit(f.dimension);
    JsonObject o;
    o.add("kind", finding_word(f.kind)).add("severity", severity_word(f.severity)).add("subject", f.subject).add("other", f.other);
    o.add("unit", unit.name).number("value", f.value * unit.per_si);
    if (f.has_limit) o.number("limit", f.limit * unit.per_si).number("margin", f.margin * unit.per_si);
    else o.add("limit", JsonValue()).add("margin", JsonValue());
    return o.add("text", describe_finding(f, context).headline).build();
}

}  // namespace

FitNumbers find_fit_numbers(const Setup& setup, const Analysis& analysis) {
    FitNumbers n;
    if (analysis.linkage) take_linkage(n, setup, *analysis.linkage);
    if (analysis.shaft) take_shaft(n, *analysis.shaft);
    if (analysis.drawn) take_drawn(n, setup, *analysis.drawn);
    if (const std::optional<CutCase> c = make_cut_case(setup, analysis)) take_cut(n, *c);
    take_loads(n, analysis);
    return n;
}

std::string name_with_unit(std::string_view name, Dimension dimension, UnitSystem lengths) {
    const std::string_view unit = find_edge_unit(dimension, lengths).name;
    return unit == "1" ? std::string(name) : fmt::format("{}_{}", name, unit);
}

void add_fit_numbers(JsonObject& object, const FitNumbers& numbers) { visit_fit_numbers(numbers, JsonAdder{object}); }

void add_brief_fit(JsonObject& object, const Setup& setup, const Analysis& analysis, UnitSystem units) {
    const FindingContext context = make_finding_context(setup, analysis, units);
    JsonArray steps, findings, cautions;
    for (std::string& step : list_steps(setup, analysis, units)) steps.emplace_back(std::move(step));
    for (const Finding& f : analysis.findings) {
        if (f.severity != Severity::good) findings.push_back(make_brief_finding(f, context));
    }
    for (const Caution c : list_closing_cautions(analysis)) cautions.emplace_back(caution_word(c));
    JsonObject numbers;
    add_fit_numbers(numbers, find_fit_numbers(setup, analysis));
    object.add("name", setup.name).add("verdict", verdict_word(analysis.verdict)).add("text", format_verdict_sentence(setup, analysis, units));
    object.add("steps", std::move(steps)).add("numbers", numbers.build()).add("findings", std::move(findings));
    object.add("cautions", std::move(cautions));
}

}  // namespace hitchwright
