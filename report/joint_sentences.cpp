// Sentences about joint angles; see finding_sentences.h.
#include <fmt/format.h>

#include <algorithm>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

const Remedy* find_remedy(const Finding& f, RemedyKind kind) {
    const auto found =
        std::find_if(f.remedies.begin(), f.remedies.end(), [kind](const Remedy& r) { return r.kind == kind; });
    return found == f.remedies.end() ? nullptr : &*found;
}

std::string format_band(const Finding& f, const SafeWords& w) {
    if (f.has_attitude) return "Straight ahead on level ground, as it works most.";  // drawn
    if (find_term(f, "band_typed") == 0.0) {
        return fmt::format("Judged at the working height alone, ball height {}; no working band is given.",
                           w.place(find_term(f, "band_low", f.height)));
    }
    return fmt::format("Greatest {} (working band {} to {}).", format_where(f, w), w.place(find_term(f, "band_low")),
                       w.place(find_term(f, "band_high")));
}

std::string format_inside(const Finding& f, const SafeWords& w) {
    if (f.has_attitude) return "A longer drawbar, or PTO and input shaft nearer to one height, bends it less.";
    const std::string heights = format_heights(f.heights, w);
    return heights.empty() ? "Nowhere in the travel is it within the limit."
                           : "Within the limit at ball heights " + heights + ".";
}

Sentences say_in_work(const Finding& f, const SafeWords& w) {
    const std::string joint = capitalized(f.subject);
    if (!f.has_limit) {
        return {fmt::format("{}: {} at most in work", joint, format_angle(f.value, Rounding::up)),
                format_band(f, w) + " The rule set has no limit."};
    }
    const ShownPair p = w.angle_limit(f.value, f.limit);
    if (f.kind == FindingKind::joint_angle_watch) {
        return {fmt::format("{}: bends {} in work, above {} joints wear faster", joint, p.value, p.limit),
                format_band(f, w)};
    }
    if (f.severity == Severity::unknown) {
        return {fmt::format("{}: {} in work against {}", joint, p.value, p.limit),
                fmt::format("The readings can be off by enough to move it {} (95 %): more than the {} in between. {}",
                            format_angle(f.band, Rounding::up), p.difference, format_band(f, w))};
    }
    if (f.margin < 0.0) {
        return {fmt::format("{}: bends {} in work, {} allowed", joint, p.value, p.limit),
                format_band(f, w) + " " + format_inside(f, w)};
    }
    return {fmt::format("{}: {} at most in work, {} allowed", joint, p.value, p.limit), format_band(f, w)};
}

/// The condition of a joint outside the working band, its height first.
Sentences say_outside_work(const Finding& f, const SafeWords& w) {
    const std::string joint = printable_text(f.subject);
    const ShownPair p = w.angle_limit(f.value, f.limit);
    const std::string greatest = fmt::format("It bends {} at most, {}.", p.value, format_where(f, w));
    const char* const act = f.other == "no_work" ? "No work" : "PTO off";
    const Remedy* const r = find_remedy(f, RemedyKind::pto_off_above);
    if (!r) {
        return {fmt::format("{}: passes {}", capitalized(joint), p.limit),
                fmt::format("{} {} {}", greatest, act, "where it does. ") + format_inside(f, w)};
    }
    const bool below = r->subject == "below";
    Sentences s{fmt::format("{} {} a ball height of {}: the {} passes {}", act, below ? "below" : "above",
                            below ? w.at_least(r->value) : w.at_most(r->value), joint, p.limit),
                greatest};
    if (has_term(f, "allowance"))
        s.detail += fmt::format(" The height allows {} for the readings' errors.", format_angle(find_term(f, "allowance"), Rounding::up));
    if (f.other == "pto_off_with_stop") s.detail += " With the lift stop in place.";
    return s;
}

Sentences say_over_travel(const Finding& f, const SafeWords& w) {
    const std::string joint = capitalized(f.subject);
    if (f.severity == Severity::condition) return say_outside_work(f, w);
    if (f.other == "stop_too_close") {
        const ShownPair p = w.angle_limit(f.value, f.limit);
        return {fmt::format("{}: {} against {}, which must never be reached", joint, p.value, p.limit),
                fmt::format("{}. The readings can be off by enough to move it {} (95 %). Certain at ball heights {}.",
                            capitalized(format_where(f, w)), format_angle(f.band, Rounding::up),
                            f.heights.empty() ? "nowhere in the travel" : format_heights(f.heights, w))};
    }
    if (f.other == "lift_stop") {
        const ShownPair p = w.angle_limit(f.value, f.limit);
        return {fmt::format("{}: reaches {}, {} must never be reached", joint, p.value, p.limit),
                fmt::format("{}. {}", capitalized(format_where(f, w)), format_inside(f, w))};
    }
    const std::string limit = f.has_limit ? fmt::format(", {} allowed", w.angle_limit(f.value, f.limit).limit) : "";
    return {fmt::format("{}: {} at most through the whole travel{}", joint, format_angle(f.value, Rounding::up), limit),
            fmt::format("Greatest {}.", format_where(f, w))};
}

}  // namespace

Sentences say_joint(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    return f.kind == FindingKind::joint_angle_over_travel ? say_over_travel(f, w) : say_in_work(f, w);
}

}  // namespace hitchwright
