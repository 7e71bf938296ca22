// SVG: escaping, well-formedness, sameness.
#include "report/svg_writer.h"

#include <catch2/catch.hpp>

#include <limits>
#include <string>
#include <vector>

#include "report/text_clean.h"
#include "tests/report/sample_scene.h"

using namespace hitchwright;

namespace {

/// Second route to well-formedness: a reader for the small part of XML the writer may use. Checks nesting, attribute
/// quoting, entities and that no raw < or & is left. Returns what is wrong, or nothing.
std::string check_xml(const std::string& xml) {
    std::vector<std::string> open;
    std::size_t at = 0;
    if (xml.rfind("<?xml ", 0) == 0) at = xml.find("?>") + 2;
    bool root_seen = false;
    while (at < xml.size()) {
        if (xml[at] != '<') {
            if (xml[at] == '&') {
                bool known = false;
                for (const char* entity : {"&amp;", "&lt;", "&gt;", "&quot;", "&apos;"})
                    known = known || xml.compare(at, std::string(entity).size(), entity) == 0;
                if (!known) return "stray & at " + std::to_string(at);
            }
            if (xml[at] == '>') return "stray > at " + std::to_string(at);
            if (static_cast<unsigned char>(xml[at]) < 0x20 && xml[at] != '\n')
                return "control character at " + std::to_string(at);
            if (open.empty() && xml[at] != '\n') return "text outside the root at " + std::to_string(at);
            ++at;
            continue;
        }
        const bool closing = xml[at + 1] == '/';
        std::size_t end = at + (closing ? 2 : 1);
        const std::size_t name_from = end;
        while (end < xml.size() && xml[end] != ' ' && xml[end] != '>' && xml[end] != '/') ++end;
        const std::string name = xml.substr(name_from, end - name_from);
        if (closing) {
            if (open.empty() || open.back() != name) return "wrong closing tag " + name;
            open.pop_back();
            at = end + 1;
            continue;
        }
        if (open.empty() && root_seen) return "second root " + name;
        root_seen = true;
        while (xml[end] == ' ') {
            const std::size_t equals = xml.find("=\"", end);
            const std::size_t quote = xml.find('"', equals + 2);
            if (equals == std::string::npos || quote == std::string::npos) return "attribute without quotes in " + name;
            if (xml.substr(equals + 2, quote - equals - 2).find('<') != std::string::npos)
                return "< in an attribute of " + name;
            end = quote + 1;
        }
        const bool empty = xml[end] == '/';
        if (empty) ++end;
        if (xml[end] != '>') return "unfinished tag " + name;
        if (!empty) open.push_back(name);
        at = end + 1;
    }
    return open.empty() ? "" : "not closed: " + open.back();
}

/// Everything between < and >, where numbers and references stand.
std::string tags_of(const std::string& xml) {
    std::string tags;
    bool inside = false;
    for (char c : xml) {
        inside = inside || c == '<';
        if (inside) tags += c;
        inside = inside && c != '>';
    }
    return tags;
}

bool is_valid_utf8(const std::string& text) {
    for (std::size_t at = 0; at < text.size();) {
        const DecodedCharacter c = decode_character(text, at);
        if (!c.valid) return false;
        at += c.bytes;
    }
    return true;
}

PagePicture page_with_text(const std::string& text) {
    PagePicture page;
    page.title = text;
    page.description = text;
    page.shapes.push_back({Role::label, PagePart::normal, PageText{{10, 10}, text, {3.0, false}, 20.0}});
    return page;
}

}  // namespace

TEST_CASE("svg: markup characters are escaped, control characters and broken bytes are gone", "[report][analytic]") {
    CHECK(escape_xml("a & b < c > d \"e\" 'f'") == "a &amp; b &lt; c &gt; d &quot;e&quot; &apos;f&apos;");
    CHECK(escape_xml("a\x01\nb") == "a  b");
    CHECK(escape_xml("]]>") == "]]&gt;");
    CHECK(escape_xml("\xFF") == "\xEF\xBF\xBD");
    CHECK(escape_xml("M\xC3\xBCller") == "M\xC3\xBCller");
}

TEST_CASE("svg: names people type cannot break the file", "[report][analytic]") {
    for (const char* text :
         {"</text><script>alert(1)</script>", "\" onload=\"x", "&#0;", "<!-- -->", "\xC3", "\x1B[2J", "]]>", "&amp;"}) {
        CAPTURE(text);
        const std::string svg = write_svg(page_with_text(text));
        CHECK(check_xml(svg) == "");
        CHECK(svg.find("<script") == std::string::npos);
        CHECK(svg.find("<!--") == std::string::npos);
        CHECK(is_valid_utf8(svg));
    }
}

TEST_CASE("svg: the check for well-formedness finds faults", "[report][analytic]") {
    CHECK(check_xml("<a><b/></a>\n") == "");
    CHECK(check_xml("<a><b></a>") != "");
    CHECK(check_xml("<a>x & y</a>") != "");
    CHECK(check_xml("<a b=c/>") != "");
    CHECK(check_xml("<a/><b/>") != "");
    CHECK(check_xml("<a>") != "");
}

TEST_CASE("svg: whole pages are well-formed, carry their roles and no scripts or links", "[report][analytic]") {
    const BuiltInTextMeasure measure;
    for (const auto& scene :
         {sample::compact_tiller(), sample::utility_cutter(), sample::compact_blade(), sample::compact_flail()}) {
        const std::string svg = write_svg(compose_side_view(scene, letter_landscape, measure));
        CHECK(check_xml(svg) == "");
        CHECK(svg.find("width=\"279.4mm\" height=\"215.9mm\" viewBox=\"0 0 279.4 215.9\"") != std::string::npos);
        CHECK(svg.find("class=\"lower_link\"") != std::string::npos);
        CHECK(svg.find("class=\"ghost\"") != std::string::npos);
        const std::string tags = tags_of(svg);
        for (const char* unwanted : {"<script", "href", "url(", "nan", "inf"}) {
            CAPTURE(unwanted);
            CHECK(tags.find(unwanted) == std::string::npos);
        }
    }
}

TEST_CASE("svg: the same picture gives the same bytes", "[report][metamorphic]") {
    const BuiltInTextMeasure measure;
    const std::string once = write_svg(compose_side_view(sample::compact_tiller(), a4_landscape, measure));
    CHECK(once == write_svg(compose_side_view(sample::compact_tiller(), a4_landscape, measure)));
}

TEST_CASE("svg: a small picture is written as expected", "[report][golden]") {
    PagePicture page;
    page.width_mm = 40;
    page.height_mm = 20.5;
    page.title = "A & B";
    page.description = "two shapes";
    page.shapes.push_back({Role::dimension, PagePart::normal, PagePath{{{1, 2}, {3.25, -0.0001}}, false}});
    page.shapes.push_back({Role::pin_chosen, PagePart::normal, PageCircle{{5, 6}, 1.25}});
    page.shapes.push_back({Role::label, PagePart::normal, PageText{{1, 9}, "3/8 in", {2.6, true}, 8.5}});
    CHECK(
        write_svg(page) ==
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"40mm\" height=\"20.5mm\" viewBox=\"0 0 40 "
        "20.5\">\n"
        "<title>A &amp; B</title>\n<desc>two shapes</desc>\n"
        "<rect width=\"40\" height=\"20.5\" fill=\"#ffffff\"/>\n"
        "<g class=\"dimension\" fill=\"none\" stroke=\"#1a1c20\" stroke-width=\"0.18\" stroke-linecap=\"round\" "
        "stroke-linejoin=\"round\">\n"
        "<path d=\"M1 2L3.25 0\"/>\n</g>\n"
        "<g class=\"pin_chosen\" fill=\"#1a1c20\" stroke=\"#1a1c20\" stroke-width=\"0.35\" stroke-linecap=\"round\" "
        "stroke-linejoin=\"round\">\n"
        "<circle cx=\"5\" cy=\"6\" r=\"1.25\"/>\n</g>\n"
        "<g class=\"label\" fill=\"#1a1c20\" stroke=\"none\" font-family=\"DejaVu Sans, Verdana, Arial, sans-serif\">\n"
        "<text x=\"1\" y=\"9\" font-size=\"2.6\" font-weight=\"bold\" textLength=\"8.5\" "
        "lengthAdjust=\"spacingAndGlyphs\">3/8 in</text>\n</g>\n"
        "</svg>\n");
}

TEST_CASE("svg: shapes that are no numbers are left out", "[report][analytic]") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    PagePicture page;
    page.shapes.push_back({Role::mast, PagePart::normal, PagePath{{{1, none}, {2, 2}}, false}});
    page.shapes.push_back({Role::pin, PagePart::normal, PageCircle{{1, 1}, none}});
    page.shapes.push_back({Role::label, PagePart::normal, PageText{{none, 1}, "x", {3, false}, 1}});
    const std::string svg = write_svg(page);
    CHECK(check_xml(svg) == "");
    CHECK(svg.find("<path") == std::string::npos);
    CHECK(svg.find("<circle") == std::string::npos);
    CHECK(svg.find("<text") == std::string::npos);
}
