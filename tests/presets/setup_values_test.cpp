// A set-up as a flat list, and what differs between two. The second route to the readings is visit_readings.

#include <catch2/catch.hpp>

#include <map>
#include <random>
#include <string>

#include "geometry/visit_readings.h"
#include "presets/load_setup.h"
#include "presets/setup_values.h"

using namespace hitchwright;

namespace {

Setup load(const std::string& name, const std::vector<std::string>& sets = {}) {
    const LoadedSetup loaded = load_setup(name, Library{}, {sets, {}});
    for (const Problem& p : loaded.problems) UNSCOPED_INFO(format_problem(p));
    REQUIRE(loaded.ok());
    return loaded.setup;
}

std::vector<std::string> keys_of(const std::vector<ValueDifference>& differences) {
    std::vector<std::string> keys;
    for (const ValueDifference& d : differences) keys.push_back(d.key);
    return keys;
}

using Keys = std::vector<std::string>;

}  // namespace

TEST_CASE("setup values: every known reading of every demo is listed once, by its key", "[oracle]") {
    std::size_t compared = 0;
    for (const PresetEntry& entry : Library{}.list(FileKind::setup)) {
        CAPTURE(entry.key);
        Setup setup = load(entry.key);
        std::map<std::string, Reading> listed;
        for (const SetupValue& v : list_values(setup)) {
            if (!v.reading || !v.has_origin) continue;
            CHECK(listed.emplace(v.key, *v.reading).second);
        }
        std::map<std::string, Reading> known;
        visit_readings(setup, [&](const std::string& key, const Reading& r, const FieldSpec&) {
            if (r.known) known.emplace(key, r);
        });
        CHECK(listed == known);
        compared += known.size();
    }
    CHECK(compared >= 500);
}

TEST_CASE("setup values: a set-up differs from itself in nothing, and from another one there and back alike",
          "[metamorphic]") {
    const std::vector<PresetEntry> entries = Library{}.list(FileKind::setup);
    for (const PresetEntry& a : entries) {
        const Setup first = load(a.key);
        CHECK(compare_values(first, first).empty());
        for (const PresetEntry& b : entries) {
            if (a.key >= b.key) continue;
            CAPTURE(a.key, b.key);
            const Setup second = load(b.key);
            const auto there = compare_values(first, second), back = compare_values(second, first);
            CHECK_FALSE(there.empty());
            std::map<std::string, int> sum;
            for (const ValueDifference& d : there) ++sum[d.key];
            for (const ValueDifference& d : back) ++sum[d.key];
            for (const auto& [key, count] : sum) {
                CAPTURE(key);
                CHECK(count == 2);
            }
        }
    }
}

TEST_CASE("setup values: one --set changes one value, whatever its kind", "[metamorphic]") {
    const std::string name = "compact-tiller-bottoms-out";
    const Setup base = load(name);
    const auto differ = [&](const std::vector<std::string>& sets) {
        return keys_of(compare_values(base, load(name, sets)));
    };
    CHECK(differ({"choices.upper_link_pin=1"}) == Keys{"choices.upper_link_pin"});
    CHECK(differ({"tractor.pto.speeds_rpm=540,750"}) == Keys{"tractor.pto.speeds_rpm"});
    CHECK(differ({"tractor.upper_link_pin[2].z=31"}) == Keys{"tractor.upper_link_pin[2].z"});
    CHECK(differ({"choices.cut_tractor_half=3"}) == Keys{"choices.cut_tractor_half"});
    CHECK(differ({"choices.lift_stop="}) == Keys{"choices.lift_stop"});
    CHECK(differ({"name=Mine"}) == Keys{"name"});
    CHECK(differ({"overrunning_clutch.fitted=true", "overrunning_clutch.added_length=2 in"}) ==
          Keys{"overrunning_clutch.fitted", "overrunning_clutch.added_length"});
    CHECK(differ({"driveline.use=none"}).front() == "driveline.use");
    const Keys rules = differ({"rules=close"});
    REQUIRE(rules.size() >= 2);
    CHECK(rules.front() == "rules");
    CHECK(rules.back().starts_with("rules."));
}

TEST_CASE("setup values: lengths are the same in any unit, error and origin count", "[metamorphic]") {
    const std::string name = "compact-tiller-bottoms-out";
    const auto differ = [&](const std::string& a, const std::string& b) {
        return compare_values(load(name, {a}), load(name, {b})).size();
    };
    const unsigned seed = 20260311;
    CAPTURE(seed);
    std::mt19937 random(seed);
    for (int i = 0; i < 300; ++i) {
        const int sixteenths = 80 + static_cast<int>(random() % 320);
        const std::string inches = "tractor.pto.stub_x=" + std::to_string(sixteenths) + "/16 in";
        // A sixteenth of an inch is 1.5875 mm.
        const long tenths_of_um = sixteenths * 15875L;
        const std::string digits = std::to_string(tenths_of_um % 10000 + 10000).substr(1);
        const std::string millimetres =
            "tractor.pto.stub_x=" + std::to_string(tenths_of_um / 10000) + "." + digits + " mm";
        CAPTURE(inches, millimetres);
        CHECK(differ(inches, millimetres) == 0);
        CHECK(differ(inches, millimetres.substr(0, millimetres.size() - 3) + "1 mm") == 1);
    }
    CHECK(differ("tractor.pto.stub_x=11 in", "tractor.pto.stub_x=11 in +- 1/2 in") == 1);
    // The preset's own 11 in are not measured.
    CHECK(compare_values(load(name), load(name, {"tractor.pto.stub_x=11 in"})).size() == 1);
}
