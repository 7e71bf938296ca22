// The room of the cut: the mark stays where gap and overlap are, a drag is one change, and the numbers are geometry's.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "gui/cut_room.h"
#include "report/cut_report.h"
#include "report/exact_cut.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using hitchwright::test::Headless;
using hitchwright::test::screen_says;

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

TEST_CASE("cut: with cuts in the set-up the headline is the plan of the halves as they are", "[gui]") {
    Headless window("compact-tiller-bottoms-out",
                    {{"choices.cut_tractor_half=3 5/8 in", "choices.cut_implement_half=3 5/8 in"}, ""},
                    {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_room(window);
    const CutRoom room = *find_cut_room(app);
    CHECK(room.whole.plan.answer == CutAnswer::cut_to_aim);
    CHECK(screen_says("NO CUT NEEDED: gap and overlap are kept as the shaft is."));
    CHECK(screen_says("Cuts of the set-up are counted as made: 3 5/8 in tractor half, 3 5/8 in implement half."));
    CHECK(screen_says("In the set-up already: 3 5/8 in from each half: both tubes and both guard tubes; counted from the "
                      "uncut shaft, 3 5/8 in of it already in the set-up."));
    CHECK_FALSE(screen_says("CUT 3 5/8 in from each half"));
    window.app().view.places.erase("recommended cut");
    window.settle();
    CHECK_FALSE(window.is_shown("recommended cut"));
    // Too little cut: the rest is asked for, and the button sets the whole of it.
    REQUIRE(change_edits(app, {{"choices.cut_tractor_half=2 in", "choices.cut_implement_half=2 in"}, ""}).empty());
    window.settle();
    CHECK(screen_says("CUT 1 5/8 in from each half: both tubes and both guard tubes."));
    window.click("recommended cut");
    CHECK(app.now.setup.choices.cut_tractor_half.value == Approx(3.625 * inch).margin(1e-12).epsilon(0));
}

TEST_CASE("cut: too close to call is said of the halves that the headline speaks about", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    show_room(window);
    int close = 0, clear = 0;
    for (const char* cut : {"2 in", "3 1/16 in", "3 5/8 in", "5 in"}) {
        REQUIRE(change_edits(app, {{std::string("choices.cut_tractor_half=") + cut,
                                    std::string("choices.cut_implement_half=") + cut},
                                   ""})
                    .empty());
        window.settle();
        const bool said = is_too_close(*make_cut_case(app.now.setup, app.results.analysis));
        CHECK(screen_says("Too close to call") == said);
        ++(said ? close : clear);
    }
    CHECK(close > 0);
    CHECK(clear > 0);
}

TEST_CASE("cut: guard tubes that meet at a cut inside the interval are warned of", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"driveline.guard.closed_length=34 in"}, ""}, {1280.0F, 1400.0F});
    AppState& app = window.app();
    show_room(window);
    CHECK(screen_says("At the recommended cut: The guard tubes meet"));
    window.click("recommended cut");
    window.settle();
    CHECK(screen_says("Keeps gap and overlap of the steel tubes from"));
    CHECK_FALSE(screen_says("Works from"));
    CHECK(screen_says("At this cut: The guard tubes meet"));
    // By hand: closed 34 in less the cut, against the shortest length.
    const CutRoom room = *find_cut_room(app);
    const double meet = (34.0 - 3.625) * inch - room.whole.travel.shortest;
    REQUIRE(meet > 0.0);
    const std::vector<CutNumber> numbers = list_cut_numbers(make_cut_picture(room, room.now), {UnitSystem::inch});
    const auto row = std::find_if(numbers.begin(), numbers.end(), [](const CutNumber& n) {
        return n.what.find("guard tubes: room at the shortest") == 0;
    });
    REQUIRE(row != numbers.end());
    CHECK(row->bad_after);
    CHECK(row->after == "meet by " + format_length(meet, UnitSystem::inch, Rounding::up));
}

TEST_CASE("cut: either half is shown as it is written, on its own mark or to the last digit", "[gui]") {
    // Tubes 10 mm apart: what is a sixteenth on one is none on the other.
    Headless window("compact-tiller-bottoms-out",
                    {{"driveline.shaft.tractor_tube=495 mm", "driveline.shaft.implement_tube=485 mm"}, ""},
                    {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_room(window);
    const CutRoom room = *find_cut_room(app);
    REQUIRE(set_cut(app, room, 3.625 * inch).empty());
    window.settle();
    CHECK(find_value(app.now.edits, "choices.cut_tractor_half") == "3 5/8 in");
    CHECK(find_value(app.now.edits, "choices.cut_implement_half") == "82.075 mm");  // 92.075 - 10
    CHECK(is_on_cut_line(find_cut_room(app)->whole.halves, find_cut_room(app)->now));
    CHECK(screen_says("3 5/8 in from the tractor half and 82.075 mm from the implement half"));
    CHECK(format_exact_cut({0.082075, 0.092075}, sixteenth_inch_mark, UnitSystem::inch) ==
          "82.075 mm from the tractor half and 3 5/8 in from the implement half, each with its guard tube");
}

TEST_CASE("cut: Escape, another set-up or a room that was left end a drag, and nothing is written", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_room(window);
    const auto begin = [&] {
        window.press_at(window.point_of("cut mark", 0.45F, 0.5F));
        REQUIRE(app.view.cut.dragged);
    };
    begin();
    window.tap(ImGuiKey_Escape);
    CHECK_FALSE(app.view.cut.dragged);
    window.release();
    CHECK_FALSE(can_undo(app));

    begin();
    app.view.side_room = SideRoom::findings;
    window.settle();
    window.release();
    app.view.side_room = SideRoom::cut;
    window.settle();
    CHECK_FALSE(app.view.cut.dragged);
    CHECK_FALSE(can_undo(app));

    begin();
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    window.settle();
    CHECK_FALSE(app.view.cut.dragged);
    window.release();
    CHECK_FALSE(app.now.setup.choices.cut_tractor_half.known);
    CHECK(app.history.past.size() == 1);
}

TEST_CASE("cut: a cut is written in the form that the set-up has, so that nothing typed shadows it", "[gui]") {
    Headless window("compact-tiller-bottoms-out",
                    {{"choices.cut_tractor_half.value=2 in", "choices.cut_tractor_half.origin=measured"}, ""});
    AppState& app = window.app();
    REQUIRE(set_cut(app, *find_cut_room(app), 3.625 * inch).empty());
    CHECK(app.now.setup.choices.cut_tractor_half.value == Approx(3.625 * inch).margin(1e-12).epsilon(0));
    CHECK(app.now.setup.choices.cut_implement_half.value == Approx(3.625 * inch).margin(1e-12).epsilon(0));
    REQUIRE(set_cut(app, *find_cut_room(app), 0.0).empty());
    CHECK_FALSE(app.now.setup.choices.cut_tractor_half.known);
}

TEST_CASE("cut: while nothing is cut the recommended cut stands beside the whole shaft", "[gui]") {
    {
        const Headless no_cut("utility-flail-no-cut");
        CHECK(find_compared_cut(no_cut.app(), *find_cut_room(no_cut.app())).name.empty());
    }
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_room(window);
    const NamedCut none = find_compared_cut(app, *find_cut_room(app));
    CHECK(none.name == "recommended");
    CHECK(none.cut == find_cut_room(app)->whole.plan.recommended);
    CHECK(screen_says("recommended"));
    window.click("recommended cut");
    CHECK(find_compared_cut(app, *find_cut_room(app)).name == "cut");
}

TEST_CASE("cut: arrow keys on a mark that was clicked leave the lift where it stands", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1000.0F});
    AppState& app = window.app();
    show_room(window);
    window.click("recommended cut");
    window.settle();
    const double height = shown_ball_height(app);
    window.tap(ImGuiKey_LeftArrow);
    const double moved = shown_ball_height(app);
    CHECK(moved < height);  // nothing else has the keyboard
    window.click("cut mark");
    const double start = app.now.setup.choices.cut_tractor_half.value;
    for (int i = 0; i < 3; ++i) window.tap(ImGuiKey_RightArrow);
    CHECK(app.now.setup.choices.cut_tractor_half.value > start);
    CHECK(shown_ball_height(app) == moved);
    window.tap(ImGuiKey_Home);
    window.tap(ImGuiKey_End);
    CHECK(shown_ball_height(app) == moved);
}
