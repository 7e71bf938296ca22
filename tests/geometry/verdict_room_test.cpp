// How far a reading may be off: against analyses done anew along a fine grid, and what is promised about both ends.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/verdict_room.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr Mark mark = millimetre_mark;
constexpr int grid = 80;

Analysis analyze_moved(const Setup& setup, const std::string& key, double change) {
    Setup moved = setup;
    double value = 0.0;
    visit_readings(moved, [&](const std::string& found, Reading& r, const FieldSpec&) {
        if (found == key) value = r.value += change;
    });
    INFO(key << " at " << value);
    return analyze(moved, mark);
}

/// First change on an even grid at which `other` holds; none: nowhere.
template <class Other>
std::optional<double> find_by_grid(const Setup& setup, const std::string& key, double reach, int sign, const Other& other) {
    for (int i = 1; i <= grid; ++i) {
        const double change = reach * i / grid;
        if (other(analyze_moved(setup, key, sign * change))) return change;
    }
    return std::nullopt;
}

/// The side says of both its ends what an analysis says there, and the grid finds the same change.
template <class Answer>
void check_side(const Setup& setup, const std::string& key, const RoomSide& side, int sign, double precision, const Answer& answer) {
    const auto now = answer(analyze(setup, mark));
    INFO(key << " side " << sign << " holds " << side.holds << " changes at " << side.changes_at);
    REQUIRE(side.searched > 0.0);
    CHECK(answer(analyze_moved(setup, key, sign * side.holds)) == now);
    const auto by_grid = find_by_grid(setup, key, side.searched, sign, [&](const Analysis& a) { return answer(a) != now; });
    REQUIRE(by_grid.has_value() == side.changes);
    if (!side.changes) return;
    CHECK(answer(analyze_moved(setup, key, sign * side.changes_at)) != now);
    CHECK(side.changes_at - side.holds <= precision * (1.0 + 1e-9));
    CHECK(side.changes_at <= *by_grid + precision);
    CHECK(side.changes_at > *by_grid - side.searched / grid - 1e-12);
}

}  // namespace

TEST_CASE("verdict room: both ends of the room are what analyses say there, and a fine grid finds the same", "[oracle]") {
    Setup s = make_setup_a();
    s.driveline.closed_length.tolerance = 0.003;
    int changes = 0;
    for (const char* key : {"tractor.pto.stub_x", "driveline.shaft.closed_length", "tractor.travel.ball_height_high"}) {
        const auto room = find_reading_room(s, mark, key);
        REQUIRE(room);
        CHECK(room->key == key);
        CHECK_FALSE(room->idle);
        const auto verdict = [](const Analysis& a) { return a.verdict; };
        check_side(s, key, room->lower, -1, room->precision, verdict);
        check_side(s, key, room->higher, 1, room->precision, verdict);
        changes += room->lower.changes + room->higher.changes;
    }
    CHECK(changes > 0);
}

TEST_CASE("verdict room: of one finding it is where that finding changes its severity", "[oracle]") {
    Setup s = make_setup_a();
    s.implement.pic.z.tolerance = 0.04;  // looked at up to 400 mm
    const Analysis now = analyze(s, mark);
    int changes = 0;
    for (const Finding& f : now.findings) {
        if (f.kind != FindingKind::joint_angle_in_work && f.kind != FindingKind::non_uniformity) continue;
        const FindingName name = name_finding(f);
        const auto room = find_reading_room(s, mark, "implement.pic.z", name);
        REQUIRE(room);
        const auto severity = [&](const Analysis& a) { return find_severity(a, name); };
        check_side(s, room->key, room->finding_lower, -1, room->precision, severity);
        check_side(s, room->key, room->finding_higher, 1, room->precision, severity);
        changes += room->finding_lower.changes + room->finding_higher.changes;
    }
    CHECK(changes > 0);
}

TEST_CASE("verdict room: the search stays inside what is possible and inside ten errors", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.pto.stub_z = known(0.105, 0.010);  // possible from 0.1 m on
    const auto room = find_reading_room(s, mark, "tractor.pto.stub_z");
    REQUIRE(room);
    CHECK(room->error == 0.010);
    CHECK(room->lower.searched == Approx(0.005).margin(1e-12).epsilon(0));
    CHECK(room->higher.searched == Approx(0.1).margin(1e-12).epsilon(0));
    s.tractor.pto.stub_z.value = 0.1;
    CHECK(find_reading_room(s, mark, "tractor.pto.stub_z")->lower.searched == 0.0);
}

TEST_CASE("verdict room: a reading without a part in the answer is called idle, and an unknown one has no room", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.mass.wheelbase = known(2.0);
    const auto idle = find_reading_room(s, mark, "tractor.mass.wheelbase");
    REQUIRE(idle);
    CHECK(idle->idle);
    CHECK_FALSE(idle->lower.changes);
    CHECK_FALSE(idle->higher.changes);
    CHECK_FALSE(find_least_room(*idle));
    CHECK_FALSE(find_reading_room(s, mark, "tractor.tyre.rear_radius"));
    CHECK_FALSE(find_reading_room(s, mark, "no.such.key"));
}

TEST_CASE("verdict room: an answer that comes back farther on is found at its first change and said", "[analytic]") {
    // 660 mm is too short for a link that goes from 670 to 690 mm; 4 mm from either end its error leaves it open, between it is
    // within reach, and from 694 mm on it is not.
    Setup s = make_setup_a();
    s.choices.upper_link_length = known(0.660, 0.004);
    s.tractor.upper_link.length_least = known(0.670);
    s.tractor.upper_link.length_most = known(0.690);
    const Analysis now = analyze(s, mark);
    const auto reach = std::find_if(now.findings.begin(), now.findings.end(),
                                    [](const Finding& f) { return f.kind == FindingKind::upper_link_reach; });
    REQUIRE(reach != now.findings.end());
    REQUIRE(reach->severity != Severity::good);
    const auto room = find_reading_room(s, mark, "choices.upper_link_length", name_finding(*reach));
    REQUIRE(room);
    REQUIRE(room->finding_higher.changes);
    CHECK(room->finding_higher.comes_back);
    CHECK(room->finding_higher.changes_at == Approx(0.006).margin(room->precision).epsilon(0));
    CHECK(room->finding_higher.severity == Severity::unknown);
    CHECK_FALSE(room->finding_lower.changes);
}

TEST_CASE("verdict room: one step at a time gives what all at once gives, tightest first", "[metamorphic]") {
    const Setup s = make_setup_a();
    const std::vector<std::string> keys{"tractor.pto.stub_x", "implement.pic.x", "no.such.key"};
    RoomSearch search(s, mark, keys, std::nullopt);
    CHECK(search.total() == 2);
    int steps = 0;
    std::size_t done = 0;
    while (search.step()) {
        CHECK(search.done() >= done);
        done = search.done();
        REQUIRE(++steps < 500);
    }
    CHECK(search.finished());
    REQUIRE(search.rooms().size() == 2);
    for (const ReadingRoom& room : search.rooms()) {
        const auto alone = find_reading_room(s, mark, room.key);
        REQUIRE(alone);
        CHECK(alone->lower.holds == room.lower.holds);
        CHECK(alone->higher.changes_at == room.higher.changes_at);
        CHECK(alone->higher.verdict == room.higher.verdict);
    }
    ReadingRoom tight, wide, steady;
    tight.error = wide.error = steady.error = 0.001;
    tight.lower.changes = wide.lower.changes = true;
    tight.lower.holds = 0.001;
    wide.lower.holds = 0.002;
    CHECK(is_tighter(tight, wide));
    CHECK_FALSE(is_tighter(wide, tight));
    CHECK(is_tighter(wide, steady));
    CHECK_FALSE(is_tighter(steady, wide));
}
