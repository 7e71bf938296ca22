// See finding_text.h.
#include "report/finding_text.h"

#include <fmt/format.h>

#include "geometry/error_model.h"
#include "geometry/visit_readings.h"
#include "report/caution_text.h"
#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

constexpr std::size_t indent = 4;

Sentences say(const Finding& f, const FindingContext& context) {
    switch (f.kind) {
        case FindingKind::missing_reading:
        case FindingKind::linkage_cannot_close:
        case FindingKind::upper_link_reach:
        case FindingKind::working_pitch:
        case FindingKind::pitch_range:
        case FindingKind::dead_centre_in_travel:
        case FindingKind::travel_bound:
        case FindingKind::floating_link_band:
            return say_linkage(f, context);
        case FindingKind::hidden_pins:
        case FindingKind::direct_reading:
        case FindingKind::direct_travel:
        case FindingKind::model_fit:
            return say_reading(f, context);
        case FindingKind::coupler_seat:
        case FindingKind::link_extender:
        case FindingKind::lift_rod_hole:
        case FindingKind::other_tyres:
        case FindingKind::floating_link_slot:
            return say_part(f, context);
        case FindingKind::gap_at_shortest:
        case FindingKind::overlap_at_longest:
        case FindingKind::overlap_in_work:
        case FindingKind::separation:
        case FindingKind::cut:
        case FindingKind::no_cut_works:
        case FindingKind::non_uniformity:
        case FindingKind::guard_gap:
        case FindingKind::guard_overlap:
            return say_shaft(f, context);
        case FindingKind::joint_angle_in_work:
        case FindingKind::joint_angle_over_travel:
        case FindingKind::joint_angle_watch:
            return say_joint(f, context);
        case FindingKind::side_level:
        case FindingKind::levelling_rod:
        case FindingKind::lift_rods_set:
        case FindingKind::sway:
        case FindingKind::check_chain:
        case FindingKind::tyre_room:
        case FindingKind::side_motion:
            return say_space(f, context);
        case FindingKind::category_match:
        case FindingKind::pin_match:
        case FindingKind::span_match:
        case FindingKind::mast_match:
        case FindingKind::pto_type_match:
        case FindingKind::pto_speed_match:
        case FindingKind::pto_spline_match:
        case FindingKind::pto_rotation_match:
        case FindingKind::driveline_power:
            return say_match(f, context);
        case FindingKind::drawbar_length:
        case FindingKind::drawbar_height:
        case FindingKind::drawbar_drop:
        case FindingKind::drawbar_load:
        case FindingKind::hitch_play:
        case FindingKind::turn_limit:
        case FindingKind::articulation_angle:
        case FindingKind::ditch_crossing:
            return say_drawn(f, context);
        case FindingKind::lift_capacity:
        case FindingKind::load_rise:
        case FindingKind::front_axle_share:
        case FindingKind::rear_axle_share:
        case FindingKind::carried_load:
            return say_load(f, context);
        case FindingKind::specification_line:
        case FindingKind::specification_not_measured:
            return say_specification(f, context);
        case FindingKind::clearance:
        case FindingKind::ground_clearance:
        case FindingKind::joint_model:
            return say_room(f, context);
    }
    return {};
}

/// What is added where the readings decide less than the limit asks; kinds that say so themselves add nothing.
std::string say_open(const Finding& f, UnitSystem units) {
    switch (f.kind) {
        case FindingKind::upper_link_reach:
        case FindingKind::working_pitch:
        case FindingKind::travel_bound:
        case FindingKind::floating_link_band:
        case FindingKind::ground_clearance:
        case FindingKind::span_match:
        case FindingKind::driveline_power:
        case FindingKind::levelling_rod:
        case FindingKind::check_chain:
        case FindingKind::hitch_play:
        case FindingKind::load_rise:
            if (f.severity != Severity::unknown || !(f.band > 0.0)) return {};
            return fmt::format(" Too close to call: the readings may move it by {} (95 %).", format_decimal_quantity(f.band, f.dimension, units));
        default:
            return {};
    }
}

/// A headline or sentence that repeats a remedy needs no step of its own.
bool repeats_headline(const Finding& f, const Remedy& r) {
    const bool cut = r.kind == RemedyKind::cut_both_halves || r.kind == RemedyKind::cut_tractor_half ||
                     r.kind == RemedyKind::cut_implement_half;
    if (f.kind == FindingKind::cut && cut) return true;
    return f.severity == Severity::condition && r.kind == RemedyKind::pto_off_above && &r == &f.remedies.front();
}

/// Sources that say nothing beyond the sentence itself.
bool shows_source(const Finding& f) { return f.rule.set && f.rule.source != "closure of the linkage"; }

std::string strip_end(std::string text) {
    while (!text.empty() && text.back() == ' ') text.pop_back();
    return text;
}

/// Errors as they are of what is to be taken again.
std::map<std::string, double> find_retake_errors(const Setup& setup, const Analysis& analysis) {
    std::map<std::string, double> errors;
    for (const Finding& f : analysis.findings) {
        for (const Remedy& r : f.remedies) {
            if (is_retake(r)) errors[r.subject] = 0.0;
        }
    }
    if (errors.empty()) return errors;
    Setup copy = setup;
    visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
        if (const auto found = errors.find(key); found != errors.end()) found->second = find_reading_error(r, spec, key);
    });
    std::erase_if(errors, [](const auto& e) { return e.second <= 0.0; });
    return errors;
}

}  // namespace

FindingContext make_finding_context(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    return {SafeWords{units}, make_cut_case(setup, analysis), setup.implement.attachment == Attachment::drawn, find_retake_errors(setup, analysis)};
}

FindingText describe_finding(const Finding& finding, const FindingContext& context) {
    const Sentences s = say(finding, context);
    FindingText text;
    text.mark = finding_mark(finding);
    text.headline = strip_end(s.headline);
    text.detail = strip_end(strip_end(s.detail) + say_open(finding, context.words.units));
    if (shows_source(finding)) text.source = format_source(finding.rule);
    bool retakes = false;
    for (const Remedy& r : finding.remedies) {
        if (is_retake(r)) {
            if (!retakes) text.steps.push_back(format_retakes(finding, context));
            retakes = true;
        } else if (!repeats_headline(finding, r)) text.steps.push_back(format_remedy(r, finding, context));
    }
    text.all_steps = needs_all_remedies(finding);
    for (const Caution c : finding.cautions) text.cautions.emplace_back(caution_sentence(c));
    return text;
}

std::string format_finding_sentence(const Finding& finding, const FindingContext& context) {
    const FindingText text = describe_finding(finding, context);
    std::string result = text.headline + '.';
    if (!text.detail.empty()) result += ' ' + text.detail;
    for (const std::string& step : text.steps) result += ' ' + step;
    return result;
}

std::string format_finding(const Finding& finding, const FindingContext& context, const TextStyle& style) {
    const FindingText text = describe_finding(finding, context);
    return format_finding(text, finding.severity, text.source, style);
}

std::string format_finding(const FindingText& text, Severity severity, std::string_view source,
                           const TextStyle& style) {
    std::string lines = format_labelled(text.mark + "  ", text.headline, style.width, 0, indent);
    // The mark is at the very beginning, so colour can be put around it once the lines are broken.
    lines.replace(0, text.mark.size(), paint_mark(severity, text.mark, style));
    const auto add = [&](std::string_view label, std::string_view paragraph) {
        if (!paragraph.empty()) lines += format_labelled(label, paragraph, style.width, indent, indent + label.size());
    };
    const std::string rule = source.empty() ? std::string() : fmt::format("Rule: {}.", source);
    add("", severity < Severity::watch ? text.detail : strip_end(fmt::format("{} {}", text.detail, rule)));
    if (severity < Severity::watch) add("", rule);
    for (std::size_t i = 0; i < text.steps.size(); ++i)
        add(i == 0 ? "Do: " : text.all_steps ? "And: " : "Or: ", text.steps[i]);
    for (const std::string& caution : text.cautions) add("! ", caution);
    return lines;
}

bool needs_all_remedies(const Finding& finding) {
    if (finding.other == "lift_stop") return true;
    return finding.severity == Severity::condition && !finding.remedies.empty() &&
           finding.remedies.front().kind == RemedyKind::pto_off_above;
}

std::string_view finding_mark(const Finding& finding) {
    switch (finding.severity) {
        case Severity::forbids:
            return "MUST NOT RUN";
        case Severity::unknown:
            return finding.band > 0.0 ? "TOO CLOSE TO CALL" : "NOT KNOWN";
        case Severity::change:
            return "CHANGE";
        case Severity::condition:
            return "CONDITION";
        case Severity::watch:
            return "WATCH";
        case Severity::good:
            return "OK";
    }
    return "NOT KNOWN";
}

std::string paint_mark(Severity severity, std::string_view mark, const TextStyle& style) {
    if (!style.colour) return std::string(mark);
    static constexpr std::string_view codes[] = {"1;31", "1;35", "1;33", "1;36", "34", "32"};
    return fmt::format("\x1b[{}m{}\x1b[0m", codes[static_cast<std::size_t>(severity)], mark);
}

std::string_view verdict_headline(Verdict verdict) {
    switch (verdict) {
        case Verdict::fits:
            return "FITS";
        case Verdict::fits_after_change:
            return "FITS AFTER A CHANGE";
        case Verdict::must_not_run:
            return "MUST NOT RUN";
        case Verdict::too_close_to_call:
            return "TOO CLOSE TO CALL";
        case Verdict::not_known:
            return "NOT KNOWN";
    }
    return "NOT KNOWN";
}

const std::vector<FindingKind>& all_finding_kinds() {
    static const std::vector<FindingKind> all = [] {
        std::vector<FindingKind> list;
        for (int k = 0; k <= static_cast<int>(FindingKind::joint_model); ++k)
            list.push_back(static_cast<FindingKind>(k));
        return list;
    }();
    return all;
}

double find_term(const Finding& finding, std::string_view symbol, double fallback) {
    for (const Term& t : finding.terms) {
        if (t.symbol == symbol) return t.value;
    }
    return fallback;
}

bool has_term(const Finding& finding, std::string_view symbol) {
    for (const Term& t : finding.terms) {
        if (t.symbol == symbol) return true;
    }
    return false;
}

std::string format_where(const Finding& finding, const SafeWords& words) {
    if (finding.has_attitude) return "at " + format_attitude(finding.attitude);
    return finding.has_height ? "at ball height " + words.place(finding.height) : std::string();
}

std::string format_heights(const std::vector<HeightRange>& heights, const SafeWords& words) {
    std::string text;
    for (const HeightRange& r : heights) {
        if (!text.empty()) text += " and ";
        text += fmt::format("{} to {}", words.at_least(r.low), words.at_most(r.high));
    }
    return text;
}

std::string capitalized(std::string_view text) {
    std::string result = printable_text(text);
    if (!result.empty() && result.front() >= 'a' && result.front() <= 'z')
        result.front() = static_cast<char>(result.front() - 'a' + 'A');
    return result;
}

}  // namespace hitchwright
