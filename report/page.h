// A picture on paper: shapes and text at fixed places in millimetres, ready for any writer.
//
// Frame of the page: millimetres from its upper left corner, x to the right, y down. A Placement carries the side view
// (metres, z up) onto the page at a stated scale. Arcs and hatches are lines here, so writers only need paths, circles
// and text, and all writers show the same.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "report/drawing.h"
#include "report/text_measure.h"

namespace hitchwright {

/// Point on the page, mm from the upper left corner.
struct PagePoint {
    double x = 0.0, y = 0.0;
    bool operator==(const PagePoint&) const = default;
};

/// Upright rectangle on the page, mm; top < bottom.
struct PageRect {
    double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
    double width() const { return right - left; }
    double height() const { return bottom - top; }
    bool operator==(const PageRect&) const = default;
};

/// `rect` grown by `by` mm on each side.
PageRect grown(const PageRect& rect, double by);
/// True when the two share area (a shared edge does not count).
bool rects_overlap(const PageRect& a, const PageRect& b);
/// True when `inner` lies wholly in `outer`.
bool rect_inside(const PageRect& inner, const PageRect& outer);

/// Line through points; closed ones are filled as the role says.
struct PagePath {
    std::vector<PagePoint> points;
    bool closed = false;
    bool operator==(const PagePath&) const = default;
};
struct PageCircle {
    PagePoint centre;
    double radius = 0.0;
    bool operator==(const PageCircle&) const = default;
};
/// One line of text; `at` is the left end of its baseline. `width_mm` is the width the layout reckoned with.
struct PageText {
    PagePoint at;
    std::string text;
    TextFace face;
    double width_mm = 0.0;
    bool operator==(const PageText&) const = default;
};

/// How a page shape uses its role's style: outline and fill; a hatch line; an area wiped with the page's white (behind
/// words).
enum class PagePart { normal, hatch, wipe };

struct PageShape {
    Role role = Role::label;
    PagePart part = PagePart::normal;
    std::variant<PagePath, PageCircle, PageText> form;
    bool operator==(const PageShape&) const = default;
};

/// Size of the paper.
struct PageSetup {
    double width_mm = 297.0, height_mm = 210.0, margin_mm = 9.0;
    bool operator==(const PageSetup&) const = default;
};
inline constexpr PageSetup a4_landscape{297.0, 210.0, 9.0};
inline constexpr PageSetup letter_landscape{279.4, 215.9, 9.0};

/// Everything on one page, in the order of drawing.
struct PagePicture {
    double width_mm = 297.0, height_mm = 210.0;
    std::string title;        ///< one sentence for the file's title
    std::string description;  ///< what is shown, in words, for those who cannot see it
    bool monochrome = false;  ///< greys in place of colours
    std::vector<PageShape> shapes;
    bool operator==(const PagePicture&) const = default;
};

/// Maps the side view onto the page.
struct Placement {
    DrawingPoint drawing_origin;   ///< this point of the drawing ...
    PagePoint page_origin;         ///< ... lies here on the page
    double scale_denominator = 1;  ///< 12 for a scale of 1 : 12
    double page_length(double metres) const { return metres * 1000.0 / scale_denominator; }
    PagePoint to_page(DrawingPoint p) const;
};

/// Scale denominators in use: those a scale rule or easy arithmetic offers.
double nice_scale_at_least(double denominator);

/// "1 : 12".
std::string format_scale(double denominator);

/// Placement that centres `box` in `area` at the largest nice scale that fits it.
Placement fit_to_page(const DrawingBox& box, const PageRect& area);

/// Shapes of the drawing on the page in order of layer, without its labels and dimensions.
std::vector<PageShape> place_shapes(const Drawing& drawing, const Placement& placement);

/// Lines that fill a closed path as `hatch` says.
std::vector<PagePath> make_hatch(const std::vector<PagePoint>& area, Hatch hatch, double spacing_mm);

/// The box a text covers, from its ascenders to its descenders.
PageRect text_box(const PageText& text);

/// A line of text with its width measured.
PageText make_text(PagePoint at, std::string text, TextFace face, const TextMeasure& measure);

}  // namespace hitchwright
