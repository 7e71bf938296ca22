// TOML to source tree: places, kinds, syntax errors, nesting.

#include <catch2/catch.hpp>

#include <random>
#include <string>

#include "presets/toml_reader.h"

using namespace hitchwright;

namespace {

Problem only_problem(const std::string& text) {
    const ParsedToml parsed = parse_toml(text, "x.toml");
    REQUIRE(parsed.problems.size() == 1);
    CHECK(parsed.problems.front().file == "x.toml");
    return parsed.problems.front();
}

/// A character of two or three bytes.
std::string to_utf8(unsigned code) {
    const auto byte = [](unsigned b) { return static_cast<char>(static_cast<unsigned char>(b)); };
    if (code < 0x800) return {byte(0xC0 | code >> 6), byte(0x80 | (code & 0x3F))};
    return {byte(0xE0 | code >> 12), byte(0x80 | (code >> 6 & 0x3F)), byte(0x80 | (code & 0x3F))};
}

}  // namespace

TEST_CASE("toml reader: values keep their kind, their characters and their place", "[analytic]") {
    const ParsedToml parsed = parse_toml(
        "a = 14.50  # note\n"
        "  b = \"\xC2\xBD in\"\n"
        "[t]\n"
        "c.d = { value = -3, note = 'x' }\n"
        "e = [540, 1_000]\n"
        "[[p]]\n"
        "f = true\n"
        "g = 1979-05-27\n",
        "x.toml");
    REQUIRE(parsed.ok());
    const SourceNode& root = parsed.root;
    const SourceNode* a = root.find("a");
    REQUIRE(a != nullptr);
    CHECK(a->kind == SourceKind::number);
    CHECK(a->typed == "14.50");
    CHECK(a->line == 1);
    CHECK(a->column == 5);
    CHECK(root.find("b")->typed == "\xC2\xBD in");
    CHECK(root.find("b")->key_column == 3);
    const SourceNode* value = root.find("t")->find("c")->find("d")->find("value");
    CHECK(value->kind == SourceKind::whole);
    CHECK(value->whole == -3);
    CHECK(value->line == 4);
    CHECK(value->column == 17);
    CHECK(root.find("t")->find("e")->members.at(1).whole == 1000);
    CHECK(root.find("p")->kind == SourceKind::list);
    CHECK(root.find("p")->members.at(0).find("f")->flag);
    CHECK(root.find("p")->members.at(0).find("g")->kind == SourceKind::moment);
    CHECK(root.find("q") == nullptr);
}

TEST_CASE("toml reader: a syntax error is one problem with its place and a plain sentence", "[analytic]") {
    const Problem comma = only_problem("a = 1\nb = 3,25\n");
    CHECK(comma.line == 2);
    CHECK(comma.column == 6);
    CHECK(comma.message == "this cannot be read as TOML: something stands behind the value");
    CHECK(comma.read == "b = 3,25");
    CHECK(comma.allowed.find("3.25") != std::string::npos);
    const Problem fraction = only_problem("a = 3 1/4 in\n");
    CHECK(fraction.allowed.find("\"3 1/4 in\"") != std::string::npos);
    const Problem twice = only_problem("a = 1\na = 2\n");
    CHECK(twice.line == 2);
    CHECK(twice.allowed.find("each key once") != std::string::npos);
    CHECK(only_problem("[pto]\nx = 1\n[pto]\n").line == 3);
    CHECK(only_problem("a = 99999999999999999999\n").message == "this cannot be read as TOML: this number is too large");
    CHECK(only_problem("a = 1e400\n").message == "this cannot be read as TOML: this number is too large");
    CHECK(only_problem("a = 1e-400\n").message == "this cannot be read as TOML: this number is too close to zero");
    CHECK(only_problem("a = \"3'2 1/2\"\"\n").line == 1);
    for (const char* bad : {"a", "a =", "[a", "a = \"x", "= 3", "a = 1e999", "a = {b = 1", "'a\nb' = 1", "a = 0x", "\x01"}) {
        CAPTURE(bad);
        const Problem problem = only_problem(bad);
        CHECK(problem.line >= 1);
        CHECK(problem.message.rfind("this cannot be read as TOML: ", 0) == 0);
    }
}

TEST_CASE("toml reader: a letter outside ASCII where a blank may stand is a problem with its place", "[random]") {
    // Letters of all 64 ranges that the library asks for, and beyond both ends of them.
    for (unsigned c = 0x80; c < 0x10000; c += 61) {
        if (c >= 0xD800 && c < 0xE000) continue;  // no characters
        const std::string letter = to_utf8(c);
        for (const std::string& text : {"0" + letter, "a" + letter + "= 1", "a =" + letter + "1", "a = 1" + letter, "[" + letter + "t]", letter + "a = 1"}) {
            CAPTURE(c, text);
            const Problem problem = only_problem(text + "\nb = 2\n");
            CHECK(problem.line == 1);
            CHECK(problem.column >= 1);
            CHECK(problem.message.starts_with("this cannot be read as TOML"));
        }
    }
}

TEST_CASE("toml reader: nesting without end is refused before parsing", "[analytic]") {
    std::string dots = "a";
    for (int i = 0; i < 200000; ++i) {
        dots += ".a";
    }
    const std::string deep_lists = "a = " + std::string(100000, '[') + "\n";
    std::string deep_tables = "a = ";
    for (int i = 0; i < 50000; ++i) {
        deep_tables += "{a=";
    }
    for (const std::string& text : {dots + " = 1\n", "[" + dots + "]\n", "x = {" + dots + " = 1}\n", deep_lists, deep_tables}) {
        CHECK(only_problem(text).message == "the nesting is too deep to be one of our files");
    }
    // The place counts on through texts of several lines.
    const Problem place = only_problem("a = \"\"\"x\\\ny\"\"\"\nb = ['c', " + std::string(100, '[') + "\n");
    CHECK(place.line == 3);
    CHECK(place.column == 10 + most_nesting);
    // Dots and brackets in texts and comments are none.
    const std::string harmless = "# " + std::string(100, '[') + dots.substr(0, 300) + "\na = \"" + std::string(100, '[') +
                                 "\\\"" + dots.substr(0, 300) + "\"\nb = '''\n" + std::string(100, '{') + "'''\nc = '" +
                                 std::string(100, '.') + "'\n";
    CHECK(parse_toml(harmless, "x").ok());
}

TEST_CASE("toml reader: mutated files crash nothing", "[random]") {
    const unsigned seed = 11;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const std::string good =
        "kind = \"tractor\"\nversion = 1\n[pto]\nstub_x = { value = 11, note = '''a\nb''' }\nspeeds_rpm = [540, 1000]\n"
        "[[upper_link_pin]]\nname = \"1\"\nx = \"3'2 1/2\\\"\"\n";
    const auto pick = [&](std::size_t size) { return std::uniform_int_distribution<std::size_t>(0, size - 1)(random); };
    int parsed = 0;
    for (int round = 0; round < 5000; ++round) {
        std::string text = good;
        for (std::size_t edits = 1 + pick(4); edits > 0; --edits) {
            text[pick(text.size())] = "[]{}\"'=.,#\n\\x1 \xC2\x01"[pick(18)];
        }
        const ParsedToml result = parse_toml(text, "x");
        parsed += result.ok() ? 1 : 0;
        if (!result.ok() && (result.problems.size() != 1 || result.problems.front().line < 1)) {
            FAIL("a refusal without a place: " << text);
        }
    }
    CHECK(parsed > 0);
    CHECK(parsed < 5000);
}
