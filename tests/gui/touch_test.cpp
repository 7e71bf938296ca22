// A window of a phone: one column, controls a finger can hit, and what fingers do.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>

#include "gui/rooms.h"
#include "gui/screen_keyboard.h"
#include "gui/touch.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

#include <imgui_internal.h>

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const ImVec2 phone{360.0F, 640.0F}, tablet{820.0F, 1180.0F}, bench{1280.0F, 800.0F}, on_its_side{640.0F, 360.0F}, wall{3840.0F, 2160.0F};
constexpr float nine_millimetres = 9.0F / 25.4F * 96.0F;  // of pixels, 96 to an inch as on the page
constexpr double frame = 1.0 / 60.0;

void point_with_finger(Headless& window) {
    window.app().view.touch.coarse = true;
    window.settle(6);
}

void touch(Headless& window, FingerEvent event, ImVec2 at, int id = 1) {
    take_finger(window.app().view.touch, event, {id, at});
}

/// A finger that goes in steps, a frame for each, and stays down.
void go(Headless& window, ImVec2 from, ImVec2 to, int id = 1) {
    constexpr int steps = 8;
    touch(window, FingerEvent::down, from, id);
    window.settle(2);
    for (int i = 1; i <= steps; ++i) {
        const float share = static_cast<float>(i) / static_cast<float>(steps);
        touch(window, FingerEvent::move, {from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)}, id);
        window.settle(1);
    }
}

void lift(Headless& window, ImVec2 at, int id = 1) {
    touch(window, FingerEvent::up, at, id);
    window.settle(6);
}

void tap(Headless& window, ImVec2 at) {
    touch(window, FingerEvent::down, at);
    window.settle(2);
    lift(window, at);
}

ImGuiWindow* find_column() {
    for (ImGuiWindow* w : GImGui->Windows) {
        if (w->Active && std::string_view(w->Name).find("/column_") != std::string_view::npos && std::string_view(w->Name).rfind('/') == std::string_view(w->Name).find("/column_")) return w;
    }
    return nullptr;
}

/// Scrolls the column so that a place is in its middle.
void bring_to_sight(Headless& window, const std::string& place) {
    ImGuiWindow* const column = find_column();
    REQUIRE(column != nullptr);
    // What is out of sight is not drawn: the room below the lift is looked for from its beginning.
    if (!window.is_shown(place)) {
        ImGui::SetScrollY(column, window.app().view.column.tops[window.app().view.column.tops.size() - 2]);
        window.settle(6);
    }
    for (int i = 0; i < 2; ++i) {
        ImGui::SetScrollY(column, std::max(0.0F, column->Scroll.y + window.middle_of(place).y - column->Pos.y - 0.5F * column->Size.y));
        window.settle(3);
    }
}

float top_of(const Headless& window, const std::string& place) { return window.app().view.places.at(place).top; }

/// The controls of this frame that a finger would miss, in words.
std::vector<std::string> find_small_targets(const Headless& window) {
    std::vector<std::string> small;
    for (const auto& [name, place] : window.app().view.places) {
        if (!place.pressed || place.frame != ImGui::GetFrameCount()) continue;
        if (place.right - place.left < nine_millimetres || place.bottom - place.top < nine_millimetres)
            small.push_back(name + ": " + std::to_string(place.right - place.left) + " x " + std::to_string(place.bottom - place.top));
    }
    return small;
}

const char* const demos[] = {"compact-tiller-bottoms-out", "utility-drawn-cutter-short"};

}  // namespace

TEST_CASE("phone: verdict, drawing, lift and rooms stand one below the other, cautions in sight", "[gui]") {
    for (const char* demo : demos) {
        for (const ImVec2 size : {phone, tablet}) {
            CAPTURE(demo, size.x);
            Headless window(demo, {}, size);
            point_with_finger(window);
            const std::string picture = window.is_shown("side view") ? "side view" : "drawn picture";
            const std::string lower = window.is_shown("lift") ? "lift" : "turn";
            CHECK(window.app().view.column.on);
            CHECK(top_of(window, "verdict") < top_of(window, picture));
            CHECK(top_of(window, picture) < top_of(window, lower));
            CHECK(top_of(window, lower) < top_of(window, "Findings"));
            CHECK(top_of(window, "Findings") < window.app().view.column.tops.back());
            const ScreenRect cautions = window.app().view.places.at("cautions");
            CHECK(cautions.bottom <= size.y);
            CHECK(cautions.top > 0.6F * size.y);
        }
    }
}

TEST_CASE("phone: a wide window keeps its three columns", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, bench);
    CHECK_FALSE(window.app().view.column.on);
    point_with_finger(window);
    CHECK_FALSE(window.app().view.column.on);
    CHECK(find_small_targets(window).empty());
}

TEST_CASE("phone: every control is 9 mm high and wide and nothing is cut off, in every room from 360x640 to 4K", "[gui]") {
    for (const char* demo : demos) {
        Headless window(demo, {}, phone);
        point_with_finger(window);
        window.app().view.column.more_tools = window.app().view.column.more_picture = true;
        for (const ImVec2 size : {phone, on_its_side, tablet, bench, wall}) {
            for (const RoomEntry<SideRoom>& room : side_rooms()) {
                window.app().view.side_room = room.choice;
                window.resize(size.x, size.y);
                scroll_to_top("column");
                window.settle(4);
                do {
                    window.settle(2);
                    for (const std::string& small : find_small_targets(window)) FAIL_CHECK(demo << ", " << size.x << ", " << room.name << ": " << small);
                    for (const std::string& fault : find_text_faults(window.app().view)) FAIL_CHECK(demo << ", " << size.x << ", " << room.name << ": " << fault);
                } while (scroll_on("column"));
                SUCCEED();
            }
        }
    }
}

TEST_CASE("phone: a finger drags the lift sideways and scrolls up and down over it", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    bring_to_sight(window, "lift");
    const double before = shown_ball_height(window.app());
    const ImVec2 from = window.point_of("lift", 0.3F, 0.5F), to = window.point_of("lift", 0.8F, 0.5F);
    go(window, from, to);
    lift(window, to);
    const HeightRange travel = window.app().results.bands->travel;
    const double dragged = shown_ball_height(window.app());
    CHECK(dragged > before);
    CHECK(dragged == Approx(travel.low + 0.8 * (travel.high - travel.low)).margin(0.08 * (travel.high - travel.low)).epsilon(0));
    const float scrolled = find_column()->Scroll.y;
    go(window, to, {to.x, to.y - 120.0F});
    CHECK(find_column()->Scroll.y == Approx(scrolled + 120.0F).margin(10.0F).epsilon(0));
    CHECK(shown_ball_height(window.app()) == dragged);
    lift(window, {to.x, to.y - 120.0F});
    CHECK(shown_ball_height(window.app()) == dragged);
}

TEST_CASE("phone: a finger that scrolls presses nothing, one that is lifted where it came down does", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    bring_to_sight(window, "Holes");
    const ImVec2 at = window.middle_of("Holes");
    const float scrolled = find_column()->Scroll.y;
    go(window, at, {at.x, at.y - 90.0F});
    lift(window, {at.x, at.y - 90.0F});
    CHECK(find_column()->Scroll.y > scrolled + 80.0F);
    CHECK(window.app().view.side_room == SideRoom::findings);
    window.settle(300);  // until it has come to rest
    CHECK_FALSE(wants_frames(window.app().view.touch));
    bring_to_sight(window, "Holes");
    tap(window, window.middle_of("Holes"));
    CHECK(window.app().view.side_room == SideRoom::holes);
}

TEST_CASE("phone: a finger that moves is no long press, however slow the frames are", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    bring_to_sight(window, "lift");
    const double before = shown_ball_height(window.app());
    const ImVec2 from = window.point_of("lift", 0.3F, 0.5F), to = window.point_of("lift", 0.8F, 0.5F);
    ImGui::GetIO().DeltaTime = 0.7F;
    touch(window, FingerEvent::down, from);
    window.settle(2);
    touch(window, FingerEvent::move, to);
    window.settle(2);
    lift(window, to);
    CHECK(shown_ball_height(window.app()) > before);
}

TEST_CASE("phone: two fingers zoom the picture and move it, and what lay between them stays there", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    const ImVec2 middle = window.point_of("side view", 0.5F, 0.7F);
    const double height = shown_ball_height(window.app());
    touch(window, FingerEvent::down, {middle.x - 40.0F, middle.y}, 1);
    touch(window, FingerEvent::down, {middle.x + 40.0F, middle.y}, 2);
    window.settle(3);
    touch(window, FingerEvent::move, {middle.x - 41.0F, middle.y}, 1);
    touch(window, FingerEvent::move, {middle.x + 41.0F, middle.y}, 2);
    window.settle(2);
    const double begun = window.app().view.camera.scale_denominator;
    CHECK_FALSE(window.app().view.camera.fitted);
    for (int i = 42; i <= 82; i += 4) {
        touch(window, FingerEvent::move, {middle.x - static_cast<float>(i), middle.y}, 1);
        touch(window, FingerEvent::move, {middle.x + static_cast<float>(i), middle.y}, 2);
        window.settle(1);
    }
    CHECK(window.app().view.camera.scale_denominator == Approx(begun * 41.0 / 82.0).epsilon(1e-3));
    const SideCamera zoomed = window.app().view.camera;
    touch(window, FingerEvent::move, {middle.x - 82.0F + 30.0F, middle.y}, 1);
    touch(window, FingerEvent::move, {middle.x + 82.0F + 30.0F, middle.y}, 2);
    window.settle(2);
    CHECK(window.app().view.camera.scale_denominator == Approx(zoomed.scale_denominator).epsilon(1e-6));
    const double metres = 30.0 / static_cast<double>(window.fonts().pixels_per_mm) * zoomed.scale_denominator / 1000.0;
    CHECK(window.app().view.camera.middle.x == Approx(zoomed.middle.x - metres).margin(1e-6).epsilon(0));
    touch(window, FingerEvent::up, {middle.x - 50.0F, middle.y}, 1);
    lift(window, {middle.x + 110.0F, middle.y}, 2);
    CHECK(shown_ball_height(window.app()) == height);
    CHECK_FALSE(can_undo(window.app()));
}

TEST_CASE("phone: a long press shows what hovering shows until the finger is lifted, and presses nothing", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    bring_to_sight(window, "Holes");
    const ImVec2 at = window.middle_of("Holes");
    touch(window, FingerEvent::down, at);
    window.settle(static_cast<int>(0.4 / frame));
    CHECK(window.app().view.hint.empty());
    window.settle(static_cast<int>(0.2 / frame) + 2);
    CHECK(window.app().view.hint.find("upper-link holes") != std::string::npos);
    lift(window, at);
    CHECK(window.app().view.hint.empty());
    CHECK(window.app().view.side_room == SideRoom::findings);
}

TEST_CASE("phone: sideways a finger moves the picture, as the mouse does", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    const ImVec2 corner = window.point_of("side view", 0.92F, 0.3F);
    go(window, corner, {corner.x - 60.0F, corner.y + 20.0F});
    lift(window, {corner.x - 60.0F, corner.y + 20.0F});
    CHECK_FALSE(window.app().view.camera.fitted);
    CHECK_FALSE(can_undo(window.app()));
}

TEST_CASE("phone: up and down over the picture a finger scrolls the column, after a rest it pulls what it came down on", "[gui]") {
    for (const ImVec2 size : {phone, tablet}) {
        CAPTURE(size.x);
        Headless window("compact-tiller-bottoms-out", {}, size);
        point_with_finger(window);
        const AppState& app = window.app();
        const auto find_ball = [&] {
            const auto& points = app.view.picture.points;
            const auto ball = std::find_if(points.begin(), points.end(), [](const PicturePoint& p) { return p.name == "lower hitch point, ball end of the lower link"; });
            REQUIRE(ball != points.end());
            return window.on_screen(ball->at);
        };
        const ImVec2 at = find_ball();
        const double before = shown_ball_height(app);
        touch(window, FingerEvent::down, at);
        window.settle(static_cast<int>(0.6 / frame));
        for (float up = 10.0F; up <= 50.0F; up += 10.0F) {
            touch(window, FingerEvent::move, {at.x, at.y - up});
            window.settle(1);
        }
        CHECK(shown_ball_height(app) > before + 0.02);
        CHECK(find_column()->Scroll.y == 0.0F);
        const double pulled = shown_ball_height(app);
        lift(window, {at.x, at.y - 50.0F});
        CHECK(shown_ball_height(app) == pulled);
        CHECK(app.view.camera.fitted);
        const ImVec2 again = find_ball();
        go(window, again, {again.x + 10.0F, again.y - 60.0F});
        lift(window, {again.x + 10.0F, again.y - 60.0F});
        CHECK(find_column()->Scroll.y > 40.0F);
        CHECK(shown_ball_height(app) == pulled);
        CHECK(app.view.camera.fitted);
    }
}

TEST_CASE("phone: in portrait verdict, drawing and lift are in sight at once, and the drawing is no more than half of it", "[gui]") {
    const ImVec2 page_of_phone{360.0F, 588.0F};  // without the page's own buttons
    for (const char* demo : demos) {
        for (const ImVec2 size : {page_of_phone, phone, tablet}) {
            CAPTURE(demo, size.x, size.y);
            Headless window(demo, {}, size);
            point_with_finger(window);
            const auto& places = window.app().view.places;
            const ScreenRect picture = places.at(window.is_shown("side view") ? "side view" : "drawn picture");
            const ScreenRect lower = places.at(window.is_shown("lift") ? "lift" : "turn");
            CHECK(places.at("verdict").top >= 0.0F);
            CHECK(picture.bottom - picture.top <= 0.52F * size.y);
            CHECK(lower.top + ImGui::GetTextLineHeight() <= places.at("cautions").top);
        }
    }
}

TEST_CASE("phone: a value typed elsewhere is handed to the field in whole", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    AppState& app = window.app();
    app.view.side_room = SideRoom::inputs;
    window.settle(6);
    const std::string key = "choices.upper_link_length";
    bring_to_sight(window, key);
    CHECK_FALSE(find_typed_field(app));
    const auto enter = [&](const char* text, bool takes) {
        tap(window, window.middle_of(key));
        REQUIRE(find_typed_field(app));
        CHECK_FALSE(find_typed_field(app)->label.empty());
        CHECK(find_typed_field(app)->place.right > find_typed_field(app)->place.left);
        if (takes) replace_typed(text);
        window.settle(1);
        for (const bool down : {true, false}) {
            press_end_of_typing(takes, down);
            window.settle(1);
        }
        window.settle(4);
        CHECK_FALSE(find_typed_field(app));
        bring_to_sight(window, key);
    };
    for (const auto& [text, inches] : {std::pair{"23-1/4", 23.25}, {"2' 1\"", 25.0}, {"24.5", 24.5}}) {
        CAPTURE(text);
        enter(text, true);
        CHECK(app.now.setup.choices.upper_link_length.value == Approx(inches * 0.0254).margin(1e-12).epsilon(0));
    }
    enter("26", false);
    CHECK(app.now.setup.choices.upper_link_length.value == Approx(24.5 * 0.0254).margin(1e-12).epsilon(0));
    enter("", true);
    CHECK_FALSE(app.now.setup.choices.upper_link_length.known);
}

TEST_CASE("phone: turned on its side and back it shows the same set-up, changes, lift, picture, room and place", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"choices.lift_stop=25 in"}, ""}, phone);
    point_with_finger(window);
    AppState& app = window.app();
    app.view.side_room = SideRoom::inputs;
    app.view.ball_height = app.results.bands->travel.low + 0.05;
    app.view.camera = {false, {-1.0, 0.6}, 20.0};
    window.settle(6);
    bring_to_sight(window, "choices.working_ball_height");
    const float scrolled = find_column()->Scroll.y;
    const SideCamera camera = app.view.camera;
    for (const ImVec2 size : {on_its_side, tablet, bench, phone}) {
        window.resize(size.x, size.y);
        window.settle(8);
        CHECK(window.is_shown("choices.working_ball_height"));
    }
    CHECK(app.view.side_room == SideRoom::inputs);
    CHECK(app.view.ball_height == app.results.bands->travel.low + 0.05);
    CHECK(app.view.camera == camera);
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=25 in"});
    CHECK(find_column()->Scroll.y == Approx(scrolled).margin(0.15 * static_cast<double>(scrolled)).epsilon(0));
}

TEST_CASE("phone: what leads to an input or to the picture brings it to sight", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, phone);
    point_with_finger(window);
    AppState& app = window.app();
    go_to_input(app, "choices.working_pitch");
    window.settle(8);
    CHECK(app.view.side_room == SideRoom::inputs);
    const ScreenRect place = app.view.places.at("choices.working_pitch");
    CHECK(place.frame == ImGui::GetFrameCount());
    CHECK(place.top >= 0.0F);
    CHECK(place.bottom <= phone.y);
    app.view.column.go_to_picture = true;
    window.settle(3);
    CHECK(find_column()->Scroll.y == 0.0F);
}
