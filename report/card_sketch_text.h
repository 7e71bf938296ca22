// The sketches of a measuring card in letters, for the terminal: where each numbered reading runs.
//
// Shapes are the same for every set-up and not to scale. The numbers are those of the card's lines, found by the pattern of
// their keys; a row of a sketch all whose numbers are missing is left out, and a sketch without any number too.
#pragma once

#include <string>
#include <vector>

#include "geometry/card_lines.h"

namespace hitchwright {

/// The sketch of the part that begins with `group` (find_group of card_sketches.h), rows of at most 78 columns, each ended;
/// empty: none.
std::string format_card_sketch(Station group, const std::vector<CardLine>& lines);

}  // namespace hitchwright
