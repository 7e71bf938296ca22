// The lines that words on a page should not cover, kept so that those near a place are found fast.
//
// Method: lines drawn one after the other lie close together (pieces of an outline, of a circle), so each run of a few has
// a box around it, and a search passes over all runs whose boxes lie elsewhere. The order is kept: sums of weights come
// out the same to the last bit as those over all lines. Frame of the page: mm, y down.
#pragma once

#include <algorithm>
#include <cstddef>
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

/// True when the straight piece a-b touches the rectangle.
bool line_touches_rect(PagePoint a, PagePoint b, const PageRect& rect);

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
        for (std::size_t run = 0; run < runs_.size(); ++run) {
            if (lies_apart(runs_[run], reach)) continue;
            const std::size_t end = std::min((run + 1) * run_length, lines_.size());
            for (std::size_t i = run * run_length; i < end; ++i) {
                if (!lies_apart(lines_[i].bounds, reach) && !visit(lines_[i].line)) return;
            }
        }
    }

private:
    static constexpr std::size_t run_length = 8;

    struct BoxedLine {
        PageRect bounds;
        WeightedLine line;
    };

    std::vector<BoxedLine> lines_;
    std::vector<PageRect> runs_;  // around run_length lines each, the last around what is left
};

}  // namespace hitchwright
