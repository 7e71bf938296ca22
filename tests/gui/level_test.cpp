// The picture from behind and the room "Level": what is pulled or turned is one edit, the words are those of `fit`.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "gui/compare.h"
#include "gui/export.h"
#include "gui/level_room.h"
#include "gui/picture_canvas.h"
#include "gui/rod_edits.h"
#include "gui/shortcuts.h"
#include "report/caution_text.h"
#include "report/rear_view.h"
#include "report/space_text.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double inch = 0.0254;
const char* const demo = "compact-rear-blade-tilted";

ImVec2 on_screen(const Headless& window, const AppState& app, DrawingPoint p) {
    const ScreenRect r = app.view.places.at("side view");
    PictureCanvas c;
    c.corner = {r.left, r.top};
    c.size = {r.right - r.left, r.bottom - r.top};
    c.ppm = window.fonts().pixels_per_mm;
    c.area = app.view.picture.area;
    REQUIRE(app.view.mounted_box.box);
    c.placement = find_placement(app.view.camera, *app.view.mounted_box.box, c.area);
    return c.to_screen(p);
}

PicturePoint pick(const AppState& app, const std::string& name) {
    const std::vector<PicturePoint>& points = app.view.picture.points;
    const auto found = std::find_if(points.begin(), points.end(), [&](const PicturePoint& p) { return p.name == name; });
    INFO("point " << name);
    REQUIRE(found != points.end());
    return *found;
}

void show_behind(Headless& window) {
    window.app().view.act.switches.mounted = MountedPicture::rear;
    window.settle();
}

}  // namespace

TEST_CASE("level: F6 goes from the side to above, behind and back, and the switches agree", "[gui]") {
    Headless window(demo);
    AppState& app = window.app();
    for (const MountedPicture next : {MountedPicture::plan, MountedPicture::rear, MountedPicture::side}) {
        window.press_key(key_f1 + 5);
        CHECK(app.view.act.switches.mounted == next);
    }
    window.click("From behind");
    CHECK(app.view.act.switches.mounted == MountedPicture::rear);
    window.click("From above");
    CHECK(app.view.act.switches.mounted == MountedPicture::plan);
    window.click("From above");
    CHECK(app.view.act.switches.mounted == MountedPicture::side);
}

TEST_CASE("level: the picture from behind follows the lift and says what it shows", "[gui]") {
    Headless window(demo);
    AppState& app = window.app();
    show_behind(window);
    const Levelling& l = *app.results.analysis.space->levelling;
    const auto says = [&](const std::string& text) {
        const Drawing& d = app.view.picture.drawing;
        return std::any_of(d.labels.begin(), d.labels.end(), [&](const Label& x) { return x.text.find(text) != std::string::npos; }) ||
               std::any_of(d.dimensions.begin(), d.dimensions.end(), [&](const DimensionMark& x) { return x.text.find(text) != std::string::npos; });
    };
    CHECK(says(say_roll(l.working.attitude.roll)));
    CHECK(says("right ball " + format_inches(l.working.right_ball)));
    app.view.ball_height = app.results.bands->travel.high;
    window.settle();
    CHECK(says(say_roll(l.high.attitude.roll)));
    CHECK(says("right ball " + format_inches(l.high.right_ball)));
}

TEST_CASE("level: a ball that is pulled sets its lift rod, the arms staying, as one step of undo", "[gui]") {
    Headless window(demo);
    AppState& app = window.app();
    show_behind(window);
    const double before = *find_rod_as_set(app, TractorSide::right), left_before = *find_rod_as_set(app, TractorSide::left);
    const PicturePoint ball = pick(app, "ball end of the lower link, right");
    REQUIRE(ball.drag == PointDrag::right_lift_rod);
    const MountedModel& m = app.results.analysis.linkage->model;
    const double wanted = *find_rod_for_ball(m, find_space_pose(m, shown_place(app)), TractorSide::right, ball.at.z + 1.0 * inch);
    const ImVec2 from = on_screen(window, app, ball.at), to = on_screen(window, app, {ball.at.x, ball.at.z + 1.0 * inch});
    window.press_at(from);
    window.move_to({from.x, 0.5F * (from.y + to.y)});
    window.move_to(to);
    CHECK(app.view.act.said.starts_with("Right lift rod "));
    CHECK_FALSE(can_undo(app));
    window.release();
    window.settle();
    CHECK(*find_rod_as_set(app, TractorSide::right) == Approx(wanted).margin(0.25 * inch).epsilon(0));
    CHECK(*find_rod_as_set(app, TractorSide::right) < before);
    CHECK(*find_rod_as_set(app, TractorSide::left) == left_before);
    CHECK(app.now.setup.choices.right_lift_rod_length.origin == Origin::assumed);
    undo(app);
    CHECK(*find_rod_as_set(app, TractorSide::right) == before);
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("level: the hitch is swayed no further than it can, no input changes, and Escape puts it back", "[gui]") {
    Headless window(demo);
    AppState& app = window.app();
    show_behind(window);
    const double half = 0.5 * app.now.setup.tractor.sway.total_at_ball.value;
    const ImVec2 from = on_screen(window, app, pick(app, "middle between the lower hitch points").at);
    window.press_at(from);
    window.move_to({from.x + 5.0F, from.y});
    window.move_to({from.x + 500.0F, from.y});
    CHECK(shown_place(app).sway == Approx(half).margin(1e-12).epsilon(0));
    window.tap(ImGuiKey_Escape);
    CHECK(app.view.act.sway == 0.0);
    window.release();
    window.settle(40);  // else a double click
    window.press_at(from);
    window.move_to({from.x - 5.0F, from.y});
    window.move_to({from.x - 500.0F, from.y});
    window.release();
    CHECK(shown_place(app).sway == Approx(-half).margin(1e-12).epsilon(0));
    CHECK_FALSE(can_undo(app));
    CHECK(screen_says("balls 3/4 in to the left"));
}

TEST_CASE("level: a turn of the screw is one edit of that rod and one step of undo", "[gui]") {
    Headless window(demo, {}, {1280.0F, 2000.0F});
    AppState& app = window.app();
    app.view.side_room = SideRoom::level;
    window.settle();
    const double before = *find_rod_as_set(app, TractorSide::right), turn = app.now.setup.tractor.lift_rod.advance_per_turn.value;
    window.click("right rod longer");
    CHECK(*find_rod_as_set(app, TractorSide::right) == Approx(before + turn).margin(1e-9).epsilon(0));
    window.click("right rod shorter");
    window.click("right rod shorter");
    CHECK(*find_rod_as_set(app, TractorSide::right) == Approx(before - turn).margin(1e-9).epsilon(0));
    undo(app);
    undo(app);
    undo(app);
    CHECK(*find_rod_as_set(app, TractorSide::right) == before);
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("level: the rods for the wanted roll are set from the room, with the cautions of that step beside it", "[gui]") {
    Headless window(demo, {}, {1280.0F, 2000.0F});
    AppState& app = window.app();
    app.view.side_room = SideRoom::level;
    window.settle();
    REQUIRE(find_wanted_rods(app));
    CHECK(screen_says(caution_sentence(Caution::never_under_raised)));
    window.click("set the rods");
    window.settle();
    CHECK_FALSE(find_wanted_rods(app));
    const Levelling& l = *app.results.analysis.space->levelling;
    CHECK(l.working.attitude.roll == Approx(app.now.setup.choices.working_roll.value).margin(0.004).epsilon(0));
    undo(app);
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("level: the room says what fit says, every word and number", "[gui]") {
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        Headless window(demo, {}, {1280.0F, 2400.0F});
        AppState& app = window.app();
        app.view.units = units;
        const std::string text = format_space_study(app.results.analysis, {units, 80, false});
        REQUIRE(text.size() > 200);
        std::string shown;
        for (const AnswerBlock& b : make_level_blocks(app)) {
            shown += b.text;
            for (const std::vector<std::string>& row : b.rows) {
                for (const std::string& cell : row) shown += cell;
            }
        }
        const auto bare = [](std::string s) {
            std::erase_if(s, [](char c) { return c == ' ' || c == '\n'; });
            return s;
        };
        CHECK(bare(shown) == bare(text));
        app.view.side_room = SideRoom::level;
        window.settle();
        CHECK(screen_says("Side to side, rods as set"));
    }
}

TEST_CASE("level: text in columns is read back as it was put there", "[gui]") {
    const std::vector<AnswerBlock> blocks = make_column_blocks("Heights, rods as set  low  high\nleft ball  1 in  -\nA sentence, whole.\nOther  low  high\nx  1  2\n");
    REQUIRE(blocks.size() == 5);
    CHECK(blocks[0].text == "Heights, rods as set");
    CHECK(blocks[1].rows == std::vector<std::vector<std::string>>{{" ", "low", "high"}, {"left ball", "1 in", "-"}});
    CHECK(blocks[2].text == "A sentence, whole.");
    CHECK(blocks[4].rows.size() == 2);
}

TEST_CASE("level: no text is cut off or lies on another in the picture from behind or from above, and in the room", "[gui][demo]") {
    for (const char* const name : {demo, "compact-box-blade", "utility-flail-no-cut", "sub-compact-cutter-front-light"}) {
        for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
            Headless window(name);
            AppState& app = window.app();
            app.view.units = units;
            app.view.side_room = SideRoom::level;
            for (const MountedPicture picture : {MountedPicture::plan, MountedPicture::rear}) {
                app.view.act.switches.mounted = picture;
                for (const ImVec2 size : {ImVec2{800.0F, 600.0F}, ImVec2{1280.0F, 800.0F}, ImVec2{1920.0F, 1080.0F}}) {
                    window.resize(size.x, size.y);
                    scroll_to_top("level");
                    window.settle();
                    do {
                        window.settle(2);
                        for (const std::string& fault : find_text_faults(app.view)) FAIL_CHECK(name << ", " << size.x << ": " << fault);
                    } while (scroll_on("level"));
                    SUCCEED();
                }
            }
        }
    }
}

TEST_CASE("level: a linkage that no longer closes is shown from the side, with what is lacking", "[gui]") {
    Headless window(demo);
    AppState& app = window.app();
    show_behind(window);
    REQUIRE(change_value(app, "choices.upper_link_length", "60 in").empty());
    REQUIRE_FALSE(app.results.analysis.linkage);
    window.settle();
    CHECK_FALSE(app.view.picture.drawing.shapes.empty());
    CHECK(screen_says("The linkage does not close here"));
    undo(app);
    window.settle();
    CHECK(window.is_shown("From behind"));
    CHECK(app.view.act.switches.mounted == MountedPicture::rear);
}

TEST_CASE("level: A is dashed in the picture from behind", "[gui]") {
    Headless window(demo);
    AppState& app = window.app();
    remember_as_a(app);
    REQUIRE(turn_rod(app, TractorSide::right, -8).empty());
    show_behind(window);
    const Drawing& d = app.view.picture.drawing;
    CHECK(std::any_of(d.shapes.begin(), d.shapes.end(), [](const Shape& s) { return s.name == "implement, compared"; }));
    CHECK(std::any_of(d.labels.begin(), d.labels.end(), [](const Label& l) { return l.text.starts_with("A: ") && l.text.find("roll") != std::string::npos; }));
}

TEST_CASE("level: the picture that is taken along is the one shown, with its sway", "[gui]") {
    Headless window(demo);
    AppState& app = window.app();
    app.view.act.switches.mounted = MountedPicture::rear;
    app.view.act.sway = 0.5 * inch;
    app.view.take.kind = "picture";
    const std::vector<std::string> words = list_export_words(app);
    const auto has = [&](const std::string& word) { return std::find(words.begin(), words.end(), word) != words.end(); };
    CHECK((has("--view") && has("rear") && has("--sway")));
    app.view.act.switches.mounted = MountedPicture::plan;
    const std::vector<std::string> above = list_export_words(app);
    CHECK(std::find(above.begin(), above.end(), "plan") != above.end());
    CHECK(std::find(above.begin(), above.end(), "--sway") == above.end());
}
