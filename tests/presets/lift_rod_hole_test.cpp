// Holes of the lift rod in a set-up file: read, and what contradicts itself is refused with place and remedy.
#include <catch2/catch.hpp>

#include <array>
#include <string>
#include <vector>

#include "presets/load_setup.h"
#include "tests/presets/scratch_folder.h"

using namespace hitchwright;
using test::ScratchFolder;

namespace {

constexpr double inch = 0.0254;
constexpr std::array<EmbeddedFile, 1> built_in = {
    {{"rules/general.toml", "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"General\"\ngap_required = 25\n"}}};

const std::string head = "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\n";
const std::string lower = "[tractor.lower_link]\nlength = 34\n";
const std::string two = "[[tractor.lift_rod_hole]]\nname = \"front\"\npin_along_link = 16\n"
                        "[[tractor.lift_rod_hole]]\nname = \"rear\"\npin_along_link = \"19 in +- 1/4 in\"\n";
const std::string heights = "ball_height_low = 8\nball_height_high = 36\n";
const std::string tail = "[implement]\n";

LoadedSetup load(const std::string& text, std::vector<std::string> sets = {}) {
    const ScratchFolder folder;
    return load_setup(folder.write("s.toml", text), Library({}, built_in), {std::move(sets), ""});
}

/// The only problem, as "key: message".
std::string only_problem(const LoadedSetup& loaded) {
    for (const Problem& p : loaded.problems) UNSCOPED_INFO(format_problem(p));
    REQUIRE(loaded.problems.size() == 1);
    CHECK(loaded.problems[0].line + static_cast<int>(loaded.problems[0].file == "--set") > 0);
    return loaded.problems[0].key + ": " + loaded.problems[0].message;
}

}  // namespace

TEST_CASE("lift-rod holes: read with their names, the hole of the tape and the choice", "[analytic]") {
    const LoadedSetup loaded = load(head + lower + two + "[tractor.travel]\nlift_rod_hole = \"front\"\n" + heights + tail +
                                    "[choices]\nlift_rod_hole = \"rear\"\n");
    REQUIRE(loaded.ok());
    const Tractor& t = loaded.setup.tractor;
    REQUIRE(t.lift_rod_holes.size() == 2);
    CHECK(t.lift_rod_holes[0] == LiftRodHole{"front", make_reading(16 * inch, Origin::measured, t.lift_rod_holes[0].pin_along_link.tolerance)});
    CHECK(t.lift_rod_holes[1].pin_along_link == make_reading(19 * inch, Origin::measured, inch / 4));
    CHECK(t.travel.lift_rod_hole == "front");
    CHECK(loaded.setup.choices.lift_rod_hole == "rear");
    CHECK(load(head + lower + two + "[tractor.travel]\nlift_rod_hole = \"front\"\n" + heights + tail,
               {"choices.lift_rod_hole=rear", "tractor.lift_rod_hole[rear].pin_along_link=20 in"})
              .setup.tractor.lift_rod_holes[1].pin_along_link.value == 20 * inch);
}

TEST_CASE("lift-rod holes: what contradicts itself is refused", "[analytic]") {
    const std::string taped = "[tractor.travel]\nlift_rod_hole = \"front\"\n" + heights;
    CHECK(only_problem(load(head + lower + two + "[tractor.travel]\n" + heights + tail)).find("tractor.travel.ball_height_low: ball heights hold for the hole") == 0);
    CHECK(only_problem(load(head + lower + two + taped + "[tractor.lift_rod]\npin_along_link = 16\n" + tail))
              .find("tractor.lift_rod.pin_along_link: the holes of the lift rod are listed") == 0);
    CHECK(only_problem(load(head + lower + two + taped + tail + "[choices]\nlift_rod_hole = \"reer\"\n"))
              .find("choices.lift_rod_hole: the machine has no hole of that name") == 0);
    CHECK(only_problem(load(head + lower + tail + "[choices]\nlift_rod_hole = \"rear\"\n"))
              .find("choices.lift_rod_hole: the holes of the lift rod are not listed") == 0);
    CHECK(only_problem(load(head + lower + "[tractor.travel]\nlift_rod_hole = \"rear\"\n" + heights + tail))
              .find("tractor.travel.lift_rod_hole: the holes of the lift rod are not listed") == 0);
    CHECK(only_problem(load(head + lower + two + taped + tail, {"tractor.lift_rod_hole[rear].pin_along_link=35 in"}))
              .find("is not below lower_link.length") != std::string::npos);
    CHECK(only_problem(load(head + lower + two + "[[tractor.lift_rod_hole]]\nname = \"rear\"\npin_along_link = 20\n" + taped + tail))
              .find("two items of this list have the same name") != std::string::npos);
}

TEST_CASE("lift-rod holes: one alone needs neither name nor choice", "[analytic]") {
    CHECK(load(head + lower + "[[tractor.lift_rod_hole]]\npin_along_link = 16\n[tractor.travel]\n" + heights + tail).ok());
}
