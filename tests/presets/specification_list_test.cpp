// Specification lists.

#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "presets/specification_list.h"

using namespace hitchwright;

namespace {
const std::string head = "kind = \"specification_list\"\nversion = 1\nunit = \"in\"\nname = \"Demo\"\n";
}

TEST_CASE("specification list: lines hold figure, permitted deviation, consequence and source", "[analytic]") {
    std::vector<Problem> problems;
    const SpecificationList list = read_specification_list(head +
        "[[line]]\nname = \"control rod, eye to eye\"\nlength = \"5 in +- 1/8 in\"\nmeasured = 5.25\n"
        "how = \"between the pin centres\"\nconsequence = \"the clutch slips\"\ncomplaint = \"no power\"\n"
        "source = \"invented for this test\"\ngrade = \"P\"\n"
        "[[line]]\nname = \"shields\"\nspecification = \"complete and free to turn\"\n", "s.toml", problems);
    REQUIRE(problems.empty());
    REQUIRE(list.lines.size() == 2);
    CHECK(list.lines[0].length.value == 5 * 0.0254);
    CHECK(list.lines[0].length.tolerance == 0.125 * 0.0254);
    CHECK(list.lines[0].measured.value == 5.25 * 0.0254);
    CHECK(list.lines[0].grade == Grade::P);
    CHECK(list.lines[1].specification == "complete and free to turn");
    CHECK_FALSE(list.lines[1].length.known);
}

TEST_CASE("specification list: a line without name or without anything asked for is a problem", "[analytic]") {
    std::vector<Problem> problems;
    read_specification_list(head + "[[line]]\nmeasured = 5\n[[line]]\nname = \"x\"\nlenght = 5\n", "s.toml", problems);
    REQUIRE(problems.size() == 4);
    CHECK(problems[0].line == 5);
    CHECK(problems[1].line == 5);
    CHECK(problems[2].line == 7);
    CHECK(problems[3].line == 9);
}
