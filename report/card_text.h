// A measuring card as text: the readings a job needs, in walking order, each with a line to write on.
#pragma once

#include <string>

#include "geometry/card_lines.h"
#include "report/text_layout.h"

namespace hitchwright {

/// What is on a card and how.
struct CardOptions {
    UnitSystem units = UnitSystem::inch;
    bool blank = false;  ///< true: values the set-up has are left out
};

/// The card for a terminal, 80 columns or as `width` says.
std::string format_card_text(const Setup& setup, const CardOptions& options, std::size_t width = 80);

/// Numbers of the lines that are needed and have no value, as words: "3, 5 to 9"; empty: none.
std::string format_missing_numbers(const std::vector<CardLine>& lines);

}  // namespace hitchwright
