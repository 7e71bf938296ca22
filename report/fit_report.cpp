// See fit_report.h.
#include "report/fit_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "geometry/visit_readings.h"
#include "report/caution_text.h"
#include "report/explain_text.h"
#include "report/finding_text.h"
#include "report/float_text.h"
#include "report/part_effect_text.h"
#include "report/space_text.h"
#include "report/drawn_text.h"
#include "report/travel_table.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

bool asks_for_step(const Finding& f) { return f.severity < Severity::watch; }

/// Order of work within one severity: what changes the linkage or the travel comes before the shaft is cut, and the
/// shaft before its guard.
int find_work_order(FindingKind kind) {
    switch (kind) {
        case FindingKind::missing_reading:
        case FindingKind::hidden_pins:
        case FindingKind::direct_reading:
        case FindingKind::direct_travel:
        case FindingKind::model_fit:
            return 0;
        case FindingKind::linkage_cannot_close:
        case FindingKind::coupler_seat:
        case FindingKind::travel_bound:
        case FindingKind::dead_centre_in_travel:
            return 1;
        case FindingKind::upper_link_reach:
        case FindingKind::working_pitch:
        case FindingKind::drawbar_length:
        case FindingKind::drawbar_load:
            return 2;
        case FindingKind::separation:
        case FindingKind::gap_at_shortest:
            return 3;
        case FindingKind::overlap_at_longest:
        case FindingKind::overlap_in_work:
            return 4;
        case FindingKind::joint_angle_in_work:
        case FindingKind::joint_angle_over_travel:
            return 5;
        case FindingKind::cut:
        case FindingKind::no_cut_works:
            return 7;
        case FindingKind::guard_gap:
        case FindingKind::guard_overlap:
            return 8;
        default:
            return 6;
    }
}

/// Findings by severity, then by order of work.
std::vector<const Finding*> sort_by_work(const std::vector<Finding>& findings) {
    std::vector<const Finding*> sorted;
    for (const Finding& f : findings) sorted.push_back(&f);
    std::stable_sort(sorted.begin(), sorted.end(), [](const Finding* a, const Finding* b) {
        if (a->severity != b->severity) return a->severity < b->severity;
        return find_work_order(a->kind) < find_work_order(b->kind);
    });
    return sorted;
}

/// Of several conditions of one kind and side the one with the tightest height speaks for all.
bool is_tightest(const Finding& f, const Remedy& mine, const std::vector<Finding>& all) {
    if (f.severity != Severity::condition || mine.kind != RemedyKind::pto_off_above) return true;
    const bool below = mine.subject == "below";
    for (const Finding& g : all) {
        if (g.severity != Severity::condition || g.other != f.other) continue;
        for (const Remedy& r : g.remedies) {
            if (r.kind != RemedyKind::pto_off_above || (r.subject == "below") != below) continue;
            if (below ? r.value > mine.value : r.value < mine.value) return false;
        }
    }
    return true;
}

/// Another shaft is needed anyway: more overlap or longer guard tubes of this one are no step of their own.
bool is_covered_by_other_shaft(const Finding& f, const std::vector<Finding>& all) {
    const bool shaft_part = f.kind == FindingKind::guard_overlap || f.remedies.front().kind == RemedyKind::longer_shaft;
    return shaft_part &&
           std::any_of(all.begin(), all.end(), [](const Finding& g) { return g.kind == FindingKind::no_cut_works; });
}

/// The length to set the upper link to, when the analysis chose it: the first thing to do on the machine.
void add_upper_link(const std::vector<Finding>& findings, const FindingContext& context,
                    std::vector<std::string>& steps) {
    for (const Finding& f : findings) {
        if (f.kind != FindingKind::upper_link_reach || f.other != "for_working_pitch" || f.severity < Severity::watch)
            continue;
        steps.push_back(describe_finding(f, context).headline + " (pin centre to pin centre).");
    }
}

/// A reading that several findings want measured again is one step: that of the first of them.
bool is_first_to_ask(const Finding& f, const Remedy& mine, const std::vector<Finding>& all) {
    if (mine.kind != RemedyKind::measure) return true;
    const auto retaken = [&](const Finding& g) {
        return asks_for_step(g) && std::any_of(g.remedies.begin(), g.remedies.end(), [&](const Remedy& r) { return is_retake(r) && r.subject == mine.subject; });
    };
    if (std::any_of(all.begin(), all.end(), retaken)) return false;
    for (const Finding& g : all) {
        if (&g == &f) return true;
        const bool asks = !g.remedies.empty() && g.remedies.front().kind == RemedyKind::measure &&
                          g.remedies.front().subject == mine.subject && g.other == f.other;
        if (asks && asks_for_step(g)) return false;
    }
    return true;
}

bool is_cut(const Remedy& r) {
    return r.kind == RemedyKind::cut_both_halves || r.kind == RemedyKind::cut_tractor_half || r.kind == RemedyKind::cut_implement_half;
}

bool offers_position(const Finding& f, const std::string& position) {
    return std::any_of(f.remedies.begin(), f.remedies.end(),
                       [&](const Remedy& r) { return r.kind == RemedyKind::other_drawbar_pin && r.subject == position; });
}

/// Findings that want another position of the drawbar's pin want one that puts all of them right, where there is one.
const Remedy& find_shared_position(const Remedy& mine, const Finding& f, const std::vector<Finding>& all) {
    if (mine.kind != RemedyKind::other_drawbar_pin) return mine;
    const auto wants_other = [](const Finding& g) {
        return asks_for_step(g) && !g.remedies.empty() && g.remedies.front().kind == RemedyKind::other_drawbar_pin;
    };
    for (const Remedy& r : f.remedies) {
        const bool shared = r.kind == RemedyKind::other_drawbar_pin &&
                            std::all_of(all.begin(), all.end(), [&](const Finding& g) { return !wants_other(g) || offers_position(g, r.subject); });
        if (shared) return r;
    }
    return mine;
}

std::vector<std::string> find_steps(const std::vector<Finding>& findings, const FindingContext& context) {
    std::vector<std::string> steps;
    const bool forbidden =
        std::any_of(findings.begin(), findings.end(), [](const Finding& f) { return f.severity == Severity::forbids; });
    if (!forbidden) add_upper_link(findings, context, steps);
    const std::vector<const Finding*> sorted = sort_by_work(findings);
    const std::vector<Remedy> retakes = list_readings_to_retake(findings);
    const auto add = [&](std::string step) {
        if (std::find(steps.begin(), steps.end(), step) == steps.end()) steps.push_back(std::move(step));
    };
    for (const Finding* f : sorted) {
        if (!asks_for_step(*f) || f->remedies.empty() || is_covered_by_other_shaft(*f, findings)) continue;
        if (is_retake(f->remedies.front())) {
            for (const Remedy& r : retakes) add(format_remedy(r, *f, context));
            continue;
        }
        const std::size_t count = needs_all_remedies(*f) ? f->remedies.size() : 1;
        for (std::size_t i = 0; i < count; ++i) {
            if (!is_tightest(*f, f->remedies[i], findings) || !is_first_to_ask(*f, f->remedies[i], findings)) continue;
            const Remedy& remedy = find_shared_position(f->remedies[i], *f, findings);
            std::string step = format_remedy(remedy, *f, context);
            if (f->kind == FindingKind::cut && is_cut(remedy)) step += " Not before a direct reading, shaft to shaft, agrees.";
            add(std::move(step));
        }
    }
    return steps;
}

const Finding* find_first(const std::vector<Finding>& findings, Severity severity) {
    const auto found =
        std::find_if(findings.begin(), findings.end(), [severity](const Finding& f) { return f.severity == severity; });
    return found == findings.end() ? nullptr : &*found;
}

std::string say_verdict(const Analysis& a, const FindingContext& context) {
    const auto first = [&](Severity severity) {
        const Finding* f = find_first(a.findings, severity);
        return f ? describe_finding(*f, context).headline : std::string("Nothing was judged");
    };
    const std::string verdict(verdict_headline(a.verdict));
    switch (a.verdict) {
        case Verdict::must_not_run:
            return fmt::format("{} like this. {}.", verdict, first(Severity::forbids));
        case Verdict::fits_after_change:
            return fmt::format("{}. {}.", verdict, first(Severity::change));
        case Verdict::too_close_to_call:
        case Verdict::not_known:
            return fmt::format("{}. {}.", verdict, first(Severity::unknown));
        case Verdict::fits:
            break;
    }
    const bool conditional = find_first(a.findings, Severity::condition) != nullptr;
    const bool watched = find_first(a.findings, Severity::watch) != nullptr;
    const std::string open = a.unjudged.empty() ? "" : " Some things were not judged, for want of readings.";
    if (conditional) return verdict + ", as long as you keep to the conditions below." + open;
    return verdict + (watched ? ". Mind what is to watch." : ". All that was judged is within its limits.") + open;
}

/// "(example preset)" when any of the part's readings came from a built-in file.
template <class Part>
std::string mark_preset(Part part) {
    const bool preset = any_part_reading(
        part, [](const Reading& r, const FieldSpec&) { return r.known && r.origin == Origin::preset; });
    return preset ? " (example preset: measure yours)" : "";
}

std::string name_or_key(const std::string& name, const std::string& key) {
    return printable_text(name.empty() ? (key.empty() ? "(no name)" : key) : name, 120);
}

/// "coupler (hooks), overrunning clutch".
std::string list_fitted_parts(const Parts& parts) {
    std::string text;
    const auto add = [&text](PartKind kind, const auto& part) {
        if (part.fitted) text += (text.empty() ? "" : ", ") + part_name(kind, part.name);
    };
    add(PartKind::link_extender, parts.link_extender);
    add(PartKind::coupler, parts.coupler);
    add(PartKind::overrunning_clutch, parts.overrunning_clutch);
    add(PartKind::spline_extender, parts.spline_extender);
    return text;
}

std::string format_part(const char* what, const std::string& name, const TextStyle& style) {
    return format_labelled(fmt::format("{:<11}", what), name, style.width, 2, 13);
}

std::string format_title(const Setup& s, const Analysis& a, const TextStyle& style) {
    const std::string text = format_machines(s, style);
    if (a.drawn && a.drawn->model.pin < s.tractor.drawbar_pins.size()) {
        return text + format_part("drawbar", fmt::format("pin in position {}", printable_text(s.tractor.drawbar_pins[a.drawn->model.pin].name, 24)), style);
    }
    if (!a.linkage) return text;
    const MountedModel& m = a.linkage->model;
    if (m.tractor_pin >= s.tractor.upper_link_pins.size() || m.mast_pin >= s.implement.mast_pins.size()) return text;
    const std::string pin = printable_text(s.tractor.upper_link_pins[m.tractor_pin].name, 24);
    const std::string mast = printable_text(s.implement.mast_pins[m.mast_pin].name, 24);
    std::string where = m.has_coupler ? fmt::format("in hole {} on the tractor, on the coupler's own pin; mast pin {} in the top hook", pin, mast)
                                      : fmt::format("in hole {} on the tractor, hole {} on the mast", pin, mast);
    if (s.tractor.lift_rod_holes.size() > 1) where += fmt::format("; lift rods in hole {}", printable_text(m.rod_hole, 24));
    return text + format_part("upper link", where, style);
}

std::string format_verdict(const Analysis& a, const FindingContext& context, const TextStyle& style) {
    const std::string sentence = say_verdict(a, context);
    std::string text = format_paragraph(sentence, style.width, 0, 0);
    static constexpr Severity severities[] = {Severity::good, Severity::change, Severity::forbids, Severity::unknown,
                                              Severity::unknown};
    const std::string_view words = verdict_headline(a.verdict);
    if (text.starts_with(words))
        text.replace(0, words.size(), paint_mark(severities[static_cast<std::size_t>(a.verdict)], words, style));
    const std::vector<std::string> steps = find_steps(a.findings, context);
    if (steps.empty()) return text;
    text += "\nWhat to do, engine off, key out, all at rest\n";
    for (std::size_t i = 0; i < steps.size(); ++i) {
        text += format_labelled(fmt::format("{}. ", i + 1), steps[i], style.width, 2, 5);
    }
    const bool heights = std::any_of(steps.begin(), steps.end(),
                                     [](const std::string& s) { return s.find("ball height") != std::string::npos; });
    if (heights)
        text += format_paragraph("Ball height: floor to the centres of the lower-link balls.", style.width, 2, 2);
    return text;
}

/// "1 must not run, 2 to change, 24 within limits."
std::string count_findings(const std::vector<Finding>& findings) {
    static constexpr std::pair<Severity, const char*> words[] = {
        {Severity::forbids, "must not run"},   {Severity::unknown, "not decided"}, {Severity::change, "to change"},
        {Severity::condition, "on condition"}, {Severity::watch, "to watch"},      {Severity::good, "within limits"}};
    std::string text;
    for (const auto& [severity, word] : words) {
        const auto n = std::count_if(findings.begin(), findings.end(),
                                     [s = severity](const Finding& f) { return f.severity == s; });
        if (n > 0) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", n, word);
    }
    return text.empty() ? "none." : text + '.';
}

std::string format_findings(const Setup& s, const Analysis& a, const FindingContext& context, const TextStyle& style,
                            bool explain) {
    std::string text =
        format_paragraph(fmt::format("Findings, worst first: {}", count_findings(a.findings)), style.width, 0, 2);
    std::vector<std::vector<std::string_view>> listed;
    for (std::size_t i = 0; i < a.findings.size(); ++i) {
        const Finding& f = a.findings[i];
        const FindingText words = describe_finding(f, context);
        // Findings within limits that follow each other under one rule name it once, behind the last of them.
        const bool shared = !explain && f.severity == Severity::good && words.detail.empty() &&
                            words.cautions.empty() && i + 1 < a.findings.size() &&
                            describe_finding(a.findings[i + 1], context).source == words.source;
        text += format_finding(words, f.severity, shared ? std::string_view() : std::string_view(words.source), style);
        if (!explain) continue;
        const std::vector<std::string_view> keys = list_input_keys(f.kind);
        const bool repeated = std::find(listed.begin(), listed.end(), keys) != listed.end();
        text += format_explanation(f, s, style, !repeated) + '\n';
        listed.push_back(keys);
    }
    return text;
}

/// What direct readings say of the model, and what to read next.
std::string format_trust(const Analysis& a, const TextStyle& style) {
    std::string text;
    for (const std::string& sentence : list_trust_sentences(a, style.units)) text += format_paragraph(sentence, style.width, 0, 2);
    return text.empty() ? text : text + '\n';
}

/// What the fit says nothing about, and the readings that would let it.
std::string format_unjudged(const Analysis& a, const TextStyle& style) {
    if (a.unjudged.empty()) return {};
    std::string text = "Not judged, for want of readings\n";
    for (const Unjudged& u : a.unjudged) {
        std::string keys;
        for (const std::string& key : u.readings) keys += (keys.empty() ? "" : ", ") + key;
        text += format_paragraph(fmt::format("{}: {}", u.question, keys), style.width, 2, 4);
    }
    return text + '\n';
}

std::string format_cautions(const Analysis& a, const TextStyle& style) {
    std::string text = "Cautions\n";
    for (const Caution c : list_closing_cautions(a)) {
        text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
    }
    return text;
}

std::string format_grades(const TextStyle& style) {
    std::string text = "Grades of rules:";
    for (const Grade g : {Grade::A, Grade::B, Grade::C, Grade::D, Grade::P}) {
        text += fmt::format("{} {} {}", g == Grade::A ? "" : ";", grade_letter(g), grade_meaning(g));
    }
    return format_paragraph(text + ".", style.width, 0, 2);
}

}  // namespace

std::string format_machines(const Setup& s, const TextStyle& style) {
    std::string text = format_paragraph(name_or_key(s.name, s.key), style.width, 0, 0);
    const auto add = [&](const char* what, const std::string& name) { text += format_part(what, name, style); };
    add("tractor", name_or_key(s.tractor.name, s.tractor.key) + mark_preset(s.tractor));
    add("implement", name_or_key(s.implement.name, s.implement.key) + mark_preset(s.implement));
    if (s.has_driveline)
        add("shaft", name_or_key(s.driveline.name, s.driveline.key) + mark_preset(s.driveline));
    add("rules", name_or_key(s.rules.name, s.rules.key));
    if (const std::string parts = list_fitted_parts(s.parts); !parts.empty()) add("fitted", parts);
    return text;
}

std::string format_verdict_sentence(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    return say_verdict(analysis, make_finding_context(setup, analysis, units));
}

std::vector<Remedy> list_readings_to_retake(const std::vector<Finding>& findings) {
    std::vector<Remedy> retakes;
    for (const Finding* f : sort_by_work(findings)) {
        if (!asks_for_step(*f)) continue;
        for (const Remedy& r : f->remedies) {
            if (!is_retake(r)) continue;
            const auto same = std::find_if(retakes.begin(), retakes.end(), [&](const Remedy& other) { return other.subject == r.subject; });
            if (same == retakes.end()) retakes.push_back(r);
            else same->second = std::min(same->second, r.second);
        }
    }
    return retakes;
}

std::vector<std::string> list_steps(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    return find_steps(analysis.findings, make_finding_context(setup, analysis, units));
}

std::string format_fit_report(const Setup& setup, const Analysis& analysis, const TextStyle& style, bool explain,
                              const std::string& more) {
    const FindingContext context = make_finding_context(setup, analysis, style.units);
    std::string text = format_title(setup, analysis, style) + '\n' + format_verdict(analysis, context, style) + '\n' + format_trust(analysis, style) +
                       format_findings(setup, analysis, context, style, explain);
    if (analysis.linkage) {
        text += '\n' + format_pose_table(analysis, style) + format_travel_bounds(analysis, style) +
                format_bound_statement(analysis, style);
    }
    if (analysis.drawn) text += '\n' + format_drawn_study(analysis, style);
    text += '\n' + format_float_study(analysis, style) + format_space_study(analysis, style) + format_part_effects(analysis, style) + format_unjudged(analysis, style) + format_origins(setup, style) + format_grades(style);
    if (!more.empty()) text += '\n' + more;
    return text + '\n' + format_cautions(analysis, style);
}

}  // namespace hitchwright
