// The set-up sheet: which lines, on which paper, nothing clipped or overlapping, hostile names.
#include "report/sheet.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>

#include "report/card_pages.h"
#include "report/caution_text.h"
#include "report/qr_code.h"
#include "report/safe_words.h"
#include "report/sheet_text.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Sheet sheet_of(const Setup& s, UnitSystem units = UnitSystem::inch) {
    return make_sheet(s, analyze(s, sixteenth_inch_mark), units, "0.0");
}

std::set<std::string> words_of(const Sheet& sheet) {
    std::set<std::string> words;
    for (const SheetLine& l : sheet.lines) words.emplace(l.word);
    return words;
}

const SheetLine& line_of(const Sheet& sheet, std::string_view word) {
    const auto found =
        std::find_if(sheet.lines.begin(), sheet.lines.end(), [&](const SheetLine& l) { return l.word == word; });
    REQUIRE(found != sheet.lines.end());
    return *found;
}

/// All texts of a page as boxes.
std::vector<PageRect> boxes_of(const PagePicture& page) {
    std::vector<PageRect> boxes;
    for (const PageShape& shape : page.shapes) {
        if (const auto* text = std::get_if<PageText>(&shape.form)) boxes.push_back(text_box(*text));
    }
    return boxes;
}

void check_pages(const std::vector<PagePicture>& pages) {
    for (const PagePicture& page : pages) {
        const std::vector<PageRect> boxes = boxes_of(page);
        const PageRect paper{4.0, 4.0, page.width_mm - 4.0, page.height_mm - 4.0};
        for (std::size_t i = 0; i < boxes.size(); ++i) {
            CHECK(rect_inside(boxes[i], paper));
            for (std::size_t j = 0; j < i; ++j) {
                // Letters keep clear; the room kept free for ascenders may touch by less than half a millimetre.
                const bool overlap = rects_overlap(grown(boxes[i], -0.35), grown(boxes[j], -0.35));
                if (overlap) UNSCOPED_INFO("texts " << j << " and " << i);
                CHECK_FALSE(overlap);
            }
        }
    }
}

Setup make_weighed_setup() {
    Setup s = make_setup_a();
    s.implement.mass = {known(300.0), known(0.6), known(0.2)};
    s.tractor.mass.mass = known(2400.0);
    s.tractor.mass.front_share = known(0.42);
    s.tractor.mass.wheelbase = known(2.0);
    s.tractor.mass.lift_at_balls = known(9000.0);
    return s;
}

}  // namespace

TEST_CASE("sheet: a line is there when it concerns the set-up", "[report]") {
    const std::set<std::string> mounted = words_of(sheet_of(make_setup_a()));
    for (const char* word :
         {"manuals", "safe_state",    "stands",        "upper_link_pin", "mast_pin",        "upper_link_length",
          "sway",    "side_to_side",  "front_to_rear", "ball_heights",   "nothing_touches", "shortest",
          "longest", "closed_length", "gap",           "overlap",        "joint_angles",    "yokes",
          "guards",  "lift",          "front_axle",    "recheck",        "operator"}) {
        CAPTURE(word);
        CHECK(mounted.count(word) == 1);
    }
    CHECK(mounted.count("drawbar_length") == 0);
    CHECK(mounted.count("coupler") == 0);
    Setup blade = make_setup_a();
    blade.implement.pic.fitted = false;
    blade.has_driveline = false;
    const std::set<std::string> without = words_of(sheet_of(blade));
    for (const char* word : {"shortest", "gap", "yokes", "guards", "pto", "first_run", "drawbar_away"})
        CHECK(without.count(word) == 0);
    CHECK(without.count("safe_state") == 1);
    const std::set<std::string> drawn = words_of(sheet_of(make_drawn_setup()));
    for (const char* word : {"drawbar_length", "drawbar_height", "drawbar_drop", "hitch_pin", "turn_left", "turn_right",
                             "ditch", "vertical_load"})
        CHECK(drawn.count(word) == 1);
    for (const char* word : {"upper_link_pin", "ball_heights", "lift", "stands"}) CHECK(drawn.count(word) == 0);
}

TEST_CASE("sheet: targets are the analysis's numbers, rounded as everywhere", "[report]") {
    const Setup s = make_weighed_setup();
    const Analysis a = analyze(s, sixteenth_inch_mark);
    const SafeWords w{UnitSystem::inch};
    const Sheet sheet = sheet_of(s);
    CHECK(line_of(sheet, "upper_link_length").target == w.place(0.660));
    CHECK(line_of(sheet, "upper_link_pin").target == "hole 1");
    CHECK(line_of(sheet, "working_height").target == w.place(0.300));
    CHECK(line_of(sheet, "shortest").target == w.at_most(a.shaft->travel.shortest.bound));
    CHECK(line_of(sheet, "longest").target == w.at_least(a.shaft->travel.longest.bound));
    CHECK(line_of(sheet, "ballast").target == "none needed");
    REQUIRE(sheet.expected.size() == 3);
    CHECK(sheet.expected[0].values[1] == format_angle(a.linkage->low.pose.pitch));
    CHECK(sheet.expected[2].values[0] == w.place(0.950));
    for (const ExpectedReadings& e : sheet.expected) CHECK(e.values.size() == sheet.expected_heads.size());
}

TEST_CASE("sheet: every caution that applies is printed at its step and at the end", "[report]") {
    for (const Setup& s : {make_weighed_setup(), make_drawn_setup()}) {
        const Sheet sheet = sheet_of(s);
        const std::string text = format_sheet_text(sheet, {}, {UnitSystem::inch, 4000, false});
        for (const Caution c : sheet.cautions) CHECK(text.find(caution_sentence(c)) != std::string::npos);
        for (const SheetLine& l : sheet.lines) {
            for (const Caution c : section_cautions(l.section))
                CHECK(text.find(caution_sentence(c)) != std::string::npos);
        }
    }
}

TEST_CASE("sheet pages: nothing leaves the paper or lies over anything, two pages at most", "[report]") {
    const BuiltInTextMeasure measure;
    for (const PageSetup& paper : {letter_portrait, a4_portrait}) {
        for (const Setup& s : {make_weighed_setup(), make_drawn_setup()}) {
            const std::vector<PagePicture> pages =
                compose_sheet_pages(sheet_of(s), {"2026-11-25", std::string(300, 'A'), {}, false}, paper, measure);
            CHECK(pages.size() <= 2);
            check_pages(pages);
        }
    }
}

TEST_CASE("sheet pages: long names, many lines, missing values and other scripts do not break the layout", "[report]") {
    const BuiltInTextMeasure measure;
    Setup s = make_weighed_setup();
    s.name = std::string(150, 'W') + " and a long name with words that can be broken somewhere";
    s.job.customer = "\xe5\x8c\x97\xe6\xb5\xb7\xe9\x81\x93 \xd0\x98\xd0\xb2\xd0\xb0\xd0\xbd\xd0\xbe\xd0\xb2";
    s.job.technician = std::string(300, 'x');
    s.tractor.upper_link_pins.front().name = std::string(200, 'p');
    Sheet sheet = sheet_of(s);
    for (int i = 0; i < 30; ++i) {
        sheet.lines.push_back(
            {SheetSection::specification, "extra",
             "Control cable, bracket to clevis, with rather many words about where to put the tape, number " +
                 std::to_string(i),
             "4 in +- 1/8 in", i % 3 == 0 ? "not measured" : "", true});
    }
    const std::vector<PagePicture> pages = compose_sheet_pages(sheet, {}, letter_portrait, measure);
    CHECK(pages.size() >= 3);
    check_pages(pages);
    Setup empty;
    empty.name = "nothing known";
    check_pages(compose_sheet_pages(sheet_of(empty), {}, a4_portrait, measure));
}

TEST_CASE("QR code: squares, quiet zone and what cannot be a code", "[report]") {
    const std::optional<QrCode> code = make_qr_code("HITCHWRIGHT");
    REQUIRE(code);
    CHECK((code->size - 17) % 4 == 0);
    CHECK(code->dark.size() == static_cast<std::size_t>(code->size * code->size));
    // The finder pattern of ISO/IEC 18004 in three corners: a dark ring of seven, a light one, a dark middle of three.
    for (const auto& [x, y] : {std::pair{0, 0}, std::pair{code->size - 7, 0}, std::pair{0, code->size - 7}}) {
        for (int i = 0; i < 7; ++i) {
            for (int k = 0; k < 7; ++k) {
                const int ring = std::max(std::abs(i - 3), std::abs(k - 3));
                CHECK(code->at(x + i, y + k) == (ring != 2));
            }
        }
    }
    const PageRect area{10.0, 20.0, 60.0, 70.0};
    const double side = 50.0 / (code->size + 8);
    double dark = 0.0;
    for (const PageShape& shape : place_qr_code(*code, area)) {
        const auto& points = std::get<PagePath>(shape.form).points;
        for (const PagePoint& p : points) CHECK(rect_inside({p.x, p.y, p.x, p.y}, grown(area, -4.0 * side + 1e-9)));
        dark += (points[2].x - points[0].x) * (points[2].y - points[0].y);
    }
    CHECK(dark == Approx(side * side * static_cast<double>(std::count(code->dark.begin(), code->dark.end(), true))));
    CHECK_FALSE(make_qr_code(""));
    CHECK_FALSE(make_qr_code(std::string(8000, 'a')));
}
