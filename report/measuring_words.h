// The words of a measuring card: what a station is called, how to take its readings, its cautions, and how a value,
// its unit, its usual error and the line to write on are shown. Sentences in docs/measuring.md say the same at length.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/finding.h"
#include "geometry/measuring_round.h"
#include "report/format_length.h"

namespace hitchwright {

/// "Rear axle of the tractor", ...
std::string_view station_title(Station station);

/// How to take the readings there, one or two sentences.
std::string_view station_method(Station station);

/// Cautions of that step; each is printed with it.
std::vector<Caution> list_station_cautions(Station station, bool driven);

/// What is read: the hole's or end's name before the words of the field list. Printable.
std::string describe_item(const MeasuringItem& item);

/// Unit to write behind the value: "in", "mm", "deg", "lb" ...; empty for counts and words.
std::string find_item_unit(const MeasuringItem& item, UnitSystem units);

/// "1/8 in", "0.3 deg"; where no error is usual "from plate or manual"; empty for counts and words.
std::string format_item_error(const MeasuringItem& item, UnitSystem units);

/// What is known so far with its origin, in brackets: "[30 in, preset]"; empty when nothing is.
std::string format_item_known(const MeasuringItem& item, UnitSystem units);

/// The line to write on, with its unit; a choice has its words to tick.
std::string format_item_blank(const MeasuringItem& item, UnitSystem units);

}  // namespace hitchwright
