#include "report/sketch_builder.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

/// Half the width of an arrow head, and how far an extension line runs past its dimension, as shares of the head.
constexpr double head_half_width = 0.22, overshoot = 0.5;

}  // namespace

std::vector<int> SketchBuilder::find_numbers(SketchKeys keys) const {
    std::vector<int> numbers;
    for (const CardLine& line : lines_) {
        const auto same = [&](std::string_view key) { return key == line.pattern; };
        if (line.number > 0 && std::any_of(keys.begin(), keys.end(), same)) numbers.push_back(line.number);
    }
    return numbers;
}

bool SketchBuilder::has(SketchKeys keys) const {
    return std::any_of(lines_.begin(), lines_.end(), [&](const CardLine& line) {
        return std::any_of(keys.begin(), keys.end(), [&](std::string_view key) { return key == line.pattern; });
    });
}

void SketchBuilder::arrow(DrawingPoint tip, DrawingPoint from) {
    shape(Role::arrow, {tip, point_along(tip, from, size_, head_half_width * size_),
                        point_along(tip, from, size_, -head_half_width * size_)});
}

void SketchBuilder::extend(DrawingPoint from, DrawingPoint to) {
    const double length = std::hypot(to.x - from.x, to.z - from.z);
    if (length > 0.0) line(Role::leader, {from, point_along(from, to, length + overshoot * size_)});
}

void SketchBuilder::dimension(DrawingPoint from, DrawingPoint to, const std::vector<int>& numbers) {
    line(Role::dimension, {from, to});
    // Heads that would meet point inwards from outside.
    const double length = std::hypot(to.x - from.x, to.z - from.z);
    const double reach = length > 2.5 * size_ ? length : -2.0 * size_;
    arrow(from, point_along(from, to, reach));
    arrow(to, point_along(to, from, reach));
    sketch_.numbers.push_back({point_between(from, to, 0.5), numbers});
}

void SketchBuilder::level(DrawingPoint from, DrawingPoint to, double z, SketchKeys keys) {
    const std::vector<int> numbers = find_numbers(keys);
    if (numbers.empty()) return;
    const DrawingPoint a{from.x, z}, b{to.x, z};
    extend(from, a);
    extend(to, b);
    dimension(a, b, numbers);
}

void SketchBuilder::plumb(DrawingPoint from, DrawingPoint to, double x, SketchKeys keys) {
    const std::vector<int> numbers = find_numbers(keys);
    if (numbers.empty()) return;
    const DrawingPoint a{x, from.z}, b{x, to.z};
    extend(from, a);
    extend(to, b);
    dimension(a, b, numbers);
}

void SketchBuilder::along(DrawingPoint from, DrawingPoint to, double across, SketchKeys keys) {
    const std::vector<int> numbers = find_numbers(keys);
    if (numbers.empty()) return;
    const double length = std::hypot(to.x - from.x, to.z - from.z);
    const DrawingPoint a = point_along(from, to, 0.0, across), b = point_along(from, to, length, across);
    extend(from, a);
    extend(to, b);
    dimension(a, b, numbers);
}

void SketchBuilder::point_out(DrawingPoint feature, DrawingPoint words, SketchKeys keys) {
    const std::vector<int> numbers = find_numbers(keys);
    if (numbers.empty()) return;
    line(Role::dimension, {words, feature});
    arrow(feature, words);
    sketch_.numbers.push_back({words, numbers});
}

void SketchBuilder::shape(Role role, std::vector<DrawingPoint> closed) {
    add_shape(sketch_.drawing, role, Polygon{std::move(closed)});
}

void SketchBuilder::line(Role role, std::vector<DrawingPoint> points) {
    add_shape(sketch_.drawing, role, Polyline{std::move(points)});
}

void SketchBuilder::circle(Role role, DrawingPoint centre, double radius) {
    add_shape(sketch_.drawing, role, Circle{centre, radius});
}

void SketchBuilder::pin(DrawingPoint at) { add_shape(sketch_.drawing, Role::pin, Marker{at, MarkerForm::circle, 1.6}); }

void SketchBuilder::bar(Role role, DrawingPoint from, DrawingPoint to, double width) {
    add_shape(sketch_.drawing, role, make_bar(from, to, width));
}

}  // namespace hitchwright
