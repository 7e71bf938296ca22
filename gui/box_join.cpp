#include "gui/box_join.h"

#include <algorithm>
#include <cstddef>
#include <numeric>

namespace hitchwright {
namespace {

PixelBox joined(const PixelBox& a, const PixelBox& b) {
    return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right), std::max(a.bottom, b.bottom)};
}

int area_of(const PixelBox& box) { return (box.right - box.left) * (box.bottom - box.top); }

/// Pairs of boxes that are looked at, some 5 ns each, before all are joined: damage strewn over a large picture.
constexpr std::size_t most_looks = 200'000;

}  // namespace

void join_boxes(std::vector<PixelBox>& boxes, int tiles_of_a_box) {
    const auto should_join = [&](const PixelBox& a, const PixelBox& b) {
        return !common(a, b).empty() || area_of(joined(a, b)) <= area_of(a) + area_of(b) + tiles_of_a_box;
    };
    std::size_t looks = 0;
    for (std::size_t i = 0; i < boxes.size();) {
        looks += boxes.size() - i;
        if (looks > most_looks) {
            boxes = {std::accumulate(boxes.begin(), boxes.end(), boxes.front(), joined)};
            return;
        }
        const auto end = std::remove_if(boxes.begin() + static_cast<std::ptrdiff_t>(i) + 1, boxes.end(), [&](const PixelBox& other) {
            if (!should_join(boxes[i], other)) return false;
            boxes[i] = joined(boxes[i], other);
            return true;
        });
        // One that grew may reach those before it.
        if (end != boxes.end()) i = 0;
        else ++i;
        boxes.erase(end, boxes.end());
    }
}

}  // namespace hitchwright
