// See level_room.h.
#include "gui/level_room.h"

#include <cmath>

#include "gui/rod_edits.h"
#include "report/space_text.h"

namespace hitchwright {
namespace {

constexpr std::size_t no_wrapping = 100000;

/// Cells of a line: what two or more spaces part.
std::vector<std::string> read_cells(std::string_view line) {
    std::vector<std::string> cells;
    std::size_t at = 0;
    while (at < line.size()) {
        const std::size_t end = std::min(line.find("  ", at), line.size());
        if (end > at) cells.emplace_back(line.substr(at, end - at));
        at = std::min(line.find_first_not_of(' ', end), line.size());
    }
    return cells;
}

std::vector<std::string_view> read_lines(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        lines.push_back(text.substr(0, end));
        text = end == std::string_view::npos ? std::string_view() : text.substr(end + 1);
    }
    return lines;
}

}  // namespace

std::vector<AnswerBlock> make_column_blocks(std::string_view text) {
    std::vector<AnswerBlock> blocks;
    for (const std::string_view line : read_lines(text)) {
        std::vector<std::string> cells = read_cells(line);
        if (cells.empty()) continue;
        AnswerBlock block;
        if (cells.size() == 1) {
            block.kind = BlockKind::words;
            block.text = std::move(cells.front());
            blocks.push_back(std::move(block));
            continue;
        }
        // Another title in the second column begins another table.
        const bool heads = blocks.empty() || blocks.back().kind != BlockKind::table || cells[1] == blocks.back().rows.front()[1];
        if (!heads) {
            blocks.back().rows.push_back(std::move(cells));
            continue;
        }
        block.kind = BlockKind::heading;
        block.text = cells.front();
        blocks.push_back(block);
        cells.front() = " ";
        block.kind = BlockKind::table;
        block.text.clear();
        block.rows.push_back(std::move(cells));
        blocks.push_back(std::move(block));
    }
    return blocks;
}

std::vector<AnswerBlock> make_level_blocks(const AppState& app) {
    const TextStyle style{app.view.units, no_wrapping, false};
    std::vector<AnswerBlock> blocks = make_column_blocks(format_space_study(app.results.analysis, style));
    if (!blocks.empty()) return blocks;
    AnswerBlock block;
    block.kind = BlockKind::words;
    block.text = "Both lift rods count as alike, and nothing is said of sway or of the room beside the tyres. Type a rod length, a roll or the sway, and "
                 "it is judged here and among the findings.";
    return {block};
}

std::optional<Edits> find_wanted_rods(const AppState& app) {
    const std::optional<SpaceStudy>& space = app.results.analysis.space;
    if (!space || !space->levelling || !space->levelling->wanted || !space->levelling->wanted->reached) return std::nullopt;
    Edits edits = app.now.edits;
    for (const RodLength& rod : space->levelling->wanted->rods) {
        if (!rod.screw || rod.short_by || rod.long_by) continue;
        const auto [text, length] = make_length_text(rod.wanted, app.view.units, drag_step(app.view.units));
        if (std::fabs(length - rod.set) > 0.5 * drag_step(app.view.units)) edits = with_field(std::move(edits), rod_key(rod.side), text);
    }
    if (edits == app.now.edits) return std::nullopt;
    return edits;
}

}  // namespace hitchwright
