// Lines of the sheet about readings to take again, and how far targets may be off; see sheet_lines.h.
#include <fmt/format.h>

#include <algorithm>

#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/measure_hint.h"
#include "report/sheet_lines.h"
#include "report/text_layout.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

void add_retake(const SheetSource& x, const Remedy& r, const FindingContext& context, LineWriter& lines) {
    const std::optional<FieldSpec> spec = find_reading_spec(r.subject);
    const std::string hint = find_measure_hint(r.subject, context.drawn), key = printable_text(r.subject);
    const auto size = [&](double error, Rounding rounding) { return format_error_size(error, spec->dimension, x.words.units, rounding); };
    const auto now = context.errors.find(r.subject);
    std::string target = "again, closer", as_it_is;
    if (spec) target = "to within " + size(r.second, Rounding::down);
    if (spec && now != context.errors.end()) as_it_is = fmt::format("As it is: good to {}.", size(now->second, Rounding::up));
    lines.read("measure_again", fmt::format("Measure again {}{}", key, hint.empty() ? "" : ": " + hint), target, as_it_is);
}

}  // namespace

void add_reading_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    LineWriter lines(SheetSection::readings, out);
    const FindingContext context = make_finding_context(x.setup, x.analysis, x.words.units);
    const std::vector<Remedy> retakes = list_readings_to_retake(x.analysis.findings);
    for (const Remedy& r : retakes) add_retake(x, r, context, lines);
    if (x.analysis.next.empty() || (retakes.empty() && x.analysis.verdict != Verdict::too_close_to_call)) return;
    const NextReading& best = x.analysis.next.front();
    const std::string where = say_where_to_read(best, x.words.units);
    lines.read("next_reading", fmt::format("Best read next: {}{}", say_what_to_read(best), where.empty() ? "" : ", " + where),
               best.error > 0.0 ? "to within " + format_error_size(best.error, best.dimension, x.words.units, Rounding::down) : "");
}

std::string say_within(const ErrorBand& band, Dimension dimension, UnitSystem units) {
    const double wider = std::max(band.below, band.above);
    return wider > 0.0 ? " +- " + format_error_size(wider, dimension, units, Rounding::up) : std::string();
}

std::string say_within(const SheetSource& x, double height, CurveNumber number) {
    const bool angle = number == CurveNumber::pitch || number == CurveNumber::tractor_joint || number == CurveNumber::implement_joint;
    const std::optional<ErrorBand> band = x.bands != nullptr ? x.bands->find(height, number) : std::nullopt;
    return band ? say_within(*band, angle ? Dimension::angle : Dimension::length, x.words.units) : std::string();
}

std::string say_within(const SheetSource& x, FindingKind kind, std::string_view subject) {
    for (const Finding& f : x.analysis.findings) {
        if (f.kind == kind && (subject.empty() || f.subject == subject) && f.band > 0.0) return say_within(f.error, f.dimension, x.words.units);
    }
    return {};
}

}  // namespace hitchwright
