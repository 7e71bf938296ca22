// The small sketches of a measuring card: tractor, implement, shaft, and all coupled, with numbered dimension arrows.
//
// A sketch shows what is meant, not the machine at hand: its shapes are the same for every set-up, not to scale. The
// numbers are those of the card's lines, found by the pattern of their keys, so that sketch and lines cannot disagree;
// an arrow without a line on the card is not drawn. Frames: side views x rearward, z up; plan view x rearward, z to the
// right of the seat; metres.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/card_lines.h"
#include "report/drawing.h"

namespace hitchwright {

/// Numbers of lines at a place of a sketch.
struct SketchNumbers {
    DrawingPoint at;        ///< middle of the words
    std::vector<int> numbers;
};

/// One sketch.
struct CardSketch {
    Station group = Station::rear_axle;  ///< first station of the part it belongs to: see find_group
    std::string caption;
    Drawing drawing;
    std::vector<SketchNumbers> numbers;
};

/// First station of the part a station belongs to: rear_axle (tractor), implement_pins, shaft, coupled or way.
Station find_group(Station station);

/// The sketches for the lines of a card, in walking order; none for a part that has no lines.
std::vector<CardSketch> make_card_sketches(const std::vector<CardLine>& lines);

/// The sketch on which one reading has its arrow, with no other arrow; nothing where no sketch shows it. `pattern` as in
/// CardLine; the sketch's only number is 1.
std::optional<CardSketch> make_sketch_of(std::string_view pattern, bool drawn);

}  // namespace hitchwright
