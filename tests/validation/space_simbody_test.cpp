// The linkage in space - unlike lift rods, sway, a taut check chain - against a general multibody solver.
//
// source: Simbody 3.7 (Sherman, Seth and Delp, "Simbody: multibody dynamics for biomedical research", Procedia IUTAM 2,
//   2011, from memory), the whole linkage built here from bodies, balls and rods: iteration, none of the project's equations
// obtained: assembled from a start 0.03 to 0.06 rad off in every joint and as many metres off at the implement
// tolerance: 1e-9 m at balls, mast pin, rod feet and 1 m behind. The assembler is asked for constraint errors of 1e-13; links with levers
//   of 0.15 m and more make of them some 1e-12 m; it reaches 1e-11 m
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <optional>
#include <random>

#include "tests/geometry/random_space.h"
#include "tests/validation/simbody_space.h"

using namespace hitchwright;
using namespace hitchwright::test;
using validation::SimbodyPoint;
using validation::SimbodySpace;
using validation::SimbodyStart;

namespace {

constexpr double tolerance = 1e-9;
constexpr double least_lever = 0.15;  ///< m, of upper link and rods about what they turn

SimbodySpace to_simbody(const SpaceSample& s, double arm_angle, int taut) {
    const PlanarLinkage& v = s.linkage.side_view;
    const LiftRods& r = s.rods;
    const CheckChains& c = s.chains;
    return {v.lower_pivot.x(), v.lower_pivot.y(), s.linkage.lower_length, s.linkage.half_spread_at_pivot, s.linkage.half_spread_at_ball,
            v.upper_pin.x(), v.upper_pin.y(), v.upper_length, v.mast_pin.x(), v.mast_pin.y(),
            r.arm_pivot.x(), r.arm_pivot.y(), r.arm_length, r.arm_half_spread, arm_angle,
            r.left_length, r.right_length, r.pin_along, r.pin_offset,
            taut, c.anchor_x, c.anchor_half_spread, c.anchor_z, c.pin_along, taut > 0 ? c.right_length : c.left_length};
}

/// The pose at an arm angle with a chain taut: sway and tilt by turns until they agree.
std::optional<RodPose> solve_taut(const SpaceSample& s, double arm_angle, double near_height, int taut) {
    double sway = 0.0;
    for (int i = 0; i < 60; ++i) {
        const RodPose p = solve_at_arm(s.linkage, s.rods, arm_angle, sway, near_height);
        if (!p.closes) return std::nullopt;
        const SwayLimits l = find_sway_limits(s.linkage, s.chains, p.hitch.at.height, p.hitch.at.tilt_sine);
        const std::optional<double> next = taut > 0 ? l.right : l.left;
        if (!next || std::fabs(*next) > 0.15) return std::nullopt;
        if (std::fabs(*next - sway) < 1e-13) return p;
        sway = *next;
    }
    return std::nullopt;
}

/// Distance of a pin from the line of the link that holds it, seen along y: how well the link holds.
double find_lever(const Vec3<double>& pivot, const Vec3<double>& pin, const Vec3<double>& far_end) {
    const double x = far_end.x - pin.x, z = far_end.z - pin.z, n = std::hypot(x, z);
    return std::fabs((pin.x - pivot.x) * z - (pin.z - pivot.z) * x) / n;
}

bool is_well_held(const SpaceSample& s, const RodPose& p) {
    const PlanarLinkage& v = s.linkage.side_view;
    const Vec3<double> mast = p.hitch.pose.place({v.mast_pin.x(), 0.0, v.mast_pin.y()});
    const Vec3<double> pivot{v.lower_pivot.x(), 0.0, v.lower_pivot.y()}, rockshaft{s.rods.arm_pivot.x(), 0.0, s.rods.arm_pivot.y()};
    return find_lever(p.hitch.pose.hitch, mast, {v.upper_pin.x(), 0.0, v.upper_pin.y()}) > least_lever &&
           find_lever(pivot, p.right_foot, p.right_arm_end) > least_lever && find_lever(pivot, p.left_foot, p.left_arm_end) > least_lever &&
           find_lever(rockshaft, p.right_arm_end, p.right_foot) > least_lever;
}

class Start {
public:
    explicit Start(std::mt19937& random) : random_(random) {}
    SimbodyStart make(const SpaceSample& s, const RodPose& p) {
        SimbodyStart r;
        set_link(s, p.hitch.left_ball, -1.0, r.left_raise, r.left_sway);
        set_link(s, p.hitch.right_ball, 1.0, r.right_raise, r.right_sway);
        r.hitch = {p.hitch.pose.hitch.x + off(), p.hitch.pose.hitch.y + off(), p.hitch.pose.hitch.z + off()};
        r.pitch = p.hitch.attitude.pitch + off();
        r.roll = p.hitch.attitude.roll + off();
        r.yaw = p.hitch.attitude.yaw + off();
        return r;
    }

private:
    double off() {
        const double size = std::uniform_real_distribution<double>(0.03, 0.06)(random_);
        return std::bernoulli_distribution(0.5)(random_) ? size : -size;
    }
    void set_link(const SpaceSample& s, const Vec3<double>& ball, double sign, double& raise, double& sway) {
        const double x = ball.x - s.linkage.side_view.lower_pivot.x(), z = ball.z - s.linkage.side_view.lower_pivot.y();
        raise = std::atan2(z, x) + off();
        sway = std::atan2(ball.y - sign * s.linkage.half_spread_at_pivot, std::hypot(x, z)) + off();
    }
    std::mt19937& random_;
};

double apart(const SimbodyPoint& a, const Vec3<double>& b) { return std::hypot(a[0] - b.x, a[1] - b.y, a[2] - b.z); }

struct Worst {
    double place = 0.0, left_over = 0.0, roll = 0.0, sway = 0.0;
};

void compare(const SpaceSample& s, const RodPose& p, int taut, const SimbodyStart& start, Worst& worst) {
    const validation::SimbodySpacePose b = assemble_space_with_simbody(to_simbody(s, p.arm_angle, taut), start);
    CAPTURE(taut, p.arm_angle, p.hitch.at.height, p.hitch.at.sway, p.hitch.at.tilt_sine, b.left_over);
    REQUIRE(b.assembled);
    const PlanarLinkage& v = s.linkage.side_view;
    const double off[] = {apart(b.left_ball, p.hitch.left_ball), apart(b.right_ball, p.hitch.right_ball),
                          apart(b.mast_pin, p.hitch.pose.place({v.mast_pin.x(), 0.0, v.mast_pin.y()})),
                          apart(b.left_foot, p.left_foot), apart(b.right_foot, p.right_foot), apart(b.behind, p.hitch.pose.place({1.0, 0.0, 0.0}))};
    for (const double d : off) {
        CHECK(d < tolerance);
        worst.place = std::max(worst.place, d);
    }
    worst.left_over = std::max(worst.left_over, b.left_over);
    worst.roll = std::max(worst.roll, std::fabs(p.hitch.attitude.roll));
    worst.sway = std::max(worst.sway, std::fabs(p.hitch.at.sway));
}

}  // namespace

TEST_CASE("linkage in space by a multibody solver: 200 random poses, unlike rods, centred or a chain taut", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    Start start(random);
    Worst worst;
    int poses = 0, off_line = 0;
    while (poses < 200) {
        SpaceSample s = make_random_space(random);
        s.rods.left_length += between(-0.02, 0.02);
        s.rods.right_length += between(-0.02, 0.02);
        const double near_height = s.linkage.side_view.lower_pivot.y() + between(-0.3, 0.3);
        const RodPose near_pose = solve_on_rods(s.linkage, s.rods, near_height, 0.0);
        if (!near_pose.closes || !near_pose.hitch.closes) continue;
        const int taut = poses % 2 == 0 ? 0 : poses % 4 == 1 ? 1 : -1;
        const double arm = near_pose.arm_angle + between(-0.05, 0.05);
        const std::optional<RodPose> p = taut == 0 ? std::optional<RodPose>(solve_at_arm(s.linkage, s.rods, arm, 0.0, near_height))
                                                   : solve_taut(s, arm, near_height, taut);
        if (!p || !p->closes || !p->hitch.closes || !is_well_held(s, *p)) continue;
        REQUIRE(std::fabs(p->arm_angle - arm) < 1e-10);
        compare(s, *p, taut, start.make(s, *p), worst);
        // The same pose from its height and sway.
        const RodPose again = solve_on_rods(s.linkage, s.rods, p->hitch.at.height, p->hitch.at.sway);
        REQUIRE(again.closes);
        CHECK(std::fabs(again.arm_angle - arm) < 1e-10);
        CHECK(find_distance(again.hitch.left_ball, p->hitch.left_ball) < 1e-10);
        if (s.rods.pin_offset != 0.0) ++off_line;
        ++poses;
    }
    CHECK(off_line > 40);
    CHECK(worst.sway > 0.05);
    CHECK(worst.roll > 0.05);
    std::cout << "multibody solver in space: worst difference " << worst.place << " m; constraint error it left " << worst.left_over
              << "; roll up to " << worst.roll << " rad, sway up to " << worst.sway << " m" << std::endl;
}
