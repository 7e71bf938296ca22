// The drawn kernel against the driveline's own files (Eigen vectors, atan2, singular values), and three joints against
// crosses carried round in space.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include <Eigen/Geometry>

#include "geometry/angle.h"
#include "geometry/attitude.h"
#include "geometry/drawn_kernel.h"
#include "geometry/driveline_geometry.h"
#include "geometry/two_joint.h"
#include "geometry/wide_angle_joint.h"

using namespace hitchwright;

namespace {

Vec3<double> to_vec3(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }
Eigen::Vector3d to_eigen(const Vec3<double>& v) { return {v.x, v.y, v.z}; }

/// A driveline and an attitude, as the kernel and as the driveline's files see them.
struct Case {
    DrawnDriveline d;
    Attitude attitude;
    MachineShaft stub, input;  // both in frame T, no offsets left

    DrawnState<double> state() const { return find_drawn_state(d, attitude.yaw, attitude.pitch, attitude.roll); }
};

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }

    Case make(WideAngleEnd end) {
        Case c;
        DrivelineEnds& e = c.d.ends;
        e.wide_angle = end;
        e.spacing = end == WideAngleEnd::none ? 0.0 : between(0.06, 0.14);
        e.yoke_phase_error = between(-0.3, 0.3);
        c.stub = {{0.4, between(-0.05, 0.05), 0.6}, make_shaft_axis(between(-0.1, 0.1), between(-0.1, 0.1)), 0.0, 0.0};
        const MachineShaft input{{between(0.4, 1.0), between(-0.1, 0.1), between(-0.1, 0.3)},
                                 make_shaft_axis(between(-0.2, 0.2), between(-0.3, 0.3)), 0.0, 0.0};
        const Eigen::Vector3d pin(between(0.6, 0.9), 0.0, between(0.4, 0.5));
        c.attitude = {between(-0.4, 0.4), between(-0.3, 0.3), between(-0.8, 0.8)};
        c.input = move_shaft(input, make_rotation(c.attitude), pin);
        e.tractor_joint = to_vec3(c.stub.end);
        e.stub_axis = to_vec3(c.stub.axis);
        e.implement_joint = to_vec3(input.end);
        e.input_axis = to_vec3(input.axis);
        c.d.pin = to_vec3(pin);
        return c;
    }

private:
    std::mt19937 random_;
};

/// Direction square to `axis`, turned by `angle` about it from `zero`.
Eigen::Vector3d turn(const Eigen::Vector3d& axis, const Eigen::Vector3d& zero, double angle) {
    return Eigen::AngleAxisd(angle, axis) * zero;
}

/// Output angle of a chain of joints: each cross is square to the arm it is given and to the next shaft. Crosses are
/// found by normalised vector products, one by one; angles by atan2 in the plane square to the last shaft.
class Chain {
public:
    Chain(std::vector<Eigen::Vector3d> shafts, std::vector<double> phases) : shafts_(std::move(shafts)), phases_(std::move(phases)) {
        zero_in_ = shafts_.front().unitOrthogonal();
        zero_out_ = shafts_.back().unitOrthogonal();
    }
    double output(double input) const {
        Eigen::Vector3d arm = turn(shafts_[0], zero_in_, input);
        for (std::size_t i = 1; i < shafts_.size(); ++i) {
            arm = shafts_[i].cross(arm).normalized();
            if (i < shafts_.size() - 1) arm = turn(shafts_[i], arm, phases_[i - 1]);
        }
        return std::atan2(shafts_.back().dot(zero_out_.cross(arm)), zero_out_.dot(arm));
    }
    double non_uniformity() const {
        double least = 1e9, most = 0.0;
        const double step = 1e-5;
        for (int i = 0; i < 3600; ++i) {
            const double t = pi * i / 3600.0;
            const double ratio = wrap_angle(output(t + step) - output(t - step)) / (2.0 * step);
            least = std::min(least, ratio);
            most = std::max(most, ratio);
        }
        return most - least;
    }

private:
    std::vector<Eigen::Vector3d> shafts_;
    std::vector<double> phases_;
    Eigen::Vector3d zero_in_, zero_out_;
};

}  // namespace

TEST_CASE("drawn kernel: length, joint angles and ripple are those of driveline_geometry and two_joint", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    for (int i = 0; i < 1000; ++i) {
        const Case c = draw.make(WideAngleEnd::none);
        const DrawnState<double> s = c.state();
        const DrivelinePose p = find_driveline_pose(c.stub, c.input);
        CAPTURE(i);
        REQUIRE(p.status == DrivelineStatus::ok);
        CHECK(std::fabs(s.shaft.length - p.length) < 1e-12);
        CHECK(std::fabs(s.shaft.cos_tractor_joint - std::cos(p.tractor_joint_angle)) < 1e-13);
        CHECK(std::fabs(s.shaft.cos_implement_joint - std::cos(p.implement_joint_angle)) < 1e-13);
        const TwoJointMotion m = find_two_joint_motion({p.tractor_joint_angle, p.implement_joint_angle, p.bending_plane_angle,
                                                        c.d.ends.yoke_phase_error});
        if (m.motion.status != JointMotionStatus::ok) continue;
        const double expected = 1.0 / std::cos(m.equivalent_angle) - std::cos(m.equivalent_angle);
        CHECK(std::fabs(std::sqrt(find_non_uniformity_squared(c.d, s)) - expected) < 1e-10 * (1.0 + expected * expected));
    }
}

TEST_CASE("drawn kernel: a wide-angle joint at either end is that of wide_angle_joint", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    for (int i = 0; i < 500; ++i) {
        const bool tractor = i % 2 == 0;
        const Case c = draw.make(tractor ? WideAngleEnd::tractor : WideAngleEnd::implement);
        const WideAngleDriveline w = find_wide_angle_driveline(c.stub, c.input, tractor ? MachineEnd::tractor : MachineEnd::implement,
                                                               c.d.ends.spacing);
        CAPTURE(i, w.wide_joint_angle);
        REQUIRE(w.wide.solution.status == WideAngleStatus::ok);
        const DrawnState<double> s = c.state();
        CHECK(std::fabs(s.shaft.length - w.length) < 1e-11);
        CHECK(std::fabs((tractor ? s.shaft.cos_tractor_joint : s.shaft.cos_implement_joint) - std::cos(w.wide_joint_angle)) < 1e-11);
        CHECK(std::fabs((tractor ? s.shaft.cos_implement_joint : s.shaft.cos_tractor_joint) - std::cos(w.plain_joint_angle)) < 1e-11);
    }
}

TEST_CASE("drawn kernel: the mirrored machine at the mirrored attitude has the same numbers", "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    for (int i = 0; i < 300; ++i) {
        const Case c = draw.make(i % 3 == 0 ? WideAngleEnd::tractor : i % 3 == 1 ? WideAngleEnd::implement : WideAngleEnd::none);
        DrawnDriveline m = c.d;
        for (Vec3<double>* v : {&m.ends.tractor_joint, &m.ends.stub_axis, &m.ends.implement_joint, &m.ends.input_axis, &m.pin}) v->y = -v->y;
        m.ends.yoke_phase_error = -m.ends.yoke_phase_error;
        const DrawnState<double> a = c.state(), b = find_drawn_state(m, -c.attitude.yaw, c.attitude.pitch, -c.attitude.roll);
        CHECK(std::fabs(a.shaft.length - b.shaft.length) < 1e-13);
        CHECK(std::fabs(a.shaft.cos_tractor_joint - b.shaft.cos_tractor_joint) < 1e-13);
        CHECK(std::fabs(a.shaft.cos_implement_joint - b.shaft.cos_implement_joint) < 1e-13);
        const double ripple = find_non_uniformity_squared(c.d, a);
        CHECK(std::fabs(find_non_uniformity_squared(m, b) - ripple) < 1e-10 * (1.0 + ripple));
        CHECK(std::fabs(find_out_of_plane(a.shaft) + find_out_of_plane(b.shaft)) < 1e-11);
    }
}

TEST_CASE("drawn kernel: three joints ripple as crosses carried round in space", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    double greatest = 0.0;
    for (int i = 0; i < 40; ++i) {
        Case c = draw.make(i % 4 == 0 ? WideAngleEnd::tractor : WideAngleEnd::none);
        c.attitude = {0.5 * c.attitude.pitch, 0.5 * c.attitude.roll, 0.5 * c.attitude.yaw};
        c.d.fixed = {true, to_vec3(make_shaft_axis(draw.between(-0.3, 0.3), draw.between(-0.3, 0.3))), draw.between(-0.5, 0.5)};
        const DrawnState<double> s = c.state();
        const Eigen::Vector3d v = to_eigen(find_shaft_direction(s.shaft)), fixed = to_eigen(s.shaft.input_axis), last = to_eigen(s.last_axis);
        const bool wide = c.d.ends.wide_angle == WideAngleEnd::tractor;
        const Chain chain = wide ? Chain({v, fixed, last}, {c.d.fixed.phase})
                                 : Chain({to_eigen(s.shaft.stub_axis), v, fixed, last}, {c.d.ends.yoke_phase_error, c.d.fixed.phase});
        const double expected = chain.non_uniformity();
        CAPTURE(i, wide, expected);
        // Sampled every 0.05 deg: the greatest and least ratios are flat there, short by less than 1e-6 of the ripple.
        CHECK(std::fabs(std::sqrt(find_non_uniformity_squared(c.d, s)) - expected) < 1e-5 * (1.0 + expected));
        greatest = std::max(greatest, expected);
    }
    CHECK(greatest > 0.05);
}

TEST_CASE("drawn kernel: a straight third joint adds nothing", "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    for (int i = 0; i < 100; ++i) {
        Case c = draw.make(WideAngleEnd::none);
        const double two = find_non_uniformity_squared(c.d, c.state());
        c.d.fixed = {true, c.d.ends.input_axis, draw.between(-0.5, 0.5)};
        CHECK(std::fabs(find_non_uniformity_squared(c.d, c.state()) - two) < 1e-10 * (1.0 + two));
    }
}

TEST_CASE("drawn kernel: what leaves the plane is sin B1 sin B2 sin f of two_joint", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    double greatest = 0.0;
    for (int i = 0; i < 500; ++i) {
        const Case c = draw.make(WideAngleEnd::none);
        const DrivelinePose p = find_driveline_pose(c.stub, c.input);
        const double expected = std::sin(p.tractor_joint_angle) * std::sin(p.implement_joint_angle) * std::sin(p.bending_plane_angle);
        CHECK(std::fabs(std::fabs(find_out_of_plane(c.state().shaft)) - std::fabs(expected)) < 1e-13);
        greatest = std::max(greatest, std::fabs(expected));
    }
    CHECK(greatest > 0.1);
}

TEST_CASE("drawn kernel: one less the cosine of a joint, by its own route, at random attitudes", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(-1.0, 1.0);
    for (int i = 0; i < 3000; ++i) {
        DrawnDriveline d;
        d.ends.tractor_joint = {0.38, 0.03 * unit(random), 0.60 + 0.1 * unit(random)};
        d.ends.implement_joint = {0.9 + 0.6 * unit(random), 0.15 * unit(random), 0.2 * unit(random)};
        const double a = 0.15 * unit(random), b = 0.15 * unit(random);
        d.ends.stub_axis = {std::cos(a) * std::cos(b), std::cos(a) * std::sin(b), std::sin(a)};
        d.ends.input_axis = {std::cos(b) * std::cos(a), std::cos(b) * std::sin(a), std::sin(b)};
        d.pin = {0.70 + 0.1 * unit(random), 0.0, 0.45};
        d.ends.wide_angle = i % 3 == 0 ? WideAngleEnd::none : i % 3 == 1 ? WideAngleEnd::tractor : WideAngleEnd::implement;
        d.ends.spacing = 0.09;
        const double yaw = 1.3 * unit(random), pitch = 0.5 * unit(random), roll = 0.3 * unit(random);
        const ShaftState<double> s = find_drawn_state(d, yaw, pitch, roll).shaft;
        CHECK(std::fabs(find_joint_versine(d, yaw, pitch, roll, JointEnd::tractor) - (1.0 - s.cos_tractor_joint)) < 1e-12);
        CHECK(std::fabs(find_joint_versine(d, yaw, pitch, roll, JointEnd::implement) - (1.0 - s.cos_implement_joint)) < 1e-12);
        const AttitudeKernel<double> turned = make_attitude_kernel(yaw, pitch, roll);
        const Vec3<double> v{unit(random), unit(random), unit(random)}, back = turned.turn_back(v), again = turned.turn(back);
        CHECK(std::fabs(again.x - v.x) + std::fabs(again.y - v.y) + std::fabs(again.z - v.z) < 1e-14);
    }
}

TEST_CASE("drawn kernel: one less the cosine of a joint that is nearly straight is right to its own last digits", "[analytic]") {
    DrawnDriveline d;
    d.ends.tractor_joint = {0.38, 0.0, 0.60};
    d.ends.stub_axis = d.ends.input_axis = {1.0, 0.0, 0.0};
    d.pin = {0.70, 0.0, 0.45};
    d.ends.implement_joint = d.ends.tractor_joint + Vec3<double>{1.0, 0.0, 1e-6} - d.pin;  // both joints bent by 1e-6
    for (const JointEnd joint : {JointEnd::tractor, JointEnd::implement})
        CHECK(find_joint_versine(d, 0.0, 0.0, 0.0, joint) == Approx(0.5e-12).epsilon(1e-8));
}
