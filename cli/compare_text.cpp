// compare as text: one table of all findings, or an item for each variant.
#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "cli/compare_output.h"
#include "cli/compare_rows.h"
#include "report/caution_text.h"
#include "report/safe_words.h"
#include "report/wrapped_row.h"

namespace hitchwright {
namespace {

constexpr std::size_t columns = 4, between = 2;
constexpr std::size_t most_flips = 6;

using Cells = std::array<std::string, columns>;

std::string format_row(const Cells& cells, const std::array<std::size_t, columns>& widths) { return format_wrapped_row(cells, widths, between, 2); }

/// The question takes what the others leave of the page.
std::array<std::size_t, columns> find_widths(std::size_t page) {
    const std::size_t side = page >= 80 ? 20 : 12, change = page >= 80 ? 12 : 8;
    const std::size_t taken = 2 * side + change + 3 * between;
    return {page > taken + 10 ? page - taken : 10, side, side, change};
}

std::string say_side(const CompareSide& s) {
    if (s.mark.empty()) return "-";
    return s.number.empty() ? s.mark : s.mark + " " + s.number;
}

std::string format_rows(const SetupDifference& d, const TextStyle& style) {
    const std::array<std::size_t, columns> widths = find_widths(std::max<std::size_t>(style.width, 40));
    std::string text = "\nEvery finding before and after\n" + format_row({"question", "A", "B", "A -> B"}, widths);
    int group = -1;
    for (const CompareRow& r : list_compare_rows(d, style.units)) {
        const int now = r.flips ? 0 : r.differs ? 1 : 2;
        if (now != group) text += format_paragraph(now == 0 ? "-- flipped --" : now == 1 ? "-- other numbers --" : "-- the same --", style.width, 0, 0);
        group = now;
        text += format_row({r.question, say_side(r.a), say_side(r.b), r.change}, widths);
    }
    return text;
}

/// What the flips say in words: the table has only marks and numbers.
std::string format_flips(const SetupDifference& d, const TextStyle& style) {
    const FindingContext was = make_finding_context(d.old_setup, *d.old_judgement.analysis, style.units);
    const FindingContext is = make_finding_context(d.new_setup, *d.new_judgement.analysis, style.units);
    std::string text;
    for (const FindingDifference& f : find_flips(d.old_judgement.analysis->findings, d.new_judgement.analysis->findings))
        text += format_paragraph(say_flip(f, was, is) + ".", style.width, 2, 4);
    return text.empty() ? "\nNothing that decides flips.\n" : "\nWhat flips\n" + text;
}

}  // namespace

std::string format_comparison(const SetupDifference& d, const std::string& terms, const TextStyle& style) {
    std::string text = format_labelled("A: ", printable_text(d.old_title, 200), style.width, 0, 3);
    text += format_paragraph(d.old_judgement.sentence, style.width, 3, 3);
    text += format_labelled("B: ", printable_text(d.new_title, 200), style.width, 0, 3);
    text += format_paragraph(d.new_judgement.sentence, style.width, 3, 3);
    if (!terms.empty()) text += format_paragraph(terms, style.width, 3, 3);
    text += format_flips(d, style) + format_rows(d, style);
    if (d.values.empty()) text += "\nValues: all the same\n";
    else text += "\n" + format_paragraph(fmt::format("{} with another value; \"hitchwright diff\" lists them for two files.", format_count(d.values.size(), "key")), style.width, 0, 2);
    return text + format_caution_list(list_cautions({&d.old_judgement, &d.new_judgement}), style);
}

std::string format_variants(const VariantStudy& study, const std::string& title, const std::string& sentence, const TextStyle& style) {
    AnswerBuilder out(style);
    out.words(printable_text(title, 120), 0, 0);
    out.answer(sentence);
    out.gap();
    add_variants(out, study, most_flips);
    out.gap();
    out.words("Each by itself, all else as it is. One or more together, every finding before and after: --switch WHAT.", 0, 0);
    out.cautions(list_variant_cautions(study));
    return format_blocks(out.take(), style);
}

std::vector<Caution> list_variant_cautions(const VariantStudy& study) {
    std::vector<Caution> all = list_closing_cautions(study.analysis);
    for (const VariantAnswer& a : study.answers) {
        for (const Caution c : list_closing_cautions(a.analysis)) {
            if (std::find(all.begin(), all.end(), c) == all.end()) all.push_back(c);
        }
    }
    return all;
}

}  // namespace hitchwright
