// Add-on parts in a set-up file and by --set: the switch, the values, and what is refused.
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

const std::string start = "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\n[implement]\n";
const std::string coupler = "[coupler]\nfitted = true\nname = \"hooks\"\nset_back = 4\nhook_height = 15\npin_height = \"18 in +- 1/8 in\"\n";

LoadedSetup load(const std::string& text, std::vector<std::string> sets = {}) {
    const ScratchFolder folder;
    LoadedSetup loaded = load_setup(folder.write("s.toml", text), Library({}, built_in), {std::move(sets), ""});
    for (const Problem& problem : loaded.problems) UNSCOPED_INFO(format_problem(problem));
    return loaded;
}

}  // namespace

TEST_CASE("add-on parts: read from their tables, assumed values only while fitted", "[analytic]") {
    const LoadedSetup loaded = load(start + coupler + "[link_extender]\nfitted = false\nlength = 3\n[overrunning_clutch]\nfitted = true\n"
                                            "added_length = \"2 3/4 in\"\n[spline_extender]\nfitted = true\nadded_length = 2\n");
    REQUIRE(loaded.ok());
    const Parts& p = loaded.setup.parts;
    CHECK((p.coupler.fitted && p.coupler.name == "hooks" && p.coupler.set_back.value == 4 * inch));
    CHECK(p.coupler.pin_height == make_reading(18 * inch, Origin::measured, inch / 8));
    CHECK((p.coupler.hook_rise.known && p.coupler.hook_rise.origin == Origin::assumed && p.coupler.hook_rise.value == 0.0));
    CHECK_FALSE(p.coupler.hook_depth.known);
    CHECK((!p.link_extender.fitted && p.link_extender.length.value == 3 * inch));
    CHECK((p.overrunning_clutch.fitted && p.overrunning_clutch.added_length.value == 2.75 * inch));
    CHECK((p.spline_extender.fitted && p.spline_extender.added_length.value == 2 * inch));
    const LoadedSetup off = load(start + coupler, {"coupler.fitted=false"});
    REQUIRE(off.ok());
    CHECK_FALSE(off.setup.parts.coupler.fitted);
    CHECK(off.setup.parts.coupler.set_back.value == 4 * inch);  // stays in the file
    CHECK_FALSE(off.setup.parts.coupler.hook_rise.known);
    CHECK(load(start).setup.parts == Parts{});
}

TEST_CASE("add-on parts: switched and measured on the command line alone", "[analytic]") {
    const LoadedSetup on = load(start, {"overrunning_clutch.fitted=true", "overrunning_clutch.added_length=70mm"});
    REQUIRE(on.ok());
    CHECK((on.setup.parts.overrunning_clutch.fitted && on.setup.parts.overrunning_clutch.added_length.value == 0.07));
    CHECK(load(start + coupler, {"coupler.set_back=5"}).setup.parts.coupler.set_back.value == 5 * inch);
    CHECK_FALSE(load(start + coupler, {"coupler.set_back="}).setup.parts.coupler.set_back.known);
}

TEST_CASE("add-on parts: a part whose switch is not said is refused", "[analytic]") {
    const LoadedSetup no_switch = load(start + "[coupler]\nset_back = 4\n");
    REQUIRE(no_switch.problems.size() == 1);
    CHECK((no_switch.problems[0].key == "coupler.fitted" && no_switch.problems[0].line == 6));
    CHECK(load(start + coupler, {"coupler.fitted="}).problems.size() == 1);
    CHECK(load(start, {"link_extender.length=3in"}).problems.size() == 1);
    CHECK(load(start + "[spline_extender]\n").problems.size() == 1);
}

TEST_CASE("add-on parts: rubbish is a problem with its key, never a value", "[analytic]") {
    const std::vector<std::pair<std::string, std::string>> refused{
        {"fitted = \"yes\"", "coupler.fitted"},
        {"fitted = 1", "coupler.fitted"},
        {"fitted = true\nset_back = \"nan\"", "coupler.set_back"},
        {"fitted = true\nset_back = nan", "coupler.set_back"},
        {"fitted = true\nset_back = inf", "coupler.set_back"},
        {"fitted = true\nset_back = 1e300", "coupler.set_back"},
        {"fitted = true\nset_back = -40", "coupler.set_back"},
        {"fitted = true\nhook_height = 0", "coupler.hook_height"},
        {"fitted = true\nhook_height = \"15 deg\"", "coupler.hook_height"},
        {"fitted = true\nhook_depth = [1, 2]", "coupler.hook_depth"},
        {"fitted = true\nset_bakc = 4", "coupler.set_bakc"}};
    for (const auto& [text, key] : refused) {
        const LoadedSetup loaded = load(start + "[coupler]\n" + text + "\n");
        CAPTURE(text);
        REQUIRE_FALSE(loaded.problems.empty());
        CHECK(loaded.problems[0].key == key);
    }
    CHECK(load(start + "[coupler]\nfitted = true\nset_bakc = 4\n").problems[0].nearest_key == "coupler.set_back");
    CHECK_FALSE(load(start, {"coupler=3"}).ok());
    CHECK_FALSE(load(start, {"coupler="}).ok());
    CHECK_FALSE(load(start, {"coupler.fitted=maybe"}).ok());
    CHECK_FALSE(load("kind = \"setup\"\nversion = 1\ncoupler = 3\n[tractor]\n[implement]\n").ok());
    CHECK_FALSE(load(start + "[[coupler]]\nfitted = true\n").ok());
}

TEST_CASE("swing strap: two stops or none, in order and at most one turn apart", "[analytic]") {
    const auto problems = [](const std::string& stops) {
        return load(start + "[implement.upper_link_float]\nkind = \"swing_strap\"\nstrap_length = 3\n" + stops).problems.size();
    };
    CHECK(problems("") == 0);
    CHECK(problems("strap_stop_low = 60\nstrap_stop_high = 120\n") == 0);
    CHECK(problems("strap_stop_low = -180\nstrap_stop_high = 180\n") == 0);
    CHECK(problems("strap_stop_low = 60\n") == 1);
    CHECK(problems("strap_stop_high = 60\n") == 1);
    CHECK(problems("strap_stop_low = 120\nstrap_stop_high = 60\n") == 1);
    CHECK(problems("strap_stop_low = -181\nstrap_stop_high = 180\n") == 1);
    CHECK(problems("strap_stop_low = 361\nstrap_stop_high = 362\n") == 2);
}
