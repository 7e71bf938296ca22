// Every caution that applies is in every form of the answer, whatever options are given.

#include <fmt/format.h>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <regex>
#include <string>
#include <vector>

#include "cli/command_table.h"
#include "report/caution_text.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const std::vector<Caution> shaft_cautions = {Caution::stop_before_touching, Caution::keep_from_turning_shaft,
                                             Caution::guards_complete,      Caution::parts_or_breaks,
                                             Caution::tug_both_ends,        Caution::nobody_between,
                                             Caution::never_under_raised,   Caution::manual_rules,
                                             Caution::rops_and_belt};

struct Case {
    std::string name;
    std::vector<Caution> cautions;  ///< what must be there
};

std::vector<Case> cases() {
    std::vector<Case> list = {{"compact-tiller-bottoms-out", shaft_cautions},
                              {"compact-flail-separates", shaft_cautions},
                              {"utility-cutter-fits", shaft_cautions},
                              {"compact-box-blade",
                               {Caution::stop_before_touching, Caution::nobody_between, Caution::never_under_raised,
                                Caution::manual_rules, Caution::rops_and_belt}}};
    list[0].cautions.insert(list[0].cautions.end(), {Caution::measure_before_cutting, Caution::pto_off_above_height});
    list[1].cautions.push_back(Caution::pto_off_above_height);
    list[2].cautions.push_back(Caution::pto_off_above_height);
    return list;
}

// All ways to ask that could hide something.
std::vector<std::vector<std::string>> option_sets() {
    std::vector<std::vector<std::string>> sets = {{},
                                                  {"--explain"},
                                                  {"--units", "mm"},
                                                  {"--mark", "1mm"},
                                                  {"--mark", "1/2in"},
                                                  {"--format", "text"},
                                                  {"--units", "mm", "--explain", "--mark", "1/4in"}};
    for (const char* rules :
         {"close", "general", "european-40mm", "long-overlap", "mounted-mower", "mounted-mower-wide-gap"})
        sets.push_back({"--rules", rules});
    return sets;
}

std::string without_colour(const std::string& text) {
    return std::regex_replace(text, std::regex("\x1b\\[[0-9;]*m"), "");
}

// Without the marks at line starts, so that a sentence over several lines is one again.
std::string sentences_of(const std::string& text) { return unwrap(without_colour(text)); }

// The texts of an SVG in the order of drawing.
std::string svg_words(const std::string& svg) {
    std::string words;
    const std::regex text("<text[^>]*>([^<]*)</text>");
    for (std::sregex_iterator at(svg.begin(), svg.end(), text), end; at != end; ++at) words += (*at)[1].str() + " ";
    return unwrap(std::regex_replace(words, std::regex("&apos;|&#39;"), "'"));
}

}  // namespace

TEST_CASE("cautions: those that apply are in the text of fit, whatever is asked", "[cli]") {
    for (const Case& each : cases()) {
        for (std::vector<std::string> args : option_sets()) {
            args.insert(args.begin(), {"fit", each.name});
            for (const bool terminal : {false, true}) {
                CAPTURE(show(args), terminal);
                const std::string text = sentences_of(run(args, {terminal, {}}).out);
                for (const Caution caution : each.cautions) {
                    // A condition depends on the rule set; the general ones do not.
                    const bool by_rule =
                        caution == Caution::pto_off_above_height || caution == Caution::measure_before_cutting;
                    if (by_rule && contains(show(args), "--rules")) continue;
                    CAPTURE(caution_word(caution));
                    CHECK(contains(text, std::string(caution_sentence(caution))));
                }
            }
        }
    }
}

TEST_CASE("cautions: a caution of a finding stands in the text at that finding", "[cli]") {
    for (const Case& each : cases()) {
        const nlohmann::json json = nlohmann::json::parse(run({"fit", each.name, "--format", "json"}).out);
        const std::string text = sentences_of(run({"fit", each.name}).out);
        std::size_t seen = 0;
        for (const auto& finding : json.at("findings")) {
            for (const auto& caution : finding.at("cautions")) {
                CAPTURE(each.name, finding.at("kind").dump(), caution.dump());
                CHECK(contains(text, caution.at("text").get<std::string>()));
                ++seen;
            }
        }
        CHECK(seen > 0);
    }
}

TEST_CASE("cautions: JSON and CSV carry them as words", "[cli]") {
    for (const Case& each : cases()) {
        CAPTURE(each.name);
        const std::string json = run({"fit", each.name, "--format", "json"}).out,
                          csv = run({"fit", each.name, "--format", "csv"}).out;
        for (const Caution caution : each.cautions) CHECK(contains(json, fmt::format("\"{}\"", caution_word(caution))));
        CHECK(contains(split_lines(csv).front(), "cautions"));
        const std::string cut = run({"cut", each.name, "--format", "json"}).out;
        if (each.name != "compact-box-blade") CHECK(contains(cut, "measure_before_cutting"));
    }
}

TEST_CASE("cautions: cut always ends in them, from a set-up and from numbers", "[cli]") {
    for (const char* line :
         {"hitchwright cut compact-tiller-bottoms-out", "hitchwright cut utility-cutter-fits",
          "hitchwright cut compact-flail-separates",
          "hitchwright cut --closed 43 --overlap 26 --shortest 38.875 --longest 46",
          "hitchwright cut --closed 43 --overlap 26 --shortest 50 --longest 55",
          "hitchwright cut --closed 43 --overlap 26 --shortest 30 --longest 55 --units in --mark 1mm --rules close",
          "hitchwright cut compact-tiller-bottoms-out --set tractor.pto.stub_x="}) {
        CAPTURE(line);
        const std::string text = sentences_of(run_line(line).out);
        for (const Caution caution : list_cutting_cautions())
            CHECK(contains(text, std::string(caution_sentence(caution))));
        CHECK(contains(text, std::string(caution_sentence(Caution::measure_before_cutting))));
    }
}

TEST_CASE("cautions: on the sweep and on every picture", "[cli]") {
    const WorkingFolder folder;
    for (const Case& each : cases()) {
        CAPTURE(each.name);
        CHECK(contains(sentences_of(run({"sweep", each.name}).out),
                       std::string(caution_sentence(Caution::stop_before_touching))));
        REQUIRE(run({"draw", each.name, "-o", "side.svg"}).code == 0);
        const std::string words = svg_words(read_file("side.svg"));
        for (const Caution caution : each.cautions) {
            if (caution == Caution::pto_off_above_height) continue;  // stands there as a condition with its height
            CAPTURE(caution_word(caution));
            CHECK(contains(words, std::string(caution_sentence(caution))));
        }
    }
}

TEST_CASE("cautions: no option is there to hide them", "[cli]") {
    for (const OptionSpec& option : option_specs()) {
        CAPTURE(std::string(option.name));
        for (const char* word : {"quiet", "caution", "brief", "short-", "silent", "no-", "warn"})
            CHECK_FALSE(contains(std::string(option.name), word));
    }
    for (const char* option : {"--quiet", "-q", "--no-cautions", "--brief"})
        CHECK(run({"fit", "utility-cutter-fits", option}).code == 2);
}
