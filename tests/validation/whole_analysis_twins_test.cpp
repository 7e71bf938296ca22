// Whole analyses of twins: the same set-up in a moved frame, scaled, and seen in a mirror must get the same answer.
//
// source: none needed; twins agree by symmetry
// tolerance: 1e-9 m, rad for poses and for extremes of the moved and the mirrored twin (rounding only). Scaled extremes are
//   searched to the same absolute closeness, so that they may differ by that: 2e-6 m, 4e-6 rad, 2e-4 of a ratio.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <tuple>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/random_setup.h"

using namespace hitchwright;
using hitchwright::test::known;
using validation::RandomSetup;

namespace {

constexpr double rounding = 1e-9;

/// A random set-up with everything that clearances, guards and turns are computed from.
Setup make_full_setup(std::mt19937& random, int index) {
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const RandomSetup drawn = validation::make_random_setup(random, {index % 2 == 0, index % 4 == 1, index % 5 == 2, false});
    Setup s = drawn.setup;
    // A shaft that nearly fits, so that the answers differ.
    const double shortest = find_length_extremes(drawn.model, make_travel_box(drawn.model)).shortest.bound;
    s.driveline.closed_length = known(shortest * between(0.88, 1.04));
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.7 * s.driveline.closed_length.value);
    s.driveline.guard_radius = known(between(0.05, 0.09));
    s.driveline.guard_closed_length = known(s.driveline.closed_length.value - 0.02);
    s.driveline.guard_overlap_closed = known(0.7 * s.driveline.tractor_tube.value);
    s.tractor.drawbar.end_x = known(between(0.3, 0.6));
    s.tractor.drawbar.end_z = known(between(0.25, 0.40));
    s.tractor.upper_link = {known(0.45), known(0.75), known(0.005)};
    s.choices.upper_link_length_now = known(0.6);
    s.tractor.cab_line = {{"top", known(-0.3), known(2.1)}, {"bottom", known(-0.1), known(1.2)}};
    s.implement.points = {ImplementPoint{"edge", known(between(0.0, 0.3)), known(between(-0.2, 0.1)), Reading{}, true},
                          ImplementPoint{"top", known(between(0.0, 0.4)), known(between(0.4, 0.9)), Reading{}, false}};
    s.implement.ground_contacts = {GroundContact{"wheel", known(between(1.5, 2.0)), known(-0.1), known(0.15)}};
    for (Reading* r : {&s.tractor.lower_link.pivot_x, &s.tractor.pto.stub_x, &s.implement.pic.z, &s.driveline.closed_length}) {
        r->tolerance = 0.003;
    }
    return s;
}

struct Twin {
    Setup setup;
    Mark mark;
    double scale = 1.0;
};

template <class F>
void change_readings(Setup& s, const F& change) {
    visit_readings(s, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (r.known) change(key, r, spec);
    });
}

Twin move_frame(const Setup& setup, const Mark& mark, double by) {
    Twin t{setup, mark};
    int moved = 0;
    change_readings(t.setup, [&](const std::string& key, Reading& r, const FieldSpec&) {
        const bool x = key.ends_with(".x") || key.ends_with("pivot_x") || key.ends_with("stub_x") || key.ends_with("end_x");
        if (!key.starts_with("tractor.") || !x) return;
        r.value += by;
        ++moved;
    });
    REQUIRE(moved == 6);  // pivot, upper-link pin, stub, drawbar, two points of the cab
    return t;
}

Twin scale(const Setup& setup, const Mark& mark, double factor) {
    Twin t{setup, {mark.step * factor}, factor};
    change_readings(t.setup, [&](const std::string&, Reading& r, const FieldSpec& spec) {
        if (spec.dimension != Dimension::length && spec.dimension != Dimension::length_per_turn) return;
        r.value *= factor;
        r.tolerance *= factor;
    });
    RuleSet& u = t.setup.rules;
    for (Limit* l : {&u.gap_required, &u.gap_aimed, &u.overlap_least, &u.clearance, &u.guard_overlap}) l->value *= factor;
    return t;
}

Twin mirror(const Setup& setup, const Mark& mark) {
    Twin t{setup, mark};
    change_readings(t.setup, [&](const std::string& key, Reading& r, const FieldSpec&) {
        const bool sideways = key.ends_with("stub_y") || key.ends_with("pic.y") || key.ends_with("plan_angle") ||
                              key.ends_with("yoke_phase_error");
        if (sideways) r.value = -r.value;
    });
    return t;
}

/// Closeness allowed for an extreme, by its dimension.
double find_slack(Dimension d, double scale) {
    if (scale == 1.0) return rounding;
    return d == Dimension::length ? 2e-6 * std::max(1.0, scale) : d == Dimension::angle ? 4e-6 : 2e-4;
}

/// Findings in an order that does not depend on their numbers but for equal ones.
std::vector<Finding> in_order(std::vector<Finding> all) {
    std::stable_sort(all.begin(), all.end(), [](const Finding& a, const Finding& b) {
        return std::make_tuple(a.kind, a.subject, a.other, a.severity) < std::make_tuple(b.kind, b.subject, b.other, b.severity);
    });
    return all;
}

/// Humps and hollows begin below the rear axle, which a moved frame leaves where it is: no twins there.
Analysis without_humps(Analysis a) {
    std::erase_if(a.findings, [](const Finding& f) { return f.kind == FindingKind::floating_link_slot; });
    return a;
}

void compare_findings(const Analysis& a, const Analysis& b, double scale) {
    REQUIRE(a.findings.size() == b.findings.size());
    const std::vector<Finding> first = in_order(a.findings), second = in_order(b.findings);
    for (std::size_t i = 0; i < first.size(); ++i) {
        const Finding &f = first[i], &g = second[i];
        const double k = f.dimension == Dimension::length ? scale : 1.0, slack = find_slack(f.dimension, scale);
        CAPTURE(finding_word(f.kind), f.subject, f.other, f.value * k, g.value, f.margin * k, g.margin, f.height, g.height);
        CHECK((f.kind == g.kind && f.subject == g.subject && f.other == g.other && f.severity == g.severity));
        CHECK(std::fabs(f.value * k - g.value) < slack);
        CHECK(std::fabs(f.limit * k - g.limit) < slack);
        CHECK(std::fabs(f.margin * k - g.margin) < slack);
        // Which places compete within the errors is asked in centimetres, so that a scaled machine may look at one more or less.
        CHECK(std::fabs(f.band * k - g.band) < (scale == 1.0 ? rounding : 0.01 * g.band + slack));
        REQUIRE(f.heights.size() == g.heights.size());
        for (std::size_t n = 0; n < f.heights.size(); ++n) {
            CHECK(std::fabs(f.heights[n].low * scale - g.heights[n].low) < (scale == 1.0 ? 2e-9 : 2e-6 * scale));
            CHECK(std::fabs(f.heights[n].high * scale - g.heights[n].high) < (scale == 1.0 ? 2e-9 : 2e-6 * scale));
        }
    }
}

void compare_poses(const PoseReport& a, const PoseReport& b, double scale) {
    CHECK(a.pose.closes == b.pose.closes);
    CHECK(std::fabs(a.pose.pitch - b.pose.pitch) < rounding);
    CHECK(std::fabs(a.pose.upper_link_angle - b.pose.upper_link_angle) < rounding);
    CHECK(std::fabs(a.tractor_angle - b.tractor_angle) < rounding);
    CHECK(std::fabs(a.implement_angle - b.implement_angle) < rounding);
    CHECK(std::fabs(a.non_uniformity - b.non_uniformity) < rounding);
    for (const auto member : {&PoseReport::upper_length, &PoseReport::shaft_length, &PoseReport::gap, &PoseReport::overlap}) {
        CHECK(std::fabs(a.*member * scale - b.*member) < rounding * scale);
    }
}

void compare(const std::string& what, const Analysis& a, const Twin& twin) {
    CAPTURE(what);
    const Analysis b = analyze(twin.setup, twin.mark, BandEffort::draws);
    CHECK(verdict_word(a.verdict) == verdict_word(b.verdict));
    if (what == "moved") compare_findings(without_humps(a), without_humps(b), twin.scale);
    else compare_findings(a, b, twin.scale);
    REQUIRE((a.linkage && b.linkage && a.shaft && b.shaft));
    compare_poses(a.linkage->low, b.linkage->low, twin.scale);
    compare_poses(a.linkage->working, b.linkage->working, twin.scale);
    compare_poses(a.linkage->high, b.linkage->high, twin.scale);
    CHECK(a.shaft->plan.answer == b.shaft->plan.answer);
    CHECK(std::fabs(a.shaft->plan.recommended.a * twin.scale - b.shaft->plan.recommended.a) < rounding * twin.scale);
    CHECK(std::fabs(a.shaft->plan.recommended.b * twin.scale - b.shaft->plan.recommended.b) < rounding * twin.scale);
    REQUIRE(a.clearances.size() == b.clearances.size());
    for (std::size_t i = 0; i < a.clearances.size(); ++i) {
        CAPTURE(i, a.clearances[i].part);
        CHECK(std::fabs(a.clearances[i].least.bound * twin.scale - b.clearances[i].least.bound) <
              find_slack(Dimension::length, twin.scale));
    }
}

/// "fits" read off a sweep: every pose keeps gap and overlap, and the working pose the joint angle.
void check_fit_by_sweep(const Setup& s, const Analysis& a) {
    for (const PoseReport& p : sweep_travel(s, 201)) {
        CAPTURE(p.pose.ball_height);
        CHECK(p.gap >= s.rules.gap_required.value - rounding);
        CHECK(p.overlap >= s.rules.overlap_least.value - rounding);
        CHECK(p.overlap >= s.rules.overlap_fraction.value * s.driveline.tractor_tube.value - rounding);
    }
    CHECK(std::max(a.linkage->working.tractor_angle, a.linkage->working.implement_angle) < to_radians(80.0));
}

}  // namespace

TEST_CASE("whole analysis: moved, scaled and mirrored twins get the same verdict, findings and numbers", "[random][metamorphic]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::map<std::string_view, int> verdicts;
    for (int i = 0; i < 40; ++i) {
        const Setup s = make_full_setup(random, i);
        const Analysis a = analyze(s, millimetre_mark, BandEffort::draws);
        ++verdicts[verdict_word(a.verdict)];
        CAPTURE(i, verdict_word(a.verdict));
        if (a.verdict == Verdict::fits) check_fit_by_sweep(s, a);
        compare("moved", a, move_frame(s, millimetre_mark, 0.37));
        compare("mirrored", a, mirror(s, millimetre_mark));
        compare("scaled up", a, scale(s, millimetre_mark, 2.0));
        compare("scaled down", a, scale(s, millimetre_mark, 0.8));
    }
    CHECK(verdicts.size() >= 3);  // not one answer to everything
}
