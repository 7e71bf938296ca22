// `load`: what it answers in all forms, and what it makes of values that cannot be.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;
using nlohmann::json;

namespace {

const std::string demo = "utility-cutter-fits";

json ask(const std::string& options) {
    const Run run = run_line("hitchwright load " + demo + " --format json " + options);
    CAPTURE(run.err);
    REQUIRE(run.code <= 5);
    return json::parse(run.out);
}

}  // namespace

TEST_CASE("load: every demo answers in text, JSON and CSV, cautions included", "[cli]") {
    for (const std::string& name : demo_setups()) {
        CAPTURE(name);
        const Run text = run_line("hitchwright load " + name);
        CHECK((text.code == 0 || text.code == 1 || text.code == 5));
        CHECK(contains(unwrap(text.out), "Weigh the machines before you rely on a ballast figure."));
        for (const std::string& line : split_lines(text.out)) CHECK(line.size() <= 80);
        CHECK_FALSE(contains(text.out, "nan"));
        const json answer = json::parse(run_line("hitchwright load " + name + " --format json").out);
        CHECK(answer.at("schema") == "hitchwright.load");
        CHECK(run_line("hitchwright load " + name + " --format csv").out.starts_with("ball_height_in,load_rise,"));
    }
}

TEST_CASE("load: the findings are those of fit", "[cli][metamorphic]") {
    for (const std::string& name : demo_setups()) {
        const json load = json::parse(run_line("hitchwright load " + name + " --format json").out);
        const json fit = json::parse(run_line("hitchwright fit " + name + " --format json").out);
        for (const json& f : load.at("findings")) {
            CAPTURE(name, f.at("kind"));
            CHECK(std::find(fit.at("findings").begin(), fit.at("findings").end(), f) != fit.at("findings").end());
        }
    }
}

TEST_CASE("load: rows follow virtual work, capacity times rise is the force", "[cli][oracle]") {
    const json answer = ask("--steps 5 --units mm");
    const json& rows = answer.at("lift").at("rows");
    REQUIRE(rows.size() == 5);
    for (const json& row : rows) {
        const double force = row.at("force_at_balls_N"), rise = row.at("load_rise"), carries = row.at("carries_kg");
        CHECK(carries * 9.80665 * rise == Approx(force).epsilon(1e-9));
        CHECK(row.at("needed_at_balls_N").get<double>() ==
              Approx(answer.at("lift").at("mass_kg").get<double>() * 9.80665 * rise).epsilon(1e-9));
        CHECK(carries >= answer.at("lift").at("least_capacity").at("bound_kg").get<double>() - 1e-9);
    }
}

TEST_CASE("load: ballast in front brings its moment to the front axle", "[cli][metamorphic]") {
    const auto front = [](const json& answer) {
        for (const json& state : answer.at("axles").at("states")) {
            if (state.at("state") == "farthest") return state.at("front_kg").get<double>();
        }
        return std::nan("");
    };
    const json bare = ask(""),
               ballasted = ask("--set \"choices.ballast.front=100 kg\" --set choices.ballast.front_ahead=20in");
    // utility: wheelbase as the file has it
    const json setup = json::parse(run_line("hitchwright fit " + demo + " --format json").out);
    double wheelbase = 0.0;
    for (const json& input : setup.at("inputs")) {
        if (input.at("key") == "tractor.mass.wheelbase") wheelbase = input.at("value").get<double>();
    }
    REQUIRE(wheelbase > 0.0);
    CHECK(front(ballasted) - front(bare) == Approx(100.0 * (wheelbase + 508.0) / wheelbase).epsilon(1e-9));
}

TEST_CASE("load: the demo whose front comes up light is mended by the weights its note names", "[cli]") {
    const std::string light = "sub-compact-cutter-front-light";
    const Run before = run_line("hitchwright load " + light);
    CHECK(before.code == 1);
    CHECK(contains(before.out, "Front axle keeps"));
    const Run after = run_line("hitchwright load " + light + " --set choices.ballast.front=200lb");
    CAPTURE(after.out);
    CHECK(contains(unwrap(after.out), "OK Front axle keeps"));
}

TEST_CASE("load: values that cannot be end with exit code 3 and say what is allowed", "[cli]") {
    for (const char* set :
         {"choices.ballast.front=-5kg", "choices.ballast.front=nan", "choices.ballast.front=5",
          "choices.ballast.base=both", "tractor.lift_cylinder.efficiency=1.2", "tractor.mass.front_axle_most=3in"}) {
        const Run run = run_line("hitchwright load " + demo + " --set \"" + set + "\"");
        CAPTURE(set, run.err);
        CHECK(run.code == 3);
        CHECK(contains(run.err, std::string(set).substr(0, std::string(set).find('='))));
        CHECK(contains(run.err, "allowed"));
    }
    CHECK(run_line("hitchwright load").code == 2);
    CHECK(run_line("hitchwright load " + demo + " --steps 1").code == 2);
}
