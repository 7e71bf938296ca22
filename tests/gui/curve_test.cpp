// The lines over the travel in the window: one cursor that is the position of the machine, and what it says.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/implement_heights.h"
#include "gui/curve_cursor.h"
#include "tests/gui/headless.h"

using namespace hitchwright;
using hitchwright::test::Headless;

namespace {

constexpr double inch = 0.0254;

void show_curves_of(Headless& window) {
    window.app().view.lower_room = LowerRoom::curves;
    window.settle();
}

/// A point of a chart at a share of its plot, from the axes it is drawn with.
ImVec2 point_at(const Headless& window, AppState& app, CurveKind kind, double x) {
    const ScreenRect r = app.view.places.at("curve " + std::string(curve_name(kind)));
    const auto panel = std::find_if(app.view.curves.panels.begin(), app.view.curves.panels.end(),
                                    [&](const CurvePanel& p) { return p.kind == kind; });
    REQUIRE(panel != app.view.curves.panels.end());
    constexpr double ppm = 5.0;  // of the window at scale 1
    const PageRect area{0.0, 0.0, static_cast<double>(r.right - r.left) / ppm,
                        static_cast<double>(r.bottom - r.top) / ppm};
    const ChartAxes axes = find_chart_axes(panel->chart, area, app.view.units, ChartWords::brief);
    (void)window;
    return {r.left + static_cast<float>(axes.to_page({x, 0.0}).x * ppm), 0.5F * (r.top + r.bottom)};
}

}  // namespace

TEST_CASE("curves: a drag in a chart moves the machine, and the machine moves the cursor back", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_curves_of(window);
    const HeightRange travel = app.results.bands->travel;
    const double pixel = (travel.high - travel.low) / 100.0;  // plots are wider than 100 pixels here
    const double to = travel.low + 0.7 * (travel.high - travel.low);
    window.press_at(point_at(window, app, CurveKind::pitch, travel.low + 0.2 * (travel.high - travel.low)));
    CHECK(shown_ball_height(app) == Approx(travel.low + 0.2 * (travel.high - travel.low)).margin(pixel).epsilon(0));
    window.move_to(point_at(window, app, CurveKind::pitch, to));
    window.release();
    CHECK(shown_ball_height(app) == Approx(to).margin(pixel).epsilon(0));
    CHECK(app.view.picture.ball_height == shown_ball_height(app));
    CHECK_FALSE(can_undo(app));
    // The other way: the lift stands elsewhere, and the cursor with it.
    app.view.ball_height = 20.0 * inch;
    window.settle();
    CHECK(find_curve_cursor(app) == shown_ball_height(app));
    CHECK(say_cursor(app) == "ball height 20 in");
    window.click("At work");
    CHECK(find_curve_cursor(app) == Approx(15.0 * inch).margin(1e-12).epsilon(0));
}

TEST_CASE("curves: values at the cursor are those of the pose, not of the sampled line", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_curves_of(window);
    const MountedModel& m = app.results.analysis.linkage->model;
    // Between two of the 121 samples.
    const double height = m.travel.low + (17.37 / 120.0) * (m.travel.high - m.travel.low);
    app.view.ball_height = height;
    window.settle();
    const PoseReport pose = make_pose_report(app.now.setup, m, height);
    CHECK(*find_value_at_cursor(app, TravelQuantity::pitch) == pose.pose.pitch);
    CHECK(*find_value_at_cursor(app, TravelQuantity::shaft_length) == pose.shaft_length);
    CHECK(*find_value_at_cursor(app, TravelQuantity::overlap) == pose.overlap);
    const CurveWords length = say_at_cursor(app, CurveKind::shaft_length);
    CHECK(length.bad);
    CHECK(length.text == format_length(pose.shaft_length, UnitSystem::inch) + ", bottoms out by " +
                             format_length(-pose.gap, UnitSystem::inch, Rounding::up));
    CHECK(window.is_shown("words of shaft length"));
}

TEST_CASE("curves: arrow and Page keys step a focused chart, Home and End go to the ends", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_curves_of(window);
    const HeightRange travel = app.results.bands->travel;
    const double span = travel.high - travel.low;
    window.click("curve pitch");
    const double start = shown_ball_height(app);
    window.tap(ImGuiKey_RightArrow);
    CHECK(shown_ball_height(app) == Approx(start + span / 200.0).margin(1e-9).epsilon(0));
    window.tap(ImGuiKey_PageDown);
    CHECK(shown_ball_height(app) == Approx(start + span / 200.0 - span / 20.0).margin(1e-9).epsilon(0));
    window.tap(ImGuiKey_End);
    CHECK(shown_ball_height(app) == travel.high);
    window.tap(ImGuiKey_RightArrow);
    CHECK(shown_ball_height(app) == travel.high);
    window.tap(ImGuiKey_Home);
    CHECK(shown_ball_height(app) == travel.low);
}

TEST_CASE("curves: a line is taken off by its check mark and comes back", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_curves_of(window);
    window.click("Lines shown");
    window.click("line pitch");
    CHECK(app.view.curves.hidden.count(CurveKind::pitch) == 1);
    app.view.places.clear();
    window.settle();
    CHECK_FALSE(window.is_shown("curve pitch"));
    CHECK(window.is_shown("curve shaft length"));
    window.click("line pitch");
    window.settle();
    CHECK(window.is_shown("curve pitch"));
}

TEST_CASE("curves: charts stand side by side and wrap to the room, each wholly across it", "[gui]") {
    Headless window("utility-cutter-wrong-hole");
    show_curves_of(window);
    const AppState& app = window.app();
    std::size_t abreast_before = 0;
    for (const auto& [width, height] :
         std::vector<std::pair<float, float>>{{800.0F, 600.0F}, {1280.0F, 800.0F}, {2560.0F, 1440.0F}}) {
        CAPTURE(width, height);
        window.resize(width, height);
        window.settle();
        const ScreenRect first = app.view.places.at("curve pitch");
        std::size_t abreast = 0;
        for (const CurvePanel& p : app.view.curves.panels) {
            const ScreenRect r = app.view.places.at("curve " + std::string(curve_name(p.kind)));
            CHECK(r.right <= width);
            CHECK(r.right - r.left > 150.0F);
            if (std::fabs(r.top - first.top) < 60.0F) ++abreast;
        }
        CHECK(abreast >= std::max<std::size_t>(abreast_before, 1));
        abreast_before = abreast;
    }
    CHECK(abreast_before >= 3);
}

TEST_CASE("curves: of a drawn implement over the turn, the cursor is its turn", "[gui]") {
    Headless window("utility-drawn-cutter-fits", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_curves_of(window);
    const DrawnModel& m = app.results.analysis.drawn->model;
    REQUIRE(app.view.curves.panels.size() == 3);
    const double to = 0.5 * m.box.yaw.high;
    window.press_at(point_at(window, app, CurveKind::shaft_length, to));
    window.release();
    REQUIRE(app.view.attitude);
    CHECK(app.view.attitude->yaw == Approx(to).margin((m.box.yaw.high - m.box.yaw.low) / 100.0).epsilon(0));
    const DrivelineState s = find_driveline_state(m, *app.view.attitude);
    CHECK(*find_value_at_cursor(app, TravelQuantity::shaft_length) == s.length);
    CHECK(*find_value_at_cursor(app, TravelQuantity::implement_joint) == s.implement_angle);
    CHECK(*find_value_at_cursor(app, TravelQuantity::overlap) == find_overlap(m.halves, s.length));
    // The lines are those of the pitch shown.
    app.view.attitude->pitch = m.box.pitch.high;
    window.settle();
    CHECK(app.view.curves.pitch == m.box.pitch.high);
    const ChartPoint first = app.view.curves.panels.front().chart.lines.front().points.front();
    CHECK(first.y == find_driveline_state(m, {m.box.pitch.high, 0.0, m.box.yaw.low}).length);
}

TEST_CASE("curves: without a linkage there are none, and the room says so", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"implement.mast_pin[1].height="}, ""});
    show_curves_of(window);
    const AppState& app = window.app();
    if (!app.results.analysis.linkage) {
        CHECK_FALSE(find_curve_range(app));
        CHECK_FALSE(window.is_shown("curve pitch"));
    } else {
        FAIL("the set-up still has a linkage");
    }
}

TEST_CASE("curves: lines have their bands, and while the set-up is dragged they wait for the hand to let go", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_curves_of(window);
    const auto shaded = [&](CurveKind kind) {
        const auto panel = std::find_if(app.view.curves.panels.begin(), app.view.curves.panels.end(), [&](const CurvePanel& p) { return p.kind == kind; });
        REQUIRE(panel != app.view.curves.panels.end());
        return panel->chart.bands.size();
    };
    CHECK(shaded(CurveKind::pitch) == 1);
    CHECK(shaded(CurveKind::shaft_length) == 1);
    CHECK(shaded(CurveKind::joint_angles) == 2);
    CHECK(shaded(CurveKind::overlap) == 1);
    CHECK(shaded(CurveKind::tail_height) == 0);
    // The same as `draw --view travel` shades.
    const CurveBands bands = find_curve_bands(app.now.setup, app.results.analysis);
    const std::vector<CurvePanel> panels = make_travel_panels(app.now.setup, app.results.analysis, app.view.units, &bands);
    REQUIRE(panels.size() == app.view.curves.panels.size());
    CHECK(panels[0].chart.bands[0].sections[7].high == app.view.curves.panels[0].chart.bands[0].sections[7].high);
    REQUIRE(change_value(app, "tractor.pto.stub_x", "12 in").empty());
    list_curves(app, true);
    CHECK(shaded(CurveKind::shaft_length) == 0);
    list_curves(app, true);
    list_curves(app);
    CHECK(shaded(CurveKind::shaft_length) == 1);
}
