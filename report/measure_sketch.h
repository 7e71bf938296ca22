// The measuring card's sketch of one reading as a small picture: shapes of the machine, one arrow, and words at it.
#pragma once

#include <optional>
#include <string_view>

#include "report/page.h"

namespace hitchwright {

/// The picture, at most `width_mm` wide and `height_mm` high, not to scale; nothing where no sketch shows the reading.
/// `pattern` as in CardLine: tractor.upper_link_pin[].x; `words` stand at the arrow.
std::optional<PagePicture> draw_measure_sketch(std::string_view pattern, bool drawn, std::string_view words, double width_mm,
                                               double height_mm, const TextMeasure& measure);

}  // namespace hitchwright
