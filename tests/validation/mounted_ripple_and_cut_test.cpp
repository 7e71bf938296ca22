// Ripple and cut set of whole random set-ups by a second method: joints turned in space, tubes pushed on a line.
//
// Ripple: the yoke arms are carried through both crosses over a turn ("an arm is square to its own shaft and to the other
//   arm of its cross"), the output angle is unwrapped and differenced: no matrix, no formula for a speed.
// Cut set: the shaft is two tubes on a line, cut, and pulled through sampled poses of the travel by the second route of
//   random_setup.h; a cut is good when no pose breaks the gap or the overlap.
// source: none needed, the truth is computed
// tolerance: ripple 1e-5 (steps of 0.25 deg, parabola through the peak); cuts are tried 0.1 mm off the edge of the set, more
//   than the sampled extremes miss
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <vector>

#include <Eigen/Geometry>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/random_setup.h"

using namespace hitchwright;
using hitchwright::test::known;
using validation::RandomSetup;
using validation::Reference;

namespace {

using Vector = Eigen::Vector3d;

Vector any_square_to(const Vector& axis) {
    const Vector other = std::fabs(axis.z()) < 0.8 ? Vector::UnitZ() : Vector::UnitY();
    return axis.cross(other).normalized();
}

/// Angle of the output arm about u_b when the input arm has turned by `input` about u_a.
double turn_through(const Vector& u_a, const Vector& v, const Vector& u_b, double phase, double input) {
    const Vector first = Eigen::AngleAxisd(input, u_a) * any_square_to(u_a);
    const Vector inner = v.cross(first).normalized();
    const Vector other_inner = Eigen::AngleAxisd(phase, v) * inner;
    const Vector last = u_b.cross(other_inner).normalized();
    const Vector zero = any_square_to(u_b);
    return std::atan2(u_b.dot(zero.cross(last)), zero.dot(last));
}

/// Greatest less least output speed per input speed over a turn.
double measure_ripple(const Vector& u_a, const Vector& v, const Vector& u_b, double phase) {
    constexpr int steps = 1440;
    constexpr double half_step = pi / steps;
    std::vector<double> ratio;
    for (int i = 0; i < steps; ++i) {
        const double input = 2.0 * half_step * i;
        const double before = turn_through(u_a, v, u_b, phase, input - half_step);
        const double after = turn_through(u_a, v, u_b, phase, input + half_step);
        ratio.push_back(wrap_angle(after - before) / (2.0 * half_step));
    }
    double least = 1e9, most = 0.0;
    for (std::size_t i = 0; i < ratio.size(); ++i) {
        const double a = ratio[(i + ratio.size() - 1) % ratio.size()], b = ratio[i], c = ratio[(i + 1) % ratio.size()];
        const double bend = a - 2.0 * b + c, slope = 0.5 * (c - a);
        const double peak = std::fabs(slope) < std::fabs(bend) ? b - 0.5 * slope * slope / bend : b;
        least = std::min({least, b, peak});
        most = std::max({most, b, peak});
    }
    return most - least;
}

/// A shaft as two tubes on a line.
struct Tubes {
    double root_a, root_b, tube_a, tube_b;
    double closed() const { return std::max(root_a + tube_a + root_b, root_b + tube_b + root_a); }
    double overlap(double length) const { return (root_a + tube_a) - (length - root_b - tube_b); }
};

/// Shaft lengths of sampled poses.
std::vector<double> sample_lengths(const RandomSetup& r) {
    const Reference reference(r.setup);
    const HeightRange& h = r.model.travel;
    const HeightRange e = effective_upper_lengths(r.model);
    std::vector<double> lengths;
    const int columns = e.low < e.high ? 12 : 0;
    for (int i = 0; i <= 400; ++i) {
        for (int k = 0; k <= columns; ++k) {
            const auto p = reference.at(std::min(h.low + (h.high - h.low) * i / 400.0, h.high),
                                        columns == 0 ? e.low : std::min(e.low + (e.high - e.low) * k / columns, e.high));
            REQUIRE(p);
            lengths.push_back(p->length);
        }
    }
    return lengths;
}

/// Pulls a cut shaft through all sampled poses.
bool survives(Tubes shaft, const CutPair& cut, const std::vector<double>& lengths, const RuleSet& rules, double gap) {
    shaft.tube_a -= cut.a;
    shaft.tube_b -= cut.b;
    if (cut.a < 0.0 || cut.b < 0.0 || shaft.tube_a <= 0.0 || shaft.tube_b <= 0.0) return false;
    const double needed = std::max(rules.overlap_least.value, rules.overlap_fraction.value * std::max(shaft.tube_a, shaft.tube_b));
    return std::all_of(lengths.begin(), lengths.end(), [&](double length) {
        return length - shaft.closed() >= gap && shaft.overlap(length) >= needed;
    });
}

/// Signed distance of a cut from the edge of a convex polygon given anticlockwise; positive inside.
double find_depth(const std::vector<CutPair>& corners, const CutPair& p) {
    double depth = 1e9;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const CutPair &a = corners[i], &b = corners[(i + 1) % corners.size()];
        const double side = std::hypot(b.a - a.a, b.b - a.b);
        if (side > 0.0) depth = std::min(depth, ((b.a - a.a) * (p.b - a.b) - (b.b - a.b) * (p.a - a.a)) / side);
    }
    return depth;
}

/// A shaft that roughly fits, a little too long or too short, with unequal halves.
void fit_shaft(std::mt19937& random, RandomSetup& r) {
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const std::vector<double> lengths = sample_lengths(r);
    const double shortest = *std::min_element(lengths.begin(), lengths.end());
    Driveline& d = r.setup.driveline;
    d.closed_length = known(shortest * between(0.65, 1.3));
    d.tractor_tube = known(d.closed_length.value * between(0.35, 0.75));
    d.implement_tube = known(d.tractor_tube.value * between(0.8, 1.2));
    if (d.implement_tube.value > d.closed_length.value) d.implement_tube = d.tractor_tube;
    const MountedModelResult built = make_mounted_model(r.setup);
    REQUIRE(built.shaft_obstacles.empty());
    r.model = built.model;
}

}  // namespace

TEST_CASE("whole set-up: ripple with phase against joints turned in space", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    double greatest = 0.0;
    int wide = 0;
    for (int i = 0; i < 40; ++i) {
        const RandomSetup r = validation::make_random_setup(random, {true, i % 4 == 3, false, false});
        const Reference reference(r.setup);
        for (const double share : {0.1, 0.5, 0.9}) {
            const double h = r.model.travel.low + share * (r.model.travel.high - r.model.travel.low);
            const PoseReport report = make_pose_report(r.setup, r.model, h);
            REQUIRE(report.turns);
            const auto shafts = reference.shafts_at(h, r.model.linkage.upper_length);
            REQUIRE(shafts);
            CAPTURE(i, share, report.tractor_angle, report.implement_angle);
            double expected = 0.0;
            if (r.features.wide_angle) {
                // The wide-angle joint turns evenly: the plain one alone, whatever stands at its other side.
                const bool at_tractor = r.model.ends.wide_angle == WideAngleEnd::tractor;
                const double plain = at_tractor ? report.implement_angle : report.tractor_angle;
                const Vector bent(std::cos(plain), 0.0, std::sin(plain));
                expected = measure_ripple(Vector::UnitX(), Vector::UnitX(), bent, 0.0);
                ++wide;
            } else {
                const Vector v = (find_implement_joint(shafts->input) - find_tractor_joint(shafts->stub)).normalized();
                expected = measure_ripple(shafts->stub.axis, v, shafts->input.axis, r.setup.driveline.yoke_phase_error.value);
            }
            CHECK(report.non_uniformity == Approx(expected).epsilon(0).margin(1e-5 * (1.0 + 10.0 * expected)));
            greatest = std::max(greatest, expected);
        }
    }
    CHECK(greatest > 0.2);
    CHECK(wide > 20);
}

TEST_CASE("whole set-up: the cut set and the recommended cut against tubes pulled through the travel", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    constexpr double edge = 1e-4;  // m
    std::map<CutAnswer, int> answers;
    int tried = 0;
    for (int i = 0; i < 60; ++i) {
        RandomSetup r = validation::make_random_setup(random, {i % 2 == 0, i % 4 == 1, i % 3 == 2, false});
        fit_shaft(random, r);
        const Analysis a = analyze(r.setup, millimetre_mark);
        REQUIRE((a.shaft && a.shaft->has_plan));
        const CutPlan& plan = a.shaft->plan;
        const TelescopingHalves& h = r.model.halves;
        const double roots = h.closed_length - std::max(h.tube_a, h.tube_b);
        const Tubes shaft{0.4 * roots, 0.6 * roots, h.tube_a, h.tube_b};
        const std::vector<double> lengths = sample_lengths(r);
        const RuleSet& rules = r.setup.rules;
        CAPTURE(i, static_cast<int>(plan.answer), plan.recommended.a, plan.recommended.b, plan.admissible.size());
        ++answers[plan.answer];
        // Cuts all over the place: good ones lie in the polygon, the others outside.
        int wrong = 0;
        for (double ca = 0.0; ca < h.tube_a; ca += h.tube_a / 60.0) {
            for (double cb = 0.0; cb < h.tube_b; cb += h.tube_b / 60.0) {
                const double depth = plan.admissible.size() < 3 ? -1e9 : find_depth(plan.admissible, {ca, cb});
                if (std::fabs(depth) < edge) continue;
                const bool good = survives(shaft, {ca, cb}, lengths, rules, rules.gap_required.value);
                wrong += good != (depth > 0.0);
                ++tried;
            }
        }
        if (plan.admissible.empty() || plan.admissible.size() >= 3) CHECK(wrong == 0);  // else thinner than the edge
        if (plan.answer == CutAnswer::no_cut_works) continue;
        // The recommended cut survives (to a thousandth of a millimetre), lies on marks and is the smallest to reach the aim.
        const double hair = 2e-6;
        const auto works = [&](const CutPair& c, double gap) { return survives(shaft, c, lengths, rules, gap - hair); };
        if (plan.answer != CutAnswer::cut_between_marks) {
            CHECK(works(plan.recommended, rules.gap_required.value));
            for (const double c : {plan.recommended.a, plan.recommended.b}) {
                CHECK(std::fabs(c * 1000.0 - std::round(c * 1000.0)) < 1e-6);
            }
        }
        if (plan.answer == CutAnswer::cut_to_aim) {
            CHECK(works(plan.recommended, rules.gap_aimed.value));
            const CutPair less_a{plan.recommended.a - 0.001, plan.recommended.b}, less_b{plan.recommended.a, plan.recommended.b - 0.001};
            CHECK_FALSE(survives(shaft, less_a, lengths, rules, rules.gap_aimed.value + 1e-5));
            CHECK_FALSE(survives(shaft, less_b, lengths, rules, rules.gap_aimed.value + 1e-5));
        }
        if (plan.answer == CutAnswer::no_cut_needed) CHECK(works({0.0, 0.0}, rules.gap_required.value));
    }
    CHECK(tried > 100000);
    CHECK(answers.size() >= 3);
    CHECK(answers[CutAnswer::cut_to_aim] >= 5);
    CHECK(answers[CutAnswer::no_cut_works] >= 5);
}
