#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/drawbar_figures.h"
#include "geometry/travel_quantity.h"
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

TEST_CASE("drawn analysis: a drawbar length is good within what printed figures differ by, its margin what is left of that", "[analytic]") {
    Setup s = make_drawn_setup();
    const DrawbarFigures figures = find_drawbar_figures(s.tractor.pto.type);
    for (const auto& [pin, x] : {std::pair{"middle", 0.360}, {"long", 0.440}}) {
        s.choices.drawn.drawbar_pin = std::string(pin);
        const double off = std::fabs(x - figures.length.value);
        CAPTURE(pin, off);
        const Analysis a = analyze(s, millimetre_mark);
        const Finding* f = find(a, FindingKind::drawbar_length);
        REQUIRE(f);
        CHECK(std::fabs(f->margin - (figures.length_tolerance - off)) < 1e-12);
        CHECK(f->severity == (off < figures.length_tolerance ? Severity::good : Severity::watch));
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

namespace {

/// Joint 1 in line with the stub, the input shaft sloped: joint 2 alone bends.
Setup make_one_bent(double slope) {
    Setup s = make_drawn_setup();
    s.implement.pic.slope = known(slope);
    s.implement.pic.z = known(0.190 + 0.030 * std::sin(slope));
    return s;
}

/// The sample across a ditch of `depth` (m), square on.
Setup make_crossing_ditch(double depth) {
    Setup s = make_drawn_setup();
    s.choices.drawn.ditch = {known(depth), known(0.3), known(to_radians(35.0)), Reading{}, {}};
    return s;
}

}  // namespace

TEST_CASE("drawn analysis: what a joint bends straight ahead is held to what it may bend in work", "[analytic]") {
    struct Case {
        double rise;
        FindingKind kind;
        Severity severity;
    };
    // Joint centres 830 mm apart along, `rise` apart in height: both bend atan(rise / 0.830).
    for (const Case& c : {Case{0.100, FindingKind::joint_angle_in_work, Severity::good}, Case{0.300, FindingKind::joint_angle_watch, Severity::watch},
                          Case{0.450, FindingKind::joint_angle_in_work, Severity::forbids}}) {  // 6.9, 19.9, 28.5 deg
        Setup s = make_drawn_setup();
        s.implement.pic.z = known(0.190 + c.rise);
        const Analysis a = analyze(s, millimetre_mark);
        for (const char* joint : {"tractor joint", "implement joint"}) {
            const Finding* f = find(a, c.kind, joint);
            CAPTURE(c.rise, joint);
            REQUIRE(f);
            CHECK(std::fabs(f->value - std::atan(c.rise / 0.830)) < 1e-12);
            CHECK(f->severity == c.severity);
            CHECK(f->has_attitude);
        }
        if (c.severity == Severity::forbids) CHECK(a.verdict == Verdict::must_not_run);
    }
}

TEST_CASE("drawn analysis: positions in which both joints run straighter are named where a joint bends too far in work", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.pic.z = known(0.190 + 0.400);  // atan(0.400 / 0.830) = 25.73 deg; 80 mm longer: 23.7 deg
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::joint_angle_in_work, "tractor joint");
    REQUIRE(f);
    CHECK(f->severity == Severity::forbids);
    REQUIRE(f->remedies.size() == 1);
    CHECK((f->remedies.front().kind == RemedyKind::other_drawbar_pin && f->remedies.front().subject == "long"));
    s.choices.drawn.drawbar_pin = "long";
    const Analysis longer = analyze(s, millimetre_mark);
    const Finding* better = find(longer, FindingKind::joint_angle_watch, "tractor joint");
    REQUIRE(better);
    CHECK(better->severity == Severity::watch);
}

TEST_CASE("drawn analysis: a joint at its limit in work is too close to call", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.pic.z = known(0.190 + 0.830 * std::tan(to_radians(25.0)) + 0.0005, 0.010);
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::joint_angle_in_work, "tractor joint");
    REQUIRE(f);
    CHECK(f->severity == Severity::unknown);
    // 10 mm of height: cos^2(B)/0.830 rad each mm.
    const double band = 0.010 * std::pow(std::cos(to_radians(25.0)), 2) / 0.830;
    CHECK(std::fabs(f->band - band) < 0.01 * band);
    CHECK(f->remedies.front().subject == "implement.pic.z");
}

TEST_CASE("drawn analysis: uneven rotation straight ahead is that of the one bent joint, and told over the turn", "[analytic]") {
    for (const double degrees : {5.0, 15.0}) {
        const double slope = to_radians(degrees);
        const Analysis a = analyze(make_one_bent(slope), millimetre_mark);
        const Finding* f = find(a, FindingKind::non_uniformity);
        REQUIRE(f);
        CHECK(std::fabs(f->value - std::sin(slope) * std::tan(slope)) < 1e-12);  // 1/cos - cos
        CHECK(f->severity == (degrees > 10.0 ? Severity::watch : Severity::good));  // 0.0076 and 0.0693 against 0.03
        const auto turn = std::find_if(f->terms.begin(), f->terms.end(), [](const Term& t) { return t.symbol == "turn"; });
        REQUIRE(turn != f->terms.end());
        CHECK(turn->value == a.drawn->turn.non_uniformity.bound);
        CHECK(turn->value >= f->value);
    }
}

TEST_CASE("drawn analysis: the plain partner of a wide-angle joint is named when it passes 10 deg in the turn", "[analytic]") {
    Setup s = make_drawn_setup();
    make_tractor_joint_wide(s, 0.090);
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::articulation_angle, "implement joint");
    REQUIRE(f);
    REQUIRE(a.drawn->turn.implement_angle.bound > to_radians(10.0));
    CHECK(f->severity == Severity::watch);
    s.choices.drawn.turn_left_most = s.choices.drawn.turn_right_most = known(to_radians(3.0));
    const Analysis little = analyze(s, millimetre_mark);
    REQUIRE(little.drawn->turn.implement_angle.bound < to_radians(10.0));
    CHECK(find(little, FindingKind::articulation_angle, "implement joint")->severity == Severity::good);
}

TEST_CASE("drawn analysis: a turn is named short of its stop by what the readings may move it", "[analytic]") {
    Setup s = with_tolerances(make_drawn_setup());
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* stop = find(a, FindingKind::turn_limit, "left");
    REQUIRE(stop);
    REQUIRE(stop->band > to_radians(0.1));
    for (const double share : {-0.5, 0.5, 1.5}) {
        s.choices.drawn.turn_left_most = known(stop->value - share * stop->band);
        const Analysis turned = analyze(s, millimetre_mark);
        const Finding* f = find(turned, FindingKind::turn_limit, "left");
        CHECK(f->severity == (share > 1.0 ? Severity::good : Severity::condition));
        if (share > 1.0) continue;
        CHECK(f->remedies.front().kind == RemedyKind::turn_at_most);
        CHECK(std::fabs(f->remedies.front().value - (stop->value - stop->error.below)) < 1e-9);
    }
}

TEST_CASE("drawn analysis: a ditch that a joint stops is said to be stopped by that joint", "[analytic]") {
    Setup s = make_crossing_ditch(0.4);
    const Analysis free = analyze(s, millimetre_mark);
    REQUIRE(find(free, FindingKind::ditch_crossing));
    double most = 0.0;
    for (const DitchWorst& w : free.drawn->ditch->study->worst) {
        if (w.quantity == DitchQuantity::implement_angle) most = w.value;
    }
    REQUIRE(most > to_radians(5.0));
    // The shaft is short enough and long enough there: the joint alone is in the way, at the shortest station too.
    s.driveline.closed_length = known(0.500);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.490);
    s.rules.overlap_fraction = {};
    s.rules.overlap_least = limit(0.020);
    s.driveline.implement_joint.angle_most = known(0.5 * most);
    const Analysis a = analyze(s, millimetre_mark);
    CHECK(find(a, FindingKind::ditch_crossing)->other == "implement_joint");
}

TEST_CASE("drawn analysis: what gap or overlap lack in a ditch is their limit less what the worst length leaves", "[analytic]") {
    Setup s = make_crossing_ditch(0.4);
    s.rules.overlap_fraction = {};
    s.rules.overlap_least = limit(0.020);
    const Analysis free = analyze(s, millimetre_mark);
    const auto length_of = [&](DitchQuantity q) {
        const std::vector<DitchWorst>& worst = free.drawn->ditch->study->worst;
        return std::find_if(worst.begin(), worst.end(), [&](const DitchWorst& w) { return w.quantity == q; })->value;
    };
    const double shortest = length_of(DitchQuantity::shortest), longest = length_of(DitchQuantity::longest);
    const Finding* as_it_is = find(free, FindingKind::ditch_crossing);
    for (const auto& [symbol, quantity] : {std::pair{"pitch_up", DitchQuantity::pitch_up}, {"pitch_down", DitchQuantity::pitch_down}}) {
        std::vector<double> values;
        for (const Term& t : as_it_is->terms) {
            if (t.symbol == symbol) values.push_back(t.value);
        }
        CHECK(values == std::vector<double>{length_of(quantity)});
    }
    const auto check = [&](const char* other, double lacking) {
        CAPTURE(other, lacking);
        REQUIRE(lacking > 0.0);
        const Analysis a = analyze(s, millimetre_mark);
        const Finding* f = find(a, FindingKind::ditch_crossing);
        REQUIRE(f);
        CHECK(f->other == other);
        const auto term = std::find_if(f->terms.begin(), f->terms.end(), [](const Term& t) { return t.symbol == "short_by"; });
        REQUIRE(term != f->terms.end());
        CHECK(std::fabs(term->value - lacking) < 1e-9);
    };
    s.driveline.closed_length = known(shortest);  // no gap is left of the 25 mm wanted
    check("bottoming", 0.025);
    s.driveline.closed_length = known(0.500);
    s.driveline.tractor_tube = s.driveline.implement_tube = known(0.350);
    check("separation", 0.020 - (0.500 + 0.350 - longest));
}

TEST_CASE("drawn analysis: quantities of a turn are those of the driveline's state, and none without a shaft", "[analytic]") {
    Setup s = make_drawn_setup();
    const Analysis a = analyze(s, millimetre_mark);
    const Attitude turned{a.drawn->model.level_pitch, 0.0, 0.3};
    const double length = find_driveline_state(a.drawn->model, turned).length;
    CHECK(find_turn_quantity(*a.drawn, turned, TravelQuantity::shaft_length) == length);
    CHECK(find_turn_quantity(*a.drawn, turned, TravelQuantity::overlap) == find_overlap(a.drawn->model.halves, length));
    s.has_driveline = false;
    const Analysis without = analyze(s, millimetre_mark);
    REQUIRE(without.drawn);
    for (const TravelQuantity q : {TravelQuantity::shaft_length, TravelQuantity::tractor_joint, TravelQuantity::implement_joint, TravelQuantity::overlap})
        CHECK_FALSE(find_turn_quantity(*without.drawn, turned, q));
}

TEST_CASE("drawn analysis: guard tubes have a gap that is held to nothing left", "[analytic]") {
    Setup s = make_drawn_setup();
    s.driveline.guard_closed_length = known(0.600);
    s.driveline.guard_overlap_closed = known(0.350);
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::guard_gap);
    REQUIRE(f);
    CHECK((f->rule.set && f->rule.value == 0.0));
    CHECK(std::fabs(f->value - (a.drawn->whole.shortest.bound - 0.600)) < 1e-12);
}

TEST_CASE("drawn analysis: what lacks where no cut works is known as well as the lengths it comes from", "[analytic]") {
    Setup s = make_drawn_setup();
    s.driveline.closed_length = known(0.64);
    make_tractor_joint_wide(s, 0.09);
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::no_cut_works);
    REQUIRE(f != nullptr);
    const DrawnExtremes& e = a.drawn->whole;
    const double longest = e.longest.bound - e.longest.value, shortest = e.shortest.value - e.shortest.bound;
    REQUIRE(longest > 1e-8);  // the search ends within a micrometre
    CHECK(std::fabs(f->bound_error - (longest + 2.0 * shortest)) < 1e-12);
    CHECK(f->bound_error == a.drawn->plan_error);
}

TEST_CASE("drawn analysis: that a shaft folds into its wide-angle joint is said whatever is known of its tubes", "[analytic]") {
    Setup s = make_drawn_setup();
    make_tractor_joint_wide(s, 0.2);
    s.choices.drawn.turn_left_most = known(to_radians(170.0));
    CHECK(find(analyze(s, millimetre_mark), FindingKind::missing_reading, "driveline.shaft")->other == "no_length");
    for (Reading* r : {&s.driveline.overlap_closed, &s.driveline.tractor_tube, &s.driveline.implement_tube, &s.driveline.longest_usable}) *r = {};
    const Analysis bare = analyze(s, millimetre_mark);
    REQUIRE_FALSE(bare.drawn->model.has_halves);
    const auto says = [](const Finding& f) { return f.subject == "driveline.shaft" && f.other == "no_length"; };
    CHECK(std::any_of(bare.findings.begin(), bare.findings.end(), says));
}

TEST_CASE("drawn analysis: of a wide-angle shaft the plain joint is the partner", "[analytic]") {
    int partners = 0, wide = 0;
    for (const bool tractor : {true, false}) {
        Setup s = make_drawn_setup();
        JointReadings& joint = tractor ? s.driveline.tractor_joint : s.driveline.implement_joint;
        joint.kind = JointKind::wide_angle;
        joint.spacing = known(0.090);
        joint.angle_most = known(to_radians(12.0));  // named from 10 deg below
        s.rules.angle_watch = limit(to_radians(2.0));
        for (const Finding& f : analyze(s, millimetre_mark).findings) {
            const auto t = std::find_if(f.terms.begin(), f.terms.end(), [](const Term& one) { return one.symbol == "partner"; });
            if (t == f.terms.end()) continue;
            const bool plain = f.subject.starts_with("tractor") != tractor;
            CAPTURE(tractor, f.subject);
            CHECK(t->value == (plain ? 1.0 : 0.0));
            (plain ? partners : wide) += 1;
        }
    }
    CHECK((partners > 0 && wide > 0));
}

TEST_CASE("drawn analysis: a ditch without enough measures is not left out in silence", "[analytic]") {
    Setup s = make_crossing_ditch(0.4);
    const auto check = [&](const std::string& key) {
        const Analysis a = analyze(s, millimetre_mark);
        const Finding* f = find(a, FindingKind::ditch_crossing);
        REQUIRE(f);
        CHECK(f->severity == Severity::unknown);
        CHECK(f->other == "no_ground");
        REQUIRE_FALSE(f->remedies.empty());
        CHECK(f->remedies.front().subject == key);
    };
    s.choices.drawn.ditch.side_slope = Reading{};
    check("choices.ditch.side_slope");
    s.choices.drawn.ditch.side_slope = known(0.0);
    check("choices.ditch.side_slope");
    s.choices.drawn.ditch.points = {{"a", known(0.0), known(0.0)}, {"b", known(1.0), known(-0.2)}, {"c", known(0.5), known(0.0)}};
    check("choices.ditch_point[c].x");
    s.choices.drawn.ditch.points = {{"a", known(0.0), known(0.0)}, {"b", known(2.0), known(-0.2)}, {"c", known(1.0), known(0.0)}, {"d", known(0.5), known(0.0)}};
    check("choices.ditch_point[c].x");
    s.choices.drawn.ditch.points[1].z = Reading{};
    check("choices.ditch_point[b].z");
}

TEST_CASE("drawn analysis: a ditch does not pass while the shaft is not known", "[analytic]") {
    Setup s = make_crossing_ditch(0.1);
    REQUIRE(find(analyze(s, millimetre_mark), FindingKind::ditch_crossing)->severity == Severity::good);
    s.driveline.closed_length = Reading{};
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::ditch_crossing);
    CHECK((f->severity == Severity::unknown && f->other == "shaft_unknown"));
    s.has_driveline = false;
    CHECK(find(analyze(s, millimetre_mark), FindingKind::ditch_crossing)->severity == Severity::unknown);
    s.implement.pic.fitted = false;  // no shaft at all: only the clevis could be in the way
    CHECK(find(analyze(s, millimetre_mark), FindingKind::ditch_crossing)->severity == Severity::good);
}

TEST_CASE("drawn analysis: positions that pass a ditch are those whose own study passes", "[metamorphic]") {
    int named = 0;
    for (const double depth : {0.1, 0.2, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6}) {
        Setup s = make_crossing_ditch(depth);
        s.driveline.closed_length = known(0.655);
        s.driveline.tractor_tube = s.driveline.implement_tube = known(0.520);
        s.choices.drawn.drawbar_pin = "short";
        const Analysis a = analyze(s, millimetre_mark);
        if (a.drawn->ditch->study->passes) continue;
        for (const char* pin : {"middle", "long"}) {
            s.choices.drawn.drawbar_pin = pin;
            const std::vector<std::string>& list = a.drawn->ditch->pins_that_pass;
            const bool listed = std::find(list.begin(), list.end(), pin) != list.end();
            CHECK(analyze(s, millimetre_mark).drawn->ditch->study->passes == listed);
            ++named;
        }
    }
    CHECK(named >= 4);
}

TEST_CASE("drawn analysis: a position near its load limit is not its own way out", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.drawn.vertical_load = known(745.0, 30.0);  // of 750 kg
    const Analysis a = analyze(s, millimetre_mark);
    const Finding* f = find(a, FindingKind::drawbar_load);
    REQUIRE(f->severity == Severity::unknown);
    for (const Remedy& r : f->remedies) CHECK_FALSE((r.kind == RemedyKind::other_drawbar_pin && r.subject == "middle"));
    CHECK(std::any_of(f->remedies.begin(), f->remedies.end(), [](const Remedy& r) { return r.subject == "short"; }));
}

TEST_CASE("drawn analysis: drawbar lengths are those of the set-up's own position, with its height", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.drawbar_pins[0].top_height = known(0.330);
    s.choices.drawn.drawbar_pin = "short";
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.drawn->positions.pins.front().name != "short");
    const DrawbarInterval own = find_drawbar_interval(a.drawn->model, a.drawn->limits);
    REQUIRE(own.known);
    CHECK(a.drawn->lengths.low == own.low);
    CHECK(a.drawn->lengths.high == own.high);
    CHECK(std::fabs(a.drawn->positions.lengths.low - own.low) > 0.001);
}

TEST_CASE("drawn analysis: a reading whose error makes the shaft impossible leaves no margin certain", "[analytic]") {
    Setup s = make_drawn_setup();
    s.driveline.closed_length = known(0.640, 0.700);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE_FALSE(a.drawn->bands.known);
    const Finding* f = find(a, FindingKind::linkage_cannot_close, "driveline.shaft.closed_length");
    REQUIRE(f);
    CHECK((f->severity == Severity::unknown && f->other == "within_error"));
    CHECK(a.verdict != Verdict::fits);
}

TEST_CASE("drawn analysis: splines and power that nobody gave are named as not judged", "[analytic]") {
    const Analysis a = analyze(make_drawn_setup(), millimetre_mark);
    for (const char* question : {"splines", "power of the shaft"}) {
        CHECK(std::any_of(a.unjudged.begin(), a.unjudged.end(), [&](const Unjudged& u) { return u.question == question; }));
    }
}

TEST_CASE("drawn analysis: what is not computed of a steady bearing is said as such", "[analytic]") {
    Setup s = make_drawn_setup();
    s.implement.drawn.steady_bearing = {true, known(0.300), Reading{}, known(0.170), known(0.030), Reading{}};
    s.driveline.implement_joint.kind = JointKind::wide_angle;
    s.driveline.implement_joint.spacing = known(0.090);
    const Analysis wide = analyze(s, millimetre_mark);
    const Finding* bearing = find(wide, FindingKind::joint_model);
    REQUIRE(bearing);
    CHECK(bearing->other == "wide_angle_at_bearing");
    s.driveline.implement_joint.kind = JointKind::plain;
    s.implement.drawn.steady_bearing.x = known(0.500);  // where the third joint is
    const Analysis near = analyze(s, millimetre_mark);
    const Finding* none = find(near, FindingKind::joint_model);
    REQUIRE(none);
    CHECK(none->other == "no_fixed_shaft");
}

TEST_CASE("drawn analysis: with two threads it is that of one", "[metamorphic]") {
    for (const double closed : {0.600, 0.700, 0.740}) {
        for (const double wider : {0.0, 0.2}) {
            Setup s = with_tolerances(make_drawn_setup());
            s.driveline.closed_length.value = closed;
            s.choices.drawn.ditch.depth = known(0.4, 0.02);
            s.choices.drawn.ditch.side_slope = known(to_radians(30.0), to_radians(1.0));
            s.choices.drawn.ditch.bottom_width = known(0.5, 0.05);
            s.tractor.tyre.rear_track.value += wider;
            const Analysis one = analyze(s, millimetre_mark, BandEffort::draws_where_close, 1),
                           two = analyze(s, millimetre_mark, BandEffort::draws_where_close, 2);
            CAPTURE(closed, wider);
            CHECK(one.findings == two.findings);
            REQUIRE((one.drawn && two.drawn));
            CHECK(one.drawn->turn_bands == two.drawn->turn_bands);
            CHECK(one.drawn->ditch.has_value());
            CHECK(one.evaluations == two.evaluations);
        }
    }
}
