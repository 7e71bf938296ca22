#include "report/shaft_choice_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/cut_words.h"
#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr ShaftSuits all_suits[] = {ShaftSuits::as_it_is,     ShaftSuits::after_cut,    ShaftSuits::too_close_to_call,
                                    ShaftSuits::other_reason, ShaftSuits::wrong_guard,  ShaftSuits::no_cut_works, ShaftSuits::wrong_kind,
                                    ShaftSuits::not_known};

std::string_view suits_heading(ShaftSuits suits) {
    switch (suits) {
        case ShaftSuits::as_it_is: return "FIT AS THEY ARE";
        case ShaftSuits::after_cut: return "FIT AFTER A CUT";
        case ShaftSuits::too_close_to_call: return "TOO CLOSE TO CALL by these readings: read the distance directly";
        case ShaftSuits::other_reason: return "MUST NOT RUN, though the length serves";
        case ShaftSuits::wrong_guard: return "GUARD TUBES DO NOT FIT";
        case ShaftSuits::no_cut_works: return "DO NOT FIT, no cut works";
        case ShaftSuits::wrong_kind: return "NOT THE RIGHT KIND";
        case ShaftSuits::not_known: return "NOT KNOWN";
    }
    return "";
}

std::string format_left(const ShaftMargins& m, const SafeWords& w) {
    return fmt::format("gap {}, overlap {} ({} needed)", w.have(m.gap), w.have(m.overlap), w.need(m.overlap_needed));
}

bool decides(const Finding& f, ShaftSuits suits) {
    switch (suits) {
        case ShaftSuits::wrong_kind:
            return f.kind == FindingKind::pto_spline_match || f.kind == FindingKind::driveline_power || f.kind == FindingKind::pto_type_match;
        case ShaftSuits::wrong_guard:
            return f.kind == FindingKind::guard_gap || f.kind == FindingKind::guard_overlap;
        case ShaftSuits::other_reason:
            return f.severity == Severity::forbids;
        case ShaftSuits::too_close_to_call:
        case ShaftSuits::not_known:
            return f.severity == Severity::unknown;
        default:
            return true;
    }
}

/// Headline of the first finding that decides.
std::string format_first_reason(const ShaftChoice& c, const Setup& setup, UnitSystem units) {
    const auto worst = std::find_if(c.reasons.begin(), c.reasons.end(), [&](const Finding& f) { return decides(f, c.suits); });
    if (worst == c.reasons.end()) return "no shaft length can be computed";
    return describe_finding(*worst, make_finding_context(setup, {}, units)).headline;
}

std::string format_misfit(const CutPlan& p, const SafeWords& w) {
    if (p.obstacle == CutObstacle::tubes_used_up) {
        return fmt::format("it cannot close as far, whatever is cut: {} too long", w.need(std::max(0.0, -p.uncut.gap)));
    }
    if (p.least_total > 0.0) return fmt::format("after the least cut {} of overlap are lacking", w.need(p.overlap_short_by));
    const std::string there = p.uncut.overlap < 0.0 ? std::string("none") : w.have(p.uncut.overlap);
    return fmt::format("too short: {} of overlap at the longest point, {} needed", there, w.need(p.uncut.overlap_needed));
}

/// What the readings' errors leave open.
std::string format_doubt(const ShaftChoice& c, const Setup& setup, UnitSystem units) {
    const SafeWords w{units};
    const auto about = [&](FindingKind kind) {
        return std::any_of(c.reasons.begin(), c.reasons.end(), [&](const Finding& f) { return f.kind == kind && f.severity == Severity::unknown; });
    };
    if (about(FindingKind::no_cut_works)) return "by these readings no cut works: " + format_misfit(c.plan, w);
    if (about(FindingKind::cut)) {
        return fmt::format("by these readings cut {}; left: {}", format_cut(c.plan.recommended, c.plan.recommended_step, units), format_left(c.plan.after, w));
    }
    return format_first_reason(c, setup, units);
}

/// What may be worth knowing about a shaft that fits.
std::string format_remarks(const ShaftChoice& c, const Setup& setup, UnitSystem units) {
    std::string text;
    for (const Finding& f : c.reasons) {
        const bool power = f.kind == FindingKind::driveline_power || f.kind == FindingKind::pto_spline_match;
        if (f.severity != Severity::watch || !power) continue;
        text += ". " + describe_finding(f, make_finding_context(setup, {}, units)).headline;
        if (f.kind == FindingKind::driveline_power) text += ", and the tractor can give more";
    }
    return text;
}

std::size_t count(const ShaftStudy& study, ShaftSuits suits) {
    return static_cast<std::size_t>(std::count_if(study.choices.begin(), study.choices.end(),
                                                  [&](const ShaftChoice& c) { return c.suits == suits; }));
}

std::string format_key(const ShaftChoice& c) { return printable_text(find_shaft_key(c), 32) + (c.own ? " (now)" : ""); }

void add_groups(AnswerBuilder& out, const Setup& setup, const ShaftStudy& study) {
    std::size_t widest = 0;
    for (const ShaftChoice& c : study.choices) widest = std::max(widest, count_columns(format_key(c)));
    for (const ShaftSuits suits : all_suits) {
        if (count(study, suits) == 0) continue;
        out.gap();
        out.heading(std::string(suits_heading(suits)));
        for (const ShaftChoice& c : study.choices) {
            if (c.suits != suits) continue;
            out.item(pad_right(format_key(c), widest) + "  ", format_shaft_reason(c, setup, out.style().units), 2, widest + 4).key =
                c.own ? std::string() : c.key;
        }
    }
}

void add_order(AnswerBuilder& out, const ShaftStudy& study) {
    const SafeWords w{out.style().units};
    const ShaftToOrder& o = study.order;
    if (!o.known || !study.whole_travel || count(study, ShaftSuits::as_it_is) > 0) return;
    const std::string joints = o.joints_like.empty() ? "the set-up's own shaft" : printable_text(o.joints_like, 32);
    out.gap();
    out.words(fmt::format("To order: closes to {} or less and, with the overlap it needs still left, reaches {} or more, "
                          "between joint centres; joints like those of {}.",
                          w.at_most(o.closed_at_most), w.at_least(o.reaches_at_least), joints), 0, 2);
}

void add_others(AnswerBuilder& out, const Setup& setup, const ShaftStudy& study) {
    if (study.others.empty()) return;
    out.gap();
    out.heading("Whatever the shaft, \"fit\" says besides:", 0, BlockPlace::terminal);
    out.heading("Whatever the shaft, the findings say besides:", 0, BlockPlace::window);
    const FindingContext context = make_finding_context(setup, {}, out.style().units);
    for (const Finding& f : study.others) {
        const FindingText finding = describe_finding(f, context);
        out.item(finding.mark + "  ", finding.headline, 2, 4).severity = f.severity;
    }
}

}  // namespace

std::string_view shaft_suits_word(ShaftSuits suits) {
    switch (suits) {
        case ShaftSuits::as_it_is: return "as_it_is";
        case ShaftSuits::after_cut: return "after_cut";
        case ShaftSuits::too_close_to_call: return "too_close_to_call";
        case ShaftSuits::other_reason: return "other_reason";
        case ShaftSuits::wrong_guard: return "wrong_guard";
        case ShaftSuits::no_cut_works: return "no_cut_works";
        case ShaftSuits::wrong_kind: return "wrong_kind";
        case ShaftSuits::not_known: return "not_known";
    }
    return "";
}

std::string find_shaft_key(const ShaftChoice& c) { return c.key.empty() ? "own" : c.key; }

std::string format_shaft_reason(const ShaftChoice& c, const Setup& setup, UnitSystem units) {
    const SafeWords w{units};
    switch (c.suits) {
        case ShaftSuits::as_it_is:
            return format_left(c.plan.uncut, w) + format_remarks(c, setup, units);
        case ShaftSuits::after_cut:
            return fmt::format("cut {}; left: {}", format_cut(c.plan.recommended, c.plan.recommended_step, units), format_left(c.plan.after, w)) +
                   format_remarks(c, setup, units);
        case ShaftSuits::no_cut_works:
            return format_misfit(c.plan, w);
        case ShaftSuits::too_close_to_call:
            return format_doubt(c, setup, units);
        case ShaftSuits::other_reason:
        case ShaftSuits::wrong_guard:
        case ShaftSuits::wrong_kind:
        case ShaftSuits::not_known:
            break;
    }
    return format_first_reason(c, setup, units);
}

std::string format_shaft_answer(const ShaftStudy& study) {
    if (study.choices.empty()) return "NO SHAFT IS LISTED.";
    if (!study.whole_travel) return "NOT DECIDED. The linkage does not close over the whole travel.";
    const std::size_t all = study.choices.size(), fit = count(study, ShaftSuits::as_it_is), cut = count(study, ShaftSuits::after_cut);
    const std::string best = printable_text(find_shaft_key(study.choices.front()), 32);
    if (fit > 0) return fmt::format("{} OF {} SHAFTS FIT AS THEY ARE, {} first.", fit, all, best);
    if (cut > 0) return fmt::format("NO SHAFT FITS AS IT IS; {} of {} after a cut, {} with the least to say against it.", cut, all, best);
    switch (study.choices.front().suits) {
        case ShaftSuits::too_close_to_call: return "TOO CLOSE TO CALL. No shaft surely fits.";
        case ShaftSuits::not_known: return "NOT KNOWN. No shaft can be judged with these readings.";
        default: return "NO LISTED SHAFT FITS, cut or uncut.";
    }
}

std::vector<AnswerBlock> make_shaft_blocks(const Setup& setup, const ShaftStudy& study, const TextStyle& style) {
    const std::string title = printable_text(setup.name.empty() ? setup.key : setup.name, 120);
    const std::string rules = printable_text(setup.rules.name.empty() ? setup.rules.key : setup.rules.name);
    AnswerBuilder out(style);
    out.words(title, 0, 0, BlockPlace::terminal);
    out.answer(format_shaft_answer(study));
    const std::string judged = fmt::format("Shafts judged by length, guard tubes, power and splines; rule set {}. Joint angles and clearances: ", rules);
    out.words(judged + "\"fit\".", 0, 0, BlockPlace::terminal);
    out.words(judged + "the findings.", 0, 0, BlockPlace::window);
    if (!study.whole_travel)
        out.words("What follows holds for the part of the travel that closes; no shaft can be chosen before the linkage is put right.", 0, 0);
    add_groups(out, setup, study);
    add_order(out, study);
    add_others(out, setup, study);
    const bool own = std::any_of(study.choices.begin(), study.choices.end(), [](const ShaftChoice& c) { return c.own; });
    out.gap();
    out.words(fmt::format("Built-in shafts are invented examples: measure yours.{}",
                          own ? " (now): the shaft of the set-up, as it is there." : ""), 0, 0);
    out.cautions(list_cutting_cautions());
    return out.take();
}

std::string format_shaft_choices(const Setup& setup, const ShaftStudy& study, const TextStyle& style) {
    return format_blocks(make_shaft_blocks(setup, study, style), style);
}

}  // namespace hitchwright
