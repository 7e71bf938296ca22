// `sheet`: text and PDF of every demo, and the lines a demo must reach.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <set>
#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;
using nlohmann::json;

TEST_CASE("sheet: every demo as text within 80 columns, every target in the JSON", "[cli]") {
    for (const std::string& name : demo_setups()) {
        CAPTURE(name);
        const Run text = run_line("hitchwright sheet " + name);
        REQUIRE(text.code == 0);
        for (const std::string& line : split_lines(text.out)) CHECK(line.size() <= 80);
        const json answer = json::parse(run_line("hitchwright sheet " + name + " --format json").out);
        for (const json& line : answer.at("lines")) CHECK(contains(unwrap(text.out), line.at("target").get<std::string>()));
    }
}

TEST_CASE("sheet: each line is reached by some demo", "[cli]") {
    std::set<std::string> reached;
    std::vector<std::string> runs;
    for (const std::string& name : demo_setups()) runs.push_back(name);
    for (const char* with : {"utility-cutter-fits --set coupler.fitted=true --set coupler.set_back=4in --set coupler.hook_height=24in --set coupler.pin_height=24in",
                             "utility-cutter-fits --set overrunning_clutch.fitted=true --set overrunning_clutch.added_length=4in"})
        runs.emplace_back(with);
    for (const std::string& run : runs) {
        const json answer = json::parse(run_line("hitchwright sheet --format json " + run).out);
        for (const json& line : answer.at("lines")) reached.insert(line.at("line").get<std::string>());
    }
    for (const char* word :
         {"manuals", "floor_and_tyres", "category_and_pins", "pto", "safe_state", "stands", "lower_links", "upper_link_pin", "mast_pin", "upper_link_length", "coupler",
          "drawbar_away", "sway", "side_to_side", "front_to_rear", "working_height", "wheels", "lever_stops", "ball_heights", "nothing_touches", "transport_height",
          "tyre_gap", "shortest", "longest", "closed_length", "cut", "gap", "overlap", "joint_angles", "yokes", "guards", "overrunning_clutch", "clutch_or_bolt",
          "drawbar_length", "drawbar_height", "drawbar_drop", "hitch_pin", "input_height", "turn_left", "turn_right", "ditch", "lift", "vertical_load", "front_axle",
          "ballast", "oil_and_fasteners", "first_run", "recheck", "operator", "recheck_when"}) {
        CAPTURE(word);
        CHECK(reached.count(word) == 1);
    }
}

TEST_CASE("sheet: two pages and the drawing hold every demo but the one with a dozen lines of its own", "[cli]") {
    const WorkingFolder folder;
    for (const std::string& name : demo_setups()) {
        for (const char* paper : {"letter", "a4"}) {
            const Run run = run_line("hitchwright sheet " + name + " -o sheet.pdf --format json --paper " + paper);
            CAPTURE(name, paper, run.err);
            REQUIRE(run.code == 0);
            CHECK(json::parse(run.out).at("pages") <= (name == "utility-cutter-sheet" ? 4 : 3));
        }
    }
}

TEST_CASE("sheet: a PDF is written whole, and what is no PDF is refused", "[cli]") {
    const WorkingFolder folder;
    for (const char* paper : {"letter", "a4"}) {
        const Run run = run_line(std::string("hitchwright sheet compact-tiller-bottoms-out -o sheet.pdf --paper ") + paper);
        CAPTURE(run.err);
        REQUIRE(run.code == 0);
        CHECK(read_file(folder.path() / "sheet.pdf").starts_with("%PDF-"));
    }
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out -o sheet.svg").code == 2);
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out --paper a4").code == 2);
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out -o nowhere/sheet.pdf").code == 4);
    CHECK(run_line("hitchwright sheet").code == 2);
}
