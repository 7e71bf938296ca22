// `drawbar`, `ditch`, `envelope`: what they answer, and what they make of values that cannot be.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <string>
#include <vector>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

const std::string demo = "utility-drawn-cutter-fits", short_demo = "utility-drawn-cutter-short";

bool has_no_wild_number(const std::string& text) {
    for (const char* wild : {"nan", "inf ", "-0.0 ", "1e+30"}) {
        if (contains(text, wild)) return false;
    }
    return true;
}

}  // namespace

TEST_CASE("ditch: values that cannot be end with exit code 3, key, what was read and what is allowed", "[cli]") {
    struct Case {
        std::string options, key, read;
    };
    const std::vector<Case> cases = {{"--depth -200in", "choices.ditch.depth", "-200in"},
                                     {"--depth nan", "choices.ditch.depth", "nan"},
                                     {"--depth inf", "choices.ditch.depth", "inf"},
                                     {"--depth 1e999", "choices.ditch.depth", "1e999"},
                                     {"--bottom-width -3in", "choices.ditch.bottom_width", "-3in"},
                                     {"--side-slope 90", "choices.ditch.side_slope", "90"},
                                     {"--side-slope 95deg", "choices.ditch.side_slope", "95deg"},
                                     {"--side-slope -5deg", "choices.ditch.side_slope", "-5deg"},
                                     {"--crossing-angle 0", "choices.ditch.crossing_angle", "0"},
                                     {"--crossing-angle 181", "choices.ditch.crossing_angle", "181"},
                                     {"--crossing-angle abc", "choices.ditch.crossing_angle", "abc"}};
    for (const Case& c : cases) {
        const Run run = run_line("hitchwright ditch " + demo + " " + c.options);
        CAPTURE(c.options, run.err);
        CHECK(run.code == 3);
        CHECK(run.out.empty());
        CHECK(contains(run.err, c.key));
        CHECK(contains(run.err, "read: \"" + c.read + "\""));
        CHECK(contains(run.err, "allowed: "));
    }
    CHECK(contains(run_line("hitchwright ditch " + demo + " --crossing-angle abc").err, "this is not an angle"));
    CHECK(run_line("hitchwright ditch " + demo + " --depth").code == 2);
    CHECK(run_line("hitchwright ditch " + demo + " --side-slope 20deg --side-slope 30deg").code == 2);
    CHECK(run_line("hitchwright ditch").code == 2);
}

TEST_CASE("ditch: odd but possible grounds are answered with numbers", "[cli]") {
    for (const char* options :
         {"--crossing-angle 91", "--crossing-angle 5", "--crossing-angle 175", "--side-slope 80", "--bottom-width 0",
          "--depth 0", "--depth 118in --side-slope 60", "--depth -118in --side-slope 20", "--bottom-width 1180in"}) {
        const Run run = run_line("hitchwright ditch " + demo + " " + options);
        CAPTURE(options, run.out, run.err);
        CHECK((run.code == 0 || run.code == 1));
        CHECK(run.err.empty());
        CHECK(has_no_wild_number(run.out));
    }
}

TEST_CASE("ditch: measures that make no ground, and wheels that are not known, are named with exit code 5, in fit too",
          "[cli]") {
    for (const char* key : {"choices.ditch.side_slope", "tractor.tyre.front_track", "tractor.mass.wheelbase",
                            "implement.ground_contact[wheels].half_track"}) {
        const Run ditch = run_line("hitchwright ditch " + demo + " --set " + key + "=");
        CAPTURE(key, ditch.out, ditch.err);
        CHECK(ditch.code == 5);
        CHECK(contains(ditch.out, "NOT KNOWN  Ditch"));
        CHECK(contains(unwrap(ditch.out), key));
        const Run fit = run_line("hitchwright fit " + demo + " --set " + key + "=");
        CHECK(fit.code == 5);
        CHECK(contains(unwrap(fit.out), key));
    }
    const Run flat = run_line("hitchwright ditch " + demo + " --side-slope 0");
    CHECK(flat.code == 5);
    CHECK(contains(flat.out, "its measures make no ground"));
    CHECK(contains(unwrap(flat.out), "choices.ditch.side_slope"));
    const Run none = run_line("hitchwright ditch " + demo + " --set choices.ditch.depth=");
    CHECK(none.code == 5);
    CHECK(contains(none.out, "No ditch is given"));
}

TEST_CASE("ditch: does not pass while the shaft is not known", "[cli]") {
    const Run run = run_line("hitchwright ditch " + demo + " --set driveline.shaft.closed_length=");
    CHECK(run.code == 5);
    CHECK(contains(run.out, "whether the shaft serves is not known"));
}

TEST_CASE("ditch: crossed at more than 90 deg the angle that passes is that of the mirrored crossing",
          "[cli][metamorphic]") {
    // At 60 and at 120 deg the same wheels come to the same ground, left and right exchanged.
    const std::string ditch = "hitchwright ditch " + demo + " --depth 30in --side-slope 40deg";
    const nlohmann::json sharp = nlohmann::json::parse(run_line(ditch + " --crossing-angle 60 --format json").out);
    const nlohmann::json blunt = nlohmann::json::parse(run_line(ditch + " --crossing-angle 120 --format json").out);
    const double angle = sharp.at("angle").at("value_deg");
    REQUIRE(angle < 89.0);
    CHECK(std::fabs(180.0 - angle - blunt.at("angle").at("value_deg").get<double>()) < 0.2);
    const std::string text = run_line(ditch + " --crossing-angle 120").out;
    CAPTURE(text);
    CHECK_FALSE(contains(text, "Square on"));
    CHECK(contains(unwrap(text), "as the set-up counts it), or flatter, it passes."));
    // Said true: square on it does not pass.
    CHECK(run_line(ditch + " --crossing-angle 90").code == 1);
}

TEST_CASE("ditch: what is said to pass passes, and what lies a little beyond does not", "[cli][metamorphic]") {
    const nlohmann::json j = nlohmann::json::parse(run_line("hitchwright ditch " + short_demo + " --format json").out);
    REQUIRE_FALSE(j.at("passes").get<bool>());
    const double angle = j.at("angle").at("value_deg"), depth = 14.0 * j.at("depth_share").at("value").get<double>();
    const auto code = [](const std::string& options) {
        return run_line("hitchwright ditch " + short_demo + " " + options).code;
    };
    CHECK(code("--crossing-angle " + std::to_string(angle)) == 0);
    CHECK(code("--crossing-angle " + std::to_string(angle + 0.3)) == 1);
    CHECK(code("--depth " + std::to_string(depth) + "in") == 0);
    CHECK(code("--depth " + std::to_string(depth + 0.05) + "in") == 1);
    for (const auto& pin : j.at("positions_that_pass"))
        CHECK(code("--set choices.drawbar_pin=" + pin.get<std::string>()) == 0);
    CHECK(j.at("positions_that_pass").size() == 2);
}

TEST_CASE("ditch: ground by points is measured from their own zero", "[cli]") {
    WorkingFolder folder;
    write_file(
        "points.toml",
        "kind = \"setup\"\nversion = 1\nunit = \"in\"\nname = \"points\"\nrules = \"drawn-machine\"\n[tractor]\nuse = "
        "\"utility\"\n"
        "[implement]\nuse = \"drawn-cutter-10\"\n[driveline]\nuse = \"shaft-31\"\n[choices]\ndrawbar_pin = \"short\"\n"
        "[[choices.ditch_point]]\nname = \"a\"\nx = 100\nz = 0\n[[choices.ditch_point]]\nname = \"b\"\nx = 130\nz = "
        "-20\n"
        "[[choices.ditch_point]]\nname = \"c\"\nx = 160\nz = 0\n");
    const Run run = run_line("hitchwright ditch points.toml");
    CAPTURE(run.out, run.err);
    CHECK((run.code == 0 || run.code == 1));
    CHECK_FALSE(contains(unwrap(run.out), "middle of the ditch"));
    CHECK(contains(unwrap(run.out), "x = 0 of the points"));
}

TEST_CASE("drawbar, ditch, envelope: a mounted set-up is answered kindly with exit code 5", "[cli]") {
    for (const char* command : {"drawbar", "ditch", "envelope"}) {
        const Run run = run_line(std::string("hitchwright ") + command + " compact-tiller-bottoms-out");
        CAPTURE(command, run.out);
        CHECK(run.code == 5);
        CHECK(run.err.empty());
        CHECK(contains(run.out, "mounted"));
        CHECK(contains(run.out, "hitchwright "));  // what to ask instead
        const Run json = run_line(std::string("hitchwright ") + command + " compact-tiller-bottoms-out --format json");
        CHECK(json.code == 5);
        CHECK(nlohmann::json::parse(json.out).is_object());
    }
}

TEST_CASE("drawbar: the first choice's exit code, also where no position carries the load or no shaft is known",
          "[cli]") {
    CHECK(run_line("hitchwright drawbar " + short_demo).code == 0);
    const Run heavy = run_line("hitchwright drawbar " + demo + " --set implement.drawn.vertical_load=3000lb");
    CHECK(heavy.code == 1);
    CHECK(contains(heavy.out, "NO POSITION CARRIES THE VERTICAL LOAD"));
    CHECK(run_line("hitchwright drawbar " + demo + " --set driveline.shaft.closed_length=").code == 5);
    const Run nowhere = run_line("hitchwright drawbar " + demo + " --set tractor.pto.stub_x=");
    CHECK(nowhere.code == 5);
    CHECK(contains(nowhere.out, "tractor.pto.stub_x"));
    CHECK(run_line("hitchwright drawbar " + demo + " --set \"tractor.drawbar_pin[middle].length=-3in\"").code == 3);
    CHECK(run_line("hitchwright drawbar " + demo + " --set \"tractor.drawbar_pin[middle].length=nan\"").code == 3);
    CHECK(run_line("hitchwright drawbar " + demo + " --mark 0").code == 2);
}

TEST_CASE("drawbar: a load the middle position does not carry puts a shorter one first", "[cli]") {
    const nlohmann::json j = nlohmann::json::parse(
        run_line("hitchwright drawbar " + demo + " --set implement.drawn.vertical_load=1900lb --format json").out);
    CHECK(j.at("positions").at(0).at("position") == "short");  // 2000 lb; the others carry 1750 and 1500
}

TEST_CASE("envelope: steps outside what is possible are refused, its help says its own", "[cli]") {
    for (const char* steps : {"1", "0", "-3", "202", "abc", "nan", "2.5"}) {
        const Run run = run_line("hitchwright envelope " + demo + " --format csv --steps " + steps);
        CAPTURE(steps, run.err);
        CHECK(run.code == 2);
        CHECK(contains(run.err, "--steps"));
    }
    CHECK(split_lines(run_line("hitchwright envelope " + demo + " --format csv --steps 2").out).size() == 5);
    CHECK(split_lines(run_line("hitchwright envelope " + demo + " --format csv").out).size() == 31 * 31 + 1);
    CHECK(contains(unwrap(run_line("hitchwright envelope --help").out),
                   "values each way in csv and json: 2 to 201; default 31"));
    CHECK(run_line("hitchwright envelope " + demo + " --set driveline.shaft.closed_length=").code == 5);
    CHECK(run_line("hitchwright envelope " + demo + " --set tractor.pto.stub_x=").code == 5);
}

TEST_CASE("fit: what would stop a turn later is told in the order it comes", "[cli]") {
    const std::string text = unwrap(run_line("hitchwright fit " + demo).out);
    const std::size_t turn = text.find("Turn to the left stops at"), gap = text.find("has too little gap left", turn),
                      tyre = text.find("a tyre meets", turn);
    REQUIRE((turn != std::string::npos && gap != std::string::npos && tyre != std::string::npos));
    const nlohmann::json stops = nlohmann::json::parse(run_line("hitchwright fit " + demo + " --format json").out)
                                     .at("drawn")
                                     .at("turns")
                                     .at(0)
                                     .at("stops");
    double before = 0.0;
    for (const auto& stop : stops) {
        CHECK(stop.at("turn_deg").get<double>() >= before);
        before = stop.at("turn_deg");
    }
    CHECK(stops.at(1).at("kind") == "bottoming");
    CHECK(gap < tyre);
}

TEST_CASE("fit: another position of the drawbar is one step, without the caution of a cut", "[cli]") {
    const nlohmann::json j = nlohmann::json::parse(run_line("hitchwright fit " + short_demo + " --format json").out);
    int positions = 0;
    for (const auto& step : j.at("steps")) {
        const std::string text = step.get<std::string>();
        if (!contains(text, "Put the drawbar's pin in position")) continue;
        ++positions;
        CHECK_FALSE(contains(text, "direct reading"));
    }
    CHECK(positions == 1);
}

TEST_CASE("fit: findings that want another position are given one that puts all of them right", "[cli]") {
    // Middle carries 500 lb here: the gap wants middle or long, the load wants long.
    const Run run = run_line("hitchwright fit " + short_demo +
                             " --format json --set \"tractor.drawbar_pin[short].vertical_load_most=500lb\""
                             " --set \"tractor.drawbar_pin[middle].vertical_load_most=500lb\"");
    const nlohmann::json j = nlohmann::json::parse(run.out);
    std::string all;
    for (const auto& step : j.at("steps")) all += step.get<std::string>() + "\n";
    CAPTURE(all);
    CHECK(contains(all, "position long"));
    CHECK_FALSE(contains(all, "position middle"));
}

TEST_CASE("draw --view ditch: the machine in the ditch, and what is missing for it", "[cli]") {
    const WorkingFolder folder;
    const std::string file = "ditch.svg";
    const Run done = run({"draw", short_demo, "--view", "ditch", "-o", file});
    CHECK(done.code == 0);
    const std::string svg = read_file(file);
    CHECK(contains(svg, "where the shaft is shortest: a limit is broken there"));
    CHECK(contains(svg, "joint to joint 31 3/4 in"));
    const Run passing = run({"draw", demo, "--view", "ditch", "-o", file});
    CHECK(passing.code == 0);
    CHECK_FALSE(contains(read_file(file), "a limit is broken"));
    const Run none = run({"draw", "utility-auger-separates", "--view", "ditch", "-o", file});
    CHECK(none.code == 2);
    CHECK(contains(none.err, "names no ditch"));
    CHECK(run({"draw", "utility-cutter-fits", "--view", "ditch", "-o", file}).code == 2);
}

TEST_CASE("direct readings at heights of the lift are refused beside a drawn implement", "[cli]") {
    const WorkingFolder folder;
    const std::string file = "s.toml";
    write_file(file, "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"utility\"\n[implement]\nuse = \"drawn-cutter-10\"\n"
                     "[[direct_reading]]\nball_height = 10\ndistance = 40\nreference = \"locking_grooves\"\n");
    const Run refused = run({"fit", file});
    CHECK(refused.code == 3);
    CHECK(contains(refused.err, "direct_reading[1].distance"));
}
