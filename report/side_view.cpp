// The page of the side view (compose_side_view of side_view.h): blocks from the top down and from the bottom up; what
// is left in the middle is the picture's.
#include "report/side_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/page_blocks.h"
#include "report/page_header.h"
#include "report/shaft_rows.h"

namespace hitchwright {
namespace {

constexpr TextFace caption_face{2.6, false};
constexpr double block_gap_mm = 1.8;
// Room around the picture for words and dimensions, beside, above and below.
constexpr double side_margin_mm = 9.0;
constexpr double top_margin_mm = 5.5;
constexpr double bottom_margin_mm = 1.5;
constexpr double least_picture_mm = 40.0;

bool has_role(const PagePicture& page, Role role) {
    return std::any_of(page.shapes.begin(), page.shapes.end(), [&](const PageShape& s) { return s.role == role; });
}

/// Entries for what is shown on the page, found by drawing it once without its final place.
std::vector<LegendItem> legend_of(const SideViewScene& scene, const Drawing& drawing, const PageRect& area,
                                  const TextMeasure& measure) {
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
    std::copy_if(all.begin(), all.end(), std::back_inserter(present),
                 [&](const LegendItem& item) { return has_role(page, item.role); });
    return present;
}

void add_failure(PagePicture& page, const PageRect& area, const TextMeasure& measure) {
    const TextBlock block = make_text_block(
        "No picture: a point or a length of this set-up is missing, not a number, or far too large to draw.",
        {3.4, true}, area.width(), measure);
    add_text_block(page, block, {area.left, area.top + 4.0}, Role::label, measure);
}

/// The picture itself with its caption and scale bar. Returns texts that found no place.
std::vector<std::string> add_main_view(PagePicture& page, const SideViewScene& scene, const Drawing& drawing,
                                       const DrawingBox& box, const PageRect& area, const TextMeasure& measure) {
    const PageRect inner{area.left + side_margin_mm, area.top + top_margin_mm, area.right - side_margin_mm,
                         area.bottom - bottom_margin_mm};
    const Placement placement = fit_to_page(box, inner);
    const std::string caption =
        fmt::format("Side view from the left; {}{}; scale {} when printed at full size.",
                    scene.working ? scene.position_words + " solid" : "no position drawn",
                    scene.lifted ? ", lifted position dashed" : "", format_scale(placement.scale_denominator));
    const PageText text =
        make_text({area.left, area.top + measure.ascent_mm(caption_face)}, caption, caption_face, measure);
    page.shapes.push_back({Role::legend, PagePart::normal, text});
    const PageRect bar =
        add_scale_bar(page, placement.scale_denominator, scene.units, {area.right, area.top + 3.4}, measure);
    return add_drawing(page, drawing, placement, area, {grown(text_box(text), 0.5), grown(bar, 0.5)}, measure);
}

double add_notes(PagePicture& page, const std::vector<std::string>& notes, const PageRect& area,
                 const TextMeasure& measure) {
    std::string text;
    for (const std::string& note : notes) text += (text.empty() ? "" : " ") + note;
    const TextBlock block = make_text_block(text, caption_face, area.width(), measure);
    const double top = area.bottom - block_height(block, measure);
    add_text_block(page, block, {area.left, top}, Role::legend, measure);
    return top;
}

PagePicture compose_page(const SideViewScene& scene, const std::vector<std::string>& notes, const PageSetup& setup,
                         const TextMeasure& measure, std::vector<std::string>& unplaced) {
    PageRect area;
    PagePicture page = start_page(scene, setup, measure, area);
    const Drawing drawing = draw_side_view(scene);
    const auto box = find_bounding_box(drawing);
    area.bottom = add_legend(page, legend_of(scene, drawing, area, measure), area, measure) - block_gap_mm;
    if (!scene.no_position.empty())
        area.top = add_text_block(page, make_text_block(scene.no_position, {3.4, true}, area.width(), measure),
                                  {area.left, area.top}, Role::label, measure) +
                   block_gap_mm;
    if (!notes.empty()) area.bottom = add_notes(page, notes, area, measure) - block_gap_mm;
    if (scene.shaft && !scene.shaft->rows.empty())
        area.bottom = add_shaft_rows(page, scene, area, measure) - block_gap_mm;
    if (!box || area.height() < least_picture_mm)
        add_failure(page, area, measure);
    else
        unplaced = add_main_view(page, scene, drawing, *box, area, measure);
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
