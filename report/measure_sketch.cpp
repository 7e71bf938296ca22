#include "report/measure_sketch.h"

#include <algorithm>

#include "report/card_sketches.h"

namespace hitchwright {
namespace {

constexpr double side_mm = 4.0, edge_mm = 4.0;  // words reach into it
constexpr TextFace words_face{2.6, true};
constexpr double box_side_mm = 0.8, box_up_mm = 2.1, box_down_mm = 0.9;

PagePath rectangle(const PageRect& r) {
    return {{{r.left, r.top}, {r.right, r.top}, {r.right, r.bottom}, {r.left, r.bottom}}, true};
}

void add_words(PagePicture& page, PagePoint at, std::string_view words, const TextMeasure& measure) {
    const double half = measure.width_mm(words, words_face) / 2.0;
    // Words at the very edge are moved inside.
    const double middle = std::clamp(at.x, std::min(half + 1.0, page.width_mm / 2.0), std::max(page.width_mm - half - 1.0, page.width_mm / 2.0));
    const double base = at.y + 0.36 * words_face.size_mm;
    const PageRect box{middle - half - box_side_mm, base - box_up_mm - box_side_mm, middle + half + box_side_mm, base + box_down_mm};
    page.shapes.push_back({Role::label, PagePart::wipe, rectangle(box)});
    page.shapes.push_back({Role::legend, PagePart::normal, rectangle(box)});
    page.shapes.push_back({Role::label, PagePart::normal, make_text({middle - half, base}, std::string(words), words_face, measure)});
}

}  // namespace

std::optional<PagePicture> draw_measure_sketch(std::string_view pattern, bool drawn, std::string_view words, double width_mm,
                                               double height_mm, const TextMeasure& measure) {
    const std::optional<CardSketch> sketch = make_sketch_of(pattern, drawn);
    if (!sketch) return std::nullopt;
    const std::optional<DrawingBox> box = find_bounding_box(sketch->drawing);
    const double room_x = width_mm - 2.0 * side_mm, room_y = height_mm - 2.0 * edge_mm;
    if (!box || !(box->width() > 0.0) || !(box->height() > 0.0) || !(room_x > 0.0) || !(room_y > 0.0)) return std::nullopt;
    PagePicture page;
    Placement placement;
    placement.scale_denominator = 1000.0 * std::max(box->width() / room_x, box->height() / room_y);
    page.width_mm = placement.page_length(box->width()) + 2.0 * side_mm;
    page.height_mm = placement.page_length(box->height()) + 2.0 * edge_mm;
    page.title = sketch->caption;
    placement.drawing_origin = {(box->least.x + box->most.x) / 2.0, (box->least.z + box->most.z) / 2.0};
    placement.page_origin = {page.width_mm / 2.0, page.height_mm / 2.0};
    page.shapes = place_shapes(sketch->drawing, placement);
    for (const SketchNumbers& at : sketch->numbers) add_words(page, placement.to_page(at.at), words, measure);
    return page;
}

}  // namespace hitchwright
