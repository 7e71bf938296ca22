// measure: the card in all its forms, and what is refused.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <set>
#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;

TEST_CASE("measure: each demo set-up has a card, with its preset values and their origin", "[cli]") {
    for (const std::string& name : demo_setups()) {
        CAPTURE(name);
        const Run result = run({"measure", name});
        CHECK(result.code == 0);
        CHECK(result.err.empty());
        CHECK(contains(result.out, ", preset]"));
        const bool drawn = contains(read_file(std::string(HITCHWRIGHT_SOURCE_DIR) + "/presets/setups/" + name + ".toml"), "drawbar_pin");
        CHECK(contains(result.out, "tractor.lower_link.pivot_x") != drawn);
        CHECK(contains(result.out, "tractor.drawbar.top_height") == drawn);
        CHECK(contains(result.out, "Never get under an implement held up by hydraulics alone"));
        CHECK_FALSE(contains(run({"measure", name, "--blank"}).out, "preset]"));
    }
}

TEST_CASE("measure: a blade has no shaft on its card", "[cli]") {
    for (const std::vector<std::string>& args :
         {std::vector<std::string>{"measure", "compact-box-blade"}, {"measure", "--kind", "mounted-blade"}}) {
        const Run result = run(args);
        CHECK(result.code == 0);
        for (const char* word : {"tractor.pto", "implement.pic", "driveline.", "Shaft, on the bench"}) {
            CAPTURE(word);
            CHECK_FALSE(contains(result.out, word));
        }
    }
    CHECK(contains(run({"measure", "--kind", "mounted-pto"}).out, "Shaft, on the bench"));
}

TEST_CASE("measure: a drawn implement has a drawbar on its card and nothing of the three-point linkage", "[cli]") {
    for (const std::vector<std::string>& args :
         {std::vector<std::string>{"measure", "utility-drawn-cutter-fits"}, {"measure", "--kind", "drawn-pto"}}) {
        const Run result = run(args);
        CHECK(result.code == 0);
        for (const char* word : {"lower_link", "upper_link", "lift_", "travel.", "mast", "category", "cab_line", "ball_height", "ball_reading",
                                 "direct_reading", "lower pins", "out_of_the_way"}) {
            CAPTURE(word);
            CHECK_FALSE(contains(result.out, word));
        }
        for (const char* word : {"tractor.drawbar_pin[", "tractor.drawbar.top_height", "implement.pic.x", "implement.tongue_bar[", "half_track",
                                 "driveline.shaft.closed_length", "choices.turn_left_most", "choices.ditch.depth", "tractor.mass.wheelbase",
                                 "centre of the hitch pin to the end of the input shaft", "Wheels chocked and the tongue on its jack"}) {
            CAPTURE(word);
            CHECK(contains(unwrap(result.out), word));
        }
    }
    // The pin stands in the way: without its position nothing follows.
    CHECK(contains(unwrap(run({"measure", "utility-drawn-cutter-fits", "--set", "choices.drawbar_pin="}).out), "NEEDED name of the drawbar position"));
    CHECK(contains(run({"measure", "utility-drawn-cutter-fits"}).out, "has a value"));
}

TEST_CASE("measure: of a drawn set-up every key can be typed behind --set, and CSV, JSON and text have the same", "[cli]") {
    const std::vector<std::string> base = {"measure", "utility-drawn-cutter-fits", "--format"};
    std::vector<std::string> args = base;
    args.push_back("json");
    const nlohmann::json json = nlohmann::json::parse(run(args).out);
    args.back() = "csv";
    const std::vector<std::string> csv = split_lines(run(args).out);
    const std::string text = run({"measure", "utility-drawn-cutter-fits"}).out;
    REQUIRE(csv.size() == json.at("readings").size() + 1);
    std::set<std::string> stations;
    std::size_t tried = 0;
    for (std::size_t i = 0; i + 1 < csv.size(); ++i) {
        const nlohmann::json& reading = json.at("readings").at(i);
        const std::string key = reading.at("key"), unit = reading.at("unit");
        stations.insert(reading.at("station").get<std::string>());
        CAPTURE(key);
        CHECK(contains(csv[i + 1], "," + key + ","));
        CHECK(contains(text, key + "\n"));
        if (reading.at("value").is_null()) continue;
        const std::string set = key + "=" + std::to_string(reading.at("value").get<double>()) + " " + unit;
        CHECK(run({"measure", "utility-drawn-cutter-fits", "--set", set}).code == 0);
        ++tried;
    }
    CHECK(tried > 45);
    CHECK(stations == std::set<std::string>{"rear_axle", "pto", "drawbar", "front_axle", "hitch_joint", "input", "tongue", "contacts", "shaft", "way"});
}

TEST_CASE("measure: a reading that is taken away is marked as needed first", "[cli]") {
    const Run result = run({"measure", "compact-tiller-bottoms-out", "--set", "tractor.lower_link.length=", "--set", "tractor.pto.stub_z="});
    CHECK(result.code == 0);
    CHECK(contains(result.out, "Needed first: 8, 45."));
    CHECK(contains(unwrap(result.out), "8 NEEDED lower link: front pin centre to ball centre"));
    CHECK(contains(unwrap(result.out), "45 NEEDED floor to the centre of the PTO stub"));
    CHECK(contains(run({"measure", "compact-tiller-bottoms-out"}).out, "has a value"));
}

TEST_CASE("measure: text, JSON and CSV have the same keys", "[cli]") {
    const std::vector<std::string> base = {"measure", "compact-tiller-bottoms-out", "--format"};
    std::vector<std::string> args = base;
    args.push_back("json");
    const nlohmann::json json = nlohmann::json::parse(run(args).out);
    CHECK(json.at("schema") == "hitchwright.measuring_card");
    args.back() = "csv";
    const std::vector<std::string> csv = split_lines(run(args).out);
    const std::string text = run({"measure", "compact-tiller-bottoms-out"}).out;
    REQUIRE(csv.size() == json.at("readings").size() + 1);
    CHECK(csv.front() == "number,station,key,from_to,needed,missing,unit,allowed,usual_error,value,text,origin");
    std::set<std::string> keys;
    for (std::size_t i = 1; i < csv.size(); ++i) {
        const nlohmann::json& reading = json.at("readings").at(i - 1);
        const std::string key = reading.at("key");
        CAPTURE(key);
        keys.insert(key);
        CHECK(reading.at("number") == static_cast<int>(i));
        CHECK(contains(csv[i], "," + key + ","));
        CHECK(contains(text, key + "\n"));
    }
    CHECK(keys.size() == csv.size() - 1);
    // 21 in of the preset, 1/8 in usual error; JSON in mm whatever --units says.
    const nlohmann::json& first = json.at("readings").at(0);
    CHECK(first.at("key") == "tractor.tyre.rear_radius");
    CHECK(std::fabs(first.at("value").get<double>() - 533.4) < 1e-9);
    CHECK(std::fabs(first.at("usual_error").get<double>() - 3.175) < 1e-9);
    CHECK(first.at("unit") == "mm");
    CHECK(first.at("origin") == "preset");
}

TEST_CASE("measure: every key of a card can be typed behind --set", "[cli]") {
    const nlohmann::json json = nlohmann::json::parse(run({"measure", "compact-tiller-bottoms-out", "--format", "json"}).out);
    std::size_t tried = 0;
    for (const nlohmann::json& reading : json.at("readings")) {
        if (reading.at("value").is_null()) continue;
        const std::string unit = reading.at("unit"), key = reading.at("key");
        const std::string set = key + "=" + std::to_string(reading.at("value").get<double>()) + " " + unit;
        CAPTURE(set);
        CHECK(run({"measure", "compact-tiller-bottoms-out", "--set", set}).code == 0);
        ++tried;
    }
    CHECK(tried > 60);
}

TEST_CASE("measure: a PDF of several pages, and what cannot be written is named", "[cli]") {
    const WorkingFolder folder;
    const Run result = run({"measure", "compact-tiller-bottoms-out", "-o", "card.pdf", "--paper", "a4"});
    CHECK(result.code == 0);
    CHECK(contains(result.out, "Written: card.pdf, "));
    CHECK(read_file("card.pdf").starts_with("%PDF-"));
    const nlohmann::json json = nlohmann::json::parse(run({"measure", "compact-box-blade", "-o", "c.PDF", "--format", "json"}).out);
    CHECK(json.at("file") == "c.PDF");
    const nlohmann::json html = nlohmann::json::parse(run({"measure", "compact-box-blade", "-o", "c.html", "--format", "json"}).out);
    CHECK(html.at("pages") == json.at("pages"));
    CHECK(read_file("c.html").starts_with("<!DOCTYPE html>"));
    CHECK(json.at("pages") >= 3);
    for (const char* name : {"no/such/x.pdf", "card.pdf/x.pdf"}) {
        CAPTURE(name);
        const Run refused = run({"measure", "--kind", "mounted-pto", "-o", name});
        CHECK(refused.code == 4);
        CHECK(refused.out.empty());
        CHECK(contains(unwrap(refused.err), name));
    }
}

TEST_CASE("measure: what makes no sense is refused with what is allowed", "[cli]") {
    const WorkingFolder folder;
    const struct {
        std::vector<std::string> args;
        int code;
        const char* says;
    } cases[] = {
        {{"measure"}, 2, "give a SETUP, or --kind"},
        {{"measure", "compact-box-blade", "--kind", "mounted-pto"}, 2, "give one of the two"},
        {{"measure", "--kind", "mounted"}, 2, "mounted-pto"},
        {{"measure", "--kind", "drawn"}, 2, "drawn-pto"},
        {{"measure", "--kind", ""}, 2, "drawn-pto"},
        {{"measure", "--kind", "drawn-pto\x1b[2J"}, 2, "drawn-pto"},
        {{"measure", "--kind", "drawn-pto", "--kind", "drawn-pto"}, 2, "once is allowed"},
        {{"measure", "utility-drawn-cutter-fits", "--kind", "drawn-pto"}, 2, "give one of the two"},
        {{"measure", "utility-drawn-cutter-fits", "--set", "choices.drawbar_pin=shrt"}, 3, "the drawbar has no position of that name"},
        {{"measure", "utility-drawn-cutter-fits", "--set", "tractor.drawbar_pin[short].length=9 miles"}, 3, "length"},
        {{"measure", "--kind", "mounted-pto", "--set", "tractor.pto.stub_z=1in"}, 2, "there is no SETUP"},
        {{"measure", "--kind", "mounted-pto", "-o", "x.svg"}, 2, "ending in .pdf"},
        {{"measure", "--kind", "mounted-pto", "-o", ".pdf"}, 2, "ending in .pdf"},
        {{"measure", "--kind", "mounted-pto", "-o", ""}, 2, "ending in .pdf"},
        {{"measure", "--kind", "mounted-pto", "-o", "x.pdf", "--format", "csv"}, 2, "CSV"},
        {{"measure", "--kind", "mounted-pto", "--paper", "a4"}, 2, "-o FILE.pdf"},
        {{"measure", "--kind", "mounted-pto", "-o", "x.pdf", "--paper", "a5"}, 2, "letter"},
        {{"measure", "--kind", "mounted-pto", "--units", "furlong"}, 2, "in, mm"},
        {{"measure", "nosuch"}, 3, "nosuch"},
        {{"measure", "nosuch.toml"}, 3, "nosuch.toml"},
        {{"measure", "/"}, 3, "/"},
        {{"measure", "compact-box-blade", "--set", "tractor.pto.stub_z=nan"}, 3, "stub_z"},
        {{"measure", "compact-box-blade", "--set", "tractor.pto.stub_z=1e99in"}, 3, "stub_z"},
        {{"measure", "compact-box-blade", "--set", "tractor.\xff\xfe=1"}, 3, "--set"},
    };
    for (const auto& c : cases) {
        CAPTURE(show(c.args));
        const Run result = run(c.args);
        CHECK(result.code == c.code);
        CHECK(result.out.empty());
        CHECK(contains(unwrap(result.err), c.says));
    }
    CHECK_FALSE(std::filesystem::exists("x.pdf"));
}

TEST_CASE("measure: a set-up with a single reading is enough", "[cli]") {
    const WorkingFolder folder;
    write_file("mine.toml", "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\npto.stub_z = 21\n[implement]\n[implement.pic]\n");
    const Run result = run({"measure", "mine.toml"});
    CAPTURE(result.err);
    CHECK(result.code == 0);
    CHECK(contains(result.out, "[21 in, measured]"));
    CHECK(contains(result.out, "NEEDED"));
    CHECK(contains(result.out, "driveline.shaft.closed_length"));
}
