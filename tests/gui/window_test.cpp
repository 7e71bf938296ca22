// The window without a screen: what a person does with mouse and keys, and what the state says afterwards.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include "gui/ditch_place.h"
#include "gui/travel_tracks.h"
#include "presets/load_setup.h"
#include "tests/gui/headless.h"

using namespace hitchwright;
using hitchwright::test::Headless;

namespace {

constexpr double inch = 0.0254;

/// A row of the hole table whose holes are not those in use.
HoleResult other_hole(const AppState& app) {
    for (const HoleResult& r : app.hole_table.study.results) {
        if (!is_chosen(app.now.setup, r.numbers.holes)) return r;
    }
    FAIL("the set-up has only one pair of holes");
    return {};
}

std::string place_of(const HoleResult& r) { return "hole " + r.numbers.tractor_pin + "/" + r.numbers.mast_pin; }

/// The tracks at a ball height, by label.
std::vector<TravelTrack> tracks_at(const AppState& app, double height) {
    return list_tracks(app, make_pose_report(app.now.setup, app.results.analysis.linkage->model, height));
}

const TravelTrack& pick(const std::vector<TravelTrack>& tracks, std::string_view label) {
    for (const TravelTrack& t : tracks) {
        if (t.label == label) return t;
    }
    FAIL("no track " << label);
    return tracks.front();
}

const Edits fitted_parts{{"coupler.fitted=true", "coupler.set_back=4 in", "coupler.hook_height=15 in", "coupler.hook_depth=4 in",
                          "coupler.pin_height=18 in", "overrunning_clutch.fitted=false", "overrunning_clutch.added_length=2 3/4 in"},
                         ""};

}  // namespace

TEST_CASE("window: dragging the lift slider moves the pose to that share of the travel", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    const HeightRange travel = window.app().results.bands->travel;
    const double before = shown_ball_height(window.app());
    CHECK(before == Approx(15.0 * inch).margin(1e-12).epsilon(0));
    // The control is six pixels wider than the track at both ends.
    const auto at_share = [&](double share) {
        const ScreenRect r = window.app().view.places.at("lift");
        return ImVec2{r.left + 6.0F + static_cast<float>(share) * (r.right - r.left - 12.0F), (r.top + r.bottom) / 2.0F};
    };
    const double pixel = (travel.high - travel.low) / 200.0;  // a track is never narrower than 200 pixels here
    window.press_at(at_share(0.25));
    CHECK(shown_ball_height(window.app()) == Approx(travel.low + 0.25 * (travel.high - travel.low)).margin(pixel).epsilon(0));
    window.move_to(at_share(0.75));
    window.release();
    CHECK(shown_ball_height(window.app()) == Approx(travel.low + 0.75 * (travel.high - travel.low)).margin(pixel).epsilon(0));
    // The picture was placed anew for that height, and nothing of the set-up changed.
    CHECK(window.app().view.picture.ball_height == shown_ball_height(window.app()));
    CHECK_FALSE(can_undo(window.app()));
    window.click("At work");
    CHECK(shown_ball_height(window.app()) == before);
}

TEST_CASE("window: a lift dragged past either end stays inside the travel", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    const HeightRange travel = window.app().results.bands->travel;
    window.press_at(window.middle_of("lift"));
    window.move_to({-5000.0F, 300.0F});
    CHECK(shown_ball_height(window.app()) == travel.low);
    window.move_to({9000.0F, 300.0F});
    window.release();
    CHECK(shown_ball_height(window.app()) == travel.high);
}

TEST_CASE("window: a click on a hole row switches the hole, the numbers and the verdict, and undo restores them", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    const Setup before = window.app().now.setup;
    const Verdict verdict = window.app().results.analysis.verdict;
    const double length = window.app().results.analysis.linkage->model.linkage.upper_length;
    const double pitch_at_top = window.app().results.analysis.linkage->high.pose.pitch;
    const HoleResult other = other_hole(window.app());
    window.click(place_of(other));
    const AppState& app = window.app();
    CHECK(app.now.setup.choices.upper_link_pin == other.numbers.tractor_pin);
    CHECK(app.now.setup.choices.mast_pin == other.numbers.mast_pin);
    // The row had promised what the whole analysis now says.
    CHECK(app.results.analysis.verdict == other.analysis.verdict);
    CHECK(app.results.analysis.linkage->model.linkage.upper_length ==
          Approx(other.numbers.upper_length).margin(1e-12).epsilon(0));
    // Two holes may want the same length; the pitch at the top tells them apart.
    CHECK(app.results.analysis.linkage->high.pose.pitch == Approx(other.numbers.pitch_top).margin(1e-9).epsilon(0));
    CHECK(app.results.analysis.linkage->high.pose.pitch != pitch_at_top);
    REQUIRE(has_changes(app));
    CHECK(window.is_shown("unsaved"));
    window.click("Undo");
    CHECK(app.now.setup == before);
    CHECK(app.results.analysis.verdict == verdict);
    CHECK(app.results.analysis.linkage->model.linkage.upper_length == length);
    CHECK_FALSE(has_changes(app));
    window.click("Redo");
    CHECK(app.now.setup.choices.upper_link_pin == other.numbers.tractor_pin);
}

TEST_CASE("window: a length typed into a field counts, in the unit of the screen", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    const AppState& app = window.app();
    window.type_into("choices.upper_link_length", "24 1/2");
    CHECK(app.now.setup.choices.upper_link_length.value == Approx(24.5 * inch).margin(1e-12).epsilon(0));
    CHECK(app.results.analysis.linkage->model.upper_link_source == UpperLinkSource::typed);
    window.click("mm");
    CHECK(app.view.units == UnitSystem::millimetre);
    window.type_into("choices.upper_link_length", "600");
    CHECK(app.now.setup.choices.upper_link_length.value == Approx(0.6).margin(1e-12).epsilon(0));
    window.click("link for pitch");
    CHECK_FALSE(app.now.setup.choices.upper_link_length.known);
    CHECK(app.results.analysis.linkage->model.upper_link_source == UpperLinkSource::for_working_pitch);
}

TEST_CASE("window: rubbish in a length field is refused with a reason, kept in sight, and the old value counts",
          "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    const AppState& app = window.app();
    const Setup before = app.now.setup;
    for (const char* typed : {"rubbish", "1e400", "nan", "-7 ft", "3 1/0", "12 kg", "99999 in", "23,5", "\xC3\x28"}) {
        INFO("typed " << typed);
        window.type_into("choices.lift_stop", typed);
        CHECK(app.now.setup == before);
        const auto field = app.view.fields.find("choices.lift_stop");
        REQUIRE(field != app.view.fields.end());
        CHECK_FALSE(field->second.message.empty());
        CHECK(field->second.message.find("nan)") == std::string::npos);
        CHECK_FALSE(field->second.text.empty());
        CHECK_FALSE(can_undo(app));
    }
    window.type_into("choices.lift_stop", "26 in");
    CHECK(app.now.setup.choices.lift_stop.value == Approx(26.0 * inch).margin(1e-12).epsilon(0));
    CHECK((app.view.fields.count("choices.lift_stop") == 0 || app.view.fields.at("choices.lift_stop").message.empty()));
}

TEST_CASE("window: the proposed cut tried takes the bottoming away", "[gui]") {
    // High enough for the button to be in sight without scrolling.
    Headless window("compact-tiller-bottoms-out", {}, {1280.0F, 1100.0F});
    const AppState& app = window.app();
    REQUIRE(app.results.analysis.verdict == Verdict::fits_after_change);
    REQUIRE_FALSE(app.results.bands->tubes->bottoms_out.empty());
    window.click("Try this cut");
    CHECK(app.now.setup.choices.cut_tractor_half.value == Approx(3.625 * inch).margin(1e-12).epsilon(0));
    CHECK(app.results.analysis.verdict == Verdict::fits);
    CHECK(app.results.bands->tubes->bottoms_out.empty());
    CHECK(app.results.bands->tubes->gap_short.empty());
}

TEST_CASE("window: another shaft takes the cuts of the one before with it, and says so", "[gui]") {
    Headless window("compact-tiller-bottoms-out",
                    {{"choices.cut_tractor_half=2 in", "choices.cut_implement_half=2 in"}, ""});
    AppState& app = window.app();
    REQUIRE(app.now.setup.choices.cut_tractor_half.known);
    REQUIRE(change_driveline(app, "shaft-28").empty());
    CHECK(app.now.setup.driveline.key == "shaft-28");
    CHECK_FALSE(app.now.setup.choices.cut_tractor_half.known);
    CHECK_FALSE(app.view.notice.empty());
    undo(app);
    CHECK(app.now.setup.choices.cut_tractor_half.known);
}

TEST_CASE("window: what the screen shows is what --set gives", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    window.type_into("choices.upper_link_length", "24 in");
    window.type_into("choices.working_ball_height", "400 mm");
    const AppState& app = window.app();
    const LoadedSetup loaded = load_setup("compact-tiller-bottoms-out", Library(), {app.now.edits.sets, ""});
    REQUIRE(loaded.ok());
    CHECK(loaded.setup == app.now.setup);
    CHECK(list_options(app.now.edits) == std::vector<std::string>{"--set 'choices.upper_link_length=24 in'",
                                                                  "--set 'choices.working_ball_height=400 mm'"});
}

TEST_CASE("window: wheel zooms about the cursor, drag pans, the button fits again", "[gui]") {
    Headless window("utility-cutter-fits");
    const AppState& app = window.app();
    REQUIRE(app.view.camera.fitted);
    window.wheel(window.middle_of("side view"), 4.0F);
    CHECK_FALSE(app.view.camera.fitted);
    const double zoomed = app.view.camera.scale_denominator;
    window.wheel(window.middle_of("side view"), 2.0F);
    CHECK(app.view.camera.scale_denominator < zoomed);
    const DrawingPoint middle = app.view.camera.middle;
    // Beside the machine: what is dragged there is the picture.
    window.press_at(window.point_of("side view", 0.97F, 0.6F));
    window.move_to(window.point_of("side view", 0.87F, 0.5F));
    window.release();
    // Dragged to the left and up: the middle of the panel now shows what lay to the right and below.
    CHECK(app.view.camera.middle.x > middle.x);
    CHECK(app.view.camera.middle.z < middle.z);
    window.click("Fit to window");
    CHECK(app.view.camera.fitted);
}

TEST_CASE("window: any size is drawn, from a stamp to a wall", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    for (const auto& [width, height] : std::vector<std::pair<float, float>>{
             {1024.0F, 700.0F}, {400.0F, 300.0F}, {120.0F, 90.0F}, {8.0F, 8.0F}, {1.0F, 1.0F}, {5000.0F, 3000.0F}, {300.0F, 2000.0F}}) {
        INFO(width << " x " << height);
        window.resize(width, height);
        CHECK(window.vertices() > 0);
    }
    window.resize(1280.0F, 800.0F);
    CHECK(window.is_shown("side view"));
}

TEST_CASE("window: cautions stand on the screen at every size that shows anything, with and without findings", "[gui]") {
    for (const char* setup : {"compact-tiller-bottoms-out", "utility-cutter-fits", "compact-box-blade", "no-such-set-up"}) {
        INFO(setup);
        Headless window(setup);
        for (const auto& [width, height] : std::vector<std::pair<float, float>>{{1280.0F, 800.0F}, {1024.0F, 700.0F}, {640.0F, 480.0F}, {480.0F, 360.0F}}) {
            INFO(width << "x" << height);
            window.resize(width, height);
            const ScreenRect r = window.app().view.places.at("cautions");
            CHECK(r.top >= 0.0F);
            CHECK(r.bottom <= height);
            CHECK(r.bottom - r.top > 20.0F);
        }
    }
}

TEST_CASE("window: a set-up that cannot be read is shown with all its problems", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"choices.lift_stop=rubbish", "tractor.pto.no_such_key=3 in"}, ""});
    CHECK(window.app().problems.size() == 2);
    const ScreenRect problems = window.app().view.places.at("problems");
    CHECK(problems.right - problems.left > 300.0F);
    CHECK_FALSE(window.is_shown("side view"));
    window.click("Read files again");
    CHECK(window.app().problems.size() == 2);
}

TEST_CASE("window: a linkage that cannot close is drawn open, with words", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"choices.upper_link_length=60 in"}, ""});
    const AppState& app = window.app();
    CHECK_FALSE(app.results.analysis.linkage);
    CHECK(window.is_shown("does not close"));
    CHECK_FALSE(window.is_shown("lift"));
    CHECK(app.results.analysis.verdict == Verdict::must_not_run);
    // The way back is open.
    window.type_into("choices.upper_link_length", "");
    CHECK(window.is_shown("lift"));
}

TEST_CASE("window: a missing reading gives words in place of a picture", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"tractor.lower_link.length="}, ""});
    CHECK(window.app().results.analysis.verdict == Verdict::not_known);
    CHECK(window.is_shown("no picture"));
}

TEST_CASE("window: closing with changes asks, and can be taken back", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    REQUIRE(has_changes(app));
    app.view.asks_to_close = true;
    window.settle();
    window.click("Keep the window open");
    CHECK_FALSE(app.view.asks_to_close);
    CHECK_FALSE(app.view.closed);
    app.view.asks_to_close = true;
    window.settle();
    window.click("Close without saving");
    CHECK(app.view.closed);
}

TEST_CASE("window: a height outside the travel is brought inside, and said", "[gui]") {
    AppState app = open_app(Library(), "compact-tiller-bottoms-out", {}, UnitSystem::inch, sixteenth_inch_mark);
    CHECK(stand_at(app, 20.0 * inch).empty());
    CHECK(stand_at(app, 3.0).find("outside the travel") != std::string::npos);
    CHECK(shown_ball_height(app) == app.results.bands->travel.high);
    CHECK_FALSE(app.view.notice.empty());
}

TEST_CASE("window: a drawn set-up shows its pictures, a position clicked turns the verdict", "[gui]") {
    Headless window("utility-drawn-cutter-short", {}, {1280.0F, 900.0F});
    // It has no lift: the room with its sliders is called after what they do.
    CHECK(window.is_shown("Turn"));
    CHECK_FALSE(window.is_shown("Lift"));
    REQUIRE(window.app().results.analysis.drawn);
    REQUIRE(window.app().results.analysis.verdict == Verdict::fits_after_change);
    for (const char* place : {"drawn picture", "From above", "From the side", "Turn and dip", "turn", "dip", "position middle"}) {
        INFO(place);
        CHECK(window.is_shown(place));
    }
    const int above = window.vertices();
    window.click("From the side");
    CHECK(window.app().view.drawn_picture == DrawnPicture::side);
    CHECK(window.vertices() != above);
    window.click("position middle");
    CHECK(window.app().now.setup.choices.drawn.drawbar_pin == "middle");
    CHECK(window.app().results.analysis.verdict == Verdict::fits);
    undo(window.app());
    CHECK(window.app().results.analysis.verdict == Verdict::fits_after_change);
}

TEST_CASE("window: in the ditch the worst place is shown first, the slider goes along the way", "[gui]") {
    Headless window("utility-drawn-cutter-short", {}, {1280.0F, 900.0F});
    window.click("In the ditch");
    REQUIRE(window.app().view.drawn_picture == DrawnPicture::ditch);
    window.settle();
    const AppState& app = window.app();
    const DitchStudy& study = *app.results.analysis.drawn->ditch->study;
    REQUIRE(find_shown_station(app));
    CHECK(find_shown_station(app)->shaft.length == study.worst.front().station.shaft.length);  // it bottoms out there
    window.press_at(window.point_of("place on the way", 0.95F, 0.5F));
    window.release();
    window.settle();
    REQUIRE(app.view.ditch_place);
    const DitchStation& far = *find_shown_station(app);
    CHECK(far.pose.place > 0.8 * study.ways.front().stations.front().pose.place);
    CHECK(std::fabs(far.pose.relative.roll) < 1e-9);
    const auto stands_nearer = [&](const DitchStation& s) {
        return std::fabs(s.pose.place - *app.view.ditch_place) < std::fabs(far.pose.place - *app.view.ditch_place) - 1e-12;
    };
    CHECK(std::none_of(study.ways.front().stations.begin(), study.ways.front().stations.end(), stands_nearer));
    window.click("Worst place");
    CHECK_FALSE(app.view.ditch_place);
    CHECK(change_value(window.app(), "choices.ditch.depth", "").empty());
    window.settle();
    CHECK(app.view.drawn_picture == DrawnPicture::side);
}

TEST_CASE("window: a click into the chart puts the implement at that turn and pitch", "[gui]") {
    Headless window("utility-drawn-cutter-fits");
    window.click("Turn and dip");
    REQUIRE(window.app().view.drawn_picture == DrawnPicture::chart);
    window.press_at(window.point_of("drawn picture", 0.75F, 0.40F));
    window.release();
    REQUIRE(window.app().view.attitude);
    CHECK(window.app().view.attitude->yaw > 0.2);
    CHECK(window.app().view.attitude->pitch > 0.0);
    window.click("Straight and level");
    CHECK_FALSE(window.app().view.attitude);
}

TEST_CASE("window: drawn set-ups at every size, without a shaft and without a hitch", "[gui]") {
    for (const char* setup : {"utility-drawn-cutter-fits", "utility-auger-separates"}) {
        Headless window(setup);
        for (const auto& [width, height] : {std::pair{800.0F, 600.0F}, {1024.0F, 700.0F}, {2560.0F, 1440.0F}}) {
            window.resize(width, height);
            window.settle();
            CHECK(window.vertices() > 1000);
        }
        CHECK(change_value(window.app(), "tractor.drawbar.top_height", "").empty());
        window.settle();
        CHECK_FALSE(window.app().results.analysis.drawn);
        undo(window.app());
        CHECK(change_value(window.app(), "implement.pic.x", "").empty());
        window.settle();
        REQUIRE(window.app().results.analysis.drawn);
        CHECK_FALSE(window.app().results.analysis.drawn->model.has_shaft);
        for (const char* picture : {"From the side", "Turn and dip", "From above"}) window.click(picture);
    }
}

TEST_CASE("window: the tracks say gap and overlap with the readings' error, the guard tubes and the nearest parts", "[gui]") {
    Headless window("utility-cutter-wrong-hole");
    const AppState& app = window.app();
    const double low = app.results.bands->travel.low, high = app.results.bands->travel.high;
    const std::vector<TravelTrack> tracks = tracks_at(app, low);
    CHECK(tracks.size() == count_tracks(app));
    for (const char* label : {"gap", "overlap"}) {
        CAPTURE(label);
        CHECK(pick(tracks, label).error.find(" +- ") == 0);
        CHECK(pick(tracks, label).state == "enough");
    }
    // The finding about the worst place has the same error.
    for (const Finding& f : app.results.analysis.findings) {
        if (f.kind == FindingKind::gap_at_shortest) CHECK(pick(tracks, "gap").error == " +- " + format_length(f.band, UnitSystem::inch, Rounding::up));
    }
    CHECK(pick(tracks, "guard").state == "covers");
    CHECK(pick(tracks, "room").state == "enough");
    // The verdict: deck and guard touch with the hitch fully raised.
    const std::vector<TravelTrack> raised = tracks_at(app, high);
    CHECK(pick(raised, "room").state == "touch");
    CHECK(pick(raised, "room").number == "1 11/16 in short");
    CHECK(pick(raised, "room").about == "Nearest here: front of the deck to guard of the shaft.");
    const auto open = [](const char* setup) { return open_app(Library(), setup, {}, UnitSystem::inch, sixteenth_inch_mark); };
    const AppState tiller = open("compact-tiller-bottoms-out");
    CHECK(pick(tracks_at(tiller, tiller.results.bands->travel.low), "guard").state == "guards meet");
    const AppState blade = open("compact-box-blade");  // no shaft
    CHECK(count_tracks(blade) == 1);
    CHECK(tracks_at(blade, blade.results.bands->travel.low).front().label == std::string_view("room"));
}

TEST_CASE("window: all words of a track, fewer where there is little room", "[gui]") {
    const TravelTrack track{"gap", {}, "4 3/4 in", " +- 1/4 in", "enough"};
    CHECK(say_track(track, TrackWords::all) == "4 3/4 in +- 1/4 in, enough");
    CHECK(say_track(track, TrackWords::number_and_state) == "4 3/4 in, enough");
    CHECK(say_track(track, TrackWords::number) == "4 3/4 in");
}

TEST_CASE("window: every track and the hole table stay inside their panels at any usual size", "[gui]") {
    for (const char* setup : {"utility-cutter-wrong-hole", "compact-flail-separates"}) {
        Headless window(setup);
        for (const auto& [width, height] : std::vector<std::pair<float, float>>{
                 {800.0F, 600.0F}, {1024.0F, 700.0F}, {1280.0F, 800.0F}, {1600.0F, 900.0F}, {2560.0F, 1440.0F}}) {
            CAPTURE(setup, width, height);
            window.resize(width, height);
            const ScreenRect lift = window.app().view.places.at("lift"), cautions = window.app().view.places.at("cautions");
            CHECK(lift.bottom < cautions.top);
            CHECK(lift.right - lift.left > 0.14F * width);
            const ScreenRect holes = window.app().view.places.at("holes");
            CHECK(holes.right <= width);
            CHECK(holes.left < holes.right);
        }
    }
}

TEST_CASE("window: an add-on part's switch takes it off and puts it on again, as --set does", "[gui]") {
    Headless window("compact-tiller-bottoms-out", fitted_parts, {1280.0F, 1200.0F});
    const AppState& app = window.app();
    REQUIRE(app.problems.empty());
    const double with = app.results.analysis.shaft->travel.shortest.value;
    REQUIRE(app.now.setup.parts.coupler.fitted);
    CHECK(window.is_shown("overrunning_clutch.fitted"));
    CHECK_FALSE(window.is_shown("link_extender.fitted"));
    window.click("coupler.fitted");
    CHECK_FALSE(app.now.setup.parts.coupler.fitted);
    const LoadedSetup bare = load_setup("compact-tiller-bottoms-out", Library(), {});
    const double without = analyze(bare.setup, sixteenth_inch_mark).shaft->travel.shortest.value;
    CHECK(app.results.analysis.shaft->travel.shortest.value == without);
    CHECK(with != without);
    window.click("coupler.fitted");
    CHECK(app.now.setup.parts.coupler.fitted);
    CHECK(app.results.analysis.shaft->travel.shortest.value == with);
    window.click("overrunning_clutch.fitted");
    CHECK(app.now.setup.parts.overrunning_clutch.fitted);
    CHECK(app.results.analysis.shaft->travel.shortest.value < with);
}

TEST_CASE("window: a part that lacks a reading can be put on, and the answer says what is missing", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {{"coupler.fitted=false", "coupler.set_back=4 in"}, ""}, {1280.0F, 1200.0F});
    window.click("coupler.fitted");
    CHECK(window.app().now.setup.parts.coupler.fitted);
    CHECK(window.app().results.analysis.verdict == Verdict::not_known);
    window.click("Undo");
    CHECK_FALSE(window.app().now.setup.parts.coupler.fitted);
}

TEST_CASE("window: another lift-rod hole moves the lower links", "[gui]") {
    Headless window("utility-cutter-fits", {{"tractor.travel.ball_height_low=", "tractor.travel.ball_height_high="}, ""}, {1280.0F, 1000.0F});
    const AppState& app = window.app();
    REQUIRE(app.results.bands);
    const double top = app.results.bands->travel.high;
    CHECK_FALSE(window.is_shown("tractor.lift_rod.pin_along_link"));
    window.click("Lift rods");
    window.type_into("tractor.lift_rod.pin_along_link", "19 1/4 in");
    REQUIRE(app.results.bands);
    CHECK(app.results.bands->travel.high != top);
}

TEST_CASE("window: a listed hole of the lift rods is chosen by name, and has its row", "[gui]") {
    Headless window("utility-cutter-fits", {{"tractor.use=row-crop", "implement.use=rotary-cutter-10", "choices.upper_link_pin=2"}, ""}, {1280.0F, 1000.0F});
    const AppState& app = window.app();
    REQUIRE(app.results.bands);
    REQUIRE(app.hole_table.study.results.size() == 6);
    const double top = app.results.bands->travel.high;
    const auto rear = std::find_if(app.hole_table.study.results.begin(), app.hole_table.study.results.end(), [](const HoleResult& r) {
        return r.numbers.tractor_pin == "2" && r.numbers.rod_hole == "rear";
    });
    REQUIRE(rear != app.hole_table.study.results.end());
    const double expected = rear->numbers.travel.high;
    window.click("hole 2/1, rod rear");
    CHECK(app.now.setup.choices.lift_rod_hole == "rear");
    REQUIRE(app.results.bands);
    CHECK(app.results.bands->travel.high == expected);
    CHECK(expected < top);
    window.click("Undo");
    CHECK(app.results.bands->travel.high == top);
    CHECK(change_value(window.app(), "choices.lift_rod_hole", "rear").empty());
    CHECK(app.results.bands->travel.high == expected);
}

TEST_CASE("window: the block of cautions is composed once, and anew only when its room or its letters are others", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    const int composed = window.app().view.cautions.composed;
    CHECK(composed == 1);
    window.settle(5);
    CHECK(window.app().view.cautions.composed == composed);
    window.resize(900.0F, 700.0F);
    CHECK(window.app().view.cautions.composed == composed + 1);
    REQUIRE(change_value(window.app(), "choices.lift_stop", "25 in").empty());
    window.settle();
    CHECK(window.app().view.cautions.composed == composed + 1);
}
