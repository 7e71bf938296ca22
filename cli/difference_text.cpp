// diff as text: values by key with old, new and difference; findings with their marks.
#include <fmt/format.h>

#include "cli/difference_output.h"
#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 60;

/// What differs beside the number: "error 0.125 in -> 0.250 in", "origin preset -> measured".
std::string describe_beside(const ValueDifference& d, UnitSystem units) {
    const bool readings = d.old_value && d.new_value && d.old_value->reading && d.new_value->reading;
    if (!readings || !d.old_value->has_origin) return {};
    const Reading &a = *d.old_value->reading, &b = *d.new_value->reading;
    std::string text;
    if (a.tolerance != b.tolerance) {
        text += fmt::format("; error {} -> {}", format_decimal_quantity(a.tolerance, d.old_value->dimension, units),
                            format_decimal_quantity(b.tolerance, d.new_value->dimension, units));
    }
    if (a.origin != b.origin) text += fmt::format("; origin {} -> {}", origin_word(a.origin), origin_word(b.origin));
    return text;
}

std::string format_values(const SetupDifference& d, const TextStyle& style) {
    if (d.values.empty()) return "\nValues: all the same\n";
    std::string text = fmt::format("\nValues ({} differ)\n", d.values.size());
    for (const ValueDifference& v : d.values) {
        text += format_paragraph(printable_text(v.key, 200) + ": " + describe_value_difference(v, style.units), style.width, 2, 4);
    }
    return text;
}

ShownFinding show_finding(const Finding* f, const FindingContext& context) {
    if (f == nullptr) return {};
    return {std::string(finding_mark(*f)), describe_finding(*f, context).headline};
}

std::string format_findings(const SetupDifference& d, const TextStyle& style) {
    if (d.findings.empty()) return "\nFindings: all the same\n";
    std::string text = fmt::format("\nFindings ({} differ)\n", d.findings.size());
    std::size_t hidden = 0;
    for (const ShownDifference& shown : list_shown_differences(d, style.units, hidden))
        text += format_paragraph(describe_shown_difference(shown), style.width, 2, 4);
    if (hidden > 0) {
        text += format_paragraph(fmt::format("{} by numbers that are not in the headline (--format csv has them)",
                                             format_count(hidden, "finding")),
                                 style.width, 2, 4);
    }
    return text;
}

}  // namespace

std::string describe_value(const std::optional<SetupValue>& value, UnitSystem units) {
    if (!value) return "not given";
    return value->reading ? format_decimal_quantity(value->reading->value, value->dimension, units)
                          : printable_text(value->text, most_shown);
}

std::string describe_value_difference(const ValueDifference& d, UnitSystem units) {
    const std::string was = describe_value(d.old_value, units), is = describe_value(d.new_value, units);
    std::string text = was == is ? was : was + " -> " + is;
    const bool numbers = d.old_value && d.new_value && d.old_value->reading && d.new_value->reading;
    if (numbers && was != is) {
        const double change = d.new_value->reading->value - d.old_value->reading->value;
        text += fmt::format(" ({}{})", change > 0.0 ? "+" : "",
                            format_decimal_quantity(change, d.new_value->dimension, units));
    }
    return text + describe_beside(d, units);
}

std::string describe_shown_difference(const ShownDifference& d) {
    const ShownFinding &was = d.old_finding, &is = d.new_finding;
    if (was.mark.empty()) return fmt::format("new: {}: {}", is.mark, is.headline);
    if (is.mark.empty()) return fmt::format("gone: {}: {}", was.mark, was.headline);
    const std::string marks = was.mark == is.mark ? is.mark : fmt::format("{} -> {}", was.mark, is.mark);
    return was.headline == is.headline ? fmt::format("{}: {}", marks, is.headline)
                                       : fmt::format("{}: {} -> {}", marks, was.headline, is.headline);
}

std::vector<ShownDifference> list_shown_differences(const SetupDifference& d, UnitSystem units, std::size_t& hidden) {
    const FindingContext was = make_finding_context(d.old_setup, *d.old_judgement.analysis, units);
    const FindingContext is = make_finding_context(d.new_setup, *d.new_judgement.analysis, units);
    std::vector<ShownDifference> shown;
    hidden = 0;
    for (const FindingDifference& f : d.findings) {
        ShownDifference both{show_finding(f.old_finding, was), show_finding(f.new_finding, is)};
        const bool told_apart = f.old_finding == nullptr || f.new_finding == nullptr || f.changed_severity() ||
                                both.old_finding.headline != both.new_finding.headline;
        if (told_apart) shown.push_back(std::move(both));
        else ++hidden;
    }
    return shown;
}

std::string format_difference(const SetupDifference& d, const TextStyle& style) {
    std::string text = format_labelled("Old: ", printable_text(d.old_title, 200), style.width, 0, 5);
    text += format_paragraph(d.old_judgement.sentence, style.width, 5, 5);
    text += format_labelled("New: ", printable_text(d.new_title, 200), style.width, 0, 5);
    text += format_paragraph(d.new_judgement.sentence, style.width, 5, 5);
    text += format_values(d, style) + format_findings(d, style);
    return text + format_caution_list(list_cautions({&d.old_judgement, &d.new_judgement}), style);
}

}  // namespace hitchwright
