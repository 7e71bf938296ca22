// Labels and dimensions: nothing overlaps, nothing is lost.
#include "report/label_layout.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "report/dimension_layout.h"

using namespace hitchwright;

namespace {

LabelRequest request_at(double x, double y, std::string text, int rank = 5) {
    LabelRequest request;
    request.lines = {std::move(text)};
    request.face = {2.6, false};
    request.anchor = {x, y};
    request.rank = rank;
    return request;
}

const PageRect page{0, 0, 200, 120};

}  // namespace

TEST_CASE("line and rectangle: touching is found, passing by is not", "[report][analytic]") {
    const PageRect r{10, 10, 20, 20};
    CHECK(line_touches_rect({0, 15}, {30, 15}, r));
    CHECK(line_touches_rect({12, 12}, {13, 13}, r));
    CHECK(line_touches_rect({0, 0}, {15, 15}, r));
    CHECK_FALSE(line_touches_rect({0, 0}, {5, 5}, r));
    CHECK_FALSE(line_touches_rect({0, 25}, {30, 25}, r));
    CHECK_FALSE(line_touches_rect({0, 12}, {12, 0}, r));
    CHECK_FALSE(line_touches_rect({25, 0}, {25, 40}, r));
    CHECK_FALSE(line_touches_rect({5, 0}, {5, 40}, r));
    CHECK_FALSE(line_touches_rect({0, 5}, {30, 5}, r));
    CHECK(line_touches_rect({0, 10}, {30, 10}, r));
    CHECK(line_touches_rect({0, 20}, {30, 20}, r));
    CHECK(line_touches_rect({10, 30}, {10, 0}, r));
    CHECK(line_touches_rect({20, 30}, {20, 0}, r));
}

TEST_CASE("line and rectangle: random pieces touch where an end lies inside or a side is crossed", "[report][random]") {
    const unsigned seed = 20261126;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> place(0, 30);
    const PageRect r{10, 12, 20, 17};
    const auto inside = [&r](PagePoint p) { return p.x > r.left && p.x < r.right && p.y > r.top && p.y < r.bottom; };
    const PagePoint corners[] = {{r.left, r.top}, {r.right, r.top}, {r.right, r.bottom}, {r.left, r.bottom}};
    int touching = 0;
    for (int round = 0; round < 5000; ++round) {
        const PagePoint a{place(random), place(random)}, b{place(random), place(random)};
        bool touches = inside(a) || inside(b);
        for (std::size_t i = 0; i < 4; ++i) touches = touches || lines_cross(a, b, corners[i], corners[(i + 1) % 4]);
        CAPTURE(a.x, a.y, b.x, b.y);
        REQUIRE(line_touches_rect(a, b, r) == touches);
        touching += touches ? 1 : 0;
    }
    CHECK(touching > 500);
    CHECK(touching < 4500);
}

TEST_CASE("line and rectangle: the short way says what clipping says, on edges and through corners, too", "[report][random]") {
    constexpr unsigned seed = 12;
    std::mt19937 random(seed);
    std::uniform_int_distribution<> whole(-6, 6);
    std::uniform_real_distribution<> part(-6.0, 6.0);
    int touching = 0, passing = 0;
    for (int i = 0; i < 200'000; ++i) {
        // Whole numbers meet corners, thirds of them to the last bit or not, others hardly ever.
        const double unit = i % 4 == 0 ? 1.0 / 3.0 : i % 4 == 1 ? 0.1 : 1.0, shift = i % 8 < 4 ? 0.0 : 1e4 / 3.0;
        const auto at = [&] { return shift + unit * (i % 4 == 3 ? part(random) : whole(random)); };
        const PagePoint a{at(), at()}, b{at(), at()}, c{at(), at()}, d{at(), at()};
        const PageRect r = bounds_of(c, d);
        if (lies_apart(bounds_of(a, b), r)) continue;
        INFO("seed " << seed << ", piece " << i);
        REQUIRE(line_touches_rect(a, b, r) == detail::is_left_by_clipping(a, b, r));
        ++(line_touches_rect(a, b, r) ? touching : passing);
    }
    CHECK(touching > 10'000);
    CHECK(passing > 10'000);
}

TEST_CASE("lines: crossing is found, touching ends and parallels are not crossings", "[report][analytic]") {
    CHECK(lines_cross({0, 0}, {10, 10}, {0, 10}, {10, 0}));
    CHECK_FALSE(lines_cross({0, 0}, {10, 10}, {10, 10}, {20, 0}));
    CHECK_FALSE(lines_cross({0, 0}, {10, 0}, {0, 1}, {10, 1}));
}

TEST_CASE("labels: random crowds never overlap and every label is accounted for", "[report][random]") {
    const unsigned seed = 4711;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> x(20, 180), y(20, 100);
    const BuiltInTextMeasure measure;
    for (int round = 0; round < 20; ++round) {
        CAPTURE(round);
        std::vector<LabelRequest> requests;
        for (int i = 0; i < 40; ++i)
            requests.push_back(request_at(x(random), y(random), "label number " + std::to_string(i)));
        Obstacles obstacles;
        obstacles.boxes = {{90, 50, 110, 70}};
        for (int i = 0; i < 30; ++i) obstacles.lines.push_back({{x(random), y(random)}, {x(random), y(random)}, 2.0});
        const LabelLayout layout = place_labels(requests, obstacles, page, measure);
        REQUIRE(layout.placed.size() + layout.unplaced.size() == requests.size());
        CHECK(layout.placed.size() > 30);
        for (std::size_t i = 0; i < layout.placed.size(); ++i) {
            const PageRect box = layout.placed[i].box;
            CHECK(rect_inside(box, page));
            CHECK_FALSE(rects_overlap(box, {90, 50, 110, 70}));
            for (std::size_t j = 0; j < i; ++j) CHECK_FALSE(rects_overlap(box, layout.placed[j].box));
        }
    }
}

TEST_CASE("labels and dimensions: the layout is the same with any guess where they stand", "[report][random]") {
    constexpr unsigned seed = 12;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> x(20, 180), y(20, 100);
    const auto some = [&] { return static_cast<int>(random() % 200U) - 5; };
    const BuiltInTextMeasure measure;
    int right = 0;
    for (int round = 0; round < 30; ++round) {
        CAPTURE(round);
        std::vector<LabelRequest> requests;
        std::vector<PageDimension> dimensions;
        Obstacles before;
        before.boxes = {{90, 50, 110, 70}};
        for (int i = 0; i < 12; ++i) requests.push_back(request_at(x(random), y(random), "label " + std::to_string(i), i % 4));
        for (int i = 0; i < 4; ++i)
            dimensions.push_back({{x(random), y(random)}, {x(random), y(random)}, static_cast<DimensionDirection>(i % 3), "length", {2.6, false}, i});
        // Whole coordinates and weights: costs come out equal.
        for (int i = 0; i < 60; ++i) {
            const PagePoint a{std::floor(x(random)), std::floor(y(random))};
            before.lines.push_back({a, {a.x + i % 9, a.y + i % 7}, 2.0});
        }
        const auto place_all = [&](DimensionLayout& lines, LabelLayout& labels) {
            Obstacles obstacles = before;
            lines = place_dimensions(dimensions, obstacles, page, measure);
            labels = place_labels(requests, obstacles, page, measure);
        };
        DimensionLayout lines;
        LabelLayout labels;
        place_all(lines, labels);
        for (int n = 0; n < 4; ++n) {
            for (LabelRequest& r : requests) r.guess = some();
            for (std::size_t i = 0; i < dimensions.size(); ++i) dimensions[i].guess = {some() % 15, some()};
            if (n == 0) {
                for (const PlacedLabel& l : labels.placed) requests[l.request].guess = l.place;
                for (std::size_t i = 0; i < dimensions.size(); ++i) dimensions[i].guess = lines.places[i];
            }
            DimensionLayout guessed_lines;
            LabelLayout guessed;
            place_all(guessed_lines, guessed);
            CHECK(guessed_lines.shapes == lines.shapes);
            CHECK(guessed_lines.unplaced == lines.unplaced);
            CHECK(guessed_lines.places == lines.places);
            CHECK(guessed.unplaced == labels.unplaced);
            REQUIRE(guessed.placed.size() == labels.placed.size());
            for (std::size_t i = 0; i < labels.placed.size(); ++i) {
                const PlacedLabel &a = guessed.placed[i], &b = labels.placed[i];
                CHECK((a.request == b.request && a.box == b.box && a.lines == b.lines && a.cost == b.cost && a.place == b.place));
                CHECK(a.leader.has_value() == b.leader.has_value());
                if (a.place == requests[a.request].guess) ++right;
            }
        }
    }
    CHECK(right > 300);
}

TEST_CASE("lines: those near a place are those of all whose boxes meet it, in their order", "[report][random]") {
    std::mt19937 random(7);  // the same lines in each run
    std::uniform_real_distribution<double> at(-40.0, 340.0), length(-15.0, 15.0);
    std::vector<WeightedLine> all;
    ObstacleLines lines;
    for (int i = 0; i < 300; ++i) {
        const PagePoint from{at(random), at(random)};
        all.push_back({from, {from.x + length(random), from.y + length(random)}, static_cast<double>(i)});
        lines.push_back(all.back());
        if (i % 3 != 0) continue;
        lines.push_back({{-1000, -1000}, {1000, 1000}, -1.0});
        lines.pop_back();
    }
    for (int i = 0; i < 500; ++i) {
        const PagePoint corner{at(random), at(random)};
        const PageRect reach{corner.x, corner.y, corner.x + 5.0 * (i % 11), corner.y + 5.0 * (i % 7)};
        std::vector<double> expected, found;
        for (const WeightedLine& l : all) {
            const bool apart = std::max(l.from.x, l.to.x) < reach.left || std::min(l.from.x, l.to.x) > reach.right ||
                               std::max(l.from.y, l.to.y) < reach.top || std::min(l.from.y, l.to.y) > reach.bottom;
            if (!apart) expected.push_back(l.weight);
        }
        lines.visit_near(reach, [&](const WeightedLine& l) {
            found.push_back(l.weight);
            return true;
        });
        CHECK(found == expected);
    }
}

TEST_CASE("labels: a free place is preferred to one across a line", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    Obstacles obstacles;
    obstacles.lines = {{{0, 60}, {200, 60}, 3.0}};
    const auto place = find_label_place(request_at(100, 60, "on the line"), obstacles, page, measure);
    REQUIRE(place);
    CHECK_FALSE(place->covers_line);
    CHECK_FALSE(line_touches_rect({0, 60}, {200, 60}, place->box));
}

TEST_CASE("labels: words that stand off have a leader from their point", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    Obstacles obstacles;
    obstacles.boxes = {{90, 55, 110, 65}};  // the point itself is inside a box
    const auto place = find_label_place(request_at(100, 60, "off"), obstacles, page, measure);
    CHECK_FALSE(place);  // a leader would run through the box: said, not drawn through
    obstacles.boxes.clear();
    for (double x = 80; x <= 120; x += 1) obstacles.lines.push_back({{x, 52}, {x, 68}, 4.0});
    const auto far = find_label_place(request_at(100, 60, "off"), obstacles, page, measure);
    REQUIRE(far);
    REQUIRE(far->leader);
    CHECK(far->leader->from == PagePoint{100, 60});
}

TEST_CASE("labels: what has no room is reported", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    Obstacles obstacles;
    const LabelLayout layout = place_labels({request_at(5, 5, "a text that is far wider than the page it is on")},
                                            obstacles, {0, 0, 20, 10}, measure);
    CHECK(layout.placed.empty());
    REQUIRE(layout.unplaced.size() == 1);
    CHECK(layout.unplaced[0] == 0);
}

TEST_CASE("labels: the smaller rank chooses first", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    Obstacles obstacles;
    const LabelLayout layout =
        place_labels({request_at(100, 60, "hole b", 7), request_at(100, 60, "hole a", 1)}, obstacles, page, measure);
    REQUIRE(layout.placed.size() == 2);
    CHECK(layout.placed[0].request == 1);
    const auto off = [](const PageRect& b) {
        return std::hypot((b.left + b.right) / 2 - 100, (b.top + b.bottom) / 2 - 60);
    };
    CHECK(layout.placed[0].cost <= layout.placed[1].cost);
    CHECK(off(layout.placed[0].box) <= off(layout.placed[1].box));
}

TEST_CASE("dimensions: lines run parallel to what they measure and keep its length", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    for (DimensionDirection direction :
         {DimensionDirection::aligned, DimensionDirection::horizontal, DimensionDirection::vertical}) {
        Obstacles obstacles;
        const PageDimension d{{60, 80}, {120, 50}, direction, "37 3/8 in", {2.6, false}, 1};
        const DimensionLayout layout = place_dimensions({d}, obstacles, page, measure);
        CHECK(layout.unplaced.empty());
        const double expected = direction == DimensionDirection::aligned      ? std::hypot(60, 30)
                                : direction == DimensionDirection::horizontal ? 60.0
                                                                              : 30.0;
        bool found = false;
        int arrows = 0;
        for (const PageShape& shape : layout.shapes) {
            arrows += shape.role == Role::arrow ? 1 : 0;
            const auto* path = std::get_if<PagePath>(&shape.form);
            if (shape.role != Role::dimension || path == nullptr) continue;
            const PagePoint a = path->points.front(), b = path->points.back();
            found = found || std::fabs(std::hypot(b.x - a.x, b.y - a.y) - expected) < 1e-9;
        }
        CHECK(found);
        CHECK(arrows == 2);
    }
}

TEST_CASE("dimensions: several on one part do not overlap", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    Obstacles obstacles;
    std::vector<PageDimension> dimensions;
    for (int i = 0; i < 4; ++i)
        dimensions.push_back(
            {{60, 60}, {140, 60}, DimensionDirection::aligned, "length " + std::to_string(i), {2.6, false}, i});
    const DimensionLayout layout = place_dimensions(dimensions, obstacles, page, measure);
    std::vector<PageRect> boxes;
    for (const PageShape& shape : layout.shapes) {
        if (const auto* text = std::get_if<PageText>(&shape.form)) boxes.push_back(text_box(*text));
    }
    CHECK(boxes.size() + layout.unplaced.size() == 4);
    CHECK(boxes.size() >= 3);
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        CHECK(rect_inside(boxes[i], page));
        for (std::size_t j = 0; j < i; ++j) CHECK_FALSE(rects_overlap(boxes[i], boxes[j]));
    }
}
