// The page of the side view (compose_side_view of side_view.h): blocks from the top down and from the bottom up; what is
// left in the middle is the picture's.
#include "report/side_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/page_blocks.h"
#include "report/shaft_drawing.h"

namespace hitchwright {
namespace {

constexpr TextFace caption_face{2.6, false};
constexpr TextFace finding_face{2.6, false};
constexpr TextFace row_title_face{2.8, true};
constexpr TextFace row_face{2.6, false};
constexpr TextFace row_warning_face{2.6, true};
constexpr double block_gap_mm = 1.8;
constexpr double column_gap_mm = 6.0;
constexpr double least_row_mm = 11.0;
constexpr double row_inset_mm = 1.4;
constexpr double row_left_mm = 52.0;
constexpr double row_right_mm = 72.0;
constexpr double tube_on_paper_mm = 4.6;
// Room around the picture for words and dimensions, beside, above and below.
constexpr double side_margin_mm = 9.0;
constexpr double top_margin_mm = 5.5;
constexpr double bottom_margin_mm = 1.5;
constexpr double least_picture_mm = 40.0;

double page_to_metres(double mm, double denominator) { return mm * denominator / 1000.0; }

bool has_role(const PagePicture& page, Role role) {
    return std::any_of(page.shapes.begin(), page.shapes.end(), [&](const PageShape& s) { return s.role == role; });
}

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
    if (gap < 0.0) return {with_need("bottoms out by " + format_length(-gap, units, Rounding::up), row.gap_needed, "gap of ", units), true};
    const bool short_of = row.gap_needed && gap < *row.gap_needed - rounding_slack;
    return {with_need("gap left " + format_length(gap, units, Rounding::down), row.gap_needed, "", units), short_of};
}

RowLine overlap_line(const ShaftRow& row, UnitSystem units) {
    const double overlap = find_overlap(row.halves, row.length);
    if (overlap < 0.0) return {with_need("halves apart by " + format_length(-overlap, units, Rounding::up), row.overlap_needed, "overlap of ", units), true};
    const bool short_of = row.overlap_needed && overlap < *row.overlap_needed - rounding_slack;
    return {with_need("overlap " + format_length(overlap, units, Rounding::down), row.overlap_needed, "", units), short_of};
}

std::string cut_text(const CutPair& cut, UnitSystem units) {
    if (!(cut.a > 0.0) && !(cut.b > 0.0)) return {};
    if (cut.a == cut.b) return "saw marks: " + format_length(cut.a, units) + " off each half";
    return fmt::format("saw marks: tractor half {}, implement half {}", format_length(cut.a, units), format_length(cut.b, units));
}

/// A row is about the gap, the overlap, or both; bad news is shown in any row.
bool shows_gap(const ShaftRow& row) { return row.gap_needed || !row.overlap_needed || find_gap(row.halves, row.length) < 0.0; }

std::vector<RowLine> row_lines(const ShaftRow& row, UnitSystem units) {
    // Rounded the way the row's judgement rounds, so that the numbers of a row agree with each other.
    const Rounding rounding = row.gap_needed ? Rounding::down : row.overlap_needed ? Rounding::up : Rounding::nearest;
    std::vector<RowLine> lines = {{"joint to joint " + format_length(row.length, units, rounding), false}};
    if (shows_gap(row)) lines.push_back(gap_line(row, units));
    if (row.overlap_needed || !row.gap_needed || find_overlap(row.halves, row.length) < 0.0) lines.push_back(overlap_line(row, units));
    if (std::string cut = cut_text(row.cut_marks, units); !cut.empty()) lines.push_back({cut, false});
    return lines;
}

/// Greatest distance along any row that its tubes and joints take up, m.
double longest_row(const std::vector<ShaftRow>& rows) {
    double most = 0.0;
    for (const ShaftRow& row : rows) most = std::max({most, row.length, row.halves.closed_length});
    return most;
}

bool row_is_drawable(const ShaftRow& row) {
    const double reach = std::max({row.length, row.halves.closed_length, row.halves.tube_a, row.halves.tube_b});
    return check_halves(row.halves) == HalvesStatus::ok && row.length > 0.0 && reach <= farthest_drawn;
}

/// Words of a row, broken to the widths of its two columns.
struct RowWords {
    TextBlock title, where;
    std::vector<TextBlock> lines;
};

RowWords make_row_words(const ShaftRow& row, UnitSystem units, const TextMeasure& measure) {
    const double left_width = row_left_mm - 3.0;
    RowWords words{make_text_block(row.title, row_title_face, left_width, measure), make_text_block(row.where, row_face, left_width, measure), {}};
    for (const RowLine& line : row_lines(row, units)) {
        words.lines.push_back(make_text_block(line.text, line.bad ? row_warning_face : row_face, row_right_mm - 3.0, measure));
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
    for (const TextBlock& line : words.lines) y = add_text_block(page, line, {area.right - row_right_mm + 3.0, y}, Role::label, measure);
}

void add_shaft_row(PagePicture& page, const ShaftRow& row, double denominator, const PageRect& area) {
    if (!row_is_drawable(row)) return;
    const ShaftLook look{page_to_metres(tube_on_paper_mm, denominator), page_to_metres(0.62 * tube_on_paper_mm, denominator), shows_gap(row)};
    const DrawingPoint from{0.0, 0.0}, to{row.length, 0.0};
    Drawing drawing;
    draw_shaft(drawing, from, to, row.length, row.halves, look);
    draw_cut_marks(drawing, from, to, row.length, row.halves, row.cut_marks, look);
    Placement placement;
    placement.scale_denominator = denominator;
    placement.page_origin = {area.left + row_left_mm + tube_on_paper_mm, (area.top + area.bottom) / 2.0};
    const std::vector<PageShape> shapes = place_shapes(drawing, placement);
    page.shapes.insert(page.shapes.end(), shapes.begin(), shapes.end());
}

/// The rows of the shaft drawn straight, standing on the bottom of `area`; returns the y above them.
double add_shaft_rows(PagePicture& page, const SideViewScene& scene, const PageRect& area, const TextMeasure& measure) {
    if (!scene.shaft || scene.shaft->rows.empty()) return area.bottom;
    const std::vector<ShaftRow>& rows = scene.shaft->rows;
    const double room = area.width() - row_left_mm - row_right_mm - 2.0 * tube_on_paper_mm;
    const double denominator = nice_scale_at_least(std::max(longest_row(rows), 0.01) * 1000.0 / room);
    std::vector<RowWords> words;
    double top = area.bottom;
    for (const ShaftRow& row : rows) {
        words.push_back(make_row_words(row, scene.units, measure));
        top -= row_height(words.back(), measure);
    }
    const double rows_top = top;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const PageRect box{area.left, top, area.right, top + row_height(words[i], measure)};
        page.shapes.push_back({Role::frame, PagePart::normal, PagePath{{{box.left, box.top}, {box.right, box.top}}, false}});
        add_row_words(page, words[i], box, measure);
        add_shaft_row(page, rows[i], denominator, box);
        top = box.bottom;
    }
    std::string caption = fmt::format("Shaft drawn straight, scale {}, tractor end on the left; lengths between joint centres.", format_scale(denominator));
    if (scene.shaft->halves_assumed) caption += " Tube lengths are assumed, not measured.";
    const TextBlock block = make_text_block(caption, caption_face, area.width(), measure);
    const double caption_top = rows_top - block_height(block, measure) - 0.8;
    add_text_block(page, block, {area.left, caption_top}, Role::legend, measure);
    return caption_top;
}

/// Entries for what is shown on the page, found by drawing it once without its final place.
std::vector<LegendItem> legend_of(const SideViewScene& scene, const Drawing& drawing, const PageRect& area, const TextMeasure& measure) {
    PagePicture page;
    page.shapes = place_shapes(drawing, {});
    add_shaft_rows(page, scene, area, measure);
    const std::vector<LegendItem> all = {
        {Role::pin_chosen, Swatch::circle, "hole in use"},
        {Role::pin, Swatch::circle, "other hole or pivot"},
        {Role::ghost, Swatch::line, "lifted position"},
        {Role::travel_arc, Swatch::line, "path through the lift"},
        {Role::obstacle, Swatch::line, "cab or ROPS"},
        {Role::guard, Swatch::line, "guard"},
        {Role::overlap, Swatch::area, "tubes overlap"},
        {Role::gap, Swatch::area, "gap left"},
        {Role::clash, Swatch::area, "parts meet"},
        {Role::separation, Swatch::area, "halves apart"},
        {Role::cut, Swatch::line, "saw mark"},
    };
    std::vector<LegendItem> present;
    std::copy_if(all.begin(), all.end(), std::back_inserter(present), [&](const LegendItem& item) { return has_role(page, item.role); });
    return present;
}

void add_failure(PagePicture& page, const PageRect& area, const TextMeasure& measure) {
    const TextBlock block = make_text_block("No picture: a point or a length of this set-up is missing, not a number, or far too large to draw.",
                                            {3.4, true}, area.width(), measure);
    add_text_block(page, block, {area.left, area.top + 4.0}, Role::label, measure);
}

/// The picture itself with its caption and scale bar. Returns texts that found no place.
std::vector<std::string> add_main_view(PagePicture& page, const SideViewScene& scene, const Drawing& drawing, const DrawingBox& box,
                                       const PageRect& area, const TextMeasure& measure) {
    const PageRect inner{area.left + side_margin_mm, area.top + top_margin_mm, area.right - side_margin_mm, area.bottom - bottom_margin_mm};
    const Placement placement = fit_to_page(box, inner);
    const std::string caption = fmt::format("Side view from the left; {}{}; scale {} when printed at full size.",
                                            scene.working ? scene.position_words + " solid" : "no position drawn",
                                            scene.lifted ? ", lifted position dashed" : "", format_scale(placement.scale_denominator));
    const PageText text = make_text({area.left, area.top + measure.ascent_mm(caption_face)}, caption, caption_face, measure);
    page.shapes.push_back({Role::legend, PagePart::normal, text});
    const PageRect bar = add_scale_bar(page, placement.scale_denominator, scene.units, {area.right, area.top + 3.4}, measure);
    return add_drawing(page, drawing, placement, area, {grown(text_box(text), 0.5), grown(bar, 0.5)}, measure);
}

std::string describe(const SideViewScene& scene) {
    std::string text = scene.subtitle.empty() ? std::string("Side view of a mounted implement") : scene.subtitle;
    if (scene.working) text += fmt::format(". Solid: {}, ball height {}.", scene.position_words, format_length(scene.working->lower_hitch_point.z, scene.units));
    return text;
}

std::vector<std::string> all_cautions(const SideViewScene& scene) {
    std::vector<std::string> cautions = scene.cautions;
    for (const Caution caution : standing_cautions) {
        if (caution == Caution::keep_from_turning_shaft && !scene.shaft) continue;
        const std::string sentence(caution_sentence(caution));
        if (std::find(cautions.begin(), cautions.end(), sentence) == cautions.end()) cautions.push_back(sentence);
    }
    return cautions;
}

std::string make_title(const SideViewScene& scene) {
    const std::string_view words = verdict_headline(scene.verdict);
    return scene.verdict_sentence.starts_with(words) ? scene.verdict_sentence : fmt::format("{}: {}", words, scene.verdict_sentence);
}

/// Findings under the header in two columns, read down the left one first; returns the y below them.
double add_findings(PagePicture& page, const std::vector<std::string>& findings, const PageRect& area, const TextMeasure& measure) {
    const double column = (area.width() - column_gap_mm) / 2.0;
    const std::size_t in_left = (findings.size() + 1) / 2;
    double y = area.top, below = area.top;
    for (std::size_t i = 0; i < findings.size(); ++i) {
        if (i == in_left) y = area.top;
        const double left = i < in_left ? area.left : area.left + column + column_gap_mm;
        y = add_text_block(page, make_text_block(findings[i], finding_face, column, measure), {left, y}, Role::title, measure);
        below = std::max(below, y);
    }
    return below;
}

double add_notes(PagePicture& page, const std::vector<std::string>& notes, const PageRect& area, const TextMeasure& measure) {
    std::string text;
    for (const std::string& note : notes) text += (text.empty() ? "" : " ") + note;
    const TextBlock block = make_text_block(text, caption_face, area.width(), measure);
    const double top = area.bottom - block_height(block, measure);
    add_text_block(page, block, {area.left, top}, Role::legend, measure);
    return top;
}

PagePicture compose_page(const SideViewScene& scene, const std::vector<std::string>& notes, const PageSetup& setup, const TextMeasure& measure,
                         std::vector<std::string>& unplaced) {
    PagePicture page;
    page.width_mm = setup.width_mm;
    page.height_mm = setup.height_mm;
    page.title = make_title(scene);
    page.description = describe(scene);
    PageRect area{setup.margin_mm, setup.margin_mm, setup.width_mm - setup.margin_mm, setup.height_mm - setup.margin_mm};
    area.top = add_verdict_header(page, scene.verdict, scene.verdict_sentence, scene.subtitle, area, measure);
    area.top = add_findings(page, scene.findings, area, measure) + block_gap_mm;
    area.bottom = add_cautions(page, all_cautions(scene), area, measure) - block_gap_mm;
    const Drawing drawing = draw_side_view(scene);
    const auto box = find_bounding_box(drawing);
    area.bottom = add_legend(page, legend_of(scene, drawing, area, measure), area, measure) - block_gap_mm;
    if (!scene.no_position.empty()) area.top = add_text_block(page, make_text_block(scene.no_position, {3.4, true}, area.width(), measure), {area.left, area.top}, Role::label, measure) + block_gap_mm;
    if (!notes.empty()) area.bottom = add_notes(page, notes, area, measure) - block_gap_mm;
    if (scene.shaft && !scene.shaft->rows.empty()) area.bottom = add_shaft_rows(page, scene, area, measure) - block_gap_mm;
    if (!box || area.height() < least_picture_mm) add_failure(page, area, measure);
    else unplaced = add_main_view(page, scene, drawing, *box, area, measure);
    return page;
}

}  // namespace

PagePicture compose_side_view(const SideViewScene& scene, const PageSetup& setup, const TextMeasure& measure) {
    std::vector<std::string> unplaced;
    const PagePicture page = compose_page(scene, scene.notes, setup, measure, unplaced);
    if (unplaced.empty()) return page;
    // Words that found no place in the picture go under it: nothing that was to be said is dropped.
    std::vector<std::string> notes = scene.notes;
    for (const std::string& text : unplaced) notes.push_back("Not placed in the picture: " + text + ".");
    return compose_page(scene, notes, setup, measure, unplaced);
}

}  // namespace hitchwright
