// Lines over the travel: ticks, limits, marks and words, as shapes on the page.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include "report/chart.h"
#include "report/text_measure.h"

using namespace hitchwright;

namespace {

ChartPanel make_panel() {
    ChartPanel p;
    p.title = "Length";
    p.x_range = {0.2, 0.8};
    p.shaded = {0.3, 0.5};
    ChartLine line{"rising", Role::lower_link, {}};
    for (int i = 0; i <= 10; ++i) line.points.push_back({0.2 + 0.06 * i, 0.5 + 0.01 * i});
    p.lines = {line};
    p.limits = {{"never above", 0.65}};
    p.marks = {{"least", {0.2, 0.5}}};
    return p;
}

std::vector<std::string> words_on(const PagePicture& page) {
    std::vector<std::string> words;
    for (const PageShape& s : page.shapes) {
        if (const auto* text = std::get_if<PageText>(&s.form)) words.push_back(text->text);
    }
    return words;
}

bool has(const std::vector<std::string>& words, const std::string& word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

const PagePath* find_path(const PagePicture& page, Role role) {
    for (const PageShape& s : page.shapes) {
        if (s.role == role && std::holds_alternative<PagePath>(s.form)) return &std::get<PagePath>(s.form);
    }
    return nullptr;
}

constexpr PageRect area{10.0, 10.0, 210.0, 80.0};

}  // namespace

TEST_CASE("chart: tick steps are round and never more than asked for", "[analytic]") {
    CHECK(find_tick_step(10.0, 6) == 2.0);
    CHECK(find_tick_step(12.0, 6) == 2.0);
    CHECK(find_tick_step(13.0, 6) == 5.0);
    CHECK(find_tick_step(0.9, 9) == Approx(0.1).epsilon(0).margin(1e-12));
    CHECK(find_tick_step(0.0, 6) == 1.0);
    CHECK(find_tick_step(std::numeric_limits<double>::quiet_NaN(), 6) == 1.0);
}

TEST_CASE("chart: title with unit, limit, line and mark are on the page in words", "[analytic]") {
    PagePicture page;
    CHECK(add_chart(page, make_panel(), area, UnitSystem::millimetre, BuiltInTextMeasure{}).empty());
    const std::vector<std::string> words = words_on(page);
    for (const char* word : {"Length, mm", "rising", "never above", "least", "ball height, mm", "200", "600"}) {
        CAPTURE(word);
        CHECK(has(words, word));
    }
}

TEST_CASE("chart: a line is where its values are, a higher limit above it", "[analytic]") {
    PagePicture page;
    add_chart(page, make_panel(), area, UnitSystem::millimetre, BuiltInTextMeasure{});
    const PagePath* line = find_path(page, Role::lower_link);
    const PagePath* limit = find_path(page, Role::cut);
    REQUIRE(line);
    REQUIRE(limit);
    const double rise = line->points.front().y - line->points.back().y;  // y is down; 100 mm of length
    CHECK(rise > 0.0);
    const double above = line->points.back().y - limit->points.front().y;  // 50 mm of length
    CHECK(above == Approx(0.5 * rise).epsilon(0).margin(1e-9));
    CHECK(line->points[5].x == Approx(0.5 * (line->points.front().x + line->points.back().x)).epsilon(0).margin(1e-9));
    for (const PagePoint& p : line->points) {
        CHECK(p.x >= area.left);
        CHECK(p.x <= area.right);
        CHECK(p.y >= area.top);
        CHECK(p.y <= area.bottom);
    }
}

TEST_CASE("chart: a line breaks where its value is no number, an empty panel is an empty frame", "[analytic]") {
    ChartPanel p = make_panel();
    p.lines[0].points[5].y = std::numeric_limits<double>::quiet_NaN();
    PagePicture page;
    add_chart(page, p, area, UnitSystem::inch, BuiltInTextMeasure{});
    const auto pieces = std::count_if(page.shapes.begin(), page.shapes.end(), [](const PageShape& s) {
        return s.role == Role::lower_link && std::holds_alternative<PagePath>(s.form);
    });
    CHECK(pieces == 2);
    PagePicture empty;
    ChartPanel none;
    none.title = "Nothing";
    add_chart(empty, none, area, UnitSystem::inch, BuiltInTextMeasure{});
    CHECK(has(words_on(empty), "Nothing, in"));
    for (const PageShape& s : empty.shapes) {
        if (const auto* path = std::get_if<PagePath>(&s.form)) {
            for (const PagePoint& at : path->points) CHECK((std::isfinite(at.x) && std::isfinite(at.y)));
        }
    }
}

TEST_CASE("chart: a band is shaded behind its line, broken where it is not known, and the axis holds it", "[analytic]") {
    ChartPanel p = make_panel();
    ChartBand band;
    for (const ChartPoint& at : p.lines[0].points) band.sections.push_back({at.x, at.y - 0.2, at.y + 0.3});
    band.sections[5].low = std::numeric_limits<double>::quiet_NaN();
    p.bands = {band};
    PagePicture page;
    add_chart(page, p, area, UnitSystem::inch, BuiltInTextMeasure{});
    std::vector<std::size_t> shaded;
    std::size_t line = 0;
    for (std::size_t i = 0; i < page.shapes.size(); ++i) {
        if (page.shapes[i].role == Role::error_band) shaded.push_back(i);
        if (page.shapes[i].role == Role::lower_link) line = i;
    }
    REQUIRE(shaded.size() == 2);
    CHECK(shaded.back() < line);
    const ChartAxes axes = find_chart_axes(p, area, UnitSystem::inch);
    CHECK(axes.y_low <= 0.3 * axes.y_per_si);
    CHECK(axes.y_high >= 0.9 * axes.y_per_si);
    const auto& first = std::get<PagePath>(page.shapes[shaded[0]].form);
    CHECK(first.closed);
    CHECK(first.points.size() == 10);
    CHECK(first.points.front().y == Approx(axes.to_page({0.2, 0.3}).y).margin(1e-9));
}
