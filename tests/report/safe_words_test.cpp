// Numbers in words round to the side that cannot mislead, in both units and both directions.
#include "report/safe_words.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace hitchwright;

namespace {
constexpr double inch = 0.0254;
constexpr double degree = 3.14159265358979323846 / 180.0;
const SafeWords inches{UnitSystem::inch};
const SafeWords millimetres{UnitSystem::millimetre};
}  // namespace

TEST_CASE("safe words: what is there rounds down, what is needed rounds up", "[analytic]") {
    CHECK(inches.have(1.99 * inch) == "1 15/16 in");
    CHECK(inches.need(1.99 * inch) == "2 in");
    CHECK(inches.at_most(24.37 * inch) == "24 5/16 in");
    CHECK(inches.at_least(24.37 * inch) == "24 3/8 in");
    CHECK(inches.place(1.99 * inch) == "2 in");
    CHECK(millimetres.have(0.0256) == "25 mm");
    CHECK(millimetres.need(0.0256) == "26 mm");
}

TEST_CASE("safe words: an exact mark stays itself in every direction", "[analytic]") {
    for (int sixteenths = 1; sixteenths < 700; ++sixteenths) {
        const double metres = sixteenths * inch / 16.0;
        const std::string text = inches.place(metres);
        CAPTURE(sixteenths, text);
        CHECK(inches.have(metres) == text);
        CHECK(inches.need(metres) == text);
        CHECK(inches.have(std::nextafter(metres, 0.0)) == text);
        CHECK(inches.need(std::nextafter(metres, 10.0)) == text);
    }
}

TEST_CASE("safe words: a printed comparison never contradicts the judgement", "[analytic]") {
    // 25.1 mm is enough for 25 mm, but would print as 15/16 in against 1 in.
    const ShownPair close = inches.have_need(0.0251, 0.025);
    CHECK(close.value == "25.1 mm");
    CHECK(close.limit == "25.0 mm");
    const ShownPair closer = inches.have_need(0.02502, 0.02501);
    CHECK(closer.value == "25.020 mm");
    CHECK(closer.limit == "25.010 mm");
    const ShownPair broken = inches.have_need(0.9 * inch, 1.0 * inch);
    CHECK(broken.value == "7/8 in");
    CHECK(broken.limit == "1 in");
    CHECK(broken.difference == "1/8 in");
}

TEST_CASE("safe words: the printed margin is the difference of the printed numbers, on the safe side", "[analytic]") {
    for (int i = 0; i < 400; ++i) {
        const double value = 0.02 + 0.00037 * i, limit = 0.0333;
        for (const SafeWords& w : {inches, millimetres}) {
            const ShownPair p = w.have_need(value, limit);
            const double step = w.units == UnitSystem::inch ? inch / 16.0 : 1e-3;
            const double shown = std::floor(value / step + 1e-9) - std::ceil(limit / step - 1e-9);
            const bool fine = (shown >= 0) != (value >= limit);
            CAPTURE(value, p.value, p.limit, p.difference);
            if (!fine) CHECK(p.difference == w.place(std::fabs(shown) * step));
            if (!fine && value < limit) CHECK(std::fabs(shown) * step >= limit - value - 1e-12);
            if (!fine && value >= limit) CHECK(shown * step <= value - limit + 1e-12);
        }
    }
}

TEST_CASE("safe words: an angle rounds up against a limit that rounds down, without contradiction", "[analytic]") {
    const ShownPair within = inches.angle_limit(20.01 * degree, 25.0 * degree);
    CHECK(within.value == "20.1 deg");
    CHECK(within.limit == "25.0 deg");
    const ShownPair hair = inches.angle_limit(24.98 * degree, 24.99 * degree);  // tenths would print 25.0 against 24.9
    CHECK(hair.value == "24.980 deg");
    CHECK(hair.limit == "24.990 deg");
    CHECK(inches.angle_limit(25.0 * degree, 25.0 * degree).value == "25.0 deg");
}

TEST_CASE("safe words: shares and turns are words where the trade has them", "[analytic]") {
    CHECK(format_share(1.0 / 3.0) == "one third");
    CHECK(format_share(0.5) == "one half");
    CHECK(format_share(0.4) == "40.0 %");
    CHECK(format_turns(1.0) == "1 turn");
    CHECK(format_turns(-1.5) == "1 1/2 turns");
    CHECK(format_turns(0.25) == "1/4 of a turn");
    CHECK(format_turns(0.0) == "0 turns");
    CHECK(format_turns(std::nan("")) == "not known");
    CHECK(format_count(1, "finding") == "1 finding");
    CHECK(format_count(0, "finding") == "0 findings");
}

TEST_CASE("safe words: sources carry their grade, and from memory says unverified", "[analytic]") {
    CHECK(format_source({0.0, true, Grade::B, "manuals"}) == "manuals, grade B");
    CHECK(format_source({0.0, true, Grade::C, "a figure"}) == "a figure, grade C, unverified");
    CHECK(format_source({0.0, true, Grade::D, ""}) == "source not stated, grade D");
    CHECK(format_source({}).empty());
    for (const Grade g : {Grade::A, Grade::B, Grade::C, Grade::D, Grade::P}) CHECK_FALSE(grade_meaning(g).empty());
}

TEST_CASE("safe words: huge and unknown numbers are words, never nan or a wrong length", "[analytic]") {
    for (const double v : {std::nan(""), std::numeric_limits<double>::infinity(), 1e300, -1e300}) {
        for (const std::string& text :
             {inches.have(v), inches.need(v), millimetres.place(v), inches.fine(v), inches.have_need(v, 0.1).value,
              inches.angle_limit(v, 0.1).value, format_decimal_quantity(v, Dimension::length, UnitSystem::inch)}) {
            CAPTURE(v, text);
            CHECK((text == "not known" || text == "out of range" || text.starts_with("not known") ||
                   text.starts_with("out of range")));
        }
    }
}
