// Findings that are questioned: folded out, shown in the picture, followed to their inputs, and how far those may be off.
#include <catch2/catch.hpp>

#include "gui/field_edits.h"
#include "gui/finding_search.h"
#include "gui/frame_work.h"
#include "report/explain_text.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const Finding& pick(const AppState& app, FindingKind kind) {
    for (const Finding& f : app.results.analysis.findings) {
        if (f.kind == kind) return f;
    }
    FAIL("no finding " << finding_word(kind));
    return app.results.analysis.findings.front();
}

/// Scrolls the findings until a control can be clicked.
void bring_into_sight(Headless& window, const std::string& place) {
    scroll_to_top("findings");
    window.settle();
    const float low = window.point_of("Undo", 0.0F, 0.0F).y + 480.0F;
    while (window.middle_of(place).y > low && scroll_on("findings")) window.settle();
    INFO(place << " at " << window.middle_of(place).y);
    REQUIRE(window.middle_of(place).y <= low);
}

/// The set-up with a reading at another value, analysed anew.
Analysis analyze_moved(const AppState& app, const std::string& key, double value) {
    Setup setup = app.now.setup;
    REQUIRE(move_reading(setup, key, value));
    return analyze(setup, app.mark, BandEffort::second_order);
}

}  // namespace

TEST_CASE("findings: one folds out to formula, inputs and source, and in again", "[gui]") {
    Headless window("utility-cutter-fits");
    const AppState& app = window.app();
    const Finding& f = app.results.analysis.findings.front();
    const std::string id = finding_id(f);
    const std::string formula = "Formula: " + std::string(finding_formula(f.kind));
    CHECK_FALSE(screen_says(formula));
    window.click("finding " + id);
    CHECK(app.view.findings.open.count(id) == 1);
    CHECK(screen_says(formula));
    CHECK(window.is_shown("show " + id));
    window.click("finding " + id);
    CHECK_FALSE(screen_says(formula));
}

TEST_CASE("findings: Show it brings the lift to where it happens", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Finding& f = app.results.analysis.findings.front();
    REQUIRE(f.has_height);
    const std::string id = finding_id(f);
    REQUIRE(shown_ball_height(app) != Approx(f.height));
    window.click("finding " + id);
    window.click("show " + id);
    CHECK(shown_ball_height(app) == Approx(f.height).margin(1e-12).epsilon(0));
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("findings: of a drawn implement it brings the attitude", "[gui]") {
    Headless window("utility-drawn-cutter-short");
    AppState& app = window.app();
    for (const Finding& f : app.results.analysis.findings) {
        if (!f.has_attitude) continue;
        const std::string id = finding_id(f);
        app.view.findings.open.insert(id);
        window.settle();
        REQUIRE(window.is_shown("show " + id));
        const Attitude wanted = f.attitude;
        bring_into_sight(window, "show " + id);
        window.click("show " + id);
        REQUIRE(app.view.attitude);
        CHECK(app.view.attitude->yaw == wanted.yaw);
        CHECK(app.view.attitude->pitch == wanted.pitch);
        return;
    }
    FAIL("no finding with an attitude can be shown");
}

TEST_CASE("findings: an input it rests on is gone to, unfolded, and can be typed into", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Finding& f = app.results.analysis.findings.front();
    const std::string id = finding_id(f);
    const auto readings = explain_finding(f, app.now.setup, app.view.units).readings;
    REQUIRE(readings.size() > 2);
    window.click("finding " + id);
    const std::string key = readings.front().key;
    bring_into_sight(window, "input " + id + "/" + key);
    window.click("input " + id + "/" + key);
    window.settle(6);
    CHECK(app.view.focus == key);
}

TEST_CASE("findings: how far is looked for without standing still, and agrees with the change made", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Finding finding = pick(app, FindingKind::joint_angle_in_work);
    const FindingName name = name_finding(finding);
    ask_how_far(app, finding);
    CHECK(is_searching(app, finding));
    CHECK_FALSE(say_progress(app).empty());
    window.settle(1);
    CHECK(wants_frames(app));
    int frames = 0;
    while (is_searching(app, finding)) {
        window.settle(1);
        REQUIRE(++frames < 100000);
    }
    const std::vector<ReadingRoom>* rooms = find_rooms(app, finding);
    REQUIRE(rooms != nullptr);
    CHECK(rooms->size() == explain_finding(finding, app.now.setup, app.view.units).readings.size());
    window.settle(2);
    CHECK_FALSE(wants_frames(app));
    int changes = 0;
    for (const ReadingRoom& room : *rooms) {
        const auto check = [&](const RoomSide& side, int sign, bool of_finding) {
            if (!side.changes) return;
            ++changes;
            const Analysis there = analyze_moved(app, room.key, room.reading.value + sign * side.changes_at);
            const Analysis before = analyze_moved(app, room.key, room.reading.value + sign * side.holds);
            INFO(room.key << " by " << side.changes_at);
            if (of_finding) {
                CHECK(find_severity(there, name) == side.severity);
                CHECK(find_severity(there, name) != finding.severity);
                CHECK(find_severity(before, name) == finding.severity);
            } else {
                CHECK(there.verdict == side.verdict);
                CHECK(there.verdict != app.results.analysis.verdict);
                CHECK(before.verdict == app.results.analysis.verdict);
            }
        };
        check(room.lower, -1, false);
        check(room.higher, 1, false);
        check(room.finding_lower, -1, true);
        check(room.finding_higher, 1, true);
    }
    CHECK(changes > 0);
    // Another input, and what was found no longer holds.
    REQUIRE(change_value(app, "choices.lift_stop", "30 in").empty());
    window.settle();
    CHECK(find_rooms(app, finding) == nullptr);
}
