// Draws dimension arrows and pointers with the numbers of card lines into a sketch (card_sketches.h).
#pragma once

#include <initializer_list>
#include <string_view>

#include "report/card_sketches.h"

namespace hitchwright {

/// Keys of lines whose numbers stand at one place, as patterns.
using SketchKeys = std::initializer_list<std::string_view>;

/// Adds to one sketch. `size` is the length of an arrow head, m: it sets the scale of all marks.
class SketchBuilder {
public:
    SketchBuilder(const std::vector<CardLine>& lines, CardSketch& sketch, double size)
        : lines_(lines), sketch_(sketch), size_(size) {}

    /// True when the card has a line for one of the keys; one with the number 0 is shown by shapes, and has no arrow.
    bool has(SketchKeys keys) const;

    /// Level dimension at height `z` between two points, with extension lines; the number in the middle.
    void level(DrawingPoint from, DrawingPoint to, double z, SketchKeys keys);
    /// Plumb dimension at `x` between two points, with extension lines.
    void plumb(DrawingPoint from, DrawingPoint to, double x, SketchKeys keys);
    /// Dimension beside the line between two points, `across` to its left.
    void along(DrawingPoint from, DrawingPoint to, double across, SketchKeys keys);
    /// Pointer from the numbers at `words` to a feature.
    void point_out(DrawingPoint feature, DrawingPoint words, SketchKeys keys);

    void shape(Role role, std::vector<DrawingPoint> closed);
    void line(Role role, std::vector<DrawingPoint> points);
    void circle(Role role, DrawingPoint centre, double radius);
    void pin(DrawingPoint at);
    void bar(Role role, DrawingPoint from, DrawingPoint to, double width);

private:
    std::vector<int> find_numbers(SketchKeys keys) const;
    void arrow(DrawingPoint tip, DrawingPoint from);
    void extend(DrawingPoint from, DrawingPoint to);
    void dimension(DrawingPoint from, DrawingPoint to, const std::vector<int>& numbers);

    const std::vector<CardLine>& lines_;
    CardSketch& sketch_;
    double size_;
};

}  // namespace hitchwright
