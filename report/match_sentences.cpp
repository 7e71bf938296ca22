// Sentences about parts that must belong together; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>

#include "report/finding_sentences.h"

namespace hitchwright {
namespace {

/// A word of the finding, printable; "not known" when its builder left it empty.
std::string word(const std::string& text) { return text.empty() ? "not known" : printable_text(text, 20); }

std::string whole(double count) { return std::isfinite(count) ? fmt::format("{:.0f}", count) : "not known"; }

Sentences say_category(const Finding& f) {
    const std::string implement = word(f.subject), tractor = word(f.other);
    if (f.severity == Severity::good) return {fmt::format("Category {} on both", implement), ""};
    return {fmt::format("Category {} implement on a category {} tractor", implement, tractor),
            "Pins, balls and spans differ."};
}

Sentences say_pin(const Finding& f, const SafeWords& w) {
    const std::string pin = capitalized(f.subject);
    const std::string pair = fmt::format("{} {} in a hole of {}", pin, w.fine(f.value), w.fine(f.limit));
    if (f.margin < 0.0)
        return {fmt::format("{} {} does not go into the hole of {}", pin, w.fine(f.value), w.fine(f.limit)), ""};
    if (f.severity == Severity::change)
        return {pair + ": loose without a bushing", fmt::format("Play {}.", w.fine(f.margin))};
    return {pair, ""};
}

Sentences say_span(const Finding& f, const SafeWords& w) {
    const std::string numbers =
        fmt::format("balls {} apart, implement made for {}", w.place(f.value), w.place(f.limit));
    const bool wide = f.value > f.limit;
    if (f.margin < 0.0) {
        return {"Span: " + numbers, fmt::format("The lower links must be set {} {} to go on.",
                                                w.place(std::fabs(f.value - f.limit)), wide ? "closer" : "wider")};
    }
    return {"Span: " + numbers, ""};
}

Sentences say_mast(const Finding& f, const SafeWords& w) {
    Sentences s{fmt::format("Mast {} high, usual for the category {}", w.place(f.value), w.place(f.limit)), ""};
    if (f.severity != Severity::good)
        s.detail = "A figure to compare with only: the numbers here are computed with your mast.";
    return s;
}

Sentences say_type(const Finding& f) {
    const std::string implement = word(f.subject), tractor = word(f.other);
    if (implement == tractor) return {fmt::format("PTO type {} on both", implement), ""};
    return {fmt::format("PTO type {} on the tractor, {} on the implement", tractor, implement), ""};
}

Sentences say_speed(const Finding& f) {
    const std::string made_for = word(f.subject), turns = printable_text(f.other, 40);
    if (f.subject.empty()) return {"PTO speed: not given, neither of tractor nor of implement", "Not compared."};
    if (f.severity != Severity::forbids) {
        return {fmt::format("PTO speed {} rpm", made_for), turns.empty() ? "The tractor's speeds are not given." : ""};
    }
    return {fmt::format("PTO speed: implement made for {} rpm, tractor would turn at {} rpm", made_for, turns), ""};
}

Sentences say_splines(const Finding& f) {
    const std::string end = capitalized(f.subject);
    if (f.value == f.limit) return {fmt::format("{}: {} splines on shaft and yoke", end, whole(f.limit)), ""};
    return {fmt::format("{}: shaft with {} splines, yoke with {}", end, whole(f.limit), whole(f.value)),
            f.severity == Severity::watch
                ? "An adapter is declared: its length counts as part of the joint offset on that end."
                : ""};
}

Sentences say_rotation(const Finding& f) {
    const std::string implement = word(f.subject), tractor = word(f.other);
    if (implement == tractor) return {fmt::format("PTO turns {} on both, seen from behind", implement), ""};
    return {fmt::format("PTO turns {}, implement made for {}", tractor, implement),
            "Seen from behind the tractor, looking forward."};
}

Sentences say_power(const Finding& f, const SafeWords& w) {
    const std::string carries = format_power(f.value, w.units, Rounding::down),
                      needed = format_power(f.limit, w.units, Rounding::up);
    const std::string speed = word(f.subject);
    if (f.margin < 0.0) return {fmt::format("Shaft carries {} at {} rpm, {} needed", carries, speed, needed), ""};
    Sentences s{fmt::format("Shaft carries {} at {} rpm, {} needed", carries, speed, needed), ""};
    if (f.severity == Severity::watch) {
        s.detail = fmt::format(
            "The tractor can give {}: a blocked implement can overload the shaft. Keep its torque limiter working.",
            format_power(find_term(f, "P_tractor"), w.units, Rounding::up));
    }
    return s;
}

}  // namespace

Sentences say_match(const Finding& f, const FindingContext& context) {
    const SafeWords& w = context.words;
    switch (f.kind) {
        case FindingKind::category_match:
            return say_category(f);
        case FindingKind::pin_match:
            return say_pin(f, w);
        case FindingKind::span_match:
            return say_span(f, w);
        case FindingKind::mast_match:
            return say_mast(f, w);
        case FindingKind::pto_type_match:
            return say_type(f);
        case FindingKind::pto_speed_match:
            return say_speed(f);
        case FindingKind::pto_spline_match:
            return say_splines(f);
        case FindingKind::pto_rotation_match:
            return say_rotation(f);
        case FindingKind::driveline_power:
            return say_power(f, w);
        default:
            return {};
    }
}

}  // namespace hitchwright
