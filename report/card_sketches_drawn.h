// The sketches of a measuring card that only drawn implements have; see card_sketches.h.
#pragma once

#include <vector>

#include "report/card_sketches.h"

namespace hitchwright {

/// Tractor and hitch from the left, the tractor from above, its front axle, implement from the left and from above, the
/// way; in walking order. One without numbers has no line on the card.
std::vector<CardSketch> make_drawn_sketches(const std::vector<CardLine>& lines);

}  // namespace hitchwright
