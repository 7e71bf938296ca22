// Poses in columns and one at a time, against a closure in long double with another way to every angle; the arc sine.
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <vector>

#include "geometry/angle.h"
#include "geometry/arc_sine.h"
#include "geometry/closable_heights.h"
#include "geometry/pose_batch.h"
#include "tests/geometry/count_allocations.h"
#include "tests/geometry/linkage_a.h"
#include "tests/geometry/take_worst.h"

using namespace hitchwright;
using hitchwright::test::count_allocations;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;
using hitchwright::test::take_worst;

namespace {

using Long = long double;

struct LongVector {
    Long x, y, z;
};
Long dot(const LongVector& a, const LongVector& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
LongVector cross(const LongVector& a, const LongVector& b) {
    return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
Long angle_between(const LongVector& a, const LongVector& b) {
    const LongVector n = cross(a, b);
    return std::atan2(std::sqrt(dot(n, n)), dot(a, b));
}
LongVector turn(const Vec3<double>& v, Long p) {
    return {std::cos(p) * v.x - std::sin(p) * v.z, v.y, std::sin(p) * v.x + std::cos(p) * v.z};
}

struct Reference {
    Long pitch, length, tractor_angle, implement_angle;
    Long condition;  ///< k of pose_numbers.h
};

/// The triangle of mast and upper link by the law of cosines, the turns by angles added up.
Reference close_in_long_double(const PlanarLinkage& k, const DrivelineEnds& e, Long h) {
    const Long c = k.lower_length, rise = h - k.lower_pivot.y(), run = std::sqrt(c * c - rise * rise);
    const Long x = k.lower_pivot.x() + run, dx = k.upper_pin.x() - x, dz = k.upper_pin.y() - h;
    const Long mx = k.mast_pin.x(), mz = k.mast_pin.y(), u = k.upper_length;
    const Long d2 = dx * dx + dz * dz, m2 = mx * mx + mz * mz, d = std::sqrt(d2), m = std::sqrt(m2);
    const Long at_ball = std::atan2(std::sqrt((u - (d - m)) * (u + (d - m)) * ((d + m) - u) * ((d + m) + u)), d2 + m2 - u * u);
    const Long mast = std::atan2(dz, dx) + (k.side == MastSide::above ? -at_ball : at_ball);
    Reference r{};
    r.pitch = std::remainder(mast - std::atan2(mz, mx), 2 * std::numbers::pi_v<Long>);
    const LongVector joint = turn(e.implement_joint, r.pitch), &q = {e.tractor_joint.x, e.tractor_joint.y, e.tractor_joint.z};
    const LongVector v{x + joint.x - q.x, joint.y - q.y, h + joint.z - q.z};
    r.length = std::sqrt(dot(v, v));
    r.tractor_angle = angle_between({e.stub_axis.x, e.stub_axis.y, e.stub_axis.z}, v);
    r.implement_angle = angle_between(turn(e.input_axis, r.pitch), v);
    r.condition = (d2 + m2 + u * u) / (2 * d * m * std::fabs(std::sin(at_ball))) * (c / run);
    return r;
}

/// Greatest difference of the four numbers; a pitch of pi and one of -pi are the same. Where a joint centre is is known to
/// some last digit of a metre: between centres nearer than a metre that is more of an angle, and counts for less.
double find_difference(const PoseNumbers& n, const Reference& r) {
    const Long share = std::min<Long>(1.0, r.length);
    const Long turned = std::remainder(n.pitch - r.pitch, 2 * std::numbers::pi_v<Long>);
    Long worst = 0.0;
    for (const Long x : {turned, n.length - r.length, share * (n.tractor_angle - r.tractor_angle), share * (n.implement_angle - r.implement_angle)})
        take_worst(worst, std::fabs(x));
    return static_cast<double>(worst);
}

/// As promised: 1e-12 up to a condition number of 1000, in proportion to it beyond.
double allowed(Long condition) { return 1e-15 * (1.0 + static_cast<double>(condition)); }

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
    PlanarLinkage linkage() {
        PlanarLinkage k = make_random_linkage(random_);
        k.side = between(0.0, 1.0) < 0.5 ? MastSide::above : MastSide::below;
        return k;
    }
    /// Joints off the median plane, axes askew by up to half a right angle.
    DrivelineEnds ends() {
        DrivelineEnds e;
        e.tractor_joint = {between(0.1, 0.4), between(-0.1, 0.1), between(0.5, 0.7)};
        e.implement_joint = {between(0.3, 0.9), between(-0.2, 0.2), between(0.0, 0.4)};
        e.stub_axis = axis(), e.input_axis = axis();
        return e;
    }

    /// All in one plane along the tractor, beside its middle; axes to any side in it.
    DrivelineEnds ends_in_plane() {
        DrivelineEnds e = ends();
        e.implement_joint.y = e.tractor_joint.y;
        for (Vec3<double>* u : {&e.stub_axis, &e.input_axis}) {
            const double slope = between(-pi, pi);
            *u = {std::cos(slope), 0.0, std::sin(slope)};
        }
        return e;
    }
    DrivelineEnds ends_either_way(int i) { return i % 2 == 0 ? ends() : ends_in_plane(); }

private:
    Vec3<double> axis() {
        const double slope = between(-0.8, 0.8), plan = between(-0.8, 0.8);
        return {std::cos(slope) * std::cos(plan), std::cos(slope) * std::sin(plan), std::sin(slope)};
    }
    std::mt19937 random_;
};

/// Columns with a place to stand.
struct Solved {
    std::vector<double> pitch, length, tractor, implement;
    std::size_t closing = 0;
    explicit Solved(std::size_t n, double filling = 0.0) : pitch(n, filling), length(pitch), tractor(pitch), implement(pitch) {}
    PoseNumbers at(std::size_t i) const { return {length[i] > 0.0, pitch[i], length[i], tractor[i], implement[i]}; }
};

Solved solve(const PlanarLinkage& k, const DrivelineEnds& e, const std::vector<double>& heights) {
    Solved s(heights.size());
    s.closing = solve_poses(k, e, heights, {s.pitch, s.length, s.tractor, s.implement});
    return s;
}

/// Over all that closes, the lower link up to 80 deg; crowded towards the dead centres, down to `nearest` m from them.
std::vector<double> list_heights(const PlanarLinkage& k, double nearest) {
    std::vector<double> heights;
    const double steepest = std::sin(to_radians(80.0)) * k.lower_length;
    for (const HeightRange& r : find_closable_heights(k)) {
        const double low = std::max(r.low, k.lower_pivot.y() - steepest), high = std::min(r.high, k.lower_pivot.y() + steepest);
        if (!(high - low > 0.01)) continue;
        for (int i = 0; i <= 20; ++i) heights.push_back(low + nearest + (high - low - 2.0 * nearest) * i / 20.0);
        for (double off = 0.004; off > nearest; off *= 0.1) {
            heights.push_back(low + off);
            heights.push_back(high - off);
        }
    }
    return heights;
}

}  // namespace

TEST_CASE("pose numbers: a parallelogram keeps its implement level, and the shaft is a distance of points", "[analytic]") {
    PlanarLinkage k;
    k.lower_pivot = Point(0.1, 0.5), k.lower_length = 1.0, k.upper_pin = Point(0.1, 1.1), k.upper_length = 1.0, k.mast_pin = Point(0.0, 0.6);
    DrivelineEnds e;
    e.tractor_joint = {0.4, 0.0, 0.5}, e.implement_joint = {0.3, 0.0, 0.2};
    const PoseNumbers n = solve_pose_numbers(make_pose_constants(k, e), 0.5 + 0.6);  // the lower link at 3, 4, 5: run 0.8
    REQUIRE(n.closes);
    CHECK(n.pitch == Approx(0.0).margin(1e-15));
    CHECK(n.length == Approx(std::hypot(0.8, 0.8)).epsilon(1e-15));
    CHECK(n.tractor_angle == Approx(to_radians(45.0)).epsilon(1e-15));
    CHECK(n.implement_angle == Approx(to_radians(45.0)).epsilon(1e-15));
}

TEST_CASE("pose numbers and poses in columns: the closure in long double, growing with the condition number only", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Draw draw(seed);
    int poses = 0, near_dead_centre = 0;
    double worst = 0.0;
    for (int i = 0; i < 3000; ++i) {
        const PlanarLinkage k = draw.linkage();
        const DrivelineEnds e = draw.ends_either_way(i);
        const PoseConstants constants = make_pose_constants(k, e);
        const std::vector<double> heights = list_heights(k, 1e-11);
        const Solved columns = solve(k, e, heights);
        REQUIRE(columns.closing == heights.size());
        for (std::size_t j = 0; j < heights.size(); ++j) {
            const Reference r = close_in_long_double(k, e, heights[j]);
            const double one = find_difference(solve_pose_numbers(constants, heights[j]), r), many = find_difference(columns.at(j), r);
            take_worst(worst, one / allowed(r.condition));
            take_worst(worst, many / allowed(r.condition));
            ++poses;
            if (r.condition > 1e4) ++near_dead_centre;
        }
    }
    CHECK(worst <= 1.0);
    CHECK(poses > 50000);
    CHECK(near_dead_centre > 1000);
}

TEST_CASE("poses in columns: what a height gives does not depend on where it stands, nor on how many there are", "[metamorphic]") {
    Draw draw(7);
    const PlanarLinkage k = make_linkage_a();
    const bool in_plane = GENERATE(false, true);
    CAPTURE(in_plane);
    const DrivelineEnds e = in_plane ? draw.ends_in_plane() : draw.ends();
    for (const std::size_t n : {0u, 1u, 7u, 8u, 9u, 127u, 128u, 129u, 136u, 1000u}) {
        CAPTURE(n);
        std::vector<double> heights;
        for (std::size_t i = 0; i < n; ++i) heights.push_back(draw.between(0.2, 0.9));
        Solved all(n + 2, -7.0);  // a row before and a row after that are not ours
        const auto inner = [n](std::vector<double>& v) { return std::span(v).subspan(1, n); };
        CHECK(solve_poses(k, e, heights, {inner(all.pitch), inner(all.length), inner(all.tractor), inner(all.implement)}) == n);
        for (std::size_t i = 0; i < n; ++i) {
            const Solved alone = solve(k, e, {heights[i]});
            REQUIRE(alone.at(0) == all.at(i + 1));
        }
        for (const std::vector<double>* v : {&all.pitch, &all.length, &all.tractor, &all.implement}) {
            CHECK(v->front() == -7.0);
            CHECK(v->back() == -7.0);
        }
    }
}

TEST_CASE("poses in columns: heights that do not close, and what is no height, are all zeros and not counted", "[analytic]") {
    const double infinite = std::numeric_limits<double>::infinity(), none = std::numeric_limits<double>::quiet_NaN();
    PlanarLinkage k = make_linkage_a();
    k.upper_length = 0.35;  // too short for the lower end
    const DrivelineEnds e = Draw(3).ends_either_way(GENERATE(0, 1));
    std::vector<double> heights = {none, infinite, -infinite, 1e300, 0.5 + 0.886, 0.5 - 0.886};
    for (int i = 0; i < 200; ++i) heights.push_back(-0.4 + i * 0.009);
    const Solved s = solve(k, e, heights);
    std::size_t closing = 0;
    for (std::size_t i = 0; i < heights.size(); ++i) {
        CAPTURE(heights[i]);
        const bool closes = closes_at(k, heights[i]);
        closing += closes ? 1 : 0;
        CHECK((s.length[i] > 0.0) == closes);
        CHECK(solve_pose_numbers(make_pose_constants(k, e), heights[i]).closes == closes);
        if (!closes) CHECK(s.at(i) == PoseNumbers{});
        for (const double x : {s.pitch[i], s.tractor[i], s.implement[i]}) CHECK((closes ? std::isfinite(x) : x == 0.0 && !std::signbit(x)));
    }
    CHECK(closing > 10);
    CHECK(closing < 190);
    CHECK(s.closing == closing);
}

TEST_CASE("pose numbers: the ball on the upper-link pin is no pose, also where mast and upper link are of one length", "[analytic]") {
    PlanarLinkage k;
    k.lower_pivot = Point(0.0, 0.0), k.lower_length = 1.0, k.upper_pin = Point(1.0, 0.0), k.upper_length = 0.6, k.mast_pin = Point(0.0, 0.6);
    const DrivelineEnds e = Draw(13).ends();
    CHECK_FALSE(closes_at(k, 0.0));
    CHECK(solve_pose_numbers(make_pose_constants(k, e), 0.0) == PoseNumbers{});
    const Solved s = solve(k, e, {0.0, 0.1});
    CHECK(s.at(0) == PoseNumbers{});
    CHECK(s.closing == 1);
}

TEST_CASE("poses in columns: joint centres on one another are no shaft, and the pitch is still there", "[analytic]") {
    const PlanarLinkage k = make_linkage_a();
    DrivelineEnds e;
    const PlanarPose pose = solve_pose(k, 0.6);
    e.implement_joint = {0.2, 0.0, 0.1};
    const Point joint = place_point(pose, Point(0.2, 0.1));
    e.tractor_joint = {joint.x(), 0.0, joint.y()};
    const Solved s = solve(k, e, {0.6, 0.7});
    const PoseNumbers n = solve_pose_numbers(make_pose_constants(k, e), 0.6);
    CHECK(n.closes);
    for (const PoseNumbers& p : {s.at(0), n}) {
        CHECK(p.pitch == Approx(pose.pitch).margin(1e-14));
        CHECK(p.length == 0.0);
        CHECK(p.tractor_angle == 0.0);
        CHECK(p.implement_angle == 0.0);
    }
    CHECK(s.length[1] > 0.01);
}

TEST_CASE("pose numbers and poses in columns: a shaft folded back onto the stub's axis is at 180 deg, also when that is exact", "[analytic]") {
    // A parallelogram with its lower links level keeps every coordinate exact.
    PlanarLinkage k;
    k.lower_pivot = Point(0.0, 0.5), k.lower_length = 1.0, k.upper_pin = Point(0.0, 1.0), k.upper_length = 1.0, k.mast_pin = Point(0.0, 0.5);
    DrivelineEnds e;  // the implement's joint on its ball
    const bool across = GENERATE(false, true);
    CAPTURE(across);
    e.tractor_joint = across ? Vec3<double>{1.0, 0.5, 0.5} : Vec3<double>{1.5, 0.0, 0.5};  // 0.5 m beyond the implement's joint
    e.stub_axis = e.input_axis = across ? Vec3<double>{0.0, 1.0, 0.0} : Vec3<double>{1.0, 0.0, 0.0};
    const PoseNumbers n = solve_pose_numbers(make_pose_constants(k, e), 0.5);
    for (const PoseNumbers& p : {n, solve(k, e, {0.5}).at(0)}) {
        CHECK(p.length == 0.5);
        CHECK(p.tractor_angle == pi);
        CHECK(p.implement_angle == pi);
    }
}

TEST_CASE("poses in columns: joint angles near 0, 90 and 180 deg and any pitch keep all their digits", "[oracle]") {
    Draw draw(11);
    double worst = 0.0;
    for (int i = 0; i < 2000; ++i) {
        PlanarLinkage k = make_linkage_a();
        const double turned = draw.between(-pi, pi);  // the mast pin seen from a frame I that is turned
        k.mast_pin = Point(std::sin(turned), std::cos(turned)) * 0.610;
        DrivelineEnds e = draw.ends_either_way(i / 4);  // each of the four bends below
        const double h = 0.55;
        const Reference first = close_in_long_double(k, e, h);
        const LongVector joint = turn(e.implement_joint, first.pitch);
        const Long run = std::sqrt(Long(0.885) * 0.885 - Long(0.05) * 0.05);
        const double off = std::pow(10.0, draw.between(-10.0, -1.0)), bend = std::array{off, pi / 2.0 - off, pi / 2.0 + off, pi - off}[static_cast<std::size_t>(i) % 4];
        const double vx = static_cast<double>(run + joint.x - e.tractor_joint.x), vy = e.implement_joint.y - e.tractor_joint.y,
                     vz = static_cast<double>(h + joint.z - e.tractor_joint.z), s = std::hypot(vx, vy, vz), flat = std::hypot(vx, vz);
        // In the basis of the shaft and a normal of it.
        e.stub_axis = {std::cos(bend) * vx / s - std::sin(bend) * vz / flat, std::cos(bend) * vy / s, std::cos(bend) * vz / s + std::sin(bend) * vx / flat};
        const Reference r = close_in_long_double(k, e, h);
        REQUIRE(std::fabs(static_cast<double>(r.tractor_angle) - bend) < 1e-12);
        take_worst(worst, find_difference(solve(k, e, {h}).at(0), r));
        take_worst(worst, find_difference(solve_pose_numbers(make_pose_constants(k, e), h), r));
    }
    CHECK(worst < 2.7e-15);  // what is promised of the best conditioned pose, k = sqrt 3
}

namespace {

/// Half the bend by halving: sin(2 g - psi) r = w sin g has one root between psi/2 and psi (wide_angle_joint.h).
Long find_half_bend(Long psi, Long r, Long w) {
    Long low = psi / 2, high = std::min(psi, std::numbers::pi_v<Long> / 2);
    for (int i = 0; i < 80; ++i) {
        const Long g = (low + high) / 2;
        (r * std::sin(2 * g - psi) > w * std::sin(g) ? high : low) = g;
    }
    return (low + high) / 2;
}

/// The same with a wide-angle joint at the implement: the joint's plane drawn, its second cross placed in it.
Reference bend_in_long_double(const PlanarLinkage& k, const DrivelineEnds& e, Long h) {
    Reference r = close_in_long_double(k, e, h);
    const Long rise = h - k.lower_pivot.y(), c = k.lower_length, w = e.spacing;
    const LongVector joint = turn(e.implement_joint, r.pitch), rear = turn(e.input_axis, r.pitch), u{-rear.x, -rear.y, -rear.z};
    const Long along_stub = k.lower_pivot.x() + std::sqrt(c * c - rise * rise);
    const LongVector first{along_stub + joint.x - w / 2 * u.x, joint.y - w / 2 * u.y, h + joint.z - w / 2 * u.z};
    const LongVector away{e.tractor_joint.x - first.x, e.tractor_joint.y - first.y, e.tractor_joint.z - first.z};
    const Long distance = std::sqrt(dot(away, away)), axial = dot(u, away), psi = angle_between(u, away);
    const LongVector across{away.x - axial * u.x, away.y - axial * u.y, away.z - axial * u.z};
    const Long g = find_half_bend(psi, distance, w), ahead = w * std::cos(g), aside = w * std::sin(g) / std::sqrt(dot(across, across));
    const LongVector shaft{away.x - ahead * u.x - aside * across.x, away.y - ahead * u.y - aside * across.y, away.z - ahead * u.z - aside * across.z};
    r.length = std::sqrt(dot(shaft, shaft)) + w / 2;
    r.implement_angle = 2 * g;
    r.tractor_angle = angle_between({-e.stub_axis.x, -e.stub_axis.y, -e.stub_axis.z}, shaft);
    return r;
}

}  // namespace

TEST_CASE("poses in columns: with a wide-angle joint every pose is the general kernel's", "[oracle]") {
    const PlanarLinkage k = make_linkage_a();
    DrivelineEnds e = Draw(5).ends();
    e.wide_angle = WideAngleEnd::implement, e.spacing = 0.09;
    const std::vector<double> heights = {0.3, 0.5, 0.7, 5.0};
    const Solved s = solve(k, e, heights);
    CHECK(s.closing == 3);
    CHECK(s.at(3) == PoseNumbers{});
    for (std::size_t i = 0; i < 3; ++i) {
        const ShaftState<double> state = find_shaft_state(e, solve_kernel<double>(k, heights[i], k.upper_length));
        CHECK(s.pitch[i] == Approx(solve_pose(k, heights[i]).pitch).margin(1e-13));
        CHECK(s.length[i] == Approx(state.length).margin(1e-13));
        CHECK(std::cos(s.tractor[i]) == Approx(state.cos_tractor_joint).margin(1e-13));
        CHECK(std::cos(s.implement[i]) == Approx(state.cos_implement_joint).margin(1e-13));
    }
}

TEST_CASE("pose numbers: angles beside a wide-angle joint keep their digits where a joint is nearly straight", "[oracle]") {
    Draw draw(17);
    const PlanarLinkage k = make_linkage_a();
    double worst = 0.0;
    Long straightest = 1.0;
    for (int i = 0; i < 4000; ++i) {
        DrivelineEnds e = draw.ends();
        e.wide_angle = WideAngleEnd::implement, e.spacing = i % 2 == 0 ? 0.09 : 0.3;
        e.tractor_joint = {-0.4, 0.0, 0.6};  // far enough for the wider one
        const double h = draw.between(0.3, 0.8);
        // One axis along the line of the joint centres but for a hair: with both, nothing bends.
        const Reference first = close_in_long_double(k, e, h);
        const LongVector joint = turn(e.implement_joint, first.pitch);
        const Long rise = Long(h) - k.lower_pivot.y(), x = k.lower_pivot.x() + std::sqrt(Long(k.lower_length) * k.lower_length - rise * rise);
        const Long vx = x + joint.x - e.tractor_joint.x, vy = joint.y - e.tractor_joint.y, vz = h + joint.z - e.tractor_joint.z;
        const Long off = std::pow(10.0, draw.between(-10.0, -1.0)), s = std::sqrt(vx * vx + vy * vy + vz * vz), flat = std::hypot(vx, vz);
        const LongVector axis{std::cos(off) * vx / s - std::sin(off) * vz / flat, std::cos(off) * vy / s, std::cos(off) * vz / s + std::sin(off) * vx / flat};
        const LongVector back = turn({static_cast<double>(axis.x), static_cast<double>(axis.y), static_cast<double>(axis.z)}, -first.pitch);
        e.input_axis = {static_cast<double>(back.x), static_cast<double>(back.y), static_cast<double>(back.z)};
        if (i % 4 < 2) e.stub_axis = {static_cast<double>(vx / s), static_cast<double>(vy / s), static_cast<double>(vz / s)};
        const Reference r = bend_in_long_double(k, e, h);
        straightest = std::min({straightest, r.tractor_angle, r.implement_angle});
        const PoseNumbers n = solve_pose_numbers(make_pose_constants(k, e), h);
        take_worst(worst, find_difference(n, r));
        REQUIRE(n == solve(k, e, {h}).at(0));
    }
    CHECK(worst < 3e-15);
    CHECK(straightest < 1e-9L);
}

TEST_CASE("poses in columns: nothing is allocated", "[practice]") {
    const PlanarLinkage k = make_linkage_a();
    const DrivelineEnds e = Draw(9).ends_either_way(GENERATE(0, 1));
    std::vector<double> heights(1003, 0.6), pitch = heights, length = heights, tractor = heights, implement = heights;
    const std::size_t before = count_allocations();
    const std::size_t closing = solve_poses(k, e, heights, {pitch, length, tractor, implement});
    const std::size_t after = count_allocations();
    CHECK(before > 0);  // the count is alive
    CHECK(after == before);
    CHECK(closing == heights.size());
}

TEST_CASE("arc sine and angle of a chord: relative error below 9e-16 up to the root of a half and a right angle", "[oracle]") {
    const double rounding = std::numeric_limits<double>::epsilon() / 2;
    double worst = 0.0;
    for (int i = 0; i <= 200000; ++i) {
        const double x = i < 1000 ? std::pow(0.97, i) * std::sqrt(0.5) : std::sqrt(0.5) * (i - 1000) / 199000.0;
        const Long exact = std::asin(Long(x));
        const double allowed = static_cast<double>(exact) * (6.5e-16 + 2.0 * rounding);
        if (x > 0.0) take_worst(worst, static_cast<double>(std::fabs(find_arc_sine(x, x * x) - exact)) / allowed);
        REQUIRE(find_arc_sine(-x, x * x) == -find_arc_sine(x, x * x));
        REQUIRE(find_chord_angle(2.0 * x, 4.0 * (x * x)) == 2.0 * find_arc_sine(x, x * x));  // factors of two round nothing
    }
    CHECK(worst <= 1.0);
    CHECK(worst >= 0.5);  // the polynomial's own error is seen
}
