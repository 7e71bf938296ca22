// Telescoping halves: overlap, bottoming, cutting, what is assumed, guard tubes, refused input.
#include "geometry/telescoping.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace hitchwright;

namespace {

constexpr double rounding = 1e-12;

}  // namespace

TEST_CASE("telescoping halves: pushed home the overlap is the shorter tube, and it falls with the length",
          "[analytic]") {
    const TelescopingHalves halves{0.90, 0.60, 0.55};
    CHECK(check_halves(halves) == HalvesStatus::ok);
    CHECK(std::abs(find_root_length(halves) - 0.30) < rounding);
    CHECK(std::abs(find_overlap(halves, 0.90) - 0.55) < rounding);
    CHECK(std::abs(find_overlap(halves, 1.20) - 0.25) < rounding);
    CHECK(find_overlap(halves, 1.50) < 0.0);
    CHECK(std::abs(find_gap(halves, 0.94) - 0.04) < rounding);
    CHECK_FALSE(bottoms_out(halves, 0.94, 0.025));
    CHECK(bottoms_out(halves, 0.92, 0.025));
    CHECK_FALSE(bottoms_out(halves, 0.92));
    CHECK(bottoms_out(halves, 0.89));
}

TEST_CASE("cutting: X off each equal half takes X off the closed length and 2 X off the overlap", "[analytic]") {
    const TelescopingHalves halves{0.90, 0.55, 0.55};
    const CutHalves after = cut_halves(halves, {0.08, 0.08});
    REQUIRE(after.status == CutStatus::ok);
    CHECK(std::abs(after.halves.closed_length - 0.82) < rounding);
    CHECK(std::abs(find_overlap(after.halves, 1.1) - (find_overlap(halves, 1.1) - 0.16)) < rounding);
    CHECK(std::abs(find_root_length(after.halves) - find_root_length(halves)) < rounding);
}

TEST_CASE("cutting: unequal halves lose only from the longer up to their difference", "[analytic]") {
    const TelescopingHalves halves{0.90, 0.60, 0.55};
    const CutPair little = find_cuts_for_closed_length(halves, 0.87);
    CHECK(std::abs(little.a - 0.03) < rounding);
    CHECK(little.b == 0.0);
    const CutPair more = find_cuts_for_closed_length(halves, 0.80);
    CHECK(std::abs(more.a - 0.10) < rounding);
    CHECK(std::abs(more.b - 0.05) < rounding);
    const CutHalves after = cut_halves(halves, more);
    CHECK(std::abs(after.halves.closed_length - 0.80) < rounding);
    // Overlap lost: 2 X - d with X = 0.10, d = 0.05.
    CHECK(std::abs(find_overlap(halves, 1.0) - find_overlap(after.halves, 1.0) - 0.15) < rounding);
    CHECK(find_cuts_for_closed_length(halves, 0.95) == CutPair{});
}

TEST_CASE("cutting: one half alone does not shorten equal halves", "[analytic]") {
    const TelescopingHalves halves{0.90, 0.55, 0.55};
    const CutHalves after = cut_halves(halves, {0.08, 0.0});
    REQUIRE(after.status == CutStatus::ok);
    CHECK(after.halves.closed_length == 0.90);
    CHECK(std::abs(find_overlap(after.halves, 1.0) - (find_overlap(halves, 1.0) - 0.08)) < rounding);
}

TEST_CASE("cutting: cuts that cannot be made are named and change nothing", "[analytic]") {
    const TelescopingHalves halves{0.90, 0.55, 0.50};
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK(cut_halves(halves, {-0.01, 0.0}).status == CutStatus::negative);
    CHECK(cut_halves(halves, {0.0, 0.50}).status == CutStatus::whole_tube);
    CHECK(cut_halves(halves, {nan, 0.0}).status == CutStatus::not_finite);
    CHECK(cut_halves(halves, {nan, 0.0}).halves == halves);
}

TEST_CASE("halves from readings: measured tubes need no assumption", "[analytic]") {
    const AssumedHalves result = make_halves({0.90, 0.55, 0.50, 0.501, 1.15});
    CHECK(result.status == HalvesStatus::ok);
    CHECK(result.assumption == HalvesAssumption::none);
    CHECK(result.halves == TelescopingHalves{0.90, 0.55, 0.50});
}

TEST_CASE("halves from readings: what is assumed is named", "[analytic]") {
    HalvesReadings readings;
    readings.closed_length = 0.90;
    readings.longest_usable = 1.15;
    AssumedHalves result = make_halves(readings);
    CHECK(result.status == HalvesStatus::ok);
    CHECK(result.assumption == HalvesAssumption::equal_halves_from_longest);
    CHECK(std::abs(result.halves.tube_a - 0.50) < rounding);
    CHECK(result.halves.tube_a == result.halves.tube_b);
    // The table's longest leaves half of the overlap: it is not where the halves part.
    CHECK(std::abs(find_overlap(result.halves, 1.15) - 0.25) < rounding);

    readings.overlap_closed = 0.52;  // measured: comes before the table
    result = make_halves(readings);
    CHECK(result.assumption == HalvesAssumption::equal_halves);
    CHECK(result.halves == TelescopingHalves{0.90, 0.52, 0.52});

    readings.tube_b = 0.60;  // the longer tube measured: the other is the overlap
    result = make_halves(readings);
    CHECK(result.assumption == HalvesAssumption::other_tube_from_overlap);
    CHECK(result.halves == TelescopingHalves{0.90, 0.52, 0.60});

    readings.overlap_closed.reset();
    result = make_halves(readings);
    CHECK(result.assumption == HalvesAssumption::other_tube_from_longest);
    CHECK(std::abs(result.halves.tube_a - 0.50) < rounding);

    readings.longest_usable.reset();
    result = make_halves(readings);
    CHECK(result.assumption == HalvesAssumption::other_tube_equal);
    CHECK(result.halves == TelescopingHalves{0.90, 0.60, 0.60});
}

TEST_CASE("halves from readings: contradictions are named, halves stay empty", "[analytic]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto status = [](const HalvesReadings& readings) {
        const AssumedHalves result = make_halves(readings);
        CHECK(result.halves == TelescopingHalves{});
        return result.status;
    };
    CHECK(status({0.90, {}, {}, {}, {}}) == HalvesStatus::nothing_known);
    CHECK(status({nan, 0.5, 0.5, {}, {}}) == HalvesStatus::not_finite);
    CHECK(status({0.90, nan, 0.5, {}, {}}) == HalvesStatus::not_finite);
    CHECK(status({0.0, 0.5, 0.5, {}, {}}) == HalvesStatus::length_not_positive);
    CHECK(status({0.90, 0.5, -0.5, {}, {}}) == HalvesStatus::length_not_positive);
    CHECK(status({0.90, 0.95, 0.5, {}, {}}) == HalvesStatus::tube_longer_than_shaft);
    CHECK(status({0.90, {}, {}, 0.95, {}}) == HalvesStatus::tube_longer_than_shaft);
    CHECK(status({0.90, 0.40, {}, 0.50, {}}) == HalvesStatus::overlap_longer_than_tube);
    CHECK(status({0.90, 0.50, 0.55, 0.45, {}}) == HalvesStatus::overlap_disagrees);
    CHECK(status({0.90, {}, {}, {}, 0.90}) == HalvesStatus::longest_not_beyond_closed);
    CHECK(make_halves({0.90, 0.50, 0.55, {}, 1.39}).status == HalvesStatus::ok);
    CHECK(status({0.90, 0.50, 0.55, {}, 1.41}) == HalvesStatus::longest_beyond_tubes);
    CHECK(status({0.90, {}, {}, 0.50, 1.41}) == HalvesStatus::longest_beyond_tubes);
}

TEST_CASE("halves: lengths that cannot be are named", "[analytic]") {
    CHECK(check_halves({0.5, 0.5, 0.5}) == HalvesStatus::ok);
    CHECK(check_halves({0.5, 0.6, 0.5}) == HalvesStatus::tube_longer_than_shaft);
    CHECK(check_halves({0.5, 0.0, 0.5}) == HalvesStatus::length_not_positive);
    CHECK(check_halves({std::numeric_limits<double>::infinity(), 0.1, 0.5}) == HalvesStatus::not_finite);
}

TEST_CASE("guard tubes: they may bottom before the steel and must overlap at the longest point", "[analytic]") {
    const TelescopingHalves steel{0.90, 0.55, 0.55};
    const AssumedHalves guard = make_guard_halves(0.85, 0.50, 0.90);
    REQUIRE(guard.status == HalvesStatus::ok);
    GuardResult result = check_guard_tubes(steel, guard.halves, 0.93, 1.20);
    REQUIRE(result.status == HalvesStatus::ok);
    CHECK_FALSE(result.bottom_before_steel);
    CHECK(std::abs(result.gap_at_shortest - 0.08) < rounding);
    CHECK(std::abs(result.overlap_at_longest - 0.20) < rounding);  // 0.50 at 0.90, 0.30 longer

    // Steel and guards cut by the same 60 mm: both close 60 mm further, the guards overlap 120 mm less.
    const CutHalves cut_guard = cut_halves(guard.halves, {0.06, 0.06});
    const CutHalves cut_steel = cut_halves(steel, {0.06, 0.06});
    result = check_guard_tubes(cut_steel.halves, cut_guard.halves, 0.87, 1.20);
    CHECK(std::abs(result.gap_at_shortest - 0.08) < rounding);
    CHECK(std::abs(result.overlap_at_longest - 0.08) < rounding);

    // Steel cut, guards forgotten: the guards meet first.
    result = check_guard_tubes(cut_steel.halves, guard.halves, 0.84, 1.20);
    CHECK(result.bottom_before_steel);
    CHECK(result.gap_at_shortest < 0.0);
    CHECK(check_guard_tubes(steel, {}, 0.9, 1.2).status == HalvesStatus::length_not_positive);
    CHECK(check_guard_tubes(steel, guard.halves, std::numeric_limits<double>::quiet_NaN(), 1.2).status ==
          HalvesStatus::not_finite);
}
