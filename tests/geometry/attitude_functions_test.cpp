// The searches' own functions of an attitude against the general kernel: the same values, slopes no wider, and the same
// answers.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include "geometry/angle.h"
#include "geometry/attitude_functions.h"
#include "geometry/drawbar_positions.h"
#include "geometry/length_over_box.h"
#include "geometry/longest_over_turn.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double rounding_error = 1.0e-13;  // m, rad and their products: a few hundred units in the last place

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }

    /// Boxes from a hand's breadth of angles down to a point.
    IntervalBox<3> box() {
        const double size = std::pow(10.0, between(-8.0, -0.7));
        IntervalBox<3> b;
        for (Interval& side : b) {
            const double low = between(-0.9, 0.9);
            side = between(0.0, 1.0) < 0.2 ? Interval(low) : Interval(low, low + size * between(0.1, 1.0));
        }
        return b;
    }
    DrawnDriveline driveline(WideAngleEnd end) {
        DrawnDriveline d;
        d.ends.wide_angle = end;
        d.ends.spacing = end == WideAngleEnd::none ? 0.0 : 0.1;
        d.ends.yoke_phase_error = between(0.0, 1.0) < 0.5 ? 0.0 : between(-0.3, 0.3);
        d.ends.tractor_joint = {0.4, between(-0.05, 0.05), 0.6};
        d.ends.stub_axis = axis(between(-0.1, 0.1), between(-0.1, 0.1));
        d.ends.implement_joint = {between(0.4, 1.0), between(-0.1, 0.1), between(-0.1, 0.3)};
        d.ends.input_axis = axis(between(-0.2, 0.2), between(-0.3, 0.3));
        d.pin = {between(0.6, 0.9), 0.0, between(0.4, 0.5)};
        return d;
    }

private:
    static Vec3<double> axis(double slope, double plan) {
        return {std::cos(slope) * std::cos(plan), std::cos(slope) * std::sin(plan), std::sin(slope)};
    }
    std::mt19937 random_;
};

std::array<IntervalJet<3>, 3> variables(const IntervalBox<3>& box) {
    return {IntervalJet<3>::variable(box[0], 0), IntervalJet<3>::variable(box[1], 1),
            IntervalJet<3>::variable(box[2], 2)};
}

/// True when both ends agree to rounding, or both are endless.
bool is_near(const Interval& a, const Interval& b) {
    const auto near = [](double x, double y) {
        return x == y || std::fabs(x - y) <= rounding_error * std::max(1.0, std::fabs(x));
    };
    return near(a.lo, b.lo) && near(a.hi, b.hi);
}
bool is_near(const IntervalJet<3>& a, const IntervalJet<3>& b) {
    return is_near(a.v, b.v) && is_near(a.d[0], b.d[0]) && is_near(a.d[1], b.d[1]) && is_near(a.d[2], b.d[2]);
}

/// The ripple has a form of its own: it must hold the general kernel's values and differences.
void check_ripple(const DrawnDriveline& d, const IntervalBox<3>& box, const IntervalJet<3>& f) {
    if (!std::isfinite(f.v.width())) return;  // a joint may be at a right angle
    const auto value = [&](const std::array<double, 3>& x) {
        return find_non_uniformity_squared(d, detail::evaluate_drawn_state<double>(d, x[0], x[1], x[2]));
    };
    const std::array<double, 3> middle{box[0].middle(), box[1].middle(), box[2].middle()};
    const double at_middle = value(middle);
    for (int n = 0; n < 27; ++n) {
        std::array<double, 3> x{};
        Interval moves(0.0);
        for (std::size_t i = 0; i < 3; ++i) {
            const int third = i == 0 ? n % 3 : i == 1 ? n / 3 % 3 : n / 9;
            x[i] = third == 0 ? box[i].lo : third == 1 ? middle[i] : box[i].hi;
            if (x[i] != middle[i]) moves = moves + f.d[i] * (Interval(x[i]) - Interval(middle[i]));
        }
        const double v = value(x), slack = 1.0e-12 * std::max(1.0, v);
        CHECK((v >= f.v.lo - slack && v <= f.v.hi + slack));
        CHECK((v - at_middle >= moves.lo - slack && v - at_middle <= moves.hi + slack));
    }
}

}  // namespace

TEST_CASE("attitude jets: a turned vector is that of the general jets, value by value and slope by slope",
          "[oracle][random]") {
    Draw draw(20261126);
    for (int i = 0; i < 2000; ++i) {
        const IntervalBox<3> box = draw.box();
        const std::array<IntervalJet<3>, 3> x = variables(box);
        const AttitudeJets fast(box);
        const AttitudeKernel<IntervalJet<3>> general = make_attitude_kernel(x[0], x[1], x[2]);
        const Vec3<double> a{draw.between(-2.0, 2.0), draw.between(-2.0, 2.0), draw.between(-2.0, 2.0)};
        for (const auto& [f, g] :
             {std::pair{fast.turn(a), general.turn(a)}, std::pair{fast.turn_back(a), general.turn_back(a)}}) {
            CHECK((f.x.v == g.x.v && f.y.v == g.y.v && f.z.v == g.z.v));
            CHECK((is_near(f.x, g.x) && is_near(f.y, g.y) && is_near(f.z, g.z)));
        }
    }
}

TEST_CASE("attitude functions: length, joint angle and ripple are those of the general kernel", "[oracle][random]") {
    Draw draw(20261127);
    for (int i = 0; i < 1500; ++i) {
        const WideAngleEnd end = i % 5 == 0   ? WideAngleEnd::tractor
                                 : i % 5 == 1 ? WideAngleEnd::implement
                                              : WideAngleEnd::none;
        const DrawnDriveline d = draw.driveline(end);
        const LengthOverBox length(d);
        const VersineOverBox first(d, JointEnd::tractor), second(d, JointEnd::implement);
        const RippleOverBox ripple(d);
        for (int k = 0; k < 3; ++k) {  // one after the other: what is remembered must not be taken for another box
            const IntervalBox<3> box = draw.box();
            const std::array<IntervalJet<3>, 3> x = variables(box);
            const DrawnState<IntervalJet<3>> s = find_drawn_state(d, x[0], x[1], x[2]);
            CHECK(is_near(length(x), s.shaft.length));
            CHECK(is_near(first(x), find_joint_versine(d, x[0], x[1], x[2], JointEnd::tractor)));
            CHECK(is_near(second(x), find_joint_versine(d, x[0], x[1], x[2], JointEnd::implement)));
            check_ripple(d, box, ripple(x));
            const std::array<IntervalJet<0>, 3> at{box[0].middle(), box[1].middle(), box[2].middle()};
            const DrawnState<IntervalJet<0>> p = find_drawn_state(d, at[0], at[1], at[2]);
            CHECK(is_near(length(at).v, p.shaft.length.v));
            CHECK(is_near(first(at).v, find_joint_versine(d, at[0], at[1], at[2], JointEnd::tractor).v));
            const Interval ripple_at = find_non_uniformity_squared(d, p).v;
            CHECK((ripple(at).v.lo <= ripple_at.hi && ripple_at.lo <= ripple(at).v.hi));
            CHECK(ripple(at).v.width() < 1.0e-10);
        }
    }
}

TEST_CASE("longest over a turn: holds the length at every yaw, is attained where it says, and its slopes hold its differences",
          "[oracle][random]") {
    Draw draw(20261128);
    for (int i = 0; i < 400; ++i) {
        const DrawnDriveline d = draw.driveline(WideAngleEnd::none);
        const double from = draw.between(-3.0, 1.0), turn = i % 7 == 0 ? 0.0 : draw.between(0.0, i % 5 == 0 ? 6.0 : 1.5);
        const LongestOverTurn longest(d, {from, from + turn});
        const IntervalBox<3> sides = draw.box();
        const IntervalBox<2> box{sides[1], sides[2]};
        const IntervalJet<2> f = longest(std::array{IntervalJet<2>::variable(box[0], 0), IntervalJet<2>::variable(box[1], 1)});
        const auto place = [&](const Interval& side) { return std::clamp(draw.between(side.lo, side.hi), side.lo, side.hi); };
        const auto length_at = [&](double yaw, double pitch, double roll) {
            return detail::evaluate_drawn_state<double>(d, yaw, pitch, roll).shaft.length;
        };
        for (int k = 0; k < 20; ++k) {
            const double p = place(box[0]), r = place(box[1]), q = place(box[0]), s = place(box[1]);
            const double yaw = longest.find_yaw(p, r), most = length_at(yaw, p, r);
            CHECK((yaw >= from && yaw <= from + turn));
            CHECK((most >= f.v.lo - rounding_error && most <= f.v.hi + rounding_error));
            for (int n = 0; n <= 20; ++n) CHECK(length_at(from + turn * n / 20.0, p, r) <= most + rounding_error);
            const Interval at = longest(std::array{IntervalJet<0>(p), IntervalJet<0>(r)}).v;
            CHECK((std::fabs(at.lo - most) < 1.0e-9 && std::fabs(at.hi - most) < 1.0e-9));
            const Interval moves = f.d[0] * (Interval(q) - Interval(p)) + f.d[1] * (Interval(s) - Interval(r));
            CHECK(moves.lo - rounding_error <= length_at(longest.find_yaw(q, s), q, s) - most);
            CHECK(moves.hi + rounding_error >= length_at(longest.find_yaw(q, s), q, s) - most);
        }
    }
}

TEST_CASE("longest over a turn: the search over pitch and roll ends where the one over all three angles does", "[oracle][random]") {
    Draw draw(20261129);
    DrawnModel m;
    m.has_shaft = true;
    for (int i = 0; i < 60; ++i) {
        m.driveline = draw.driveline(WideAngleEnd::none);
        const auto range = [&](double most) { return AngleRange{-draw.between(0.0, most), draw.between(0.0, most)}; };
        const AttitudeBox box{range(i % 3 == 0 ? 2.0 : 0.7), range(0.5), range(0.2)};
        const AttitudeExtreme e = find_longest(m, box);
        const IntervalBox<3> sides{Interval(box.yaw.low, box.yaw.high), Interval(box.pitch.low, box.pitch.high), Interval(box.roll.low, box.roll.high)};
        const BoundedExtreme<3> other = find_maximum<3>(LengthOverBox(m.driveline), sides, PlainCloseness{1.0e-4});
        CAPTURE(i, e.value, e.bound, other.value, other.bound);
        CHECK(e.converged);
        CHECK((e.value <= other.bound && other.value <= e.bound));
        CHECK((box.yaw.contains(e.at.yaw) && box.pitch.contains(e.at.pitch) && box.roll.contains(e.at.roll)));
        CHECK(std::fabs(find_limited_state(m, e.at).length - e.value) < 1.0e-11);
    }
}

TEST_CASE("length over box: within a limit or not, as the whole search says, near the extreme and far from it",
          "[oracle]") {
    const DrawnModel m = make_drawn_model(make_drawn_setup()).model;
    const AttitudeExtreme shortest = find_shortest(m, m.box), longest = find_longest(m, m.box);
    int evaluations = 0;
    for (const double off : {-0.5, -1e-2, -1e-4, -5e-6, 5e-6, 1e-4, 1e-2, 0.5}) {
        CAPTURE(off);
        // With the worst attitude of an earlier search and without.
        for (WorstAttitude worst :
             {WorstAttitude{}, WorstAttitude{shortest.at}, WorstAttitude{Attitude{0.1, 0.0, 0.2}}}) {
            CHECK(stays_longer_than(m, m.box, shortest.bound - off, worst, evaluations) == (off > 0.0));
        }
        for (WorstAttitude worst :
             {WorstAttitude{}, WorstAttitude{longest.at}, WorstAttitude{Attitude{0.1, 0.0, 0.2}}}) {
            CHECK(stays_shorter_than(m, m.box, longest.bound + off, worst, evaluations) == (off > 0.0));
        }
    }
    // Far from the extreme the answer comes with the first boxes.
    int few = 0;
    WorstAttitude none;
    CHECK(stays_shorter_than(m, m.box, longest.bound + 0.5, none, few));
    CHECK(few < 10);
}

TEST_CASE("length over box: a limited state is the driveline's state", "[oracle]") {
    for (const JointKind kind : {JointKind::plain, JointKind::wide_angle}) {
        Setup s = make_drawn_setup();
        s.driveline.tractor_joint.kind = kind;
        const DrawnModel m = make_drawn_model(s).model;
        for (const Attitude& a : {Attitude{0.1, 0.05, 0.4}, Attitude{-0.2, 0.0, -0.3}, Attitude{}}) {
            const DrivelineState all = find_driveline_state(m, a), limited = find_limited_state(m, a);
            CHECK((limited.length == all.length && limited.tractor_angle == all.tractor_angle &&
                   limited.implement_angle == all.implement_angle));
        }
    }
}

TEST_CASE("drawbar positions: judged as in the whole study, and the extremes found are the same", "[oracle]") {
    const Setup s = make_drawn_setup();
    const Mark mark = sixteenth_inch_mark;
    const DrawbarStudy whole = study_drawbar(s, mark), judged = judge_positions(s, mark);
    REQUIRE((whole.pins.size() == 3 && judged.pins.size() == 3));
    for (std::size_t i = 0; i < whole.pins.size(); ++i) {
        const PinStudy &w = whole.pins[i], &j = judged.pins[i];
        CHECK((w.name == j.name && w.fit == j.fit && w.reasons == j.reasons && w.gap_straight == j.gap_straight));
        CHECK((w.whole.shortest == j.whole.shortest && w.whole.longest == j.whole.longest &&
               w.turn.longest == j.turn.longest));
        CHECK((w.turn.tractor_angle == j.turn.tractor_angle && w.turn.implement_angle == j.turn.implement_angle));
        DrawnExtremes completed = j.whole;
        complete_extremes(j.model, j.model.box, completed);
        CHECK(
            (completed.tractor_angle == w.whole.tractor_angle && completed.implement_angle == w.whole.implement_angle));
        CHECK((completed.non_uniformity == w.whole.non_uniformity && completed.turns == w.whole.turns));
    }
    CHECK((whole.lengths.low == judged.lengths.low && whole.lengths.high == judged.lengths.high));
}
