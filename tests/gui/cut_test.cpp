// The room of the cut: the mark stays where gap and overlap are, a drag is one change, and the numbers are geometry's.
#include <catch2/catch.hpp>

#include <cmath>

#include "gui/cut_room.h"
#include "tests/gui/headless.h"

using namespace hitchwright;
using hitchwright::test::Headless;

namespace {

constexpr double inch = 0.0254;

void show_room(Headless& window) {
    window.app().view.side_room = SideRoom::cut;
    window.settle();
}

/// True when the whole shaft cut so keeps gap and overlap: by taking the margins again.
bool keeps(const CutRoom& room, const CutPair& cut) {
    const CutHalves after = cut_halves(room.whole.halves, cut);
    return after.status == CutStatus::ok &&
           keeps_limits(find_margins(after.halves, room.whole.travel, room.whole.limits), room.whole.limits);
}

}  // namespace

TEST_CASE("cut: a drag of the mark stays inside the interval, snaps to marks and is one change", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_room(window);
    const CutRoom room = *find_cut_room(app);
    REQUIRE(room.interval.any);
    CHECK(room.now == CutPair{});
    // From far left to far right, past both ends.
    window.press_at(window.point_of("cut mark", 0.01F, 0.5F));
    REQUIRE(app.view.cut.dragged);
    CHECK(*app.view.cut.dragged == Approx(round_up_to_mark(room.interval.least, app.mark)).margin(1e-12).epsilon(0));
    CHECK(app.view.cut.reason.find("less leaves too little gap") == 0);
    CHECK_FALSE(can_undo(app));  // nothing is written while it is dragged
    window.move_to(window.point_of("cut mark", 0.45F, 0.5F));
    const double between = *app.view.cut.dragged;
    CHECK(std::fabs(between / app.mark.step - std::round(between / app.mark.step)) < 1e-6);
    window.move_to(window.point_of("cut mark", 0.999F, 0.5F));
    CHECK(*app.view.cut.dragged == Approx(round_down_to_mark(room.interval.most, app.mark)).margin(1e-12).epsilon(0));
    CHECK(app.view.cut.reason.find("more leaves too little overlap") == 0);
    window.move_to(window.point_of("cut mark", 0.45F, 0.5F));
    window.release();
    CHECK_FALSE(app.view.cut.dragged);
    CHECK(app.now.setup.choices.cut_tractor_half.value == Approx(between).margin(1e-9).epsilon(0));
    CHECK(app.now.setup.choices.cut_implement_half.value == Approx(between).margin(1e-9).epsilon(0));
    CHECK(app.history.past.size() == 1);
    CHECK(app.results.bands->tubes->bottoms_out.empty());
    CHECK(app.results.bands->tubes->gap_short.empty());
    undo(app);
    CHECK_FALSE(app.now.setup.choices.cut_tractor_half.known);
}

TEST_CASE("cut: arrow keys move the mark by one step inside the interval", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_room(window);
    window.click("recommended cut");
    CHECK(app.now.setup.choices.cut_tractor_half.value == Approx(3.625 * inch).margin(1e-12).epsilon(0));
    window.settle();
    window.click("cut mark");
    const CutInterval interval = find_cut_room(app)->interval;
    const double start = app.now.setup.choices.cut_tractor_half.value;
    window.tap(ImGuiKey_RightArrow);
    CHECK(app.now.setup.choices.cut_tractor_half.value == Approx(start + app.mark.step).margin(1e-9).epsilon(0));
    window.tap(ImGuiKey_Home);
    CHECK(app.now.setup.choices.cut_tractor_half.value ==
          Approx(round_up_to_mark(interval.least, app.mark)).margin(1e-9).epsilon(0));
    window.tap(ImGuiKey_LeftArrow);
    CHECK(app.now.setup.choices.cut_tractor_half.value ==
          Approx(round_up_to_mark(interval.least, app.mark)).margin(1e-9).epsilon(0));
    window.tap(ImGuiKey_End);
    CHECK(app.now.setup.choices.cut_tractor_half.value ==
          Approx(round_down_to_mark(interval.most, app.mark)).margin(1e-9).epsilon(0));
    window.click("whole shaft");
    CHECK_FALSE(app.now.setup.choices.cut_tractor_half.known);
}

TEST_CASE("cut: the room is the same whatever is cut already", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    const CutRoom whole = *find_cut_room(app);
    REQUIRE(change_edits(app, {{"choices.cut_tractor_half=3 in", "choices.cut_implement_half=4 in"}, ""}).empty());
    const CutRoom cut = *find_cut_room(app);
    CHECK(cut.now.a == Approx(3.0 * inch).margin(1e-12).epsilon(0));
    CHECK(cut.whole.halves.closed_length == Approx(whole.whole.halves.closed_length).margin(1e-12).epsilon(0));
    CHECK(cut.whole.halves.tube_b == Approx(whole.whole.halves.tube_b).margin(1e-12).epsilon(0));
    CHECK(cut.interval.least == Approx(whole.interval.least).margin(1e-9).epsilon(0));
    CHECK(cut.interval.most == Approx(whole.interval.most).margin(1e-9).epsilon(0));
    CHECK(cut.whole.plan.recommended.a == Approx(whole.whole.plan.recommended.a).margin(1e-9).epsilon(0));
}

TEST_CASE("cut: unequal halves lose the longer one's surplus first, and the set-up gets both", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"driveline.shaft.implement_tube=17 in"}, ""},
                    {1280.0F, 1000.0F});
    AppState& app = window.app();
    const std::optional<CutRoom> room = find_cut_room(app);
    REQUIRE(room);
    const double surplus = room->whole.halves.tube_a - room->whole.halves.tube_b;
    REQUIRE(std::fabs(surplus) > 0.01);
    REQUIRE(room->interval.any);
    const double x = snap_into(room->interval, 0.5 * (room->interval.least + room->interval.most), app.mark);
    REQUIRE(set_cut(app, *room, x).empty());
    const Choices& c = app.now.setup.choices;
    const double longer = std::max(c.cut_tractor_half.value_or(0.0), c.cut_implement_half.value_or(0.0));
    CHECK(longer == Approx(x).margin(5e-4).epsilon(0));
    CHECK(c.cut_tractor_half.value_or(0.0) - c.cut_implement_half.value_or(0.0) ==
          Approx(surplus > 0 ? std::min(surplus, x) : -std::min(-surplus, x)).margin(5e-4).epsilon(0));
    CHECK(keeps(*room, find_cut_at(room->whole.halves, room->interval.least)));
    CHECK(keeps(*room, find_cut_at(room->whole.halves, room->interval.most)));
    CHECK_FALSE(keeps(*room, find_cut_at(room->whole.halves, room->interval.most + 1e-4)));
}

TEST_CASE("cut: where no cut works the room lists the ways out, with numbers", "[gui]") {
    Headless window("utility-flail-no-cut", {}, {1280.0F, 1200.0F});
    AppState& app = window.app();
    show_room(window);
    const CutRoom room = *find_cut_room(app);
    CHECK_FALSE(room.interval.any);
    CHECK(room.whole.plan.answer == CutAnswer::no_cut_works);
    CHECK(window.is_shown("ways out"));
    REQUIRE_FALSE(app.view.cut.ways_out.empty());
    const std::string closed = format_length(room.whole.plan.closed_at_most, UnitSystem::inch, Rounding::down);
    CHECK(app.view.cut.ways_out.front().find(closed) != std::string::npos);
    // The mark does not move where nothing works.
    window.press_at(window.point_of("cut mark", 0.5F, 0.5F));
    window.release();
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("cut: an implement without a shaft has none, and the cautions stand all the same", "[gui]") {
    Headless window("compact-box-blade");
    show_room(window);
    CHECK_FALSE(find_cut_room(window.app()));
    CHECK_FALSE(window.is_shown("cut mark"));
    CHECK(window.vertices() > 1000);
}
