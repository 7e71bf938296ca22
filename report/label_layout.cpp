// See label_layout.h.
#include "report/label_layout.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace hitchwright {
namespace {

constexpr int directions = 16;
constexpr std::array<double, 9> stand_off_mm = {0.0, 2.0, 4.0, 7.0, 11.0, 16.0, 22.0, 30.0, 40.0};
constexpr double cost_per_mm = 0.12;
constexpr double leader_from_mm = 2.6;   // closer than this the words need no leader
constexpr double room_around_mm = 0.45;  // kept free around every text
constexpr double leader_weight = 3.0;
constexpr double own_line_share = 0.5;  // a leader crossing a line is half as bad as words across it
constexpr int circle_pieces = 40;

struct BoxSize {
    double width, height;
};

std::vector<double> measure_lines(const LabelRequest& request, const TextMeasure& measure) {
    if (!request.widths_mm.empty()) return request.widths_mm;
    std::vector<double> widths;
    for (const std::string& line : request.lines) widths.push_back(measure.width_mm(line, request.face));
    return widths;
}

BoxSize size_of(const LabelRequest& request, const std::vector<double>& widths, const TextMeasure& measure) {
    BoxSize size{0.0, 0.0};
    for (double width : widths) size.width = std::max(size.width, width);
    const double extra = static_cast<double>(request.lines.size()) - 1.0;
    size.height = measure.ascent_mm(request.face) + measure.descent_mm(request.face) +
                  extra * measure.line_pitch_mm(request.face);
    return size;
}

PageRect box_around(PagePoint middle, BoxSize size) {
    return {middle.x - size.width / 2.0, middle.y - size.height / 2.0, middle.x + size.width / 2.0,
            middle.y + size.height / 2.0};
}

PagePoint nearest_in(const PageRect& box, PagePoint p) {
    return {std::clamp(p.x, box.left, box.right), std::clamp(p.y, box.top, box.bottom)};
}

/// Of what lies straight beside, above or below, as most boxes do, no root is needed.
double distance(PagePoint a, PagePoint b) {
    const double dx = std::fabs(a.x - b.x), dy = std::fabs(a.y - b.y);
    return dx == 0.0 ? dy : dy == 0.0 ? dx : std::hypot(dx, dy);
}

bool is_taken(const PageRect& box, const Obstacles& obstacles) {
    const PageRect roomy = grown(box, room_around_mm);
    return std::any_of(obstacles.boxes.begin(), obstacles.boxes.end(),
                       [&](const PageRect& other) { return rects_overlap(roomy, other); });
}

using Direction = PagePoint;

/// Rightward and upward first: equal costs go to the place where the eye looks first.
const std::array<Direction, directions>& list_directions() {
    static const std::array<Direction, directions> list = [] {
        std::array<Direction, directions> made;
        for (int i = 0; i < directions; ++i) {
            const double angle = 2.0 * std::numbers::pi * i / directions - std::numbers::pi / 4.0;
            made[static_cast<std::size_t>(i)] = {std::cos(angle), std::sin(angle)};
        }
        return made;
    }();
    return list;
}

/// The cheapest of the boxes it is shown, the first one among equals. What costs too much is left as early as that is known.
class PlaceSearch {
public:
    PlaceSearch(PagePoint anchor, const Obstacles& obstacles, const PageRect& area, double enough)
        : anchor_(anchor), obstacles_(obstacles), area_(area), enough_(enough) {}

    /// `spot`: a spot of its own line needs no leader and no distance cost. `place`: its number.
    void try_box(const PageRect& box, bool spot, int place) {
        if (!rect_inside(box, area_)) return;
        const PagePoint tip = nearest_in(box, anchor_);
        const double off = spot ? 0.0 : distance(tip, anchor_);
        double cost = cost_per_mm * off;
        if (!(cost < enough_) || is_taken(box, obstacles_)) return;
        const double covered = cost_of_box(box, cost);
        cost += covered;
        if (!(cost < enough_)) return;
        std::optional<WeightedLine> leader;
        if (off > leader_from_mm) {
            leader = WeightedLine{anchor_, tip, leader_weight};
            cost += cost_of_leader(*leader, cost);
        }
        if (!(cost < enough_)) return;
        enough_ = cost;
        best_ = PlacedLabel{0, box, {}, leader, covered > 0.0, cost, place};
    }

    const std::optional<PlacedLabel>& best() const { return best_; }

private:
    /// What a box covers, as far as that and the cost `before` stay below what is enough.
    double cost_of_box(const PageRect& box, double before) const {
        const PageRect roomy = grown(box, room_around_mm);
        double cost = 0.0;
        obstacles_.lines.visit_near(roomy, [&](const WeightedLine& line) {
            if (line_touches_rect(line.from, line.to, roomy)) cost += line.weight;
            return before + cost < enough_;
        });
        return cost;
    }

    /// Infinite when the leader would run through another text; `before` as above.
    double cost_of_leader(const WeightedLine& leader, double before) const {
        if (runs_through_box(leader.from, leader.to, obstacles_)) return std::numeric_limits<double>::infinity();
        double cost = 0.0;
        obstacles_.lines.visit_near(bounds_of(leader.from, leader.to), [&](const WeightedLine& line) {
            if (lines_cross(leader.from, leader.to, line.from, line.to)) cost += own_line_share * line.weight;
            return before + cost < enough_;
        });
        return cost;
    }

    PagePoint anchor_;
    const Obstacles& obstacles_;
    const PageRect& area_;
    double enough_;  // what costs as much is of no use
    std::optional<PlacedLabel> best_;
};

/// Spots first, then the directions at each distance.
int count_places(const LabelRequest& request) {
    return static_cast<int>(request.spots.size()) + directions * static_cast<int>(stand_off_mm.size());
}

void try_place(PlaceSearch& search, const LabelRequest& request, BoxSize size, int place) {
    const int spots = static_cast<int>(request.spots.size());
    if (place < spots) return search.try_box(box_around(request.spots[static_cast<std::size_t>(place)], size), true, place);
    const int around = place - spots;
    const double reach = request.clear_mm + stand_off_mm[static_cast<std::size_t>(around / directions)];
    const Direction way = list_directions()[static_cast<std::size_t>(around % directions)];
    const PagePoint middle{request.anchor.x + way.x * (size.width / 2.0 + reach),
                           request.anchor.y + way.y * (size.height / 2.0 + reach)};
    search.try_box(box_around(middle, size), false, place);
}

std::vector<PageText> texts_in(const PageRect& box, const LabelRequest& request, const std::vector<double>& widths,
                               const TextMeasure& measure) {
    std::vector<PageText> texts;
    double baseline = box.top + measure.ascent_mm(request.face);
    const PagePoint aim = request.anchor;
    for (std::size_t i = 0; i < request.lines.size(); ++i) {
        PageText text{{box.left, baseline}, request.lines[i], request.face, widths[i]};
        // Lines of unequal width lean toward what they belong to.
        if (aim.x > box.right)
            text.at.x = box.right - text.width_mm;
        else if (aim.x >= box.left)
            text.at.x = (box.left + box.right - text.width_mm) / 2.0;
        texts.push_back(std::move(text));
        baseline += measure.line_pitch_mm(request.face);
    }
    return texts;
}

void add_path(Obstacles& obstacles, const PagePath& path, double weight) {
    const std::size_t count = path.points.size();
    for (std::size_t i = 0; i + 1 < count; ++i) obstacles.lines.push_back({path.points[i], path.points[i + 1], weight});
    if (path.closed && count > 2) obstacles.lines.push_back({path.points.back(), path.points.front(), weight});
}

void add_circle(Obstacles& obstacles, const PageCircle& circle, double weight) {
    PagePoint last{circle.centre.x + circle.radius, circle.centre.y};
    for (int i = 1; i <= circle_pieces; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / circle_pieces;
        const PagePoint next{circle.centre.x + circle.radius * std::cos(angle),
                             circle.centre.y + circle.radius * std::sin(angle)};
        obstacles.lines.push_back({last, next, weight});
        last = next;
    }
}

}  // namespace

bool runs_through_box(PagePoint a, PagePoint b, const Obstacles& obstacles) {
    return std::any_of(obstacles.boxes.begin(), obstacles.boxes.end(),
                       [&](const PageRect& box) { return line_touches_rect(a, b, box); });
}

void add_obstacles(Obstacles& obstacles, const std::vector<PageShape>& shapes) {
    for (const PageShape& shape : shapes) {
        if (shape.part != PagePart::normal) continue;
        const double weight = style_of(shape.role).crossing_weight;
        if (weight <= 0.0) continue;
        if (const auto* path = std::get_if<PagePath>(&shape.form)) add_path(obstacles, *path, weight);
        if (const auto* circle = std::get_if<PageCircle>(&shape.form)) add_circle(obstacles, *circle, weight);
    }
}

std::optional<PlacedLabel> find_label_place(const LabelRequest& request, const Obstacles& obstacles,
                                            const PageRect& area, const TextMeasure& measure, double enough) {
    const std::vector<double> widths = measure_lines(request, measure);
    const BoxSize size = size_of(request, widths, measure);
    const int places = count_places(request);
    if (request.guess >= 0 && request.guess < places) {
        PlaceSearch guess(request.anchor, obstacles, area, enough);
        try_place(guess, request, size, request.guess);
        // The guess itself stays cheap enough, and so does the first of its equals.
        if (guess.best()) enough = std::min(enough, guess.best()->cost + rounding_of_costs);
    }
    PlaceSearch search(request.anchor, obstacles, area, enough);
    for (int place = 0; place < places; ++place) try_place(search, request, size, place);
    std::optional<PlacedLabel> best = search.best();
    if (best) best->lines = texts_in(best->box, request, widths, measure);
    return best;
}

LabelLayout place_labels(const std::vector<LabelRequest>& requests, Obstacles& obstacles, const PageRect& area,
                         const TextMeasure& measure) {
    std::vector<std::size_t> order(requests.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return requests[a].rank < requests[b].rank; });
    LabelLayout layout;
    for (std::size_t index : order) {
        std::optional<PlacedLabel> place = find_label_place(requests[index], obstacles, area, measure);
        if (!place) {
            layout.unplaced.push_back(index);
            continue;
        }
        place->request = index;
        obstacles.boxes.push_back(place->box);
        if (place->leader) obstacles.lines.push_back(*place->leader);
        layout.placed.push_back(std::move(*place));
    }
    return layout;
}

void draw_label(std::vector<PageShape>& shapes, const PlacedLabel& label) {
    if (label.leader) {
        shapes.push_back({Role::leader, PagePart::normal, PagePath{{label.leader->from, label.leader->to}, false}});
    }
    const PageRect b = grown(label.box, 0.3);
    const PagePath background{{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}, true};
    if (label.covers_line) shapes.push_back({Role::label, PagePart::wipe, background});
    for (const PageText& line : label.lines) shapes.push_back({Role::label, PagePart::normal, line});
}

}  // namespace hitchwright
