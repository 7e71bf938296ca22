// Sentences about level, sway and tyre room; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

std::string format_sided(double right_up, const SafeWords& w) {
    const std::string amount = w.place(std::fabs(right_up));
    return fmt::format("right side {} {}", amount, right_up < 0.0 ? "lower" : "higher");
}

std::string format_roll(double roll) {
    const std::string text = format_angle(std::fabs(roll));
    return text == "0.0 deg" ? "level" : fmt::format("{}, {} side up", text, roll > 0.0 ? "right" : "left");
}

Sentences say_level(const Finding& f, const SafeWords& w) {
    const std::string part = f.subject.empty() ? "the lower hitch points" : printable_text(f.subject, 40);
    const std::string over = fmt::format("{} across {}, ball height {}", w.place(find_term(f, "width")), part, w.place(f.height));
    const std::string roll = fmt::format("Roll {}; wanted {}.", format_roll(find_term(f, "roll")), format_roll(find_term(f, "wanted")));
    const std::string error = f.band > 0.0 ? fmt::format(" The readings can be off by enough to move it {} (95 %).", w.need(f.band)) : "";
    if (f.margin >= 0.0)
        return {fmt::format("Side to side: {} {} of {}", w.need(std::fabs(f.value)), "off, within", w.at_most(f.limit)), over + ". " + roll + error};
    const std::string than = f.other == "wanted" ? " than wanted" : "";
    return {fmt::format("Side to side: {}{}", format_sided(f.value, w), than),
            fmt::format("Over {}. {}{}", over, roll, error)};
}

Sentences say_rod(const Finding& f, const SafeWords& w) {
    if (f.other == "not_reached")
        return {fmt::format("Lift rods: no length gives a roll of {}", format_angle(f.value)), "The linkage or the rods do not close there."};
    const bool shorter = f.other == "too_short";
    return {fmt::format("{} lift rod: needs {}, its {} is {}", capitalized(f.subject), w.place(f.value), shorter ? "least" : "most", w.place(f.limit)),
            f.margin >= 0.0 ? std::string() : fmt::format("The screw does not reach: {} {}.", w.need(-f.margin), shorter ? "too long" : "missing")};
}

Sentences say_sway(const Finding& f, const SafeWords& w) {
    const char* const held = f.other == "check_chains" ? "until a chain is taut" : "as found when pushed";
    Sentences s{fmt::format("Sway: {} at the balls from side to side", w.need(f.value)), fmt::format("{}, {}.", capitalized(format_where(f, w)), held)};
    if (has_term(f, "tail"))
        s.detail += fmt::format(" The {} swings {}.", printable_text(f.subject, 40), w.need(find_term(f, "tail")));
    return s;
}

Sentences say_tyre(const Finding& f, const SafeWords& w) {
    const std::string link = f.subject + " lower link";
    const double sway = find_term(f, "sway");
    const std::string balls = std::fabs(sway) < 1e-6 ? "hitch in the middle" : fmt::format("balls {} to the {}", w.place(std::fabs(sway)), sway < 0.0 ? "left" : "right");
    const std::string where = fmt::format("{} of the link from its front pin, {}", format_percent(find_term(f, "along")), balls);
    const std::string at = fmt::format("{}, {}.", capitalized(format_where(f, w)), where);
    const std::string open = fmt::format("{} The readings can be off by enough to move it {} (95 %).", at, w.need(f.band));
    if (f.severity == Severity::unknown && std::fabs(f.value) < f.band)
        return {fmt::format("{} and tyre: they may touch", capitalized(link)), open};
    if (f.value <= 0.0) return {fmt::format("{} meets its tyre, {} deep", capitalized(link), w.need(-f.value)), at};
    if (!f.has_limit)
        return {fmt::format("{} stays {} from its tyre{}", capitalized(link), w.have(f.value), f.other == "centred" ? ", hitch centred" : ""), at};
    const ShownPair p = w.have_need(f.value, f.limit);
    if (f.severity == Severity::unknown)
        return {fmt::format("{} and tyre: too close to call, {} by the readings, {} wanted", capitalized(link), p.value, p.limit), open};
    const std::string unknown_sway = f.other == "centred" ? " How far the hitch sways is not known: that much less is left." : "";
    return {fmt::format("{} and tyre: {} left{}, {} wanted", capitalized(link), p.value, f.other == "centred" ? " with the hitch centred" : "", p.limit), at + unknown_sway};
}

}  // namespace

Sentences say_space(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (f.kind) {
        case FindingKind::side_level:
            return say_level(f, w);
        case FindingKind::levelling_rod:
            return say_rod(f, w);
        case FindingKind::lift_rods_set:
            return {"Ball heights carried over to the lift rods as set",
                    "They were taped, or follow from the arm, with both rods alike; the lift arms stay where they were. Tape them again to be sure. "
                    "Rooms above the ground and to tyre, cab and link are those of the machine's middle; of its ends the table below tells. Lift is reckoned with the rods alike."};
        case FindingKind::sway:
            return say_sway(f, w);
        case FindingKind::check_chain:
            return {fmt::format("The check chains stop the lift at a ball height of {}", w.place(f.height)),
                    fmt::format("With the hitch level both chains are taut there. Not reached: ball heights {}.", format_heights(f.heights, w))};
        case FindingKind::tyre_room:
            return say_tyre(f, w);
        default:
            break;
    }
    if (f.other == "no_limit")
        return {"Check chains: to one side they never come taut", "The hitch was taken not to go beyond the middle there; how far it can is not known."};
    if (f.other == "not_bounded")
        return {"Sway and tilt: their ends were found at a few heights only", "A range between them may be wider; shaft and joints were judged over what was found."};
    return {"Sway and tilt: not judged", "Somewhere within them the linkage does not close, so shaft and joints were judged without."};
}

}  // namespace hitchwright
