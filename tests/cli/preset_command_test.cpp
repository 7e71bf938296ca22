// presets and rules: list, show, copy.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>

#include "presets/embedded.h"
#include "presets/toml_reader.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

TEST_CASE("presets list: every built-in file, with its kind and name", "[cli]") {
    const Run text = run({"presets", "list"});
    const nlohmann::json json = nlohmann::json::parse(run({"presets", "list", "--format", "json"}).out);
    CHECK(text.code == 0);
    CHECK(json.at("presets").size() == embedded_files().size());
    for (const auto& preset : json.at("presets")) {
        CAPTURE(preset.dump());
        CHECK(contains(text.out, "  " + preset.at("key").get<std::string>() + " "));
        CHECK_FALSE(preset.at("name").get<std::string>().empty());
        CHECK(preset.at("built_in") == true);
    }
    CHECK(contains(text.out, "invented examples"));
    CHECK(run({"presets", "list", "setups"}).out == run({"presets", "list", "setup"}).out);
}

TEST_CASE("presets show: the file byte for byte", "[cli]") {
    for (const EmbeddedFile& file : embedded_files()) {
        std::string key(file.path.substr(file.path.rfind('/') + 1));
        key.resize(key.size() - 5);
        CAPTURE(key);
        CHECK(run({"presets", "show", key}).out == file.text);
    }
}

TEST_CASE("presets show: a file on a terminal cannot steer it, a pipe gets it as it is", "[cli]") {
    const WorkingFolder folder;
    std::filesystem::create_directory("setups");
    const std::string text = "kind = \"setup\" # \x1b[31m red\n# second\n";
    write_file("setups/odd.toml", text);
    World world{false, {{"HITCHWRIGHT_PRESETS", folder.path().string()}}};
    CHECK(run({"presets", "show", "odd"}, world).out == text);
    world.terminal = true;
    CHECK(run({"presets", "show", "odd"}, world).out == "kind = \"setup\" # \\x1b[31m red\n# second\n");
}

TEST_CASE("presets copy: writes a new file and never over another", "[cli]") {
    const WorkingFolder folder;
    const Run first = run({"presets", "copy", "compact-tiller-bottoms-out"});
    CHECK(first.code == 0);
    CHECK(contains(first.out, "compact-tiller-bottoms-out.toml"));
    CHECK(read_file("compact-tiller-bottoms-out.toml") == run({"presets", "show", "compact-tiller-bottoms-out"}).out);
    write_file("compact-tiller-bottoms-out.toml", "mine");
    const Run again = run({"presets", "copy", "compact-tiller-bottoms-out"});
    CHECK(again.code == 4);
    CHECK(contains(unwrap(again.err), "is not overwritten"));
    CHECK(read_file("compact-tiller-bottoms-out.toml") == "mine");
    std::filesystem::create_directory("compact.toml");
    CHECK(run({"presets", "copy", "compact"}).code == 4);
    std::filesystem::create_symlink("nowhere", "utility.toml");
    CHECK(run({"presets", "copy", "utility"}).code == 4);
    CHECK_FALSE(std::filesystem::exists("nowhere"));
    write_file("tiller-5.toml.part0", "mine too");
    CHECK(run({"presets", "copy", "tiller-5"}).code == 0);
    CHECK(read_file("tiller-5.toml.part0") == "mine too");
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(".")) {
        CAPTURE(entry.path().string());
        files += entry.exists() ? 1 : 0;
    }
    CHECK(files == 4);
}

TEST_CASE("presets copy: a copied machine is no measured one, and answers as the built-in did", "[cli][metamorphic]") {
    const WorkingFolder folder;
    std::filesystem::create_directories("own/tractors");
    std::filesystem::create_directories("own/implements");
    std::filesystem::create_directories("own/drivelines");
    REQUIRE(run({"presets", "copy", "compact", "--to", "own/tractors"}).code == 0);
    REQUIRE(run({"presets", "copy", "tiller-5", "--to", "own/implements"}).code == 0);
    REQUIRE(run({"presets", "copy", "shaft-31", "--to", "own/drivelines"}).code == 0);
    const World world{false, {{"HITCHWRIGHT_PRESETS", (folder.path() / "own").string()}}};
    const std::vector<std::string> args = {"fit", "compact-tiller-bottoms-out", "--format", "json"};
    const nlohmann::json built_in = nlohmann::json::parse(run(args).out),
                         copied = nlohmann::json::parse(run(args, world).out);
    for (const auto& input : copied.at("inputs")) {
        CAPTURE(input.dump());
        CHECK(input.at("origin") != "measured");
    }
    CHECK(copied.at("findings") == built_in.at("findings"));
    CHECK(copied.at("verdict") == built_in.at("verdict"));
    const std::string text = read_file("own/tractors/compact.toml");
    const ParsedToml parsed = parse_toml(text, {});
    REQUIRE(parsed.ok());
    REQUIRE(parsed.root.find("origin") != nullptr);
    CHECK(parsed.root.find("origin")->typed == "preset");
}

TEST_CASE("rules list and show: every set, every limit with grade and source", "[cli]") {
    const nlohmann::json list = nlohmann::json::parse(run({"rules", "list", "--format", "json"}).out).at("rule_sets");
    CHECK(list.size() == 7);
    const std::string text = run({"rules", "list"}).out;
    for (const auto& set : list) {
        const std::string key = set.at("key");
        CAPTURE(key);
        CHECK(contains(text, key + ": "));
        const nlohmann::json limits =
            nlohmann::json::parse(run({"rules", "show", key, "--format", "json"}).out).at("limits");
        for (const auto& limit : limits) {
            CAPTURE(limit.dump());
            if (limit.at("value").is_null()) continue;
            CHECK(std::string("ABCDP").find(limit.at("grade").get<std::string>()) != std::string::npos);
            CHECK_FALSE(limit.at("source").get<std::string>().empty());
            CHECK(contains(unwrap(run({"rules", "show", key}).out), unwrap(limit.at("source"))));
        }
    }
}

TEST_CASE("rules show: figures of the general set and where the others come from", "[cli]") {
    // Figures as stated in presets/rules/general.toml and close.toml.
    const nlohmann::json general =
        nlohmann::json::parse(run({"rules", "show", "general", "--format", "json"}).out).at("limits");
    const nlohmann::json close =
        nlohmann::json::parse(run({"rules", "show", "close", "--format", "json"}).out).at("limits");
    const auto find = [](const nlohmann::json& limits, const std::string& key) {
        for (const auto& limit : limits) {
            if (limit.at("key") == key) return limit;
        }
        return nlohmann::json();
    };
    CHECK(find(general, "gap_required").at("value") == 25.0);
    CHECK(find(general, "gap_required").at("unit") == "mm");
    CHECK(find(general, "angle_pto_off").at("value") == 35.0);
    CHECK(find(general, "angle_pto_off").at("from") == "own");
    CHECK(find(close, "gap_required").at("value") == 12.0);
    CHECK(find(close, "gap_required").at("from") == "own");
    CHECK(find(close, "angle_free").at("from") == "general");
}

TEST_CASE("rules list: a broken file of one's own is named and hides no other", "[cli]") {
    const WorkingFolder folder;
    std::filesystem::create_directory("rules");
    write_file("rules/odd.toml", "kind = \"rules\"\nversion = 1\nunit = \"mm\"\ngap_requird = 3\n");
    write_file("rules/close.toml",
               "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"My close\"\ngrade = \"C\"\nsource = "
               "\"mine\"\ngap_required = 5\n");
    const World world{false, {{"HITCHWRIGHT_PRESETS", folder.path().string()}}};
    const Run result = run({"rules", "list"}, world);
    CHECK(result.code == 0);
    CHECK(contains(unwrap(result.out), "odd: cannot be used"));
    CHECK(contains(result.out, "general: General"));
    CHECK(contains(result.out, "close: My close (yours)"));
    CHECK(contains(result.out, "close: Close (hidden by yours)"));
    CHECK(run({"rules", "show", "odd"}, world).code == 3);
    CHECK(contains(run({"rules", "show", "odd"}, world).err, "gap_required"));
    CHECK(contains(run({"fit", "utility-cutter-fits", "--rules", "close"}, world).out, "My close"));
    CHECK(run({"fit", "utility-cutter-fits", "--rules", "odd"}, world).code == 3);
    CHECK(nlohmann::json::parse(run({"rules", "list", "--format", "json"}, world).out).at("rule_sets").size() == 9);
}

TEST_CASE("rules show: a set of one's own by path, its limits rule over those of general", "[cli]") {
    const WorkingFolder folder;
    write_file("mine.toml",
               "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"Mine\"\ngrade = \"B\"\nsource = \"manual, "
               "page 1\"\ngap_required = 60\n");
    const Run result = run({"rules", "show", "mine.toml"});
    CAPTURE(result.err);
    CHECK(result.code == 0);
    CHECK(contains(result.out, "manual, page 1"));
    const nlohmann::json limits =
        nlohmann::json::parse(run({"rules", "show", "mine.toml", "--format", "json"}).out).at("limits");
    CHECK(limits.at(0).at("value") == 60.0);
    CHECK(limits.at(1).at("key") == "gap_aimed");
    CHECK(limits.at(1).at("value") == 60.0);
    CHECK(limits.at(1).at("from") == "derived");
    CHECK(contains(run({"fit", "utility-cutter-fits", "--rules", "./mine.toml"}).out, "Mine"));
}
