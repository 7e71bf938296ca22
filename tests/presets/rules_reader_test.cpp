// Rule sets: blanks from general, grades and sources, limits that contradict each other.

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "presets/rules_reader.h"
#include "tests/presets/scratch_folder.h"

using namespace hitchwright;

namespace {

constexpr double degree = 3.14159265358979323846 / 180;
constexpr std::string_view general_text =
    "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"General\"\ngrade = \"B\"\nsource = \"manuals\"\n"
    "gap_required = 25\ngap_aimed = \"40 mm\"\noverlap_least = 150\noverlap_fraction = \"1/3\"\noverlap_fraction_aimed = 0.5\n"
    "angle_free = 25\nangle_pto_off = \"35 deg\"\nangle_stop = { value = 45, grade = \"A\", source = \"the standard\" }\n";
constexpr std::array<EmbeddedFile, 2> built_in = {{
    {"rules/general.toml", general_text},
    {"rules/mower.toml", "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"Mower\"\ngap_required = \"2 in\"\n"
                         "overlap_fraction = \"none\"\nangle_pto_off = 15\n"},
}};

std::vector<Problem> problems_of(const std::string& body) {
    std::vector<Problem> problems;
    RuleSet general = read_rules({}, general_text, "general", problems);
    REQUIRE(problems.empty());
    read_rules(general, "kind = \"rules\"\nversion = 1\nunit = \"mm\"\n" + body, "r.toml", problems);
    return problems;
}

}  // namespace

TEST_CASE("rule set: what a set leaves out comes from general with its grade and source", "[analytic]") {
    const LoadedRules loaded = load_rules("mower", Library({}, built_in));
    REQUIRE(loaded.ok());
    const RuleSet& rules = loaded.rules;
    CHECK(rules.key == "mower");
    CHECK(rules.name == "Mower");
    CHECK(loaded.file == "built-in:rules/mower.toml");
    CHECK(rules.gap_required.value == 2 * 0.0254);
    CHECK(rules.gap_required.grade == Grade::C);  // stated nowhere: the humblest that still is a figure
    CHECK(rules.overlap_least.value == 0.15);
    CHECK(rules.overlap_least.source == "manuals");
    CHECK(rules.angle_stop.grade == Grade::A);
    CHECK(rules.angle_stop.source == "the standard");
    CHECK_FALSE(rules.overlap_fraction.set);  // "none" is not a blank
    CHECK_FALSE(rules.clearance.set);
}

TEST_CASE("rule set: an inherited limit never weakens the set's own one", "[analytic]") {
    const RuleSet rules = load_rules("mower", Library({}, built_in)).rules;
    CHECK(rules.gap_aimed.value == rules.gap_required.value);
    CHECK(std::fabs(rules.angle_free.value - 15 * degree) < 1e-12);
    CHECK(std::fabs(rules.angle_pto_off.value - 15 * degree) < 1e-12);
    CHECK(std::fabs(rules.angle_stop.value - 45 * degree) < 1e-12);
}

TEST_CASE("rule set: fractions are read exactly", "[analytic]") {
    const LoadedRules general = load_rules("general", Library({}, built_in));
    REQUIRE(general.ok());
    CHECK(general.rules.overlap_fraction.value == 1.0 / 3.0);
    CHECK(general.rules.gap_required == Limit{0.025, true, Grade::B, "manuals"});
}

TEST_CASE("rule set: a user's general lies over the built-in one", "[analytic]") {
    const test::ScratchFolder folder;
    folder.write("rules/general.toml", "kind = \"rules\"\nversion = 1\nname = \"Ours\"\ngap_required = \"30 mm\"\n");
    const Library library(folder.path(), built_in);
    const LoadedRules ours = load_rules("general", library);
    REQUIRE(ours.ok());
    CHECK(ours.rules.name == "Ours");
    CHECK(ours.rules.gap_required.value == 0.030);
    CHECK(ours.rules.overlap_least.value == 0.15);
    CHECK(load_rules("mower", library).rules.gap_required.value == 2 * 0.0254);
}

TEST_CASE("rule set: contradictions, wrong kinds and unknown keys are problems with their place", "[analytic]") {
    const auto contradiction = problems_of("gap_required = 50\ngap_aimed = 40\n");
    REQUIRE(contradiction.size() == 1);
    CHECK(contradiction.front().key == "gap_required");
    CHECK(contradiction.front().line == 4);
    CHECK(problems_of("angle_pto_off = 40\nangle_stop = 30\n").size() == 1);
    CHECK(problems_of("gap_requird = 40\n").front().nearest_key == "gap_required");
    CHECK(problems_of("overlap_fraction = 1.5\n").front().allowed == "0 to 0.99");
    CHECK(problems_of("gap_required = \"40 mm +- 1 mm\"\n").front().message == "a limit has no tolerance");
    CHECK(problems_of("gap_required = { value = 40, grade = \"Z\" }\n").front().key == "gap_required.grade");
    CHECK(problems_of("gap_required = { value = 40, origin = \"manual\" }\n").size() == 1);
    CHECK(problems_of("angle_stop = \"40 mm\"\n").size() == 1);
}

TEST_CASE("rule set: a missing general is a problem, not an empty set", "[analytic]") {
    const LoadedRules loaded = load_rules("general", Library({}, {}));
    CHECK_FALSE(loaded.ok());
}
