// From an analysis to the scene: the points keep the machine's lengths, and nothing is shown that was not found.
#include "report/side_view_scene.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include "report/outline_sketch.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

double apart(DrawingPoint a, DrawingPoint b) { return std::hypot(a.x - b.x, a.z - b.z); }

SideViewScene scene_of(const Setup& setup, UnitSystem units = UnitSystem::inch) {
    return make_side_view_scene(setup, analyze(setup, sixteenth_inch_mark), {"sentence", {"caution"}}, units);
}

DrawingPoint chosen(const std::vector<PinHole>& pins) {
    return std::find_if(pins.begin(), pins.end(), [](const PinHole& p) { return p.chosen; })->at;
}

std::string words_of(const PagePicture& page) {
    std::string words;
    for (const PageShape& shape : page.shapes) {
        if (const auto* text = std::get_if<PageText>(&shape.form)) words += text->text + " ";
    }
    return words;
}

/// Digits followed by a unit.
int count_lengths_in(const std::string& words, const std::string& unit) {
    int count = 0;
    for (std::size_t at = words.find(unit); at != std::string::npos; at = words.find(unit, at + 1)) {
        count += at > 0 && words[at - 1] >= '0' && words[at - 1] <= '9' ? 1 : 0;
    }
    return count;
}

/// Linkage A with lift arm, points and a wheel: everything the scene can show.
Setup full_setup() {
    Setup s = make_setup_a();
    add_lift_a(s.tractor, -8.0, 60.0);
    s.tractor.tyre.rear_radius = known(0.75);
    s.implement.ground_contacts = {{"wheel", known(1.8), known(-0.15), known(0.15)}};
    s.implement.points = {{"front of the deck", known(0.2), known(-0.05), {}, true},
                          {"rear of the deck", known(1.6), known(-0.05), {}, false}};
    s.driveline.guard_radius = known(0.06);
    return s;
}

}  // namespace

TEST_CASE("scene: links, mast, arm and rod keep their lengths in every position", "[report][residual]") {
    const Setup setup = full_setup();
    const SideViewScene scene = scene_of(setup);
    REQUIRE(scene.tractor);
    REQUIRE(scene.working);
    REQUIRE(scene.lifted);
    for (const PoseView& pose : {*scene.working, *scene.lifted}) {
        CHECK(std::fabs(apart(scene.tractor->lower_link_pivot, pose.lower_hitch_point) - 0.885) < 1e-9);
        CHECK(std::fabs(apart(chosen(scene.tractor->upper_link_pins), pose.upper_hitch_point) - 0.660) < 1e-9);
        CHECK(std::fabs(apart(pose.lower_hitch_point, pose.upper_hitch_point) - 0.610) < 1e-9);
        CHECK(apart(chosen(pose.mast_pins), pose.upper_hitch_point) < 1e-9);
        REQUIRE(pose.lift);
        CHECK(std::fabs(apart(pose.lift->arm_pivot, pose.lift->arm_end) - 0.280) < 1e-9);
        CHECK(std::fabs(apart(pose.lift->arm_end, pose.lift->rod_pin) - 0.600) < 1e-9);
        CHECK(std::fabs(apart(scene.tractor->lower_link_pivot, pose.lift->rod_pin) - 0.430) < 1e-9);
        REQUIRE(pose.implement_joint);
        CHECK(std::fabs(apart(*pose.tractor_joint, *pose.implement_joint) - pose.shaft_length) <
              1e-9);  // no sideways offset here
        CHECK(std::fabs(apart(*pose.implement_joint, *pose.input_shaft_end) - 0.030) < 1e-9);
        REQUIRE(pose.points.size() == 2);
        CHECK(std::fabs(apart(pose.points[0], pose.points[1]) - 1.4) < 1e-9);
    }
    CHECK(std::fabs(scene.working->lower_hitch_point.z - 0.300) < 1e-9);
    CHECK(scene.upper_link_length == 0.660);
}

TEST_CASE("scene: the paths run from the lowest to the highest position", "[report][analytic]") {
    const SideViewScene scene = scene_of(full_setup());
    REQUIRE(scene.ball_travel.size() > 20);
    CHECK(scene.joint_travel.size() == scene.ball_travel.size());
    for (std::size_t i = 0; i + 1 < scene.ball_travel.size(); ++i)
        CHECK(scene.ball_travel[i].z < scene.ball_travel[i + 1].z);
    CHECK(apart(scene.ball_travel.back(), scene.lifted->lower_hitch_point) < 1e-9);
    CHECK(apart(scene.joint_travel.back(), *scene.lifted->implement_joint) < 1e-9);
}

TEST_CASE("scene: a sideways offset is in the length but not in the side view", "[report][analytic]") {
    Setup setup = full_setup();
    setup.implement.pic.y = known(0.3);
    const SideViewScene scene = scene_of(setup);
    REQUIRE(scene.working->implement_joint);
    const double seen = apart(*scene.working->tractor_joint, *scene.working->implement_joint);
    CHECK(std::fabs(std::hypot(seen, 0.3) - scene.working->shaft_length) < 1e-9);
}

TEST_CASE("scene: rows of the shaft carry the analysis' extremes and limits", "[report][analytic]") {
    const Setup setup = full_setup();
    const Analysis analysis = analyze(setup, sixteenth_inch_mark);
    REQUIRE(analysis.shaft);
    const SideViewScene scene = scene_of(setup);
    REQUIRE(scene.shaft);
    REQUIRE(scene.shaft->rows.size() >= 2);
    const ShaftRow& shortest = scene.shaft->rows.front();
    const ShaftRow& longest = scene.shaft->rows.back();
    CHECK(shortest.length == analysis.shaft->travel.shortest.value);
    CHECK(longest.length == analysis.shaft->travel.longest.value);
    CHECK(shortest.gap_needed == 0.0254);
    REQUIRE(longest.overlap_needed);
    CHECK(std::fabs(*longest.overlap_needed - analysis.shaft->plan.uncut.overlap_needed) < 1e-12);
    CHECK_FALSE(scene.shaft->halves_assumed);
}

TEST_CASE("scene: a proposed cut shows saw marks, then the shaft after the cut with the gap kept",
          "[report][analytic]") {
    Setup setup = full_setup();
    const double shortest = analyze(setup, sixteenth_inch_mark).shaft->travel.shortest.value;
    setup.driveline.closed_length = known(shortest + 0.02);  // bottoms out by 20 mm
    setup.driveline.tractor_tube = known(shortest - 0.2);
    setup.driveline.implement_tube = known(shortest - 0.2);
    const SideViewScene scene = scene_of(setup);
    REQUIRE(scene.shaft);
    REQUIRE(scene.shaft->rows.size() == 3);
    const ShaftRow &before = scene.shaft->rows[0], &after = scene.shaft->rows[1], &longest = scene.shaft->rows[2];
    CHECK(find_gap(before.halves, before.length) < 0.0);
    CHECK(before.cut_marks.a > 0.0);
    CHECK(before.cut_marks.b > 0.0);
    CHECK(find_gap(after.halves, after.length) >= 0.0254 - 1e-9);
    CHECK(after.cut_marks == CutPair{});
    CHECK(std::fabs(before.halves.tube_a - after.halves.tube_a - before.cut_marks.a) < 1e-12);
    CHECK(longest.halves == after.halves);
    CHECK(before.halves == *scene.shaft->halves);
}

TEST_CASE("scene: an implement without PTO input has no shaft in any position", "[report][analytic]") {
    Setup setup = full_setup();
    setup.implement.pic = {};
    setup.has_driveline = false;
    const SideViewScene scene = scene_of(setup);
    CHECK_FALSE(scene.shaft);
    CHECK(scene.joint_travel.empty());
    REQUIRE(scene.working);
    CHECK_FALSE(scene.working->tractor_joint);
    CHECK_FALSE(scene.working->input_shaft_end);
    CHECK(scene.subtitle.find("no PTO input") != std::string::npos);
}

TEST_CASE("scene: tubes that are not known are not drawn, the axis is", "[report][analytic]") {
    Setup setup = full_setup();
    setup.driveline.tractor_tube = setup.driveline.implement_tube = setup.driveline.closed_length = Reading{};
    const SideViewScene scene = scene_of(setup);
    const Drawing d = draw_side_view(scene);
    CHECK(std::none_of(d.shapes.begin(), d.shapes.end(),
                       [](const Shape& s) { return s.role == Role::shaft_tractor_half || s.role == Role::overlap; }));
    if (scene.shaft) CHECK(scene.shaft->rows.empty());
}

TEST_CASE("scene: a linkage that cannot be built or closed is said, not drawn", "[report][analytic]") {
    Setup missing = full_setup();
    missing.tractor.lower_link.pivot_z = Reading{};
    Setup open = full_setup();
    open.choices.upper_link_length = known(2.9);
    for (const Setup& setup : {missing, open}) {
        const SideViewScene scene = scene_of(setup);
        CHECK_FALSE(scene.tractor);
        CHECK_FALSE(scene.working);
        const PagePicture page = compose_side_view(scene, letter_landscape, BuiltInTextMeasure{});
        CHECK(words_of(page).find("No picture") != std::string::npos);
        CHECK(words_of(page).find("CAUTION") != std::string::npos);
        CHECK_FALSE(scene.findings.empty());
    }
}

TEST_CASE("scene: without a working height the lowest position is drawn and called so", "[report][analytic]") {
    Setup setup = full_setup();
    setup.implement.work.ball_height = Reading{};
    const SideViewScene scene = scene_of(setup);
    REQUIRE(scene.working);
    CHECK(std::fabs(scene.working->lower_hitch_point.z - scene.ball_travel.front().z) < 1e-9);
    CHECK(words_of(compose_side_view(scene, a4_landscape, BuiltInTextMeasure{}))
              .find("lowest position (no working height given)") != std::string::npos);
}

TEST_CASE("scene: clearance marks are as long as the clearance they name", "[report][residual]") {
    const SideViewScene scene = scene_of(full_setup());
    REQUIRE_FALSE(scene.clearances.empty());
    for (const ClearanceView& c : scene.clearances) {
        CAPTURE(c.what, c.clearance);
        CHECK(std::fabs(apart(c.from, c.to) - std::fabs(c.clearance)) < 1e-6);
    }
}

TEST_CASE("scene: a drawbar that is out of the way is not drawn", "[report][analytic]") {
    Setup setup = full_setup();
    setup.tractor.drawbar.end_x = known(0.6);
    setup.tractor.drawbar.end_z = known(0.35);
    CHECK(scene_of(setup).tractor->drawbar_end);
    setup.tractor.drawbar.out_of_the_way = YesNo::yes;
    CHECK_FALSE(scene_of(setup).tractor->drawbar_end);
}

TEST_CASE("scene: the reader's units change words, never points", "[report][metamorphic]") {
    const SideViewScene inches = scene_of(full_setup(), UnitSystem::inch),
                        metric = scene_of(full_setup(), UnitSystem::millimetre);
    CHECK(draw_side_view(inches).shapes.size() == draw_side_view(metric).shapes.size());
    CHECK(inches.ball_travel == metric.ball_travel);
    CHECK(inches.working->outlines == metric.working->outlines);
    const std::string inch_words = words_of(compose_side_view(inches, a4_landscape, BuiltInTextMeasure{}));
    const std::string metric_words = words_of(compose_side_view(metric, a4_landscape, BuiltInTextMeasure{}));
    CHECK(count_lengths_in(inch_words, " in") > 8);
    CHECK(count_lengths_in(inch_words, " mm") == 0);
    CHECK(count_lengths_in(metric_words, " in") == 0);
    CHECK(count_lengths_in(metric_words, " mm") == count_lengths_in(inch_words, " in"));
}

TEST_CASE("outline: the hull holds all points and turns one way", "[report][analytic]") {
    const std::vector<DrawingPoint> points = {{0, 0}, {2, 0}, {2, 1}, {0, 1}, {1, 0.5}, {1, 0}, {0.3, 0.9}, {2, 1}};
    const std::vector<DrawingPoint> hull = find_convex_hull(points);
    REQUIRE(hull.size() == 4);
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const DrawingPoint a = hull[i], b = hull[(i + 1) % hull.size()];
        for (const DrawingPoint& p : points) CHECK((b.x - a.x) * (p.z - a.z) - (b.z - a.z) * (p.x - a.x) >= -1e-12);
    }
}

TEST_CASE("outline: a flat row of points gets a skirt that stays above the ground", "[report][analytic]") {
    const std::vector<DrawingPoint> deck = sketch_outline({{0.2, -0.05}, {1.6, -0.05}}, -0.30);
    REQUIRE(deck.size() == 4);
    for (const DrawingPoint& p : deck) {
        CHECK(p.z <= -0.05 + 1e-12);
        CHECK(p.z > -0.30);
    }
    const std::vector<DrawingPoint> box = sketch_outline({{0, 0}, {0.3, -0.4}, {0.65, -0.4}, {0.7, -0.05}}, -0.4);
    CHECK(box.size() == 4);  // a body with a shape of its own is left as it is
    CHECK(sketch_outline({}, -0.3).empty());
    CHECK(sketch_outline({{1, 1}}, -0.3).empty());
}
