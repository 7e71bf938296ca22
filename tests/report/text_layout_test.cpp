// Plain text for a terminal. What is right is stated by hand; widths are counted here with a second, simpler count.
#include "report/text_layout.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace hitchwright;

namespace {

std::vector<std::string> split_lines(const std::string& text) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = text.find('\n', at);
        lines.push_back(text.substr(at, end - at));
        at = end == std::string::npos ? text.size() : end + 1;
    }
    return lines;
}

}  // namespace

TEST_CASE("text layout: lines break at spaces and keep to the width and the indents", "[analytic]") {
    const auto lines = wrap_columns("one two three four five six seven eight nine ten", 40, 2, 4);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0] == "  one two three four five six seven");
    CHECK(lines[1] == "    eight nine ten");
    CHECK(wrap_columns("", 40, 0, 0).empty());
    CHECK(wrap_columns("   ", 40, 0, 0).empty());
}

TEST_CASE("text layout: a number is never torn from its fraction or its unit", "[analytic]") {
    // Without glue the break would fall between 37 and 3/8, or before "in".
    for (std::size_t fill = 20; fill < 42; ++fill) {
        const std::string text = std::string(fill, 'x') + " 37 3/8 in, 25.0 deg. 20.5 % 940 mm; (8 in) +- 1/2 in";
        for (const std::string& line : wrap_columns(text, 40, 0, 0)) {
            INFO(line);
            for (const char* part : {"3/8", "in,", "in)", "deg.", "%", "mm;", "1/2"}) CHECK_FALSE(line.starts_with(part));
        }
    }
}

TEST_CASE("text layout: a word longer than a line is broken inside, nothing is lost", "[analytic]") {
    const std::string word(133, 'w');
    std::string joined;
    for (const std::string& line : wrap_columns(word, 40, 3, 5)) {
        CHECK(line.size() <= 40);
        joined += line.substr(line.find('w'));
    }
    CHECK(joined == word);
}

TEST_CASE("text layout: random words keep order, width and every character", "[random]") {
    constexpr unsigned seed = 20240611;
    INFO("seed " << seed);
    std::mt19937 random(seed);
    std::uniform_int_distribution<int> length(1, 60), letter('a', 'z');
    for (int run = 0; run < 50; ++run) {
        std::string text, letters;
        for (int w = 0; w < 40; ++w) {
            text += w > 0 ? " " : "";
            for (int i = length(random); i > 0; --i) {
                const char c = static_cast<char>(letter(random));
                text += c;
                letters += c;
            }
        }
        std::string got;
        for (const std::string& line : wrap_columns(text, 72, 2, 6)) {
            REQUIRE(line.size() <= 72);
            REQUIRE(line.back() != ' ');
            for (const char c : line) got += c == ' ' ? "" : std::string(1, c);
        }
        CHECK(got == letters);
    }
}

TEST_CASE("text layout: names cannot steer a terminal", "[analytic]") {
    CHECK(printable_text("a\x1b[31mb") == "a\\x1b[31mb");
    CHECK(printable_text("a\nb\tc\x7f") == "a\\x0ab\\x09c\\x7f");
    CHECK(printable_text("a\xE2\x80\xAE"
                         "b") == "a\\u{202e}b");  // right-to-left override
    CHECK(printable_text("a\xFF"
                         "b") == "a\\xffb");          // not UTF-8
    CHECK(printable_text("\xC3\xBC") == "\xC3\xBC");  // u with diaeresis stays
    CHECK(printable_text(std::string(70, 'n')) == std::string(60, 'n') + "...");
}

TEST_CASE("text layout: wide characters take two columns", "[analytic]") {
    CHECK(count_columns("abc") == 3);
    CHECK(count_columns("\xC3\xBC") == 1);
    CHECK(count_columns("\xE6\x97\xA5") == 2);
    CHECK(pad_right("\xE6\x97\xA5", 4) == "\xE6\x97\xA5  ");
    CHECK(pad_left("12", 4) == "  12");
}

TEST_CASE("text layout: a label keeps its spaces and the text hangs behind it", "[analytic]") {
    const std::string text = format_labelled("WATCH  ", "one two three four five six seven eight nine", 40, 0, 4);
    CHECK(split_lines(text) == std::vector<std::string>{"WATCH  one two three four five six seven", "    eight nine"});
    CHECK(format_labelled("! ", "", 40, 2, 4) == "  ! \n");
}

TEST_CASE("text layout: columns line up, first to the left, the rest to the right", "[analytic]") {
    CHECK(format_columns({{"gap", "1 in", "22 in"}, {"overlap", "12 in"}}, 1) ==
          " gap       1 in  22 in\n overlap  12 in\n");
}
