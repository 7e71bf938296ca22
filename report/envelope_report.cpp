// See envelope_report.h.
#include "report/envelope_report.h"

#include <fmt/format.h>

#include "report/edge_units.h"

namespace hitchwright {
namespace {

char mark_of(const Envelope& e, const EnvelopeCell& c) {
    if (e.has_halves && c.gap_margin < 0.0) return 'B';
    if (e.has_halves && c.overlap_margin < 0.0) return 'S';
    return c.joint_margin < 0.0 ? 'J' : '.';
}

/// Rear up at the top, the turns below.
std::vector<std::vector<std::string>> list_rows(const Envelope& e) {
    const double degree = find_edge_unit(Dimension::angle).per_si;
    std::vector<std::vector<std::string>> rows;
    for (std::size_t j = e.pitches; j-- > 0;) {
        std::vector<std::string> row = {fmt::format("{:.0f}", e.at(0, j).pitch * degree)};
        for (std::size_t i = 0; i < e.yaws; ++i) row.emplace_back(1, mark_of(e, e.at(i, j)));
        rows.push_back(std::move(row));
    }
    std::vector<std::string> turns = {"turn"};
    for (std::size_t i = 0; i < e.yaws; ++i) turns.push_back(fmt::format("{:.0f}", e.at(i, 0).yaw * degree));
    rows.push_back(std::move(turns));
    return rows;
}

std::string format_rows(const std::vector<std::vector<std::string>>& rows) {
    std::string text = "  rear, deg\n";
    for (const std::vector<std::string>& row : rows) {
        const bool last = &row == &rows.back();
        text += last ? fmt::format("{:>10}", row[0]) : fmt::format("{:>8}  ", row[0]);
        for (std::size_t i = 1; i < row.size(); ++i) text += fmt::format("{:>6}", row[i]);
        text += "\n";
    }
    return text;
}

/// A window has less room across: both ends stay, straight ahead, and every other one between.
void leave_out_turns(std::vector<std::string>& row) {
    std::vector<std::string> kept{row.front()};
    const std::size_t middle = row.size() / 2;
    for (std::size_t i = 1; i < row.size(); ++i) {
        if (i == 1 || i + 1 == row.size() || (i + middle) % 2 == 0) kept.push_back(row[i]);
    }
    row = std::move(kept);
}

}  // namespace

std::vector<AnswerBlock> make_envelope_blocks(const Setup& setup, const Envelope& e, const TextStyle& style) {
    constexpr const char* key =
        "B: too little gap, or bottoms out. S: too little overlap, or apart. J: a joint beyond its PTO-off limit. Turn: left is -; rear "
        "up is +. Without roll.";
    AnswerBuilder out(style);
    out.machines(setup);
    out.gap();
    std::vector<std::vector<std::string>> rows = list_rows(e);
    std::string terminal = format_rows(rows);
    // In a window the first row heads the columns.
    std::vector<std::string> turns = std::move(rows.back());
    rows.pop_back();
    turns.front() = "rear up, at turn";
    rows.insert(rows.begin(), std::move(turns));
    for (std::vector<std::string>& row : rows) leave_out_turns(row);
    out.table(std::move(rows), std::move(terminal));
    out.words(fmt::format("{} The whole picture: draw --view envelope; every number: --format csv.", key), 0, 0, BlockPlace::terminal);
    out.words(key, 0, 0, BlockPlace::window);
    out.cautions({Caution::turn_with_pto_off, Caution::cross_ditches_slowly, Caution::keep_from_turning_shaft, Caution::parts_or_breaks,
                  Caution::manual_rules});
    return out.take();
}

std::string format_envelope_report(const Setup& setup, const Envelope& e, const TextStyle& style) {
    return format_blocks(make_envelope_blocks(setup, e, style), style);
}

}  // namespace hitchwright
