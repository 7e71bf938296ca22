// See obstacle_lines.h.
#include "report/obstacle_lines.h"

#include <array>

namespace hitchwright {

// Liang and Barsky's clipping: the piece is cut by each side; what is left decides.
bool detail::is_left_by_clipping(PagePoint a, PagePoint b, const PageRect& rect) {
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

void ObstacleLines::Block::add(const Cells& cells, std::uint64_t bit) {
    for (std::size_t c = cells.left; c < cell_count; ++c) left_until[c] |= bit;
    for (std::size_t c = 0; c <= cells.right; ++c) right_from[c] |= bit;
    for (std::size_t c = cells.top; c < cell_count; ++c) top_until[c] |= bit;
    for (std::size_t c = 0; c <= cells.bottom; ++c) bottom_from[c] |= bit;
}

void ObstacleLines::Block::remove(std::uint64_t bit) {
    for (Bits* bits : {&left_until, &right_from, &top_until, &bottom_from}) {
        for (std::uint64_t& word : *bits) word &= ~bit;
    }
}

void ObstacleLines::push_back(const WeightedLine& line) {
    const PageRect bounds = bounds_of(line.from, line.to);
    const std::size_t place = lines_.size() % block_length;
    if (place == 0) blocks_.emplace_back();
    blocks_.back().add(cells_of(bounds), std::uint64_t{1} << place);
    lines_.push_back({bounds, line});
}

void ObstacleLines::pop_back() {
    lines_.pop_back();
    const std::size_t place = lines_.size() % block_length;
    if (place == 0)
        blocks_.pop_back();
    else
        blocks_.back().remove(std::uint64_t{1} << place);
}

}  // namespace hitchwright
