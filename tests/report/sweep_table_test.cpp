// Sweep and findings as tables: full precision, point as decimal sign, escaped names.
#include "report/sweep_table.h"

#include <catch2/catch.hpp>

#include <clocale>
#include <cmath>
#include <cstdlib>
#include <limits>

#include "report/csv_text.h"
#include "report/finding_csv.h"
#include "sample_analysis.h"

using namespace hitchwright;
using namespace hitchwright::sample;

namespace {

std::vector<std::vector<std::string>> parse_csv(const std::string& text) {
    std::vector<std::vector<std::string>> rows{{""}};
    bool quoted = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"')
            rows.back().back() += text[i++];
        else if (c == '"')
            quoted = !quoted;
        else if (!quoted && c == ',')
            rows.back().emplace_back();
        else if (!quoted && c == '\n')
            rows.push_back({""});
        else
            rows.back().back() += c;
    }
    REQUIRE_FALSE(quoted);
    rows.pop_back();
    return rows;
}

std::vector<PoseReport> sample_rows() {
    const LinkageAnalysis l = *full_analysis().linkage;
    return {l.low, l.working, l.high};
}

constexpr SweepContents all{true, true, true};

}  // namespace

TEST_CASE("csv: numbers read back to 12 digits, no binary dust, no -0, nothing for what is no number", "[analytic]") {
    for (const double v : {0.1, 1.0 / 3.0, 736.2547617233193, -4e-9, 1e300, 3.0}) {
        CHECK(std::fabs(std::strtod(format_csv_number(v).c_str(), nullptr) - v) <= 5e-12 * std::fabs(v));
    }
    CHECK(format_csv_number(0.1 + 0.2) == "0.3");
    CHECK(format_csv_number(-1e-12) == "0");
    CHECK(format_csv_number(-0.0) == "0");
    CHECK(format_csv_number(std::nan("")).empty());
    CHECK(format_csv_number(std::numeric_limits<double>::infinity()).empty());
}

TEST_CASE("csv: text is quoted where it must be and cannot break a line", "[analytic]") {
    CHECK(format_csv_text("plain") == "plain");
    CHECK(format_csv_text("a, \"b\"") == "\"a, \"\"b\"\"\"");
    CHECK(format_csv_text("a\nb\x1b") == "a\\x0ab\\x1b");
}

TEST_CASE("sweep csv: header with units, one row a position, values in the reader's unit", "[analytic]") {
    const auto inches = parse_csv(format_sweep_csv(sample_rows(), all, UnitSystem::inch));
    const auto millimetres = parse_csv(format_sweep_csv(sample_rows(), all, UnitSystem::millimetre));
    REQUIRE(inches.size() == 4);
    CHECK(inches[0][0] == "ball_height_in");
    CHECK(millimetres[0][0] == "ball_height_mm");
    for (std::size_t row = 1; row < 4; ++row) {
        REQUIRE(inches[row].size() == inches[0].size());
        for (std::size_t i = 0; i + 1 < inches[0].size(); ++i) {
            const double a = std::stod(inches[row][i]), b = std::stod(millimetres[row][i]);
            const bool length = inches[0][i].ends_with("_in");
            CAPTURE(inches[0][i]);
            CHECK(std::fabs((length ? a * 25.4 : a) - b) < 1e-9);
        }
    }
    CHECK(std::stod(inches[1][7]) == Approx(-2.0).margin(1e-12));  // gap_in at the bottom
}

TEST_CASE("sweep csv: what a set-up has not is left empty, the columns stay", "[analytic]") {
    const auto rows = parse_csv(format_sweep_csv(sample_rows(), {}, UnitSystem::millimetre));
    REQUIRE(rows[1].size() == rows[0].size());
    for (std::size_t i = 6; i < rows[1].size(); ++i) CHECK(rows[1][i].empty());
    CHECK_FALSE(rows[1][5].empty());
}

TEST_CASE("sweep csv: the decimal sign is a point whatever the locale", "[analytic]") {
    const std::string before = format_sweep_csv(sample_rows(), all, UnitSystem::inch);
    bool changed = false;
    for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"})
        changed = changed || std::setlocale(LC_ALL, name) != nullptr;
    const std::string after = format_sweep_csv(sample_rows(), all, UnitSystem::inch);
    std::setlocale(LC_ALL, "C");
    INFO("a locale with a comma was " << (changed ? "found" : "not installed here"));
    CHECK(before == after);
}

TEST_CASE("sweep table: at most 80 columns with every column there, in both units", "[analytic]") {
    std::vector<PoseReport> rows = sample_rows();
    rows[0].inverse_hitch_distance = 1e-9;
    rows[1].inverse_hitch_distance = -0.011;
    rows[1].pose.ball_height = 123.4375 * inch;
    rows[1].shaft_length = 123.4375 * inch;
    rows[1].gap = -23.4375 * inch;
    rows[1].overlap = -123.4375 * inch;
    rows[1].tractor_angle = 89.9 * degree;
    rows[1].pose.pitch = -123.4 * degree;
    rows[2].non_uniformity = std::numeric_limits<double>::infinity();
    for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
        const std::string text = format_sweep_table(rows, all, {units, 80, false});
        CAPTURE(text);
        for (std::size_t at = 0; at < text.size(); at = text.find('\n', at) + 1) CHECK(text.find('\n', at) - at <= 80);
        CHECK(text.find("par.") != std::string::npos);
        CHECK(text.find("inf") == std::string::npos);
    }
}

TEST_CASE("sweep table: gap and overlap round down, joint angles up", "[analytic]") {
    PoseReport p = sample_rows()[0];
    p.gap = 1.99 * inch;
    p.overlap = 20.01 * inch;
    p.tractor_angle = 12.301 * degree;
    const std::string text = format_sweep_table({p}, {true, true, false}, {});
    CHECK(text.find(" 1 15/16 ") != std::string::npos);
    CHECK(text.find(" 20 ") != std::string::npos);
    CHECK(text.find(" 12.4 ") != std::string::npos);
    CHECK(format_sweep_table({}, {}, {}).find("No position can be computed") == 0);
}

TEST_CASE("finding csv: one row a finding, as many cells as the header, text as in the report", "[analytic]") {
    Setup setup = tiller_setup();
    Analysis a = tiller_analysis();
    a.findings[0].subject = "shaft, \"old\"\x1b";
    const auto rows = parse_csv(format_finding_csv(setup, a, UnitSystem::millimetre));
    REQUIRE(rows.size() == a.findings.size() + 1);
    for (const auto& row : rows) CHECK(row.size() == rows[0].size());
    CHECK(rows[0][11] == "ball_height_mm");
    CHECK(rows[1][0] == "fits_after_change");
    CHECK(rows[1][1] == "gap_at_shortest");
    CHECK(rows[1][3] == "shaft, \"old\"\\x1b");
    CHECK(rows[1][5] == "mm");
    CHECK(std::stod(rows[1][6]) == Approx(-50.8).margin(1e-9));
    CHECK(rows[2][14] == "cut_both_halves");
    CHECK(rows[2].back().find("Cut 3 1/2 in from each half") == 0);  // the marks of the plan are sixteenths
    CHECK(parse_csv(format_finding_csv(setup, a, UnitSystem::inch))[0][11] == "ball_height_in");
}
