// See hole_report.h.
#include "report/hole_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "report/caution_text.h"
#include "report/fit_report.h"
#include "report/hole_tables.h"
#include "report/hole_words.h"

namespace hitchwright {
namespace {

std::string say_count(const Setup& s, const HoleStudy& study) {
    const std::string rod = s.tractor.lift_rod_holes.empty()
                                ? std::string()
                                : fmt::format(", {} for the lift rod", format_count(s.tractor.lift_rod_holes.size(), "hole"));
    return fmt::format("Which hole: {} of {} on the tractor and {} on the mast{}.", format_count(study.combinations, "combination"),
                       format_count(s.tractor.upper_link_pins.size(), "hole"),
                       format_count(s.implement.mast_pins.size(), "hole"), rod);
}

/// What all rows have in common: how the link is set, what decided the order.
std::string say_terms(const Setup& s, const HoleStudy& study, const SafeWords& words) {
    std::string text = say_count(s, study);
    const MountedModel* model = nullptr;
    for (const HoleResult& r : study.results) {
        if (r.analysis.linkage) model = &r.analysis.linkage->model;
    }
    if (model && model->upper_link_source == UpperLinkSource::for_working_pitch) {
        text += fmt::format(" In each the upper link is set for a pitch of {} at ball height {}.", format_angle(model->working_pitch),
                            words.place(model->working_height));
    } else if (model) {
        text += fmt::format(" No working height is known: the upper link keeps its {} in each.", words.place(model->linkage.upper_length));
    }
    if (study.typed_link_ignored) {
        text += fmt::format(" The link length typed in the set-up, {}, is not used here.", words.place(s.choices.upper_link_length.value));
    }
    text += fmt::format(" Ordered by {}.", say_wish(study.judged_by));
    if (study.judged_by != study.wish) {
        text += fmt::format(" (The wish {} says nothing here: no combination has it.)", hole_wish_word(study.wish));
    }
    return text;
}

std::string format_list(std::string_view label, const std::vector<std::string>& items, const TextStyle& style) {
    std::string text;
    for (const std::string& item : items) text += format_labelled(label, item, style.width, 2, 2 + label.size());
    return text;
}

/// The next combination that is not just as good, or nothing.
const HoleResult* find_next(const HoleStudy& study) {
    const auto found = std::find_if(study.results.begin(), study.results.end(),
                                    [&](const HoleResult& r) { return r.place != study.results.front().place; });
    return found == study.results.end() ? nullptr : &*found;
}

std::string format_ties(const HoleStudy& study, const TextStyle& style) {
    std::string names;
    for (std::size_t i = 1; i < study.results.size() && study.results[i].place == study.results[0].place; ++i) {
        names += (names.empty() ? "" : "; ") + name_holes(study, study.results[i].numbers);
    }
    if (names.empty() || !study.results[0].numbers.has_numbers) return {};
    const bool present = study.results[0].numbers.is_present;
    return format_paragraph(fmt::format("Just as good, to what can be shown: {}. {}", names,
                                        present ? "The set-up's own holes go first." : "The order of the files decides."),
                            style.width, 2, 2);
}

std::string format_reasons(const HoleStudy& study, const TextStyle& style) {
    const HoleResult* next = find_next(study);
    if (!next || !study.results[0].numbers.has_numbers) return {};
    const HoleReasons reasons = list_hole_reasons(study.results[0], *next, study.judged_by, SafeWords{style.units});
    std::string text;
    if (next->standing != study.results[0].standing) {
        text += format_paragraph(fmt::format("The next, {}: {}.", name_holes(study, next->numbers), say_standing(next->standing)), style.width, 2, 2);
    }
    // Against holes that cannot work nothing else counts.
    if (next->standing >= HoleStanding::other_shaft && study.results[0].standing < HoleStanding::other_shaft) return text;
    if (reasons.better.empty() && reasons.worse.empty()) return text;
    text += format_paragraph(fmt::format("Against the next, {}:", name_holes(study, next->numbers)), style.width, 2, 2);
    return text + format_list("+ ", reasons.better, style) + format_list("- ", reasons.worse, style);
}

std::string format_best(const Setup& setup, const HoleStudy& study, const TextStyle& style) {
    const HoleResult& best = study.results.front();
    std::string text = format_paragraph(say_best_holes(study) + ".", style.width, 0, 2);
    if (!best.numbers.has_numbers || best.standing >= HoleStanding::must_not_run) return text;
    text += format_ties(study, style) + format_reasons(study, style);
    const Setup chosen = find_hole_setup(setup, best);
    const std::vector<std::string> steps = list_steps(chosen, best.analysis, style.units);
    if (!steps.empty()) text += "\nWith these holes, engine off, key out, all at rest\n";
    for (std::size_t i = 0; i < steps.size(); ++i) text += format_labelled(fmt::format("{}. ", i + 1), steps[i], style.width, 2, 5);
    return text;
}

/// Why the others come behind; those of the same place and words together.
std::string format_others(const Setup& setup, const HoleStudy& study, bool working, const TextStyle& style) {
    std::vector<std::pair<std::string, std::string>> lines;  // words, names
    for (const HoleResult& r : study.results) {
        const bool works = r.standing < HoleStanding::not_decided;
        const bool first = &r == &study.results.front() && r.standing <= HoleStanding::not_decided && r.numbers.has_numbers;
        if (works != working || (first && works)) continue;
        const std::string words = works ? say_why_behind(setup, study, r, style.units) : say_obstacles(setup, r, style.units, 2);
        if (words.empty()) continue;
        const auto same = std::find_if(lines.begin(), lines.end(), [&](const auto& l) { return l.first == words; });
        const std::string name = name_holes(study, r.numbers);
        if (same == lines.end()) lines.emplace_back(words, name);
        else same->second += "; " + name;
    }
    std::string text;
    const bool all = lines.size() == 1 && !working && study.results.size() > 1 && std::none_of(study.results.begin(), study.results.end(),
        [](const HoleResult& r) { return r.standing < HoleStanding::not_decided; });
    for (const auto& [words, name] : lines) {
        text += format_paragraph(fmt::format("{}: {}.", all ? "all" : name, words), style.width, 2, 4);
    }
    return text;
}

std::string format_cautions(const HoleStudy& study, const TextStyle& style) {
    std::string text = "\nCautions\n";
    const std::vector<Caution> cautions =
        study.results.empty() ? list_closing_cautions(Analysis{}) : list_closing_cautions(study.results.front().analysis);
    for (const Caution c : cautions) text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
    return text + format_labelled("! ", "Draft sensing and PTO work may each ask for a hole of their own: see the tractor's manual.",
                                  style.width, 2, 4);
}

std::string format_no_study(const Setup& setup, const HoleStudy& study, const TextStyle& style) {
    if (study.combinations > most_hole_combinations) {
        return format_paragraph(fmt::format("NOT KNOWN. {} combinations of holes are more than the {} that are studied.",
                                            study.combinations, most_hole_combinations), style.width, 0, 2);
    }
    Analysis a;
    a.findings = study.findings;
    const FindingContext context = make_finding_context(setup, a, style.units);
    std::string text = "NOT KNOWN.\n";
    for (const Finding& f : study.findings) {
        if (f.severity <= Severity::unknown) text += format_finding(f, context, style);
    }
    return text;
}

}  // namespace

std::string format_hole_report(const Setup& setup, const HoleStudy& study, const TextStyle& style) {
    std::string text = format_machines(setup, style) + '\n';
    if (study.results.empty()) return text + format_no_study(setup, study, style) + format_cautions(study, style);
    text += format_best(setup, study, style) + '\n' + format_paragraph(say_terms(setup, study, SafeWords{style.units}), style.width, 0, 0) + '\n';
    text += format_hole_tables(study, style);
    if (const std::string behind = format_others(setup, study, true, style); !behind.empty()) {
        text += "\nBehind the first choice, because\n" + behind;
    }
    if (const std::string obstacles = format_others(setup, study, false, style); !obstacles.empty()) {
        text += "\nNot decided, or cannot work\n" + obstacles;
    }
    return text + format_cautions(study, style);
}

}  // namespace hitchwright
