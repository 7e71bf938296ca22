// Findings of lines measured against a specification, in words; see finding_sentences.h.
#include <fmt/format.h>

#include <cmath>

#include "report/finding_sentences.h"
#include "report/line_words.h"

namespace hitchwright {

Sentences say_specification(const Finding& f, const FindingContext& context) {
    const std::string name = printable_text(f.subject, 60);
    if (f.kind == FindingKind::specification_not_measured) {
        const bool one = f.value < 1.5;
        Sentences s{fmt::format("{} of the set-up sheet not measured{}",
                                format_count(static_cast<std::size_t>(std::lround(f.value)), "line"),
                                one ? ": " + name : fmt::format(", \"{}\" among them", name)),
                    ""};
        s.detail = f.other == "stops_work" ? fmt::format("\"{}\" stops work when it is out.", name)
                                           : "A line that was not measured is never in.";
        return s;
    }
    if (f.other == "words") return {fmt::format("{}: not as specified", capitalized(f.subject)), ""};
    const auto figure = [&](double value, Rounding rounding) {
        return format_figure(value, f.dimension, context.words.units, rounding);
    };
    const std::string limit =
        fmt::format("{} {}", f.other == "below" ? "at least" : "at most", figure(f.limit, Rounding::nearest));
    if (f.severity == Severity::unknown || f.severity == Severity::watch) {
        return {fmt::format("{}: {} measured, {} asked for, too close to call", capitalized(f.subject),
                            figure(f.value, Rounding::nearest), limit),
                f.band > 0.0 ? fmt::format("The reading's own error is +-{}.", figure(f.band, Rounding::up))
                             : std::string()};
    }
    Sentences s{
        fmt::format("{}: {} measured, {} asked for", capitalized(f.subject), figure(f.value, Rounding::nearest), limit),
        ""};
    s.detail = fmt::format("Out by {}.", figure(std::fabs(f.margin), Rounding::up));
    return s;
}

std::string format_specification_step(const Remedy& r, const Finding& f, UnitSystem units) {
    const std::string subject = printable_text(r.subject, 200), name = printable_text(f.subject, 60);
    if (r.value == 0.0) return fmt::format("{}: {}.", capitalized(name), subject);
    std::string text =
        fmt::format("{}: {} {}", capitalized(name), change_verb(f.dimension, has_term(f, "figure"), r.value > 0.0),
                    format_figure(std::fabs(r.value), f.dimension, units));
    if (!subject.empty()) text += ": " + subject;
    if (const double turns = find_term(f, "turns"); turns != 0.0) {
        const double sense = find_term(f, "sense");
        text += fmt::format("{} {}{}", subject.empty() ? ":" : ",", format_eighth_turns(turns),
                            sense == 0.0  ? ""
                            : sense > 0.0 ? " clockwise"
                                          : " counterclockwise");
    }
    if (const double holes = find_term(f, "holes"); holes != 0.0)
        text += fmt::format(", {} {}", format_count(static_cast<std::size_t>(std::lround(std::fabs(holes))), "hole"),
                            holes > 0.0 ? "longer" : "shorter");
    return text + ".";
}

}  // namespace hitchwright
