// The matrix as text: counts, then each pair of machines with a row for each shaft and what decides below it.
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/pair_row.h"
#include "report/safe_words.h"
#include "report/wrapped_row.h"

namespace hitchwright {
namespace {

constexpr std::size_t columns = 7, between = 2;
constexpr std::array<std::size_t, columns> widths = {15, 9, 8, 11, 13, 6, 6};
constexpr std::size_t most_name = 40;

using Cells = std::array<std::string, columns>;

std::string_view say_shortly(const PairRow& row) {
    if (row.answer == not_tried_word) return "not tried";
    if (row.answer == not_read_word) return "not read";
    if (row.answer == verdict_word(Verdict::fits)) return "fits";
    if (row.answer == verdict_word(Verdict::fits_after_change)) return "change";
    if (row.answer == verdict_word(Verdict::must_not_run)) return "no";
    if (row.answer == verdict_word(Verdict::too_close_to_call)) return "too close";
    return "not known";
}

std::string_view say_answer(std::string_view answer) {
    if (answer == verdict_word(Verdict::fits)) return "as it is";
    if (answer == verdict_word(Verdict::fits_after_change)) return "after a change";
    if (answer == verdict_word(Verdict::must_not_run)) return "must not run";
    if (answer == verdict_word(Verdict::too_close_to_call)) return "too close to call";
    if (answer == verdict_word(Verdict::not_known)) return "not known";
    return answer == not_tried_word ? "not worth trying" : "could not be read";
}

/// "2 / 1": hole of the tractor, of the mast, of the lift rod; of a drawn implement the position.
std::string say_holes(const FitNumbers& n) {
    std::string text = n.drawbar_pin;
    for (const std::string* name : {&n.upper_link_pin, &n.mast_pin, &n.lift_rod_hole}) {
        if (!name->empty()) text += (text.empty() ? "" : "/") + *name;
    }
    return text.empty() ? "-" : printable_text(text, most_name);
}

std::string say_cut(const FitNumbers& n, const SafeWords& w) {
    if (!n.cut_tractor_half || !n.cut_implement_half) return n.cut_answer == "no_cut_works" ? "none works" : "-";
    const double a = *n.cut_tractor_half, b = *n.cut_implement_half;
    if (a == 0.0 && b == 0.0) return "none needed";
    if (a == b) return w.place(a) + " each";
    return w.place(a) + " + " + w.place(b);
}

/// What is there counts as less, never as more.
std::string say_percent(const std::optional<double>& share) {
    return share ? fmt::format("{:.0f} %", std::floor(100.0 * *share + 1e-9)) : "-";
}

std::optional<double> find_lift_share(const FitNumbers& n) {
    return n.lift_least && n.load && *n.load > 0.0 ? std::optional(*n.lift_least / *n.load) : std::nullopt;
}

std::string format_cells(const Cells& cells) { return format_wrapped_row(cells, widths, between, 0); }

std::string format_row(const PairRow& row, const TextStyle& style) {
    const SafeWords w{style.units};
    const FitNumbers& n = row.numbers;
    const std::string shaft = row.driveline.empty() ? "no shaft" : printable_text(row.driveline, most_name);
    std::string text = format_cells({shaft, std::string(say_shortly(row)), say_holes(n), n.upper_link ? w.place(*n.upper_link) : "-", say_cut(n, w),
                                     say_percent(n.front_axle_share), say_percent(find_lift_share(n))});
    text += format_paragraph(row.text, style.width, 2, 4);
    for (const std::string& step : row.steps) text += format_labelled("> ", step, style.width, 2, 4);
    return text;
}

std::string format_counts(const PairTable& table, const TextStyle& style) {
    std::string text;
    for (const std::string_view answer : all_pair_answers()) {
        const std::size_t n = table.count(answer);
        if (n > 0) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", n, say_answer(answer));
    }
    const std::string stopped = table.complete() ? "" : fmt::format("STOPPED: {} of {} rows are done. ", table.rows.size(), table.total);
    return format_paragraph(fmt::format("{}{}: {}.", stopped, format_count(table.rows.size(), "row"), text.empty() ? "none" : text), style.width, 0, 0);
}

/// Files that could not be read, and pairs that were not tried, are not about a shaft.
std::string format_without_shaft(const PairRow& row, const TextStyle& style) {
    std::string names;
    for (const std::string* name : {&row.tractor, &row.implement, &row.driveline}) {
        if (!name->empty()) names += (names.empty() ? "" : " with ") + printable_text(*name, most_name);
    }
    return format_labelled(fmt::format("{}: {}: ", names, say_shortly(row)), row.text, style.width, 0, 4);
}

bool is_judged(const PairRow& row) { return row.answer != not_tried_word && row.answer != not_read_word; }

}  // namespace

std::string format_pair_table(const PairTable& table, const TextStyle& style) {
    std::string text = format_counts(table, style), left_out;
    const PairRow* before = nullptr;
    for (const PairRow& row : table.rows) {
        if (!is_judged(row)) {
            left_out += format_without_shaft(row, style);
            continue;
        }
        if (before == nullptr || before->tractor != row.tractor || before->implement != row.implement) {
            text += fmt::format("\n{} with {}\n", printable_text(row.tractor, most_name), printable_text(row.implement, most_name));
            text += format_cells({"shaft", "answer", "holes", "upper link", "cut", "front", "lift"});
        }
        before = &row;
        text += format_row(row, style);
    }
    if (before != nullptr) {
        text += "\n" + format_paragraph("answer: as \"fit\" says it with these holes. holes: of the tractor, the mast and the lift rod, or the position of the drawbar. front: share "
                                        "on the front axle in the lightest state. lift: what is lifted at the worst height, of what the implement weighs.",
                                        style.width, 0, 0);
    }
    if (!left_out.empty()) text += "\n" + left_out;
    const std::vector<Caution> cautions = table.list_cautions();
    if (!cautions.empty()) text += "\nCautions\n";
    for (const Caution c : cautions) text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
    return text;
}

}  // namespace hitchwright
