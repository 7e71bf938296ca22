// PDF and PNG: right kind, right size, ink on the page, errors as values.
#include "report/cairo_writer.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include "tests/report/sample_scene.h"

using namespace hitchwright;

namespace {

unsigned big_endian(const std::string& bytes, std::size_t at) {
    unsigned value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8U | static_cast<unsigned char>(bytes.at(at + i));
    return value;
}

PagePicture sample_page() {
    const BuiltInTextMeasure measure;
    return compose_side_view(sample::utility_cutter(), a4_landscape, measure);
}

}  // namespace

TEST_CASE("pdf: has the header, one page of the paper's size, and an end", "[report][analytic]") {
    const RenderResult pdf = render_pdf(sample_page());
    REQUIRE(pdf.ok());
    CHECK(pdf.bytes.rfind("%PDF-", 0) == 0);
    CHECK(pdf.bytes.find("%%EOF") != std::string::npos);
    CHECK(pdf.bytes.size() > 4000);
    const std::size_t box = pdf.bytes.find("/MediaBox [ 0 0 ");
    REQUIRE(box != std::string::npos);
    double width = 0.0, height = 0.0;
    REQUIRE(std::sscanf(pdf.bytes.c_str() + box, "/MediaBox [ 0 0 %lf %lf ]", &width, &height) == 2);
    CHECK(std::fabs(width - 297.0 * 72 / 25.4) < 0.01);
    CHECK(std::fabs(height - 210.0 * 72 / 25.4) < 0.01);
    CHECK(pdf.bytes.find("/Count 1") != std::string::npos);
}

TEST_CASE("png: has the signature and the pixels its resolution asks for", "[report][analytic]") {
    for (double dpi : {50.0, 96.0}) {
        const RenderResult png = render_png(sample_page(), dpi);
        REQUIRE(png.ok());
        CHECK(png.bytes.substr(0, 8) == "\x89PNG\r\n\x1A\n");
        CHECK(big_endian(png.bytes, 16) == static_cast<unsigned>(std::lround(297.0 / 25.4 * dpi)));
        CHECK(big_endian(png.bytes, 20) == static_cast<unsigned>(std::lround(210.0 / 25.4 * dpi)));
    }
}

TEST_CASE("png: a drawn page differs from an empty one, and repeats byte by byte", "[report][metamorphic]") {
    PagePicture empty;
    const std::string blank = render_png(empty, 50.0).bytes;
    const std::string drawn = render_png(sample_page(), 50.0).bytes;
    CHECK(drawn.size() > 5 * blank.size());
    CHECK(drawn == render_png(sample_page(), 50.0).bytes);
}

TEST_CASE("pdf and png: impossible pages and resolutions are refused in words", "[report][analytic]") {
    PagePicture page;
    page.width_mm = 0.0;
    CHECK_FALSE(render_pdf(page).ok());
    CHECK_FALSE(render_png(page).ok());
    CHECK(render_pdf(page).bytes.empty());
    page.width_mm = 1e9;
    CHECK(render_pdf(page).error.find("cannot be drawn") != std::string::npos);
    page.width_mm = std::nan("");
    CHECK_FALSE(render_pdf(page).ok());
    page.width_mm = 100.0;
    CHECK(render_png(page, 0.0).error.find("dpi") != std::string::npos);
    CHECK_FALSE(render_png(page, std::nan("")).ok());
    page.width_mm = page.height_mm = 2000.0;
    const RenderResult huge = render_png(page, 600.0);  // more pixels than the library can hold
    CHECK_FALSE(huge.ok());
    CHECK(huge.bytes.empty());
}

TEST_CASE("pdf and png: broken text and coordinates do no harm", "[report][analytic]") {
    PagePicture page;
    page.title = "\xFF\x01";
    page.shapes.push_back({Role::label, PagePart::normal, PageText{{10, 10}, "a\xFF\n\x01z", {3.0, false}, 20.0}});
    page.shapes.push_back({Role::mast, PagePart::normal, PagePath{{{1, std::nan("")}, {2, 2}}, false}});
    page.shapes.push_back({Role::pin, PagePart::normal, PageCircle{{1, 1}, -1.0}});
    CHECK(render_pdf(page).ok());
    CHECK(render_png(page, 50.0).ok());
}
