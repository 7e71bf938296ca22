// How sure a number is, in words: bands, chances, readings to take again, and what direct readings say of the model.
#include <catch2/catch.hpp>

#include "geometry/finding_band.h"
#include "report/cut_report.h"
#include "report/explain_text.h"
#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/measure_hint.h"
#include "report/trust_blocks.h"
#include "report/trust_text.h"
#include "sample_analysis.h"

using namespace hitchwright;
using namespace hitchwright::sample;

namespace {

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

std::vector<std::string> split(const std::string& text) {
    std::vector<std::string> lines{""};
    for (const char c : text) {
        if (c == '\n') lines.emplace_back();
        else lines.back() += c;
    }
    return lines;
}

/// On one line, without indents.
std::string flatten(const std::string& text) {
    std::string flat;
    for (const char c : text) {
        const char plain = c == '\n' ? ' ' : c;
        if (plain != ' ' || flat.empty() || flat.back() != ' ') flat += plain;
    }
    return flat;
}

ErrorBand even_band(double width) {
    ErrorBand b;
    b.width = b.below = b.above = width;
    return b;
}

Finding retake_finding() {
    Finding f = make_finding(FindingKind::gap_at_shortest, Severity::unknown);
    f.remedies = {{RemedyKind::measure, 0.3 * inch, 0.12 * inch, "tractor.pto.stub_x"}, {RemedyKind::measure, 0.2 * inch, 0.15 * degree, "tractor.pto.stub_slope"},
                  {RemedyKind::longer_shaft, 1 * inch, 0, ""}};
    return f;
}

FindingContext context_of(const Finding& f) {
    Analysis a;
    a.findings = {f};
    return make_finding_context(tiller_setup(), a, UnitSystem::inch);
}

std::string format_trust(const Analysis& a, UnitSystem units) {
    const TextStyle style{units, 80, false};
    AnswerBuilder out(style);
    add_trust(out, a);
    return format_blocks(out.take(), style);
}

}  // namespace

TEST_CASE("trust: an error that is allowed is rounded down, one that there is up, and never to nothing", "[analytic]") {
    const auto allowed = [](double error, Dimension d, UnitSystem u) { return format_error_size(error, d, u, Rounding::down); };
    CHECK(allowed(0.12 * inch, Dimension::length, UnitSystem::inch) == "1/16 in");
    CHECK(allowed(inch / 16, Dimension::length, UnitSystem::inch) == "1/16 in");
    CHECK(allowed(0.0619 * inch, Dimension::length, UnitSystem::inch) == "0.061 in");
    CHECK(allowed(0.0078, Dimension::length, UnitSystem::millimetre) == "7.8 mm");
    CHECK(allowed(0.00005, Dimension::length, UnitSystem::millimetre) == "0.05 mm");
    CHECK(allowed(0.3 * degree, Dimension::angle, UnitSystem::inch) == "0.3 deg");
    CHECK(allowed(0.079 * degree, Dimension::angle, UnitSystem::inch) == "0.07 deg");
    CHECK(format_error_size(0.51 * inch, Dimension::length, UnitSystem::inch, Rounding::up) == "9/16 in");
    CHECK(format_error_size(0.061 * degree, Dimension::angle, UnitSystem::inch, Rounding::up) == "0.07 deg");
}

TEST_CASE("trust: an even band is one number, an uneven one has two, and the method is said", "[analytic]") {
    CHECK(say_band(even_band(0.5 * inch), Dimension::length, UnitSystem::inch) == "+- 1/2 in");
    CHECK(say_band(uneven_band(), Dimension::length, UnitSystem::inch) == "-9/16 in / +7/16 in");
    ErrorBand odd = uneven_band();
    odd.below = 0.6 * inch;
    odd.above = 0.44 * inch;
    CHECK(say_band_in_decimals(odd, Dimension::length, UnitSystem::inch) == "-0.600 in / +0.440 in");
    CHECK(say_band_method(even_band(1)) == "first order");
    CHECK(contains(say_band_method(uneven_band()), "second order"));
    ErrorBand drawn = uneven_band();
    drawn.method = BandMethod::monte_carlo;
    drawn.sample.resize(4000);
    CHECK(contains(say_band_method(drawn), "4000 draws"));
}

TEST_CASE("trust: a chance is rounded towards broken and ends at one in a thousand", "[analytic]") {
    CHECK(say_chance(0.025) == "1 in 40");
    CHECK(say_chance(0.026) == "1 in 38");
    CHECK(say_chance(0.5) == "1 in 2");
    CHECK(say_chance(0.6) == "2 in 3");
    CHECK(say_chance(0.975) == "39 in 40");
    CHECK(say_chance(0.0009) == "under 1 in 1000");
    CHECK(say_chance(0.0) == "under 1 in 1000");
    CHECK(say_chance(0.9995) == "over 999 in 1000");
    CHECK(say_chance(1.0) == "over 999 in 1000");
}

TEST_CASE("trust: readings to take again are named with the error that would do and the one there is", "[analytic]") {
    const Finding f = retake_finding();
    const FindingContext context = context_of(f);
    const std::string first = format_remedy(f.remedies[0], f, context), second = format_remedy(f.remedies[1], f, context);
    CHECK(first == "Measure tractor.pto.stub_x again to within 1/16 in (as it is: 1/4 in): " + find_measure_hint("tractor.pto.stub_x") + ".");
    CHECK(contains(second, "tractor.pto.stub_slope again to within 0.1 deg (as it is: 0.3 deg)"));
    // Only together do they decide it: one step, and the next one is an alternative.
    const FindingText text = describe_finding(f, context);
    REQUIRE(text.steps.size() == 2);
    CHECK(contains(text.steps[0], "With it, measure tractor.pto.stub_slope"));
    CHECK_FALSE(contains(text.steps[0], "Its error alone"));
    Finding share = f;
    share.remedies = {{RemedyKind::measure, 0.3 * inch, 0.0, "tractor.pto.stub_x"}};
    CHECK(contains(format_remedy(share.remedies[0], share, context), "Its error alone moves this by 5/16 in."));
}

TEST_CASE("trust: a reading that several findings want again is one step, as close as the closest asks", "[analytic]") {
    Analysis a;
    Finding near = retake_finding(), far = retake_finding();
    near.remedies = {near.remedies[0]};
    far.kind = FindingKind::overlap_at_longest;
    far.remedies = {{RemedyKind::measure, 0.3 * inch, inch / 4, "tractor.pto.stub_x"}};
    for (const auto& findings : {std::vector<Finding>{near, far}, std::vector<Finding>{far, near}}) {
        a.findings = findings;
        const std::vector<std::string> steps = list_steps(tiller_setup(), a, UnitSystem::inch);
        REQUIRE(steps.size() == 1);
        CHECK(contains(steps[0], "to within 1/16 in"));
    }
}

TEST_CASE("trust: an explanation has the band with its method, the chance and the two readings behind it", "[analytic]") {
    Analysis a = full_analysis();
    const std::string text = explain_finding(a.findings.front(), tiller_setup(), UnitSystem::inch).error;
    CAPTURE(text);
    CHECK(contains(text, "value " + say_band_in_decimals(uneven_band(), Dimension::length, UnitSystem::inch)));
    CHECK(contains(text, "second order: it bends within the errors"));
    CHECK(contains(text, "chance that the limit is broken in truth over 999 in 1000"));
    CHECK(contains(text, "tractor.pto.stub_x (3/8 in), implement.pic.z (1/4 in)"));
}

TEST_CASE("trust: the section has every finding with a band, least sure first, within 80 columns", "[analytic]") {
    Analysis a = full_analysis();
    Finding close = make_finding(FindingKind::overlap_at_longest, Severity::good);
    close.margin = 0.01;
    set_band(close, even_band(0.01));
    a.findings.push_back(close);
    const std::vector<const Finding*> sorted = list_by_trust(a);
    REQUIRE(sorted.size() == 2);
    CHECK(sorted[0]->kind == FindingKind::overlap_at_longest);
    CHECK(sorted[1]->kind == FindingKind::gap_at_shortest);
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        for (const std::string& line : split(format_trust(a, units))) {
            CAPTURE(line);
            CHECK(line.size() <= 80);
        }
    }
    const std::string text = flatten(format_trust(a, UnitSystem::inch));
    CAPTURE(text);
    for (const char* part : {"-9/16 in / +7/16 in", "1 in 43", "direct_reading[low]", "NO FIT", "The model was fitted to 2 direct readings",
                             "Moved by more than its tolerance to fit: tractor.pto.stub_x from 11 in to 11 3/8 in (good to 1/4 in)",
                             "One reading does not fit and was left out, not absorbed: direct_reading[high]", "Or tractor.travel.high is wrong",
                             "Not checked by the others: pose_reading[top]", "at ball height 17 in", "What to measure next", "band 1/2 in -> 1/4 in",
                             "tractor.pto.stub_x once more"})
        CHECK(contains(text, part));
}

TEST_CASE("trust: without bands and direct readings the section says so", "[analytic]") {
    CHECK(contains(format_trust(Analysis{}, UnitSystem::inch), "No number that is held to a limit has an error band"));
    CHECK(list_trust_sentences(Analysis{}, UnitSystem::inch).empty());
}

TEST_CASE("trust: a report says that the model was fitted, what it moved and left out, and what to read next", "[analytic]") {
    Analysis a = full_analysis();
    a.verdict = Verdict::too_close_to_call;
    const std::string text = flatten(format_fit_report(tiller_setup(), a, {UnitSystem::inch, 80, false}));
    CHECK(contains(text, "the answer, and the cut, come from the fitted model"));
    CHECK(contains(text, "Moved by more than its tolerance"));
    CHECK(contains(text, "was left out"));
    CHECK(contains(text, "Best read next: stub to input shaft, taped directly ([[direct_reading]]), at ball height 8 in, to within 1/8 in: the band of \"gap at shortest, shaft\" falls from 1/2 in to 1/4 in."));
    a.fit->used = false;
    CHECK(contains(say_fit_use(a), "1 of 3 did not fit"));
    CHECK(say_model_source(a).empty());
}

TEST_CASE("trust: a cut says which model it comes from", "[analytic]") {
    Analysis a = full_analysis();
    const auto report = [&] { return flatten(format_cut_report(*make_cut_case(tiller_setup(), a), "t", {}, {UnitSystem::inch, 80, false})); };
    CHECK(contains(report(), "from the model fitted to 2 direct readings"));
    a.fit->used = false;
    CHECK_FALSE(contains(report(), "fitted"));
}
