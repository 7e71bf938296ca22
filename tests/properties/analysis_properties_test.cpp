// Whatever is handed to the analysis: no crash, no number that is none, and never "fits" on readings that are none.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/analysis.h"
#include "geometry/visit_readings.h"
#include "tests/properties/any_setup.h"
#include "tests/properties/check_property.h"

using namespace hitchwright;
using properties::any_setup;
using properties::AnySetup;
using properties::check_property;
using properties::Values;

namespace {

/// Word and subject of the first finding with a number that is none; empty: all are numbers.
std::string find_bad_finding(const Analysis& a) {
    for (const Finding& f : a.findings) {
        double sum = f.value + f.limit + f.margin + f.band + f.bound_error + f.height + f.attitude.yaw + f.attitude.pitch + f.attitude.roll;
        for (const Term& t : f.terms) sum += t.value;
        for (const Remedy& r : f.remedies) sum += r.value + r.second;
        for (const HeightRange& h : f.heights) sum += h.low + h.high;
        if (!std::isfinite(sum)) return std::string(finding_word(f.kind)) + " " + f.subject + " " + f.other;
    }
    return {};
}

bool is_finite(const PoseReport& r) {
    return std::isfinite(r.pose.pitch + r.pose.ball_height + r.upper_length + r.inverse_hitch_distance.value_or(0.0) + r.shaft_length +
                         r.tractor_angle + r.implement_angle + r.non_uniformity + r.gap + r.overlap);
}

/// A finding says that the shaft has no length somewhere, so that its extremes have no bound.
bool says_no_length(const Analysis& a) {
    return std::any_of(a.findings.begin(), a.findings.end(), [](const Finding& f) { return f.other == "no_length"; });
}

/// What of the answer is no number; empty: nothing.
std::string find_bad_number(const Analysis& a) {
    if (a.linkage && !(is_finite(a.linkage->low) && is_finite(a.linkage->working) && is_finite(a.linkage->high))) return "pose";
    if (a.linkage && !std::isfinite(a.linkage->pitch.least.bound + a.linkage->pitch.greatest.bound)) return "pitch";
    if (a.shaft && !says_no_length(a)) {
        for (const ShaftExtremes* e : {&a.shaft->travel, &a.shaft->work}) {
            if (!std::isfinite(e->shortest.bound + e->longest.bound + e->tractor_angle.bound + e->implement_angle.bound)) return "shaft";
            if (e->turns && !std::isfinite(e->non_uniformity.bound)) return "non-uniformity";
        }
    }
    if (a.drawn && a.drawn->model.has_shaft && !says_no_length(a)) {
        for (const DrawnExtremes* e : {&a.drawn->whole, &a.drawn->turn}) {
            if (!std::isfinite(e->shortest.bound + e->longest.bound + e->tractor_angle.bound + e->implement_angle.bound)) return "drawn shaft";
        }
    }
    for (const Clearance& c : a.clearances) {
        if (!std::isfinite(c.least.bound + c.least.value)) return "clearance of " + c.part;
    }
    for (const GroundClearance& g : a.ground) {
        if (!std::isfinite(g.at_top + g.at_working + g.least_over_travel)) return "ground clearance";
    }
    if (a.axles && a.axles->known) {
        for (const AxleState& s : a.axles->states) {
            if (!std::isfinite(s.loads.front + s.loads.rear + s.height + s.load_x)) return "axle loads";
        }
    }
    return {};
}

bool has_needed_reading_that_is_none(const Setup& s) {
    return any_reading(s, [](const Reading& r, const FieldSpec& spec) {
        return r.known && !std::isfinite(r.value) && (spec.need == Need::linkage || spec.need == Need::driveline);
    });
}

void check_answer(const AnySetup& any) {
    const Setup s = any.build();
    // Thousands of draws where a margin is close take seconds: in longer runs alone.
    const Analysis a = analyze(s, millimetre_mark, properties::find_factor() > 1 ? BandEffort::draws_where_close : BandEffort::second_order);
    RC_LOG() << "verdict: " << verdict_word(a.verdict);
    RC_ASSERT(find_bad_finding(a) == "");
    RC_ASSERT(find_bad_number(a) == "");
    for (const PoseReport& r : sweep_travel(s, 5)) RC_ASSERT(is_finite(r));
    // Without a number there is a finding that says why.
    RC_ASSERT(!a.findings.empty());
    const bool answered = a.linkage || a.drawn;
    if (!answered) RC_ASSERT(a.verdict == Verdict::not_known || a.verdict == Verdict::must_not_run);
    if (has_needed_reading_that_is_none(s)) RC_ASSERT(a.verdict != Verdict::fits);
}

}  // namespace

TEST_CASE("property: every set-up of possible readings is answered in numbers, or a finding says what is wrong", "[random]") {
    check_property(60, [] { check_answer(*any_setup(Values::possible)); });
}

TEST_CASE("property: readings that are no numbers, huge, tiny or of the wrong sign are answered or named, never a crash", "[random]") {
    check_property(60, [] { check_answer(*any_setup(Values::hostile)); });
}
