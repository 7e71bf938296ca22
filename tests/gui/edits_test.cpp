// Edits, history, triangles and camera: the parts of the viewer that need no window.
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>
#include <random>

#include "gui/edits.h"
#include "gui/history.h"
#include "gui/side_camera.h"
#include "gui/triangles.h"

using namespace hitchwright;

namespace {

double area_of(PagePoint a, PagePoint b, PagePoint c) {
    return 0.5 * std::fabs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
}

double filled_area(const std::vector<PagePoint>& p) {
    double sum = 0.0;
    for (const auto& t : fill_with_triangles(p)) sum += area_of(p[t[0]], p[t[1]], p[t[2]]);
    return sum;
}

}  // namespace

TEST_CASE("edits: a value replaces the one of its key and stands alone", "[gui]") {
    const Edits first{{"a.b=1", "c=2", "a.b = 3"}, ""};
    CHECK(find_value(first, "a.b") == " 3");
    const Edits changed = with_value(first, "a.b", "4 in");
    CHECK(changed.sets == std::vector<std::string>{"a.b=4 in", "c=2"});
    CHECK_FALSE(find_value(changed, "a"));
    CHECK(find_value(with_value(changed, "c", ""), "c") == "");
    CHECK(without_values(changed, "a.").sets == std::vector<std::string>{"c=2"});
}

TEST_CASE("edits: of a value alone and a value with its origin only one is left", "[gui]") {
    using Sets = std::vector<std::string>;
    const Edits bare{{"c=1", "a.b=4 in"}, ""}, said{{"a.b.value=4 in", "c=1", "a.b.origin=manual", "a.b.tolerance=1 mm"}, ""};
    CHECK(with_field(bare, "a.b", "5 in").sets == Sets{"c=1", "a.b=5 in"});
    CHECK(with_field(bare, "a.b", "5 in", "assumed").sets == Sets{"c=1", "a.b.value=5 in", "a.b.origin=assumed"});
    CHECK(with_field(said, "a.b", "5 in").sets == Sets{"a.b.value=5 in", "c=1", "a.b.origin=manual", "a.b.tolerance=1 mm"});
    CHECK(with_field(said, "a.b", "5 in +- 2 mm").sets == Sets{"a.b.value=5 in +- 2 mm", "c=1", "a.b.origin=manual"});
    CHECK(with_field(said, "a.b", "").sets == Sets{"c=1", "a.b="});
    // Typed on a command line: of both forms the later one counted.
    CHECK(with_field({{"a.b.value=1 in", "a.b.origin=manual", "a.b=2 in"}, ""}, "a.b", "3 in").sets == Sets{"a.b=3 in"});
    CHECK(with_field({{"a.b=2 in", "a.b.value=1 in", "a.b.origin=manual"}, ""}, "a.b", "3 in").sets == Sets{"a.b.value=3 in", "a.b.origin=manual"});
    CHECK(without_field(said, "a.b").sets == Sets{"c=1"});
    CHECK(field_of("tractor.note") == "tractor.note");
}

TEST_CASE("edits: options are quoted for a shell", "[gui]") {
    const Edits edits{{"x=24 1/2 in", "y=3'2\"", "z=1in"}, "close"};
    CHECK(list_options(edits) == std::vector<std::string>{"--rules close", "--set 'x=24 1/2 in'",
                                                          "--set 'y=3'\\''2\"'", "--set z=1in"});
}

TEST_CASE("history: a step back and forward gives the same inputs, and a change after undo drops what was undone", "[gui]") {
    History history;
    Snapshot now;
    for (const char* set : {"a=1", "a=2", "a=3"}) {
        history.remember(now);
        now.edits.sets = {set};
    }
    CHECK(history.step_back(now));
    CHECK(now.edits.sets == std::vector<std::string>{"a=2"});
    CHECK(history.step_forward(now));
    CHECK(now.edits.sets == std::vector<std::string>{"a=3"});
    CHECK_FALSE(history.step_forward(now));
    CHECK(history.step_back(now));
    history.remember(now);
    now.edits.sets = {"a=9"};
    CHECK_FALSE(history.step_forward(now));
}

TEST_CASE("triangles: a convex and a hollow polygon are filled to their whole area", "[gui][analytic]") {
    CHECK(filled_area({{0, 0}, {4, 0}, {4, 3}, {0, 3}}) == Approx(12.0).margin(1e-12).epsilon(0));
    // An L: 4 x 4 less 3 x 3.
    CHECK(filled_area({{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 4}, {0, 4}}) == Approx(7.0).margin(1e-12).epsilon(0));
    CHECK(fill_with_triangles({{0, 0}, {1, 1}}).empty());
    // Corners in line, corners that coincide, outlines that cross themselves: some answer, and an end.
    CHECK(fill_with_triangles({{0, 0}, {1, 0}, {2, 0}, {3, 0}}).size() == 2);
    CHECK(fill_with_triangles({{0, 0}, {0, 0}, {0, 0}}).size() == 1);
    CHECK(fill_with_triangles({{0, 0}, {2, 2}, {2, 0}, {0, 2}}).size() == 2);
}

TEST_CASE("triangles: random star-shaped outlines are filled to the area of the shoelace formula", "[gui][random]") {
    constexpr unsigned seed = 7;
    INFO("seed " << seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> reach(0.3, 2.0);
    for (int i = 0; i < 200; ++i) {
        std::vector<PagePoint> p;
        constexpr int corners = 11;
        for (int k = 0; k < corners; ++k) {
            const double a = 2.0 * std::numbers::pi * k / corners, r = reach(random);
            p.push_back({r * std::cos(a), r * std::sin(a)});
        }
        if (i % 2 == 1) std::reverse(p.begin(), p.end());
        double shoelace = 0.0;
        for (int k = 0; k < corners; ++k) {
            const PagePoint a = p[static_cast<std::size_t>(k)], b = p[static_cast<std::size_t>((k + 1) % corners)];
            shoelace += 0.5 * (a.x * b.y - b.x * a.y);
        }
        CAPTURE(i);
        REQUIRE(filled_area(p) == Approx(std::fabs(shoelace)).margin(1e-9).epsilon(0));
    }
}

TEST_CASE("camera: the point under the cursor stays there while zooming, and follows the drag", "[gui][analytic]") {
    const PageRect area{0.0, 0.0, 120.0, 80.0};
    const DrawingBox box{{-0.5, 0.0}, {2.5, 2.0}};
    const Placement fitted = find_placement({}, box, area);
    const PagePoint at{31.0, 57.0};
    const DrawingPoint under = find_drawing_point(fitted, at);
    const PagePoint back = fitted.to_page(under);
    CHECK(back.x == Approx(at.x).margin(1e-9).epsilon(0));
    CHECK(back.y == Approx(at.y).margin(1e-9).epsilon(0));
    const Placement near = find_placement(zoom_about(fitted, area, at, 2.5), box, area);
    CHECK(near.scale_denominator == Approx(fitted.scale_denominator / 2.5).margin(1e-9).epsilon(0));
    CHECK(near.to_page(under).x == Approx(at.x).margin(1e-9).epsilon(0));
    CHECK(near.to_page(under).y == Approx(at.y).margin(1e-9).epsilon(0));
    const Placement moved = find_placement(pan_by(near, area, {5.0, -3.0}), box, area);
    CHECK(moved.to_page(under).x == Approx(at.x + 5.0).margin(1e-9).epsilon(0));
    CHECK(moved.to_page(under).y == Approx(at.y - 3.0).margin(1e-9).epsilon(0));
}

TEST_CASE("camera: zoom ends at its limits, the fitted box lies inside the panel", "[gui]") {
    const PageRect area{0.0, 0.0, 120.0, 80.0};
    const DrawingBox box{{-0.5, 0.0}, {2.5, 2.0}};
    Placement p = find_placement({}, box, area);
    for (const DrawingPoint corner : {box.least, box.most}) {
        const PagePoint at = p.to_page(corner);
        CHECK((at.x > area.left && at.x < area.right && at.y > area.top && at.y < area.bottom));
    }
    for (int i = 0; i < 200; ++i) p = find_placement(zoom_about(p, area, {60.0, 40.0}, 1.5), box, area);
    CHECK(p.scale_denominator == least_scale);
    for (int i = 0; i < 400; ++i) p = find_placement(zoom_about(p, area, {60.0, 40.0}, 0.5), box, area);
    CHECK(p.scale_denominator == most_scale);
}
