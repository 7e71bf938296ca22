#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const Finding* find(const Analysis& a, FindingKind kind, const std::string& subject = {}) {
    for (const Finding& f : a.findings) {
        if (f.kind == kind && (subject.empty() || f.subject.starts_with(subject))) return &f;
    }
    return nullptr;
}

Setup with_tolerances(Setup s) {
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
    return s;
}

}  // namespace

TEST_CASE("drawn analysis: error bands of gap and overlap are those that repeated readings scatter by", "[random]") {
    Setup s = with_tolerances(make_drawn_setup());
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.drawn);
    REQUIRE(a.drawn->bands.known);
    std::mt19937 random(4);
    std::normal_distribution<double> normal;
    constexpr int draws = 4000;
    double gaps = 0.0, overlaps = 0.0;
    for (int i = 0; i < draws; ++i) {
        Setup moved = s;
        visit_readings(moved, [&](const std::string&, Reading& r, const FieldSpec&) {
            if (r.known) r.value += 0.5 * r.tolerance * normal(random);
        });
        const DrawnModel m = make_drawn_model(moved).model;
        REQUIRE(m.has_halves);
        const double gap = find_gap(m.halves, find_driveline_state(m, a.drawn->whole.shortest.at).length);
        const double overlap = find_overlap(m.halves, find_driveline_state(m, a.drawn->whole.longest.at).length);
        gaps += std::pow(gap - a.drawn->plan.uncut.gap, 2);
        overlaps += std::pow(overlap - a.drawn->plan.uncut.overlap, 2);
    }
    CHECK(std::fabs(2.0 * std::sqrt(gaps / draws) / a.drawn->bands.gap.width - 1.0) < 0.05);
    CHECK(std::fabs(2.0 * std::sqrt(overlaps / draws) / a.drawn->bands.overlap.width - 1.0) < 0.05);
}

TEST_CASE("drawn analysis: the drawbar comes before the saw", "[analytic]") {
    Setup s = make_drawn_setup();
    s.driveline.closed_length = known(0.700);
    s.driveline.tractor_tube = known(0.500);
    s.driveline.implement_tube = known(0.480);
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* cut = find(a, FindingKind::cut);
    REQUIRE(cut);
    const auto position = std::find_if(a.drawn->positions.pins.begin(), a.drawn->positions.pins.end(), [](const PinStudy& p) { return p.fit == ShaftFit::fits; });
    if (position != a.drawn->positions.pins.end()) {
        CHECK(cut->remedies.front().kind == RemedyKind::other_drawbar_pin);
        Setup moved = s;
        moved.choices.drawn.drawbar_pin = cut->remedies.front().subject;
        CHECK_FALSE(find(analyze(moved, millimetre_mark), FindingKind::cut));
    } else {
        CHECK(cut->remedies.front().kind == RemedyKind::cut_both_halves);
    }
}

TEST_CASE("drawn analysis: an implement that is beside the middle stops the other turn when it is mirrored", "[metamorphic]") {
    Setup s = make_drawn_setup();
    s.implement.pic.y = known(0.080);
    s.implement.drawn.bars[0].front_y = s.implement.drawn.bars[0].rear_y = known(0.15);
    Setup t = s;
    t.implement.pic.y.value = -0.080;
    t.implement.drawn.bars[0].front_y.value = t.implement.drawn.bars[0].rear_y.value = -0.15;
    const Analysis a = analyze(s, millimetre_mark), b = analyze(t, millimetre_mark);
    CHECK(a.verdict == b.verdict);
    const Finding *left = find(a, FindingKind::turn_limit, "left"), *right = find(b, FindingKind::turn_limit, "right");
    REQUIRE((left && right));
    CHECK(std::fabs(left->value - right->value) < 1e-9);
    CHECK(left->other == right->other);
    CHECK(std::fabs(a.drawn->whole.shortest.bound - b.drawn->whole.shortest.bound) < 2e-5);
    CHECK(std::fabs(a.drawn->whole.shortest.at.yaw + b.drawn->whole.shortest.at.yaw) < 0.02);
}

TEST_CASE("drawn analysis: a turn wanted beyond the first stop is a condition, one within it is good", "[analytic]") {
    Setup s = make_drawn_setup();
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* stop = find(a, FindingKind::turn_limit, "left");
    REQUIRE(stop);
    for (const double factor : {0.9, 1.1}) {
        s.choices.drawn.turn_left_most = known(factor * stop->value);
        const Analysis turned = analyze(s, millimetre_mark);
        const Finding* f = find(turned, FindingKind::turn_limit, "left");
        REQUIRE(f);
        CHECK(std::fabs(f->value - stop->value) < 1e-9);
        CHECK(f->severity == (factor < 1.0 ? Severity::good : Severity::condition));
        if (factor > 1.0) CHECK(f->cautions == std::vector<Caution>{Caution::turn_with_pto_off});
    }
}

TEST_CASE("drawn analysis: vertical load over the limit forbids, near it nobody can tell", "[analytic]") {
    Setup s = make_drawn_setup();
    for (const auto& [load, severity] : {std::pair{700.0, Severity::good}, {800.0, Severity::forbids}}) {
        s.implement.drawn.vertical_load = known(load);
        CHECK(find(analyze(s, millimetre_mark), FindingKind::drawbar_load)->severity == severity);
    }
    s.implement.drawn.vertical_load = known(740.0, 30.0);
    CHECK(find(analyze(s, millimetre_mark), FindingKind::drawbar_load)->severity == Severity::unknown);
    s.implement.drawn.vertical_load = Reading{};
    const Analysis open = analyze(s, millimetre_mark);
    CHECK_FALSE(find(open, FindingKind::drawbar_load));
    CHECK(std::any_of(open.unjudged.begin(), open.unjudged.end(), [](const Unjudged& u) { return u.question == "vertical load on the drawbar"; }));
}

TEST_CASE("drawn analysis: a ditch without depth changes nothing but its own finding", "[metamorphic]") {
    const Setup flat = make_drawn_setup();
    Setup s = flat;
    s.choices.drawn.ditch = {known(0.0), known(0.3), known(0.5), Reading{}, {}};
    const Analysis a = analyze(flat, millimetre_mark), b = analyze(s, millimetre_mark);
    CHECK(a.verdict == b.verdict);
    REQUIRE((b.drawn->ditch && b.drawn->ditch->study));
    {
        CHECK(b.drawn->ditch->study->passes == a.drawn->whole.turns);
        for (const DitchWorst& w : b.drawn->ditch->study->worst) {
            if (w.quantity == DitchQuantity::pitch_up) CHECK(std::fabs(w.value - a.drawn->model.level_pitch) < 1e-6);
        }
    }
    CHECK(a.drawn->whole.shortest == b.drawn->whole.shortest);
    CHECK(a.drawn->whole.longest == b.drawn->whole.longest);
}

TEST_CASE("drawn analysis: an axle without a name is named by its place where a ditch needs it", "[analytic]") {
    Setup s = make_drawn_setup();
    s.choices.drawn.ditch = {known(0.3), known(0.5), known(0.4), Reading{}, {}};
    s.implement.ground_contacts[0].name.clear();
    s.implement.ground_contacts[0].half_track = Reading{};
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.drawn);
    REQUIRE(a.drawn->ditch);
    CHECK(a.drawn->ditch->missing == std::vector<std::string>{"implement.ground_contact[1].half_track"});
}

TEST_CASE("drawn analysis: what is missing is named, and nothing is put in its place", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.pto.stub_x = Reading{};
    Analysis a = analyze(s, millimetre_mark);
    CHECK(a.verdict == Verdict::not_known);
    CHECK_FALSE(a.drawn);
    CHECK(find(a, FindingKind::missing_reading, "tractor.pto.stub_x"));
    // It carries the drawbar and the shaft, and is named once.
    CHECK(std::count_if(a.findings.begin(), a.findings.end(), [](const Finding& f) { return f.subject == "tractor.pto.stub_x"; }) == 1);
    s = make_drawn_setup();
    s.implement.pic.z = Reading{};
    a = analyze(s, millimetre_mark);
    CHECK(a.verdict == Verdict::not_known);
    REQUIRE(a.drawn);
    CHECK_FALSE(a.drawn->has_plan);
}
