// Blocks of an answer: what a terminal prints of each kind, and what is for a window alone.
#include <catch2/catch.hpp>

#include "report/answer_blocks.h"
#include "report/caution_text.h"

using namespace hitchwright;

TEST_CASE("answer blocks: each kind prints as the terminal lays it out", "[golden]") {
    AnswerBuilder out({UnitSystem::inch, 40, false});
    out.answer("IT LIFTS.");
    out.gap();
    out.heading("Lift");
    out.words("one two three four five six seven eight nine ten", 2, 4);
    out.item("1  ", "the first of them", 0, 3);
    out.table({{"height", "rise"}, {"8 in", "1.2"}});
    out.table({{"a"}}, "as it stands\n");
    CHECK(format_blocks(out.take(), out.style()) ==
          "IT LIFTS.\n"
          "\n"
          "Lift\n"
          "  one two three four five six seven\n"
          "    eight nine ten\n"
          "1  the first of them\n"
          "  height  rise\n"
          "  8 in     1.2\n"
          "as it stands\n");
}

TEST_CASE("answer blocks: words for a window alone are not printed, words for a terminal are", "[metamorphic]") {
    AnswerBuilder out({UnitSystem::inch, 80, false});
    out.words("both", 0, 0);
    out.words("typed: --all", 0, 0, BlockPlace::terminal);
    out.words("pressed", 0, 0, BlockPlace::window);
    out.heading("terminal", 0, BlockPlace::terminal);
    out.heading("window", 0, BlockPlace::window);
    const std::vector<AnswerBlock> blocks = out.take();
    CHECK(blocks.size() == 5);
    CHECK(format_blocks(blocks, out.style()) == "both\ntyped: --all\nterminal\n");
}

TEST_CASE("answer blocks: a grave item has its mark coloured, and no letter of it changes", "[metamorphic]") {
    const auto print = [](bool colour) {
        AnswerBuilder out({UnitSystem::inch, 80, colour});
        out.item("OUT  ", "pedal free play", 0, 4).severity = Severity::forbids;
        return format_blocks(out.take(), out.style());
    };
    CHECK(print(false) == "OUT  pedal free play\n");
    std::string coloured = print(true);
    CHECK(coloured != print(false));
    for (const char* code : {"\x1b[1;31m", "\x1b[0m"}) {
        const std::size_t at = coloured.find(code);
        REQUIRE(at != std::string::npos);
        coloured.erase(at, std::string(code).size());
    }
    CHECK(coloured == print(false));
}

TEST_CASE("answer blocks: cautions end the answer, each with its mark", "[golden]") {
    AnswerBuilder out({UnitSystem::inch, 80, false});
    out.cautions({Caution::nobody_between, Caution::manual_rules});
    const std::string text = format_blocks(out.take(), out.style());
    CHECK(text.starts_with("\nCautions\n  ! " + std::string(caution_sentence(Caution::nobody_between))));
    CHECK(text.find("  ! " + std::string(caution_sentence(Caution::manual_rules)).substr(0, 40)) != std::string::npos);
}
