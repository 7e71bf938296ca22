#include "report/shaft_choice_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/cut_words.h"
#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr ShaftSuits all_suits[] = {ShaftSuits::as_it_is,     ShaftSuits::after_cut,  ShaftSuits::too_close_to_call,
                                    ShaftSuits::no_cut_works, ShaftSuits::wrong_kind, ShaftSuits::not_known};

std::string_view suits_heading(ShaftSuits suits) {
    switch (suits) {
        case ShaftSuits::as_it_is: return "FIT AS THEY ARE";
        case ShaftSuits::after_cut: return "FIT AFTER A CUT";
        case ShaftSuits::too_close_to_call: return "TOO CLOSE TO CALL by these readings: read the distance directly";
        case ShaftSuits::no_cut_works: return "DO NOT FIT, no cut works";
        case ShaftSuits::wrong_kind: return "NOT THE RIGHT KIND";
        case ShaftSuits::not_known: return "NOT KNOWN";
    }
    return "";
}

std::string format_left(const ShaftMargins& m, const SafeWords& w) {
    return fmt::format("gap {}, overlap {} ({} needed)", w.have(m.gap), w.have(m.overlap), w.need(m.overlap_needed));
}

/// First finding that decides, its headline.
std::string format_first_reason(const ShaftChoice& c, const Setup& setup, UnitSystem units) {
    if (c.reasons.empty()) return "a reading is missing";
    const auto worst = std::find_if(c.reasons.begin(), c.reasons.end(), [&](const Finding& f) {
        return c.suits != ShaftSuits::wrong_kind || f.kind == FindingKind::pto_spline_match ||
               f.kind == FindingKind::driveline_power || f.kind == FindingKind::pto_type_match;
    });
    return describe_finding(worst == c.reasons.end() ? c.reasons.front() : *worst, make_finding_context(setup, {}, units)).headline;
}

}  // namespace

std::string_view shaft_suits_word(ShaftSuits suits) {
    switch (suits) {
        case ShaftSuits::as_it_is: return "as_it_is";
        case ShaftSuits::after_cut: return "after_cut";
        case ShaftSuits::too_close_to_call: return "too_close_to_call";
        case ShaftSuits::no_cut_works: return "no_cut_works";
        case ShaftSuits::wrong_kind: return "wrong_kind";
        case ShaftSuits::not_known: return "not_known";
    }
    return "";
}

std::string format_shaft_reason(const ShaftChoice& c, const Setup& setup, UnitSystem units) {
    const SafeWords w{units};
    switch (c.suits) {
        case ShaftSuits::as_it_is:
            return format_left(c.plan.uncut, w);
        case ShaftSuits::after_cut:
            return fmt::format("cut {}; left: {}", format_cut(c.plan.recommended, c.plan.recommended_step, units), format_left(c.plan.after, w));
        case ShaftSuits::no_cut_works:
            return c.plan.obstacle == CutObstacle::tubes_used_up
                       ? fmt::format("it cannot close as far, whatever is cut: {} too long", w.need(std::max(0.0, -c.plan.uncut.gap)))
                   : c.plan.uncut.gap >= 0.0 && c.plan.least_total <= 0.0
                       ? fmt::format("too short: {} of overlap at the longest point, {} needed",
                                     c.plan.uncut.overlap < 0.0 ? std::string("none") : w.have(c.plan.uncut.overlap), w.need(c.plan.uncut.overlap_needed))
                       : fmt::format("after the least cut {} of overlap are lacking", w.need(c.plan.overlap_short_by));
        case ShaftSuits::too_close_to_call:
        case ShaftSuits::wrong_kind:
        case ShaftSuits::not_known:
            break;
    }
    return format_first_reason(c, setup, units);
}

std::string format_shaft_choices(const Setup& setup, const std::vector<ShaftChoice>& choices, const ShaftToOrder& order,
                                 const TextStyle& style) {
    const SafeWords w{style.units};
    std::string text = format_paragraph(printable_text(setup.name.empty() ? setup.key : setup.name, 120), style.width, 0, 0);
    text += format_paragraph(fmt::format("Shafts judged by length, guard, power and splines; rule set {}. Joint angles and clearances: \"fit\".",
                                         printable_text(setup.rules.name.empty() ? setup.rules.key : setup.rules.name)), style.width, 0, 0);
    std::size_t widest = 0;
    for (const ShaftChoice& c : choices) widest = std::max(widest, count_columns(printable_text(c.key, 32)));
    for (const ShaftSuits suits : all_suits) {
        bool first = true;
        for (const ShaftChoice& c : choices) {
            if (c.suits != suits) continue;
            if (first) text += fmt::format("\n{}\n", suits_heading(suits));
            first = false;
            text += format_labelled(pad_right(printable_text(c.key, 32), widest) + "  ", format_shaft_reason(c, setup, style.units), style.width, 2, widest + 4);
        }
    }
    if (choices.empty()) text += "\nNo shaft is listed.\n";
    if (order.known) {
        text += '\n' + format_paragraph(fmt::format("To order: closes to {} or less and, with the overlap it needs still left, reaches {} or more, between joint centres.",
                                                    w.at_most(order.closed_at_most), w.at_least(order.reaches_at_least)), style.width, 0, 2);
    }
    text += "\nListed shafts that are built in are invented examples: measure yours.\n\nCautions\n";
    for (const Caution c : list_cutting_cautions()) text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
    return text;
}

}  // namespace hitchwright
