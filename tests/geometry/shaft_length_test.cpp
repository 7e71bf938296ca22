// Conversions of a straight shaft's length between the points people measure it between.
#include "geometry/shaft_length.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace hitchwright;

namespace {

constexpr double rounding = 1e-12;
constexpr LengthReference references[] = {LengthReference::joint_centres, LengthReference::locking_grooves,
                                          LengthReference::shaft_ends};
const ShaftEndDistances tractor_end{0.05, 0.07};
const ShaftEndDistances implement_end{0.04, 0.065};

}  // namespace

TEST_CASE("shaft length: grooves and ends lie beyond the joint centres by their distances", "[analytic]") {
    const auto convert = [](LengthReference from, LengthReference to) {
        return convert_shaft_length(1.0, from, to, tractor_end, implement_end);
    };
    using enum LengthReference;
    CHECK(std::abs(convert(joint_centres, locking_grooves).length - 1.09) < rounding);
    CHECK(std::abs(convert(joint_centres, shaft_ends).length - 1.135) < rounding);
    CHECK(std::abs(convert(locking_grooves, joint_centres).length - 0.91) < rounding);
    CHECK(std::abs(convert(shaft_ends, locking_grooves).length - 0.955) < rounding);
}

TEST_CASE("shaft length: there and back gives the length again", "[metamorphic]") {
    for (const LengthReference from : references) {
        for (const LengthReference to : references) {
            const LengthConversion there = convert_shaft_length(0.83, from, to, tractor_end, implement_end);
            REQUIRE(there.status == LengthConversionStatus::ok);
            const LengthConversion back = convert_shaft_length(there.length, to, from, tractor_end, implement_end);
            CHECK(std::abs(back.length - 0.83) < rounding);
        }
    }
}

TEST_CASE("shaft length: the same points need no distance at all", "[analytic]") {
    for (const LengthReference reference : references) {
        const LengthConversion result = convert_shaft_length(0.83, reference, reference, {}, {});
        CHECK(result.status == LengthConversionStatus::ok);
        CHECK(result.length == 0.83);
    }
}

TEST_CASE("shaft length: every missing distance is named, and only those needed", "[analytic]") {
    using enum LengthReference;
    const LengthConversion both = convert_shaft_length(1.0, locking_grooves, shaft_ends, {}, {0.04, std::nullopt});
    CHECK(both.status == LengthConversionStatus::missing_distance);
    CHECK(both.missing.tractor_centre_to_groove);
    CHECK(both.missing.tractor_centre_to_end);
    CHECK_FALSE(both.missing.implement_centre_to_groove);
    CHECK(both.missing.implement_centre_to_end);
    CHECK(both.length == 0.0);
    const LengthConversion one = convert_shaft_length(1.0, joint_centres, locking_grooves, tractor_end, {});
    CHECK(one.missing == MissingDistances{false, false, true, false});
}

TEST_CASE("shaft length: lengths that cannot be are named, never a number", "[analytic]") {
    using enum LengthReference;
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto status = [](double length, const ShaftEndDistances& front) {
        return convert_shaft_length(length, locking_grooves, joint_centres, front, implement_end).status;
    };
    CHECK(status(nan, tractor_end) == LengthConversionStatus::not_finite);
    CHECK(status(1.0, {nan, 0.1}) == LengthConversionStatus::not_finite);
    CHECK(status(0.0, tractor_end) == LengthConversionStatus::length_not_positive);
    CHECK(status(0.08, tractor_end) == LengthConversionStatus::length_not_positive);
    CHECK(convert_shaft_length(nan, shaft_ends, shaft_ends, {}, {}).status == LengthConversionStatus::not_finite);
    CHECK(convert_shaft_length(-1.0, shaft_ends, shaft_ends, {}, {}).status ==
          LengthConversionStatus::length_not_positive);
}
