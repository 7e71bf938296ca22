// Trees that are kept: the same as parsed anew, and forgotten with the text they are of.

#include <catch2/catch.hpp>

#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "presets/load_tree.h"
#include "presets/parsed_files.h"

using namespace hitchwright;

TEST_CASE("parsed files: a text read before is not parsed again, another one under its name is", "[analytic]") {
    ParsedFiles files;
    const auto first = files.parse("a = 1\n", "x.toml");
    REQUIRE(first->root.find("a") != nullptr);
    CHECK(first->root.find("a")->whole == 1);
    CHECK(files.parse(std::string("a = 1\n"), "x.toml") == first);
    // Problems name the file: the same text of another one is not the same.
    const auto other = files.parse("a = ", "y.toml");
    const auto named = files.parse("a = ", "z.toml");
    REQUIRE(other->problems.size() == 1);
    REQUIRE(named->problems.size() == 1);
    CHECK(other->problems.front().file == "y.toml");
    CHECK(named->problems.front().file == "z.toml");
    const auto changed = files.parse("a = 2\n", "x.toml");
    CHECK(changed->root.find("a")->whole == 2);
    CHECK(first->root.find("a")->whole == 1);
    CHECK(files.parse("a = 1\n", "x.toml") != first);
}

TEST_CASE("parsed files: of many files the one asked for longest ago is forgotten", "[analytic]") {
    ParsedFiles files;
    const auto name = [](std::size_t i) { return std::to_string(i) + ".toml"; };
    std::vector<std::shared_ptr<const ParsedToml>> first;
    for (std::size_t i = 0; i < ParsedFiles::most_kept; ++i) first.push_back(files.parse("a = 1\n", name(i)));
    CHECK(files.parse("a = 1\n", name(0)) == first[0]);
    files.parse("a = 1\n", "one more.toml");
    CHECK(files.parse("a = 1\n", name(0)) == first[0]);
    CHECK(files.parse("a = 1\n", name(2)) == first[2]);
    CHECK(files.parse("a = 1\n", name(1)) != first[1]);
}

TEST_CASE("parsed files: several threads may ask at once", "[random]") {
    ParsedFiles files;
    std::vector<std::thread> threads;
    std::vector<int> right(4, 0);
    for (std::size_t t = 0; t < right.size(); ++t) {
        threads.emplace_back([&, t] {
            for (int i = 0; i < 200; ++i) {
                const std::string text = "a = " + std::to_string(i % 7) + "\n";
                right[t] += files.parse(text, std::to_string(i % 3) + ".toml")->root.find("a")->whole == i % 7;
            }
        });
    }
    for (std::thread& thread : threads) thread.join();
    CHECK(right == std::vector<int>(4, 200));
}

TEST_CASE("parsed files: a set-up loaded with them is the one loaded without, again and again", "[metamorphic]") {
    const Library library;
    ParsedFiles files;
    for (int round = 0; round < 2; ++round) {
        for (const PresetEntry& entry : library.list(FileKind::setup)) {
            INFO(entry.key);
            for (const LoadOptions& options : {LoadOptions{}, LoadOptions{{"choices.working_pitch=0.25 deg"}, {}}, LoadOptions{{"tractor.no_such_key=1"}, {}}}) {
                const LoadedSetup plain = load_setup(entry.key, library, options), kept = load_setup(entry.key, library, options, files);
                CHECK(kept.setup == plain.setup);
                CHECK(kept.problems == plain.problems);
                CHECK(kept.notes == plain.notes);
                CHECK(kept.files == plain.files);
                CHECK(kept.unit == plain.unit);
            }
        }
    }
}
