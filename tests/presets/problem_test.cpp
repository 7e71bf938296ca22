// Problems as text, escaping, order, nearest words.

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include "presets/nearest.h"
#include "presets/problem.h"

using namespace hitchwright;

TEST_CASE("problem: the first line is FILE:LINE:COL: KEY: MESSAGE, the second what was read and is allowed", "[golden]") {
    const Problem problem{"a.toml", 3, 7, "pto.stub_x", "this is not a length", "\"abc\"", "a length such as 14 in", "pto.stub_z"};
    CHECK(format_problem(problem) ==
          "a.toml:3:7: pto.stub_x: this is not a length\n"
          "    read: \"abc\"; allowed: a length such as 14 in; nearest: pto.stub_z");
    CHECK(format_problem({"a.toml", 0, 0, {}, "there is no such file", {}, {}, {}}) == "a.toml: there is no such file");
}

TEST_CASE("problem: nothing typed can steer a terminal", "[analytic]") {
    // Escape sequences, a line end, delete, a C1 control (U+009B), right-to-left override (U+202E), a zero
    // width space (U+200B), and broken UTF-8.
    const std::string nasty = "a\x1b[2J\r\n\x7f\xC2\x9B\xE2\x80\xAE\xE2\x80\x8B\xFF";
    const Problem problem{nasty, 1, 1, nasty, nasty, nasty, nasty, nasty};
    const std::string text = format_problem(problem);
    for (const char* part : {"\x1b", "\r", "\x7f", "\xC2\x9B", "\xE2\x80\xAE", "\xE2\x80\x8B", "\xFF"}) {
        CHECK(text.find(part) == std::string::npos);
    }
    CHECK(std::count(text.begin(), text.end(), '\n') == 1);
    CHECK(escape_text(nasty) == "a\\x1b[2J\\r\\n\\x7f\\x9b\\u202e\\u200b\\xff");
    CHECK(escape_text("caf\xC3\xA9 \xC2\xBD") == "caf\xC3\xA9 \xC2\xBD");
    CHECK(escape_text(std::string(500, 'x'), 10) == "xxxxxxxxxx...");
    CHECK(has_control_characters("a\nb", true));
    CHECK_FALSE(has_control_characters("a\nb\t", false));
    CHECK(has_control_characters("a\x1b", false));
    CHECK(has_control_characters("a\xC3", false));
}

TEST_CASE("problem: sorting is by place within a file and keeps the order of files", "[analytic]") {
    std::vector<Problem> problems = {{"b", 9, 1, "1", {}, {}, {}, {}}, {"a", 5, 2, "2", {}, {}, {}, {}},
                                     {"b", 2, 8, "3", {}, {}, {}, {}}, {"a", 5, 1, "4", {}, {}, {}, {}}};
    sort_problems(problems);
    std::string order;
    for (const Problem& problem : problems) {
        order += problem.key;
    }
    CHECK(order == "3142");
}

TEST_CASE("nearest word: the edit distance counts insertions, deletions, changes and swaps", "[analytic]") {
    CHECK(edit_distance("", "abc") == 3);
    CHECK(edit_distance("stub_x", "stub_x") == 0);
    CHECK(edit_distance("stubx", "stub_x") == 1);
    CHECK(edit_distance("sutb_x", "stub_x") == 1);
    CHECK(edit_distance("STUB_X", "stub_x") == 0);
    CHECK(edit_distance("kitten", "sitting") == 3);
}

TEST_CASE("nearest word: a typing slip finds its word, something else finds none", "[analytic]") {
    const std::vector<std::string> words = {"stub_x", "stub_z", "power", "rotation"};
    CHECK(nearest_word("stubx", words) == "stub_x");
    CHECK(nearest_word("rotatoin", words) == "rotation");
    CHECK(nearest_word("Power", words) == "power");
    CHECK(nearest_word("category", words).empty());
    CHECK(nearest_word("", words).empty());
    CHECK(nearest_word(std::string(100000, 'x'), words).empty());
    CHECK(nearest_word("ab", {"xy"}).empty());
}
