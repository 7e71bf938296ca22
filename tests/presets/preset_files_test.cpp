// The built-in files: readable, and every limit with its source.

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <string>

#include "geometry/visit_readings.h"
#include "presets/check_file.h"
#include "presets/machine_reader.h"
#include "presets/toml_reader.h"

using namespace hitchwright;

TEST_CASE("built-in presets: every file loads without a problem", "[golden]") {
    const Library library;
    std::size_t count = 0;
    for (const FileKind kind : file_kinds) {
        for (const PresetEntry& entry : library.list(kind)) {
            CAPTURE(entry.file);
            for (const Problem& problem : check_file(entry, library)) {
                FAIL_CHECK(format_problem(problem));
            }
            ++count;
        }
    }
    // Each embedded file is of one kind and in one folder.
    CHECK(count == embedded_files().size());
    CHECK(count > 0);
}

TEST_CASE("built-in presets: every limit of every rule set has a source", "[golden]") {
    const Library library;
    for (const PresetEntry& entry : library.list(FileKind::rules)) {
        CAPTURE(entry.file);
        const ParsedToml parsed = parse_toml(library.read(entry).text, entry.file);
        const bool file_source = parsed.root.find("source") != nullptr;
        for (const SourceNode& member : parsed.root.members) {
            CAPTURE(member.key);
            const bool header = member.kind != SourceKind::table;
            const SourceNode* source = header ? nullptr : member.find("source");
            CHECK((header || file_source || (source != nullptr && !source->typed.empty())));
        }
    }
}

TEST_CASE("built-in presets: with random bytes changed, a value is possible or a problem is said", "[random]") {
    const unsigned seed = 23;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto pick = [&](std::size_t size) { return std::uniform_int_distribution<std::size_t>(0, size - 1)(random); };
    const std::string good = Library(std::string{}).read(FileKind::tractor, "compact").text;
    REQUIRE_FALSE(good.empty());
    const std::string letters = "0123456789.-+eE\"'[]{}=,# \nabxz_/";
    int clean = 0, refused = 0;
    for (int round = 0; round < 2000; ++round) {
        std::string text = good;
        for (std::size_t edits = 1 + pick(3); edits > 0; --edits) {
            text[pick(text.size())] = letters[pick(letters.size())];
        }
        Setup setup;
        Findings findings;
        read_machine_file(setup.tractor, text, "t.toml", Origin::measured, "tractor.", findings);
        visit_readings(setup, [&](const std::string& key, Reading& reading, const FieldSpec& spec) {
            const bool possible = reading.value >= spec.least && reading.value <= spec.most && reading.tolerance >= 0.0 &&
                                  std::isfinite(reading.tolerance) && findings.notes.contains(key);
            if (reading.known && !possible) {
                FAIL(key << " is known, and impossible or without a note");
            }
        });
        for (const Problem& problem : findings.problems) {
            if (problem.message.empty() || problem.line < 1 || problem.column < 1) {
                FAIL("a problem without reason or place: " << format_problem(problem));
            }
        }
        (findings.problems.empty() ? clean : refused) += 1;
    }
    // Most changes hit comments, names or digits; the rest must be noticed.
    CHECK(clean > 100);
    CHECK(refused > 100);
}
