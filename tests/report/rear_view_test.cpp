// The picture from behind, and sway in the one from above: every number is the analysis', a mirrored machine gives a mirrored
// picture, what is not known is said.
#include "report/rear_view.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include "report/mounted_pages.h"
#include "report/mounted_plan_view.h"
#include "report/rear_parts.h"
#include "tests/geometry/space_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double tight = 1e-9;

/// Unlike rods, sway, tyres and links measured.
Setup make_tilted_setup() {
    Setup s = make_rod_setup();
    set_rods(s, 0.0, 0.018);
    s.tractor.sway.total_at_ball = known(0.05);
    s.tractor.tyre.rear_radius = known(0.70);
    s.tractor.tyre.rear_width = known(0.35);
    s.tractor.tyre.rear_track = known(1.45);
    s.tractor.lower_link.outer_half_width = known(0.03);
    return s;
}

bool says(const Drawing& d, const std::string& text) {
    const auto has = [&](const auto& all) { return std::any_of(all.begin(), all.end(), [&](const auto& l) { return l.text.find(text) != std::string::npos; }); };
    return has(d.labels) || has(d.dimensions);
}

const Shape* find_shape(const Drawing& d, const std::string& name) {
    const auto found = std::find_if(d.shapes.begin(), d.shapes.end(), [&](const Shape& s) { return s.name == name; });
    return found == d.shapes.end() ? nullptr : &*found;
}

std::map<std::string, DrawingPoint> list_places(const Setup& s, const Analysis& a, const HitchView& at) {
    std::map<std::string, DrawingPoint> places;
    for (const PicturePoint& p : list_rear_points(s, a, at)) places[p.name] = p.at;
    return places;
}

std::string swap_sides(std::string name) {
    for (const auto& [from, to] : {std::pair<std::string, std::string>{"right", "left"}, {"left", "right"}}) {
        const std::size_t at = name.rfind(from);
        if (at != std::string::npos) return name.replace(at, from.size(), to);
    }
    return name;
}

}  // namespace

TEST_CASE("rear view: roll, edges, balls and rods are those of the levelling study", "[metamorphic]") {
    const Setup s = make_tilted_setup();
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE((a.space && a.space->levelling && a.space->levelling->working.closes));
    const LevelPose& p = a.space->levelling->working;
    const Drawing d = draw_rear_view(s, a, {p.ball_height, 0.0}, UnitSystem::millimetre).drawing;
    const auto mm = [](double v) { return format_length(v, UnitSystem::millimetre); };
    CHECK(std::fabs(p.attitude.roll) > 0.005);
    CHECK(says(d, say_roll(p.attitude.roll)));
    CHECK(p.attitude.roll < 0.0);  // the longer rod lowers its side
    CHECK(says(d, "left side up"));
    CHECK(says(d, "left ball " + mm(p.left_ball)));
    CHECK(says(d, "right ball " + mm(p.right_ball)));
    CHECK(says(d, "left lift rod " + mm(a.linkage->model.space.rods.left_length)));
    CHECK(says(d, "right lift rod " + mm(a.linkage->model.space.rods.right_length)));
    REQUIRE(p.edges.size() == 2);
    for (const EdgeHeights& e : p.edges) {
        CHECK(says(d, e.name + ", left end " + mm(e.left)));
        CHECK(says(d, e.name + ", right end " + mm(e.right)));
        const Shape* bar = find_shape(d, e.name);
        REQUIRE(bar);
        const std::vector<DrawingPoint>& ends = std::get<Polyline>(bar->form).points;
        CHECK(ends[0].z == Approx(e.left).margin(tight).epsilon(0));
        CHECK(ends[1].z == Approx(e.right).margin(tight).epsilon(0));
        CHECK(std::hypot(ends[1].x - ends[0].x, ends[1].z - ends[0].z) <= 2.0 * e.half_width + tight);
    }
    CHECK(says(d, "from behind, looking forward"));
    CHECK(says(d, "room to the tyre"));
}

TEST_CASE("rear view: the least room to the tyre is drawn where the study has it", "[metamorphic]") {
    Setup s = make_tilted_setup();
    s.tractor.tyre.rear_radius = known(0.95);  // the balls stay between the tyres, so that the room is the way to the face
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE((a.space && a.space->tyre));
    const TyreRoom& least = *a.space->tyre;
    const TyreRoomLine line = find_tyre_room_line(a.linkage->model.space, a.space->tyre_parts, least);
    REQUIRE(line.beside);
    CHECK(std::fabs(line.tyre.x - line.link.x) == Approx(least.room).margin(1e-6).epsilon(0));
    const Drawing d = draw_rear_view(s, a, {a.linkage->model.working_height, 0.0}, UnitSystem::millimetre).drawing;
    CHECK(says(d, "least room " + format_length(least.room, UnitSystem::millimetre, Rounding::down)));
}

TEST_CASE("rear view: a machine seen in a mirror gives the mirrored picture", "[metamorphic]") {
    const Setup s = make_tilted_setup();
    Setup m = s;
    mirror(m);
    const Analysis a = analyze(s, millimetre_mark), b = analyze(m, millimetre_mark);
    const double height = a.linkage->model.working_height;
    for (const double sway : {0.0, 0.02, -0.01}) {
        const auto here = list_places(s, a, {height, sway}), there = list_places(m, b, {height, -sway});
        REQUIRE(here.size() == there.size());
        REQUIRE(here.size() > 12);
        for (const auto& [name, place] : here) {
            INFO(name);
            const auto other = there.find(swap_sides(name));
            REQUIRE(other != there.end());
            CHECK(other->second.x == Approx(-place.x).margin(1e-7).epsilon(0));
            CHECK(other->second.z == Approx(place.z).margin(1e-7).epsilon(0));
        }
    }
}

TEST_CASE("rear view: without arm and rods the hitch is drawn level, and what is missing is said", "[analytic]") {
    const Setup s = make_setup_a();
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.linkage);
    const RearView v = draw_rear_view(s, a, {a.linkage->model.working_height, 0.0}, UnitSystem::millimetre);
    CHECK(says(v.drawing, "drawn level"));
    CHECK_FALSE(says(v.drawing, "lift rod"));
    const auto has = [&](const char* words) { return std::any_of(v.not_known.begin(), v.not_known.end(), [&](const std::string& n) { return n.find(words) != std::string::npos; }); };
    CHECK(has("the hitch is drawn level"));
    CHECK(has("The rear tyres"));
    CHECK(has("no point has a half-width"));
    const auto places = list_places(s, a, {a.linkage->model.working_height, 0.0});
    CHECK(places.at("ball end of the lower link, right").z == Approx(places.at("ball end of the lower link, left").z).margin(tight).epsilon(0));
}

TEST_CASE("rear view: a place outside travel and sway is brought inside", "[analytic]") {
    const Setup s = make_tilted_setup();
    const Analysis a = analyze(s, millimetre_mark);
    const MountedModel& m = a.linkage->model;
    CHECK(bring_inside(m, {9.0, 9.0}) == HitchView{m.travel.high, 0.025});
    CHECK(bring_inside(m, {-9.0, -9.0}) == HitchView{m.travel.low, -0.025});
    Setup still = s;
    still.tractor.sway.total_at_ball = {};
    CHECK(bring_inside(analyze(still, millimetre_mark).linkage->model, {m.travel.low, 0.01}).sway == 0.0);
    const Drawing d = draw_rear_view(s, a, {m.working_height, 9.0}, UnitSystem::millimetre).drawing;
    CHECK(says(d, "balls 25 mm to the right"));
}

TEST_CASE("rear view: a rod found for a ball puts it there, with the arms where they were", "[residual]") {
    const Setup s = make_tilted_setup();
    const Analysis a = analyze(s, millimetre_mark);
    const MountedModel& m = a.linkage->model;
    const SpacePose p = find_space_pose(m, {m.working_height, 0.0});
    REQUIRE(p.closes);
    for (const TractorSide side : {TractorSide::left, TractorSide::right}) {
        const double wanted = (side == TractorSide::right ? p.hitch.right_ball : p.hitch.left_ball).z + 0.03;
        const std::optional<double> length = find_rod_for_ball(m, p, side, wanted);
        REQUIRE(length);
        LiftRods rods = m.space.rods;
        CHECK(*length < (side == TractorSide::right ? rods.right_length : rods.left_length));  // a shorter rod raises its ball
        (side == TractorSide::right ? rods.right_length : rods.left_length) = *length;
        const RodPose there = solve_at_arm(m.space.linkage, rods, p.rods.arm_angle, 0.0, m.working_height);
        REQUIRE(there.closes);
        CHECK((side == TractorSide::right ? there.hitch.right_ball : there.hitch.left_ball).z == Approx(wanted).margin(1e-6).epsilon(0));
        CHECK_FALSE(find_rod_for_ball(m, p, side, wanted + 5.0));
    }
}

TEST_CASE("rear view: another machine is dashed with its own numbers", "[metamorphic]") {
    const Setup s = make_tilted_setup();
    Setup other = s;
    set_rods(other, 0.0, -0.02);
    const Analysis a = analyze(s, millimetre_mark), b = analyze(other, millimetre_mark);
    const RearGhost ghost{other, b, "A: shorter"};
    const HitchView at{a.linkage->model.working_height, 0.0};
    const Drawing d = draw_rear_view(s, a, at, UnitSystem::millimetre, &ghost).drawing;
    const SpacePose p = find_space_pose(b.linkage->model, at);
    CHECK(says(d, "A: shorter, dashed: " + say_roll(p.hitch.attitude.roll)));
    CHECK(find_shape(d, "implement, compared"));
    CHECK_FALSE(find_shape(draw_rear_view(s, a, at, UnitSystem::millimetre).drawing, "implement, compared"));
}

TEST_CASE("plan view: sway and tail swing are those of the study, and without sway nothing is added", "[metamorphic]") {
    const Setup s = make_tilted_setup();
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE((a.space && a.space->sway && a.space->sway->tail));
    const TailSwing& tail = *a.space->sway->tail;
    const double height = a.linkage->model.working_height;
    const Drawing d = draw_mounted_plan(s, a, height, UnitSystem::millimetre).drawing;
    CHECK(says(d, "tail swing " + format_length(tail.tail, UnitSystem::millimetre, Rounding::up)));
    CHECK(says(d, "sway " + format_length(tail.balls, UnitSystem::millimetre, Rounding::up)));
    CHECK(says(d, "room to the tyre"));
    const Shape* way = find_shape(d, "tail swing");
    REQUIRE(way);
    CHECK(std::get<Polyline>(way->form).points.front().z == Approx(tail.left).margin(tight).epsilon(0));
    CHECK(std::get<Polyline>(way->form).points.back().z == Approx(tail.right).margin(tight).epsilon(0));
    Setup still = s;
    still.tractor.sway.total_at_ball = {};
    const Drawing plain = draw_mounted_plan(still, analyze(still, millimetre_mark), height, UnitSystem::millimetre).drawing;
    for (const Shape& shape : plain.shapes) CHECK(shape.role != Role::ghost);
    CHECK_FALSE(says(plain, "tyre"));
}

TEST_CASE("plan view: check chains end the sway where they are taut", "[residual]") {
    Setup s = make_tilted_setup();
    s.tractor.check_chain.anchor_x = known(0.05);
    s.tractor.check_chain.anchor_half_spread = known(0.10);
    s.tractor.check_chain.anchor_z = known(0.45);
    s.tractor.check_chain.pin_along_link = known(0.60);
    const Analysis loose = analyze(s, millimetre_mark);
    REQUIRE(loose.linkage);
    const double height = loose.linkage->model.working_height;
    // As long as the way is with the hitch centred, and 4 mm more.
    const SpacePose centred = find_space_pose(loose.linkage->model, {height, 0.0});
    MountedSpace space = loose.linkage->model.space;
    space.chains = {0.05, 0.10, 0.45, 0.60, 1.0, 1.0};
    const ChainLine way = find_chain_line(space, centred, TractorSide::right);
    const Vec3<double> d = way.pin - way.anchor;
    s.tractor.check_chain.length = known(std::sqrt(dot(d, d)) + 0.004);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.linkage->model.space.sway_source == SwaySource::chains);
    const SwayLimits ends = find_sway_ends(a.linkage->model.space, height);
    REQUIRE((ends.left && ends.right));
    const SpacePose at_end = find_space_pose(a.linkage->model, {height, *ends.right + 1.0});
    const bool one_taut = find_chain_line(a.linkage->model.space, at_end, TractorSide::right).taut || find_chain_line(a.linkage->model.space, at_end, TractorSide::left).taut;
    CHECK(at_end.hitch.at.sway == *ends.right);
    // Swayed, rods alike or not, the hitch tilts a little; the chains' ends are those of the level hitch.
    const SpatialSolution level = solve_spatial_pose(a.linkage->model.space.linkage, {height, *ends.right, 0.0});
    SpacePose p = at_end;
    p.hitch = level;
    CHECK((one_taut || find_chain_line(a.linkage->model.space, p, TractorSide::right).taut || find_chain_line(a.linkage->model.space, p, TractorSide::left).taut));
    CHECK(find_shape(draw_mounted_plan(s, a, height, UnitSystem::millimetre).drawing, "check chain, right"));
    CHECK(find_shape(draw_rear_view(s, a, {height, 0.0}, UnitSystem::millimetre).drawing, "check chain, left"));
}
