// Files that are wrong, missing, or no files at all.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>

#include <sys/stat.h>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

const std::string good =
    "kind = \"setup\"\nversion = 1\nunit = \"in\"\nname = \"Mine\"\n[tractor]\nuse = \"utility\"\n[implement]\nuse = "
    "\"rotary-cutter-7\"\n"
    "[driveline]\nuse = \"shaft-43\"\n[choices]\nupper_link_pin = \"4\"\nmast_pin = \"1\"\nworking_band_low = "
    "9\nworking_band_high = 20\n";

}  // namespace

TEST_CASE("a set-up of one's own: by path, from any folder, with parts beside it", "[cli]") {
    const WorkingFolder folder;
    write_file("mine.toml", good);
    const Run result = run({"fit", "mine.toml"});
    CAPTURE(result.err);
    CHECK(result.code == 0);
    CHECK(contains(result.out, "Mine"));
    CHECK(run({"fit", "./mine.toml"}).out == result.out);
    CHECK(run({"fit", (folder.path() / "mine.toml").string()}).out == result.out);
    std::filesystem::create_directory("parts");
    REQUIRE(run({"presets", "copy", "shaft-43", "--to", "parts"}).code == 0);
    std::string other = good;
    other.replace(other.find("\"shaft-43\""), 10, "\"./parts/shaft-43.toml\"");
    write_file("other.toml", other);
    const Run with_part = run({"fit", "other.toml"});
    CAPTURE(with_part.err);
    CHECK(with_part.code == 0);
}

TEST_CASE("files: what cannot be read is said with its name and exit code 3", "[cli]") {
    const WorkingFolder folder;
    std::filesystem::create_directory("folder.toml");
    write_file("empty.toml", "");
    write_file("binary.toml", std::string("\x00\x01\xff\xfe", 4));
    write_file("latin1.toml", "kind = \"setup\"\nname = \"caf\xe9\"\n");
    write_file("large.toml", std::string(2 << 20, '#'));
    write_file("broken.toml", "kind = \"setup\"\nversion = = 1\n");
    write_file("tractor.toml", "kind = \"tractor\"\nversion = 1\nunit = \"in\"\n");
    write_file("deep.toml", "a = " + std::string(5000, '['));
    REQUIRE(mkfifo("pipe.toml", 0600) == 0);
    std::filesystem::create_symlink("loop.toml", "loop.toml");
    for (const char* name : {"missing.toml", "no/such/folder/x.toml", "folder.toml", "empty.toml", "binary.toml",
                             "latin1.toml", "large.toml", "broken.toml", "tractor.toml", "deep.toml", "pipe.toml",
                             "loop.toml", "/dev/null", "/dev/zero"}) {
        for (const char* command : {"fit", "cut", "sweep"}) {
            CAPTURE(name, command);
            const Run result = run({command, name});
            CAPTURE(result.err);
            CHECK(result.code == 3);
            CHECK(result.out.empty());
            CHECK(contains(unwrap(result.err), name));
            CHECK(split_lines(result.err).size() >= 2);
        }
        CHECK(run({"rules", "show", name}).code == 3);
        CHECK(run({"draw", name, "-o", "x.svg"}).code == 3);
    }
    CHECK_FALSE(std::filesystem::exists("x.svg"));
    CHECK(contains(run({"fit", "broken.toml"}).err, "broken.toml:2:"));
    CHECK(contains(run({"fit", "latin1.toml"}).err, "latin1.toml:2:"));
}

TEST_CASE("files: all problems of all files come at once, each with its place", "[cli]") {
    const WorkingFolder folder;
    std::string text = good;
    text.replace(text.find("working_band_low = 9"), 20, "working_bnd_low = 9");
    text.replace(text.find("\"4\""), 3, "\"44\"");
    text += "lift_stop = \"9 miles\"\nlower_stop = nan\ntransport_ball_height = \"1,5 m\"\n";
    write_file("mine.toml", text);
    const Run result =
        run({"fit", "mine.toml", "--set", "tractor.pto.stub_x=hans", "--set", "driveline.shaft.closed_length=4in"});
    CAPTURE(result.err);
    CHECK(result.code == 3);
    for (const char* part :
         {"mine.toml:14:", "working_bnd_low", "working_band_low", "mine.toml:16:", "9 miles",
          "mine.toml:17:", "mine.toml:18:", "1,5 m", "tractor.pto.stub_x", "hans", "driveline.shaft.closed_length"}) {
        CAPTURE(part);
        CHECK(contains(unwrap(result.err), part));
    }
    const nlohmann::json json =
        nlohmann::json::parse(run({"fit", "mine.toml", "--set", "tractor.pto.stub_x=hans", "--format", "json"}).out);
    CHECK(json.at("problems").size() >= 5);
    CHECK(std::any_of(json.at("problems").begin(), json.at("problems").end(), [](const nlohmann::json& problem) {
        return problem.at("file") == "mine.toml" && problem.at("line") == 14 && problem.at("column") == 1 &&
               problem.at("nearest") == "choices.working_band_low";
    }));
    for (const std::string& line : split_lines(result.err)) CHECK(line.size() <= 80);
}

TEST_CASE("a person's own folder: its presets come before the built-in ones and are named as such", "[cli]") {
    const WorkingFolder folder;
    const World world{false, {{"HITCHWRIGHT_PRESETS", folder.path().string()}}};
    std::filesystem::create_directory("setups");
    write_file("setups/mine.toml", good);
    write_file("setups/utility-cutter-fits.toml", good);
    write_file("setups/notes.txt", "not a preset");
    CHECK(contains(run({"fit", "mine"}, world).out, "Mine"));
    CHECK(contains(run({"fit", "utility-cutter-fits"}, world).out, "Mine"));
    CHECK_FALSE(contains(run({"fit", "utility-cutter-fits"}).out, "Mine"));
    const std::string list = run({"presets", "list", "setup"}, world).out;
    CHECK(contains(list, "Mine, yours"));
    CHECK(contains(unwrap(list), "hidden by yours"));
    CHECK_FALSE(contains(list, "notes"));
    CHECK(run({"presets", "show", "mine"}, world).out == good);
}
