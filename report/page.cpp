// See page.h. Hatching: the area is turned so that the hatch runs along x, cut by lines of equal spacing (even-odd
// rule), and the pieces are turned back. The lines start from a fixed grid of the page, so neighbours line up.
#include "report/page.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "report/multiples.h"

namespace hitchwright {
namespace {

constexpr double chord_tolerance_mm = 0.01;
constexpr double most_hatch_lines = 2000.0;

PagePoint turned(PagePoint p, double cosine, double sine) {
    return {p.x * cosine - p.y * sine, p.x * sine + p.y * cosine};
}

void add_hatch_lines(std::vector<PagePath>& lines, const std::vector<PagePoint>& area, double angle, double spacing) {
    const double c = std::cos(angle), s = std::sin(angle);
    std::vector<PagePoint> level;
    double top = 0.0, bottom = 0.0;
    for (const PagePoint& p : area) {
        level.push_back(turned(p, c, s));
        top = level.size() == 1 ? level.back().y : std::min(top, level.back().y);
        bottom = level.size() == 1 ? level.back().y : std::max(bottom, level.back().y);
    }
    if (!((bottom - top) / spacing < most_hatch_lines)) return;
    for (const double y : list_multiples(top, bottom, spacing)) {
        std::vector<double> cuts;
        for (std::size_t i = 0; i < level.size(); ++i) {
            const PagePoint a = level[i], b = level[(i + 1) % level.size()];
            if ((a.y <= y) == (b.y <= y)) continue;
            cuts.push_back(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
        }
        std::sort(cuts.begin(), cuts.end());
        for (std::size_t i = 0; i + 1 < cuts.size(); i += 2) {
            lines.push_back({{turned({cuts[i], y}, c, -s), turned({cuts[i + 1], y}, c, -s)}, false});
        }
    }
}

std::vector<PagePoint> on_page(const std::vector<DrawingPoint>& points, const Placement& placement) {
    std::vector<PagePoint> placed;
    placed.reserve(points.size());
    for (const DrawingPoint& p : points) placed.push_back(placement.to_page(p));
    return placed;
}

struct PlaceForm {
    const Placement& placement;
    Role role;
    std::vector<PageShape>& out;

    void add(PagePath path) const { out.push_back({role, PagePart::normal, std::move(path)}); }
    void operator()(const Polyline& f) const { add({on_page(f.points, placement), false}); }
    void operator()(const Arc& f) const {
        const double tolerance = chord_tolerance_mm * placement.scale_denominator / 1000.0;
        add({on_page(flatten_arc(f, tolerance), placement), false});
    }
    void operator()(const Circle& f) const {
        out.push_back(
            {role, PagePart::normal, PageCircle{placement.to_page(f.centre), placement.page_length(f.radius)}});
    }
    void operator()(const Polygon& f) const {
        const std::vector<PagePoint> area = on_page(f.points, placement);
        const RoleStyle& style = style_of(role);
        add({area, true});
        for (PagePath& line : make_hatch(area, style.hatch, style.hatch_spacing_mm)) {
            out.push_back({role, PagePart::hatch, std::move(line)});
        }
    }
    void operator()(const Marker& f) const {
        const PagePoint at = placement.to_page(f.at);
        const double r = f.size_mm / 2.0;
        if (f.form != MarkerForm::cross) out.push_back({role, PagePart::normal, PageCircle{at, r}});
        if (f.form == MarkerForm::circle) return;
        const double arm = f.form == MarkerForm::target ? 1.5 * r : r;
        add({{{at.x - arm, at.y}, {at.x + arm, at.y}}, false});
        add({{{at.x, at.y - arm}, {at.x, at.y + arm}}, false});
    }
};

}  // namespace

PageRect grown(const PageRect& rect, double by) {
    return {rect.left - by, rect.top - by, rect.right + by, rect.bottom + by};
}

bool rects_overlap(const PageRect& a, const PageRect& b) {
    return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

bool rect_inside(const PageRect& inner, const PageRect& outer) {
    return inner.left >= outer.left && inner.right <= outer.right && inner.top >= outer.top &&
           inner.bottom <= outer.bottom;
}

PagePoint Placement::to_page(DrawingPoint p) const {
    return {page_origin.x + page_length(p.x - drawing_origin.x), page_origin.y - page_length(p.z - drawing_origin.z)};
}

double nice_scale_at_least(double denominator) {
    constexpr std::array<double, 18> steps = {1, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 16, 18};
    constexpr std::array<double, 9> coarse = {20, 22, 25, 28, 30, 35, 40, 45, 50};
    const double slack = 1.0 + 1e-9;  // a box that fits exactly must not lose its scale to rounding
    for (double step : steps) {
        if (step * slack >= denominator) return step;
    }
    for (double step : coarse) {
        if (step * slack >= denominator) return step;
    }
    return std::ceil(denominator / 25.0 / slack) * 25.0;
}

std::string format_scale(double denominator) { return fmt::format("1 : {:.4g}", denominator); }

Placement fit_to_page(const DrawingBox& box, const PageRect& area) {
    const double across = box.width() * 1000.0 / std::max(area.width(), 1.0);
    const double upright = box.height() * 1000.0 / std::max(area.height(), 1.0);
    Placement placement;
    placement.scale_denominator = nice_scale_at_least(std::max(across, upright));
    placement.drawing_origin = {(box.least.x + box.most.x) / 2.0, (box.least.z + box.most.z) / 2.0};
    placement.page_origin = {(area.left + area.right) / 2.0, (area.top + area.bottom) / 2.0};
    return placement;
}

std::vector<PageShape> place_shapes(const Drawing& drawing, const Placement& placement) {
    std::vector<const Shape*> order;
    for (const Shape& shape : drawing.shapes) order.push_back(&shape);
    std::stable_sort(order.begin(), order.end(),
                     [](const Shape* a, const Shape* b) { return style_of(a->role).layer < style_of(b->role).layer; });
    std::vector<PageShape> placed;
    for (const Shape* shape : order) std::visit(PlaceForm{placement, shape->role, placed}, shape->form);
    return placed;
}

std::vector<PagePath> make_hatch(const std::vector<PagePoint>& area, Hatch hatch, double spacing_mm) {
    std::vector<PagePath> lines;
    if (hatch == Hatch::none || area.size() < 3 || !(spacing_mm > 0.0)) return lines;
    constexpr double quarter = std::numbers::pi / 4.0;
    if (hatch != Hatch::back_diagonal) add_hatch_lines(lines, area, quarter, spacing_mm);
    if (hatch != Hatch::diagonal) add_hatch_lines(lines, area, -quarter, spacing_mm);
    return lines;
}

PageRect text_box(const PageText& text) {
    return {text.at.x, text.at.y - text_ascent_share * text.face.size_mm, text.at.x + text.width_mm,
            text.at.y + text_descent_share * text.face.size_mm};
}

PageText make_text(PagePoint at, std::string text, TextFace face, const TextMeasure& measure) {
    const double width = measure.width_mm(text, face);
    return {at, std::move(text), face, width};
}

}  // namespace hitchwright
