// A panel of lines over a common axis, on paper: axis, ticks, shaded range, limits as dashed lines with their words.
//
// Values are SI; ticks and words are in the reader's unit. Lines are told apart by form and by words at their ends, not
// by colour alone. Points that are not finite break a line.
#pragma once

#include <limits>
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
    std::string brief = {};  ///< name where there is little room; empty: the name
};

/// A level that is not to be passed, with its words.
struct ChartLimit {
    std::string words;
    double level = 0.0;
    std::string brief = {};  ///< words where there is little room; empty: the words
    Role role = Role::cut;   ///< how the level is drawn
};

/// Levels that are hatched; an end may be infinite.
struct ChartZone {
    double low = 0.0, high = 0.0;
    Role role = Role::separation;
};

/// Where a line may be in truth: shaded, from `low` to `high` at each x. Points that are not finite break it.
struct ChartBand {
    struct Section {
        double x = 0.0, low = 0.0, high = 0.0;
    };
    std::vector<Section> sections;  ///< rising x
};

/// A place on a line worth naming.
struct ChartMark {
    std::string words;
    ChartPoint at;
};

/// One panel. x is a ball height (m) unless `x_dimension` and `x_name` say otherwise; y is of any dimension. SI.
struct ChartPanel {
    std::string title;
    Dimension dimension = Dimension::length;
    Dimension x_dimension = Dimension::length;
    std::string x_name = "ball height";
    HeightRange x_range;
    HeightRange shaded;  ///< low >= high: none
    std::vector<ChartLine> lines;
    std::vector<ChartLimit> limits;
    std::vector<ChartMark> marks;
    std::vector<ChartZone> zones;
    std::vector<ChartBand> bands;
    double y_most = std::numeric_limits<double>::infinity();  ///< lines are shown up to here; above it they are broken
};

/// How much is written at the ends of lines and at marks.
enum class ChartWords { full, brief };

/// The plot's own rectangle on the page and the ranges it shows, in edge units.
struct ChartAxes {
    PageRect plot;
    double x_low = 0.0, x_high = 1.0, y_low = 0.0, y_high = 1.0, x_per_si = 1.0, y_per_si = 1.0;

    PagePoint to_page(const ChartPoint& p) const {
        return {plot.left + (p.x * x_per_si - x_low) / (x_high - x_low) * plot.width(),
                plot.bottom - (p.y * y_per_si - y_low) / (y_high - y_low) * plot.height()};
    }
    /// x at a place across the page, brought inside the range.
    double to_x(double page_x) const;
};

/// The axes add_chart draws with.
ChartAxes find_chart_axes(const ChartPanel& panel, const PageRect& area, UnitSystem units, ChartWords words = ChartWords::full);

/// Draws the panel inside `area`; returns words that found no place.
std::vector<std::string> add_chart(PagePicture& page, const ChartPanel& panel, const PageRect& area, UnitSystem units,
                                   const TextMeasure& measure, ChartWords words = ChartWords::full);

/// Step of ticks for a span (same unit): a round number in that unit giving at most `most` ticks.
double find_tick_step(double span, int most);

}  // namespace hitchwright
