// The code of a set-up: RFC 9285's own examples, there and back for every built-in file, and codes that are none.
#include "presets/setup_code.h"

#include <catch2/catch.hpp>

#include <random>

#include "presets/base45.h"
#include "presets/library.h"
#include "presets/load_setup.h"

using namespace hitchwright;

TEST_CASE("base45: the examples of RFC 9285", "[standard]") {
    CHECK(encode_base45("AB") == "BB8");
    CHECK(encode_base45("Hello!!") == "%69 VD92EX0");
    CHECK(encode_base45("base-45") == "UJCLQE7W581");
    CHECK(decode_base45("QED8WEX0") == "ietf!");
    CHECK(decode_base45("BB8") == "AB");
    CHECK_FALSE(decode_base45("GGW"));  // 65536
    CHECK_FALSE(decode_base45("ab8"));
    CHECK_FALSE(decode_base45("BB8A"));
}

TEST_CASE("base45: random bytes come back", "[random]") {
    std::mt19937 random(45);
    for (int i = 0; i < 200; ++i) {
        std::string bytes(static_cast<std::size_t>(i), '\0');
        for (char& c : bytes) c = static_cast<char>(random() & 0xFFU);
        CHECK(decode_base45(encode_base45(bytes)) == bytes);
    }
}

TEST_CASE("comments: dropped outside strings only", "[presets]") {
    CHECK(drop_comments("# head\nname = \"a # b\" # note\n\n  x = 1   \n") == "name = \"a # b\"\n  x = 1\n");
    CHECK(drop_comments("a = 'x # \\'\nb = 2 # c") == "a = 'x # \\'\nb = 2\n");
    CHECK(drop_comments("t = \"\"\"one # two\n\"quoted\" \\\" # three\"\"\"\"\ny = 1") ==
          "t = \"\"\"one # two\n\"quoted\" \\\" # three\"\"\"\"\ny = 1\n");
    CHECK(drop_comments("s = \"ends \\\\\" # c\n") == "s = \"ends \\\\\"\n");
    CHECK(drop_comments("open = \"never closed # x") == "open = \"never closed # x\n");
    CHECK(drop_comments("").empty());
}

TEST_CASE("code: every built-in set-up comes back as the same set-up", "[presets][metamorphic]") {
    const Library library;
    int seen = 0;
    for (const std::string& name : {std::string("compact-tiller-bottoms-out"), std::string("utility-cutter-fits"),
                                    std::string("utility-drawn-cutter-short")}) {
        const PresetText text = library.read(FileKind::setup, name);
        REQUIRE(text.ok());
        const std::string code = pack_code({{"setup.toml", text.text}});
        const UnpackedCode back = unpack_code(" " + code + "\n");
        REQUIRE(back.ok());
        REQUIRE(back.files.size() == 1);
        PresetText again = text;
        again.text = back.files.front().text;
        CHECK(load_setup(again, library).setup == load_setup(text, library).setup);
        ++seen;
    }
    CHECK(seen == 3);
}

TEST_CASE("code: one letter wrong, cut short or not a code at all is refused in a sentence", "[presets]") {
    const std::string code = pack_code({{"setup.toml", "x = 1\n"}, {"b.toml", "y = 2\n"}});
    REQUIRE(unpack_code(code).files.size() == 2);
    CHECK(unpack_code(code).files[1] == CodeFile{"b.toml", "y = 2\n"});
    for (std::size_t i = 0; i < code.size(); ++i) {
        std::string wrong = code;
        wrong[i] = wrong[i] == 'A' ? 'B' : 'A';
        const UnpackedCode u = unpack_code(wrong);
        CHECK_FALSE(u.ok());
        CHECK(u.files.empty());
    }
    for (std::size_t n = 0; n < code.size(); ++n) CHECK_FALSE(unpack_code(code.substr(0, n)).ok());
    CHECK_FALSE(unpack_code("").ok());
    CHECK_FALSE(unpack_code(pack_code({{"../a.toml", "x = 1\n"}})).ok());
    CHECK_FALSE(unpack_code(pack_code({{".a.toml", "x = 1\n"}})).ok());
    CHECK_FALSE(unpack_code(pack_code({{"setup.toml", "x = 1\n"}, {"a.sh", "x = 1\n"}})).ok());
    CHECK_FALSE(unpack_code(pack_code({{"a.toml", "x = 1\n"}})).ok());  // does not begin with a set-up
    for (const char* name : {"../a.toml", ".a.toml", "-rf.toml", "SETUP.toml", "b/c.toml"})
        CHECK_FALSE(unpack_code(pack_code({{"setup.toml", "x = 1\n"}, {name, "y = 2\n"}})).ok());
    std::vector<CodeFile> many{{"setup.toml", ""}};
    for (int i = 0; i < 16; ++i) many.push_back({"f" + std::to_string(i) + ".toml", ""});
    CHECK_FALSE(unpack_code(pack_code(many)).ok());
}
