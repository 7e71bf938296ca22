// HTML of placed pages: the pages as the SVG writer writes them, sizes of paper, hostile titles, greys.
#include "report/html_writer.h"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

#include "report/svg_writer.h"

using namespace hitchwright;

namespace {

PagePicture page_of(double width_mm, double height_mm, const std::string& text) {
    PagePicture page;
    page.width_mm = width_mm;
    page.height_mm = height_mm;
    page.title = page.description = text;
    page.shapes.push_back({Role::label, PagePart::normal, PageText{{10, 10}, text, {3.0, false}, 20.0}});
    return page;
}

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t found = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) ++found;
    return found;
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("html: a section for each page with what the SVG writer writes, in the order of the pages", "[report][analytic]") {
    const std::vector<PagePicture> pages{page_of(215.9, 279.4, "first"), page_of(215.9, 279.4, "second"), page_of(279.4, 215.9, "third")};
    const std::string html = write_html(pages);
    CHECK(count(html, "<section") == 3);
    std::size_t at = 0;
    for (const PagePicture& page : pages) {
        const std::string svg = write_svg(page);
        const std::size_t found = html.find(svg.substr(svg.find("<svg")), at);
        REQUIRE(found != std::string::npos);
        at = found;
    }
    CHECK(has(html, "<title>first</title>\n<style>"));
    CHECK(html == write_html(pages));
}

TEST_CASE("html: each size of paper is named once, and pages have the name of theirs", "[report][analytic]") {
    const std::string html = write_html({page_of(215.9, 279.4, "a"), page_of(279.4, 215.9, "b"), page_of(215.9, 279.4, "c")});
    CHECK(count(html, "@page ") == 2);
    CHECK(has(html, "@page paper-1 { size: 215.9mm 279.4mm; margin: 0 }\n.paper-1 { page: paper-1 }\n"));
    CHECK(has(html, "@page paper-2 { size: 279.4mm 215.9mm; margin: 0 }\n.paper-2 { page: paper-2 }\n"));
    CHECK(count(html, "<section class=\"paper paper-1\">") == 2);
    CHECK(count(html, "<section class=\"paper paper-2\">") == 1);
    CHECK(has(write_html({page_of(210, 297, "a4")}), "size: 210mm 297mm"));
}

TEST_CASE("html: a title that people type is text, and the document may neither run nor load anything", "[report][analytic]") {
    for (const char* text : {"</title><script>alert(1)</script>", "</style><script>x</script>", "\" onload=\"x", "<style>@import 'x'", "<!-- -->", "<body>", "]]>"}) {
        CAPTURE(text);
        const std::string html = write_html({page_of(210, 297, text)});
        CHECK(has(html, "content=\"default-src 'none'; style-src 'unsafe-inline'\""));
        CHECK_FALSE(has(html, "<script"));
        CHECK_FALSE(has(html, "<!--"));
        for (const char* once : {"<style>", "</style>", "<body>", "</body>", "<head>"}) CHECK(count(html, once) == 1);
        CHECK(count(html, "<title>" + escape_xml(text) + "</title>") == 2);  // of the document and of its page
    }
}

TEST_CASE("svg and html: a page for black and white has greys as light as the colours", "[report][analytic]") {
    PagePicture page = page_of(210, 297, "x");
    page.shapes.push_back({Role::caution, PagePart::normal, PageText{{10, 20}, "!", {3.0, false}, 2.0}});
    const Colour c = style_of(Role::caution).line;
    REQUIRE(c.red != c.green);
    page.monochrome = true;
    const std::string html = write_html({page});
    std::size_t colours = 0;
    for (std::size_t at = html.find("\"#"); at != std::string::npos; at = html.find("\"#", at + 1)) {
        const int red = std::stoi(html.substr(at + 2, 2), nullptr, 16), green = std::stoi(html.substr(at + 4, 2), nullptr, 16),
                  blue = std::stoi(html.substr(at + 6, 2), nullptr, 16);
        CHECK(red == green);
        CHECK(green == blue);
        ++colours;
    }
    CHECK(colours >= 3);
    // By hand: ITU-R BT.709.
    const int grey = static_cast<int>(0.2126 * c.red + 0.7152 * c.green + 0.0722 * c.blue + 0.5);
    const std::string group = "<g class=\"caution\" fill=\"#";
    REQUIRE(has(html, group));
    CHECK(std::stoi(html.substr(html.find(group) + group.size(), 2), nullptr, 16) == grey);
    page.monochrome = false;
    CHECK(write_html({page}) != html);
}
