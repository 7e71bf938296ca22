// The table of holes in the window: judged one pair in a frame after an edit, and never taken for what it is not.
#include <catch2/catch.hpp>

#include <algorithm>

#include "gui/compare.h"
#include "gui/frame_work.h"
#include "report/format_length.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using hitchwright::test::Headless;

namespace {

constexpr const char* setup = "utility-cutter-fits";

/// A pair that is not in use.
const HoleResult& other_pair(const AppState& app) {
    const auto& results = app.hole_table.study.results;
    const auto other = std::find_if(results.begin(), results.end(), [&](const HoleResult& r) { return !is_chosen(app.now.setup, r.numbers.holes); });
    REQUIRE(other != results.end());
    return *other;
}

std::string place_of(const HoleResult& r) { return "hole " + r.numbers.tractor_pin + "/" + r.numbers.mast_pin; }

std::vector<double> list_pitches(const HoleStudy& study) {
    std::vector<double> pitches;
    for (const HoleResult& r : study.results) pitches.push_back(r.numbers.pitch_low);
    return pitches;
}

}  // namespace

TEST_CASE("hole table: columns are as wide in the first frame as later", "[gui]") {
    Headless window(setup);
    window.app().view.side_room = SideRoom::holes;
    const std::string curve = "pitch curve" + place_of(other_pair(window.app())).substr(4);
    window.draw_frame();
    REQUIRE(window.is_shown(curve));
    const ScreenRect first = window.app().view.places.at(curve);
    REQUIRE(first.frame == ImGui::GetFrameCount());
    window.settle(5);
    const ScreenRect later = window.app().view.places.at(curve);
    CHECK(first.left == later.left);
    CHECK(first.right == later.right);
}

TEST_CASE("hole table: an edit does not wait for it, frames go on until it is whole, and then they rest", "[gui]") {
    Headless window(setup);
    AppState& app = window.app();
    REQUIRE(is_compared(app));
    CHECK_FALSE(wants_frames(app));
    const std::vector<double> before = list_pitches(app.hole_table.study);
    REQUIRE(before.size() > 2);
    REQUIRE(change_value(app, "choices.working_pitch", "2.5 deg").empty());
    CHECK_FALSE(is_compared(app));
    CHECK(list_pitches(app.hole_table.study) == before);
    std::size_t frames = 0;
    do {
        window.draw_frame();
        REQUIRE(++frames <= before.size() + 1);
        CHECK(wants_frames(app));
    } while (!is_compared(app));
    window.draw_frame();
    CHECK_FALSE(wants_frames(app));
    const HoleStudy whole = study_holes(app.now.setup, app.mark, HoleWish::general);
    CHECK(list_pitches(app.hole_table.study) == list_pitches(whole));
    CHECK(list_pitches(whole) != before);
    CHECK(app.hole_table.curves.curves.size() == before.size());
}

TEST_CASE("hole table: nothing is compared while no table is shown", "[gui]") {
    Headless window(setup);
    AppState& app = window.app();
    app.view.side_room = SideRoom::cut;
    window.settle();
    REQUIRE(change_value(app, "choices.working_pitch", "2.5 deg").empty());
    for (int i = 0; i < 4; ++i) window.draw_frame();
    CHECK_FALSE(is_compared(app));
    CHECK_FALSE(wants_frames(app));
    app.view.side_room = SideRoom::holes;
    window.settle();
    CHECK(is_compared(app));
}

TEST_CASE("hole table: rows of the inputs before take a click and are no ghosts", "[gui]") {
    Headless window(setup);
    AppState& app = window.app();
    const HoleCombination other = other_pair(app).numbers.holes;
    const std::string place = place_of(other_pair(app));
    window.move_to(window.middle_of(place));
    window.draw_frame();
    REQUIRE(app.view.compare.hovered == other);
    CHECK_FALSE(find_ghost_key(app).empty());
    // Other inputs in each frame, as while a point is pulled: the table never gets done.
    REQUIRE(change_value(app, "choices.working_pitch", "2.5 deg").empty());
    CHECK(find_ghost_key(app).empty());
    ImGui::GetIO().MouseDown[0] = true;
    want_hole_table(app);
    REQUIRE_FALSE(is_compared(app));
    window.draw_frame();
    REQUIRE(change_value(app, "choices.working_pitch", "2.75 deg").empty());
    want_hole_table(app);
    REQUIRE_FALSE(is_compared(app));
    CHECK(find_ghost_key(app).empty());
    ImGui::GetIO().MouseDown[0] = false;
    window.draw_frame();
    CHECK(is_chosen(app.now.setup, other));
}

TEST_CASE("hole table: rows of other holes do not stay", "[gui]") {
    Headless window(setup);
    AppState& app = window.app();
    const std::string name = other_pair(app).numbers.tractor_pin;
    REQUIRE(change_value(app, "tractor.upper_link_pin[" + name + "]", "").empty());
    // A frame that begins a table has one row of it at most.
    want_hole_table(app);
    CHECK(app.hole_table.study.results.empty());
    CHECK(is_comparing(app));
    window.settle();
    CHECK(is_compared(app));
    for (const HoleResult& r : app.hole_table.study.results) CHECK(r.numbers.tractor_pin != name);
    CHECK_FALSE(app.hole_table.study.results.empty());
}

TEST_CASE("hole table: in a room of its own every row says the length of the link, wide or narrow", "[gui]") {
    for (const float width : {800.0F, 1280.0F, 2560.0F}) {
        Headless window(setup, {}, {width, 900.0F});
        window.app().view.side_room = SideRoom::holes;
        window.settle();
        const std::vector<test::ScreenWords> words = test::read_screen();
        REQUIRE_FALSE(window.app().hole_table.study.results.empty());
        for (const HoleResult& r : window.app().hole_table.study.results) {
            INFO(width << ", " << place_of(r));
            const ScreenRect row = window.app().view.places.at(place_of(r));
            const std::string length = format_length(r.numbers.upper_length, UnitSystem::inch);
            CHECK(std::any_of(words.begin(), words.end(), [&](const test::ScreenWords& w) {
                return w.text.find(length) != std::string::npos && w.least.x >= row.left && w.least.y >= row.top && w.most.y <= row.bottom;
            }));
        }
    }
}
