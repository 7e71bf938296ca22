#include "gui/triangle_cover.h"

#include <algorithm>
#include <cstddef>

namespace hitchwright {
namespace {

constexpr double steps = 256.0;  // of a pixel

/// Pixels; farther off a corner is drawn as if it were here. So far the sums below are exact.
constexpr float farthest = 1.0e5F;

/// Places where an edge crosses a row are this far from whole pixels or on them: 1 / (256 x 2^26) apart, with errors of 2^-38.
constexpr double nearness = 1.0 / (1LL << 36);

/// In steps, to the nearest; a place that is no number is at the start.
double round_to_step(float place) {
    constexpr double whole = 1 << 25;  // what is not below zero is rounded down where it is made whole
    const double at = steps * static_cast<double>(std::min(farthest, std::max(-farthest, place)));
    return static_cast<int>(at + (whole + 0.5)) - whole;
}

}  // namespace

TriangleCover::TriangleCover(const Triangle& triangle) {
    std::array<double, 3> x{}, y{};
    for (std::size_t i = 0; i < 3; ++i) {
        x[i] = round_to_step(triangle[i]->pos.x);
        y[i] = round_to_step(triangle[i]->pos.y);
    }
    const double twice_area = (x[1] - x[0]) * (y[2] - y[0]) - (y[1] - y[0]) * (x[2] - x[0]);
    empty_ = twice_area == 0.0;
    const double turn = twice_area > 0.0 ? 1.0 : -1.0;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t next = (i + 1) % 3;
        Edge& e = edges_[i];
        const double across = -turn * (y[next] - y[i]), down = turn * (x[next] - x[i]);
        e.across = steps * across;
        e.down = steps * down;
        e.rest = across * (0.5 * steps - x[i]) + down * (0.5 * steps - y[i]);
        const bool owns_edge = across > 0.0 || (across == 0.0 && down < 0.0);
        if (!owns_edge) e.rest -= 1.0;
        e.per_across = across == 0.0 ? 0.0 : 1.0 / e.across;
    }
}

TriangleCover::Run TriangleCover::find_row(int y, Run limits) const {
    const double row = y;
    double left = limits.left, right = limits.right;
    for (const Edge& e : edges_) {
        const double here = e.down * row + e.rest, place = -here * e.per_across;
        if (e.across > 0.0) left = std::max(left, place + (1.0 - nearness));
        else if (e.across < 0.0) right = std::min(right, place + (1.0 + nearness));
        else if (here < 0.0) return {};
    }
    // What is not below zero is rounded down where it is made whole.
    return left < right + 1.0 ? Run{static_cast<int>(left), static_cast<int>(std::max(right, 0.0))} : Run{};
}

PixelBox find_covered(ImVec2 least, ImVec2 most) {
    constexpr int step = static_cast<int>(steps), half = step / 2;
    // Steps before the first pixel's middle leave it, steps on it leave it where the edge does not own it.
    const auto count = [](float place, int on_edge) { return (static_cast<int>(round_to_step(place)) - half + on_edge) >> 8; };
    // A middle on an edge belongs to what lies right of it or above it.
    return {count(least.x, step - 1), count(least.y, step), count(most.x, step - 1), count(most.y, step)};
}

}  // namespace hitchwright
