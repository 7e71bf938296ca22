// Floating link at work: stops through the travel, humps and hollows, deck edges at both ends of the free travel.
#include "geometry/float_study.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "find_finding.h"
#include "geometry/angle.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Linkage A with a slot and a tail wheel that rests at about 2 deg rear up at the working height.
Setup make_floating_setup() {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.160), Reading{}};
    s.choices.upper_link_length = known(0.560);
    s.implement.ground_contacts = {{"wheel", known(1.500), known(-0.150), known(0.200)}};
    return s;
}

const FloatStudy& study_of(const Analysis& a) {
    REQUIRE(a.floating);
    return *a.floating;
}

/// Least height of the wheels over a line of slope g through the origin, at a pitch; plain geometry.
double find_gap(const Point& ball, double pitch, const std::vector<GroundContact>& wheels, double g) {
    double least = 1e9;
    for (const GroundContact& w : wheels) {
        const double x = ball.x() + w.x.value * std::cos(pitch) - w.z.value * std::sin(pitch);
        const double z = ball.y() + w.x.value * std::sin(pitch) + w.z.value * std::cos(pitch);
        least = std::min(least, (z * std::cos(g) - x * std::sin(g)) - w.radius.value);
    }
    return least;
}

/// Second route: the pitch on that ground by trial.
double find_rest_pitch(const Point& ball, const std::vector<GroundContact>& wheels, double g) {
    double buried = g - 0.9, clear = g + 0.9;
    REQUIRE((find_gap(ball, buried, wheels, g) < 0.0 && find_gap(ball, clear, wheels, g) > 0.0));
    for (int i = 0; i < 100; ++i) {
        const double middle = 0.5 * (buried + clear);
        (find_gap(ball, middle, wheels, g) < 0.0 ? buried : clear) = middle;
    }
    return buried;
}

/// Second route: the slope at which that pitch is met, by trial.
double find_slope(const Point& ball, const std::vector<GroundContact>& wheels, double pitch) {
    double low = -0.5, high = 0.5;
    for (int i = 0; i < 100; ++i) {
        const double middle = 0.5 * (low + high);
        (find_rest_pitch(ball, wheels, middle) < pitch ? low : high) = middle;
    }
    return low;
}

double find_pin_distance(const Setup& s, const Point& ball, double pitch) {
    const MastPin& m = s.implement.mast_pins[0];
    const NamedPoint& u = s.tractor.upper_link_pins[0];
    const double x = ball.x() + m.offset.value * std::cos(pitch) - m.height.value * std::sin(pitch) - u.x.value;
    const double z = ball.y() + m.offset.value * std::sin(pitch) + m.height.value * std::cos(pitch) - u.z.value;
    return std::hypot(x, z);
}

}  // namespace

TEST_CASE("float study: a rigid link has none", "[geometry][float][analytic]") {
    CHECK_FALSE(answer(make_setup_a()).floating);
    CHECK(study_of(answer(make_floating_setup())).ground.has_value());
}

TEST_CASE("float study: slopes at the stops and what is left on humps and hollows are those found by trial",
          "[geometry][float][random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto draw = [&random](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int short_of = 0, enough = 0;
    for (int i = 0; i < 20; ++i) {
        Setup s = make_floating_setup();
        s.implement.upper_link_float.slack = known(draw(0.05, 0.20));
        s.choices.upper_link_length = known(0.640 - 0.5 * s.implement.upper_link_float.slack.value);
        s.implement.ground_contacts = {{"wheel", known(draw(1.2, 2.0)), known(draw(-0.2, 0.0)), known(draw(0.1, 0.25))},
                                       {"skid", known(draw(0.8, 1.1)), known(draw(-0.28, -0.22)), known(0.0)}};
        s.choices.hump_angle = known(to_radians(draw(0.5, 7.0)));
        s.choices.hollow_angle = known(to_radians(draw(0.5, 7.0)));
        const Analysis a = answer(s);
        const FloatStudy& study = study_of(a);
        REQUIRE((study.ground && study.at_working));
        const GroundFollowing& g = *study.ground;
        const Point ball = a.linkage->working.pose.ball;
        const double e = s.choices.upper_link_length.value, longest = e + s.implement.upper_link_float.slack.value;
        const auto& wheels = s.implement.ground_contacts;
        CAPTURE(i);
        for (const FloatOnGround* on : {&g.hump, &g.level, &g.hollow}) {
            REQUIRE(on->pose.state != FloatState::no_pitch);
            const double apart = find_pin_distance(s, ball, find_rest_pitch(ball, wheels, on->ground_angle));
            CHECK(on->left_to_stretch == Approx(longest - apart).epsilon(0).margin(1e-9));
            CHECK(on->left_to_close == Approx(apart - e).epsilon(0).margin(1e-9));
            (std::min(on->left_to_stretch, on->left_to_close) < 0.0 ? short_of : enough) += 1;
        }
        REQUIRE((g.falls_to && g.rises_to));
        CHECK(*g.falls_to == Approx(find_slope(ball, wheels, study.at_working->low)).epsilon(0).margin(1e-9));
        CHECK(*g.rises_to == Approx(find_slope(ball, wheels, study.at_working->high)).epsilon(0).margin(1e-9));
        CHECK((g.hump.left_to_stretch < 0.0) == (-g.hump_angle < *g.falls_to));
        CHECK((g.hollow.left_to_close < 0.0) == (g.hollow_angle > *g.rises_to));
    }
    CHECK((short_of > 5 && enough > 5));
}

TEST_CASE("float study: a hump or hollow is judged on both sides of the slope at the stop, a typed one more than an assumed one",
          "[geometry][float][analytic]") {
    Setup s = make_floating_setup();
    const GroundFollowing g = *study_of(answer(s)).ground;
    REQUIRE((g.falls_to && g.rises_to && *g.falls_to < 0.0 && *g.rises_to > 0.0));
    CHECK((!g.hump_typed && g.hump_angle == usual_ground_angle));
    const auto severity = [&s](double hump, double hollow, const char* which) {
        s.choices.hump_angle = known(hump);
        s.choices.hollow_angle = known(hollow);
        const Analysis a = answer(s);
        const Finding* f = find_finding(a, FindingKind::floating_link_slot, which);
        REQUIRE(f);
        CHECK((f->rule.set && f->rule.value == 0.0));
        return f->severity;
    };
    CHECK(severity(-*g.falls_to - 1e-6, 0.0, "hump") == Severity::good);
    CHECK(severity(-*g.falls_to + 1e-6, 0.0, "hump") == Severity::change);
    CHECK(severity(0.0, *g.rises_to - 1e-6, "hollow") == Severity::good);
    CHECK(severity(0.0, *g.rises_to + 1e-6, "hollow") == Severity::change);
    s.choices.hump_angle = s.choices.hollow_angle = Reading{};
    s.implement.upper_link_float.slack = known(0.010);
    s.choices.upper_link_length = known(0.635);
    CHECK(find_finding(answer(s), FindingKind::floating_link_slot, "hump")->severity == Severity::watch);
}

TEST_CASE("float study: the length named leaves as much on the hump as in the hollow, or more slack is asked for",
          "[geometry][float][residual]") {
    Setup s = make_floating_setup();
    s.choices.upper_link_length = known(0.480);  // stands near the outer stop
    s.choices.hump_angle = known(to_radians(3.0));
    s.choices.hollow_angle = known(to_radians(2.0));
    const Analysis off = answer(s);
    const Finding* f = find_finding(off, FindingKind::floating_link_slot, "hump");
    REQUIRE((f && f->severity == Severity::change));
    REQUIRE(find_remedy(*f, RemedyKind::set_upper_link));
    s.choices.upper_link_length = known(find_remedy(*f, RemedyKind::set_upper_link)->value);
    const GroundFollowing set = *study_of(answer(s)).ground;
    CHECK(set.hump.left_to_stretch == Approx(set.hollow.left_to_close).epsilon(0).margin(1e-9));
    CHECK(set.hump.left_to_stretch > 0.0);
    const double needed = set.slack_needed;
    s.implement.upper_link_float.slack = known(needed - 1e-6);
    CHECK_FALSE(study_of(answer(s)).ground->length_to_set);
    const Analysis tight = answer(s);
    const Finding* any = find_finding(tight, FindingKind::floating_link_slot, "hump");
    if (any->severity == Severity::good) any = find_finding(tight, FindingKind::floating_link_slot, "hollow");
    REQUIRE(find_remedy(*any, RemedyKind::match_part));
    CHECK(find_remedy(*any, RemedyKind::match_part)->value == Approx(needed).epsilon(0).margin(1e-9));
    s.implement.upper_link_float.slack = known(needed + 1e-6);
    CHECK(study_of(answer(s)).ground->length_to_set);
}

TEST_CASE("float study: the readings' errors reach what is left, and what they cannot decide is too close to call",
          "[geometry][float][analytic]") {
    Setup s = make_floating_setup();
    s.choices.hump_angle = known(to_radians(2.0));
    s.choices.hollow_angle = known(to_radians(2.0));
    CHECK(study_of(answer(s)).bands.hump.width == 0.0);
    // Stretch left = length + slack - distance of the pins: each error counts once, independent ones as squares.
    s.choices.upper_link_length.tolerance = 0.003;
    CHECK(study_of(answer(s)).bands.hump.width == Approx(0.003).epsilon(0).margin(1e-9));
    CHECK(study_of(answer(s)).bands.hollow.width == Approx(0.003).epsilon(0).margin(1e-9));
    s.implement.upper_link_float.slack.tolerance = 0.004;
    CHECK(study_of(answer(s)).bands.hump.width == Approx(0.005).epsilon(0).margin(1e-9));
    CHECK(study_of(answer(s)).bands.hollow.width == Approx(0.003).epsilon(0).margin(1e-9));
    const double left = study_of(answer(s)).ground->hump.left_to_stretch;
    REQUIRE(left > 0.01);
    const auto severity = [&](double wanted) {
        s.choices.upper_link_length.value += wanted - study_of(answer(s)).ground->hump.left_to_stretch;
        return find_finding(answer(s), FindingKind::floating_link_slot, "hump")->severity;
    };
    CHECK(severity(0.0051) == Severity::good);
    CHECK(severity(0.0049) == Severity::unknown);
    CHECK(severity(-0.0049) == Severity::unknown);
    CHECK(severity(-0.0051) == Severity::change);
}

TEST_CASE("float study: stops of a strap narrow the band, and stops one turn apart are none", "[geometry][float][metamorphic]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::swing_strap, Reading{}, known(0.080)};
    s.choices.upper_link_length = known(0.620);
    const FloatStudy open = study_of(answer(s));
    CHECK(open.strap_without_stops);
    s.implement.upper_link_float.strap_stop_low = known(to_radians(60.0));
    s.implement.upper_link_float.strap_stop_high = known(to_radians(120.0));
    const FloatStudy stopped = study_of(answer(s));
    CHECK_FALSE(stopped.strap_without_stops);
    REQUIRE((open.at_working && stopped.at_working));
    CHECK(stopped.at_working->low > open.at_working->low + 0.02);
    CHECK(stopped.at_working->high < open.at_working->high - 0.02);
    CHECK(stopped.at_working->low_end == BandEnd::stop);
    // At a stop the strap is part of the mast: a rigid link of the same length to its end gives the same pitch.
    for (const double stop : {60.0, 120.0}) {
        Setup rigid = s;
        rigid.implement.upper_link_float = {};
        rigid.implement.mast_pins[0].offset.value += 0.080 * std::cos(to_radians(stop));
        rigid.implement.mast_pins[0].height.value += 0.080 * std::sin(to_radians(stop));
        const double pitch = answer(rigid).linkage->working.pose.pitch;
        const double end = stop < 90.0 ? stopped.at_working->high : stopped.at_working->low;
        const double other = stop < 90.0 ? stopped.at_working->low : stopped.at_working->high;
        CHECK(std::min(std::fabs(pitch - end), std::fabs(pitch - other)) < 1e-9);
    }
    s.implement.upper_link_float.strap_stop_low = known(to_radians(-180.0));
    s.implement.upper_link_float.strap_stop_high = known(to_radians(180.0));
    const FloatStudy turn = study_of(answer(s));
    CHECK(turn.at_working->low == Approx(open.at_working->low).epsilon(0).margin(1e-12));
    CHECK(turn.at_working->high == Approx(open.at_working->high).epsilon(0).margin(1e-12));
}

TEST_CASE("float study: guard and deck edge in the working band, at both ends of the free travel, against a grid",
          "[geometry][float][oracle]") {
    Setup s = make_floating_setup();
    s.implement.points = {{"lip", known(0.30), known(0.42), known(0.5), true}, {"tail", known(1.6), known(0.1), known(0.5), false}};
    s.driveline.guard_radius = known(0.05);
    s.choices.working_band_low = known(0.280);
    s.choices.working_band_high = known(0.420);
    const Analysis a = answer(s);
    const FloatStudy& study = study_of(a);
    REQUIRE(study.deck_edges.size() == 1);
    const DeckEdgeFloat& edge = study.deck_edges[0];
    CHECK(edge.part == "lip");
    const auto least_at = [&](double e) {
        double least = 1e9;
        for (int i = 0; i <= 4000; ++i) {
            PlanarLinkage k = a.linkage->model.linkage;
            k.upper_length = e;
            const PlanarPose p = solve_pose(k, 0.280 + 0.140 * i / 4000.0);
            const Point at = place_point(p, {0.30, 0.42}), from(0.38, 0.60), to = place_point(p, {0.47, 0.25});
            const Point along = to - from;
            const double t = std::clamp((at - from).dot(along) / along.squaredNorm(), 0.0, 1.0);
            least = std::min(least, (at - from - t * along).norm() - 0.05);
        }
        return least;
    };
    CHECK(edge.at_shortest == Approx(least_at(0.560)).epsilon(0).margin(1e-5));
    CHECK(edge.at_longest == Approx(least_at(0.720)).epsilon(0).margin(1e-5));
    double between = 1e9;
    for (int i = 0; i <= 20; ++i) between = std::min(between, least_at(0.560 + 0.160 * i / 20.0));
    CHECK(edge.least.bound <= between + 1e-6);
    CHECK(edge.least.bound == Approx(between).epsilon(0).margin(1e-4));
    CHECK(std::fabs(edge.at_longest - edge.at_shortest) > 0.01);
}

TEST_CASE("float study: ground on which the implement cannot stand is said, not guessed", "[geometry][float][analytic]") {
    Setup s = make_floating_setup();
    s.implement.ground_contacts = {{"wheel", known(0.150), known(-0.300), known(0.800)}};
    const FloatStudy study = study_of(answer(s));
    REQUIRE(study.ground);
    CHECK(study.ground->level.pose.state == FloatState::no_pitch);
    CHECK_FALSE(study.ground->length_to_set);
    CHECK(find_finding(answer(s), FindingKind::floating_link_slot, "hump")->other == "no_pitch");
}

TEST_CASE("swing strap with stops: the link for the working pitch ends at the strap's pin, and the pose there is the wanted one", "[oracle]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.choices.working_ball_height = known(0.400);
    s.choices.working_pitch = known(to_radians(1.0));
    s.implement.upper_link_float = {UpperLinkKind::swing_strap, Reading{}, known(0.120)};
    s.implement.upper_link_float.strap_stop_low = known(to_radians(150.0));
    s.implement.upper_link_float.strap_stop_high = known(to_radians(180.0));
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_ok);
    const MountedModel& m = r.model;
    // By hand: ball, mast pin and strap pin turned by 1 deg, the strap half-way between its stops.
    const double rise = 0.400 - 0.500, p = to_radians(1.0), w = 0.120, middle = to_radians(165.0);
    const Point ball(std::sqrt(0.885 * 0.885 - rise * rise), 0.400);
    const Point local(w * std::cos(middle), 0.610 + w * std::sin(middle));
    const Point strap = ball + Point(local.x() * std::cos(p) - local.y() * std::sin(p), local.x() * std::sin(p) + local.y() * std::cos(p));
    CHECK(std::fabs(m.linkage.upper_length - (strap - Point(0.240, 0.960)).norm()) < 1e-12);
    const PoseReport work = make_pose_report(s, m, 0.400);
    CHECK(std::fabs(work.pose.pitch - p) < 1e-9);
    Setup free = s;
    free.implement.upper_link_float.strap_stop_low = free.implement.upper_link_float.strap_stop_high = Reading{};
    Setup turn = s;
    turn.implement.upper_link_float.strap_stop_low = known(-pi);
    turn.implement.upper_link_float.strap_stop_high = known(pi);
    CHECK(make_mounted_model(turn).model.linkage.upper_length == make_mounted_model(free).model.linkage.upper_length);
    // At every height the pose lies in the band the stops allow.
    for (const double h : {0.210, 0.400, 0.600, 0.900}) {
        const PitchBand band = find_float_band(m, h);
        REQUIRE(band.closure.closes());
        const double pitch = make_pose_report(s, m, h).pose.pitch;
        CHECK(pitch >= band.low - 1e-9);
        CHECK(pitch <= band.high + 1e-9);
    }
}
