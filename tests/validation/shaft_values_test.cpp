// Halves and cuts against printed and hand values (driveline_values.toml).
#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/shaft_cut.h"
#include "geometry/telescoping.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using validation::load_checks;
using validation::ValueCheck;

TEST_CASE("telescoping halves: hand values of overlap and cuts", "[analytic]") {
    for (const ValueCheck& check : load_checks("driveline_values.toml", "halves")) {
        INFO(check.name << " (" << check.source << ")");
        const double tube_a = check.input("tube_a");
        const double tube_b = check.input("tube_b");
        const TelescopingHalves halves{check.input("roots") + std::max(tube_a, tube_b), tube_a, tube_b};
        const double length = check.input("length");
        CutPair cut{check.input_or("cut_a", 0.0), check.input_or("cut_b", 0.0)};
        if (check.in.count("target") != 0) {
            cut = find_cuts_for_closed_length(halves, check.input("target"));
            CHECK(std::abs(cut.a - check.out.at("cut_a")) <= check.tolerance);
            CHECK(std::abs(cut.b - check.out.at("cut_b")) <= check.tolerance);
        }
        CHECK(std::abs(halves.closed_length - check.out.at("closed")) <= check.tolerance);
        CHECK(std::abs(find_overlap(halves, length) - check.out.at("overlap")) <= check.tolerance);
        const CutHalves after = cut_halves(halves, cut);
        REQUIRE(after.status == CutStatus::ok);
        CHECK(std::abs(after.halves.closed_length - check.out.at("closed_after")) <= check.tolerance);
        CHECK(std::abs(find_overlap(after.halves, length) - check.out.at("overlap_after")) <= check.tolerance);
    }
}

TEST_CASE("cut: printed examples of too long a shaft, from each half", "[handbook]") {
    for (const ValueCheck& check : load_checks("driveline_values.toml", "equal_cut")) {
        INFO(check.name << " (" << check.source << ")");
        const double unit = check.input("unit");
        const double closed = check.input("closed") * unit;
        const double available = check.input("available") * unit;
        // The printed rule does not use tubes or the longest length; any that leave room do.
        const TelescopingHalves halves{closed, 0.7 * closed, 0.7 * closed};
        const CutLimits limits{check.input("gap") * unit, check.input("gap") * unit, 0.01, 0.0, 0.0};
        const CutPlan plan = plan_cut(halves, {available, available + 0.01}, limits, millimetre_mark);
        REQUIRE(plan.answer != CutAnswer::no_cut_works);
        CHECK(plan.least_cut.a == plan.least_cut.b);
        CHECK(std::abs(plan.least_cut.a / unit - check.out.at("cut")) <= check.tolerance);
        CHECK(std::abs(plan.equal_least - plan.least_cut.a) < 1e-12);
    }
}
