// See page_blocks.h.
#include "report/page_blocks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "report/dimension_layout.h"
#include "report/finding_text.h"
#include "report/label_layout.h"

namespace hitchwright {
namespace {

constexpr TextFace sentence_face{4.2, true};
constexpr TextFace verdict_face{4.4, true};
constexpr TextFace subtitle_face{2.8, false};
constexpr TextFace caution_face{2.6, false};
constexpr TextFace caution_head_face{2.9, true};
constexpr TextFace legend_face{2.5, false};
constexpr TextFace label_face{2.6, false};
constexpr TextFace scale_face{2.4, false};
constexpr double verdict_height_mm = 9.5;
constexpr double mark_mm = 6.0;
constexpr double swatch_mm = 8.0;
constexpr double legend_gap_mm = 5.0;

PagePath rectangle(const PageRect& r) {
    return {{{r.left, r.top}, {r.right, r.top}, {r.right, r.bottom}, {r.left, r.bottom}}, true};
}

void add(PagePicture& page, Role role, PagePath path) {
    page.shapes.push_back({role, PagePart::normal, std::move(path)});
}

PagePath regular_polygon(PagePoint c, double radius, int corners, double first_angle) {
    PagePath path{{}, true};
    for (int i = 0; i < corners; ++i) {
        const double a = first_angle + 2.0 * 3.14159265358979323846 * i / corners;
        path.points.push_back({c.x + radius * std::cos(a), c.y - radius * std::sin(a)});
    }
    return path;
}

/// The verdict's mark by form: tick in a circle, exclamation mark in a square, cross in an octagon, question mark in a diamond, open circle.
void add_verdict_mark(PagePicture& page, Verdict verdict, PagePoint c) {
    const double r = mark_mm / 2.0;
    const auto tick = [&] {
        add(page, Role::verdict,
            {{{c.x - 0.45 * r, c.y}, {c.x - 0.1 * r, c.y + 0.4 * r}, {c.x + 0.5 * r, c.y - 0.4 * r}}, false});
    };
    switch (verdict) {
        case Verdict::fits:
            page.shapes.push_back({Role::verdict, PagePart::normal, PageCircle{c, r}});
            tick();
            break;
        case Verdict::fits_after_change:
            add(page, Role::verdict, rectangle({c.x - r, c.y - r, c.x + r, c.y + r}));
            add(page, Role::verdict, {{{c.x, c.y - 0.6 * r}, {c.x, c.y + 0.2 * r}}, false});
            page.shapes.push_back({Role::verdict, PagePart::normal, PageCircle{{c.x, c.y + 0.55 * r}, 0.08 * r}});
            break;
        case Verdict::must_not_run:
            add(page, Role::verdict, regular_polygon(c, 1.08 * r, 8, 0.3926990817));
            add(page, Role::verdict, {{{c.x - 0.45 * r, c.y - 0.45 * r}, {c.x + 0.45 * r, c.y + 0.45 * r}}, false});
            add(page, Role::verdict, {{{c.x - 0.45 * r, c.y + 0.45 * r}, {c.x + 0.45 * r, c.y - 0.45 * r}}, false});
            break;
        case Verdict::too_close_to_call:
            add(page, Role::verdict, regular_polygon(c, 1.1 * r, 4, 0.0));
            add(page, Role::verdict, {{{c.x - 0.5 * r, c.y - 0.15 * r}, {c.x + 0.5 * r, c.y - 0.15 * r}}, false});
            add(page, Role::verdict, {{{c.x - 0.5 * r, c.y + 0.2 * r}, {c.x + 0.5 * r, c.y + 0.2 * r}}, false});
            break;
        case Verdict::not_known:
            page.shapes.push_back({Role::verdict, PagePart::normal, PageCircle{c, r}});
            add(page, Role::verdict, {{{c.x - 0.45 * r, c.y}, {c.x + 0.45 * r, c.y}}, false});
            break;
    }
}

void add_text(PagePicture& page, Role role, const PageText& text) {
    page.shapes.push_back({role, PagePart::normal, text});
}

void add_swatch(PagePicture& page, const LegendItem& item, PagePoint left_middle) {
    const PageRect box{left_middle.x, left_middle.y - 1.1, left_middle.x + swatch_mm, left_middle.y + 1.1};
    if (item.swatch == Swatch::circle) {
        page.shapes.push_back({item.role, PagePart::normal, PageCircle{{box.right - 1.3, left_middle.y}, 1.0}});
        return;
    }
    if (item.swatch == Swatch::line) {
        add(page, item.role, {{{box.left, left_middle.y}, {box.right, left_middle.y}}, false});
        return;
    }
    const PagePath area = rectangle(box);
    add(page, item.role, area);
    const RoleStyle& style = style_of(item.role);
    for (PagePath& line : make_hatch(area.points, style.hatch, style.hatch_spacing_mm)) {
        page.shapes.push_back({item.role, PagePart::hatch, std::move(line)});
    }
}

double legend_item_width(const LegendItem& item, const TextMeasure& measure) {
    const double swatch = item.swatch == Swatch::circle ? 2.6 : swatch_mm;
    return swatch + 1.2 + measure.width_mm(item.words, legend_face);
}

/// Words are told apart by their order alone: a guess that is another's costs time and nothing else.
void take_guesses(const WordPlaces& places, std::vector<PageDimension>& dimensions, std::vector<LabelRequest>& labels) {
    for (std::size_t i = 0; i < std::min(dimensions.size(), places.dimensions.size()); ++i) dimensions[i].guess = places.dimensions[i];
    for (std::size_t i = 0; i < std::min(labels.size(), places.labels.size()); ++i) labels[i].guess = places.labels[i];
}

std::vector<int> list_places(const LabelLayout& layout, std::size_t requests) {
    std::vector<int> places(requests, no_place);
    for (const PlacedLabel& label : layout.placed) places[label.request] = label.place;
    return places;
}

}  // namespace

TextBlock make_text_block(std::string_view text, TextFace face, double width_mm, const TextMeasure& measure) {
    return {wrap_text(text, face, width_mm, measure), face};
}

double block_height(const TextBlock& block, const TextMeasure& measure) {
    return static_cast<double>(block.lines.size()) * measure.line_pitch_mm(block.face);
}

double add_text_block(PagePicture& page, const TextBlock& block, PagePoint corner, Role role,
                      const TextMeasure& measure) {
    double baseline = corner.y + measure.ascent_mm(block.face);
    for (const std::string& line : block.lines) {
        add_text(page, role, make_text({corner.x, baseline}, line, block.face, measure));
        baseline += measure.line_pitch_mm(block.face);
    }
    return corner.y + block_height(block, measure);
}

double add_verdict_header(PagePicture& page, Verdict verdict, std::string_view sentence, std::string_view subtitle,
                          const PageRect& area, const TextMeasure& measure) {
    std::string words(verdict_headline(verdict));
    if (sentence.starts_with(words)) words.clear();
    const double words_width = words.empty() ? 0.0 : measure.width_mm(words, verdict_face) + 2.5;
    const PageRect box{area.left, area.top, area.left + mark_mm + words_width + 4.0, area.top + verdict_height_mm};
    add(page, Role::verdict, rectangle(box));
    const double middle = (box.top + box.bottom) / 2.0;
    add_verdict_mark(page, verdict, {box.left + 2.0 + mark_mm / 2.0, middle});
    if (!words.empty())
        add_text(
            page, Role::verdict,
            make_text({box.left + mark_mm + 4.2, middle + 0.36 * verdict_face.size_mm}, words, verdict_face, measure));
    const double left = box.right + 4.0;
    const TextBlock block = make_text_block(sentence, sentence_face, area.right - left, measure);
    const double used = block_height(block, measure);
    // A single line stands level with the words in the box.
    const double top = used < verdict_height_mm ? middle - used / 2.0 + 0.4 : area.top;
    const double below = std::max(add_text_block(page, block, {left, top}, Role::title, measure), box.bottom) + 1.6;
    return add_text_block(page, make_text_block(subtitle, subtitle_face, area.width(), measure), {area.left, below},
                          Role::title, measure) +
           1.0;
}

double add_cautions(PagePicture& page, const std::vector<std::string>& cautions, const PageRect& area,
                    const TextMeasure& measure) {
    constexpr double triangle = 6.5, inset = 1.6;
    std::string text;
    for (const std::string& caution : cautions) text += (text.empty() ? "" : " ") + caution;
    const std::string head = "CAUTION";
    const double head_width = measure.width_mm(head, caution_head_face);
    const double left = area.left + inset + triangle + 2.0 + head_width + 3.0;
    const TextBlock block = make_text_block(text, caution_face, area.right - inset - left, measure);
    const double height = std::max(block_height(block, measure), triangle) + 2.0 * inset;
    const PageRect box{area.left, area.bottom - height, area.right, area.bottom};
    add(page, Role::caution, rectangle(box));
    const double middle = (box.top + box.bottom) / 2.0;
    const PagePoint c{area.left + inset + triangle / 2.0, middle};
    add(page, Role::caution,
        {{{c.x - triangle / 2.0, c.y + 0.43 * triangle},
          {c.x + triangle / 2.0, c.y + 0.43 * triangle},
          {c.x, c.y - 0.43 * triangle}},
         true});
    add(page, Role::caution, {{{c.x, c.y - 0.16 * triangle}, {c.x, c.y + 0.14 * triangle}}, false});
    add(page, Role::caution, {{{c.x, c.y + 0.28 * triangle}, {c.x, c.y + 0.281 * triangle}}, false});
    add_text(page, Role::caution,
             make_text({area.left + inset + triangle + 2.0, middle + 0.36 * caution_head_face.size_mm}, head,
                       caution_head_face, measure));
    add_text_block(page, block, {left, middle - block_height(block, measure) / 2.0 + 0.2}, Role::caution, measure);
    return box.top;
}

double add_legend(PagePicture& page, const std::vector<LegendItem>& items, const PageRect& area,
                  const TextMeasure& measure) {
    if (items.empty()) return area.bottom;
    constexpr double row_mm = 4.4;
    std::vector<std::vector<const LegendItem*>> rows(1);
    double x = area.left;
    for (const LegendItem& item : items) {
        const double width = legend_item_width(item, measure);
        if (x + width > area.right && !rows.back().empty()) {
            rows.emplace_back();
            x = area.left;
        }
        rows.back().push_back(&item);
        x += width + legend_gap_mm;
    }
    const double top = area.bottom - row_mm * static_cast<double>(rows.size());
    for (std::size_t r = 0; r < rows.size(); ++r) {
        const double middle = top + row_mm * (static_cast<double>(r) + 0.5);
        x = area.left;
        for (const LegendItem* item : rows[r]) {
            const double swatch = item->swatch == Swatch::circle ? 2.6 : swatch_mm;
            add_swatch(page, *item, {x + swatch - swatch_mm, middle});
            add_text(
                page, Role::legend,
                make_text({x + swatch + 1.2, middle + 0.36 * legend_face.size_mm}, item->words, legend_face, measure));
            x += legend_item_width(*item, measure) + legend_gap_mm;
        }
    }
    return top;
}

PageRect add_scale_bar(PagePicture& page, double scale_denominator, UnitSystem units, PagePoint corner,
                       const TextMeasure& measure) {
    constexpr std::array<double, 6> inches = {3, 6, 12, 24, 36, 48};
    constexpr std::array<double, 6> metric = {0.1, 0.2, 0.25, 0.5, 1.0, 2.0};
    constexpr double most_bar_mm = 36.0;
    double length = 0.0;
    for (std::size_t i = 0; i < inches.size(); ++i) {
        const double metres = units == UnitSystem::inch ? inches[i] * metres_per_inch : metric[i];
        if (length == 0.0 || metres * 1000.0 / scale_denominator <= most_bar_mm) length = metres;
    }
    const double bar = length * 1000.0 / scale_denominator;
    const std::string words = format_length(length, units);
    const double width = measure.width_mm(words, scale_face);
    const double left = corner.x - bar - width - 1.5, y = corner.y - 1.4;
    add(page, Role::legend, {{{left, y}, {left + bar, y}}, false});
    for (double t : {0.0, 0.5, 1.0})
        add(page, Role::legend, {{{left + t * bar, y - 1.2}, {left + t * bar, y + 1.2}}, false});
    add_text(page, Role::legend,
             make_text({left + bar + 1.5, y + 0.36 * scale_face.size_mm}, words, scale_face, measure));
    return {left, y - 1.6, corner.x, corner.y};
}

std::vector<std::string> add_drawing(PagePicture& page, const Drawing& drawing, const Placement& placement,
                                     const PageRect& label_area, const std::vector<PageRect>& taken,
                                     const TextMeasure& measure, WordPlaces* places) {
    const std::vector<PageShape> shapes = place_shapes(drawing, placement);
    Obstacles obstacles;
    obstacles.boxes = taken;
    add_obstacles(obstacles, shapes);
    std::vector<PageDimension> dimensions;
    for (const DimensionMark& mark : drawing.dimensions) {
        dimensions.push_back({placement.to_page(mark.from), placement.to_page(mark.to), mark.direction, mark.text,
                              label_face, mark.rank});
    }
    std::vector<LabelRequest> requests;
    for (const Label& label : drawing.labels) {
        requests.push_back(
            {{label.text}, {label_face.size_mm, label.bold}, placement.to_page(label.at), {}, label.rank, 1.2});
    }
    if (places != nullptr) take_guesses(*places, dimensions, requests);
    const DimensionLayout placed_dimensions = place_dimensions(dimensions, obstacles, label_area, measure);
    const LabelLayout labels = place_labels(requests, obstacles, label_area, measure);
    page.shapes.insert(page.shapes.end(), shapes.begin(), shapes.end());
    page.shapes.insert(page.shapes.end(), placed_dimensions.shapes.begin(), placed_dimensions.shapes.end());
    for (const PlacedLabel& label : labels.placed) draw_label(page.shapes, label);
    if (places != nullptr) *places = {placed_dimensions.places, list_places(labels, requests.size())};
    std::vector<std::string> unplaced;
    for (std::size_t i : placed_dimensions.unplaced) unplaced.push_back(drawing.dimensions[i].text);
    for (std::size_t i : labels.unplaced) unplaced.push_back(drawing.labels[i].text);
    return unplaced;
}

void add_fitted_drawing(PagePicture& page, const Drawing& drawing, const PageRect& area, UnitSystem units,
                        const TextMeasure& measure) {
    const std::optional<DrawingBox> box = find_bounding_box(drawing);
    if (!box) return;
    const PageRect inner{area.left + 12.0, area.top + 8.0, area.right - 12.0, area.bottom - 10.0};
    const Placement placement = fit_to_page(*box, inner);
    const PageRect bar = add_scale_bar(page, placement.scale_denominator, units, {area.right, area.top + 3.4}, measure);
    for (const std::string& text : add_drawing(page, drawing, placement, area, {grown(bar, 0.5)}, measure)) page.description += " Not placed: " + text + ".";
}

}  // namespace hitchwright
