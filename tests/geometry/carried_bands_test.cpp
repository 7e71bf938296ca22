#include "geometry/direct_place.h"
#include "geometry/carried_bands.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "geometry/compatibility.h"
#include "geometry/finding_band.h"
#include "geometry/standard_normal.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/find_finding.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/geometry/sample_setup.h"
#include "tests/geometry/space_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

using Number = std::function<double(const Setup&)>;

/// Every known length and angle off by its usual error.
void set_usual_tolerances(Setup& s) {
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
}

/// Twice the standard deviation of numbers over draws of all readings, each moved by itself.
std::vector<double> find_spread(const Setup& s, const std::vector<Number>& numbers) {
    StandardNormal normal(20261126);
    Setup moved = s;
    std::vector<std::pair<Reading*, Reading>> readings;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        Reading as_read = r;
        as_read.tolerance = find_reading_error(r, spec, key);
        if (r.known && as_read.tolerance > 0.0) readings.push_back({&r, as_read});
    });
    REQUIRE_FALSE(readings.empty());
    constexpr int draws = 6000;
    std::vector<double> sum(numbers.size()), squares(numbers.size());
    for (int i = 0; i < draws; ++i) {
        for (auto& [reading, as_read] : readings) reading->value = as_read.value + 0.5 * as_read.tolerance * normal();
        for (std::size_t q = 0; q < numbers.size(); ++q) {
            const double x = numbers[q](moved);
            sum[q] += x;
            squares[q] += x * x;
        }
    }
    std::vector<double> spread;
    for (std::size_t q = 0; q < numbers.size(); ++q) spread.push_back(2.0 * std::sqrt(squares[q] / draws - sum[q] * sum[q] / draws / draws));
    return spread;
}

void check_band(const Finding& f, double spread) {
    CAPTURE(finding_word(f.kind), f.subject, f.band, spread);
    CHECK(f.band > 0.0);
    CHECK(std::fabs(f.band - spread) < 0.05 * spread);
}

/// The finding is open, and is not any more once what it asks to be taken again has been, as well as it asks.
void check_settles(Setup s, FindingKind kind, const std::string& subject = "") {
    const Analysis open = answer(s);
    const Finding* f = find_finding(open, kind, subject);
    REQUIRE(f);
    CAPTURE(finding_word(kind), f->margin, f->band, severity_word(f->severity));
    CHECK(f->severity == Severity::unknown);
    int asked = 0;
    for (const Remedy& r : f->remedies) {
        if (r.kind != RemedyKind::measure || r.second <= 0.0) continue;
        CHECK(r.value > 0.0);
        visit_readings(s, [&](const std::string& key, Reading& reading, const FieldSpec&) {
            if (key == r.subject) reading.tolerance = r.second, ++asked;
        });
    }
    CHECK(asked > 0);
    const Analysis settled = answer(s);
    const Finding* now = find_finding(settled, kind, subject);
    CHECK((now == nullptr || now->severity != Severity::unknown));
}

const Finding& one(const Analysis& a, FindingKind kind, const std::string& subject = "", const std::string& other = "") {
    const Finding* f = find_finding(a, kind, subject, other);
    CAPTURE(finding_word(kind));
    REQUIRE(f);
    return *f;
}

}  // namespace

TEST_CASE("carried margins: reach, working pitch and room above the ground against Monte Carlo", "[random][oracle]") {
    Setup s = make_setup_a();
    s.choices.working_pitch = known(to_radians(1.0));
    s.tractor.upper_link.length_least = known(0.500);
    s.tractor.upper_link.length_most = known(0.680);
    s.implement.points = {{"tail", known(1.40), known(-0.20), Reading{}}};
    set_usual_tolerances(s);
    const auto pitch = [](const Setup& moved, double height) {
        const MountedModelResult r = make_mounted_model(moved);
        REQUIRE(r.linkage_ok);
        return solve_pose(r.model.linkage, height);
    };
    const std::vector<double> spread = find_spread(
        s, {[](const Setup& m) { return m.choices.upper_link_length.value - m.tractor.upper_link.length_most.value; },
            [&](const Setup& m) { return pitch(m, m.implement.work.ball_height.value).pitch - m.choices.working_pitch.value; },
            [&](const Setup& m) {
                const PlanarPose p = pitch(m, m.tractor.travel.ball_height_high.value);
                return place_point(p, Point(m.implement.points[0].x.value, m.implement.points[0].z.value)).y();
            }});
    const Analysis a = answer(s);
    check_band(one(a, FindingKind::upper_link_reach), spread[0]);
    check_band(one(a, FindingKind::working_pitch), spread[1]);
    check_band(one(a, FindingKind::ground_clearance, "", "top"), spread[2]);
}

TEST_CASE("carried margins: a thread that reaches by less than the readings know is too close to call", "[analytic]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length.tolerance = 0.003;
    s.tractor.upper_link.length_least = known(0.500, 0.002);
    s.tractor.upper_link.length_most = known(s.choices.upper_link_length.value + 0.0020, 0.002);
    CHECK(one(answer(s), FindingKind::upper_link_reach).band == Approx(std::hypot(0.003, 0.002)));
    check_settles(s, FindingKind::upper_link_reach);
    s.tractor.upper_link.length_most.value = s.choices.upper_link_length.value - 0.0020;
    check_settles(s, FindingKind::upper_link_reach);
    s.tractor.upper_link.length_most.value = s.choices.upper_link_length.value - 0.0040;
    CHECK(one(answer(s), FindingKind::upper_link_reach).severity == Severity::change);
    s.tractor.upper_link.length_most.value = s.choices.upper_link_length.value + 0.0040;
    CHECK(one(answer(s), FindingKind::upper_link_reach).severity == Severity::good);
}

TEST_CASE("carried margins: a pitch to be set has its band and is judged as read, since its play is finer than any reading", "[analytic]") {
    Setup s = make_setup_a();
    const double now = answer(s).linkage->working.pose.pitch;
    s.choices.working_pitch = known(now + 0.0030, 0.0040);
    const Finding inside = one(answer(s), FindingKind::working_pitch);
    CHECK(inside.margin == Approx(0.0022).margin(1e-9));
    CHECK(inside.band == Approx(0.0040).margin(1e-6));
    CHECK(find_limit_side(inside) == LimitSide::at_least);  // lower still, and it is out
    CHECK(inside.severity == Severity::good);
    s.choices.working_pitch = known(now - 0.0030, 0.0040);
    CHECK(find_limit_side(one(answer(s), FindingKind::working_pitch)) == LimitSide::at_most);
    s.choices.working_pitch = known(now + 0.0100, 0.0040);
    CHECK(one(answer(s), FindingKind::working_pitch).severity == Severity::change);
}

TEST_CASE("carried margins: a working height beyond the travel by less than its error is open", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.travel.ball_height_low.tolerance = 0.004;
    s.choices.working_ball_height = known(s.tractor.travel.ball_height_low.value - 0.003, 0.003);
    CHECK(one(answer(s), FindingKind::travel_bound, "working height").band == Approx(0.005));
    check_settles(s, FindingKind::travel_bound, "working height");
    s.choices.working_ball_height.value -= 0.003;
    CHECK(one(answer(s), FindingKind::travel_bound, "working height").severity == Severity::change);
}

TEST_CASE("hitch match: span and pins carry the errors of both sides, mast and span by which side they stand on", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.hitch.category = s.implement.hitch.category = Category::cat1;
    s.tractor.lower_link.half_spread_at_ball = known(0.372, 0.0015);
    s.implement.hitch.shoulder_span = known(0.683, 0.002);
    s.implement.hitch.upper_pin_diameter = known(0.0190, 0.0003);
    s.tractor.hitch.upper_pin_diameter = known(0.0195, 0.0004);
    const auto find = [](const Setup& setup, FindingKind kind) {
        const std::vector<Finding> all = check_hitch_match(ErrorModel(setup));
        const auto at = std::find_if(all.begin(), all.end(), [&](const Finding& f) { return f.kind == kind; });
        REQUIRE(at != all.end());
        return *at;
    };
    const Finding span = find(s, FindingKind::span_match);
    CHECK(span.band == Approx(std::hypot(0.003, 0.002)));
    CHECK(find(s, FindingKind::pin_match).band == Approx(0.0005));
    CHECK(find(s, FindingKind::pin_match).severity == Severity::good);  // in by as little as its error: try it
    s.tractor.lower_link.half_spread_at_ball.value += 0.5 * (span.margin - 0.0020);
    CHECK(find(s, FindingKind::span_match).margin == Approx(0.0020).margin(1e-9));
    check_settles(s, FindingKind::span_match);
    s.tractor.lower_link.half_spread_at_ball.value += 0.0030;
    CHECK(find(s, FindingKind::span_match).severity == Severity::change);
}

TEST_CASE("loads: what an axle carries knows the errors of places and of the maker's figure", "[random][oracle]") {
    Setup s = make_setup_a();
    s.implement.mass = {known(600.0, 25.0), known(0.9, 0.06), known(0.3, 0.06)};
    s.tractor.mass.mass = known(2400.0, 60.0);
    s.tractor.mass.front_share = known(0.42, 0.02);
    s.tractor.mass.wheelbase = known(2.0, 0.02);
    s.tractor.mass.rear_axle_most = known(2600.0, 80.0);
    s.rules.rear_axle_share = limit(0.90);
    s.rules.front_axle_share = limit(0.05);
    const AxleStudy x = study_axles(ErrorModel(s), model_of(s));
    REQUIRE(x.carried.size() == 1);
    REQUIRE(x.carried.front().state == LoadState::farthest);
    const AxleState& most = *std::find_if(x.states.begin(), x.states.end(), [](const AxleState& a) { return a.state == LoadState::farthest; });
    const PlanarPose pose = solve_pose(model_of(s).linkage, most.height);
    const auto rear = [&](const Setup& m) {
        const Point at = place_point(pose, Point(m.implement.mass.cg_x.value, m.implement.mass.cg_z.value));
        const double load = m.implement.mass.mass.value, lever = at.x() / m.tractor.mass.wheelbase.value;
        return (1.0 - m.tractor.mass.front_share.value) * m.tractor.mass.mass.value + load * (1.0 + lever);
    };
    // The linkage has no errors here, so that the pose stays.
    const std::vector<double> spread = find_spread(
        s, {[&](const Setup& m) { return rear(m) - m.tractor.mass.rear_axle_most.value; },
            [](const Setup& m) { return 1.0 - m.tractor.mass.front_share.value; }});
    CHECK(std::fabs(x.carried.front().band.width - spread[0]) < 0.05 * spread[0]);
    CHECK(std::fabs(x.rear_band.width - spread[1]) < 0.05 * spread[1]);
    s.tractor.mass.rear_axle_most.value = x.carried.front().most + 0.7 * x.carried.front().band.width;
    check_settles(s, FindingKind::carried_load, "rear_axle");
}

TEST_CASE("loads: other tyres count by their radii, each tyre once", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.mass = {known(600.0, 1.0), known(0.9), known(0.3)};
    s.tractor.mass.mass = known(2400.0, 1.0);
    s.tractor.mass.front_share = known(0.42);
    s.tractor.mass.wheelbase = known(2.0);
    s.rules.front_axle_share = limit(0.05);
    s.tractor.tyre.rear_radius = known(0.60, 0.01);
    s.tractor.tyre.front_radius = known(0.40, 0.01);
    const double own = study_axles(ErrorModel(s), model_of(s)).front_band.width;
    TyreSet set;
    set.name = "other";
    set.rear_radius = known(0.64, 0.01);
    set.front_radius = known(0.40, 0.01);
    s.tractor.tyre_sets = {set};
    s.choices.tyre_set = "other";
    const ErrorBand on = study_axles(ErrorModel(s), model_of(s)).front_band;
    CHECK(on.width > own);
    // By moving each radius alone and standing the tractor anew.
    double squares = own * own;
    for (Reading* r : {&s.tractor.tyre.rear_radius, &s.tractor.tyre.front_radius, &s.tractor.tyre_sets[0].rear_radius, &s.tractor.tyre_sets[0].front_radius}) {
        double at[2];
        for (const int i : {0, 1}) {
            r->value += i == 0 ? -0.01 : 0.02;
            const AxleStudy x = study_axles(ErrorModel(s), model_of(s));
            at[i] = x.states[x.lightest].loads.front;
        }
        r->value -= 0.01;
        squares += square(0.5 * (at[1] - at[0]));
    }
    CHECK(on.width == Approx(std::sqrt(squares)).epsilon(0.02));
}

TEST_CASE("tyre room: its band is the spread of the least room over draws", "[random][oracle]") {
    Setup s = make_setup_a();
    s.tractor.tyre.rear_radius = known(0.95);  // the balls stay beside the tyre
    s.tractor.tyre.rear_width = known(0.40);
    s.tractor.tyre.rear_track = known(1.40);
    s.tractor.lower_link.outer_half_width = known(0.03);
    set_usual_tolerances(s);
    const Analysis a = answer(s);
    const TyreRoom room = *a.space->tyre;
    REQUIRE(room.along == Approx(1.0));
    // Centred, the link's outer side at the ball against the face of the tyre.
    const std::vector<double> spread = find_spread(s, {[&](const Setup& m) {
        const LowerLinkReadings& l = m.tractor.lower_link;
        return 0.5 * (m.tractor.tyre.rear_track.value - m.tractor.tyre.rear_width.value) - l.half_spread_at_ball.value - l.outer_half_width.value;
    }});
    REQUIRE(room.room > 0.0);
    check_band(one(a, FindingKind::tyre_room), spread[0]);
    s.tractor.tyre.rear_track.value -= 2.0 * (room.bound - 0.5 * a.space->tyre_band.width);
    check_settles(s, FindingKind::tyre_room);
}

TEST_CASE("tyre room: where the link leaves the tyre in side view, the band is that of the least room over the travel",
          "[random][oracle]") {
    Setup s = make_setup_a();
    s.tractor.tyre.rear_radius = known(0.70);
    s.tractor.tyre.rear_width = known(0.40);
    s.tractor.tyre.rear_track = known(1.40);
    s.tractor.lower_link.outer_half_width = known(0.03);
    set_usual_tolerances(s);
    const Analysis a = answer(s);
    REQUIRE(a.space->tyre->along < 0.99);
    const std::vector<double> spread = find_spread(s, {[&](const Setup& m) {
        const MountedModel now = make_mounted_model(m).model;
        const TyreReadings& t = m.tractor.tyre;
        double least = 1.0;
        for (const double height : {now.travel.low, 0.5 * (now.travel.low + now.travel.high), now.travel.high, a.space->tyre->at.height}) {
            const Point pivot = now.linkage.lower_pivot;
            const double rise = (height - pivot.y()) / now.linkage.lower_length;
            const Point link(now.linkage.lower_length * std::sqrt(1.0 - rise * rise), height - pivot.y());
            // Straight line from the pivot against the circle: |pivot + t link - axle| = radius.
            const Point off = pivot - Point(0.0, t.rear_radius.value);
            const double b = off.dot(link), c = off.squaredNorm() - square(t.rear_radius.value), aa = link.squaredNorm();
            const double leaves = std::min(1.0, (-b + std::sqrt(b * b - aa * c)) / aa);
            const LowerLinkReadings& l = m.tractor.lower_link;
            const double y = l.half_spread_at_pivot.value + leaves * (l.half_spread_at_ball.value - l.half_spread_at_pivot.value);
            least = std::min(least, 0.5 * (t.rear_track.value - t.rear_width.value) - y - l.outer_half_width.value);
        }
        return least;
    }});
    check_band(one(a, FindingKind::tyre_room), spread[0]);
}

TEST_CASE("floating link: humps and hollows against Monte Carlo", "[random][oracle]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.160), Reading{}};
    s.choices.upper_link_length = known(0.560);
    s.implement.ground_contacts = {{"wheel", known(1.500), known(-0.150), known(0.200)}};
    s.choices.hump_angle = known(to_radians(2.0));
    s.choices.hollow_angle = known(to_radians(2.0));
    set_usual_tolerances(s);
    const auto left = [](const Setup& m, bool hump) {
        const MountedModelResult r = make_mounted_model(m);
        const GroundFollowing g = study_ground(m, r.model).value();
        return hump ? g.hump.left_to_stretch : g.hollow.left_to_close;
    };
    const std::vector<double> spread = find_spread(s, {[&](const Setup& m) { return left(m, true); }, [&](const Setup& m) { return left(m, false); }});
    const Analysis a = answer(s);
    check_band(one(a, FindingKind::floating_link_slot, "hump"), spread[0]);
    check_band(one(a, FindingKind::floating_link_slot, "hollow"), spread[1]);
    s.choices.upper_link_length.value += 0.5 * a.floating->bands.hump.width - a.floating->ground->hump.left_to_stretch;
    check_settles(s, FindingKind::floating_link_slot, "hump");
}

TEST_CASE("drawn: load, height and drop of the drawbar carry what they are read from", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.drawn.vertical_load = known(500.0, 30.0);
    const auto set_most = [&s](double most) {
        for (DrawbarPin& pin : s.tractor.drawbar_pins) pin.vertical_load_most = known(most, 16.0);
    };
    set_most(520.0);
    s.tractor.pto.type = PtoType::type1;
    s.tractor.drawbar.top_height.tolerance = 0.003;
    s.tractor.pto.stub_z.tolerance = 0.004;
    const Analysis a = answer(s);
    CHECK(one(a, FindingKind::drawbar_load).band == Approx(34.0));
    CHECK(one(a, FindingKind::drawbar_height).band == Approx(0.003));
    CHECK(one(a, FindingKind::drawbar_drop).band == Approx(0.005));
    check_settles(s, FindingKind::drawbar_load);
    set_most(540.0);
    CHECK(one(answer(s), FindingKind::drawbar_load).severity == Severity::good);
    set_most(460.0);
    CHECK(one(answer(s), FindingKind::drawbar_load).severity == Severity::forbids);
}

TEST_CASE("floating link: the band of what its stops leave is what whole analyses find with the slot longer and shorter", "[oracle]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.200, 0.010), Reading{}};
    s.implement.ground_contacts = {{"wheel", known(1.500), known(-0.150), known(0.200)}};
    for (const double link : {0.500, 0.560}) {
        s.choices.upper_link_length = known(link);
        const auto left_at = [&](double slack) {
            Setup moved = s;
            moved.implement.upper_link_float.slack = known(slack);
            const FloatPose p = *answer(moved).linkage->working_float;
            return std::min(p.pitch_up_left, p.pitch_down_left);
        };
        const FloatPose p = *answer(s).linkage->working_float;
        CAPTURE(link, p.pitch_up_left, p.pitch_down_left);
        REQUIRE(std::fabs(p.pitch_up_left - p.pitch_down_left) > 0.01);
        const double expected = 0.5 * std::fabs(left_at(0.210) - left_at(0.190));
        CHECK(one(answer(s), FindingKind::floating_link_band).band == Approx(expected).epsilon(1e-4).margin(1e-9));
    }
}

TEST_CASE("drawn: a level pitch near the play of the clevis is open on either side of it", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.ground_contacts.clear();
    s.implement.drawn.hitch = DrawnHitchKind::clevis;
    s.choices.working_pitch = known(0.050, 0.004);
    s.implement.drawn.pitch_play = known(0.053, 0.003);
    CHECK(one(answer(s), FindingKind::hitch_play).band == Approx(0.005));
    check_settles(s, FindingKind::hitch_play);
    s.implement.drawn.pitch_play.value = 0.047;
    check_settles(s, FindingKind::hitch_play);
    s.implement.drawn.pitch_play.value = 0.044;
    CHECK(one(answer(s), FindingKind::hitch_play).severity == Severity::change);
    s.implement.drawn.pitch_play.value = 0.056;
    CHECK(find_finding(answer(s), FindingKind::hitch_play) == nullptr);
}

TEST_CASE("carried margins: a margin's own band is turned to the way its value goes", "[analytic]") {
    Finding f;
    f.value = 2.0;
    f.limit = 3.0;
    f.has_limit = true;
    f.margin = 1.0;  // may be at most the limit
    ErrorBand band;
    band.width = 1.0;
    band.below = 1.5;
    band.above = 0.5;
    band.slopes = {1.0, -2.0};
    band.sample = {-1.0, 0.25};
    set_margin_band(f, band);
    CHECK(f.error.below == 0.5);
    CHECK(f.error.above == 1.5);
    CHECK(f.error.slopes == std::vector<double>{-1.0, 2.0});
    CHECK(f.error.sample == std::vector<double>{-0.25, 1.0});
    CHECK(is_too_close(f));
    f.limit = 1.0;  // at least
    set_margin_band(f, band);
    CHECK(f.error.below == 1.5);
    CHECK(is_too_close(f));
}

TEST_CASE("floating link: a distance read between its stops is what the model says, beyond them the stop's", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.100), Reading{}};
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_ok);
    const DirectPlace place{DirectKind::pitch, LengthReference::joint_centres, 0.5, 0.0, 0.0, {}};
    const auto predict = [&](const std::optional<double>& read) { return predict_at(place, read, s, r.model).value(); };
    const double hanging = predict(std::nullopt), low = predict(-10.0), high = predict(10.0), middle = 0.5 * (low + high);
    CHECK(high - low > 0.01);
    CHECK((hanging == low || hanging == high));
    CHECK(predict(middle) == middle);
}
