// One row of the matrix: a tractor with an implement and a shaft, judged; or why it was not. As JSON and CSV.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "report/fit_numbers.h"
#include "report/text_layout.h"

namespace hitchwright {

/// What stands in `answer` beside the words of a verdict.
inline constexpr std::string_view not_tried_word = "not_tried";  ///< the pair is not worth trying: `text` says why
inline constexpr std::string_view not_read_word = "not_read";    ///< a file has problems; `text` is the first of them

/// Counts the forms of a row: one more with each change of what stands in it, or of how it is made.
inline constexpr int pair_row_form = 3;

/// Machines by the names they are called by; empty: none, or not a matter of this row.
struct PairRow {
    std::string tractor, implement, driveline;
    std::string answer;      ///< verdict_word, not_tried or not_read
    std::string decided_by;  ///< word of the finding that decides, or of the obstacle; empty: none
    std::string text;        ///< it in words
    std::vector<std::string> steps;  ///< all that "fit" says to do, conditions too, in its order
    std::string cautions;    ///< words of those that end its report, with blanks between
    FitNumbers numbers;      ///< without a cut to make where none makes it fit; rounded as they are written, so that what is read back is the same
    std::string inputs;      ///< digest of all it was made from

    bool operator==(const PairRow&) const = default;
};

/// Visits all members in the order of the tables; v as of visit_fit_numbers, with v.texts(name, member) for a list.
template <class Row, class V>
void visit_pair_row(Row& row, V&& v) {
    v.text("tractor", row.tractor);
    v.text("implement", row.implement);
    v.text("driveline", row.driveline);
    v.text("answer", row.answer);
    v.text("decided_by", row.decided_by);
    v.text("text", row.text);
    v.texts("steps", row.steps);
    v.text("cautions", row.cautions);
    visit_fit_numbers(row.numbers, v);
    v.text("inputs", row.inputs);
}

/// Rounds the numbers to what JSON writes of them. Twice is the same as once.
void round_for_rows(FitNumbers& numbers);

/// All rows with how many there are to be; fewer: it was stopped.
struct PairTable {
    std::vector<PairRow> rows;
    std::size_t total = 0;

    bool complete() const { return rows.size() == total; }
    std::size_t count(std::string_view answer) const;
    /// The cautions of all rows, each once.
    std::vector<Caution> list_cautions() const;
};

/// Answers in the order in which they are counted.
const std::vector<std::string_view>& all_pair_answers();

/// The row as a JSON object; what is not known is null.
JsonValue make_pair_row_json(const PairRow& row);

/// `matrix`: schema hitchwright.matrix.
std::string format_pair_table_json(const PairTable& table);

/// A header and a line for each row; lengths in `units`.
std::string format_pair_table_csv(const PairTable& table, UnitSystem units);

/// Text: the counts, then each pair of machines with its shafts, what decides below each, the cautions. Lines of at most
/// style.width columns.
std::string format_pair_table(const PairTable& table, const TextStyle& style);

}  // namespace hitchwright
