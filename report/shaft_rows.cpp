// See shaft_rows.h.
#include "report/shaft_rows.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/page_blocks.h"
#include "report/shaft_drawing.h"

namespace hitchwright {
namespace {

constexpr TextFace caption_face{2.6, false};
constexpr TextFace row_title_face{2.8, true};
constexpr TextFace row_face{2.6, false};
constexpr TextFace row_warning_face{2.6, true};
constexpr double least_row_mm = 11.0;
constexpr double row_inset_mm = 1.4;
constexpr double row_left_mm = 52.0;
constexpr double row_right_mm = 78.0;
constexpr double tube_on_paper_mm = 4.6;

double page_to_metres(double mm, double denominator) { return mm * denominator / 1000.0; }

std::string with_need(std::string text, std::optional<double> need, const char* of_what, UnitSystem units) {
    if (need) text += fmt::format(" ({}{} needed)", of_what, format_length(*need, units, Rounding::up));
    return text;
}

/// A statement about a row and whether it is bad news.
struct RowLine {
    std::string text;
    bool bad = false;
};

RowLine gap_line(const ShaftRow& row, UnitSystem units) {
    const double gap = find_gap(row.halves, row.length);
    if (gap < 0.0)
        return {
            with_need("bottoms out by " + format_length(-gap, units, Rounding::up), row.gap_needed, "gap of ", units),
            true};
    const bool short_of = row.gap_needed && gap < *row.gap_needed - rounding_slack;
    return {with_need("gap left " + format_length(gap, units, Rounding::down), row.gap_needed, "", units), short_of};
}

RowLine overlap_line(const ShaftRow& row, UnitSystem units) {
    const double overlap = find_overlap(row.halves, row.length);
    if (overlap < 0.0)
        return {with_need("halves apart by " + format_length(-overlap, units, Rounding::up), row.overlap_needed,
                          "overlap of ", units),
                true};
    const bool short_of = row.overlap_needed && overlap < *row.overlap_needed - rounding_slack;
    return {with_need("overlap " + format_length(overlap, units, Rounding::down), row.overlap_needed, "", units),
            short_of};
}

std::string cut_text(const CutPair& cut, UnitSystem units) {
    if (!(cut.a > 0.0) && !(cut.b > 0.0)) return {};
    if (cut.a == cut.b) return "saw marks: " + format_length(cut.a, units) + " off each half";
    return fmt::format("saw marks: tractor half {}, implement half {}", format_length(cut.a, units),
                       format_length(cut.b, units));
}

/// A row is about the gap, the overlap, or both; bad news is shown in any row. Halves that are apart have no gap to
/// speak of.
bool shows_gap(const ShaftRow& row) {
    if (find_overlap(row.halves, row.length) < 0.0) return false;
    return row.gap_needed || !row.overlap_needed || find_gap(row.halves, row.length) < 0.0;
}

std::vector<RowLine> row_lines(const ShaftRow& row, UnitSystem units) {
    // Rounded the way the row's judgement rounds, so that the numbers of a row agree with each other.
    const Rounding rounding = row.gap_needed ? Rounding::down : row.overlap_needed ? Rounding::up : Rounding::nearest;
    std::vector<RowLine> lines = {{"joint to joint " + format_length(row.length, units, rounding), false}};
    if (shows_gap(row)) lines.push_back(gap_line(row, units));
    if (row.overlap_needed || !row.gap_needed || find_overlap(row.halves, row.length) < 0.0)
        lines.push_back(overlap_line(row, units));
    if (std::string cut = cut_text(row.cut_marks, units); !cut.empty()) lines.push_back({cut, false});
    return lines;
}

bool row_is_drawable(const ShaftRow& row) {
    const double reach = std::max({row.length, row.halves.closed_length, row.halves.tube_a, row.halves.tube_b});
    return check_halves(row.halves) == HalvesStatus::ok && row.length > 0.0 && reach <= farthest_drawn;
}

/// What all rows together take up along the shaft, m from the tractor joint; a tube that is too long for its row
/// reaches past the joints.
struct RowsExtent {
    double left = 0.0, right = 0.01;
};

RowsExtent extent_of(const std::vector<ShaftRow>& rows) {
    RowsExtent extent;
    for (const ShaftRow& row : rows) {
        if (!row_is_drawable(row)) continue;
        const ShaftLayout s = lay_out_shaft(row.halves, row.length);
        extent.left = std::min(extent.left, s.implement_end);
        extent.right = std::max({extent.right, row.length, s.tractor_end});
    }
    return extent;
}

/// Words of a row, broken to the widths of its two columns.
struct RowWords {
    TextBlock title, where;
    std::vector<TextBlock> lines;
};

RowWords make_row_words(const ShaftRow& row, UnitSystem units, const TextMeasure& measure) {
    const double left_width = row_left_mm - 3.0;
    RowWords words{make_text_block(row.title, row_title_face, left_width, measure),
                   make_text_block(row.where, row_face, left_width, measure),
                   {}};
    for (const RowLine& line : row_lines(row, units)) {
        words.lines.push_back(
            make_text_block(line.text, line.bad ? row_warning_face : row_face, row_right_mm - 3.0, measure));
    }
    return words;
}

double row_height(const RowWords& words, const TextMeasure& measure) {
    double right = 0.0;
    for (const TextBlock& line : words.lines) right += block_height(line, measure);
    const double left = block_height(words.title, measure) + block_height(words.where, measure) + 0.4;
    return std::max(least_row_mm, std::max(left, right) + 2.0 * row_inset_mm);
}

void add_row_words(PagePicture& page, const RowWords& words, const PageRect& area, const TextMeasure& measure) {
    double y = area.top + row_inset_mm;
    y = add_text_block(page, words.title, {area.left, y}, Role::label, measure);
    add_text_block(page, words.where, {area.left, y + 0.4}, Role::label, measure);
    y = area.top + row_inset_mm;
    for (const TextBlock& line : words.lines)
        y = add_text_block(page, line, {area.right - row_right_mm + 3.0, y}, Role::label, measure);
}

void add_shaft_row(PagePicture& page, const ShaftRow& row, double denominator, double left_end, const PageRect& area) {
    if (!row_is_drawable(row)) return;
    const ShaftLook look{page_to_metres(tube_on_paper_mm, denominator),
                         page_to_metres(0.62 * tube_on_paper_mm, denominator), shows_gap(row)};
    const DrawingPoint from{0.0, 0.0}, to{row.length, 0.0};
    Drawing drawing;
    draw_shaft(drawing, from, to, row.length, row.halves, look);
    draw_cut_marks(drawing, from, to, row.length, row.halves, row.cut_marks, look);
    Placement placement;
    placement.scale_denominator = denominator;
    placement.drawing_origin = {left_end, 0.0};
    placement.page_origin = {area.left + row_left_mm + tube_on_paper_mm, (area.top + area.bottom) / 2.0};
    const std::vector<PageShape> shapes = place_shapes(drawing, placement);
    page.shapes.insert(page.shapes.end(), shapes.begin(), shapes.end());
}

}  // namespace

double add_shaft_rows(PagePicture& page, const SideViewScene& scene, const PageRect& area, const TextMeasure& measure) {
    if (!scene.shaft || scene.shaft->rows.empty()) return area.bottom;
    const std::vector<ShaftRow>& rows = scene.shaft->rows;
    const RowsExtent extent = extent_of(rows);
    const double room = area.width() - row_left_mm - row_right_mm - 2.0 * tube_on_paper_mm;
    const double denominator = nice_scale_at_least((extent.right - extent.left) * 1000.0 / room);
    std::vector<RowWords> words;
    double top = area.bottom;
    for (const ShaftRow& row : rows) {
        words.push_back(make_row_words(row, scene.units, measure));
        top -= row_height(words.back(), measure);
    }
    const double rows_top = top;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const PageRect box{area.left, top, area.right, top + row_height(words[i], measure)};
        page.shapes.push_back(
            {Role::frame, PagePart::normal, PagePath{{{box.left, box.top}, {box.right, box.top}}, false}});
        add_row_words(page, words[i], box, measure);
        add_shaft_row(page, rows[i], denominator, extent.left, box);
        top = box.bottom;
    }
    std::string caption =
        fmt::format("Shaft drawn straight, scale {}, tractor end on the left; lengths between joint centres.",
                    format_scale(denominator));
    if (scene.shaft->halves_assumed) caption += " Tube lengths are assumed, not measured.";
    const TextBlock block = make_text_block(caption, caption_face, area.width(), measure);
    const double caption_top = rows_top - block_height(block, measure) - 0.8;
    add_text_block(page, block, {area.left, caption_top}, Role::legend, measure);
    return caption_top;
}

}  // namespace hitchwright
