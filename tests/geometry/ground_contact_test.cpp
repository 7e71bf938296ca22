#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "geometry/angle.h"
#include "geometry/ground_contact.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

const GroundLine level{};

/// Pitch at which a contact touches, found by halving an interval in which its clearance changes sign.
double bisect_touch(const Point& ball, const Contact& contact, const GroundLine& ground, double low, double high) {
    for (int i = 0; i < 200; ++i) {
        const double middle = 0.5 * (low + high);
        (find_clearance(ball, middle, contact, ground) > 0.0 ? high : low) = middle;
    }
    return 0.5 * (low + high);
}

}  // namespace

TEST_CASE("ground: a skid as far below the ball as the ball is high lies level", "[analytic]") {
    const std::array<Contact, 1> skid{{{Point(1.0, -0.5), 0.0}}};
    const GroundRest rest = solve_ground_rest(Point(0.9, 0.5), skid, level);
    REQUIRE(rest.state == GroundState::rests);
    CHECK(std::abs(rest.pitch) < 1e-15);
    CHECK(rest.contact == 0);
}

TEST_CASE("ground: a tail wheel carries its axle at its radius", "[analytic]") {
    // Axle level with the balls in the frame, 2 m behind; ball at 0.5, wheel radius 0.2: sin(pitch) = -0.3 / 2.
    const std::array<Contact, 1> wheel{{{Point(2.0, 0.0), 0.2}}};
    const GroundRest rest = solve_ground_rest(Point(0.9, 0.5), wheel, level);
    REQUIRE(rest.state == GroundState::rests);
    CHECK(rest.pitch == Approx(std::asin(-0.15)).epsilon(0).margin(1e-15));
    CHECK(std::abs(find_clearance(Point(0.9, 0.5), rest.pitch, wheel[0], level)) < 1e-15);
}

TEST_CASE("ground: raising the ball lowers the pitch of an implement on its tail wheel", "[metamorphic]") {
    const std::array<Contact, 1> wheel{{{Point(2.0, -0.2), 0.2}}};
    double previous = 10.0;
    for (double height = 0.3; height < 1.2; height += 0.1) {
        const GroundRest rest = solve_ground_rest(Point(0.9, height), wheel, level);
        REQUIRE(rest.state == GroundState::rests);
        CHECK(rest.pitch < previous);
        previous = rest.pitch;
    }
}

TEST_CASE("ground: tilting the world by the slope tilts the pitch by it", "[metamorphic]") {
    const std::array<Contact, 1> wheel{{{Point(1.7, -0.3), 0.15}}};
    const Point ball(0.9, 0.5);
    const double flat = solve_ground_rest(ball, wheel, level).pitch;
    for (const double degrees : {-20.0, -5.0, 10.0, 25.0}) {
        const double slope = to_radians(degrees);
        const GroundLine tilted{.through = Point(0.0, 0.0), .slope = slope};
        const GroundRest rest = solve_ground_rest(rotate(ball, slope), wheel, tilted);
        REQUIRE(rest.state == GroundState::rests);
        CHECK(rest.pitch == Approx(flat + slope).epsilon(0).margin(1e-14));
        // Any other point of the same line is the same ground.
        const GroundLine further{.through = 3.0 * unit_vector(slope), .slope = slope};
        CHECK(solve_ground_rest(rotate(ball, slope), wheel, further).pitch ==
              Approx(rest.pitch).epsilon(0).margin(1e-14));
    }
}

TEST_CASE("ground: the closed form agrees with halving the interval", "[random][oracle]") {
    const unsigned seed = 20260115;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (int i = 0; i < 500; ++i) {
        const std::array<Contact, 1> contact{{{Point(between(0.8, 2.5), between(-0.5, 0.3)), between(0.0, 0.3)}}};
        const Point ball(between(0.7, 1.2), between(0.3, 0.9));
        const GroundLine ground{Point(between(-1.0, 1.0), between(-0.2, 0.2)), between(-0.2, 0.2)};
        const GroundRest rest = solve_ground_rest(ball, contact, ground);
        CAPTURE(i);
        if (rest.state != GroundState::rests) {
            continue;
        }
        CHECK(std::abs(find_clearance(ball, rest.pitch, contact[0], ground)) < 1e-14);
        CHECK(
            rest.pitch ==
            Approx(bisect_touch(ball, contact[0], ground, rest.pitch - 0.2, rest.pitch + 0.2)).epsilon(0).margin(1e-9));
        CHECK(find_clearance(ball, rest.pitch + 1e-3, contact[0], ground) > 0.0);
    }
}

TEST_CASE("ground: of several contacts the one that touches first carries", "[analytic]") {
    // Skid near and low, wheel far and high: with the ball low the skid, with the ball high the wheel.
    const std::array<Contact, 2> contacts{{{Point(0.8, -0.3), 0.0}, {Point(2.0, -0.05), 0.2}}};
    const GroundRest low = solve_ground_rest(Point(0.9, 0.2), contacts, level);
    REQUIRE(low.state == GroundState::rests);
    CHECK(low.contact == 0);
    CHECK(find_clearance(Point(0.9, 0.2), low.pitch, contacts[1], level) > 0.0);
    const GroundRest high = solve_ground_rest(Point(0.9, 0.6), contacts, level);
    REQUIRE(high.state == GroundState::rests);
    CHECK(high.contact == 1);
    CHECK(find_clearance(Point(0.9, 0.6), high.pitch, contacts[0], level) > 0.0);
}

TEST_CASE("ground: a ball too high for every contact says by how much", "[analytic]") {
    const std::array<Contact, 2> contacts{{{Point(0.3, -0.4), 0.0}, {Point(0.2, 0.0), 0.1}}};
    const GroundRest rest = solve_ground_rest(Point(0.9, 0.75), contacts, level);
    CHECK(rest.state == GroundState::ball_too_high);
    CHECK(rest.contact == 0);
    CHECK(rest.shortfall == Approx(0.75 - 0.5).epsilon(0).margin(1e-15));
}

TEST_CASE("ground: a wheel in the ground at any pitch is a ball too low", "[analytic]") {
    // The wheel's radius exceeds arm and ball height together: 0.9 - 0.5 - 0.3.
    const std::array<Contact, 1> wheel{{{Point(0.3, 0.0), 0.9}}};
    const GroundRest rest = solve_ground_rest(Point(0.9, 0.5), wheel, level);
    CHECK(rest.state == GroundState::ball_too_low);
    CHECK(rest.shortfall == Approx(0.1).epsilon(0).margin(1e-15));
}

TEST_CASE("ground: a front skid pushed in is a ball too low, with its depth", "[analytic]") {
    // The tail skid keeps the frame level; the front one reaches 0.05 below the ground.
    const std::array<Contact, 2> contacts{{{Point(1.5, -0.5), 0.0}, {Point(-0.2, -0.55), 0.0}}};
    const GroundRest rest = solve_ground_rest(Point(0.9, 0.5), contacts, level);
    CHECK(rest.state == GroundState::ball_too_low);
    CHECK(rest.contact == 1);
    CHECK(rest.shortfall == Approx(0.05).epsilon(0).margin(1e-15));
    // Raised far enough to clear it, the tail carries again.
    const GroundRest raised = solve_ground_rest(Point(0.9, 0.6), contacts, level);
    CHECK(raised.state == GroundState::rests);
    CHECK(raised.contact == 0);
}

TEST_CASE("ground: without a contact behind the ball there is nothing to rest on", "[analytic]") {
    const std::vector<Contact> none;
    CHECK(solve_ground_rest(Point(0.9, 0.5), none, level).state == GroundState::no_rear_contact);
    const std::array<Contact, 1> front{{{Point(-0.2, -0.3), 0.0}}};
    CHECK(solve_ground_rest(Point(0.9, 0.5), front, level).state == GroundState::no_rear_contact);
}

TEST_CASE("ground: numbers that are none are undefined", "[analytic]") {
    const std::array<Contact, 1> skid{{{Point(1.0, -0.5), 0.0}}};
    CHECK(solve_ground_rest(Point(0.9, not_a_number), skid, level).state == GroundState::undefined);
    CHECK(solve_ground_rest(Point(0.9, 0.5), skid, GroundLine{Point(0.0, 0.0), pi / 2.0}).state ==
          GroundState::undefined);
    CHECK(solve_ground_rest(Point(0.9, 0.5), skid, GroundLine{Point(0.0, 0.0), not_a_number}).state ==
          GroundState::undefined);
    const std::array<Contact, 1> negative{{{Point(1.0, -0.5), -0.1}}};
    CHECK(solve_ground_rest(Point(0.9, 0.5), negative, level).state == GroundState::undefined);
    const std::array<Contact, 1> broken{{{Point(not_a_number, -0.5), 0.1}}};
    CHECK(solve_ground_rest(Point(0.9, 0.5), broken, level).state == GroundState::undefined);
}

TEST_CASE("floating: ground-borne it has its band on both sides, and the ground has its hump and hollow",
          "[analytic]") {
    const Point ball(0.9, 0.5);
    const std::array<Contact, 1> wheel{{{Point(2.0, -0.3), 0.2}}};
    const GroundRest rest = solve_ground_rest(ball, wheel, level);
    const PitchBand band{.low = rest.pitch - to_radians(6.0), .high = rest.pitch + to_radians(4.0)};
    const FloatPose pose = solve_float(ball, band, rest, wheel, level);
    CHECK(pose.state == FloatState::ground_borne);
    CHECK(pose.pitch == rest.pitch);
    CHECK(to_degrees(pose.pitch_down_left) == Approx(6.0).epsilon(0).margin(1e-12));
    CHECK(to_degrees(pose.pitch_up_left) == Approx(4.0).epsilon(0).margin(1e-12));
    // Pitch 0 here: the axle (2, -0.3) rises by 2 sin a - 0.3 (cos a - 1).
    const auto rise = [](double degrees) {
        const double a = to_radians(degrees);
        return 2.0 * std::sin(a) - 0.3 * (std::cos(a) - 1.0);
    };
    CHECK(pose.hump_left == Approx(rise(4.0)).epsilon(0).margin(1e-14));
    CHECK(pose.hollow_left == Approx(-rise(-6.0)).epsilon(0).margin(1e-14));
}

TEST_CASE("floating: ground moved by hump or hollow brings the link exactly to its stop", "[metamorphic][random]") {
    const unsigned seed = 20260116;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (int i = 0; i < 300; ++i) {
        const Point ball(between(0.7, 1.0), between(0.4, 0.7));
        const std::array<Contact, 1> wheel{{{Point(between(1.2, 2.2), between(-0.4, 0.0)), between(0.0, 0.25)}}};
        const GroundLine ground{Point(0.0, 0.0), between(-0.15, 0.15)};
        const GroundRest rest = solve_ground_rest(ball, wheel, ground);
        REQUIRE(rest.state == GroundState::rests);
        const PitchBand band{.low = rest.pitch - between(0.01, 0.15), .high = rest.pitch + between(0.01, 0.15)};
        const FloatPose pose = solve_float(ball, band, rest, wheel, ground);
        CAPTURE(i);
        REQUIRE(pose.hump_left > 0.0);
        REQUIRE(pose.hollow_left > 0.0);
        const GroundLine hump{ground.through + Point(0.0, pose.hump_left), ground.slope};
        const GroundLine hollow{ground.through - Point(0.0, pose.hollow_left), ground.slope};
        CHECK(solve_ground_rest(ball, wheel, hump).pitch == Approx(band.high).epsilon(0).margin(1e-12));
        CHECK(solve_ground_rest(ball, wheel, hollow).pitch == Approx(band.low).epsilon(0).margin(1e-12));
    }
}

TEST_CASE("floating: a link taut before the wheel touches carries the rear", "[analytic]") {
    const Point ball(0.9, 0.5);
    const std::array<Contact, 1> wheel{{{Point(2.0, 0.0), 0.2}}};
    const GroundRest rest = solve_ground_rest(ball, wheel, level);
    const PitchBand band{.low = rest.pitch + 0.05, .high = rest.pitch + 0.1};
    const FloatPose pose = solve_float(ball, band, rest, wheel, level);
    CHECK(pose.state == FloatState::carried);
    CHECK(pose.pitch == band.low);
    CHECK(pose.pitch_down_left == Approx(-0.05).epsilon(0).margin(1e-15));
    CHECK(pose.hollow_left < 0.0);
    CHECK(find_clearance(ball, pose.pitch, wheel[0], level) > 0.0);
}

TEST_CASE("floating: ground higher than the link allows pushes against its stop", "[analytic]") {
    const Point ball(0.9, 0.5);
    const std::array<Contact, 1> wheel{{{Point(2.0, 0.0), 0.2}}};
    const GroundRest rest = solve_ground_rest(ball, wheel, level);
    const PitchBand band{.low = rest.pitch - 0.1, .high = rest.pitch - 0.05};
    const FloatPose pose = solve_float(ball, band, rest, wheel, level);
    CHECK(pose.state == FloatState::against_stop);
    CHECK(pose.pitch == band.high);
    CHECK(pose.pitch_up_left == Approx(-0.05).epsilon(0).margin(1e-15));
    CHECK(pose.hump_left < 0.0);
}

TEST_CASE("floating: raised off the ground the link carries at its longest", "[analytic]") {
    const PlanarLinkage a = make_linkage_a();
    const LinkStops stops = make_link_stops(0.64, 0.05);
    const std::array<Contact, 1> skid{{{Point(0.4, -0.2), 0.0}}};
    const PlanarPose any = [&] {
        PlanarLinkage set = a;
        set.upper_length = stops.longest;
        return solve_pose(set, 0.9);
    }();
    REQUIRE(any.closes);
    const GroundRest rest = solve_ground_rest(any.ball, skid, level);
    CHECK(rest.state == GroundState::ball_too_high);
    const FloatPose pose = solve_float(any.ball, find_pitch_band(a, 0.9, stops), rest, skid, level);
    CHECK(pose.state == FloatState::carried);
    CHECK(pose.pitch == Approx(any.pitch).epsilon(0).margin(1e-12));
    CHECK(pose.hollow_left == 0.0);
    const std::vector<Contact> none;
    const GroundRest nothing = solve_ground_rest(any.ball, none, level);
    CHECK(solve_float(any.ball, find_pitch_band(a, 0.9, stops), nothing, none, level).state == FloatState::carried);
}

TEST_CASE("floating: no band or no sound ground gives no pitch", "[analytic]") {
    const Point ball(0.9, 0.5);
    const std::array<Contact, 1> wheel{{{Point(2.0, 0.0), 0.2}}};
    const GroundRest rest = solve_ground_rest(ball, wheel, level);
    const PitchBand open{.closure = {LinkagePart::upper_link, Misfit::too_short, 0.1}};
    CHECK(solve_float(ball, open, rest, wheel, level).state == FloatState::no_pitch);
    const PitchBand band{.low = -0.1, .high = 0.1};
    CHECK(solve_float(ball, band, GroundRest{}, wheel, level).state == FloatState::no_pitch);
    const GroundRest buried{.state = GroundState::ball_too_low, .shortfall = 0.1};
    CHECK(solve_float(ball, band, buried, wheel, level).state == FloatState::no_pitch);
    const GroundRest wrong_list{.state = GroundState::rests, .contact = 5};
    CHECK(solve_float(ball, band, wrong_list, wheel, level).state == FloatState::no_pitch);
}
