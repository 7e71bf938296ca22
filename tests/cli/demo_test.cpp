// The built-in demo set-ups: verdict, exit code, and the change that their own note names.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "report/format_length.h"
#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

struct Demo {
    std::string name, verdict;
    int code;
    std::string what;  ///< kind of the finding that decides, empty: none
};

// Decided by the shaft lengths of tests/validation/demo_setups.csv, found by a second program.
const std::vector<Demo> demos = {
    {"compact-box-blade", "fits", 0, ""},
    {"compact-flail-angle", "fits_after_change", 1, "joint_angle_over_travel"},
    {"compact-flail-separates", "must_not_run", 1, "separation"},
    {"compact-rear-blade-tilted", "fits_after_change", 1, "side_level"},
    {"compact-tiller-bottoms-out", "fits_after_change", 1, "gap_at_shortest"},
    {"sub-compact-cutter-front-light", "fits_after_change", 1, "front_axle_share"},
    {"utility-auger-separates", "must_not_run", 1, "overlap_at_longest"},
    {"utility-cutter-fits", "fits", 0, ""},
    {"utility-cutter-sheet", "must_not_run", 1, "specification_line"},
    {"utility-cutter-wrong-hole", "must_not_run", 1, "clearance"},
    {"utility-drawn-cutter-fits", "fits", 0, ""},
    {"utility-drawn-cutter-short", "fits_after_change", 1, "gap_at_shortest"},
    {"utility-flail-no-cut", "must_not_run", 1, "gap_at_shortest"},
};

nlohmann::json fit_json(std::vector<std::string> args) {
    args.insert(args.begin(), "fit");
    args.insert(args.end(), {"--format", "json"});
    return nlohmann::json::parse(run(args).out);
}

// The `--set KEY=VALUE` of the set-up's note, as arguments.
std::vector<std::string> find_named_change(const std::string& name) {
    const std::string text = run({"presets", "show", name}).out;
    const std::string note = text.substr(text.find("\nnote = "));
    const std::string line = note.substr(0, note.find('\n', 1));
    std::vector<std::string> args;
    const std::regex change("--set ([^ \"]+)");
    for (std::sregex_iterator at(line.begin(), line.end(), change), end; at != end; ++at) {
        args.insert(args.end(), {"--set", (*at)[1].str()});
    }
    return args;
}

}  // namespace

TEST_CASE("demo set-ups: each has the verdict and the exit code it is made for", "[cli]") {
    std::vector<std::string> names;
    for (const Demo& demo : demos) names.push_back(demo.name);
    REQUIRE(demo_setups() == names);
    for (const Demo& demo : demos) {
        CAPTURE(demo.name);
        const nlohmann::json json = fit_json({demo.name});
        CHECK(json.at("verdict") == demo.verdict);
        CHECK(run({"fit", demo.name}).code == demo.code);
        CHECK(run({"fit", demo.name, "--format", "json"}).code == demo.code);
        CHECK(run({"fit", demo.name, "--format", "csv"}).code == demo.code);
        const nlohmann::json& worst = json.at("findings").at(0);
        if (!demo.what.empty()) CHECK(worst.at("kind") == demo.what);
        if (demo.what.empty())
            CHECK((worst.at("severity") == "good" || worst.at("severity") == "condition" ||
                   worst.at("severity") == "watch"));
    }
}

TEST_CASE("demo set-ups: the change that the note names turns the verdict", "[cli]") {
    for (const Demo& demo : demos) {
        CAPTURE(demo.name);
        std::vector<std::string> args = find_named_change(demo.name);
        REQUIRE_FALSE(args.empty());
        CAPTURE(show(args));
        args.insert(args.begin(), demo.name);
        const nlohmann::json json = fit_json(args);
        const bool fitted = demo.verdict == "fits";
        CHECK((json.at("verdict") == "fits") == !fitted);
        args.insert(args.begin(), "fit");
        CHECK(run(args).code == (fitted ? 1 : 0));
    }
}

TEST_CASE("demo set-ups: the numbers are those of the second program", "[cli][oracle]") {
    const std::string path = std::string(HITCHWRIGHT_SOURCE_DIR) + "/tests/validation/demo_setups.csv";
    std::vector<std::string> names, columns;
    for (const std::string& line : split_lines(read_file(path))) {
        if (line.empty() || line.starts_with('#')) continue;
        std::vector<std::string> cells;
        for (std::size_t at = 0; at <= line.size();) {
            const std::size_t end = std::min(line.find(',', at), line.size());
            cells.push_back(line.substr(at, end - at));
            at = end + 1;
        }
        if (columns.empty()) {
            columns = cells;
            continue;
        }
        REQUIRE(cells.size() == columns.size());
        names.push_back(cells.front());
        CAPTURE(cells.front());
        const nlohmann::json json = fit_json({cells.front()});
        const auto number = [&](const char* column) {
            const auto at = std::find(columns.begin(), columns.end(), column);
            REQUIRE(at != columns.end());
            return std::stod(cells[static_cast<std::size_t>(at - columns.begin())]);
        };
        const auto same = [&](const nlohmann::json& value, const char* column, double factor, double margin) {
            CAPTURE(column);
            CHECK(value.get<double>() / factor == Approx(number(column)).epsilon(0).margin(margin));
        };
        constexpr double inch = 25.4, length = 2e-5, angle = 2e-4;
        const nlohmann::json& linkage = json.at("linkage");
        same(linkage.at("upper_link").at("length_mm"), "upper_link_in", inch, length);
        same(linkage.at("poses").at("lowest").at("pitch_deg"), "pitch_low_deg", 1.0, angle);
        same(linkage.at("poses").at("working").at("pitch_deg"), "pitch_work_deg", 1.0, angle);
        same(linkage.at("poses").at("highest").at("pitch_deg"), "pitch_high_deg", 1.0, angle);
        if (json.at("shaft").is_null()) continue;
        const nlohmann::json& travel = json.at("shaft").at("travel");
        same(travel.at("shortest").at("value_mm"), "shortest_in", inch, length);
        same(travel.at("longest").at("value_mm"), "longest_in", inch, length);
        same(travel.at("tractor_joint_angle").at("value_deg"), "joint1_most_deg", 1.0, angle);
        same(travel.at("implement_joint_angle").at("value_deg"), "joint2_most_deg", 1.0, angle);
    }
    CHECK(names.size() + 5 == demos.size());  // two drawn ones, one that cannot turn, one about loads, one tilted (below)
}

// Seven closures (both lower links, both rods, upper link, hitch centred, height) by Newton's method from pose and arm angle, in a
// second program written from docs/theory/space.md only, in inches.
TEST_CASE("demo set-ups: the tilted blade is that of the second program", "[cli][oracle]") {
    const nlohmann::json levelling = fit_json({"compact-rear-blade-tilted"}).at("space").at("levelling"), working = levelling.at("working");
    const auto same = [](const nlohmann::json& value, double expected, double factor) {
        CHECK(value.get<double>() / factor == Approx(expected).epsilon(0).margin(1e-8));
    };
    constexpr double inch = 25.4;
    same(working.at("roll_deg"), -2.13473075866, 1.0);
    same(working.at("pitch_deg"), 0.0227517175415, 1.0);
    same(working.at("yaw_deg"), -0.108023916396, 1.0);
    same(working.at("lift_arm_deg"), 6.84420665026, 1.0);
    same(working.at("left_ball_mm"), 16.5264785597, inch);
    same(working.at("right_ball_mm"), 15.4735214403, inch);
    same(working.at("edges").at(0).at("left_mm"), 17.3584525518, inch);
    same(working.at("edges").at(0).at("right_mm"), 14.6764915768, inch);
    const nlohmann::json right = levelling.at("wanted").at("rods").at(1);
    same(right.at("wanted_mm"), 17.7960853411, inch);
    same(right.at("turns"), 2.18434136457, 1.0);
}

TEST_CASE("demo set-ups: the tilted blade and what breaks it", "[cli]") {
    const auto verdict = [](const char* change) { return fit_json({"compact-rear-blade-tilted", "--set", change}).at("verdict").get<std::string>(); };
    CHECK(verdict("choices.working_roll=-2.1deg") == "fits");
    CHECK(verdict("choices.working_roll=-10deg") == "fits_after_change");
    CHECK(verdict("tractor.tyre.rear_track=37in") == "must_not_run");
    const auto finding = [](const char* change, const char* kind) {
        const nlohmann::json findings = fit_json({"compact-rear-blade-tilted", "--set", change}).at("findings");
        return std::any_of(findings.begin(), findings.end(), [&](const nlohmann::json& f) { return f.at("kind") == kind && f.at("severity") != "good"; });
    };
    CHECK(finding("choices.working_roll=-10deg", "levelling_rod"));
    CHECK(finding("tractor.tyre.rear_track=37in", "tyre_room"));
}

TEST_CASE("demo set-ups: what the answer proposes is what turns the verdict", "[cli][residual]") {
    const nlohmann::json json = fit_json({"compact-tiller-bottoms-out"});
    const double a = json.at("cut").at("recommended").at("tractor_half_mm"),
                 b = json.at("cut").at("recommended").at("implement_half_mm");
    CHECK(a == Approx(92.075).margin(1e-9).epsilon(0));  // 3 5/8 in, as in docs/theory/cutting.md
    const auto made = [](double first, double second) {
        return fit_json({"compact-tiller-bottoms-out", "--set",
                         "choices.cut_tractor_half=" + std::to_string(first) + "mm", "--set",
                         "choices.cut_implement_half=" + std::to_string(second) + "mm"});
    };
    CHECK(made(a, b).at("verdict") == "fits");
    CHECK(made(a, b).at("cut").at("answer") == "no_cut_needed");
    // One half alone does not help: the other bottoms.
    CHECK(made(a, 0.0).at("verdict") != "fits");
    CHECK(made(0.0, b).at("verdict") != "fits");
}

TEST_CASE("demo set-ups: cut answers as fit does", "[cli]") {
    CHECK(run({"cut", "utility-cutter-fits"}).code == 0);
    CHECK(contains(run({"cut", "utility-cutter-fits"}).out, "NO CUT NEEDED"));
    CHECK(run({"cut", "compact-tiller-bottoms-out"}).code == 1);
    CHECK(contains(run({"cut", "compact-tiller-bottoms-out"}).out, "CUT 3 5/8 in from each half"));
    CHECK(run({"cut", "compact-flail-separates"}).code == 1);
    CHECK(contains(run({"cut", "compact-flail-separates"}).out, "NO CUT WORKS"));
    CHECK(run({"cut", "compact-box-blade"}).code == 0);
    CHECK(contains(run({"cut", "compact-box-blade"}).out, "no PTO input"));
}

TEST_CASE("too close to call, not known: exit code 5 from fit and cut alike", "[cli]") {
    // The cut that leaves the required gap to a sixteenth: closed 28 in where 28.986 in is the shortest
    // (demo_setups.csv).
    const std::vector<std::string> close = {"compact-tiller-bottoms-out", "--set", "choices.cut_tractor_half=3in",
                                            "--set", "choices.cut_implement_half=3in"};
    CHECK(fit_json(close).at("verdict") == "too_close_to_call");
    std::vector<std::string> args = close;
    args.insert(args.begin(), "fit");
    CHECK(run(args).code == 5);
    args.front() = "cut";
    CHECK(run(args).code == 5);
    CHECK(contains(unwrap(run(args).out), "Too close to call"));
    for (const std::string key :
         {"tractor.pto.stub_x", "tractor.lower_link.length", "driveline.shaft.closed_length", "tractor.travel"}) {
        const bool table = key == "tractor.travel";
        std::vector<std::string> missing = {"compact-tiller-bottoms-out", "--set",
                                            table ? "tractor.travel.ball_height_low=" : key + "="};
        if (table) missing.insert(missing.end(), {"--set", "tractor.lift_arm.length="});
        CAPTURE(key);
        CHECK(fit_json(missing).at("verdict") == "not_known");
        missing.insert(missing.begin(), "fit");
        const Run fit = run(missing);
        CHECK(fit.code == 5);
        CHECK(contains(unwrap(fit.out), key));
        missing.front() = "cut";
        const Run cut = run(missing);
        CHECK(cut.code == 5);
        CHECK(contains(unwrap(cut.out), key));
        CHECK(contains(unwrap(cut.out), "NOT KNOWN"));
    }
}

TEST_CASE("fit: a rule set on the command line goes before the set-up's, and the answer names it", "[cli]") {
    const Run general = run({"fit", "utility-cutter-fits"});
    const Run wide = run({"fit", "utility-cutter-fits", "--rules", "mounted-mower-wide-gap"});
    CHECK(contains(general.out, "General"));
    CHECK(contains(wide.out, "Mounted mower, wide gap"));
    CHECK_FALSE(contains(wide.out, "rules      General"));
    // 3.01 in of gap are left (demo_setups.csv), 76 mm = 2.99 in are asked for: inside the error of the readings.
    CHECK(wide.code == 5);
}

TEST_CASE("fit: --explain adds formula, numbers and sources and takes nothing away", "[cli]") {
    for (const std::string& name : demo_setups()) {
        CAPTURE(name);
        const Run plain = run({"fit", name}), explained = run({"fit", name, "--explain"});
        CHECK(explained.code == plain.code);
        CHECK(explained.out.size() > plain.out.size());
        const std::vector<std::string> lines = split_lines(explained.out);
        for (const std::string& line : split_lines(plain.out)) {
            CAPTURE(line);
            CHECK(std::find(lines.begin(), lines.end(), line) != lines.end());
        }
    }
    const std::string shaft = unwrap(run({"fit", "utility-cutter-fits", "--explain"}).out);
    // S_min of the second program, 46.011577 in, and the closed length.
    CHECK(contains(shaft, "46.01"));
    CHECK(contains(shaft, "43.000 in"));
}

TEST_CASE("fit: --how-far says the change that really changes the verdict, in text and JSON, and takes nothing away", "[cli]") {
    const std::string demo = "utility-cutter-fits", key = "tractor.pto.stub_x";
    const Run plain = run({"fit", demo}), asked = run({"fit", demo, "--how-far", key});
    CHECK(asked.code == plain.code);
    const std::vector<std::string> lines = split_lines(asked.out);
    for (const std::string& line : split_lines(plain.out)) {
        CAPTURE(line);
        CHECK(std::find(lines.begin(), lines.end(), line) != lines.end());
    }
    CHECK(contains(unwrap(asked.out), key + " = 14.000 in, good to 1/4 in, preset"));
    CHECK(fit_json({demo}).at("how_far").is_null());
    const nlohmann::json rooms = fit_json({demo, "--how-far", key}).at("how_far");
    REQUIRE(rooms.size() == 1);
    const nlohmann::json& room = rooms.front();
    CHECK(room.at("key") == key);
    CHECK(room.at("unit") == "mm");
    CHECK(room.at("lower").at("changes_at").is_null());
    const double now = room.at("value"), holds = room.at("higher").at("holds"), there = room.at("higher").at("changes_at");
    CHECK(there > holds);
    const auto verdict_at = [&](double value) {
        return fit_json({demo, "--set", key + "=" + nlohmann::json(value).dump() + " mm +- " + room.at("error").dump() + " mm"}).at("verdict").get<std::string>();
    };
    // The search's bands are of second order, those of one fit by draws: a few hundredths of the way they may differ.
    CHECK(verdict_at(now + 0.95 * holds) == "fits");
    CHECK(verdict_at(now + there) == room.at("higher").at("verdict").get<std::string>());
    CHECK(room.at("higher").at("verdict") != "fits");
    // What it prints is rounded to the safe side.
    CHECK(contains(unwrap(asked.out), "may be " + hitchwright::format_inches(holds / 1e3, hitchwright::Rounding::down) + " higher before it says"));
    for (const std::vector<std::string>& wrong : std::vector<std::vector<std::string>>{
             {"fit", demo, "--how-far", "nonsense"}, {"fit", demo, "--how-far", ""}, {"fit", demo, "--how-far", key, "--format", "csv"}}) {
        const Run refused = run(wrong);
        CHECK(refused.code == 2);
        CHECK(contains(refused.err, "--how-far"));
    }
}

TEST_CASE("fit: --trust takes nothing away, and every band it prints is in the JSON", "[cli]") {
    for (const std::string& demo : demo_setups()) {
        CAPTURE(demo);
        const Run plain = run({"fit", demo}), asked = run({"fit", demo, "--trust"});
        CHECK(asked.code == plain.code);
        const std::vector<std::string> lines = split_lines(asked.out);
        for (const std::string& line : lines) CHECK(line.size() <= 80);
        for (const std::string& line : split_lines(plain.out)) {
            CAPTURE(line);
            // By draws a band can be another sixteenth wide.
            if (contains(line, "may move it by")) CHECK(contains(asked.out, line.substr(0, line.find("may move it by"))));
            else CHECK(std::find(lines.begin(), lines.end(), line) != lines.end());
        }
        CHECK(contains(asked.out, "How sure this is"));
        const nlohmann::json fit = fit_json({demo, "--trust"});
        std::size_t with_chance = 0;
        for (const nlohmann::json& f : fit.at("findings")) {
            const nlohmann::json& error = f.at("error");
            if (error.is_null()) continue;
            CHECK_FALSE(f.at("band").is_null());
            CHECK(error.at("below").get<double>() >= 0.0);
            if (error.at("chance_broken").is_null()) continue;
            const double chance = error.at("chance_broken");
            CHECK((chance >= 0.0 && chance <= 1.0));
            // Within as read: more likely right than wrong, unless the band leans over.
            if (error.at("method") == "first_order" && f.at("margin") != 0.0) CHECK((chance < 0.5) == (f.at("margin") > 0.0));
            ++with_chance;
        }
        CHECK(contains(asked.out, "Least sure first") == (with_chance > 0));
    }
    const Run refused = run({"fit", "utility-cutter-fits", "--trust", "--format", "csv"});
    CHECK(refused.code == 2);
    CHECK(contains(refused.err, "--trust"));
}

TEST_CASE("drawn demo set-ups: lengths and angles are those of the second program", "[cli][oracle]") {
    const std::string path = std::string(HITCHWRIGHT_SOURCE_DIR) + "/tests/validation/demo_drawn.csv";
    int rows = 0;
    for (const std::string& line : split_lines(read_file(path))) {
        if (line.empty() || line.starts_with('#') || line.starts_with("setup,")) continue;
        std::vector<std::string> cells;
        for (std::size_t at = 0; at <= line.size();) {
            const std::size_t end = std::min(line.find(',', at), line.size());
            cells.push_back(line.substr(at, end - at));
            at = end + 1;
        }
        REQUIRE(cells.size() == 6);
        CAPTURE(cells.front());
        ++rows;
        const nlohmann::json drawn = fit_json({cells.front()}).at("drawn");
        const auto same = [](const nlohmann::json& value, const std::string& cell, double factor, double margin) {
            CHECK(value.get<double>() / factor == Approx(std::stod(cell)).epsilon(0).margin(margin));
        };
        // The bounds are promised to 0.01 mm and 0.001 deg, on the far side.
        constexpr double inch = 25.4, length = 0.0101 / inch, angle = 0.00101;
        same(drawn.at("whole").at("shortest").at("bound_mm"), cells[1], inch, length);
        same(drawn.at("whole").at("longest").at("bound_mm"), cells[2], inch, length);
        same(drawn.at("whole").at("tractor_angle").at("bound_deg"), cells[3], 1.0, angle);
        same(drawn.at("whole").at("implement_angle").at("bound_deg"), cells[4], 1.0, angle);
        same(drawn.at("level_turn").at("tractor_angle").at("bound_deg"), cells[5], 1.0, angle);
    }
    CHECK(rows == 3);
}
