// diff: values, findings and verdicts of two set-ups in three forms.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>

#include "tests/cli/run.h"
#include "tests/report/json_shapes.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Json parse(const std::vector<std::string>& args, int code) {
    const Run result = run(args);
    CAPTURE(show(args), result.err);
    REQUIRE(result.code == code);
    CHECK(result.err.empty());
    return Json::parse(result.out);
}

Json diff_json(const std::string& a, const std::string& b) {
    return parse({"diff", a, b, "--format", "json"}, a == b ? 0 : 1);
}

}  // namespace

TEST_CASE("diff: a set-up and itself are the same, in every form, with code 0", "[cli]") {
    for (const std::string& demo : demo_setups()) {
        const Run text = run({"diff", demo, demo});
        CAPTURE(demo);
        CHECK(text.code == 0);
        CHECK(contains(text.out, "Values: all the same"));
        CHECK(contains(text.out, "Findings: all the same"));
        CHECK(contains(text.out, "Cautions\n"));
        const Run csv = run({"diff", demo, demo, "--format", "csv"});
        CHECK(csv.code == 0);
        CHECK(split_lines(csv.out).size() == 2);
        const Json json = diff_json(demo, demo);
        CHECK(json["differs"] == false);
        CHECK(json["values"].empty());
        CHECK(json["findings"].empty());
    }
}

TEST_CASE("diff: findings and verdicts are those of both fits, new or gone or changed", "[cli]") {
    const std::vector<std::string> demos = demo_setups();
    for (std::size_t i = 0; i + 1 < demos.size(); ++i) {
        const std::string &a = demos[i], &b = demos[i + 1];
        CAPTURE(a, b);
        const Json old_fit = Json::parse(run({"fit", a, "--format", "json"}).out),
                   new_fit = Json::parse(run({"fit", b, "--format", "json"}).out);
        const Json json = diff_json(a, b);
        CHECK(json["old"]["verdict"] == old_fit["verdict"]);
        CHECK(json["new"]["verdict"] == new_fit["verdict"]);
        CHECK(json["new"]["text"] == new_fit["text"]);
        // What is not named is in both, with the same weight and text up to numbers below a millionth.
        const auto count = [](const Json& list, auto&& test) { return std::count_if(list.begin(), list.end(), test); };
        const auto appeared = count(json["findings"], [](const Json& f) { return f["change"] == "appeared"; });
        const auto gone = count(json["findings"], [](const Json& f) { return f["change"] == "gone"; });
        CHECK(static_cast<long>(new_fit["findings"].size()) - static_cast<long>(old_fit["findings"].size()) ==
              appeared - gone);
        for (const Json& f : json["findings"]) {
            for (const char* side : {"old", "new"}) {
                if (f[side].is_null()) continue;
                const Json& fit = side == std::string("old") ? old_fit : new_fit;
                CAPTURE(f.dump());
                CHECK(count(fit["findings"], [&](const Json& g) {
                          return g["kind"] == f["kind"] &&  // of one question the subject may be another: the hole, the lowest point
                                 g["text"] == f[side]["text"] && g["severity"] == f[side]["severity"];
                      }) >= 1);
            }
        }
    }
}

TEST_CASE("diff: one recorded reading is the one value that differs, with its difference in the unit asked for",
          "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"presets", "copy", "compact-tiller-bottoms-out"}).code == 0);
    const std::string file = "compact-tiller-bottoms-out.toml";
    write_file("old.toml", read_file(file));
    REQUIRE(run({"record", file, "choices.lift_stop=26 1/2 in"}).code == 0);
    const Json json = diff_json("old.toml", file);
    REQUIRE(json["values"].size() == 1);
    const Json& value = json["values"][0];
    CHECK(value["key"] == "choices.lift_stop");
    CHECK(value["change"] == "changed");
    CHECK(value["unit"] == "mm");
    CHECK(value["old_number"].get<double>() == Approx(685.8).epsilon(1e-12));
    CHECK(value["new_number"].get<double>() == Approx(673.1).epsilon(1e-12));
    CHECK(value["difference"].get<double>() == Approx(-12.7).epsilon(1e-9));
    const Run inches = run({"diff", "old.toml", file}), millimetres = run({"diff", "old.toml", file, "--units", "mm"});
    CHECK(inches.code == 1);
    CHECK(contains(inches.out, "choices.lift_stop: 27.000 in -> 26.500 in (-0.500 in)"));
    CHECK(contains(millimetres.out, "choices.lift_stop: 685.80 mm -> 673.10 mm (-12.70 mm)"));
    for (const std::string& line : split_lines(inches.out)) CHECK(line.size() <= 80);
    const Run csv = run({"diff", "old.toml", file, "--format", "csv"});
    CHECK(contains(csv.out, "\nvalue,changed,choices.lift_stop,,,in,27,26.5,-0.5,0,0,measured,measured\n"));
    const auto lines = split_lines(csv.out);
    CHECK(lines.size() == 2 + json["values"].size() + json["findings"].size());
    for (const std::string& line : lines) {
        if (!contains(line, "\"")) CHECK(std::count(line.begin(), line.end(), ',') == 12);
    }
}

TEST_CASE("diff: every key of the answer is documented and every documented key is written", "[cli]") {
    const Run result = run({"diff", "utility-cutter-wrong-hole", "utility-cutter-fits", "--format", "json"});
    check_documented(result.out, "hitchwright.diff");
}

TEST_CASE("diff: problems of both files come at once, each once", "[cli]") {
    const WorkingFolder folder;
    const std::string head =
        "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"\n[implement]\nuse = \"tiller-5\"\n";
    write_file("a.toml", head + "[choices]\nlift_stp = 27\n");
    write_file("b.toml", head + "[choices]\nmast_pn = 1\n");
    const Run both = run({"diff", "a.toml", "b.toml"});
    CHECK(both.code == 3);
    CHECK(both.out.empty());
    CHECK(contains(both.err, "2 problems"));
    CHECK(contains(both.err, "a.toml:9:1"));
    CHECK(contains(both.err, "b.toml:9:1"));
    CHECK(contains(run({"diff", "a.toml", "a.toml"}).err, "1 problem "));
    CHECK(run({"diff", "a.toml", "missing.toml"}).code == 3);
    CHECK(run({"diff", "utility-cutter-fits", "/dev/null"}).code == 3);
    CHECK(run({"diff", "utility-cutter-fits"}).code == 2);
    CHECK(run({"diff", "utility-cutter-fits", "utility-cutter-fits", "x"}).code == 2);
    CHECK(run({"diff", "utility-cutter-fits", "utility-cutter-fits", "--rules", "no-such"}).code == 3);
    CHECK(run({"diff", "utility-cutter-fits", "utility-drawn-cutter-fits"}).code == 1);
}

TEST_CASE("diff: names in wide characters are shown and no control character is", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"presets", "copy", "compact-box-blade"}).code == 0);
    std::string text = read_file("compact-box-blade.toml");
    write_file("a.toml", text);
    text.replace(text.find("name = \""), 8, "name = \"\xE6\x8B\x96\xE6\x8B\x89 ");
    write_file("b.toml", text);
    const Run result = run({"diff", "a.toml", "b.toml"});
    CHECK(result.code == 1);
    CHECK(contains(result.out, "\xE6\x8B\x96"));
    for (const char c : result.out) CHECK((c == '\n' || static_cast<unsigned char>(c) >= 0x20));
}
