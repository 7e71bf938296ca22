// Cleaning, measuring and wrapping of text.
#include "report/text_measure.h"

#include <catch2/catch.hpp>

#include <string>

#include "report/cairo_writer.h"
#include "report/text_clean.h"

using namespace hitchwright;

TEST_CASE("clean text: clean text is unchanged, also outside ASCII", "[report][analytic]") {
    for (const char* text : {"", "plain & <simple>", "M\xC3\xBCller", "\xE2\x82\xAC 5", "\xF0\x9F\x9A\x9C"})
        CHECK(clean_text(text) == text);
}

TEST_CASE("clean text: control characters become spaces", "[report][analytic]") {
    CHECK(clean_text("a\nb\tc\x1B[31md\x7F"
                     "e") == "a b c [31md e");
    CHECK(clean_text(std::string("a\0b", 3)) == "a b");
    CHECK(clean_text("a\xC2\x85"
                     "b\xE2\x80\xA8"
                     "c") == "a b c");
}

TEST_CASE("clean text: bytes that are not UTF-8 become a visible mark each", "[report][analytic]") {
    const std::string mark = "\xEF\xBF\xBD";
    CHECK(clean_text("a\xFFz") == "a" + mark + "z");
    CHECK(clean_text("\xC0\xAF") == mark + mark);                        // overlong
    CHECK(clean_text("\xED\xA0\x80") == mark + mark + mark);             // surrogate
    CHECK(clean_text("\xF4\x90\x80\x80") == mark + mark + mark + mark);  // beyond U+10FFFF
    CHECK(clean_text("x\xE2\x82") == "x" + mark + mark);                 // cut off
    CHECK(clean_text("\xEF\xBF\xBE") == mark);                           // not allowed in XML
}

TEST_CASE("clean text: marks that turn the text behind them become a visible mark", "[report][analytic]") {
    const std::string mark = "\xEF\xBF\xBD";
    for (const char* turning : {"\xD8\x9C", "\xE2\x80\x8E", "\xE2\x80\x8F", "\xE2\x80\xAA", "\xE2\x80\xAE", "\xE2\x81\xA6", "\xE2\x81\xA9"})
        CHECK(clean_text(std::string("a") + turning + "b") == "a" + mark + "b");
    for (const char* kept : {"\xE2\x80\x8D", "\xD7\x90\xD7\x91", "\xD8\xA7", "\xE2\x80\xA9"})  // joiner, letters that run from the right, separator
        CHECK(clean_text(kept).find(mark) == std::string::npos);
}

TEST_CASE("text width: the built-in widths agree with the font they were taken from", "[report][oracle]") {
    // Second route: the font renderer. Holds where DejaVu Sans is installed, which the project's packages bring along;
    // kerning is what is left, under 3 % of any of these.
    const auto cairo = make_cairo_text_measure();
    const BuiltInTextMeasure built_in;
    for (const bool bold : {false, true}) {
        for (const char* text : {"joint to joint 37 3/8 in", "CUT 5 5/8 in FROM EACH HALF", "{~!@#$%^&*()_+|}",
                                 "ball height 0123456789"}) {
            CAPTURE(text, bold);
            const TextFace face{3.0, bold};
            const double expected = cairo->width_mm(text, face);
            CHECK(expected > 0.0);
            CHECK(std::abs(built_in.width_mm(text, face) - expected) < 0.03 * expected);
        }
    }
}

TEST_CASE("text width: grows in proportion to size and counts characters, not bytes", "[report][metamorphic]") {
    const BuiltInTextMeasure measure;
    CHECK(measure.width_mm("", {3.0, false}) == 0.0);
    CHECK(std::abs(measure.width_mm("overlap", {6.0, false}) - 2.0 * measure.width_mm("overlap", {3.0, false})) <
          1e-12);
    CHECK(measure.width_mm("\xC3\xBC", {3.0, false}) < 1.01 * 3.0);
    CHECK(measure.width_mm("overlap", {3.0, true}) > measure.width_mm("overlap", {3.0, false}));
}

TEST_CASE("wrap: every line fits, no word is lost, numbers keep fraction and unit", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    const TextFace face{3.0, false};
    const std::string text =
        "Cut 3 5/8 in from each half: the shaft bottoms out by 1 1/16 in, and 25 deg at 20 3/4 in.";
    for (double width = 24.0; width < 120.0; width += 1.5) {
        CAPTURE(width);
        std::string joined;
        for (const std::string& line : wrap_text(text, face, width, measure)) {
            CHECK(measure.width_mm(line, face) <= width);
            joined += (joined.empty() ? "" : " ") + line;
            for (const char* torn : {"3", "1", "20", "5/8", "1/16", "3/4", "25"}) {
                CHECK(line.substr(line.rfind(' ') + 1) != torn);
            }
        }
        CHECK(joined == text);
    }
}

TEST_CASE("wrap: a word wider than the line is broken inside, whole characters only", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    const TextFace face{3.0, false};
    std::string joined;
    for (const std::string& line : wrap_text("\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC", face, 4.0, measure)) {
        CHECK(clean_text(line) == line);
        joined += line;
    }
    CHECK(joined == "\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC");
    CHECK(wrap_text("abc", face, 0.1, measure).size() == 3);
    CHECK(wrap_text("", face, 40.0, measure).empty());
    CHECK(wrap_text("   ", face, 40.0, measure).empty());
}

TEST_CASE("shorten: what fits stays, what does not ends in dots and fits", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    const TextFace face{3.0, false};
    CHECK(shorten_text("deck", face, 40.0, measure) == "deck");
    const std::string cut = shorten_text("a very long name of an implement", face, 20.0, measure);
    CHECK(cut.substr(cut.size() - 3) == "...");
    CHECK(measure.width_mm(cut, face) <= 20.0);
}
