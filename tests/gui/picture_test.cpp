// What a person does in the picture: pulling, asking, measuring, and the way through the ditch.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/pose_report.h"
#include "gui/changes.h"
#include "gui/ditch_march.h"
#include "gui/ditch_place.h"
#include "gui/frame_work.h"
#include "gui/field_edits.h"
#include "gui/picture_canvas.h"
#include "gui/picture_drag.h"
#include "report/side_view_scene.h"
#include "report/swept_region.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using hitchwright::test::Headless;

namespace {

constexpr double inch = 0.0254;

const PicturePoint& pick(const std::vector<PicturePoint>& points, const std::string& name) {
    const auto found = std::find_if(points.begin(), points.end(), [&](const PicturePoint& p) { return p.name == name; });
    INFO("point " << name);
    REQUIRE(found != points.end());
    return *found;
}

void pull(Headless& window, ImVec2 from, ImVec2 to) {
    window.press_at(from);
    window.move_to({0.5F * (from.x + to.x), 0.5F * (from.y + to.y)});
    window.move_to(to);
}

}  // namespace

TEST_CASE("picture: the lift follows a pull at the ball end along its path and stays inside the travel", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    const HeightRange travel = app.results.bands->travel;
    const MountedModel& m = app.results.analysis.linkage->model;
    const PicturePoint ball = pick(app.view.picture.points, "lower hitch point, ball end of the lower link");
    // A place of the path, by the pose there.
    const double wanted = travel.low + 0.7 * (travel.high - travel.low);
    const PlanarPose pose = make_pose_report(app.now.setup, m, wanted).pose;
    pull(window, window.on_screen(ball.at), window.on_screen({pose.ball.x(), pose.ball.y()}));
    CHECK(shown_ball_height(app) == Approx(wanted).margin(0.2 * inch).epsilon(0));
    CHECK(app.view.picture.ball_height == shown_ball_height(app));
    window.move_to({3000.0F, -5000.0F});
    CHECK(shown_ball_height(app) == travel.high);
    window.move_to({300.0F, 9000.0F});
    window.release();
    CHECK(shown_ball_height(app) == travel.low);
    CHECK_FALSE(can_undo(app));
    CHECK(app.view.camera.fitted);  // the picture did not pan
}

TEST_CASE("picture: any point of the implement carries the lift, and the height is the nearest of the path", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const MountedModel& m = app.results.analysis.linkage->model;
    const double before = shown_ball_height(app);
    const CarriedPoint held = hold_point(app.now.setup, m, before, Point(2.6, 0.25), Carrier::implement);
    const Point target(2.4, 0.9);
    const double found = find_nearest_height(app.now.setup, m, held, target);
    // Second route: every millimetre of the travel.
    double best = m.travel.low, least = 1e9;
    for (double h = m.travel.low; h <= m.travel.high; h += 1e-3) {
        const PlanarPose pose = make_pose_report(app.now.setup, m, h).pose;
        const double off = (pose.ball + rotate(held.own, pose.pitch) - target).norm();
        if (off < least) least = off, best = h;
    }
    CHECK(found == Approx(best).margin(1.5e-3).epsilon(0));
    CHECK(place_carried(app.now.setup, m, held, before).x() == Approx(2.6).margin(1e-12).epsilon(0));
    // And with the mouse, at the deck.
    const Shape* deck = nullptr;
    for (const Shape& s : app.view.picture.drawing.shapes) deck = s.name == "implement" ? &s : deck;
    REQUIRE(deck);
    const std::vector<DrawingPoint>& corners = std::get<Polygon>(deck->form).points;
    DrawingPoint middle;
    for (const DrawingPoint& p : corners) middle = {middle.x + p.x / static_cast<double>(corners.size()), middle.z + p.z / static_cast<double>(corners.size())};
    const ImVec2 at = window.on_screen(middle);
    pull(window, at, {at.x, at.y - 40.0F});
    window.release();
    CHECK(shown_ball_height(app) > before + inch);
    CHECK(app.view.camera.fitted);
}

TEST_CASE("picture: Escape while the lift is pulled puts it back", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    const double before = shown_ball_height(app);
    const ImVec2 at = window.on_screen(pick(app.view.picture.points, "lower hitch point, ball end of the lower link").at);
    pull(window, at, {at.x, at.y - 50.0F});
    REQUIRE(shown_ball_height(app) > before);
    window.tap(ImGuiKey_Escape);
    CHECK(shown_ball_height(app) == before);
    window.move_to({at.x, at.y - 90.0F});
    window.release();
    CHECK(shown_ball_height(app) == before);
    CHECK(app.view.camera.fitted);
}

TEST_CASE("picture: the upper link is pulled to another hole in one step of undo, and Escape takes none", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Setup before = app.now.setup;
    const PicturePoint from = pick(app.view.picture.points, "upper-link hole 4 of the tractor"), to = pick(app.view.picture.points, "upper-link hole 2 of the tractor");
    REQUIRE(from.drag == PointDrag::tractor_hole);
    pull(window, window.on_screen(from.at), window.on_screen(to.at));
    CHECK(app.view.act.said == "upper-link hole 2 of the tractor: let go to take it");
    CHECK(hitchwright::test::screen_says("upper-link hole 2 of the tractor: let go to take it"));
    CHECK(app.now.setup == before);
    window.tap(ImGuiKey_Escape);
    window.release();
    CHECK(app.now.setup == before);
    CHECK_FALSE(can_undo(app));
    window.settle(40);  // so that the next press is no double click
    pull(window, window.on_screen(from.at), window.on_screen(to.at));
    window.release();
    CHECK(app.now.setup.choices.upper_link_pin == "2");
    CHECK(app.now.setup.choices.mast_pin == before.choices.mast_pin);
    CHECK(app.history.past.size() == 1);
    window.click("Undo");
    CHECK(app.now.setup == before);
}

TEST_CASE("picture: a point of its own is pulled to new readings, once at the release", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const PtoReadings before = app.now.setup.tractor.pto;
    const PicturePoint stub = pick(app.view.picture.points, "end of the PTO stub");
    REQUIRE(stub.drag == PointDrag::readings);
    const ImVec2 from = window.on_screen(stub.at);
    const ImVec2 to = window.on_screen({stub.at.x + 3.0 * inch, stub.at.z});
    pull(window, from, {to.x, from.y});
    CHECK(app.now.setup.tractor.pto == before);
    CHECK(app.view.act.said.rfind("end of the PTO stub: stub_x ", 0) == 0);
    window.release();
    CHECK(app.now.setup.tractor.pto.stub_x.value == Approx(before.stub_x.value + 3.0 * inch).margin(0.5 * inch).epsilon(0));
    CHECK(app.now.setup.tractor.pto.stub_z == before.stub_z);  // not moved up or down: left as it was read
    CHECK(app.history.past.size() == 1);
    // Nobody measured where the mouse was.
    CHECK(app.now.setup.tractor.pto.stub_x.origin == Origin::assumed);
    REQUIRE(app.now.edits.sets.size() == 2);
    CHECK(app.now.edits.sets[0].rfind("tractor.pto.stub_x.value=", 0) == 0);
    CHECK(app.now.edits.sets[1] == "tractor.pto.stub_x.origin=assumed");
}

TEST_CASE("picture: origin said, pulled, typed: the last of them counts, and the row of changes is one", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const auto stub = [&] { return app.now.setup.tractor.pto.stub_x; };
    const auto field = [&] { return *find_entry(app, "tractor.pto.stub_x"); };
    const auto pull_stub = [&](double by) {
        const PicturePoint p = pick(app.view.picture.points, "end of the PTO stub");
        REQUIRE(change_readings(app, p, {p.at.x + by, p.at.z}));
        window.settle();
    };
    REQUIRE(change_origin(app, field(), "manual").empty());
    const double first = stub().value;
    pull_stub(2.0 * inch);
    CHECK(stub().value == Approx(first + 2.0 * inch).margin(0.05 * inch).epsilon(0));
    CHECK(stub().origin == Origin::assumed);
    REQUIRE(enter_entry(app, field(), "13 in").empty());
    CHECK(stub().value == Approx(13.0 * inch).epsilon(1e-12));
    REQUIRE(change_value(app, "tractor.pto.stub_x", "14 in").empty());
    CHECK(stub().value == Approx(14.0 * inch).epsilon(1e-12));
    REQUIRE(change_origin(app, field(), "measured").empty());
    CHECK(stub().origin == Origin::measured);
    CHECK(stub().value == Approx(14.0 * inch).epsilon(1e-12));
    window.settle();
    pull_stub(-1.0 * inch);
    CHECK(stub().value == Approx(13.0 * inch).margin(0.05 * inch).epsilon(0));
    CHECK(stub().origin == Origin::assumed);
    const ChangeList changes = list_changes(app);
    REQUIRE(changes.values.size() == 1);
    CHECK(changes.values[0].key == "tractor.pto.stub_x");
    REQUIRE(take_back(app, "tractor.pto.stub_x").empty());
    CHECK(app.now.edits == Edits{});
}

TEST_CASE("picture: a place on the implement and its readings lead back and forth at any pitch", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    for (const double share : {0.0, 0.4, 1.0}) {
        const HeightRange travel = app.results.bands->travel;
        const std::vector<PicturePoint> points = list_side_points(app.now.setup, app.results.analysis, travel.low + share * (travel.high - travel.low));
        const PicturePoint& end = pick(points, "end of the input shaft");
        const DrawingPoint readings = find_readings_at(end, end.at);
        CHECK(readings.x == Approx(app.now.setup.implement.pic.x.value).margin(1e-9).epsilon(0));
        CHECK(readings.z == Approx(app.now.setup.implement.pic.z.value).margin(1e-9).epsilon(0));
    }
}

TEST_CASE("picture: a double click on a pin opens its field, and what is typed counts to the letter", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const PicturePoint hole = pick(app.view.picture.points, "upper-link hole 4 of the tractor");
    const ImVec2 at = window.on_screen(hole.at);
    for (int i = 0; i < 2; ++i) {
        window.press_at(at);
        window.release();
    }
    REQUIRE(app.view.act.typed.has_value());
    REQUIRE(window.is_shown("tractor.upper_link_pin[4].x"));
    window.type_into("tractor.upper_link_pin[4].x", "9 7/32 in");
    CHECK(app.now.setup.tractor.upper_link_pins[3].x.value == Approx(9.21875 * inch).margin(1e-12).epsilon(0));
    CHECK(app.history.past.size() == 1);
    window.click("Done");
    CHECK_FALSE(app.view.act.typed.has_value());
}

TEST_CASE("picture: a hole is taken by the keys alone", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    window.move_to(window.point_of("side view", 0.97F, 0.97F));
    const std::vector<PicturePoint>& points = app.view.picture.points;
    const auto wanted = std::find_if(points.begin(), points.end(), [](const PicturePoint& p) { return p.name == "upper-link hole 3 of the tractor"; });
    REQUIRE(wanted != points.end());
    for (auto i = points.begin(); i <= wanted; ++i) window.type("n");
    CHECK(app.view.act.words.title == "upper-link hole 3 of the tractor");
    window.tap(ImGuiKey_Enter);
    window.settle(2);
    REQUIRE(app.view.act.typed.has_value());
    window.click("Take this hole");
    CHECK(app.now.setup.choices.upper_link_pin == "3");
    CHECK(app.history.past.size() == 1);
    CHECK_FALSE(app.view.act.typed.has_value());
}

TEST_CASE("picture: what follows from other readings is not pulled, and says so", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const PicturePoint joint = pick(app.view.picture.points, "rear joint of the shaft");
    REQUIRE(joint.drag == PointDrag::none);
    const PictureWords words = say_point(joint, app.now.setup, PictureFrame::side, UnitSystem::millimetre);
    CHECK(words.action == "It follows from these readings and cannot be pulled itself.");
    CHECK_FALSE(words.readings.empty());
}

TEST_CASE("picture: the cursor over a point says its name, its place and where its readings come from", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const PicturePoint stub = pick(app.view.picture.points, "end of the PTO stub");
    window.move_to(window.on_screen(stub.at));
    window.settle(2);
    const PictureWords& words = app.view.act.words;
    CHECK(words.title == "end of the PTO stub");
    const Reading& x = app.now.setup.tractor.pto.stub_x;
    CHECK(words.place == format_inches(x.value) + " behind the rear axle, " + format_inches(app.now.setup.tractor.pto.stub_z.value) + " above the ground");
    REQUIRE(words.readings.size() == 4);
    CHECK(words.readings[0].rfind("tractor.pto.stub_x: " + format_inches(x.value) + ", preset", 0) == 0);
    CHECK(hitchwright::test::screen_says(words.place));
    // A part without a point under the cursor.
    const PicturePoint ball = pick(app.view.picture.points, "lower hitch point, ball end of the lower link"), pivot = pick(app.view.picture.points, "front pin of the lower link");
    window.move_to(window.on_screen(point_between(pivot.at, ball.at, 0.35)));
    window.settle(2);
    CHECK(app.view.act.words.title == "lower link");
    CHECK(app.view.act.words.readings == std::vector<std::string>{say_reading("tractor.lower_link.length", app.now.setup, UnitSystem::inch)});
    window.move_to({2.0F, 2.0F});
    window.settle(2);
    CHECK(app.view.act.words.title.empty());
}

TEST_CASE("picture: keys step through the points, zoom, fit and pan", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    window.move_to(window.point_of("side view", 0.97F, 0.97F));
    window.type("n");
    REQUIRE(app.view.act.stepped == 0);
    CHECK(app.view.act.words.title == app.view.picture.points[0].name);
    window.type("n");
    window.type("n");
    CHECK(app.view.act.stepped == 2);
    window.type("p");
    CHECK(app.view.act.words.title == app.view.picture.points[1].name);
    const double fitted = app.view.picture.page.shapes.empty() ? 0.0 : 1.0;
    REQUIRE(fitted == 1.0);
    window.type("+");
    REQUIRE_FALSE(app.view.camera.fitted);
    const SideCamera nearer = app.view.camera;
    window.type("-");
    CHECK(app.view.camera.scale_denominator > nearer.scale_denominator);
    ImGui::GetIO().KeyShift = true;
    window.tap(ImGuiKey_RightArrow);
    ImGui::GetIO().KeyShift = false;
    CHECK(app.view.camera.middle.x > nearer.middle.x);
    CHECK(app.view.camera.middle.z == nearer.middle.z);
    window.type("0");
    CHECK(app.view.camera.fitted);
    window.tap(ImGuiKey_Escape);
    CHECK(app.view.act.stepped == -1);
}

TEST_CASE("picture: two points clicked give their distance, straight, level and plumb, until Escape", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    window.click("Measure");
    REQUIRE(app.view.act.measures);
    const PicturePoint a = pick(app.view.picture.points, "end of the PTO stub"), b = pick(app.view.picture.points, "end of the input shaft");
    for (const PicturePoint& p : {a, b}) {
        window.press_at(window.on_screen(p.at));
        window.release();
    }
    REQUIRE(app.view.act.measured.size() == 2);
    const double level = std::fabs(b.at.x - a.at.x), plumb = std::fabs(b.at.z - a.at.z), straight = std::sqrt(level * level + plumb * plumb);
    CHECK(app.view.act.said.rfind("From end of the PTO stub to end of the input shaft: " + format_inches(straight) + "; " + format_inches(level) + " rearward, ", 0) == 0);
    const auto is_drawn = [&](const std::string& text) {
        return std::any_of(app.view.picture.page.shapes.begin(), app.view.picture.page.shapes.end(), [&](const PageShape& s) {
            const PageText* t = std::get_if<PageText>(&s.form);
            return t && t->text == text;
        });
    };
    CHECK(is_drawn(format_inches(straight)));
    CHECK(is_drawn(format_inches(plumb)));
    CHECK_FALSE(can_undo(app));
    // The distance goes along when the lift moves.
    app.view.ball_height = app.results.bands->travel.high;
    window.settle();
    const PicturePoint raised = pick(app.view.picture.points, "end of the input shaft");
    REQUIRE(raised.at.z > b.at.z + inch);
    CHECK(app.view.picture.measured == std::vector<DrawingPoint>{a.at, raised.at});
    window.tap(ImGuiKey_Escape);
    CHECK(app.view.act.measured.empty());
    CHECK_FALSE(app.view.act.measures);
    // The same by the keys alone.
    window.move_to(window.point_of("side view", 0.97F, 0.97F));
    window.type("n");
    window.type("m");
    window.type("n");
    window.type("m");
    CHECK(app.view.act.measured.size() == 2);
}

TEST_CASE("picture: switches add sizes and what is swept, and take names and travel away", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const auto texts = [&] {
        std::vector<std::string> found;
        for (const PageShape& s : app.view.picture.page.shapes) {
            if (const PageText* t = std::get_if<PageText>(&s.form)) found.push_back(t->text);
        }
        return found;
    };
    const auto says = [&](const std::string& text) { return std::ranges::count(texts(), text) > 0; };
    const auto count_role = [&](Role role) { return std::count_if(app.view.picture.page.shapes.begin(), app.view.picture.page.shapes.end(), [&](const PageShape& s) { return s.role == role; }); };
    REQUIRE(says("rear tyre"));
    window.click("Names");
    CHECK_FALSE(says("rear tyre"));
    REQUIRE(count_role(Role::travel_arc) > 0);
    window.click("Travel");
    CHECK(count_role(Role::travel_arc) == 0);
    const std::size_t before = app.view.picture.drawing.dimensions.size();
    window.click("Sizes");
    CHECK(app.view.picture.drawing.dimensions.size() > before + 5);
    CHECK(count_role(Role::swept) == 0);
    window.click("Swept");
    CHECK(count_role(Role::swept) > 50);
    CHECK(app.view.swept.revision == app.results.revision);
}

TEST_CASE("picture: a union of outlines has their area and an edge that lies in none of them", "[gui]") {
    // Two squares that share a quarter, and one inside: the edge is an L of eight sides, 12 long; area 7.
    const auto square = [](double x, double z, double side) { return Polygon{{{x, z}, {x + side, z}, {x + side, z + side}, {x, z + side}}}; };
    const SweptRegion r = unite_outlines({square(0, 0, 2), square(1, 1, 2), square(0.5, 0.5, 0.25), square(0, 0, 2)}, 0.01);
    double around = 0.0, area = 0.0;
    for (const Polyline& l : r.edge) around += std::hypot(l.points[1].x - l.points[0].x, l.points[1].z - l.points[0].z);
    for (const Polyline& l : r.hatch) area += (l.points[1].x - l.points[0].x) * 0.01;
    CHECK(around == Approx(12.0).margin(1e-12).epsilon(0));
    CHECK(area == Approx(7.0).margin(0.02).epsilon(0));
}

TEST_CASE("picture: what is swept holds the outline of the implement at every height of the travel", "[gui]") {
    Headless window("utility-cutter-fits");
    const AppState& app = window.app();
    const Setup& setup = app.now.setup;
    const Analysis& analysis = app.results.analysis;
    const Drawing swept = draw_swept(setup, analysis, UnitSystem::inch);
    // The implement's region stands first: its hatch without a name, then its edge.
    std::vector<Polyline> hatch, edge;
    for (const Shape& s : swept.shapes) {
        if (s.role != Role::swept) continue;
        if (s.name == "swept by the implement") edge.push_back(std::get<Polyline>(s.form));
        else if (edge.empty()) hatch.push_back(std::get<Polyline>(s.form));
    }
    REQUIRE(edge.size() > 20);
    REQUIRE(hatch.size() > 5);
    const auto scene_at = [&](double height) { return make_bare_scene(setup, analysis, height, UnitSystem::inch); };
    // The outlines at the heights drawn through, each on its own: the union is made of them.
    const HeightRange travel = app.results.bands->travel;
    std::vector<std::vector<DrawingPoint>> drawn;
    std::vector<ContactWheel> wheels;
    for (int i = 0; i < swept_poses; ++i) {
        const SideViewScene scene = scene_at(travel.low + (travel.high - travel.low) * i / (swept_poses - 1));
        REQUIRE(scene.working);
        for (const auto& outline : scene.working->outlines) drawn.push_back(outline);
        wheels.insert(wheels.end(), scene.working->wheels.begin(), scene.working->wheels.end());
    }
    const auto in_polygon = [](const std::vector<DrawingPoint>& area, DrawingPoint p) {
        bool inside = false;
        for (std::size_t i = 0, k = area.size() - 1; i < area.size(); k = i++) {
            const DrawingPoint &a = area[i], &b = area[k];
            if ((a.z > p.z) != (b.z > p.z) && p.x < a.x + (b.x - a.x) * (p.z - a.z) / (b.z - a.z)) inside = !inside;
        }
        return inside;
    };
    const auto off_piece = [](const DrawingPoint& a, const DrawingPoint& b, DrawingPoint p) {
        const double dx = b.x - a.x, dz = b.z - a.z, whole = dx * dx + dz * dz;
        const double t = whole > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.z - a.z) * dz) / whole, 0.0, 1.0) : 0.0;
        return std::hypot(p.x - a.x - t * dx, p.z - a.z - t * dz);
    };
    const auto off_edge = [&](DrawingPoint p) {
        double least = 1e9;
        for (const Polyline& l : edge) least = std::min(least, off_piece(l.points[0], l.points[1], p));
        return least;
    };
    // Between two heights drawn through a corner stands out by less than half of its way from one to the other.
    int points = 0, at_edge = 0;
    double farthest = 0.0;
    for (int i = 0; i < 211; ++i) {
        const double height = travel.low + (travel.high - travel.low) * i / 210;
        const auto scene = scene_at(height);
        for (const auto& outline : scene.working->outlines) {
            for (std::size_t k = 0; k < outline.size(); ++k) {
                const DrawingPoint& q = outline[(k + 1) % outline.size()];
                for (const double share : {0.0, 0.31, 0.77}) {
                    const DrawingPoint p{outline[k].x + share * (q.x - outline[k].x), outline[k].z + share * (q.z - outline[k].z)};
                    ++points;
                    if (std::any_of(drawn.begin(), drawn.end(), [&](const auto& area) { return in_polygon(area, p); })) continue;
                    ++at_edge;
                    farthest = std::max(farthest, off_edge(p));
                }
            }
        }
    }
    CHECK(points > 1000);
    CHECK(at_edge > 0);  // so that the edge is put to the test
    CHECK(farthest < 0.5 * 2.0 * (travel.high - travel.low) / (swept_poses - 1));
    // What is hatched lies in one of the outlines, and no piece of the edge does.
    for (const Polyline& l : hatch) {
        for (const double share : {0.03, 0.5, 0.97}) {
            const DrawingPoint p{l.points[0].x + share * (l.points[1].x - l.points[0].x), l.points[0].z};
            const bool whole = std::any_of(drawn.begin(), drawn.end(), [&](const auto& area) { return in_polygon(area, p); });
            const bool wheel = std::any_of(wheels.begin(), wheels.end(), [&](const ContactWheel& w) { return std::hypot(p.x - w.centre.x, p.z - w.centre.z) <= w.radius; });
            CHECK((whole || wheel));
        }
    }
    for (const Polyline& l : edge) {
        const DrawingPoint p{0.5 * (l.points[0].x + l.points[1].x), 0.5 * (l.points[0].z + l.points[1].z)};
        // By a hair inside counts as on the border.
        const bool deep = std::any_of(drawn.begin(), drawn.end(), [&](const auto& area) {
            const double hair = 1e-7;
            return in_polygon(area, {p.x - hair, p.z}) && in_polygon(area, {p.x + hair, p.z}) && in_polygon(area, {p.x, p.z - hair}) && in_polygon(area, {p.x, p.z + hair});
        });
        CHECK_FALSE(deep);
    }
}

TEST_CASE("picture: what is swept says through how many heights it was drawn", "[gui]") {
    Headless window("utility-cutter-fits");
    const AppState& app = window.app();
    const auto says = [](const Drawing& d, const std::string& text) {
        return std::any_of(d.labels.begin(), d.labels.end(), [&](const auto& l) { return l.text.find(text) != std::string::npos; });
    };
    const Drawing whole = draw_swept(app.now.setup, app.results.analysis, UnitSystem::inch);
    CHECK(says(whole, "swept by the implement, drawn through " + std::to_string(swept_poses) + " heights"));
}

TEST_CASE("picture: where the linkage closes at none of its heights, nothing is swept, and the drawing says why", "[gui]") {
    const Headless window("utility-cutter-fits");
    const Setup& setup = window.app().now.setup;
    Analysis analysis = window.app().results.analysis;
    REQUIRE(analysis.linkage);
    analysis.linkage->high.pose.closes = false;  // as where the links do not reach at the top
    const Drawing swept = draw_swept(setup, analysis, UnitSystem::inch);
    CHECK(swept.shapes.empty());
    CHECK(swept.dimensions.empty());
    REQUIRE(swept.labels.size() == 1);
    CHECK(swept.labels.front().text == "nothing swept to draw: the linkage closes at none of its heights");
}

TEST_CASE("picture: from above it shows the width", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    window.click("From above");
    REQUIRE(app.view.act.switches.mounted == MountedPicture::plan);
    const PicturePoint ball = pick(app.view.picture.points, "ball end of the lower link, right");
    CHECK(ball.at.z == app.now.setup.tractor.lower_link.half_spread_at_ball.value);
    double half = 0.0;
    for (const ImplementPoint& p : app.now.setup.implement.points) half = std::max(half, p.half_width.value_or(0.0));
    REQUIRE(half > 0.0);
    const std::string width = "width " + format_inches(2.0 * half);
    CHECK(std::any_of(app.view.picture.drawing.dimensions.begin(), app.view.picture.drawing.dimensions.end(), [&](const DimensionMark& d) { return d.text == width; }));
    window.click("From above");
    CHECK(app.view.act.switches.mounted == MountedPicture::side);
    CHECK(app.view.camera.fitted);
}

TEST_CASE("picture: from above it says what nobody measured sideways", "[gui]") {
    Headless window("utility-cutter-fits", {{"tractor.tyre.rear_track="}, ""});
    window.click("From above");
    CHECK(hitchwright::test::screen_says("The rear tyres: radius, width and track are not all known."));
}

TEST_CASE("picture: a drawn implement is pulled round its hitch within what is judged", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    AppState& app = window.app();
    REQUIRE(app.view.drawn_picture == DrawnPicture::plan);
    const DrawnModel& m = app.results.analysis.drawn->model;
    const PicturePoint* rear = nullptr;
    for (const PicturePoint& p : app.view.placed_drawn.points) {
        if (p.drag == PointDrag::turn && (!rear || p.at.x > rear->at.x)) rear = &p;
    }
    REQUIRE(rear);
    const double reach = rear->at.x - m.driveline.pin.x, wanted = 0.3;
    const ImVec2 from = window.on_screen(rear->at, true);
    const ImVec2 to = window.on_screen({m.driveline.pin.x + reach * std::cos(wanted), m.driveline.pin.y + reach * std::sin(wanted)}, true);
    pull(window, from, to);
    REQUIRE(app.view.attitude);
    CHECK(app.view.attitude->yaw == Approx(wanted).margin(0.02).epsilon(0));
    window.tap(ImGuiKey_Escape);
    CHECK_FALSE(app.view.attitude);
    window.release();
    window.settle(40);
    pull(window, from, {from.x - 2000.0F, from.y - 200.0F});
    window.release();
    REQUIRE(app.view.attitude);
    CHECK(m.box.yaw.contains(app.view.attitude->yaw));
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("picture: the drawbar's pin is pulled to another position in one step of undo", "[gui]") {
    Headless window("utility-drawn-cutter-short");
    AppState& app = window.app();
    const std::vector<PicturePoint> points = app.view.placed_drawn.points;
    const auto chosen = std::find_if(points.begin(), points.end(), [](const PicturePoint& p) { return p.drag == PointDrag::drawbar_pin; });
    const auto other = std::find_if(points.begin(), points.end(), [](const PicturePoint& p) { return !p.hole.empty() && !p.chosen; });
    REQUIRE(chosen != points.end());
    REQUIRE(other != points.end());
    pull(window, window.on_screen(chosen->at, true), window.on_screen(other->at, true));
    window.release();
    CHECK(app.now.setup.choices.drawn.drawbar_pin == other->hole);
    CHECK(app.results.analysis.drawn->model.driveline.pin.x == Approx(other->at.x).margin(1e-9).epsilon(0));
    CHECK(app.history.past.size() == 1);
}

TEST_CASE("picture: a pull at a handle of the ditch is one step of undo, and Escape none", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    AppState& app = window.app();
    window.click("In the ditch");
    const double before = app.now.setup.choices.drawn.ditch.depth.value;
    const ImVec2 at = window.middle_of("handle of the depth");
    pull(window, at, {at.x, at.y + 14.0F});
    CHECK(app.view.act.said.rfind("depth ", 0) == 0);
    CHECK(app.now.setup.choices.drawn.ditch.depth.value == before);
    window.tap(ImGuiKey_Escape);
    window.release();
    CHECK_FALSE(can_undo(app));
    window.settle(40);
    pull(window, at, {at.x, at.y + 14.0F});
    window.release();
    CHECK(app.now.setup.choices.drawn.ditch.depth.value > before);
    CHECK(app.history.past.size() == 1);
    CHECK(app.now.setup.choices.drawn.ditch.depth.origin == Origin::assumed);
    REQUIRE(app.now.edits.sets.size() == 2);
    CHECK(app.now.edits.sets[0].rfind("choices.ditch.depth.value=", 0) == 0);
    window.click("Undo");
    CHECK(app.now.setup.choices.drawn.ditch.depth.value == before);
}

TEST_CASE("picture: the handles of a ditch lie on its ground, and pulling one to where it lies changes nothing", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    DitchReadings d = window.app().now.setup.choices.drawn.ditch;
    REQUIRE(list_ditch_handles(d).size() == 4);
    for (const double crossing : {40.0, 90.0, 125.0}) {
        d.crossing_angle = make_reading(crossing * 3.14159265358979323846 / 180.0);
        for (const DitchHandle& h : list_ditch_handles(d)) {
            const DitchReadings same = pull_handle(d, h.measure, h.at, UnitSystem::millimetre);
            CHECK(same.depth.value == Approx(d.depth.value).margin(0.0051).epsilon(0));
            CHECK(same.bottom_width.value == Approx(d.bottom_width.value).margin(0.0051).epsilon(0));
            CHECK(same.side_slope.value == Approx(d.side_slope.value).margin(0.0045).epsilon(0));
            CHECK(same.crossing_angle.value == Approx(d.crossing_angle.value).margin(0.0045).epsilon(0));
            if (h.measure == DitchMeasure::crossing_angle) continue;
            const Polyline ground = draw_ditch_ground(d, -8.0, h.at.x);
            CHECK(ground.points.back().z == Approx(h.at.z).margin(1e-9).epsilon(0));
        }
    }
    d.points.push_back({"a", make_reading(0.0), make_reading(0.0)});
    CHECK(list_ditch_handles(d).empty());
}

TEST_CASE("picture: the march drives on with time, is stopped and started by space, and ends by itself", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    AppState& app = window.app();
    window.click("In the ditch");
    CHECK_FALSE(wants_frames(app));
    window.click("Play");
    CHECK(app.view.act.march.plays);
    CHECK(wants_frames(app));
    const double first = *app.view.ditch_place;
    window.settle(60);
    // 60 frames of 1/60 s at 0.5 m/s.
    CHECK(first - *app.view.ditch_place == Approx(0.5).margin(1e-3).epsilon(0));
    window.move_to(window.point_of("drawn picture", 0.5F, 0.3F));
    window.type(" ");
    CHECK_FALSE(wants_frames(app));
    const double stopped = *app.view.ditch_place;
    window.settle(30);
    CHECK(*app.view.ditch_place == stopped);
    window.click("Step");
    CHECK(stopped - find_shown_place(app) == Approx(station_step).margin(station_step).epsilon(0));
    CHECK(find_shown_place(app) < stopped);
    window.move_to(window.point_of("drawn picture", 0.5F, 0.3F));
    window.type(" ");
    REQUIRE(wants_frames(app));
    advance_march(app, 1000.0);
    window.settle(2);
    CHECK_FALSE(wants_frames(app));
    const DitchWay& way = app.results.analysis.drawn->ditch->study->ways.front();
    CHECK(*app.view.ditch_place == std::min(way.stations.front().pose.place, way.stations.back().pose.place));
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("picture: a march whose ditch is gone lets the window rest", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    AppState& app = window.app();
    window.click("In the ditch");
    window.click("Play");
    REQUIRE(wants_frames(app));
    REQUIRE(change_value(app, "choices.drawbar_pin", "").empty());
    REQUIRE_FALSE(app.results.analysis.drawn);
    window.settle();
    CHECK_FALSE(wants_frames(app));
}

TEST_CASE("picture: every switch on, nothing is cut off or written over at any usual size", "[gui]") {
    for (const char* setup : {"utility-cutter-fits", "utility-drawn-cutter-fits"}) {
        Headless window(setup);
        PictureSwitches& on = window.app().view.act.switches;
        on.sizes = on.swept = true;
        if (std::string(setup) == "utility-drawn-cutter-fits") window.click("In the ditch");
        for (const auto& [width, height] : std::vector<std::pair<float, float>>{{800.0F, 600.0F}, {1024.0F, 700.0F}, {1280.0F, 800.0F}, {1920.0F, 1080.0F}, {2560.0F, 1440.0F}}) {
            CAPTURE(setup, width, height);
            window.resize(width, height);
            CHECK(hitchwright::test::find_text_faults(window.app().view) == std::vector<std::string>{});
        }
    }
}
