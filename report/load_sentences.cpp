// Sentences about lift and axle loads; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>

#include "report/finding_sentences.h"
#include "report/load_words.h"

namespace hitchwright {
namespace {

std::string more(double kilograms, UnitSystem u) { return format_mass(kilograms, u, Rounding::up); }
std::string less(double kilograms, UnitSystem u) { return format_mass(kilograms, u, Rounding::down); }

std::string say_source(const Finding& f, const SafeWords& w) {
    const std::string source = capitalized(say_force_source(f.subject));
    const std::string meaning = f.subject == "published_least"  ? ", a lower bound at every height"
                                : f.subject == "cylinder_ideal" ? ", an upper bound"
                                                                : "";
    return fmt::format("{}{}; centre of gravity {} behind the balls. Static.", source, meaning,
                       w.place(find_term(f, "x_cg")));
}

Sentences say_lift(const Finding& f, const SafeWords& w) {
    const UnitSystem u = w.units;
    const std::string need = more(f.limit, u), have = less(std::max(0.0, f.value), u);
    const std::string where = f.has_height ? fmt::format(" at ball height {}", w.place(f.height)) : "";
    const std::string numbers = fmt::format("{} is there{}, {} is needed.", have, where, need);
    if (f.other == "lifts" && !has_term(f, "open")) {
        const std::string band =
            f.severity == Severity::unknown ? fmt::format(" The readings may take {} of it.", more(f.band, u)) : "";
        return {fmt::format("Lift: {} at the worst height, {} needed{}", have, need,
                            f.severity == Severity::unknown ? ": too close to call" : ""),
                fmt::format("Least{}.{} {}", where, band, say_source(f, w))};
    }
    if (f.other == "stalls")
        return {
            fmt::format("Lift: stalls at ball height {}", f.heights.empty() ? "" : w.at_most(f.heights.front().high)),
            numbers + " " + say_source(f, w)};
    if (f.other == "lifts_not") return {"Lift: not from the lowest height", numbers + " " + say_source(f, w)};
    if (f.other == "lifts" && f.severity == Severity::unknown && has_term(f, "open"))
        return {fmt::format("Lift: {} at the worst height, {} needed; the coupler was not weighed", have, need),
                say_source(f, w)};
    const std::string heights =
        f.heights.empty() ? "at no height" : fmt::format("for ball heights {} only", format_heights(f.heights, w));
    if (f.subject == "cylinder_ideal")
        return {fmt::format("Lift: {} at most, {} needed; friction not known", have, need), say_source(f, w)};
    return {fmt::format("Lift: assured {}", heights),
            fmt::format("{} for certain{}, {} is needed; the tractor may lift more. {}", have, where, need,
                        say_source(f, w))};
}

Sentences say_rise(const Finding& f, const SafeWords& w) {
    const std::string heights = f.heights.empty()
                                    ? "It rises at no height"
                                    : fmt::format("It rises at ball heights {}", format_heights(f.heights, w));
    return {fmt::format("The load does not rise with the balls at ball height {}{}", w.place(f.height),
                        f.other == "not_lifted" ? ", and is not lifted where it does" : ""),
            heights + "; elsewhere the implement tips instead of coming up, and how much is lifted has no number."};
}

Sentences say_front(const Finding& f, const SafeWords& w) {
    const UnitSystem u = w.units;
    const double front = find_term(f, "front");
    const std::string where = f.has_height ? fmt::format(", ball height {}", w.place(f.height)) : "";
    const std::string state = capitalized(say_load_state(f.other));
    if (front <= 0.0)
        return {"The front axle lifts: the tractor tips",
                fmt::format("{}{}. Nothing is left on the front axle, {} too little to stay down.", state, where,
                            more(-front, u))};
    const std::string close = f.severity == Severity::unknown ? ": too close to call" : "";
    return {fmt::format("Front axle keeps {}, {} wanted{}", format_percent(f.value, Rounding::down),
                        format_percent(f.limit, Rounding::up), close),
            fmt::format("{} {}: {} of {}. {}{}. Standing on level ground.", format_percent(f.value, Rounding::down),
                        say_load_base(f.subject), less(front, u), format_mass(find_term(f, "base"), u), state, where)};
}

Sentences say_rear(const Finding& f) {
    return {fmt::format("Rear axle keeps {} of the tractor's empty mass, {} wanted",
                        format_percent(f.value, Rounding::down), format_percent(f.limit, Rounding::up)),
            "Where it is least: without the implement's weight. Standing on level ground."};
}

Sentences say_carried(const Finding& f, const SafeWords& w) {
    const UnitSystem u = w.units;
    const std::string part = capitalized(say_carrying_part(f.subject));
    const std::string state = capitalized(say_load_state(f.other)) + ".";
    if (f.margin < 0.0)
        return {fmt::format("{}: {} over what it may carry", part, more(-f.margin, u)),
                fmt::format("{} on it, {} allowed. {}", more(f.value, u), less(f.limit, u), state)};
    return {fmt::format("{}: {} of {} allowed", part, more(f.value, u), less(f.limit, u)), state};
}

}  // namespace

Sentences say_load(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (f.kind) {
        case FindingKind::lift_capacity:
            return say_lift(f, w);
        case FindingKind::load_rise:
            return say_rise(f, w);
        case FindingKind::front_axle_share:
            return say_front(f, w);
        case FindingKind::rear_axle_share:
            return say_rear(f);
        case FindingKind::carried_load:
            return say_carried(f, w);
        default:
            return {};
    }
}

}  // namespace hitchwright
