// The plane four-bar against four_bar.csv: both assemblies, all Grashof classes, one that cannot assemble.
#include <catch2/catch.hpp>

#include <cmath>
#include <map>
#include <string>

#include "geometry/angle.h"
#include "geometry/four_bar.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using validation::load_checks;
using validation::load_table;
using validation::TableRow;
using validation::ValueCheck;

namespace {

constexpr double tolerance_deg = 1e-9;

FourBar read_bars(const TableRow& row) {
    return {row.number("crank"), row.number("coupler"), row.number("rocker"), row.number("ground")};
}

/// Difference of two directions in degrees, blind to whole turns (-180 and 180 are one direction).
double turn_between(double radians, double degrees) { return to_degrees(wrap_angle(radians - to_radians(degrees))); }

}  // namespace

TEST_CASE("four-bar table: coupler, rocker and transmission angles of both assemblies", "[oracle][handbook]") {
    const std::vector<TableRow> rows = load_table("four_bar.csv");
    REQUIRE(rows.size() == 24);
    int assembled = 0;
    for (const TableRow& row : rows) {
        CAPTURE(row.text("case"), row.text("crank_deg"));
        const double crank = to_radians(row.number("crank_deg"));
        const FourBarPose left = solve_four_bar(read_bars(row), crank, Side::left);
        const FourBarPose right = solve_four_bar(read_bars(row), crank, Side::right);
        if (row.text("coupler_left_deg") == "no assembly") {
            // Crank pin to rocker pivot by the law of cosines, less coupler and rocker.
            const double apart = std::sqrt(9.0 + 36.0 - 36.0 * std::cos(crank));
            CHECK_FALSE(left.assembles);
            CHECK_FALSE(right.assembles);
            CHECK(left.miss == Miss::apart);
            CHECK(left.shortfall == Approx(apart - 8.0).epsilon(0).margin(1e-12));
            continue;
        }
        REQUIRE(left.assembles);
        REQUIRE(right.assembles);
        ++assembled;
        CHECK(std::abs(turn_between(left.coupler_angle, row.number("coupler_left_deg"))) < tolerance_deg);
        CHECK(std::abs(turn_between(left.rocker_angle, row.number("rocker_left_deg"))) < tolerance_deg);
        CHECK(std::abs(turn_between(right.coupler_angle, row.number("coupler_right_deg"))) < tolerance_deg);
        CHECK(std::abs(turn_between(right.rocker_angle, row.number("rocker_right_deg"))) < tolerance_deg);
        CHECK(to_degrees(left.transmission_angle) ==
              Approx(row.number("transmission_deg")).epsilon(0).margin(tolerance_deg));
        CHECK(to_degrees(right.transmission_angle) ==
              Approx(row.number("transmission_deg")).epsilon(0).margin(tolerance_deg));
    }
    CHECK(assembled == 23);
}

TEST_CASE("four-bar table: Grashof class of every row", "[handbook]") {
    const std::map<std::string, GrashofClass> classes = {{"Grashof", GrashofClass::grashof},
                                                         {"special", GrashofClass::special},
                                                         {"non-Grashof", GrashofClass::non_grashof}};
    for (const TableRow& row : load_table("four_bar.csv")) {
        CAPTURE(row.text("case"));
        REQUIRE(classes.count(row.text("class")) == 1);
        CHECK(find_grashof_class(read_bars(row)) == classes.at(row.text("class")));
    }
}

TEST_CASE("four-bar: linkage A with the lower link level, against its pivot line", "[oracle]") {
    for (const ValueCheck& check : load_checks("linkage_values.toml", "four_bar_of_linkage_a")) {
        CAPTURE(check.name);
        const FourBar bars{check.input("crank"), check.input("coupler"), check.input("rocker"), check.input("ground")};
        // The mast pin lies above the line ball -> upper-link pin, which runs forward: on its right.
        const FourBarPose pose = solve_four_bar(bars, to_radians(check.input("crank_angle")), Side::right);
        REQUIRE(pose.assembles);
        CHECK(to_degrees(pose.coupler_angle) ==
              Approx(check.out.at("coupler_angle")).epsilon(0).margin(check.tolerance));
        CHECK(to_degrees(pose.rocker_angle) == Approx(check.out.at("rocker_angle")).epsilon(0).margin(check.tolerance));
    }
}
