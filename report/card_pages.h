// A measuring card on paper: upright pages with a row to write on for each reading, and the sketches beside them.
#pragma once

#include <vector>

#include "report/card_text.h"
#include "report/page.h"

namespace hitchwright {

inline constexpr PageSetup a4_portrait{210.0, 297.0, 11.0};
inline constexpr PageSetup letter_portrait{215.9, 279.4, 11.0};

/// The pages of the card for a set-up.
std::vector<PagePicture> compose_card_pages(const Setup& setup, const CardOptions& options, const PageSetup& paper,
                                            const TextMeasure& measure);

}  // namespace hitchwright
