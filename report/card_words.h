// What a measuring card says at each place one stands: its heading, how the readings there are taken, and the cautions
// that belong to that step. The words of the readings themselves are those of setup_fields.h.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/card_lines.h"
#include "report/format_length.h"

namespace hitchwright {

/// The heading of a station: "Tractor: lower links".
std::string_view station_title(Station station);

/// One word for machine-readable output: "lower_links".
std::string_view station_word(Station station);

/// How readings are taken there; sentences. Some stations of a drawn implement have their own.
std::string_view station_method(Station station, bool drawn = false);

/// Cautions of the step, sentences; none where those at the top are enough.
std::vector<std::string> station_cautions(Station station);

/// What stands at the top of every card, before the first step.
std::vector<std::string> opening_cautions();

/// What to prepare before the first reading, sentences.
std::string card_preparation(const Setup& setup);

/// The unit a value is written in on the line: "in", "mm", "deg", "hp"; empty: none.
std::string card_unit(const CardLine& line, UnitSystem units);

/// The usual error of a reading: "+-1/8 in"; empty: none is known, or it is no measured value.
std::string card_error(const CardLine& line, UnitSystem units);

/// The value the set-up has, with its origin: "21 in, preset"; empty: it has none.
std::string card_value(const CardLine& line, UnitSystem units);

/// What the line asks for, with the hole or point it belongs to: "hole 2: floor to the hole centre".
std::string card_question(const CardLine& line);

/// Rising whole numbers in words: "3, 5 to 9"; empty: none.
std::string format_runs(const std::vector<int>& numbers);

/// Title of a card: the set-up's name, or what the job is.
std::string card_title(const Setup& setup);

}  // namespace hitchwright
