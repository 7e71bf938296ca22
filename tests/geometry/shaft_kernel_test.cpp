// The driveline kernel against the driveline's own files, which go another way: Eigen vectors, atan2, singular values.
//
// Attitudes are random in space: stub and input axes with slope and plan angle, joints beside the median plane, pitched
// implement. Wide-angle joints at either end; the non-uniformity with phase; the interval form against the double one.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include <Eigen/Geometry>

#include "geometry/angle.h"
#include "geometry/attitude.h"
#include "geometry/driveline_geometry.h"
#include "geometry/shaft_kernel.h"
#include "geometry/two_joint.h"

using namespace hitchwright;

namespace {

/// A driveline and an implement pose, as the kernel and as the driveline's files see them.
struct Case {
    DrivelineEnds ends;
    KernelPose<double> pose{};
    MachineShaft stub, input;  // both in frame T, no offsets left
    double pitch = 0.0;
};

Vec3<double> to_vec3(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }

    Case make(WideAngleEnd end) {
        Case c;
        c.ends.wide_angle = end;
        c.ends.spacing = end == WideAngleEnd::none ? 0.0 : between(0.06, 0.14);
        c.ends.yoke_phase_error = between(-0.3, 0.3);
        const Eigen::Vector3d stub_axis = make_shaft_axis(between(-0.15, 0.15), between(-0.1, 0.1));
        const Eigen::Vector3d input_axis = make_shaft_axis(between(-0.2, 0.2), between(-0.3, 0.3));
        const Eigen::Vector3d q(0.3, between(-0.05, 0.05), 0.6);
        const Eigen::Vector3d k(between(0.2, 0.7), between(-0.2, 0.2), between(0.1, 0.4));
        const Eigen::Vector3d ball(between(0.8, 1.2), 0.0, between(0.2, 0.9));
        c.pitch = between(-0.25, 0.25);
        c.ends.tractor_joint = to_vec3(q);
        c.ends.stub_axis = to_vec3(stub_axis);
        c.ends.implement_joint = to_vec3(k);
        c.ends.input_axis = to_vec3(input_axis);
        c.pose.ball = {ball.x(), ball.z()};
        c.pose.cos_pitch = std::cos(c.pitch);
        c.pose.sin_pitch = std::sin(c.pitch);
        c.stub.end = q;
        c.stub.axis = stub_axis;
        const MachineShaft in_frame_i{k, input_axis, 0.0, 0.0};
        c.input = move_shaft(in_frame_i, make_rotation({c.pitch, 0.0, 0.0}), ball);
        return c;
    }

private:
    std::mt19937 random_;
};

double angle_of(double cosine) { return std::acos(std::clamp(cosine, -1.0, 1.0)); }

}  // namespace

TEST_CASE("shaft kernel: length, joint angles and ends are those of driveline_geometry", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    for (int i = 0; i < 1000; ++i) {
        const Case c = draw.make(WideAngleEnd::none);
        const ShaftState<double> s = find_shaft_state(c.ends, c.pose);
        const DrivelinePose p = find_driveline_pose(c.stub, c.input);
        CAPTURE(i);
        REQUIRE(p.status == DrivelineStatus::ok);
        CHECK(s.length == Approx(p.length).epsilon(0).margin(1e-12));
        // The kernel carries cosines; an angle near 0 keeps half their digits only.
        CHECK(s.cos_tractor_joint == Approx(std::cos(p.tractor_joint_angle)).epsilon(0).margin(1e-13));
        CHECK(s.cos_implement_joint == Approx(std::cos(p.implement_joint_angle)).epsilon(0).margin(1e-13));
        CHECK((Eigen::Vector3d(s.from.x, s.from.y, s.from.z) - p.tractor_joint).norm() < 1e-12);
        CHECK((Eigen::Vector3d(s.to.x, s.to.y, s.to.z) - p.implement_joint).norm() < 1e-12);
    }
}

TEST_CASE("shaft kernel: non-uniformity with twist and phase is that of the equivalent joint", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    double greatest = 0.0;
    for (int i = 0; i < 1000; ++i) {
        const Case c = draw.make(WideAngleEnd::none);
        const ShaftState<double> s = find_shaft_state(c.ends, c.pose);
        const DrivelinePose p = find_driveline_pose(c.stub, c.input);
        const TwoJointMotion m = find_two_joint_motion({p.tractor_joint_angle, p.implement_joint_angle,
                                                        p.bending_plane_angle, c.ends.yoke_phase_error});
        REQUIRE(m.motion.status == JointMotionStatus::ok);
        const double expected = 1.0 / std::cos(m.equivalent_angle) - std::cos(m.equivalent_angle);
        CAPTURE(i, expected);
        CHECK(std::sqrt(find_non_uniformity_squared(c.ends, s)) == Approx(expected).epsilon(0).margin(1e-12));
        greatest = std::max(greatest, expected);
    }
    CHECK(greatest > 0.05);
}

TEST_CASE("shaft kernel: a quarter turn of phase on equal angles squares the ratio", "[analytic]") {
    // Z arrangement, 20 deg at both joints, inner yokes 90 deg out: ratio between cos^2 and 1/cos^2.
    const double b = to_radians(20.0);
    DrivelineEnds ends;
    ends.implement_joint = {std::cos(b), 0.0, std::sin(b)};
    KernelPose<double> pose{{0.0, 0.0}, {0.0, 1.0}, 1.0, 0.0};
    ends.yoke_phase_error = 0.5 * pi;
    const double c2 = std::cos(b) * std::cos(b);
    CHECK(std::sqrt(find_non_uniformity_squared(ends, find_shaft_state(ends, pose))) ==
          Approx(1.0 / c2 - c2).epsilon(0).margin(1e-14));
    ends.yoke_phase_error = 0.0;
    CHECK(find_non_uniformity_squared(ends, find_shaft_state(ends, pose)) < 1e-28);
    // One joint straight: the other alone, whatever the phase.
    ends.input_axis = ends.implement_joint;
    ends.yoke_phase_error = 0.7;
    CHECK(std::sqrt(find_non_uniformity_squared(ends, find_shaft_state(ends, pose))) ==
          Approx(std::sin(b) * std::tan(b)).epsilon(0).margin(1e-12));
}

TEST_CASE("shaft kernel: a wide-angle joint at either end is that of wide_angle_joint", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    double most_bend = 0.0;
    for (int i = 0; i < 1000; ++i) {
        const bool tractor = i % 2 == 0;
        const Case c = draw.make(tractor ? WideAngleEnd::tractor : WideAngleEnd::implement);
        const ShaftState<double> s = find_shaft_state(c.ends, c.pose);
        const WideAngleDriveline d = find_wide_angle_driveline(
            c.stub, c.input, tractor ? MachineEnd::tractor : MachineEnd::implement, c.ends.spacing);
        CAPTURE(i, d.wide_joint_angle, d.plain_joint_angle);
        REQUIRE(d.wide.solution.status == WideAngleStatus::ok);
        CHECK(s.length == Approx(d.length).epsilon(0).margin(1e-11));
        const double wide = tractor ? s.cos_tractor_joint : s.cos_implement_joint;
        const double plain = tractor ? s.cos_implement_joint : s.cos_tractor_joint;
        CHECK(wide == Approx(std::cos(d.wide_joint_angle)).epsilon(0).margin(1e-11));
        CHECK(plain == Approx(std::cos(d.plain_joint_angle)).epsilon(0).margin(1e-11));
        const double ripple = std::sin(d.plain_joint_angle) * std::tan(d.plain_joint_angle);
        CHECK(std::sqrt(find_non_uniformity_squared(c.ends, s)) == Approx(ripple).epsilon(0).margin(1e-9));
        const Eigen::Vector3d cross(tractor ? s.from.x : s.to.x, tractor ? s.from.y : s.to.y, tractor ? s.from.z : s.to.z);
        CHECK((cross - d.wide.second_cross).norm() < 1e-11);
        most_bend = std::max(most_bend, d.wide_joint_angle);
    }
    CHECK(most_bend > 0.5);
}

TEST_CASE("shaft kernel: a wide-angle joint without a pose counts as bent by 180 deg", "[analytic]") {
    DrivelineEnds ends;
    ends.wide_angle = WideAngleEnd::tractor;
    ends.spacing = 0.1;
    KernelPose<double> pose{{0.0, 0.0}, {0.0, 1.0}, 1.0, 0.0};
    for (const Vec3<double>& k : {Vec3<double>{-0.6, 0.0, 0.02}, Vec3<double>{0.01, 0.0, 0.02}}) {
        ends.implement_joint = k;
        const ShaftState<double> s = find_shaft_state(ends, pose);
        CHECK(angle_of(s.cos_tractor_joint) == Approx(pi).epsilon(0).margin(1e-12));
        CHECK(std::isfinite(s.length));
        CHECK(std::isfinite(s.cos_implement_joint));
        const Interval x(k.x - 1e-6, k.x + 1e-6);
        const Interval whole = find_wide_angle_half_cosine(x + 0.05, square(x + 0.05) + Interval(0.0004), 0.1);
        CHECK((whole.lo == 0.0 && whole.hi == 0.0));
    }
    // A box that reaches over the edge of what is possible: anything, but never good.
    CHECK(find_wide_angle_half_cosine(Interval(-0.6, 0.2), Interval(0.01, 0.4), 0.1) == Interval(0.0, 1.0));
}

TEST_CASE("shaft kernel: the half cosine of a wide-angle joint is enclosed at every bend up to folding", "[random]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    const double w = 0.1;
    int beyond_right_angle = 0;
    for (int i = 0; i < 4000; ++i) {
        // The other joint anywhere around, near and far; boxes of all sizes, some reaching over the edge of the possible.
        const double r = draw.between(0.09, 0.6), psi = draw.between(0.0, pi), size = std::pow(10.0, draw.between(-6.0, -1.3));
        const Interval x(r * std::cos(psi), r * std::cos(psi) + size * draw.between(0.0, 1.0));
        const Interval r2(r * r, r * r + size * draw.between(0.0, 1.0));
        const Interval s = find_wide_angle_half_cosine(x, r2, w);
        for (int k = 0; k < 9; ++k) {
            const double px = x.lo + (k % 3) * 0.5 * x.width(), pr2 = r2.lo + (k / 3) * 0.5 * r2.width();
            if (px * px > pr2) continue;
            const double half_cosine = find_wide_angle_half_cosine(px, pr2, w);
            CAPTURE(i, px, pr2, s.lo, s.hi, half_cosine);
            CHECK(s.contains(half_cosine));
            beyond_right_angle += half_cosine > 0.0 && half_cosine < 0.7 && px > 0.0;
        }
    }
    CHECK(beyond_right_angle > 100);
}

TEST_CASE("shaft kernel: interval jets enclose length, cosines and ripple over a box, and their slopes", "[random]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    using Jet = IntervalJet<1>;
    constexpr double solver_error = 1e-11;  // of the wide-angle solution in the double form
    for (int i = 0; i < 600; ++i) {
        const WideAngleEnd end = i % 3 == 0 ? WideAngleEnd::none : i % 3 == 1 ? WideAngleEnd::tractor : WideAngleEnd::implement;
        const Case c = draw.make(end);
        // The ball rises by up to `wide` while the implement pitches with it.
        const double wide = std::pow(10.0, draw.between(-5.0, -2.0)), turn = draw.between(-0.5, 0.5);
        const auto pose_at = [&](const auto& rise) {
            using T = std::decay_t<decltype(rise)>;
            const T s = turn * rise + c.pose.sin_pitch;
            using std::sqrt;
            return KernelPose<T>{{T(c.pose.ball.x), rise + c.pose.ball.z}, {T(0.0), T(0.0)}, sqrt((1.0 - s) * (s + 1.0)), s};
        };
        const ShaftState<Jet> box = find_shaft_state<Jet>(c.ends, pose_at(Jet::variable(Interval(0.0, wide), 0)));
        const Jet ripple = find_non_uniformity_squared<Jet>(c.ends, box);
        const auto values = [&](double rise) {
            const ShaftState<double> s = find_shaft_state<double>(c.ends, pose_at(rise));
            return std::array<double, 4>{s.length, s.cos_tractor_joint, s.cos_implement_joint,
                                         find_non_uniformity_squared<double>(c.ends, s)};
        };
        const std::array<Jet, 4> jets{box.length, box.cos_tractor_joint, box.cos_implement_joint, ripple};
        const std::array<double, 4> first = values(0.0), last = values(wide);
        for (int n = 0; n <= 10; ++n) {
            const std::array<double, 4> v = values(wide * n / 10.0);
            for (std::size_t q = 0; q < 4; ++q) {
                CAPTURE(i, n, q, wide, v[q], jets[q].v.lo, jets[q].v.hi);
                CHECK(jets[q].v.lo - solver_error <= v[q]);
                CHECK(v[q] <= jets[q].v.hi + solver_error);
            }
        }
        for (std::size_t q = 0; q < 4; ++q) {
            // Mean slope over the box lies between the least and the greatest slope in it.
            const double slope = (last[q] - first[q]) / wide, rounding = 2 * solver_error / wide;
            CAPTURE(i, q, wide, slope, jets[q].d[0].lo, jets[q].d[0].hi);
            CHECK(jets[q].d[0].lo - rounding <= slope);
            CHECK(slope <= jets[q].d[0].hi + rounding);
        }
    }
}

TEST_CASE("shaft kernel: no twist and no phase makes two joints more uneven than each at its worst, and a quarter turn makes them so", "[random][analytic]") {
    Draw draw(20261127);
    for (int i = 0; i < 2000; ++i) {
        Case c = draw.make(WideAngleEnd::none);
        c.ends.yoke_phase_error = draw.between(-4.0, 4.0);
        const ShaftState<double> s = find_shaft_state(c.ends, c.pose);
        const double uneven = std::sqrt(std::max(0.0, find_non_uniformity_squared(c.ends, s)));
        CHECK(uneven <= find_most_non_uniformity(s.cos_tractor_joint * s.cos_implement_joint) * (1.0 + 1e-12));
    }
    // Of a search that ended without a near bound the joints' angles make one; a near one stays, and none falls below what is attained.
    struct {
        double value, bound;
    } greatest{0.02, 1e9};
    DrivelineEnds ends;
    bound_by_joints(ends, 0.3, 0.4, 0.2, greatest);
    CHECK(greatest.bound == Approx(find_most_non_uniformity(std::cos(0.3) * std::cos(0.4) * std::cos(0.2))));
    greatest.bound = 0.021;
    bound_by_joints(ends, 0.3, 0.4, 0.2, greatest);
    CHECK(greatest.bound == 0.021);
    bound_by_joints(ends, 0.01, 0.01, 0.0, greatest);
    CHECK(greatest.bound == 0.02);
    // A wide-angle joint turns evenly: all is its partner's, sin B tan B.
    ends.wide_angle = WideAngleEnd::tractor;
    greatest = {0.0, 1e9};
    bound_by_joints(ends, 1.0, 0.3, 0.0, greatest);
    CHECK(greatest.bound == Approx(std::sin(0.3) * std::tan(0.3)));
    ends.wide_angle = WideAngleEnd::implement;
    greatest = {0.0, 1e9};
    bound_by_joints(ends, 0.3, 1.0, 0.0, greatest);
    CHECK(greatest.bound == Approx(std::sin(0.3) * std::tan(0.3)));
    // Both joints bend in one plane, the yokes a quarter turn off: what one adds the other adds again.
    const double a = to_radians(20.0), b = to_radians(33.0);
    const Vec3<double> u{1, 0, 0}, v{std::cos(a), 0, std::sin(a)}, w{std::cos(a + b), 0, std::sin(a + b)};
    const double squared = find_pair_non_uniformity_squared(u, v, w, std::cos(a), std::cos(b), 0.5 * pi);
    CHECK(std::fabs(std::sqrt(squared) - find_most_non_uniformity(std::cos(a) * std::cos(b))) < 1e-14);
}
