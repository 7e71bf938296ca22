// Sentences about the linkage; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

/// Pitch in words: "2.3 deg rear up", "1.0 deg rear down", "level".
std::string format_pitch(double pitch) {
    if (!std::isfinite(pitch)) return "not known";
    const std::string size = format_angle(std::fabs(pitch));
    if (size == "0.0 deg") return "level";
    return size + (pitch > 0.0 ? " rear up" : " rear down");
}

/// "Holes there are: 1, 2, 3."
std::string format_holes(const Finding& f) {
    std::string text;
    for (const Term& t : f.terms) text += (text.empty() ? "Holes there are: " : ", ") + printable_text(t.symbol, 24);
    return text + ". Nothing that hangs on the hole is computed.";
}

/// "Tyres there are: narrow, flotation."
std::string format_tyre_sets(const Finding& f) {
    std::string text = f.terms.empty() ? "No other tyres are listed ([[tyre_set]])" : "";
    for (const Term& t : f.terms) text += (text.empty() ? "Tyres there are: " : ", ") + printable_text(t.symbol, 24);
    return text + "; leave it out for the tyres the tractor was measured on.";
}

Sentences say_missing(const Finding& f) {
    const std::string key = printable_text(f.subject);
    if (f.other == "no_such_pin" && f.subject == "choices.tyre_set") return {"No tyres have the name chosen: " + key, format_tyre_sets(f)};
    if (f.other == "no_such_pin")
        return {"No hole has the name chosen: " + key, format_holes(f)};
    if (f.other == "pin_not_chosen")
        return {"Several holes, none chosen: " + key, format_holes(f)};
    if (f.other == "contradiction") {
        return {"The lengths of the shaft contradict each other: " + key,
                "No gap, overlap or cut is computed from them."};
    }
    if (f.other == "no_length") {
        return {"The shaft has no length somewhere in the travel, or none could be shown",
                "The two joints come as close as the inside of a joint there, or too near to that to tell. No gap, overlap or cut is computed."};
    }
    if (f.other == "impossible") return {"Cannot be: " + key, "It is no number, or far beyond any machine; it was taken as not given."};
    if (f.subject == "driveline.use") return {"No shaft given", "Gap, overlap, cut and joint angles are not computed."};
    return {"Not given: " + key, "What depends on it is not computed; nothing was put in its place."};
}

Sentences say_cannot_close(const Finding& f, const SafeWords& w) {
    const std::string where = format_where(f, w);
    if (f.other == "past_dead_centre") {
        return {"The working pitch cannot be set with this hole",
                fmt::format("To get there{} upper link and mast would have to pass through one line (dead centre). "
                            "Try another hole, or another working height.",
                            where.empty() ? "" : " " + where)};
    }
    if (f.other == "undefined") {
        return {fmt::format("{}: no single position", capitalized(f.subject)),
                "A length is zero, or pins fall on one another. Check the lengths and positions."};
    }
    if (f.other == "within_error" && f.subject.empty()) {
        return {"How far the readings' errors reach is not known", "They could not be carried to the shaft's gap and overlap, so that no margin here is certain."};
    }
    if (f.other == "within_error") {
        return {"Too close to a position that cannot exist",
                fmt::format("With {} off by its tolerance the linkage or the shaft no longer goes together, so that no "
                            "margin here is certain.",
                            printable_text(f.subject))};
    }
    const bool long_part = f.other == "too_long";
    return {fmt::format("{} too {} by {}{}", capitalized(f.subject), long_part ? "long" : "short", w.need(f.value),
                        where.empty() ? "" : " " + where),
            "The linkage does not close there: the hitch cannot get to that height like this."};
}

std::string format_turns_from_now(const Finding& f) {
    if (!has_term(f, "turns")) return {};
    const double turns = find_term(f, "turns");
    if (std::fabs(turns) < 0.125) return ", as it is now";
    return fmt::format(", {} {} than now", format_turns(turns), turns > 0.0 ? "longer" : "shorter");
}

Sentences say_reach(const Finding& f, const SafeWords& w) {
    const std::string hole = f.subject.empty() ? "" : fmt::format(", hole {}", printable_text(f.subject, 24));
    const std::string set = f.other == "typed" ? "Upper link as set" : "Set the upper link to";
    if (f.has_limit && f.margin < 0.0) {
        const bool shorter = f.value < f.limit;
        return {fmt::format("Upper link does not reach: {} needed{}", w.place(f.value), hole),
                fmt::format("{} is its {}; it is too {} by {}.", shorter ? w.at_least(f.limit) : w.at_most(f.limit),
                            shorter ? "shortest" : "longest", shorter ? "long" : "short", w.need(-f.margin))};
    }
    Sentences s{fmt::format("{}{} {}{}{}", set, f.other == "typed" ? ":" : "", w.place(f.value), hole,
                            format_turns_from_now(f)),
                "Pin centre to pin centre. "};
    if (!f.has_limit)
        s.detail += "Its shortest and longest length are not given: whether it reaches is not checked.";
    else
        s.detail +=
            fmt::format("Thread left: {} to shorten, {} to lengthen.", w.have(find_term(f, "thread_left_to_shorten")),
                        w.have(find_term(f, "thread_left_to_lengthen")));
    return s;
}

Sentences say_working_pitch(const Finding& f, const SafeWords& w) {
    Sentences s;
    const double off = f.value - f.limit;
    if (f.margin < 0.0) {
        s.headline = fmt::format("Working pitch: the rear is {} too {}", format_angle(std::fabs(off), Rounding::up),
                                 off > 0.0 ? "high" : "low");
        s.detail = fmt::format("{} {}, wanted {}. ", capitalized(format_pitch(f.value)), format_where(f, w),
                               format_pitch(f.limit));
    } else {
        s.headline = fmt::format("Working pitch: {} {}", format_pitch(f.value), format_where(f, w));
        if (!f.has_limit)
            s.detail = "None is asked for. ";
        else
            s.detail = format_pitch(f.limit) == format_pitch(f.value) ? "As wanted. "
                                                                  : fmt::format("Wanted {}. ", format_pitch(f.limit));
    }
    if (has_term(f, "pitch_per_turn")) {
        const double turn = find_term(f, "pitch_per_turn");
        s.detail += fmt::format("One turn longer {} the rear by {}.", turn < 0.0 ? "lowers" : "raises",
                                format_angle(std::fabs(turn)));
    }
    return s;
}

Sentences say_pitch_range(const Finding& f, const SafeWords& w) {
    return {fmt::format("Pitch through the travel: {} to {}", format_pitch(find_term(f, "pitch_least")),
                        format_pitch(find_term(f, "pitch_greatest", f.value))),
            fmt::format("Lowest at ball height {}, highest at {}.", w.place(find_term(f, "height_least")),
                        w.place(find_term(f, "height_greatest", f.height)))};
}

Sentences say_dead_centre(const Finding& f, const SafeWords& w) {
    const std::string where = format_where(f, w);
    if (f.subject == "near") {
        return {
            fmt::format("Close to dead centre {}", where),
            fmt::format(
                "Upper link and mast are nearly in one line, {} from it: a little more lift tips the implement a lot.",
                w.have(f.value))};
    }
    const bool stretched = f.subject == "stretched";
    return {fmt::format("Dead centre inside the travel, {}", where),
            stretched ? "Upper link and mast pull into one line there: the hitch jams, or the implement tips over."
                      : "Upper link and mast fold onto one line there: the implement can tip either way."};
}

Sentences say_travel(const Finding& f, const SafeWords& w) {
    if (f.other == "empty_travel") {
        const bool stop = f.subject == "choices.lift_stop";
        return {"No travel left", stop ? "The lift stop lies below the lowest ball height."
                                       : "Taped ball heights, lift arm and stops have no height in common."};
    }
    if (f.other == "outside") {
        const bool high = f.value > f.limit;
        return {
            fmt::format("{}: ball height {} is {} the travel", capitalized(f.subject), w.place(f.value),
                        high ? "above" : "below"),
            fmt::format("The hitch goes {} to {} only, {} short.", high ? "up" : "down",
                        high ? w.at_most(f.limit) : w.at_least(f.limit), w.need(-f.margin))};
    }
    const bool typed = f.other == "typed";
    const double spare = find_term(f, "spare");
    Sentences s{fmt::format("Lift goes {} to ball height {} by the {}, stops apart", f.subject == "low" ? "down" : "up",
                            w.place(f.value), typed ? "tape" : "lift arm"),
                fmt::format("By the {} it would go {} farther; the narrower counts.", typed ? "lift arm" : "tape",
                            w.need(spare))};
    if (f.severity == Severity::watch)
        s.detail += " They differ that much: one of the two readings is likely to be wrong.";
    return s;
}

Sentences say_float(const Finding& f, const SafeWords& w) {
    Sentences s{
        fmt::format("Floating upper link: the stops allow {} to {}", format_pitch(find_term(f, "pitch_low", f.value)),
                    format_pitch(find_term(f, "pitch_high", f.value))),
        fmt::format("{}.", capitalized(format_where(f, w)))};
    if (f.severity != Severity::good && !has_term(f, "hollow_left")) {
        s.headline = "Floating upper link: no level stand on the ground " + format_where(f, w);
        s.detail = "The balls are too low there for what the implement stands on: check the working height and the wheels.";
    } else if (f.severity != Severity::good) {
        s.headline = "Floating upper link: no float left on level ground " + format_where(f, w);
        s.detail = "The link is at one of its stops. Set it so that the pin stands half way in its free travel.";
    } else if (has_term(f, "hollow_left")) {
        s.detail += fmt::format(" The ground under the rear may fall {} or rise {} before the link is at a stop.",
                                w.have(find_term(f, "hollow_left")), w.have(find_term(f, "hump_left")));
    }
    return s;
}

}  // namespace

Sentences say_linkage(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (f.kind) {
        case FindingKind::missing_reading:
            return say_missing(f);
        case FindingKind::linkage_cannot_close:
            return say_cannot_close(f, w);
        case FindingKind::upper_link_reach:
            return say_reach(f, w);
        case FindingKind::working_pitch:
            return say_working_pitch(f, w);
        case FindingKind::pitch_range:
            return say_pitch_range(f, w);
        case FindingKind::dead_centre_in_travel:
            return say_dead_centre(f, w);
        case FindingKind::travel_bound:
            return say_travel(f, w);
        case FindingKind::floating_link_band:
            return say_float(f, w);
        default:
            return {};
    }
}

}  // namespace hitchwright
