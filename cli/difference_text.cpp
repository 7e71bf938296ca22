// diff as text: values by key with old, new and difference; findings with their marks.
#include <fmt/format.h>

#include "cli/difference_output.h"
#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 60;

std::string show(const std::optional<SetupValue>& value, UnitSystem units) {
    if (!value) return "not given";
    return value->reading ? format_decimal_quantity(value->reading->value, value->dimension, units)
                          : printable_text(value->text, most_shown);
}

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

std::string describe_difference(const ValueDifference& d, UnitSystem units) {
    const std::string was = show(d.old_value, units), is = show(d.new_value, units);
    std::string text = was == is ? was : was + " -> " + is;
    const bool numbers = d.old_value && d.new_value && d.old_value->reading && d.new_value->reading;
    if (numbers && was != is) {
        const double change = d.new_value->reading->value - d.old_value->reading->value;
        text += fmt::format(" ({}{})", change > 0.0 ? "+" : "",
                            format_decimal_quantity(change, d.new_value->dimension, units));
    }
    return text + describe_beside(d, units);
}

std::string format_values(const SetupDifference& d, const TextStyle& style) {
    if (d.values.empty()) return "\nValues: all the same\n";
    std::string text = fmt::format("\nValues ({} differ)\n", d.values.size());
    for (const ValueDifference& v : d.values) {
        text += format_paragraph(printable_text(v.key, 200) + ": " + describe_difference(v, style.units), style.width,
                                 2, 4);
    }
    return text;
}

struct Contexts {
    FindingContext old_context, new_context;
};

std::string describe(const FindingDifference& d, const Contexts& contexts) {
    const auto headline = [](const Finding& f, const FindingContext& c) { return describe_finding(f, c).headline; };
    if (d.old_finding == nullptr) {
        return fmt::format("new: {}: {}", finding_mark(*d.new_finding), headline(*d.new_finding, contexts.new_context));
    }
    if (d.new_finding == nullptr) {
        return fmt::format("gone: {}: {}", finding_mark(*d.old_finding),
                           headline(*d.old_finding, contexts.old_context));
    }
    const std::string was = headline(*d.old_finding, contexts.old_context),
                      is = headline(*d.new_finding, contexts.new_context);
    const std::string_view old_mark = finding_mark(*d.old_finding), new_mark = finding_mark(*d.new_finding);
    const std::string marks =
        old_mark == new_mark ? std::string(new_mark) : fmt::format("{} -> {}", old_mark, new_mark);
    return was == is ? fmt::format("{}: {}", marks, is) : fmt::format("{}: {} -> {}", marks, was, is);
}

// True when the words tell the two apart; a change below the rounding does not.
bool is_shown(const FindingDifference& d, const Contexts& contexts) {
    if (d.old_finding == nullptr || d.new_finding == nullptr || d.changed_severity()) return true;
    return describe_finding(*d.old_finding, contexts.old_context).headline !=
           describe_finding(*d.new_finding, contexts.new_context).headline;
}

std::string format_findings(const SetupDifference& d, const TextStyle& style) {
    if (d.findings.empty()) return "\nFindings: all the same\n";
    const Contexts contexts{make_finding_context(d.old_setup, *d.old_judgement.analysis, style.units),
                            make_finding_context(d.new_setup, *d.new_judgement.analysis, style.units)};
    std::string text = fmt::format("\nFindings ({} differ)\n", d.findings.size());
    std::size_t hidden = 0;
    for (const FindingDifference& f : d.findings) {
        if (is_shown(f, contexts))
            text += format_paragraph(describe(f, contexts), style.width, 2, 4);
        else
            ++hidden;
    }
    if (hidden > 0) {
        text += format_paragraph(fmt::format("{} by numbers that are not in the headline (--format csv has them)",
                                             format_count(hidden, "finding")),
                                 style.width, 2, 4);
    }
    return text;
}

}  // namespace

std::string format_difference(const SetupDifference& d, const TextStyle& style) {
    std::string text = format_labelled("Old: ", printable_text(d.old_title, 200), style.width, 0, 5);
    text += format_paragraph(d.old_judgement.sentence, style.width, 5, 5);
    text += format_labelled("New: ", printable_text(d.new_title, 200), style.width, 0, 5);
    text += format_paragraph(d.new_judgement.sentence, style.width, 5, 5);
    text += format_values(d, style) + format_findings(d, style);
    return text + format_caution_list(list_cautions({&d.old_judgement, &d.new_judgement}), style);
}

}  // namespace hitchwright
