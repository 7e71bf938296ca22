// The picture of a linkage that cannot close, against the shortfall that the closure names by other formulas.
#include <catch2/catch.hpp>

#include <cmath>

#include "report/cairo_writer.h"
#include "report/open_linkage.h"
#include "report/side_view_scene.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

double between(DrawingPoint a, DrawingPoint b) { return std::hypot(b.x - a.x, b.z - a.z); }

double named_shortfall(const Setup& setup, double height) {
    for (const ModelObstacle& o : make_mounted_model(setup).linkage_obstacles) {
        if (o.height == height) return o.closure.shortfall;
    }
    return -1.0;
}

}  // namespace

TEST_CASE("open linkage: the gap drawn is the shortfall named, the bars have their lengths", "[oracle]") {
    for (const double link : {0.10, 0.20, 1.50, 2.40}) {
        Setup s = make_setup_a();
        s.choices.upper_link_length = known(link);
        const auto open = find_open_linkage(s);
        CAPTURE(link);
        REQUIRE(open);
        CHECK(between(open->link_end, open->mast_end) == Approx(named_shortfall(s, open->height)).margin(1e-9).epsilon(0));
        CHECK(between(open->upper_pin, open->link_end) == Approx(link).margin(1e-12).epsilon(0));
        CHECK(between(open->ball, open->mast_end) == Approx(0.610).margin(1e-12).epsilon(0));
        CHECK(between(open->lower_pivot, open->ball) == Approx(0.885).margin(1e-9).epsilon(0));
        CHECK(open->ball.z == open->height);
    }
}

TEST_CASE("open linkage: what closes, or is not known, is not drawn open", "[practice]") {
    Setup s = make_setup_a();
    CHECK_FALSE(find_open_linkage(s));
    s.tractor.lower_link.length = Reading{};
    CHECK_FALSE(find_open_linkage(s));
    s = make_setup_a();
    s.implement.attachment = Attachment::drawn;
    CHECK_FALSE(find_open_linkage(s));
}

TEST_CASE("open linkage: the moving picture shows it with what is wrong in words", "[practice]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = known(2.0);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE_FALSE(a.linkage);
    const SideViewScene scene = make_pose_scene(s, a, 0.5, UnitSystem::millimetre);
    REQUIRE(scene.open);
    CHECK(scene.open->words.find("too long") != std::string::npos);
    const Drawing drawing = draw_side_view(scene);
    REQUIRE(find_bounding_box(drawing));
    bool clash = false, words = false;
    for (const Shape& shape : drawing.shapes) clash = clash || shape.role == Role::clash;
    for (const Label& label : drawing.labels) words = words || label.text == scene.open->words;
    CHECK(clash);
    CHECK(words);
}

TEST_CASE("pose scene: the solid position stands at the height asked for, the working one is dashed", "[practice]") {
    const Setup s = make_setup_a();
    const Analysis a = analyze(s, millimetre_mark);
    const SideViewScene scene = make_pose_scene(s, a, 0.55, UnitSystem::millimetre);
    REQUIRE(scene.working);
    CHECK(scene.working->lower_hitch_point.z == Approx(0.55).margin(1e-12).epsilon(0));
    CHECK(scene.working->shaft_length ==
          Approx(make_pose_report(s, a.linkage->model, 0.55).shaft_length).margin(1e-12).epsilon(0));
    REQUIRE(scene.lifted);
    CHECK(scene.lifted->lower_hitch_point.z == Approx(0.300).margin(1e-12).epsilon(0));
    CHECK_FALSE(make_pose_scene(s, a, 0.300, UnitSystem::millimetre).lifted);
    // Outside the travel it stands at its end.
    CHECK(make_pose_scene(s, a, 9.0, UnitSystem::millimetre).working->lower_hitch_point.z ==
          Approx(a.linkage->model.travel.high).margin(1e-9).epsilon(0));
}

TEST_CASE("screen picture: points become a PNG, and what is no image is refused", "[practice]") {
    const PixelImage image{2, 1, {255, 0, 0, 0, 0, 255}};
    const RenderResult png = encode_png(image);
    REQUIRE(png.ok());
    CHECK(png.bytes.substr(1, 3) == "PNG");
    for (const PixelImage& wrong : {PixelImage{0, 0, {}}, PixelImage{2, 2, {1, 2, 3}}, PixelImage{-1, 5, {}}}) {
        CHECK_FALSE(encode_png(wrong).ok());
        CHECK(encode_png(wrong).bytes.empty());
    }
}
