// A sketch of a measuring card in letters: the drawing, and which lines run between which of its letters.
#pragma once

#include <span>
#include <string_view>

#include "geometry/field_spec.h"

namespace hitchwright {

/// A line of the card, and between which letters it is taken.
struct SketchSpan {
    std::string_view pattern, words;
};

/// Which jobs a drawing is for.
enum class SketchedShaft { either, with, without };

/// One drawing. Its first row is empty; captions stand from column 42 on.
struct LetterSketch {
    Station station;
    std::string_view drawing;
    std::span<const SketchSpan> spans;
    SketchedShaft job = SketchedShaft::either;
    Hitched hitched = Hitched::mounted;
};

/// The drawings that only drawn implements have, in walking order (letter_sketches_drawn.cpp).
std::span<const LetterSketch> list_drawn_letter_sketches();

}  // namespace hitchwright
