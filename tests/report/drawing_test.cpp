// Drawing data, placing on the page, hatching.
#include "report/drawing.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <set>
#include <string>

#include "report/page.h"

using namespace hitchwright;

namespace {

Drawing drawing_of(Shape shape) {
    Drawing drawing;
    drawing.shapes.push_back(std::move(shape));
    return drawing;
}

}  // namespace

TEST_CASE("drawing box: holds lines, areas, circles, arcs, labels and dimensions", "[report][analytic]") {
    Drawing d;
    d.shapes.push_back({Role::ground, Polyline{{{-1, 0}, {2, 0}}}, {}});
    d.shapes.push_back({Role::tyre, Circle{{0, 1}, 1.5}, {}});
    auto box = find_bounding_box(d);
    REQUIRE(box);
    CHECK(*box == DrawingBox{{-1.5, -0.5}, {2, 2.5}});
    d.labels.push_back({{3, 0}, "far", 5, false});
    d.dimensions.push_back({{0, -2}, {0, 0}, DimensionDirection::vertical, "deep", 5});
    box = find_bounding_box(d);
    REQUIRE(box);
    CHECK(*box == DrawingBox{{-1.5, -2}, {3, 2.5}});
}

TEST_CASE("drawing box: an arc counts where it runs, not its whole circle", "[report][analytic]") {
    const auto box = find_bounding_box(drawing_of({Role::travel_arc, Arc{{0, 0}, 1.0, 0.0, std::numbers::pi / 2}, {}}));
    REQUIRE(box);
    CHECK(std::fabs(box->least.x) < 1e-9);
    CHECK(std::fabs(box->least.z) < 1e-9);
    CHECK(std::fabs(box->most.x - 1.0) < 1e-9);
    CHECK(std::fabs(box->most.z - 1.0) < 1e-9);
}

TEST_CASE("drawing box: empty, endless and absurd drawings have none", "[report][analytic]") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(find_bounding_box(Drawing{}));
    CHECK_FALSE(find_bounding_box(drawing_of({Role::pin, Circle{{0, 0}, none}, {}})));
    CHECK_FALSE(find_bounding_box(drawing_of({Role::pin, Circle{{0, 0}, -1.0}, {}})));
    CHECK_FALSE(find_bounding_box(drawing_of({Role::mast, Polyline{{{0, 0}, {none, 1}}}, {}})));
    CHECK_FALSE(find_bounding_box(drawing_of({Role::mast, Polyline{{{0, 0}, {1, none}}}, {}})));
    CHECK_FALSE(find_bounding_box(drawing_of({Role::mast, Polyline{{{0, 0}, {1e9, 1}}}, {}})));
    CHECK_FALSE(find_bounding_box(drawing_of({Role::travel_arc, Arc{{0, 0}, 1.0, 0.0, none}, {}})));
    CHECK(find_bounding_box(drawing_of({Role::mast, Polyline{{{0, 0}, {farthest_drawn, 1}}}, {}})));
}

TEST_CASE("arc: chords stay within the tolerance of the circle", "[report][residual]") {
    for (double tolerance : {1e-2, 1e-3, 1e-4}) {
        CAPTURE(tolerance);
        const Arc arc{{1, 2}, 0.7, -1.0, 4.0};
        const auto points = flatten_arc(arc, tolerance);
        REQUIRE(points.size() > 3);
        for (std::size_t i = 0; i + 1 < points.size(); ++i) {
            const double mx = (points[i].x + points[i + 1].x) / 2 - 1, mz = (points[i].z + points[i + 1].z) / 2 - 2;
            CHECK(arc.radius - std::hypot(mx, mz) <= tolerance * 1.0001);
            CHECK(std::fabs(std::hypot(points[i].x - 1, points[i].z - 2) - 0.7) < 1e-12);
        }
    }
}

TEST_CASE("bar: its box is the line's, half a width wider", "[report][analytic]") {
    const auto box = find_bounding_box(drawing_of({Role::lower_link, make_bar({0, 0}, {2, 0}, 0.2), {}}));
    REQUIRE(box);
    CHECK(std::fabs(box->least.x + 0.1) < 1e-12);
    CHECK(std::fabs(box->most.x - 2.1) < 1e-12);
    CHECK(std::fabs(box->least.z + 0.1) < 1e-12);
    CHECK(std::fabs(box->most.z - 0.1) < 1e-12);
    const auto dot = find_bounding_box(drawing_of({Role::lower_link, make_bar({1, 1}, {1, 1}, 0.2), {}}));
    REQUIRE(dot);
    CHECK(std::fabs(dot->width() - 0.2) < 1e-12);
}

TEST_CASE("placement: fits the box, keeps proportions, turns z up into y up", "[report][analytic]") {
    const PageRect area{10, 20, 210, 120};
    const DrawingBox box{{-0.5, 0}, {3.0, 1.5}};
    const Placement placement = fit_to_page(box, area);
    CHECK(placement.scale_denominator == 18.0);  // 3.5 m over 200 mm is 17.5, the next scale is 18
    const PagePoint low = placement.to_page(box.least), high = placement.to_page(box.most);
    CHECK(low.y > high.y);
    CHECK(std::fabs((high.x - low.x) - 3500.0 / 18.0) < 1e-9);
    CHECK(std::fabs((low.y - high.y) - 1500.0 / 18.0) < 1e-9);
    CHECK(rect_inside({low.x, high.y, high.x, low.y}, area));
    CHECK(format_scale(placement.scale_denominator) == "1 : 18");
}

TEST_CASE("scale: never larger than what fits, and an exact fit keeps its scale", "[report][analytic]") {
    double last = 0.0;
    for (double denominator = 0.3; denominator < 400.0; denominator *= 1.07) {
        const double nice = nice_scale_at_least(denominator);
        CHECK(nice >= denominator * (1 - 2e-9));
        CHECK(nice >= last);
        last = nice;
    }
    CHECK(nice_scale_at_least(12.0) == 12.0);
    CHECK(nice_scale_at_least(12.0 + 1e-10) == 12.0);
    CHECK(nice_scale_at_least(12.1) == 13.0);
    CHECK(nice_scale_at_least(51.0) == 75.0);
}

TEST_CASE("layers: shapes are drawn by layer, within a layer as they came", "[report][analytic]") {
    Drawing d;
    d.shapes.push_back({Role::pin, Polyline{{{0, 0}, {1, 0}}}, {}});
    d.shapes.push_back({Role::shaft_implement_half, Polyline{{{0, 0}, {1, 0}}}, {}});
    d.shapes.push_back({Role::shaft_tractor_half, Polyline{{{0, 0}, {1, 0}}}, {}});
    d.shapes.push_back({Role::ground, Polyline{{{0, 0}, {1, 0}}}, {}});
    const auto placed = place_shapes(d, {});
    REQUIRE(placed.size() == 4);
    CHECK(placed[0].role == Role::ground);
    CHECK(placed[1].role == Role::shaft_implement_half);
    CHECK(placed[2].role == Role::shaft_tractor_half);
    CHECK(placed[3].role == Role::pin);
}

TEST_CASE("hatch: lines lie in the area and cover it by their spacing", "[report][analytic]") {
    const std::vector<PagePoint> square = {{10, 10}, {30, 10}, {30, 30}, {10, 30}};
    for (Hatch hatch : {Hatch::diagonal, Hatch::back_diagonal}) {
        const auto lines = make_hatch(square, hatch, 1.0);
        double length = 0.0;
        for (const PagePath& line : lines) {
            REQUIRE(line.points.size() == 2);
            for (const PagePoint& p : line.points)
                CHECK(rect_inside({p.x, p.y, p.x, p.y}, {10 - 1e-9, 10 - 1e-9, 30 + 1e-9, 30 + 1e-9}));
            const double dx = line.points[1].x - line.points[0].x, dy = line.points[1].y - line.points[0].y;
            length += std::hypot(dx, dy);
            // Diagonal rises to the right as seen; y of the page runs down.
            CHECK((dx * dy <= 1e-12) == (hatch == Hatch::diagonal));
        }
        CHECK(std::fabs(length - 400.0) < 15.0);  // area over spacing; the ends of the sampling are what is left
    }
    CHECK(make_hatch(square, Hatch::cross, 1.0).size() ==
          make_hatch(square, Hatch::diagonal, 1.0).size() + make_hatch(square, Hatch::back_diagonal, 1.0).size());
    CHECK(make_hatch(square, Hatch::none, 1.0).empty());
    CHECK(make_hatch(square, Hatch::cross, 0.0).empty());
    CHECK(make_hatch({{0, 0}, {1, 1}}, Hatch::cross, 1.0).empty());
}

TEST_CASE("styles: every role has its own name, and the shaft's states differ by form, not by colour alone",
          "[report][analytic]") {
    std::set<std::string> names;
    for (std::size_t i = 0; i < role_count; ++i) names.insert(style_of(static_cast<Role>(i)).name);
    CHECK(names.size() == role_count);
    CHECK(std::string(style_of(Role::lower_link).name) == "lower_link");
    CHECK(std::string(style_of(Role::frame).name) == "frame");
    const auto form = [](Role role) {
        const RoleStyle& s = style_of(role);
        std::string text = std::to_string(static_cast<int>(s.hatch)) + "/" + std::to_string(s.line_mm);
        for (double d : s.dash_mm) text.append("/").append(std::to_string(d));
        return text;
    };
    const std::set<std::string> forms = {form(Role::overlap), form(Role::gap), form(Role::clash),
                                         form(Role::separation), form(Role::cut)};
    CHECK(forms.size() == 5);
}
