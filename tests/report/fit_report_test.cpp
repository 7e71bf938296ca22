// The whole report: what a person reads first, and the page as it was read and approved.
#include "report/fit_report.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "report/travel_table.h"
#include "sample_analysis.h"

using namespace hitchwright;
using namespace hitchwright::sample;

namespace {

std::string read_golden(const std::string& name) {
    std::ifstream file(std::string(HITCHWRIGHT_SOURCE_DIR) + "/tests/report/golden/" + name);
    REQUIRE(file);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

std::size_t find_widest(const std::string& text) {
    std::size_t widest = 0;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at);
        widest = std::max(widest, count_columns(std::string_view(text).substr(at, end - at)));
        at = end + 1;
    }
    return widest;
}

}  // namespace

TEST_CASE("fit report: the page of a hand-made analysis is the one that was read and approved", "[golden]") {
    // To renew it after a wanted change: read the text this prints, then put it into the file.
    const std::string text = format_fit_report(tiller_setup(), tiller_analysis(), {UnitSystem::inch, 80, false});
    INFO(text);
    CHECK(text == read_golden("fit_report.txt"));
}

TEST_CASE("fit report: verdict, reason and what to do stand before everything else", "[analytic]") {
    const std::string text = format_fit_report(tiller_setup(), tiller_analysis(), {});
    const std::size_t verdict = text.find("FITS AFTER A CHANGE. Shaft bottoms out"), steps = text.find("What to do"),
                      findings = text.find("Findings, worst first"), cautions = text.find("\nCautions\n");
    CHECK(verdict < steps);
    CHECK(steps < findings);
    CHECK(findings < cautions);
    CHECK(cautions != std::string::npos);
}

TEST_CASE("fit report: steps come in the order of work, each with its number", "[analytic]") {
    CHECK(list_steps(tiller_setup(), tiller_analysis(), UnitSystem::inch) ==
          std::vector<std::string>{
              "Set the upper link to 23 in, hole 2, 1 1/2 turns shorter than now (pin centre to pin centre).",
              "Cut 3 1/2 in from each half: both tubes and both guard tubes. Not before a direct reading, shaft to "
              "shaft, agrees.",
              "No work above a ball height of 24 1/4 in."});
}

TEST_CASE("fit report: of two conditions of one kind the tighter height is the step", "[analytic]") {
    Analysis a = tiller_analysis();
    Finding other = a.findings[2];
    other.subject = "implement joint";
    other.remedies.front().value = 22.0 * inch;
    a.findings.push_back(other);
    const std::vector<std::string> steps = list_steps(tiller_setup(), a, UnitSystem::inch);
    CHECK(std::count(steps.begin(), steps.end(), "No work above a ball height of 22 in.") == 1);
    CHECK(std::count(steps.begin(), steps.end(), "No work above a ball height of 24 1/4 in.") == 0);
}

TEST_CASE("fit report: a shaft that no cut saves is replaced, not patched", "[analytic]") {
    Analysis a;
    a.verdict = Verdict::must_not_run;
    Finding apart = make_finding(FindingKind::separation, Severity::forbids),
            none = make_finding(FindingKind::no_cut_works, Severity::forbids);
    apart.remedies = {{RemedyKind::longer_shaft, 0.1, 0.0, ""}};
    none.remedies = {{RemedyKind::order_shaft, 0.7, 1.0, ""}, {RemedyKind::lift_stop, 0.5, 0.0, ""}};
    a.findings = {apart, none};
    const std::vector<std::string> steps = list_steps(tiller_setup(), a, UnitSystem::millimetre);
    REQUIRE(steps.size() == 1);
    CHECK(steps[0].starts_with("Get a shaft that closes to 700 mm or less"));
}

TEST_CASE("fit report: every verdict makes a sentence that begins with its words", "[analytic]") {
    for (const Verdict v : {Verdict::fits, Verdict::fits_after_change, Verdict::must_not_run,
                            Verdict::too_close_to_call, Verdict::not_known}) {
        for (Analysis a : {Analysis{}, tiller_analysis(), full_analysis()}) {
            a.verdict = v;
            const std::string sentence = format_verdict_sentence(tiller_setup(), a, UnitSystem::inch);
            CAPTURE(sentence);
            CHECK(sentence.back() == '.');
            CHECK(sentence.find(' ') != std::string::npos);
            CHECK(find_widest(format_fit_report(tiller_setup(), a, {}, true)) <= 80);
        }
    }
    Analysis calm;
    calm.verdict = Verdict::fits;
    CHECK(format_verdict_sentence(tiller_setup(), calm, UnitSystem::inch) ==
          "FITS. All that was judged is within its limits.");
    calm.findings = {tiller_analysis().findings[2]};
    CHECK(format_verdict_sentence(tiller_setup(), calm, UnitSystem::inch) ==
          "FITS, as long as you keep to the conditions below.");
}

TEST_CASE("fit report: 80 columns whatever the names, the units and the explanations", "[analytic]") {
    Setup setup = tiller_setup();
    setup.name = std::string(300, 'n') + "\x1b[31m";
    setup.tractor.name = "a " + std::string(100, 't');
    setup.tractor.upper_link_pins[0].name = std::string(80, 'p');
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        for (const bool explain : {false, true}) {
            const std::string text = format_fit_report(setup, full_analysis(), {units, 80, false}, explain);
            CHECK(find_widest(text) <= 80);
            CHECK(text.find('\x1b') == std::string::npos);
        }
    }
}

TEST_CASE("fit report: both units tell the same findings in the same order", "[metamorphic]") {
    const std::string inches = format_fit_report(tiller_setup(), tiller_analysis(), {UnitSystem::inch, 200, false});
    const std::string millimetres =
        format_fit_report(tiller_setup(), tiller_analysis(), {UnitSystem::millimetre, 200, false});
    CHECK(millimetres.find("Shaft bottoms out: 51 mm too long") != std::string::npos);
    CHECK(inches.find("Shaft bottoms out: 2 in too long") != std::string::npos);
    const auto marks = [](const std::string& text) {
        std::string order;
        std::istringstream lines(text);
        for (std::string line; std::getline(lines, line);) {
            if (line.find("  ") != std::string::npos && line.front() >= 'A' && line.front() <= 'Z')
                order += line.substr(0, line.find("  ")) + '\n';
        }
        return order;
    };
    CHECK(marks(inches) == marks(millimetres));
    CHECK(marks(inches).find("CONDITION") != std::string::npos);
}

TEST_CASE("travel table: the shortest rounds down, the longest up, a lack is named as one", "[analytic]") {
    Analysis a = tiller_analysis();
    a.linkage->low.shaft_length = 28.99 * inch;
    a.linkage->high.shaft_length = 30.44 * inch;
    const std::string text = format_pose_table(a, {});
    CHECK(text.find("28 15/16 in") != std::string::npos);
    CHECK(text.find("30 1/2 in") != std::string::npos);
    CHECK(text.find("2 in short") != std::string::npos);
    CHECK(format_pose_table(Analysis{}, {}).empty());
}

TEST_CASE("travel table: what binds the travel and how far it is proven is said, not assumed", "[analytic]") {
    Analysis a = tiller_analysis();
    CHECK(format_travel_bounds(a, {}) ==
          "Travel 8 in to 27 in of ball height: bottom by the tape, top by the lift stop.\n");
    CHECK(format_bound_statement(a, {}).find("bounded to 0.01 mm and 0.001 deg") != std::string::npos);
    a.shaft->travel.shortest.bound -= 0.001;
    CHECK(format_bound_statement(a, {}).find("bounded to 1.0 mm") != std::string::npos);
    a = tiller_analysis();
    a.shaft->travel.longest.converged = false;
    CHECK(format_bound_statement(a, {}).find("only") != std::string::npos);
}

TEST_CASE("travel table: origins are counted and the assumed readings named", "[analytic]") {
    const std::string text = format_origins(tiller_setup(), {});
    CHECK(text ==
          "Readings: 4 measured, 1 from manuals, 2 from example presets, 1 assumed.\n  Assumed: "
          "tractor.pto.stub_slope.\n");
    CHECK(format_origins(Setup{}, {}) == "Readings: none.\n");
}
