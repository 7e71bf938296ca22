// A panel of lines over a common axis, on paper: axis, ticks, shaded range, limits as dashed lines with their words.
//
// Values are SI; ticks and words are in the reader's unit. Lines are told apart by form and by words at their ends, not
// by colour alone. Points that are not finite break a line.
#pragma once

#include <string>
#include <vector>

#include "geometry/height_range.h"
#include "geometry/reading.h"
#include "report/format_length.h"
#include "report/page.h"

namespace hitchwright {

struct ChartPoint {
    double x = 0.0, y = 0.0;
    bool operator==(const ChartPoint&) const = default;
};

/// One line with its name, written at its right end.
struct ChartLine {
    std::string name;
    Role role = Role::lower_link;
    std::vector<ChartPoint> points;
};

/// A level that is not to be passed, with its words.
struct ChartLimit {
    std::string words;
    double level = 0.0;
};

/// A place on a line worth naming.
struct ChartMark {
    std::string words;
    ChartPoint at;
};

/// One panel. x is a ball height (m); y a length (m) or an angle (rad).
struct ChartPanel {
    std::string title;
    Dimension dimension = Dimension::length;
    HeightRange x_range;
    HeightRange shaded;  ///< low >= high: none
    std::vector<ChartLine> lines;
    std::vector<ChartLimit> limits;
    std::vector<ChartMark> marks;
};

/// Draws the panel inside `area`; returns words that found no place.
std::vector<std::string> add_chart(PagePicture& page, const ChartPanel& panel, const PageRect& area, UnitSystem units,
                                   const TextMeasure& measure);

/// Step of ticks for a span (same unit): a round number in that unit giving at most `most` ticks.
double find_tick_step(double span, int most);

}  // namespace hitchwright
