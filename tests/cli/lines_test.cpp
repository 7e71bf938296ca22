// `lines`: exit codes, forms, what `fit` makes of the same lines, and what is refused.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;
using Json = nlohmann::json;

namespace {

const std::string demo = "hitchwright lines utility-cutter-sheet";

const std::string setup_text =
    "kind = \"setup\"\nversion = 1\nunit = \"in\"\nname = \"S\"\n[tractor]\nuse = \"utility\"\n[implement]\nuse = "
    "\"rotary-cutter-7\"\n"
    "[driveline]\nuse = \"shaft-43\"\n[choices]\nupper_link_pin = \"4\"\nmast_pin = \"1\"\nworking_band_low = "
    "9\nworking_band_high = 20\n";

/// A set-up of its own with these lines behind it.
void write_setup(const std::string& lines) { write_file("s.toml", setup_text + lines); }

std::string line_text(const std::string& figure, const std::string& measured, const std::string& more = "") {
    return "[[specification]]\nname = \"cable\"\nnominal = \"" + figure + "\"\n" +
           (measured.empty() ? "" : "measured = \"" + measured + "\"\n") + more;
}

Json lines_json(const std::string& line) { return Json::parse(run_line(line + " --format json").out); }

}  // namespace

TEST_CASE("lines: the demo has something out, something open, and comes out worst first", "[cli]") {
    const Run text = run_line(demo);
    CHECK(text.code == 1);
    for (const char* part : {"clutch-cable", "5/16 in long, 1/4 in beyond the band", "6 1/4 turns clockwise", "OUT",
                             "NOT MEASURED", "TOO CLOSE TO CALL"})
        CHECK(contains(unwrap(text.out), part));
    const Json json = lines_json(demo);
    CHECK(json["counts"]["out"] == 2);
    CHECK(json["counts"]["not_measured"] == 4);
    std::vector<std::string> order;
    for (const Json& l : json["lines"]) {
        if (order.empty() || order.back() != l["verdict"]) order.push_back(l["verdict"]);
    }
    CHECK(order == std::vector<std::string>{"out", "too_close_to_call", "not_measured", "in"});
}

TEST_CASE("lines: exit code 0 all in, 1 something out, 5 open, too close or none at all", "[cli]") {
    const WorkingFolder folder;
    const auto code = [](const std::string& lines) {
        write_setup(lines);
        return run_line("hitchwright lines s.toml").code;
    };
    CHECK(code(line_text("4 in +- 1/8 in", "4 in")) == 0);
    CHECK(code(line_text("4 in +- 1/8 in", "4 3/8 in")) == 1);
    CHECK(code(line_text("4 in +- 1/8 in", "4 1/8 in")) == 5);
    CHECK(code(line_text("4 in +- 1/8 in", "4 1/8 in +- 0 in")) == 0);
    CHECK(code(line_text("4 in +- 1/8 in", "4 3/16 in +- 0 in")) == 1);
    CHECK(code(line_text("4 in +- 1/8 in", "")) == 5);
    CHECK(code("") == 5);
    CHECK(contains(run_line("hitchwright lines s.toml").out, "No line to measure"));
    CHECK(run_line("hitchwright lines s.toml --list pto-driven-mower").code == 5);
    CHECK(run_line("hitchwright lines s.toml --list no-such-list").code == 3);
    CHECK(run_line("hitchwright lines").code == 2);
    CHECK(run_line("hitchwright lines s.toml --units furlong").code == 2);
}

TEST_CASE("lines: the cable, the drawbar and the rod of common practice, from files", "[practice]") {
    const WorkingFolder folder;
    write_setup(line_text("4 +- 1/8 in", "4 3/8 in"));
    const Json cable = lines_json("hitchwright lines s.toml")["lines"][0];
    CHECK(cable["verdict"] == "out");
    CHECK(cable["off"].get<double>() == Approx(9.525));
    CHECK(cable["beyond"].get<double>() == Approx(6.35));
    CHECK(contains(cable["text"], "3/8 in long, 1/4 in beyond the band"));
    CHECK(cable["measured_typed"] == "4 3/8 in");
    write_setup(line_text("14 in", "11 1/2 in"));
    CHECK(lines_json("hitchwright lines s.toml")["lines"][0]["correction"].get<double>() == Approx(63.5));
    write_setup(
        line_text("6 in +- 1/32 in", "5 13/16 in",
                  "adjuster = \"clevis\"\nadvance_per_turn = \"18 turns/in\"\nlengthens = \"counterclockwise\"\n"));
    const Json rod = lines_json("hitchwright lines s.toml")["lines"][0];
    CHECK(rod["turns"]["rounded"] == 3.375);
    CHECK(contains(rod["text"], "Lengthen by 3/16 in, to 6 in: clevis, 3 3/8 turns counterclockwise"));
}

TEST_CASE("lines: a drawn set-up has its drawbar without typing anything twice", "[cli]") {
    const Json json = lines_json("hitchwright lines utility-drawn-cutter-short");
    REQUIRE(json["lines"].size() == 3);
    CHECK(json["lines"][0]["name"] == "drawbar length");
    CHECK(json["lines"][0]["verdict"] == "out");
    CHECK(json["lines"][0]["generated"] == true);
    CHECK(lines_json(
              "hitchwright lines utility-drawn-cutter-short --set choices.drawbar_pin=middle")["lines"][0]["verdict"] ==
          "in");
}

TEST_CASE("fit: a line that is out is a condition, or forbids where it stops work, and open ones are counted",
          "[cli]") {
    const WorkingFolder folder;
    const auto fit = [](const std::string& lines) {
        write_setup(lines);
        return Json::parse(run_line("hitchwright fit s.toml --format json").out);
    };
    const auto severity = [](const Json& json, const std::string& kind) -> std::string {
        for (const Json& f : json["findings"]) {
            if (f["kind"] == kind) return f["severity"];
        }
        return "none";
    };
    const std::string stops = "stops_work = true\n";
    CHECK(fit("")["verdict"] == "fits");
    const Json in = fit(line_text("4 in +- 1/8 in", "4 in"));
    CHECK(in["verdict"] == "fits");
    CHECK(severity(in, "specification_line") == "none");
    const Json out = fit(line_text("4 in +- 1/8 in", "4 3/8 in"));
    CHECK(out["verdict"] == "fits");
    CHECK(severity(out, "specification_line") == "condition");
    CHECK(fit(line_text("4 in +- 1/8 in", "4 3/8 in", stops))["verdict"] == "must_not_run");
    CHECK(fit(line_text("4 in +- 1/8 in", "4 1/8 in", stops))["verdict"] == "too_close_to_call");
    CHECK(fit(line_text("4 in +- 1/8 in", "", stops))["verdict"] == "not_known");
    CHECK(fit(line_text("4 in +- 1/8 in", "4 in", stops))["verdict"] == "fits");
    const Json open = fit(line_text("4 in +- 1/8 in", ""));
    CHECK(severity(open, "specification_not_measured") == "watch");
    CHECK(contains(run_line("hitchwright fit s.toml").out, "1 line of the set-up sheet not measured: cable"));
}

TEST_CASE("lines: cautions end the report in every form that has words, and nothing takes them away", "[cli]") {
    for (const char* more : {"", " --units mm", " --list pto-driven-mower --set specification_lists=",
                             " --set \"specification[clutch-cable].measured=3 1/2in\""}) {
        CAPTURE(more);
        const Run text = run_line(demo + more);
        CHECK(contains(unwrap(text.out), "Engine off, key out, all at rest before you connect, measure, cut, grease."));
        CHECK(contains(unwrap(text.out), "the makers' manuals, local code and licensed practice decide"));
        CHECK(contains(run_line(demo + more + " --format json").out, "\"stop_before_touching\""));
    }
}

TEST_CASE("lines: units chooses the words, never what was typed", "[metamorphic]") {
    const Run mm = run_line(demo + " --units mm");
    CHECK(mm.code == 1);
    CHECK(contains(unwrap(mm.out),
                   "3 13/16 in +- 1/32 in measured for 3 1/2 in +- 1/16 in: 7.9 mm long, 6.4 mm beyond the band"));
    const Json a = lines_json(demo), b = lines_json(demo + " --units mm");
    REQUIRE(a["lines"].size() == b["lines"].size());
    for (std::size_t i = 0; i < a["lines"].size(); ++i) {
        for (const char* key : {"nominal", "low", "high", "measured", "off", "beyond", "correction", "nominal_typed",
                                "measured_typed", "verdict"})
            CHECK(a["lines"][i][key] == b["lines"][i][key]);
    }
}

TEST_CASE("lines: hostile files are refused with file, line and key, and steer no terminal", "[cli]") {
    const WorkingFolder folder;
    const auto refused = [](const std::string& lines, const std::string& part) {
        write_setup(lines);
        const Run result = run_line("hitchwright lines s.toml");
        CAPTURE(lines, result.err);
        CHECK(result.code == 3);
        CHECK(contains(unwrap(result.err), part));
        CHECK(contains(result.err, "s.toml"));
        CHECK(result.err.find('\x1b') == std::string::npos);
    };
    refused(line_text("4 cubits", "4 in"), "no unit of length");
    refused(line_text("4 in +- -1 in", "4 in"), "tolerance");
    refused(line_text("4 in +- 1/8 in", "4 psi"), "no unit of length");
    refused(line_text("4 in +- 1/8 in", "4 in", "at_most = 5\n"), "both a permitted deviation and a band");
    refused("[[specification]]\nname = \"x\"\nat_least = 5\nat_most = 4\n", "at_least is greater than at_most");
    refused("[[specification]]\nname = \"a\\u001b[31mb\"\nnominal = 4\n", "cannot be printed");
    refused("[[specification]]\nname = \"x\"\nmeasured = 4\n", "asks for nothing");
    std::string many;
    for (int i = 0; i < 200; ++i) many += "[[specification]]\nname = \"n" + std::to_string(i) + "\"\nnominal = 4\n";
    refused(many, "at most 64 items");
    CHECK(run_line("hitchwright lines utility-cutter-sheet --set \"specification[no such].measured=4\"").code == 3);
}

TEST_CASE("lines: names in other scripts are printed and found again by --set", "[cli]") {
    const WorkingFolder folder;
    const std::string name = "\xD1\x82\xD1\x80\xD0\xBE\xD1\x81 \xE9\xA9\xBB\xE8\xBD\xA6";
    write_setup("[[specification]]\nname = \"" + name + "\"\nnominal = \"4 in +- 1/8 in\"\n");
    CHECK(contains(run_line("hitchwright lines s.toml").out, name));
    CHECK(run({"lines", "s.toml", "--set", "specification[" + name + "].measured=4in"}).code == 0);
}
