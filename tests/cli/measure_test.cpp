// measure: the lines of the card, its forms, and set-ups that are only partly typed.
#include <catch2/catch.hpp>

#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

const char* const bare =
    "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\n[implement]\n[implement.pic]\n";

std::string line_after(const std::string& text, const std::string& key) {
    const std::vector<std::string> lines = split_lines(text);
    for (std::size_t i = 1; i < lines.size(); ++i) {
        if (lines[i] == "      " + key) return lines[i - 1];
    }
    return {};
}

}  // namespace

TEST_CASE("measure: no line is wider than the page, and each reading has a number, a line to write on and its key", "[cli]") {
    for (const std::string& name : demo_setups()) {
        for (const char* units : {"in", "mm"}) {
            CAPTURE(name, units);
            const Run result = run({"measure", name, "--units", units});
            CHECK(result.code == 0);
            CHECK(result.err.empty());
            for (const std::string& line : split_lines(result.out)) CHECK(line.size() <= 80);
            CHECK(contains(line_after(result.out, "tractor.lower_link.length"), std::string("______________ ") + units));
        }
    }
}

TEST_CASE("measure: a blade's card has no word of stub, input shaft or driveline, a driven one has", "[cli]") {
    const Run blade = run({"measure", "compact-box-blade"});
    const Run driven = run({"measure", "utility-cutter-fits"});
    for (const char* part : {"PTO STUB", "driveline.", "implement.pic", "locking groove"}) {
        CAPTURE(part);
        CHECK_FALSE(contains(blade.out, part));
        CHECK(contains(driven.out, part));
    }
    CHECK(contains(blade.out, "no PTO shaft"));
}

TEST_CASE("measure: values stand in brackets with their origin, and --blank leaves them out", "[cli]") {
    const std::string shown = run({"measure", "compact-box-blade"}).out;
    CHECK(contains(line_after(shown, "tractor.lower_link.length"), "usual error 1/8 in   [30 in, preset]"));
    const std::string changed = run({"measure", "compact-box-blade", "--set", "tractor.lower_link.length=30 1/4 in"}).out;
    CHECK(contains(line_after(changed, "tractor.lower_link.length"), "[30 1/4 in, measured]"));
    const std::string blank = run({"measure", "compact-box-blade", "--blank"}).out;
    CHECK_FALSE(contains(blank, "preset]"));
    CHECK_FALSE(contains(blank, "["  "30 in"));
    CHECK(contains(line_after(blank, "tractor.lower_link.length"), "usual error 1/8 in"));
}

TEST_CASE("measure: a set-up with hardly anything typed gives a card and says what is needed first", "[cli]") {
    const WorkingFolder folder;
    write_file("bare.toml", bare);
    const Run result = run({"measure", "bare.toml"});
    CAPTURE(result.err);
    CHECK(result.code == 0);
    CHECK(contains(result.out, "NEEDED FIRST"));
    CHECK(contains(result.out, "NEEDED floor to ball centre, lever right down"));
    CHECK(contains(result.out, "NEEDED hole 1: floor to the hole centre"));
    CHECK_FALSE(contains(result.out, "NEEDED hole 2"));
    // A hole with one of its two places, no [tractor] at all, a shaft without the points it was taken between.
    write_file("half.toml", "kind = \"setup\"\nversion = 1\nunit = \"in\"\n[implement]\nuse = \"tiller-5\"\n"
                            "[[implement.mast_pin]]\nname = \"A\"\noffset = 1\n[driveline.shaft]\nclosed_length = 31\n");
    const Run half = run({"measure", "half.toml"});
    CAPTURE(half.err);
    CHECK(half.code == 0);
    CHECK(contains(half.out, "NEEDED mast hole A: lower pin centre"));
    CHECK(contains(unwrap(half.out), "NEEDED between which points"));
    CHECK(run({"fit", "half.toml"}).code == 3);
}

TEST_CASE("measure: JSON in mm and CSV in the units asked for hold the same lines", "[cli]") {
    const Run json = run({"measure", "compact-box-blade", "--format", "json"});
    CHECK(json.code == 0);
    CHECK(contains(json.out, "\"schema\": \"hitchwright.measure\""));
    CHECK(contains(json.out, "\"key\": \"tractor.lower_link.length\""));
    const Run csv = run({"measure", "compact-box-blade", "--format", "csv"});
    const auto lines = split_lines(csv.out);
    CHECK(lines.front() == "number,station,key,from_to,unit,usual_error,words,needed,value,origin");
    bool found = false;
    for (const std::string& line : lines) found = found || (contains(line, ",tractor.lower_link.length,") && line.ends_with(",in,0.125,,false,30,preset"));
    CHECK(found);
    std::size_t numbers = 0;
    for (std::size_t at = json.out.find("\"number\""); at != std::string::npos; at = json.out.find("\"number\"", at + 1)) ++numbers;
    CHECK(numbers == lines.size() - 1);
}

TEST_CASE("measure: wrong files and options are refused in words, names cannot steer a terminal", "[cli]") {
    const WorkingFolder folder;
    write_file("odd.toml", std::string(bare) + "[tractor.lower_link]\nlenght = 3\nlength = \"nan\"\n");
    std::filesystem::create_directory("dir.toml");
    write_file("utf.toml", "name = \"\xFF\"");
    for (const char* name : {"nosuch", "odd.toml", "dir.toml", "utf.toml", "", "gone.toml"}) {
        CAPTURE(name);
        const Run result = run({"measure", name});
        CHECK((result.code == 3 || result.code == 2));
        CHECK(result.out.empty());
        CHECK_FALSE(result.err.empty());
    }
    for (const std::vector<std::string>& more : {std::vector<std::string>{"--units", "ell"}, {"--format", "pdf"}, {"--units", "in", "--units", "mm"}, {"--blank=1"}, {"two", "names"}}) {
        std::vector<std::string> args{"measure", "compact-box-blade"};
        args.insert(args.end(), more.begin(), more.end());
        CAPTURE(show(args));
        CHECK(run(args).code == 2);
    }
    write_file("long.toml", std::string(bare) + "[[implement.point]]\nname = \"" + std::string(190, 'W') + "\"\nx = 1\nz = 2\n");
    const Run wide = run({"measure", "long.toml"});
    CHECK(wide.code == 0);
    for (const std::string& line : split_lines(wide.out)) CHECK(line.size() <= 80);
}
