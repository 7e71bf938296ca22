// The sketches of a measuring card in letters, for the terminal: which reading runs between which points.
//
// A sketch marks points with letters; below it stands, for each numbered line of the card, from which letter to which
// letter it is taken. Shapes are the same for every set-up and not to scale. The numbers are those of the card's lines,
// found by the pattern of their keys; a sketch without any number is left out.
#pragma once

#include <string>
#include <vector>

#include "geometry/card_lines.h"

namespace hitchwright {

/// The sketches that belong before the words of a station, each behind an empty row; empty: none. `begins_part`: it is the
/// first station of its part (find_group of card_sketches.h) on this card.
std::string format_card_sketches(Station station, bool begins_part, const std::vector<CardLine>& lines, std::size_t width);

}  // namespace hitchwright
