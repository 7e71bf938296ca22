// JSON as a source tree: what is read, where it stood, what is refused.
#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "presets/content_digest.h"
#include "presets/json_tree.h"
#include "presets/toml_reader.h"

using namespace hitchwright;

namespace {

/// The tree without its places.
SourceNode without_places(SourceNode node) {
    node.line = node.column = node.key_line = node.key_column = 0;
    for (SourceNode& member : node.members) member = without_places(member);
    return node;
}

bool same(const SourceNode& a, const SourceNode& b) {
    bool equal = a.kind == b.kind && a.key == b.key && a.typed == b.typed && a.number == b.number && a.whole == b.whole && a.flag == b.flag && a.line == b.line && a.column == b.column && a.members.size() == b.members.size();
    for (std::size_t i = 0; equal && i < a.members.size(); ++i) equal = same(a.members[i], b.members[i]);
    return equal;
}

}  // namespace

TEST_CASE("json tree: the same tree as the same values in TOML", "[oracle]") {
    const ParsedJson json = parse_json(R"({"unit": "in", "a": {"b": 3.25, "c": -4, "d": true}, "l": [{"n": "1", "x": 1e-3}, {"n": "2", "x": 7}], "s": "3-1/4 in \u00bd"})", "x");
    const ParsedToml toml = parse_toml("unit = \"in\"\na = {b = 3.25, c = -4, d = true}\nl = [{n = \"1\", x = 1e-3}, {n = \"2\", x = 7}]\ns = \"3-1/4 in \xc2\xbd\"\n", "x");
    REQUIRE(json.ok());
    REQUIRE(toml.ok());
    CHECK(same(without_places(json.root), without_places(toml.root)));
}

TEST_CASE("json tree: places count characters, on the line given", "[analytic]") {
    const ParsedJson parsed = parse_json("  {\"\xc3\xa9\": [1, \"\xe2\x82\xac\", 22]}", "x", 17);
    REQUIRE(parsed.ok());
    const SourceNode& list = parsed.root.members.front();
    CHECK((parsed.root.line == 17 && parsed.root.column == 3));
    CHECK((list.key_column == 4 && list.column == 9));
    CHECK((list.members[0].column == 10 && list.members[1].column == 13 && list.members[2].column == 18));
    const ParsedJson broken = parse_json("{\"\xc3\xa9\": oh}", "x", 3);
    REQUIRE(broken.problems.size() == 1);
    CHECK((broken.problems[0].line == 3 && broken.problems[0].column == 7 && broken.problems[0].read == "oh}"));
    CHECK_FALSE(broken.readable);
}

TEST_CASE("json tree: what is read is written as it was", "[metamorphic]") {
    for (const char* text : {"null", "[]", "{}", "-0", "0.10", "1E+5", "123456789012345678901234567890", R"("\"\\\u0001\u007f\u00e9\ud83d\ude9c")", R"({"a":[true,false,{"b":null}],"":1})"}) {
        CAPTURE(text);
        const ParsedJson parsed = parse_json(text, "x");
        REQUIRE(parsed.ok());
        CHECK(format_source_json(parsed.root) == text);
    }
    CHECK(format_source_json(parse_json(" { \"a\" : [ 1 ,\t2 ] , \"b\" : \"\\/\\b\" } ", "x").root) == R"({"a":[1,2],"b":"/\u0008"})");
}

TEST_CASE("json tree: text that is none is refused in one sentence, whatever it is", "[analytic]") {
    const std::vector<std::string> wrong = {"", " ", "{", "}", "[1,]", "[1 2]", "{\"a\"}", "{\"a\":}", "{\"a\":1,}", "{a:1}", "'a'", "01", "1.", ".5", "+1", "1e", "- 1", "tru", "nul", "NaN", "-Infinity",
                                            "\"a", "\"\\q\"", "\"\\u12\"", "\"\\ud800x\"", "\"\\udc00\"", "\"\\ud800\\u0041\"", "\"a\nb\"", "1 2", "[1]]", "\xff", "\"\xc3\"", std::string("\"\0\"", 3), "// x\n1"};
    for (const std::string& text : wrong) {
        CAPTURE(text);
        const ParsedJson parsed = parse_json(text, "x");
        CHECK_FALSE(parsed.readable);
        REQUIRE(parsed.problems.size() == 1);
        CHECK_FALSE(parsed.problems[0].message.empty());
    }
    // Every beginning of a good text is no good text, and none of them does harm.
    const std::string good = R"({"a":[1.5e3,"\ud83d\ude9c",{"b":[null,true]}]})";
    for (std::size_t n = 0; n < good.size(); ++n) CHECK_FALSE(parse_json(std::string_view(good).substr(0, n), "x").readable);
    CHECK(parse_json(good, "x").readable);
}

TEST_CASE("json tree: nesting and number of values are held, a key twice is said and passed over", "[analytic]") {
    const auto nest = [](int depth) { return std::string(static_cast<std::size_t>(depth), '[') + std::string(static_cast<std::size_t>(depth), ']'); };
    CHECK(parse_json(nest(most_nesting + 1), "x").ok());
    CHECK_FALSE(parse_json(nest(most_nesting + 2), "x").readable);
    CHECK_FALSE(parse_json(std::string(1000000, '['), "x").readable);
    std::string many = "[0";
    for (std::size_t i = 0; i + 2 < most_json_values; ++i) many += ",0";
    CHECK(parse_json(many + "]", "x").ok());
    CHECK_FALSE(parse_json(many + ",0]", "x").readable);
    const ParsedJson twice = parse_json(R"({"a": 1, "b": 2, "a": 3})", "x");
    CHECK(twice.readable);
    REQUIRE(twice.problems.size() == 1);
    CHECK((twice.problems[0].key == "a" && twice.problems[0].column == 18));
    CHECK(twice.root.members.size() == 2);
}

TEST_CASE("content digest: published values, and the borders between texts count", "[oracle]") {
    // FNV-1a of no byte at all is its offset basis; a text's length goes in behind it.
    CHECK(ContentDigest().text() == "cbf29ce484222325");
    CHECK(ContentDigest().add("ab").add("c").text() != ContentDigest().add("a").add("bc").text());
    CHECK(ContentDigest().add("a").text() != ContentDigest().add("a").add("").text());
    CHECK(ContentDigest().add("a").text() == ContentDigest().add("a").text());
}
