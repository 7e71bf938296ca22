// Findings in words: none without a text, none wider than the page, every number on its safe side.
#include "report/finding_text.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

#include "geometry/angle.h"
#include "report/explain_text.h"
#include "sample_analysis.h"

using namespace hitchwright;
using namespace hitchwright::sample;

namespace {

const FindingContext plain_inches{{UnitSystem::inch}, std::nullopt};
const FindingContext plain_millimetres{{UnitSystem::millimetre}, std::nullopt};

FindingContext with_cut(UnitSystem units) { return make_finding_context(tiller_setup(), full_analysis(), units); }

/// No empty sentences, no stray blanks, nothing that is no number, every line within the width.
void check_text(const std::string& text, std::size_t width) {
    CAPTURE(text);
    REQUIRE_FALSE(text.empty());
    CHECK(text.back() == '\n');
    std::string whole = text;  // names cut short end in "...", which is no sentence ended twice
    for (std::size_t at = whole.find("..."); at != std::string::npos; at = whole.find("...")) whole.erase(at, 3);
    for (const char* bad : {"nan", "inf ", "-0 ", " \n", "\n\n", " .", " ,", "..", "()", "{}"}) {
        CAPTURE(bad);
        CHECK(whole.find(bad) == std::string::npos);
    }
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at);
        CHECK(count_columns(std::string_view(text).substr(at, end - at)) <= width);
        at = end + 1;
    }
}

Finding gap(double value_in, double limit_in) {
    Finding f;
    f.kind = FindingKind::gap_at_shortest;
    f.value = value_in * inch;
    f.has_limit = true;
    f.limit = limit_in * inch;
    f.margin = f.value - f.limit;
    f.severity = f.margin < 0.0 ? Severity::change : Severity::good;
    f.has_height = true;
    f.height = 8 * inch;
    return f;
}

/// The heights 0.2 to 0.31 m and 0.4 to 0.5 m as a joint's sentence gives them: low ends up, high ends down.
std::string format_heights_text() {
    return describe_finding(make_finding(FindingKind::joint_angle_in_work, Severity::forbids), plain_inches).detail;
}

std::string headline(const Finding& f, const FindingContext& context = plain_inches) {
    return describe_finding(f, context).headline;
}

}  // namespace

TEST_CASE("finding text: every kind and severity has words within 80 columns, in both units", "[analytic]") {
    for (const FindingKind kind : all_finding_kinds()) {
        for (const Severity severity : severities) {
            for (const std::string& other : list_others(kind)) {
                for (const FindingContext& context : {plain_inches, plain_millimetres, with_cut(UnitSystem::inch)}) {
                    Finding f = make_finding(kind, severity);
                    f.other = other;
                    INFO(finding_word(kind) << " " << severity_word(severity) << " " << other);
                    CHECK(headline(f, context).size() > 5);
                    check_text(format_finding(f, context, {context.words.units, 80, false}), 80);
                    CHECK(format_finding_sentence(f, context).size() > 10);
                }
            }
        }
    }
}

TEST_CASE("finding text: a bare finding with nothing filled in still makes a sentence", "[analytic]") {
    for (const FindingKind kind : all_finding_kinds()) {
        Finding f;
        f.kind = kind;
        INFO(finding_word(kind));
        CHECK_FALSE(headline(f).empty());
        CHECK(format_finding(f, plain_inches, {}).find("nan") == std::string::npos);
    }
}

TEST_CASE("finding text: every remedy has a sentence and a word of its own", "[analytic]") {
    std::set<std::string_view> words;
    for (const RemedyKind kind : all_remedy_kinds()) {
        words.insert(remedy_word(kind));
        for (const FindingKind finding_kind : all_finding_kinds()) {
            const Finding f = make_finding(finding_kind, Severity::change);
            const std::string full = format_remedy({kind, 0.5, 0.6, "tractor.pto.stub_x"}, f, plain_inches);
            const std::string bare = format_remedy({kind, 0.0, 0.0, ""}, f, plain_inches);
            CAPTURE(full, bare);
            CHECK(full.back() == '.');
            CHECK(bare.back() == '.');
            CHECK(full.size() > 10);
        }
    }
    CHECK(words.size() == all_remedy_kinds().size());
}

TEST_CASE("finding text: severity is said in words, colour only repeats it", "[analytic]") {
    std::set<std::string_view> marks;
    for (const Severity s : severities) {
        Finding f = make_finding(FindingKind::gap_at_shortest, s);
        marks.insert(finding_mark(f));
        const std::string plain = format_finding(f, plain_inches, {UnitSystem::inch, 80, false});
        std::string coloured = format_finding(f, plain_inches, {UnitSystem::inch, 80, true});
        CHECK(plain.find('\x1b') == std::string::npos);
        CHECK(coloured.find('\x1b') != std::string::npos);
        for (std::size_t at = coloured.find('\x1b'); at != std::string::npos; at = coloured.find('\x1b'))
            coloured.erase(at, coloured.find('m', at) + 1 - at);
        CHECK(coloured == plain);
    }
    CHECK(marks.size() == 6);
    Finding missing = make_finding(FindingKind::missing_reading, Severity::unknown);
    missing.band = 0.0;
    CHECK(finding_mark(missing) == "NOT KNOWN");
    for (const Verdict v : {Verdict::fits, Verdict::fits_after_change, Verdict::must_not_run,
                            Verdict::too_close_to_call, Verdict::not_known})
        CHECK_FALSE(verdict_headline(v).empty());
}

TEST_CASE("finding text: a gap there rounds down, a lack rounds up", "[analytic]") {
    CHECK(headline(gap(2.49, 1.0)) == "Gap at the shortest point: 2 7/16 in left, 1 in needed");
    CHECK(headline(gap(0.51, 1.0)) == "Gap at the shortest point: 1/2 in left, 1 in needed, 1/2 in short");
    CHECK(headline(gap(-2.01, 1.0)) == "Shaft bottoms out: 2 1/16 in too long at its shortest point");
    CHECK(headline(gap(-2.0, 1.0)) == "Shaft bottoms out: 2 in too long at its shortest point");
    CHECK(headline(gap(1.0, 1.0)) == "Gap at the shortest point: 1 in left, 1 in needed");
    CHECK(headline(gap(-2.01, 1.0), plain_millimetres) == "Shaft bottoms out: 52 mm too long at its shortest point");
}

TEST_CASE("finding text: PTO-off and lift-stop heights round down, lower stops up", "[analytic]") {
    Finding f = tiller_analysis().findings[2];
    REQUIRE(f.kind == FindingKind::joint_angle_over_travel);
    CHECK(headline(f) == "No work above a ball height of 24 1/4 in: the tractor joint passes 25.0 deg");
    f.other = "pto_off";
    CHECK(headline(f) == "PTO off above a ball height of 24 1/4 in: the tractor joint passes 25.0 deg");
    f.remedies = {{RemedyKind::pto_off_above, 24.3 * inch, 0.0, "below"}};
    CHECK(headline(f) == "PTO off below a ball height of 24 5/16 in: the tractor joint passes 25.0 deg");
    CHECK(format_remedy({RemedyKind::lift_stop, 24.3 * inch, 0, ""}, f, plain_inches) ==
          "Set a lift stop at a ball height of 24 1/4 in or lower.");
    CHECK(format_remedy({RemedyKind::lower_stop, 24.3 * inch, 0, ""}, f, plain_inches) ==
          "Keep the hitch from going below a ball height of 24 5/16 in.");
    CHECK(format_remedy({RemedyKind::order_shaft, 24.3 * inch, 40.3 * inch, ""}, f, plain_inches) ==
          "Get a shaft that closes to 24 1/4 in or less and, with the overlap it needs still left, reaches 40 5/16 in or "
          "more, between joint centres.");
}

TEST_CASE("finding text: every other number with a safe side is on it", "[analytic]") {
    const double off = 10.03 * inch;  // between 10 in and 10 1/16 in
    const auto remedy = [&](RemedyKind kind, FindingKind of, double second = 0.0, const char* subject = "") {
        Finding f = make_finding(of, Severity::change);
        f.other.clear();
        f.dimension = Dimension::length;
        return format_remedy({kind, off, second, subject}, f, plain_inches);
    };
    CHECK(remedy(RemedyKind::working_height, FindingKind::joint_angle_in_work, 20.03 * inch) ==
          "Work between ball heights 10 1/16 in and 20 in.");
    CHECK(remedy(RemedyKind::longer_shaft, FindingKind::separation).find("10 1/16 in more overlap") !=
          std::string::npos);
    CHECK(remedy(RemedyKind::match_part, FindingKind::guard_overlap, 0.0, "longer guard tubes") ==
          "Use longer guard tubes (10 1/16 in more).");
    CHECK(remedy(RemedyKind::measure, FindingKind::gap_at_shortest, 0.0, "tractor.pto.stub_x")
              .ends_with("by 10 1/16 in."));

    const auto words = [](FindingKind kind, Severity severity, double value, double limit) {
        Finding f = make_finding(kind, severity);
        f.subject = "lip";
        f.other.clear();
        f.value = value;
        f.limit = limit;
        f.margin = value - limit;
        const FindingText t = describe_finding(f, plain_inches);
        return t.headline + ". " + t.detail;
    };
    CHECK(words(FindingKind::clearance, Severity::good, off, 1.0 * inch).find(": 10 in of room") != std::string::npos);
    CHECK(words(FindingKind::clearance, Severity::forbids, -off, 0.0).find("10 1/16 in into each other") !=
          std::string::npos);
    CHECK(words(FindingKind::ground_clearance, Severity::good, off, 0.0).find("10 in above") != std::string::npos);
    CHECK(words(FindingKind::ground_clearance, Severity::change, -off, 0.0).find("10 1/16 in") != std::string::npos);
    CHECK(words(FindingKind::guard_gap, Severity::good, off, 0.0).find("10 in left") != std::string::npos);
    CHECK(words(FindingKind::guard_gap, Severity::change, -off, 0.0).find("meet 10 1/16 in before") !=
          std::string::npos);
    CHECK(words(FindingKind::guard_overlap, Severity::good, off, 2.0 * inch).find("overlap 10 in") !=
          std::string::npos);
    CHECK(words(FindingKind::linkage_cannot_close, Severity::forbids, off, 0.0).find("by 10 1/16 in") !=
          std::string::npos);
    CHECK(words(FindingKind::separation, Severity::forbids, -off, 6 * inch).find("10 1/16 in too short") !=
          std::string::npos);
    CHECK(words(FindingKind::driveline_power, Severity::change, 26040.0, 30020.0).find("carries 34.9 hp") !=
          std::string::npos);
    CHECK(words(FindingKind::driveline_power, Severity::change, 26040.0, 30020.0).find("40.3 hp needed") !=
          std::string::npos);
    CHECK(words(FindingKind::non_uniformity, Severity::good, 0.01201, 0.0309).find("work 1.3 %, 3.0 % wanted") !=
          std::string::npos);
    CHECK(format_heights_text().find("7 7/8 in to 12 3/16 in and 15 3/4 in to 19 5/8 in") != std::string::npos);
}

TEST_CASE("finding text: limits on both sides of the working band are both to be kept", "[analytic]") {
    Finding f = tiller_analysis().findings[2];
    f.remedies.push_back({RemedyKind::pto_off_above, 9.1 * inch, 0.0, "below"});
    CHECK(needs_all_remedies(f));
    CHECK(format_finding(f, plain_inches, {}).find("Do: No work below a ball height of 9 1/8 in.") !=
          std::string::npos);
    f.severity = Severity::change;
    f.other = "lift_stop";
    f.remedies = {{RemedyKind::lift_stop, 0.6, 0.0, ""}, {RemedyKind::lower_stop, 0.3, 0.0, ""}};
    CHECK(format_finding(f, plain_inches, {}).find("And: Keep the hitch") != std::string::npos);
}

TEST_CASE("finding text: a reading whose error breaks the shaft is named, and without one it is said that no margin is certain", "[analytic]") {
    Finding f = make_finding(FindingKind::linkage_cannot_close, Severity::unknown);
    f.other = "within_error";
    f.subject = "driveline.shaft.closed_length";
    CHECK(describe_finding(f, plain_inches).detail.starts_with("With driveline.shaft.closed_length off by its tolerance"));
    f.subject.clear();
    CHECK(headline(f) == "How far the readings' errors reach is not known");
    CHECK(describe_finding(f, plain_inches).detail.find("no margin here is certain") != std::string::npos);
}

TEST_CASE("finding text: how close a search was proven is in the number's own unit", "[analytic]") {
    Finding f = gap(1.5, 1.0);
    const auto proof = [&] { return explain_finding(f, tiller_setup(), UnitSystem::inch).error; };
    f.bound_error = 4.2e-7;
    CHECK(proof().ends_with("proven to 4.2e-04 mm"));
    f.dimension = Dimension::angle;
    f.bound_error = pi / 180.0 * 3e-5;
    CHECK(proof().ends_with("proven to 3.0e-05 deg"));
    f.dimension = Dimension::mass;
    CHECK(proof().ends_with("proven to 5.2e-07 kg"));
    f.dimension = Dimension::ratio;
    CHECK(proof().ends_with("proven to 5.2e-07"));
}

TEST_CASE("finding text: the sense of a cut is said in words", "[analytic]") {
    const FindingText text = describe_finding(tiller_analysis().findings[1], with_cut(UnitSystem::inch));
    CHECK(text.headline == "Cut 3 1/2 in from each half: both tubes and both guard tubes");
    CHECK(text.detail ==
          "Closed length becomes 27 1/2 in. Gap left at the shortest point (ball height 8 in): 1 1/2 in, 1 in needed. "
          "Overlap left at the longest point (ball height 27 in): 13 in, 6 in needed.");
    CHECK(text.cautions.size() == 4);
}

TEST_CASE("finding text: a cut whose gap the readings could eat up says so", "[analytic]") {
    FindingContext context = with_cut(UnitSystem::inch);
    const Finding cut = tiller_analysis().findings[1];
    context.cut->gap_band = 0.49 * inch;  // the cut leaves 1 1/2 in where 1 in is needed
    CHECK(describe_finding(cut, context).detail.find("more than it has to spare") == std::string::npos);
    context.cut->gap_band = 0.51 * inch;
    CHECK(describe_finding(cut, context)
              .detail.ends_with("The readings may move that gap by 9/16 in: more than it has to spare."));
}

TEST_CASE("finding text: a straddled limit says how far the readings may be off and what to measure", "[analytic]") {
    Finding f = gap(1.05, 1.0);
    f.severity = Severity::unknown;
    f.band = 0.5 * inch;
    f.remedies = {{RemedyKind::measure, 0.4 * inch, 0.0, "tractor.pto.stub_x"}};
    const std::string text = format_finding(f, plain_inches, {});
    CHECK(text.starts_with("TOO CLOSE TO CALL  Gap at the shortest point: 1 in left, 1 in needed"));
    CHECK(text.find("1/2 in") != std::string::npos);
    CHECK(text.find("Do: Measure tractor.pto.stub_x closer: plumb") != std::string::npos);
}

TEST_CASE("finding text: names from files are escaped and cut short", "[analytic]") {
    Finding f = make_finding(FindingKind::clearance, Severity::watch);
    f.subject = "lip\x1b[2J\n" + std::string(500, 'x');
    const std::string text = format_finding(f, plain_inches, {});
    CHECK(text.find('\x1b') == std::string::npos);
    CHECK(text.find("\\x1b[2J\\x0a") != std::string::npos);
    CHECK(text.size() < 3000);
}

TEST_CASE("finding text: huge and unknown numbers never show as nan or as a length", "[analytic]") {
    for (const FindingKind kind : all_finding_kinds()) {
        for (const double v : {std::nan(""), 1e300, -1e300, HUGE_VAL}) {
            Finding f = make_finding(kind, Severity::change);
            f.value = f.limit = f.margin = f.height = v;
            const std::string text = format_finding(f, plain_inches, {});
            CAPTURE(text);
            CHECK(text.find("nan") == std::string::npos);
            CHECK(text.find("inf in") == std::string::npos);
            CHECK(text.find("e+") == std::string::npos);
        }
    }
}

TEST_CASE("explain: every kind has a formula, and the page keeps its width", "[analytic]") {
    const Setup setup = tiller_setup();
    for (const FindingKind kind : all_finding_kinds()) {
        INFO(finding_word(kind));
        CHECK_FALSE(finding_formula(kind).empty());
        const std::string text = format_explanation(make_finding(kind, Severity::watch), setup, {});
        check_text(text, 80);
        CHECK(text.find("formula") != std::string::npos);
    }
}

TEST_CASE("explain: the numbers put in give the result with a calculator", "[analytic]") {
    const std::string text = format_explanation(tiller_analysis().findings[0], tiller_setup(), {});
    CHECK(text.find("gap = S_min - S_0") != std::string::npos);
    CHECK(text.find("S_min = 29.000 in") != std::string::npos);
    CHECK(text.find("S_0 = 31.000 in") != std::string::npos);
    CHECK(text.find("value -2.000 in, limit 1.000 in, margin -3.000 in") != std::string::npos);
    CHECK(text.find("+- 0.500 in") != std::string::npos);
    CHECK(text.find("driveline.shaft.closed_length = 31.000 in +- 0.063 in, measured") != std::string::npos);
    CHECK(text.find("tractor.pto.stub_slope = 0.000 deg +- 0.300 deg, assumed") != std::string::npos);
    CHECK(format_explanation(tiller_analysis().findings[0], tiller_setup(), {}, false).find("stub_slope") ==
          std::string::npos);
}
