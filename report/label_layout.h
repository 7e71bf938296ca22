// Finds places for labels and dimension texts so that no two overlap and as few lines as possible are covered.
//
// Method: greedy, by rank. Each label tries boxes around its point in 16 directions at growing distances (a dimension
// text first tries spots along its own line) and takes the cheapest: overlap with another text or a box of the picture
// is forbidden, lying across a line costs that line's weight, distance costs a little. What finds no place is reported,
// never dropped in silence. Frame of the page: mm, y down.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "report/obstacle_lines.h"
#include "report/page.h"
#include "report/word_places.h"

namespace hitchwright {

/// What labels have to keep clear of.
struct Obstacles {
    std::vector<PageRect> boxes;  ///< never covered
    ObstacleLines lines;          ///< covered only when there is nothing better
};

/// Lines of shapes already on the page, weighted by role; hatch lines and text do not count.
void add_obstacles(Obstacles& obstacles, const std::vector<PageShape>& shapes);

/// Far more than sums of costs can lose: what a guess costs is enough with so much on top.
inline constexpr double rounding_of_costs = 1e-6;

/// A text that needs a place.
struct LabelRequest {
    std::vector<std::string> lines;  ///< lines of text, at least one
    TextFace face;
    PagePoint anchor;              ///< what the words belong to
    std::vector<PagePoint> spots;  ///< middles of boxes to try before those around the anchor
    int rank = 5;                  ///< smaller ranks choose first
    double clear_mm = 1.2;         ///< distance kept between the anchor and the nearest box
    std::vector<double> widths_mm = {};  ///< of the lines, where they are measured already
    int guess = no_place;                ///< place tried before all others: what costs more is left sooner. The outcome is that without
};

/// A text with its place.
struct PlacedLabel {
    std::size_t request = 0;  ///< index of the request
    PageRect box;
    std::vector<PageText> lines;
    std::optional<WeightedLine> leader;  ///< from the anchor to the box, when the box stands off
    bool covers_line = false;            ///< the box lies across a line, which is wiped behind the words
    double cost = 0.0;
    int place = no_place;  ///< its number, a guess for a request like it
};

/// Result of a layout; every request is in one of the two lists.
struct LabelLayout {
    std::vector<PlacedLabel> placed;
    std::vector<std::size_t> unplaced;
};

/// Places all requests inside `area`. Placed boxes and leaders are added to `obstacles`, so layouts can follow each
/// other.
LabelLayout place_labels(const std::vector<LabelRequest>& requests, Obstacles& obstacles, const PageRect& area,
                         const TextMeasure& measure);

/// The cheapest place of one request, without adding it to the obstacles; the first one tried among equals. `enough`: a
/// place that costs as much is of no use. No value: there is none.
std::optional<PlacedLabel> find_label_place(const LabelRequest& request, const Obstacles& obstacles,
                                            const PageRect& area, const TextMeasure& measure,
                                            double enough = std::numeric_limits<double>::infinity());

/// Page shapes of a placed label: a wiped background, the leader and the text.
void draw_label(std::vector<PageShape>& shapes, const PlacedLabel& label);

/// True when the straight piece a-b touches one of the boxes.
bool runs_through_box(PagePoint a, PagePoint b, const Obstacles& obstacles);

}  // namespace hitchwright
