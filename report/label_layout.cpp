// See label_layout.h.
#include "report/label_layout.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

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

BoxSize size_of(const LabelRequest& request, const TextMeasure& measure) {
    BoxSize size{0.0, 0.0};
    for (const std::string& line : request.lines) {
        size.width = std::max(size.width, measure.width_mm(line, request.face));
    }
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

double distance(PagePoint a, PagePoint b) { return std::hypot(a.x - b.x, a.y - b.y); }

bool is_taken(const PageRect& box, const Obstacles& obstacles) {
    const PageRect roomy = grown(box, room_around_mm);
    return std::any_of(obstacles.boxes.begin(), obstacles.boxes.end(),
                       [&](const PageRect& other) { return rects_overlap(roomy, other); });
}

PageRect find_bounds(PagePoint a, PagePoint b) {
    return {std::min(a.x, b.x), std::min(a.y, b.y), std::max(a.x, b.x), std::max(a.y, b.y)};
}

bool lies_apart(const PageRect& a, const PageRect& b) {
    return a.right < b.left || a.left > b.right || a.bottom < b.top || a.top > b.bottom;
}

/// A line with the box around it, which answers nearly every question about it.
struct BoxedLine {
    PageRect bounds;
    WeightedLine line;
};

/// What a box covers, as far as that stays below `enough`.
double cost_of_box(const PageRect& box, const std::vector<BoxedLine>& lines, double enough) {
    const PageRect roomy = grown(box, room_around_mm);
    double cost = 0.0;
    for (const BoxedLine& l : lines) {
        if (lies_apart(l.bounds, roomy) || !line_touches_rect(l.line.from, l.line.to, roomy)) continue;
        cost += l.line.weight;
        if (cost >= enough) break;
    }
    return cost;
}

/// Cost of the leader, infinite when it would run through another text.
double cost_of_leader(const WeightedLine& leader, const std::vector<PageRect>& boxes, const std::vector<BoxedLine>& lines) {
    for (const PageRect& box : boxes) {
        if (line_touches_rect(leader.from, leader.to, box)) return std::numeric_limits<double>::infinity();
    }
    double cost = 0.0;
    const PageRect bounds = find_bounds(leader.from, leader.to);
    for (const BoxedLine& l : lines) {
        if (!lies_apart(l.bounds, bounds) && lines_cross(leader.from, leader.to, l.line.from, l.line.to))
            cost += own_line_share * l.line.weight;
    }
    return cost;
}

struct Candidate {
    PageRect box;
    bool spot;  // a spot of its own line needs no leader and no distance cost
    std::size_t ring;  // of those that stand equally far off; all spots are one
};

std::vector<Candidate> candidates_of(const LabelRequest& request, BoxSize size) {
    std::vector<Candidate> candidates;
    std::size_t ring = 0;
    for (const PagePoint& spot : request.spots) candidates.push_back({box_around(spot, size), true, ring});
    ++ring;
    for (double off : stand_off_mm) {
        for (int i = 0; i < directions; ++i) {
            // Rightward and upward first: equal costs go to the place where the eye looks first.
            const double angle = 2.0 * std::numbers::pi * i / directions - std::numbers::pi / 4.0;
            const double reach = request.clear_mm + off;
            const PagePoint middle{request.anchor.x + std::cos(angle) * (size.width / 2.0 + reach),
                                   request.anchor.y + std::sin(angle) * (size.height / 2.0 + reach)};
            candidates.push_back({box_around(middle, size), false, ring});
        }
        ++ring;
    }
    return candidates;
}

/// Around a point and all boxes of a ring, with the room kept free: every leader to one of them lies in it.
PageRect find_reach(PagePoint anchor, const std::vector<Candidate>& candidates, std::size_t ring) {
    PageRect reach{anchor.x, anchor.y, anchor.x, anchor.y};
    for (const Candidate& c : candidates) {
        if (c.ring != ring) continue;
        reach = {std::min(reach.left, c.box.left), std::min(reach.top, c.box.top), std::max(reach.right, c.box.right),
                 std::max(reach.bottom, c.box.bottom)};
    }
    return grown(reach, room_around_mm);
}

/// The lines that a ring of candidates has to do with, in the order of all. Most lines of a picture lie elsewhere, and nearly all
/// of the time of a layout went into asking each of them about each box.
class LinesNear {
public:
    LinesNear(const std::vector<WeightedLine>& all, PagePoint anchor, const std::vector<Candidate>& candidates)
        : all_(all), anchor_(anchor), candidates_(candidates) {}

    const std::vector<BoxedLine>& of(std::size_t ring) {
        if (known_ && ring_ == ring) return near_;
        known_ = true;
        ring_ = ring;
        near_.clear();
        const PageRect reach = find_reach(anchor_, candidates_, ring);
        for (const WeightedLine& line : all_) {
            const PageRect bounds = find_bounds(line.from, line.to);
            if (line.weight > 0.0 && !lies_apart(bounds, reach)) near_.push_back({bounds, line});
        }
        return near_;
    }

private:
    const std::vector<WeightedLine>& all_;
    PagePoint anchor_;
    const std::vector<Candidate>& candidates_;
    std::vector<BoxedLine> near_;
    bool known_ = false;
    std::size_t ring_ = 0;
};

std::vector<PageText> texts_in(const PageRect& box, const LabelRequest& request, const TextMeasure& measure) {
    std::vector<PageText> texts;
    double baseline = box.top + measure.ascent_mm(request.face);
    const PagePoint aim = request.anchor;
    for (const std::string& line : request.lines) {
        PageText text = make_text({box.left, baseline}, line, request.face, measure);
        // Lines of unequal width lean toward what they belong to.
        if (aim.x > box.right)
            text.at.x = box.right - text.width_mm;
        else if (aim.x >= box.left)
            text.at.x = (box.left + box.right - text.width_mm) / 2.0;
        texts.push_back(text);
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

bool line_touches_rect(PagePoint a, PagePoint b, const PageRect& rect) {
    if (lies_apart(find_bounds(a, b), rect)) return false;
    // Liang and Barsky's clipping: the piece is cut by each side; what is left decides.
    const double dx = b.x - a.x, dy = b.y - a.y;
    const std::array<double, 4> step = {-dx, dx, -dy, dy};
    const std::array<double, 4> room = {a.x - rect.left, rect.right - a.x, a.y - rect.top, rect.bottom - a.y};
    double enter = 0.0, leave = 1.0;
    for (std::size_t i = 0; i < 4; ++i) {
        if (step[i] == 0.0) {
            if (room[i] < 0.0) return false;
            continue;
        }
        const double t = room[i] / step[i];
        if (step[i] < 0.0)
            enter = std::max(enter, t);
        else
            leave = std::min(leave, t);
    }
    return enter <= leave;
}

bool lines_cross(PagePoint a, PagePoint b, PagePoint c, PagePoint d) {
    const auto side = [](PagePoint p, PagePoint q, PagePoint r) {
        return (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    };
    return side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
}

void add_obstacles(Obstacles& obstacles, const std::vector<PageShape>& shapes) {
    for (const PageShape& shape : shapes) {
        if (shape.part != PagePart::normal) continue;
        const double weight = style_of(shape.role).crossing_weight;
        if (const auto* path = std::get_if<PagePath>(&shape.form)) add_path(obstacles, *path, weight);
        if (const auto* circle = std::get_if<PageCircle>(&shape.form)) add_circle(obstacles, *circle, weight);
    }
}

std::optional<PlacedLabel> find_label_place(const LabelRequest& request, const Obstacles& obstacles,
                                            const PageRect& area, const TextMeasure& measure) {
    const BoxSize size = size_of(request, measure);
    std::optional<PlacedLabel> best;
    const std::vector<Candidate> candidates = candidates_of(request, size);
    LinesNear near(obstacles.lines, request.anchor, candidates);
    for (const Candidate& candidate : candidates) {
        if (!rect_inside(candidate.box, area) || is_taken(candidate.box, obstacles)) continue;
        const PagePoint tip = nearest_in(candidate.box, request.anchor);
        const double off = candidate.spot ? 0.0 : distance(tip, request.anchor);
        double cost = cost_per_mm * off;
        if (best && cost >= best->cost) continue;
        const std::vector<BoxedLine>& lines = near.of(candidate.ring);
        const double covered =
            cost_of_box(candidate.box, lines, best ? best->cost : std::numeric_limits<double>::infinity());
        cost += covered;
        if (best && cost >= best->cost) continue;
        std::optional<WeightedLine> leader;
        if (off > leader_from_mm) {
            leader = WeightedLine{request.anchor, tip, leader_weight};
            cost += cost_of_leader(*leader, obstacles.boxes, lines);
        }
        if (!std::isfinite(cost) || (best && cost >= best->cost)) continue;
        best = PlacedLabel{0, candidate.box, texts_in(candidate.box, request, measure), leader, covered > 0.0, cost};
    }
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
