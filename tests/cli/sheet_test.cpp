// `sheet`: text and PDF of every demo, and the lines a demo must reach.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <set>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

#include "report/svg_writer.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;
using nlohmann::json;

TEST_CASE("sheet: every demo as text within 80 columns, every target in the JSON", "[cli]") {
    for (const std::string& name : demo_setups()) {
        CAPTURE(name);
        const Run text = run_line("hitchwright sheet " + name);
        REQUIRE(text.code == 0);
        for (const std::string& line : split_lines(text.out)) CHECK(line.size() <= 80);
        const json answer = json::parse(run_line("hitchwright sheet " + name + " --format json").out);
        for (const json& line : answer.at("lines"))
            CHECK(contains(unwrap(text.out), line.at("target").get<std::string>()));
    }
}

TEST_CASE("sheet: each line is reached by some demo", "[cli]") {
    std::set<std::string> reached;
    std::vector<std::string> runs;
    for (const std::string& name : demo_setups()) runs.push_back(name);
    for (const char* with :
         {"utility-cutter-fits --set coupler.fitted=true --set coupler.set_back=4in --set coupler.hook_height=24in "
          "--set coupler.pin_height=24in",
          "utility-cutter-fits --set overrunning_clutch.fitted=true --set overrunning_clutch.added_length=4in"})
        runs.emplace_back(with);
    for (const std::string& run : runs) {
        const json answer = json::parse(run_line("hitchwright sheet --format json " + run).out);
        for (const json& line : answer.at("lines")) reached.insert(line.at("line").get<std::string>());
    }
    for (const char* word : {"manuals",
                             "floor_and_tyres",
                             "category_and_pins",
                             "pto",
                             "safe_state",
                             "stands",
                             "lower_links",
                             "upper_link_pin",
                             "mast_pin",
                             "upper_link_length",
                             "coupler",
                             "drawbar_away",
                             "sway",
                             "side_to_side",
                             "front_to_rear",
                             "working_height",
                             "wheels",
                             "lever_stops",
                             "ball_heights",
                             "nothing_touches",
                             "transport_height",
                             "tyre_gap",
                             "shortest",
                             "longest",
                             "closed_length",
                             "cut",
                             "gap",
                             "overlap",
                             "joint_angles",
                             "yokes",
                             "guards",
                             "overrunning_clutch",
                             "clutch_or_bolt",
                             "drawbar_length",
                             "drawbar_height",
                             "drawbar_drop",
                             "hitch_pin",
                             "input_height",
                             "turn_left",
                             "turn_right",
                             "ditch",
                             "lift",
                             "vertical_load",
                             "front_axle",
                             "ballast",
                             "oil_and_fasteners",
                             "first_run",
                             "recheck",
                             "operator",
                             "recheck_when"}) {
        CAPTURE(word);
        CHECK(reached.count(word) == 1);
    }
}

namespace {

json sheet_of(const std::string& what) {
    const Run run = run_line("hitchwright sheet --format json " + what);
    CAPTURE(run.err);
    REQUIRE(run.code == 0);
    return json::parse(run.out);
}

std::string target_of(const json& sheet, const std::string& word) {
    for (const json& line : sheet.at("lines")) {
        if (line.at("line") == word) return line.at("target");
    }
    return "no such line";
}

}  // namespace

TEST_CASE("sheet: targets are those after the steps, never the state that was judged bad", "[cli]") {
    // The way out is another position of the pin: that is the target, and nothing is cut.
    const json drawn = sheet_of("utility-drawn-cutter-short");
    CHECK(contains(drawn.at("after").get<std::string>(), "position middle"));
    CHECK(target_of(drawn, "drawbar_length") == "14 in");
    CHECK(drawn.at("cut").empty());
    CHECK(target_of(drawn, "cut") == "no such line");
    // A lift stop: set, and the travel and the joints taken with it.
    const json flail = sheet_of("compact-flail-angle");
    CHECK(contains(target_of(flail, "lever_stops"), "30 7/16 in or lower"));
    CHECK(contains(target_of(flail, "ball_heights"), "30 1/2 in"));
    CHECK_FALSE(contains(target_of(flail, "joint_angles"), "51.1"));
    // Ballast: the front axle with it.
    const json light = sheet_of("sub-compact-cutter-front-light");
    CHECK(contains(light.at("after").get<std::string>(), "in front"));
    CHECK(contains(target_of(light, "front_axle"), "20.0 %"));
    // A machine that must not run has no first run.
    const json wrong = sheet_of("utility-flail-no-cut");
    const bool runs = target_of(wrong, "do_not_run") == "no such line";
    CHECK_FALSE(runs);
    CHECK(target_of(wrong, "first_run") == "no such line");
}

TEST_CASE("sheet: nothing is cut while readings contradict each other", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run_line("hitchwright presets copy compact-tiller-bottoms-out").code == 0);
    const std::string text = read_file("compact-tiller-bottoms-out.toml");
    write_file(
        "t.toml",
        text + "\n[[direct_reading]]\nname = \"low\"\nball_height = 8\ndistance = 40\nreference = \"joint_centres\"\n");
    const json sheet = sheet_of("t.toml");
    REQUIRE(sheet.at("verdict") == "not_known");
    CHECK(sheet.at("cut").empty());
    CHECK(target_of(sheet, "cut") == "no such line");
    CHECK(target_of(sheet, "closed_length") == "measure again first");
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

namespace {

/// Colours of an HTML document that are no grey.
std::vector<std::string> list_colours(const std::string& html) {
    std::vector<std::string> coloured;
    static const std::regex colour("\"#([0-9a-fA-F]{2})([0-9a-fA-F]{2})([0-9a-fA-F]{2})\"");
    for (auto at = std::sregex_iterator(html.begin(), html.end(), colour); at != std::sregex_iterator(); ++at)
        if ((*at)[1] != (*at)[2] || (*at)[2] != (*at)[3]) coloured.push_back(at->str());
    return coloured;
}

/// What stands in the texts of an HTML document, one after the other.
std::string join_texts(const std::string& html) {
    std::string joined;
    for (std::size_t at = html.find("<text"); at != std::string::npos; at = html.find("<text", at + 1)) {
        const std::size_t begin = html.find('>', at) + 1;
        joined += html.substr(begin, html.find("</text>", begin) - begin) + " ";
    }
    return joined;
}

}  // namespace

TEST_CASE("sheet: HTML has the pages of the PDF on the paper chosen, every target as text, and greys alone", "[cli]") {
    const WorkingFolder folder;
    for (const std::string& name : demo_setups()) {
        for (const std::string paper : {"letter", "a4"}) {
            CAPTURE(name, paper);
            const std::string line = "hitchwright sheet " + name + " --format json --paper " + paper + " -o sheet.";
            const json html = json::parse(run_line(line + "html").out), pdf = json::parse(run_line(line + "pdf").out);
            CHECK(html.at("pages") == pdf.at("pages"));
            const std::string text = read_file("sheet.html");
            CHECK(contains(text, paper == "a4" ? "size: 210mm 297mm" : "size: 215.9mm 279.4mm"));
            CHECK(contains(text, paper == "a4" ? "size: 297mm 210mm" : "size: 279.4mm 215.9mm"));
            CHECK_FALSE(contains(text, "<script"));
            CHECK(contains(text, "\"#"));
            CHECK(list_colours(text).empty());
        }
        const std::string said = join_texts(read_file("sheet.html"));
        const json sheet = sheet_of(name);
        for (const json& line : sheet.at("lines")) {
            // A long target is broken into several texts.
            std::istringstream target(line.at("target").get<std::string>());
            for (std::string word; target >> word;) CHECK(contains(said, escape_xml(word)));
        }
    }
}

TEST_CASE("sheet: a PDF is written whole, and what is neither PDF nor HTML is refused", "[cli]") {
    const WorkingFolder folder;
    for (const char* paper : {"letter", "a4"}) {
        const Run run =
            run_line(std::string("hitchwright sheet compact-tiller-bottoms-out -o sheet.pdf --paper ") + paper);
        CAPTURE(run.err);
        REQUIRE(run.code == 0);
        CHECK(read_file(folder.path() / "sheet.pdf").starts_with("%PDF-"));
    }
    for (const char* name : {"sheet.svg", "sheet.htm", ".html", "sheet.html.bak"}) {
        const Run refused = run_line(std::string("hitchwright sheet compact-tiller-bottoms-out -o ") + name);
        CAPTURE(name);
        CHECK(refused.code == 2);
        CHECK(contains(unwrap(refused.err), "allowed: a name ending in .pdf or .html"));
    }
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out --paper a4").code == 2);
    CHECK(run_line("hitchwright sheet compact-tiller-bottoms-out -o nowhere/sheet.pdf").code == 4);
    CHECK(run_line("hitchwright sheet").code == 2);
}
