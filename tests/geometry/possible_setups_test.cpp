// Set-ups with readings anywhere in their possible ranges: most of them rubbish, all of them answered.
//
// No reading inside its range may bring a number that is not finite, an extreme worse than what a sweep shows, a search
// without end, or "fits" for what a sweep shows not to fit. A student may type any of these.
#include <catch2/catch.hpp>

#include <cmath>
#include <map>
#include <random>

#include "geometry/analysis.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

/// Every reading of a full set-up drawn anew with the given chance, from its whole range or (mostly) near its value.
class Rubbish {
public:
    explicit Rubbish(unsigned seed) : random_(seed) {}

    Setup draw() {
        Setup s = make_setup_a();
        s.implement.points = {ImplementPoint{"edge", known(0.2), known(0.0), Reading{}, true},
                              ImplementPoint{"top", known(0.3), known(0.8), known(0.7), false}};
        s.implement.ground_contacts = {GroundContact{"wheel", known(1.6), known(-0.1), known(0.15)}};
        s.tractor.cab_line = {{"top", known(-0.3), known(2.1)}, {"bottom", known(-0.1), known(1.2)}};
        const int kind = std::uniform_int_distribution<int>(0, 6)(random_);
        s.implement.upper_link_float.kind = kind == 0 ? UpperLinkKind::slot : kind == 1 ? UpperLinkKind::chain
                                            : kind == 2 ? UpperLinkKind::swing_strap : UpperLinkKind::rigid;
        if (chance(0.2)) s.driveline.tractor_joint.kind = JointKind::wide_angle;
        if (chance(0.2)) s.driveline.implement_joint.kind = JointKind::wide_angle;
        if (chance(0.2)) s.driveline.reference = LengthReference::locking_grooves;
        const double share = chance(0.5) ? 0.03 : 0.4;  // a few wild readings, or many
        const double missing = chance(0.5) ? 0.0 : 0.03;
        s.driveline.closed_length = known(between(0.5, 0.8));
        s.driveline.tractor_tube = s.driveline.implement_tube = known(0.75 * s.driveline.closed_length.value);
        visit_readings(s, [&](const std::string&, Reading& r, const FieldSpec& spec) {
            if (chance(missing)) r = Reading{};
            if (!chance(share)) return;
            const double near = chance(0.5) ? 1.0 : 0.1;
            const double middle = r.known ? r.value : between(spec.least, spec.most);
            r = known(std::clamp(middle + near * between(-0.5, 0.5) * (spec.most - spec.least), spec.least, spec.most),
                      chance(0.5) ? spec.tolerance : 0.0);
        });
        return s;
    }

private:
    bool chance(double p) { return std::bernoulli_distribution(p)(random_); }
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(random_); }
    std::mt19937 random_;
};

bool finite(const PoseReport& r) {
    const bool distance = !r.inverse_hitch_distance || std::isfinite(*r.inverse_hitch_distance);
    return distance && std::isfinite(r.pose.pitch + r.shaft_length + r.tractor_angle + r.implement_angle + r.non_uniformity +
                                     r.gap + r.overlap + r.upper_length);
}

void check_findings(const Analysis& a) {
    for (const Finding& f : a.findings) {
        CAPTURE(finding_word(f.kind), f.subject, f.other, f.value, f.limit, f.margin, f.band, f.height, f.bound_error);
        REQUIRE(std::isfinite(f.value));
        REQUIRE(std::isfinite(f.limit));
        REQUIRE(std::isfinite(f.margin));
        REQUIRE(std::isfinite(f.band));
        REQUIRE(std::isfinite(f.height));
        REQUIRE(std::isfinite(f.bound_error));
        for (const Term& t : f.terms) {
            CAPTURE(t.symbol, t.value);
            REQUIRE(std::isfinite(t.value));
        }
        for (const Remedy& r : f.remedies) REQUIRE(std::isfinite(r.value + r.second));
        for (const HeightRange& h : f.heights) REQUIRE((std::isfinite(h.low) && h.low <= h.high));
    }
}

/// What a sweep sees must lie within the bounds; what it sees broken must not fit.
void check_against_sweep(const Setup& s, const Analysis& a) {
    if (!a.linkage) return;
    for (const PoseReport& p : sweep_travel(s, 41)) {
        CAPTURE(p.pose.ball_height);
        REQUIRE(finite(p));
        REQUIRE(p.pose.closes);
        CHECK(p.pose.pitch >= a.linkage->pitch.least.bound - 1e-7);
        CHECK(p.pose.pitch <= a.linkage->pitch.greatest.bound + 1e-7);
        if (!a.shaft) continue;
        CHECK(p.shaft_length >= a.shaft->travel.shortest.bound - 1e-9);
        CHECK(p.shaft_length <= a.shaft->travel.longest.bound + 1e-9);
        CHECK(p.tractor_angle <= a.shaft->travel.tractor_angle.bound + 1e-6);
        CHECK(p.implement_angle <= a.shaft->travel.implement_angle.bound + 1e-6);
        if (a.verdict != Verdict::fits) continue;
        CHECK(a.linkage->model.has_halves);
        CHECK(p.gap >= s.rules.gap_required.value - 1e-9);
        CHECK(p.overlap >= s.rules.overlap_least.value - 1e-9);
    }
}

}  // namespace

TEST_CASE("readings: looked at without their keys they are those that are visited with them", "[random]") {
    Rubbish rubbish(20261126);
    int missing = 0;
    for (int i = 0; i < 200; ++i) {
        Setup s = rubbish.draw();
        const double wanted = 0.1 * (i % 7);
        for (const Need need : {Need::file, Need::linkage, Need::driveline, Need::optional}) {
            bool visited = false;
            visit_readings(s, [&](const std::string&, const Reading& r, const FieldSpec& spec) {
                visited = visited || (spec.need == need && (!r.known || r.value == wanted));
            });
            const bool looked = any_reading(s, [&](const Reading& r, const FieldSpec& spec) { return spec.need == need && (!r.known || r.value == wanted); });
            REQUIRE(looked == visited);
            missing += looked ? 1 : 0;
        }
    }
    // Both answers occur.
    CHECK(missing > 50);
    CHECK(missing < 750);
}

TEST_CASE("possible set-ups: whatever is typed within the ranges gets a finite answer that no sweep contradicts", "[random]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    Rubbish rubbish(seed);
    std::map<Verdict, int> verdicts;
    int closed = 0, driven = 0;
    for (int i = 0; i < 1500; ++i) {
        const Setup s = rubbish.draw();
        CAPTURE(i);
        const Analysis a = analyze(s, millimetre_mark);
        ++verdicts[a.verdict];
        closed += a.linkage.has_value();
        driven += a.shaft.has_value();
        check_findings(a);
        check_against_sweep(s, a);
        for (const Clearance& c : a.clearances) REQUIRE(std::isfinite(c.least.bound + c.least.value));
        for (const GroundClearance& g : a.ground) REQUIRE(std::isfinite(g.at_top + g.at_working + g.least_over_travel));
    }
    CHECK(closed > 200);
    CHECK(driven > 100);
    CHECK(verdicts.size() >= 3);
}
