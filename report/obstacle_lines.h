// The lines that words on a page should not cover, kept so that those near a place are found fast.
//
// Method: both sides of the page are cut into cells; for every 64 lines a word of bits says, cell by cell, which of them
// begin there or before and which end there or after. Four words together leave the lines that reach into some cells, in
// the order they were added: sums of weights come out the same to the last bit as those over all lines. Frame of the
// page: mm, y down.
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <vector>

#include "report/page.h"

namespace hitchwright {

/// A straight piece of line on the page and how bad it is to cover it.
struct WeightedLine {
    PagePoint from, to;
    double weight = 1.0;
};

/// The box around two points.
inline PageRect bounds_of(PagePoint a, PagePoint b) {
    return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

/// True when the two have no point in common, not even of their edges.
inline bool lies_apart(const PageRect& a, const PageRect& b) {
    return a.right < b.left || a.left > b.right || a.bottom < b.top || a.top > b.bottom;
}

namespace detail {

/// Whether clipping leaves something of a straight piece in a rectangle.
bool is_left_by_clipping(PagePoint a, PagePoint b, const PageRect& rect);

/// A share of a sum; its rounding and that of the clipping stay far below.
constexpr double rounding_share = 1e-12;

}  // namespace detail

/// True when the straight piece a-b touches the rectangle, as clipping has it.
inline bool line_touches_rect(PagePoint a, PagePoint b, const PageRect& rect) {
    if (lies_apart(bounds_of(a, b), rect)) return false;
    if (a.x >= rect.left && a.x <= rect.right && a.y >= rect.top && a.y <= rect.bottom) return true;
    // Boxes that meet are parted by the line itself or not at all: does it run past all four corners? Only where rounding could
    // decide is the piece clipped, which divides.
    const double dx = b.x - a.x, dy = b.y - a.y, width = std::fabs(dx), height = std::fabs(dy);
    const double aside = std::fabs(dx * (0.5 * (rect.top + rect.bottom) - a.y) - dy * (0.5 * (rect.left + rect.right) - a.x));
    const double spare = 0.5 * (width * (rect.bottom - rect.top) + height * (rect.right - rect.left)) - aside;
    const double doubt = detail::rounding_share * (width * (std::fabs(rect.top) + std::fabs(rect.bottom) + std::fabs(a.y)) +
                                                   height * (std::fabs(rect.left) + std::fabs(rect.right) + std::fabs(a.x)));
    if (spare > doubt) return true;
    if (spare < -doubt) return false;
    return detail::is_left_by_clipping(a, b, rect);
}

/// True when the pieces a-b and c-d cross.
bool lines_cross(PagePoint a, PagePoint b, PagePoint c, PagePoint d);

/// Weighted lines in the order they were added.
class ObstacleLines {
public:
    ObstacleLines() = default;
    ObstacleLines(std::initializer_list<WeightedLine> lines) {
        for (const WeightedLine& line : lines) push_back(line);
    }

    void push_back(const WeightedLine& line);
    /// Takes the last line away; there must be one.
    void pop_back();

    /// Calls `visit` with each line whose box meets `reach`, in order, until it returns false.
    template <class Visit>
    void visit_near(const PageRect& reach, Visit visit) const {
        const Cells cells = cells_of(reach);
        for (std::size_t n = 0; n < blocks_.size(); ++n) {
            for (std::uint64_t near = blocks_[n].near(cells); near != 0; near &= near - 1) {
                const BoxedLine& l = lines_[n * block_length + static_cast<std::size_t>(std::countr_zero(near))];
                if (!lies_apart(l.bounds, reach) && !visit(l.line)) return;
            }
        }
    }

private:
    static constexpr std::size_t block_length = 64, cell_count = 64;
    static constexpr double cell_mm = 4.0;  // about the height of a line of text; the last cell holds all beyond it, the first all before it

    struct BoxedLine {
        PageRect bounds;
        WeightedLine line;
    };

    /// Cells of the sides of a box.
    struct Cells {
        std::size_t left, top, right, bottom;
    };

    /// Bits of 64 lines, by cell.
    struct Block {
        using Bits = std::array<std::uint64_t, cell_count>;
        Bits left_until{}, right_from{}, top_until{}, bottom_from{};

        std::uint64_t near(const Cells& c) const {
            return left_until[c.right] & right_from[c.left] & top_until[c.bottom] & bottom_from[c.top];
        }
        void add(const Cells& cells, std::uint64_t bit);
        void remove(std::uint64_t bit);
    };

    static std::size_t cell_of(double at) {
        return at > 0.0 ? static_cast<std::size_t>(std::min(at / cell_mm, static_cast<double>(cell_count - 1))) : 0;
    }
    static Cells cells_of(const PageRect& box) {
        return {cell_of(box.left), cell_of(box.top), cell_of(box.right), cell_of(box.bottom)};
    }

    std::vector<BoxedLine> lines_;
    std::vector<Block> blocks_;
};

}  // namespace hitchwright
