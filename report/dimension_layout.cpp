// See dimension_layout.h.
#include "report/dimension_layout.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace hitchwright {
namespace {

constexpr std::array<double, 13> offsets_mm = {0.0,  4.5,   -4.5, 7.0,   -7.0, 10.0, -10.0,
                                               14.0, -14.0, 19.0, -19.0, 26.0, -26.0};
constexpr std::array<double, 9> text_spots = {0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82};
constexpr double cost_per_offset_mm = 0.30;
constexpr double own_line_weight = 0.9;   // text may break its own line, which is a usual way to draw a dimension
constexpr double on_the_part_cost = 2.2;  // a line straight on the part hides it: only when nothing else will do
constexpr double arrow_length_mm = 2.0;
constexpr double arrows_inside_from = 2.5;  // in arrow lengths; shorter dimensions have them outside
constexpr double arrow_half_width_mm = 0.38;
constexpr double extension_past_mm = 1.0;
constexpr double extension_gap_mm = 0.8;
constexpr double text_gap_mm = 0.5;
constexpr double crossing_share = 0.2;  // a thin line across a part is usual in a dimensioned drawing
constexpr double extension_share = 0.12;

struct Vector {
    double x, y;
};

/// Direction of the dimension line, the normal its offset runs along, and the two foot points at offset zero.
struct Axis {
    Vector along, across;
    PagePoint from, to;
};

Axis axis_of(const PageDimension& d) {
    Vector along{d.to.x - d.from.x, d.to.y - d.from.y};
    if (d.direction == DimensionDirection::horizontal) along = {1.0, 0.0};
    if (d.direction == DimensionDirection::vertical) along = {0.0, -1.0};
    const double length = std::hypot(along.x, along.y);
    along = length > 0.0 ? Vector{along.x / length, along.y / length} : Vector{1.0, 0.0};
    Axis axis{along, {along.y, -along.x}, d.from, d.to};
    // Both feet on one line through `from` along the direction; the other point is reached by its extension line.
    const double t = (d.to.x - d.from.x) * along.x + (d.to.y - d.from.y) * along.y;
    axis.to = {d.from.x + t * along.x, d.from.y + t * along.y};
    return axis;
}

PagePoint moved(PagePoint p, Vector v, double by) { return {p.x + v.x * by, p.y + v.y * by}; }

/// True when the second point lies against the axis direction from the first.
bool runs_backward(const PageDimension& d, const Axis& axis) {
    return (d.to.x - d.from.x) * axis.along.x + (d.to.y - d.from.y) * axis.along.y < 0.0;
}

/// One possible place of a dimension.
struct Trial {
    PagePoint from, to;
    PagePoint line_from, line_to;  // ends of the line drawn; outside the feet when the arrows stand outside
    bool arrows_inside = true;
    double cost = 0.0;
    PlacedLabel label;
    int line = no_place;  // its number
};

Trial feet_at(const PageDimension& d, const Axis& axis, double offset) {
    Trial trial;
    trial.from = moved(axis.from, axis.across, offset);
    trial.to = moved(axis.to, axis.across, offset);
    trial.line_from = trial.from;
    trial.line_to = trial.to;
    const double length = std::hypot(trial.to.x - trial.from.x, trial.to.y - trial.from.y);
    trial.arrows_inside = length > arrows_inside_from * arrow_length_mm;
    if (!trial.arrows_inside) {
        const double sense = runs_backward(d, axis) ? -1.0 : 1.0;
        trial.line_from = moved(trial.from, axis.along, -2.0 * sense * arrow_length_mm);
        trial.line_to = moved(trial.to, axis.along, 2.0 * sense * arrow_length_mm);
    }
    return trial;
}

double crossing_cost(PagePoint a, PagePoint b, const Obstacles& obstacles) {
    double cost = 0.0;
    obstacles.lines.visit_near(bounds_of(a, b), [&](const WeightedLine& line) {
        if (lines_cross(a, b, line.from, line.to)) cost += line.weight;
        return true;
    });
    return cost;
}

bool holds(const PageRect& area, PagePoint p) {
    return p.x >= area.left && p.x <= area.right && p.y >= area.top && p.y <= area.bottom;
}

LabelRequest text_request(const PageDimension& d, const Axis& axis, const Trial& trial, double width) {
    LabelRequest request;
    request.lines = {d.text};
    request.widths_mm = {width};
    request.face = d.face;
    request.anchor = {(trial.from.x + trial.to.x) / 2.0, (trial.from.y + trial.to.y) / 2.0};
    const double half_width = width / 2.0;
    const double half_height = (text_ascent_share + text_descent_share) * d.face.size_mm / 2.0;
    // Half extent of the upright text box across a sloping line: the box then just clears the line.
    const double half =
        std::fabs(axis.across.x) * half_width + std::fabs(axis.across.y) * half_height + text_gap_mm + 0.5;
    for (double t : text_spots) {
        const PagePoint on{trial.from.x + t * (trial.to.x - trial.from.x),
                           trial.from.y + t * (trial.to.y - trial.from.y)};
        request.spots.push_back(moved(on, axis.across, half));
        request.spots.push_back(moved(on, axis.across, -half));
        request.spots.push_back(on);
    }
    request.clear_mm = text_gap_mm;
    return request;
}

double cost_of_offset(double offset) { return cost_per_offset_mm * std::fabs(offset) + (offset == 0.0 ? on_the_part_cost : 0.0); }

/// `obstacles` are as they were afterwards. `width`: of the text, mm. `enough`: a trial that costs as much is of no use.
std::optional<Trial> try_line(const PageDimension& d, const Axis& axis, int line, double width, Obstacles& obstacles,
                              const PageRect& area, const TextMeasure& measure, double enough) {
    const double offset = offsets_mm[static_cast<std::size_t>(line)];
    if (cost_of_offset(offset) >= enough) return std::nullopt;
    Trial trial = feet_at(d, axis, offset);
    if (!holds(area, trial.line_from) || !holds(area, trial.line_to)) return std::nullopt;
    if (runs_through_box(trial.line_from, trial.line_to, obstacles)) return std::nullopt;
    if (runs_through_box(d.from, trial.from, obstacles) || runs_through_box(d.to, trial.to, obstacles))
        return std::nullopt;
    trial.cost =
        cost_of_offset(offset) +
        crossing_share * crossing_cost(trial.line_from, trial.line_to, obstacles) +
        extension_share * (crossing_cost(d.from, trial.from, obstacles) + crossing_cost(d.to, trial.to, obstacles));
    if (trial.cost >= enough) return std::nullopt;
    obstacles.lines.push_back({trial.line_from, trial.line_to, own_line_weight});
    LabelRequest request = text_request(d, axis, trial, width);
    request.guess = d.guess.text;
    auto label = find_label_place(request, obstacles, area, measure, enough - trial.cost + rounding_of_costs);
    obstacles.lines.pop_back();
    if (!label) return std::nullopt;
    trial.line = line;
    trial.label = std::move(*label);
    trial.cost += trial.label.cost;
    return trial;
}

void add_line(DimensionLayout& layout, Obstacles& obstacles, PagePoint a, PagePoint b) {
    layout.shapes.push_back({Role::dimension, PagePart::normal, PagePath{{a, b}, false}});
    obstacles.lines.push_back({a, b, style_of(Role::dimension).crossing_weight});
}

void add_extension(DimensionLayout& layout, Obstacles& obstacles, PagePoint point, PagePoint foot) {
    const double length = std::hypot(foot.x - point.x, foot.y - point.y);
    if (length <= extension_gap_mm) return;
    const Vector u{(foot.x - point.x) / length, (foot.y - point.y) / length};
    add_line(layout, obstacles, moved(point, u, extension_gap_mm), moved(foot, u, extension_past_mm));
}

void add_arrow(DimensionLayout& layout, PagePoint tip, Vector inward) {
    const PagePoint base = moved(tip, inward, arrow_length_mm);
    const Vector side{-inward.y, inward.x};
    layout.shapes.push_back(
        {Role::arrow, PagePart::normal,
         PagePath{{tip, moved(base, side, arrow_half_width_mm), moved(base, side, -arrow_half_width_mm)}, true}});
}

void add_dimension(DimensionLayout& layout, Obstacles& obstacles, const PageDimension& d, const Axis& axis,
                   const Trial& trial) {
    add_extension(layout, obstacles, d.from, trial.from);
    add_extension(layout, obstacles, d.to, trial.to);
    add_line(layout, obstacles, trial.line_from, trial.line_to);
    // Inside arrows point outward from the middle; outside arrows point inward from beyond the feet.
    const double sense = (runs_backward(d, axis) ? -1.0 : 1.0) * (trial.arrows_inside ? 1.0 : -1.0);
    const Vector inward{axis.along.x * sense, axis.along.y * sense};
    add_arrow(layout, trial.from, inward);
    add_arrow(layout, trial.to, {-inward.x, -inward.y});
    draw_label(layout.shapes, trial.label);
    obstacles.boxes.push_back(trial.label.box);
    if (trial.label.leader) obstacles.lines.push_back(*trial.label.leader);
}

/// The cheapest place, the first one tried among equals.
std::optional<Trial> find_best(const PageDimension& d, const Axis& axis, Obstacles& obstacles, const PageRect& area, const TextMeasure& measure) {
    const double width = measure.width_mm(d.text, d.face);
    double enough = std::numeric_limits<double>::infinity();
    const int lines = static_cast<int>(offsets_mm.size());
    if (d.guess.line >= 0 && d.guess.line < lines) {
        const std::optional<Trial> guess = try_line(d, axis, d.guess.line, width, obstacles, area, measure, enough);
        // The guess itself stays cheap enough, and so does the first of its equals.
        if (guess) enough = guess->cost + rounding_of_costs;
    }
    std::optional<Trial> best;
    for (int line = 0; line < lines; ++line) {
        std::optional<Trial> trial = try_line(d, axis, line, width, obstacles, area, measure, enough);
        if (!trial || !(trial->cost < enough)) continue;
        enough = trial->cost;
        best = std::move(trial);
    }
    return best;
}

}  // namespace

DimensionLayout place_dimensions(const std::vector<PageDimension>& dimensions, Obstacles& obstacles,
                                 const PageRect& area, const TextMeasure& measure) {
    std::vector<std::size_t> order(dimensions.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return dimensions[a].rank < dimensions[b].rank; });
    DimensionLayout layout;
    layout.places.resize(dimensions.size());
    for (std::size_t index : order) {
        const PageDimension& d = dimensions[index];
        const Axis axis = axis_of(d);
        const std::optional<Trial> best = find_best(d, axis, obstacles, area, measure);
        if (!best) {
            layout.unplaced.push_back(index);
            continue;
        }
        layout.places[index] = {best->line, best->label.place};
        add_dimension(layout, obstacles, d, axis, *best);
    }
    return layout;
}

}  // namespace hitchwright
