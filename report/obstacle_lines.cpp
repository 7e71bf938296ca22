// See obstacle_lines.h.
#include "report/obstacle_lines.h"

#include <array>

namespace hitchwright {
namespace {

PageRect around_both(const PageRect& a, const PageRect& b) {
    return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right), std::max(a.bottom, b.bottom)};
}

}  // namespace

bool line_touches_rect(PagePoint a, PagePoint b, const PageRect& rect) {
    if (lies_apart(bounds_of(a, b), rect)) return false;
    // Liang and Barsky's clipping: the piece is cut by each side; what is left decides.
    const double dx = b.x - a.x, dy = b.y - a.y;
    const std::array<double, 4> step = {-dx, dx, -dy, dy};
    const std::array<double, 4> room = {a.x - rect.left, rect.right - a.x, a.y - rect.top, rect.bottom - a.y};
    double enter = 0.0, leave = 1.0;
    for (std::size_t i = 0; i < 4; ++i) {
        if (step[i] == 0.0) {
            if (room[i] < 0.0) return false;
            continue;
        }
        const double t = room[i] / step[i];
        if (step[i] < 0.0)
            enter = std::max(enter, t);
        else
            leave = std::min(leave, t);
    }
    return enter <= leave;
}

bool lines_cross(PagePoint a, PagePoint b, PagePoint c, PagePoint d) {
    const auto side = [](PagePoint p, PagePoint q, PagePoint r) {
        return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    };
    return side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
}

void ObstacleLines::push_back(const WeightedLine& line) {
    const PageRect bounds = bounds_of(line.from, line.to);
    if (lines_.size() % run_length == 0)
        runs_.push_back(bounds);
    else
        runs_.back() = around_both(runs_.back(), bounds);
    lines_.push_back({bounds, line});
}

void ObstacleLines::pop_back() {
    lines_.pop_back();
    const std::size_t first = (runs_.size() - 1) * run_length;
    if (lines_.size() == first) {
        runs_.pop_back();
        return;
    }
    runs_.back() = lines_[first].bounds;
    for (std::size_t i = first + 1; i < lines_.size(); ++i) runs_.back() = around_both(runs_.back(), lines_[i].bounds);
}

}  // namespace hitchwright
