// holes: each row is what fit says of those holes, the order follows the wish, and rubbish is refused.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

nlohmann::json json_of(std::vector<std::string> args) {
    args.insert(args.end(), {"--format", "json"});
    return nlohmann::json::parse(run(args).out);
}

bool near(const nlohmann::json& a, const nlohmann::json& b, double margin) {
    return std::fabs(a.get<double>() - b.get<double>()) < margin;
}

}  // namespace

TEST_CASE("holes: every row is the fit of those holes", "[cli][oracle]") {
    for (const char* setup : {"compact-tiller-bottoms-out", "utility-cutter-fits", "compact-box-blade"}) {
        const nlohmann::json study = json_of({"holes", setup});
        REQUIRE(study.at("combinations").size() >= 3);
        for (const nlohmann::json& row : study.at("combinations")) {
            const std::string tractor = row.at("tractor_hole"), mast = row.at("mast_hole");
            CAPTURE(setup, tractor, mast);
            const nlohmann::json fit = json_of({"fit", setup, "--set", "choices.upper_link_pin=" + tractor, "--set",
                                                "choices.mast_pin=" + mast, "--set", "choices.upper_link_length="});
            CHECK(fit.at("verdict") == row.at("verdict"));
            // A table's bands are of second order, those of one fit by draws: all else is the same.
            REQUIRE(fit.at("findings").size() == row.at("findings").size());
            for (std::size_t i = 0; i < fit.at("findings").size(); ++i) {
                const nlohmann::json &one = fit.at("findings")[i], &other = row.at("findings")[i];
                for (const char* key : {"kind", "subject", "other", "severity", "value", "limit", "ball_height_mm"}) CHECK(one.at(key) == other.at(key));
            }
            if (row.at("numbers").is_null()) continue;
            const nlohmann::json& n = row.at("numbers");
            CHECK(near(n.at("upper_link").at("length_mm"), fit.at("linkage").at("upper_link").at("length_mm"), 1e-6));
            if (n.at("shaft").is_null()) continue;
            CHECK(near(n.at("shaft").at("shortest").at("bound_mm"), fit.at("shaft").at("travel").at("shortest").at("bound_mm"), 0.01));
            CHECK(near(n.at("shaft").at("longest").at("bound_mm"), fit.at("shaft").at("travel").at("longest").at("bound_mm"), 0.01));
        }
    }
}

TEST_CASE("holes: places rise, the set-up's own holes are marked once, the wish turns the order", "[cli]") {
    std::vector<std::string> firsts;
    for (const char* wish : {"general", "level-carry", "tail-high", "most-lift", "shallow-joints"}) {
        CAPTURE(wish);
        const nlohmann::json study = json_of({"holes", "compact-tiller-bottoms-out", "--wish", wish});
        CHECK(study.at("wish") == wish);
        int place = 0, present = 0;
        for (const nlohmann::json& row : study.at("combinations")) {
            CHECK(row.at("place").get<int>() >= place);
            place = row.at("place");
            present += row.at("present").get<bool>();
        }
        CHECK(present == 1);
        const nlohmann::json& first = study.at("combinations").at(0);
        firsts.push_back(first.at("tractor_hole").get<std::string>() + "/" + first.at("mast_hole").get<std::string>());
    }
    CHECK(firsts[1] != firsts[2]);  // level and high pull opposite ways
    CHECK(json_of({"holes", "compact-tiller-bottoms-out"}) == json_of({"holes", "compact-tiller-bottoms-out", "--wish", "general"}));
}

TEST_CASE("holes: the exit code is the first choice's, cautions are always said", "[cli]") {
    for (const std::string& setup : demo_setups()) {
        CAPTURE(setup);
        const Run text = run({"holes", setup});
        if (contains(text.out, "A drawn implement has no upper-link holes")) {
            CHECK(text.code == 5);
            continue;
        }
        const nlohmann::json study = json_of({"holes", setup});
        const std::string verdict = study.at("combinations").at(0).at("verdict");
        CHECK(text.code == (verdict == "fits" ? 0 : verdict == "too_close_to_call" || verdict == "not_known" ? 5 : 1));
        CHECK(contains(text.out, "! Engine off"));
        CHECK(contains(unwrap(text.out), "see the tractor's manual"));
        CHECK(study.at("cautions").size() >= 3);
        for (const std::string& line : split_lines(text.out)) CHECK(line.size() <= 80);
        for (const std::string& line : split_lines(run({"holes", setup, "--units", "mm"}).out)) CHECK(line.size() <= 80);
    }
}

TEST_CASE("holes: what cannot work stays listed with why", "[cli]") {
    const Run out = run({"holes", "compact-box-blade", "--set", "tractor.upper_link.length_least=27.5in"});
    CHECK(out.code == 1);
    CHECK(contains(out.out, "NO HOLE WORKS WITH THIS UPPER LINK"));
    CHECK(contains(unwrap(out.out), "Upper link does not reach"));
    const Run missing = run({"holes", "compact-box-blade", "--set", "tractor.lower_link.length="});
    CHECK(missing.code == 5);
    CHECK(contains(unwrap(missing.out), "NOT DECIDED"));
    CHECK(contains(missing.out, "lower_link.length"));
    const nlohmann::json study = json_of({"holes", "compact-box-blade", "--set", "tractor.lower_link.length="});
    CHECK(study.at("combinations").at(0).at("numbers").is_null());
    CHECK(!study.at("combinations").at(0).at("why").get<std::string>().empty());
}

TEST_CASE("holes: csv has a line for each combination and one for the names", "[cli]") {
    const nlohmann::json study = json_of({"holes", "compact-tiller-bottoms-out"});
    const std::vector<std::string> lines = split_lines(run({"holes", "compact-tiller-bottoms-out", "--format", "csv"}).out);
    CHECK(lines.size() == study.at("combinations").size() + 1);
    CHECK(lines[0].starts_with("place,tractor_hole,mast_hole,lift_rod_hole,present,verdict,standing,"));
    CHECK(contains(lines[0], "upper_link_length_in"));
    CHECK(contains(split_lines(run({"holes", "compact-tiller-bottoms-out", "--format", "csv", "--units", "mm"}).out)[0], "upper_link_length_mm"));
}

TEST_CASE("holes: hostile command lines and files are refused", "[cli]") {
    for (const std::vector<std::string>& args :
         {std::vector<std::string>{"holes"}, {"holes", "a", "b"}, {"holes", "utility-cutter-fits", "--format", "xml"},
          {"holes", "utility-cutter-fits", "--units", "cubits"}, {"holes", "utility-cutter-fits", "--wish", "fastest"},
          {"holes", "utility-cutter-fits", "--wish", ""}, {"holes", "utility-cutter-fits", "--wish", "most-lift", "--wish", "tail-high"},
          {"holes", "utility-cutter-fits", "--wish"}, {"holes", "utility-cutter-fits", "--steps", "3"},
          {"holes", "utility-cutter-fits", "--explain"}, {"holes", "utility-cutter-fits", "--mark", "nan"}}) {
        CAPTURE(show(args));
        CHECK(run(args).code == 2);
    }
    for (const std::vector<std::string>& args :
         {std::vector<std::string>{"holes", "no-such-setup"}, {"holes", "."}, {"holes", "utility-cutter-fits", "--rules", "none-such"},
          {"holes", "utility-cutter-fits", "--set", "choices.mast_pin=99"}, {"holes", "utility-cutter-fits", "--set", "tractor.lower_link.length=nan"},
          {"holes", "utility-cutter-fits", "--set", "tractor.lower_link.length=1e300in"}, {"holes", "utility-cutter-fits", "--set", "\xff\xfe=3"},
          {"holes", "utility-cutter-fits", "--set", "no.such.key=3"}}) {
        CAPTURE(show(args));
        CHECK(run(args).code == 3);
    }
}

TEST_CASE("holes: extreme but possible values never crash nor print a number that is none", "[cli][random]") {
    for (const char* set : {"tractor.travel.ball_height_high=90in", "tractor.lower_link.length=12in", "choices.working_ball_height=60in",
                            "choices.working_pitch=29deg", "implement.mass.cg_x=200in", "implement.mass.cg_x=", "implement.pic.x=-30in",
                            "driveline.shaft.closed_length=150in", "choices.lift_stop=12in", "implement.upper_link_float.kind=slot",
                            "tractor.hitch.category=none", "choices.transport_ball_height=200in"}) {
        for (const char* form : {"text", "json", "csv"}) {
            const Run out = run({"holes", "compact-tiller-bottoms-out", "--set", set, "--format", form});
            CAPTURE(set, form, out.err);
            CHECK((out.code == 0 || out.code == 1 || out.code == 3 || out.code == 5));
            for (const char* bad : {"nan", "inf,", ": inf", "-inf"}) CHECK(!contains(out.out, bad));
        }
    }
}

TEST_CASE("holes: far too many combinations are refused in words", "[cli]") {
    const WorkingFolder folder;
    std::string tractor = "kind = \"tractor\"\nversion = 1\nunit = \"in\"\nname = \"T\"\n";
    for (int i = 0; i < 300; ++i) {
        tractor += "[[upper_link_pin]]\nname = \"" + std::to_string(i) + "\"\nx = 8\nz = " + std::to_string(20 + i % 20) + "\n";
    }
    write_file("many.toml", tractor);
    write_file("s.toml", "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"./many.toml\"\n[implement]\nuse = \"tiller-5\"\n");
    for (const char* form : {"text", "json", "csv"}) {
        const Run out = run({"holes", "./s.toml", "--format", form});
        CAPTURE(form, out.out, out.err);
        CHECK((out.code == 5 || out.code == 3));
        if (std::string(form) == "text" && out.code == 5) CHECK(contains(unwrap(out.out), "300 combinations"));
    }
}

TEST_CASE("holes: a coupler that does not hold the mast is the reason, whatever else is wrong", "[cli]") {
    const std::vector<std::string> base = {"holes", "compact-tiller-bottoms-out", "--set", "coupler.fitted=true", "--set", "coupler.set_back=4in",
                                           "--set", "coupler.pin_height=17in"};
    const auto holes = [&](std::vector<std::string> sets) {
        std::vector<std::string> args = base;
        for (const std::string& set : sets) args.insert(args.end(), {"--set", set});
        return run(args);
    };
    // The mast pin stands 18 in above the lower pins (tiller-5).
    struct Case {
        std::vector<std::string> sets;
        const char* says;
    };
    const Case cases[] = {{{"coupler.hook_height=20in"}, "Mast pin 1 does not reach the coupler's top hook: short by 2 in"},
                          {{"coupler.hook_height=20in", "driveline.use=shaft-24"}, "Mast pin 1 does not reach the coupler's top hook: short by 2 in"},
                          {{"coupler.hook_height=20in", "driveline.use=shaft-59"}, "Mast pin 1 does not reach the coupler's top hook: short by 2 in"},
                          {{"coupler.hook_height=15in", "coupler.hook_depth=1in"}, "Mast pin 1 stands above the coupler's top hook, 2 in beyond its lip"},
                          {{"coupler.hook_height=18in", "coupler.hook_offset=19in"}, "Mast pin 1 cannot meet the coupler's top hook"}};
    for (const Case& c : cases) {
        CAPTURE(c.says, c.sets.back());
        const Run result = holes(c.sets);
        CHECK(result.code == 1);
        const std::string text = unwrap(result.out);
        const std::size_t at = text.find("Not decided, or cannot work");
        REQUIRE(at != std::string::npos);
        CHECK(text.find(c.says, at) != std::string::npos);
        CHECK(text.find(c.says, at) < text.find("Shaft ", at));
    }
    CHECK_FALSE(contains(holes({"coupler.hook_height=18in"}).out, "top hook"));
}
