// A beside B, the ghost in the picture, and the pitch curves of the hole table.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "cli/compare_rows.h"
#include "gui/compare.h"
#include "gui/frame_work.h"
#include "gui/switches.h"
#include "presets/load_setup.h"
#include "report/side_view_scene.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"
#include "tests/gui/work_folder.h"

using namespace hitchwright;
using hitchwright::test::Headless;
using hitchwright::test::screen_says;

namespace {

SideViewScene scene_of(const AppState& app) {
    SideViewScene scene = make_pose_scene(app.now.setup, app.results.analysis, shown_ball_height(app), app.view.units);
    add_ghost(scene, app, shown_ball_height(app));
    return scene;
}

HoleResult other_hole(const AppState& app) {
    for (const HoleResult& r : app.hole_table.study.results) {
        if (!is_chosen(app.now.setup, r.numbers.holes)) return r;
    }
    FAIL("the set-up has only one pair of holes");
    return {};
}

std::string place_of(const HoleResult& r) { return "hole " + r.numbers.tractor_pin + "/" + r.numbers.mast_pin; }

}  // namespace

TEST_CASE("compare: what was remembered is a ghost at the same ball height, and forgetting takes it away", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    app.view.side_room = SideRoom::compare;
    window.settle();
    window.click("Remember as A");
    REQUIRE(app.view.compare.a);
    CHECK(find_ghost_key(app).empty());  // the same as what is shown
    const HoleResult other = other_hole(app);
    const Setup before = app.now.setup;
    const Analysis analysis = app.results.analysis;
    REQUIRE(change_holes(app, other.numbers.holes).empty());
    app.view.ball_height = 0.6;
    window.settle();
    const SideViewScene scene = scene_of(app);
    REQUIRE(scene.lifted);
    const PoseReport pose = make_pose_report(before, analysis.linkage->model, 0.6);
    CHECK(scene.lifted->upper_hitch_point.x == pose.pose.mast_pin.x());
    CHECK(scene.lifted->upper_hitch_point.z == pose.pose.mast_pin.y());
    CHECK(scene.lifted->lower_hitch_point.z == Approx(0.6).margin(1e-12).epsilon(0));
    CHECK(scene.lifted_words.find("A: ") == 0);
    // Its upper link goes to its own hole.
    const auto chosen = [](const TractorView& t) {
        return std::find_if(t.upper_link_pins.begin(), t.upper_link_pins.end(),
                            [](const PinHole& p) { return p.chosen; })
            ->name;
    };
    CHECK(chosen(*scene.lifted_tractor) == before.choices.upper_link_pin);
    CHECK(app.view.picture.ghost == find_ghost_key(app));
    CHECK_FALSE(app.view.picture.ghost.empty());
    window.click("Forget A");
    CHECK_FALSE(app.view.compare.a);
    CHECK(app.view.picture.ghost.empty());
}

TEST_CASE("compare: what differs is what diff says", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    remember_as_a(app);
    REQUIRE(
        change_edits(app, {{"choices.cut_tractor_half=3 5/8 in", "choices.cut_implement_half=3 5/8 in"}, ""}).empty());
    const SetupDifference* d = find_difference(app);
    REQUIRE(d != nullptr);
    REQUIRE(d->values.size() == 2);
    CHECK(d->values.front().key == "choices.cut_tractor_half");
    CHECK(describe_value_difference(d->values.front(), UnitSystem::inch) ==
          "not given -> 3.625 in");
    CHECK(d->old_judgement.analysis->verdict == Verdict::fits_after_change);
    CHECK(d->new_judgement.analysis->verdict == Verdict::fits);
    std::size_t hidden = 0;
    const std::vector<ShownDifference> shown = list_shown_differences(*d, UnitSystem::inch, hidden);
    const auto gap = std::find_if(shown.begin(), shown.end(), [](const ShownDifference& s) {
        return s.old_finding.headline.find("bottoms out") != std::string::npos;
    });
    REQUIRE(gap != shown.end());
    CHECK(gap->old_finding.mark == "CHANGE");
    CHECK(gap->new_finding.mark == "OK");
    // It is made once for a state of both.
    CHECK(find_difference(app) == d);
    undo(app);
    CHECK(find_difference(app)->values.empty());
}

TEST_CASE("compare: A and B over one file swap by one change that undo takes back", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    app.view.side_room = SideRoom::compare;
    window.settle();
    const Setup first = app.now.setup;
    window.click("Remember as A");
    REQUIRE(change_value(app, "choices.upper_link_length", "24 in").empty());
    const Setup second = app.now.setup;
    const std::size_t steps = app.history.past.size();
    window.click("Swap A and B");
    CHECK(app.now.setup == first);
    CHECK(app.view.compare.a->setup == second);
    CHECK(app.history.past.size() == steps + 1);
    window.click("Swap A and B");
    CHECK(app.now.setup == second);
    CHECK(app.view.compare.a->setup == first);
    undo(app);
    CHECK(app.now.setup == first);
}

TEST_CASE("compare: A whose file was written over since is not brought back, and stays A", "[gui]") {
    const hitchwright::test::WorkFolder folder;
    const std::string before =
        "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"\n[implement]\nuse = \"tiller-5\"\n"
        "[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\nmast_pin = \"1\"\n"
        "working_band_low = 12\nworking_band_high = 22\nlift_stop = 27\n";
    hitchwright::test::write("a.toml", before);
    Headless window("a.toml");
    AppState& app = window.app();
    app.view.side_room = SideRoom::compare;
    window.settle();
    window.click("Remember as A");
    window.type_into("choices.lift_stop", "25 in");
    window.click("Write into a file");
    window.settle();
    window.type_into("save by", "A. Turner");
    window.click("Write");
    REQUIRE_FALSE(has_changes(app));
    app.view.side_room = SideRoom::compare;
    window.settle();
    const Setup kept = app.view.compare.a->setup, saved = app.now.setup;
    REQUIRE_FALSE(kept == saved);
    window.click("Swap A and B");
    CHECK(app.view.compare.message.find("Not swapped: ") == 0);
    CHECK(app.view.compare.message.find("A's file has changed since; it cannot be brought back") != std::string::npos);
    CHECK(app.view.compare.a->setup == kept);
    CHECK(app.now.setup == saved);
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("compare: another set-up by name is kept, swapped into the window and back", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    app.view.side_room = SideRoom::compare;
    REQUIRE(change_value(app, "choices.upper_link_length", "24 in").empty());
    window.settle();
    window.type_into("another set-up", "no-such-setup");
    CHECK_FALSE(app.view.compare.a);
    CHECK_FALSE(app.view.compare.message.empty());
    window.type_into("another set-up", "utility-cutter-fits");
    REQUIRE(app.view.compare.a);
    CHECK(app.view.compare.a->name == "utility-cutter-fits");
    const Setup changed = app.now.setup;
    // What is in no file yet would be in none afterwards: nothing is swapped.
    window.click("Swap A and B");
    CHECK(app.view.compare.message.find("in none yet") != std::string::npos);
    CHECK(app.now.setup == changed);
    CHECK(has_changes(app));
    undo(app);
    window.settle();
    const Setup own = app.now.setup;
    window.click("Swap A and B");
    CHECK(app.name == "utility-cutter-fits");
    CHECK(app.now.setup == load_setup("utility-cutter-fits", Library(), {}).setup);
    CHECK(app.view.compare.a->setup == own);
    CHECK_FALSE(has_changes(app));
    window.settle();
    window.click("Swap A and B");
    CHECK(app.name == "compact-tiller-bottoms-out");
    CHECK(app.now.setup == own);
    CHECK_FALSE(has_changes(app));
}

TEST_CASE("compare: a set-up in no file is not given up for another one, and two of one name are told apart", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const std::string text = app.source.text;
    app = open_draft(Library(), text, "pair", UnitSystem::inch, sixteenth_inch_mark);
    remember_as_a(app);
    CHECK(app.view.compare.a->draft == text);
    const KeptSetup first = *app.view.compare.a;
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    REQUIRE(swap_a_and_b(app).empty());
    CHECK(app.now.setup == first.setup);
    CHECK(app.drafted);
    REQUIRE(remember_named_as_a(app, "compact-tiller-bottoms-out").empty());
    CHECK(swap_a_and_b(app).size() == 1);
    CHECK(app.drafted);
    // Another text under the same name is another set-up.
    app.view.compare.a = first;
    app.view.compare.a->draft += "# another pair\n";
    const std::vector<Problem> problems = swap_a_and_b(app);
    REQUIRE(problems.size() == 1);
    CHECK(problems.front().message.find("in none yet") != std::string::npos);
}

TEST_CASE("compare: as opened is A without the changes made since", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    const Setup first = app.now.setup;
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    app.view.side_room = SideRoom::compare;
    window.settle();
    window.click("As opened is A");
    CHECK(app.view.compare.a->setup == first);
    CHECK(app.view.compare.a->analysis.verdict == analyze(first, app.mark).verdict);
}

TEST_CASE("holes: the row under the cursor is a ghost with its own holes while the cursor is there", "[gui]") {
    Headless window("utility-cutter-wrong-hole");
    AppState& app = window.app();
    const HoleResult other = other_hole(app);
    window.move_to(window.middle_of(place_of(other)));
    window.settle();
    REQUIRE(app.view.compare.hovered);
    CHECK(*app.view.compare.hovered == other.numbers.holes);
    const SideViewScene scene = scene_of(app);
    REQUIRE(scene.lifted);
    const Setup there = choose_holes(app.now.setup, other.numbers.holes);
    const PoseReport pose = make_pose_report(there, other.analysis.linkage->model, shown_ball_height(app));
    CHECK(scene.lifted->pitch == pose.pose.pitch);
    CHECK(scene.lifted_words.find("hole " + other.numbers.tractor_pin) == 0);
    CHECK_FALSE(can_undo(app));
    window.move_to({5.0F, 5.0F});
    window.settle();
    CHECK_FALSE(app.view.compare.hovered);
    CHECK(app.view.picture.ghost.empty());
}

TEST_CASE("holes: every row has its pitch over the travel, on one scale", "[gui]") {
    Headless window("utility-cutter-wrong-hole", {}, {1600.0F, 1000.0F});
    AppState& app = window.app();
    app.view.side_room = SideRoom::holes;
    window.settle();
    const HoleCurves& all = app.hole_table.curves;
    REQUIRE(all.curves.size() == app.hole_table.study.results.size());
    REQUIRE_FALSE(all.curves.empty());
    for (std::size_t i = 0; i < all.curves.size(); ++i) {
        const HoleResult& r = app.hole_table.study.results[i];
        CHECK(window.is_shown("pitch curve " + r.numbers.tractor_pin + "/" + r.numbers.mast_pin));
        REQUIRE_FALSE(all.curves[i].empty());
        CHECK(all.curves[i].back().pitch == Approx(r.numbers.pitch_top).margin(1e-9).epsilon(0));
        const PitchPoint middle = all.curves[i][all.curves[i].size() / 2];
        const Setup there = choose_holes(app.now.setup, r.numbers.holes);
        CHECK(make_pose_report(there, r.analysis.linkage->model, middle.ball_height).pose.pitch == Approx(middle.pitch).margin(1e-12).epsilon(0));
        for (const PitchPoint& p : all.curves[i]) {
            CHECK(p.pitch >= all.pitch_low);
            CHECK(p.pitch <= all.pitch_high);
            CHECK(p.ball_height >= all.height_low);
            CHECK(p.ball_height <= all.height_high);
        }
    }
    CHECK(is_compared(app));
    const ScreenRect room = app.view.places.at("holes");
    const ScreenRect curve = app.view.places.at("pitch curve 1/1");
    CHECK(curve.right <= room.right + 1.0F);
    CHECK(curve.bottom - curve.top > 20.0F);
}

namespace {

/// What is drawn of A, by the names its parts have.
std::vector<std::string> list_ghosts(const Drawing& d) {
    std::vector<std::string> names;
    for (const Shape& s : d.shapes) {
        if (s.role == Role::ghost) names.push_back(s.name);
    }
    return names;
}

const Shape* find_ghost_named(const Drawing& d, std::string_view name) {
    const auto found = std::find_if(d.shapes.begin(), d.shapes.end(), [&](const Shape& s) { return s.role == Role::ghost && s.name == name; });
    return found == d.shapes.end() ? nullptr : &*found;
}

bool has_label(const Drawing& d, std::string_view start) {
    return std::any_of(d.labels.begin(), d.labels.end(), [&](const Label& l) { return l.text.starts_with(start); });
}

}  // namespace

TEST_CASE("compare: A of a drawn implement is dashed from above and from the side, with its own pin and words", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    AppState& app = window.app();
    remember_as_a(app);
    const DrawnModel before = app.results.analysis.drawn->model;
    REQUIRE(change_value(app, "choices.drawbar_pin", "short").empty());
    const DrawnModel now = app.results.analysis.drawn->model;
    REQUIRE(now.driveline.pin.x < before.driveline.pin.x - 0.05);
    app.view.attitude = Attitude{now.level_pitch + 0.05, 0.0, 0.3};
    for (const DrawnPicture kind : {DrawnPicture::plan, DrawnPicture::side}) {
        app.view.drawn_picture = kind;
        window.settle();
        const bool above = kind == DrawnPicture::plan;
        INFO((above ? "from above" : "from the side"));
        const Drawing& d = app.view.placed_drawn.drawing;
        const Shape* pin = find_ghost_named(d, "pin, compared");
        REQUIRE(pin);
        CHECK(std::get<Marker>(pin->form).at == DrawingPoint{before.driveline.pin.x, above ? before.driveline.pin.y : before.driveline.pin.z});
        // Its shaft stands at A's own pin, turned and dipped as B's.
        const Shape* shaft = find_ghost_named(d, "shaft, compared");
        REQUIRE(shaft);
        const DrawnState<double> state = find_drawn_state(before, {before.level_pitch + 0.05, 0.0, 0.3});
        const std::vector<DrawingPoint>& line = std::get<Polyline>(shaft->form).points;
        CHECK(line.back().x == Approx(state.shaft.to.x).margin(1e-9).epsilon(0));
        CHECK(line.back().z == Approx(above ? state.shaft.to.y : state.shaft.to.z).margin(1e-9).epsilon(0));
        // One bar for each of the implement's, and the wheels: nothing else is dashed.
        std::size_t bars = 0;
        for (const PlanBar& b : app.now.setup.implement.drawn.bars) bars += find_ghost_named(d, b.name) != nullptr ? 1U : 0U;
        CHECK(bars == app.now.setup.implement.drawn.bars.size());
        CHECK(list_ghosts(d).size() == bars + (above ? 2 : 1) * app.now.setup.implement.ground_contacts.size() + 3);
        CHECK(has_label(d, "A: "));
        CHECK(screen_says("A: "));
        CHECK(app.view.placed_drawn.ghost == find_ghost_key(app));
        const std::optional<DrawingBox>& box = app.view.fitted_box.box;
        REQUIRE(box);
        CHECK(box->most.x >= std::get<Marker>(pin->form).at.x);
    }
    forget_a(app);
    window.settle();
    CHECK(find_ghost_named(app.view.placed_drawn.drawing, "pin, compared") == nullptr);
    CHECK_FALSE(has_label(app.view.placed_drawn.drawing, "A: "));
    CHECK_FALSE(list_ghosts(app.view.placed_drawn.drawing).empty());  // the pitches judged are dashed again
}

TEST_CASE("compare: A crosses the same ditch dashed, at the same place, and another ditch not at all", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    AppState& app = window.app();
    remember_as_a(app);
    REQUIRE(change_value(app, "choices.drawbar_pin", "short").empty());
    app.view.side_room = SideRoom::compare;
    app.view.drawn_picture = DrawnPicture::ditch;
    app.view.ditch_place = 0.5;
    window.settle();
    const Shape* pin = find_ghost_named(app.view.placed_drawn.drawing, "pin, compared");
    REQUIRE(pin);
    const auto& stations = app.view.compare.a->analysis.drawn->ditch->study->ways.front().stations;
    const auto near = std::min_element(stations.begin(), stations.end(), [](const DitchStation& a, const DitchStation& b) {
        return std::fabs(a.pose.place - 0.5) < std::fabs(b.pose.place - 0.5);
    });
    CHECK(std::get<Marker>(pin->form).at == DrawingPoint{near->pose.pin.x(), near->pose.pin.z()});
    CHECK(has_label(app.view.placed_drawn.drawing, "A: "));
    CHECK_FALSE(screen_says("it does not cross this ground here"));
    REQUIRE(change_value(app, "choices.ditch.depth", "10 in").empty());
    window.settle();
    CHECK(find_ghost_named(app.view.placed_drawn.drawing, "pin, compared") == nullptr);
    CHECK(screen_says("A is not drawn in the ditch: it does not cross this ground here."));
    app.view.drawn_picture = DrawnPicture::chart;
    window.settle();
    CHECK(screen_says("Turn and dip shows B alone; A is drawn from above and from the side."));
}

TEST_CASE("compare: A's words stand in every drawn picture or under it, and nothing else is dashed in an oblique ditch", "[gui]") {
    for (const ImVec2 size : {ImVec2{800.0F, 600.0F}, ImVec2{1280.0F, 800.0F}}) {
        Headless window("utility-drawn-cutter-fits", {{"choices.ditch.crossing_angle=45 deg"}, ""}, size);
        AppState& app = window.app();
        app.view.drawn_picture = DrawnPicture::ditch;
        window.settle();
        const auto count = [&] {
            const auto& shapes = app.view.placed_drawn.drawing.shapes;
            return std::count_if(shapes.begin(), shapes.end(), [](const Shape& s) { return s.role == Role::ghost && s.name.empty(); });
        };
        CHECK(count() > 0);
        remember_as_a(app);
        REQUIRE(change_value(app, "choices.drawbar_pin", "short").empty());
        for (const DrawnPicture picture : {DrawnPicture::plan, DrawnPicture::side, DrawnPicture::ditch}) {
            INFO(size.x << " " << static_cast<int>(picture));
            app.view.drawn_picture = picture;
            window.settle();
            CHECK((screen_says("A: ") || screen_says("No room")));
        }
        CHECK(find_ghost_named(app.view.placed_drawn.drawing, "pin, compared"));
        CHECK(count() == 0);
    }
}

TEST_CASE("compare: a mounted A beside a drawn B is not drawn, and the room says so", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    AppState& app = window.app();
    REQUIRE(remember_named_as_a(app, "utility-cutter-fits").empty());
    app.view.side_room = SideRoom::compare;
    window.settle();
    CHECK(screen_says("A is not drawn: one of the two is mounted on the linkage and the other drawn on the drawbar."));
    CHECK(find_ghost_named(app.view.placed_drawn.drawing, "pin, compared") == nullptr);
}

TEST_CASE("compare: the switches are those of the command line, with their verdicts, looked for while the window goes on", "[gui]") {
    Headless window("utility-cutter-wrong-hole");
    AppState& app = window.app();
    app.view.side_room = SideRoom::compare;
    window.settle();
    const std::vector<Variant> variants = list_variants(app.now.setup);
    REQUIRE(variants.size() >= 4);
    // How many frames it takes hangs on the machine.
    for (int i = 0; i < 200 && wants_frames(app); ++i) window.draw_frame();
    const std::vector<VariantAnswer> expected = study_variants(app.now.setup, variants, app.mark);
    for (std::size_t i = 0; i < variants.size(); ++i) {
        const VariantAnswer* a = find_switch_answer(app, i);
        REQUIRE(a != nullptr);
        CHECK(a->variant == variants[i]);
        CHECK(a->analysis.findings == expected[i].analysis.findings);
    }
    CHECK_FALSE(has_switches_left(app));
    CHECK(screen_says("What one switch changes"));
    // At rest nothing is looked for any more.
    CHECK_FALSE(wants_frames(app));
}

TEST_CASE("compare: a switch keeps the set-up as A and is one change that undo takes back", "[gui]") {
    for (const std::string word : {"upper_link_pin=2", "tyres=narrow"}) {
        CAPTURE(word);
        Headless window("utility-cutter-wrong-hole");
        AppState& app = window.app();
        app.view.side_room = SideRoom::compare;
        window.settle();
        const Setup before = app.now.setup;
        const std::vector<Variant> variants = list_variants(before);
        const auto wanted = std::find_if(variants.begin(), variants.end(), [&](const Variant& v) { return format_switch(v) == word; });
        REQUIRE(wanted != variants.end());
        const std::size_t steps = app.history.past.size();
        REQUIRE(throw_switch(app, *wanted).empty());
        window.settle();
        CHECK(app.now.setup == apply_variant(before, *wanted));
        REQUIRE(app.view.compare.a);
        CHECK(app.view.compare.a->setup == before);
        CHECK(app.history.past.size() == steps + 1);
        CHECK_FALSE(find_ghost_key(app).empty());
        const SetupDifference* d = find_difference(app);
        REQUIRE(d != nullptr);
        // Every finding of both stands in the rows of the room.
        const std::vector<CompareRow> rows = list_compare_rows(*d, app.view.units);
        const auto in_b = std::count_if(rows.begin(), rows.end(), [](const CompareRow& r) { return r.findings.new_finding != nullptr; });
        CHECK(static_cast<std::size_t>(in_b) == app.results.analysis.findings.size());
        undo(app);
        CHECK(app.now.setup == before);
    }
}

TEST_CASE("compare: a switch that cannot be thrown changes nothing, A neither", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Setup before = app.now.setup;
    CHECK_FALSE(throw_switch(app, {VariantKind::tyres, false, "", "no such tyres", {}}).empty());
    CHECK(app.now.setup == before);
    CHECK_FALSE(app.view.compare.a);
}
