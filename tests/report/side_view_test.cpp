// The side view: what is on the page, and that it can be read.
#include "report/side_view.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "report/caution_text.h"
#include "report/shaft_drawing.h"
#include "tests/report/sample_scene.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;

std::vector<SideViewScene> all_samples() {
    return {sample::compact_tiller(), sample::utility_cutter(), sample::compact_blade(), sample::compact_flail()};
}

std::vector<PageText> texts_of(const PagePicture& page) {
    std::vector<PageText> texts;
    for (const PageShape& shape : page.shapes) {
        if (const auto* text = std::get_if<PageText>(&shape.form)) texts.push_back(*text);
    }
    return texts;
}

/// All words of the page in the order they are drawn, line breaks as spaces.
std::string words_of(const PagePicture& page) {
    std::string words;
    for (const PageText& text : texts_of(page)) words += text.text + " ";
    return words;
}

bool says(const PagePicture& page, const std::string& words) { return words_of(page).find(words) != std::string::npos; }

std::ptrdiff_t count_role(const Drawing& drawing, Role role) {
    return std::count_if(drawing.shapes.begin(), drawing.shapes.end(), [&](const Shape& s) { return s.role == role; });
}

std::ptrdiff_t count_role(const PagePicture& page, Role role) {
    return std::count_if(page.shapes.begin(), page.shapes.end(), [&](const PageShape& s) { return s.role == role; });
}

/// Ink beyond the paper, or nearer to its edge than half a margin.
bool stays_on_page(const PagePicture& page, const PageShape& shape) {
    const PageRect paper{4.0, 4.0, page.width_mm - 4.0, page.height_mm - 4.0};
    if (const auto* text = std::get_if<PageText>(&shape.form)) return rect_inside(text_box(*text), paper);
    if (const auto* circle = std::get_if<PageCircle>(&shape.form)) {
        const double r = circle->radius;
        return rect_inside({circle->centre.x - r, circle->centre.y - r, circle->centre.x + r, circle->centre.y + r},
                           paper);
    }
    const auto& points = std::get<PagePath>(shape.form).points;
    return std::all_of(points.begin(), points.end(), [&](PagePoint p) {
        return rect_inside({p.x, p.y, p.x, p.y}, paper);
    });
}

const BuiltInTextMeasure measure;

}  // namespace

TEST_CASE("side view: a set-up with a shaft shows every part by its role", "[report][analytic]") {
    const Drawing d = draw_side_view(sample::compact_tiller());
    for (Role role : {Role::ground,
                      Role::tyre,
                      Role::tractor_outline,
                      Role::lower_link,
                      Role::upper_link,
                      Role::lift_arm,
                      Role::lift_rod,
                      Role::mast,
                      Role::implement_outline,
                      Role::pto_stub,
                      Role::input_shaft,
                      Role::shaft_tractor_half,
                      Role::shaft_implement_half,
                      Role::joint,
                      Role::overlap,
                      Role::clash,
                      Role::ghost,
                      Role::travel_arc,
                      Role::guard,
                      Role::pin,
                      Role::pin_chosen}) {
        CAPTURE(style_of(role).name);
        CHECK(count_role(d, role) > 0);
    }
    CHECK(count_role(d, Role::separation) == 0);
    CHECK(count_role(draw_side_view(sample::utility_cutter()), Role::obstacle) == 1);
    CHECK(count_role(draw_side_view(sample::utility_cutter()), Role::drawbar) == 1);
    CHECK(count_role(draw_side_view(sample::utility_cutter()), Role::clash) == 0);
}

TEST_CASE("side view: every hole of the tractor is drawn and exactly one is marked as in use", "[report][analytic]") {
    SideViewScene scene = sample::utility_cutter();
    const Drawing d = draw_side_view(scene);
    for (const PinHole& pin : scene.tractor->upper_link_pins) {
        const auto found = std::count_if(d.shapes.begin(), d.shapes.end(), [&](const Shape& s) {
            const auto* marker = std::get_if<Marker>(&s.form);
            return marker != nullptr && marker->at == pin.at && s.role == (pin.chosen ? Role::pin_chosen : Role::pin);
        });
        CHECK(found == 1);
    }
    CHECK(says(compose_side_view(scene, a4_landscape, measure), "hole 4"));
}

TEST_CASE("side view: an implement without PTO input has no shaft, no joints and no shaft rows", "[report][analytic]") {
    const SideViewScene scene = sample::compact_blade();
    const PagePicture page = compose_side_view(scene, letter_landscape, measure);
    for (Role role : {Role::shaft_tractor_half, Role::shaft_implement_half, Role::joint, Role::overlap, Role::gap,
                      Role::clash, Role::input_shaft, Role::guard}) {
        CAPTURE(style_of(role).name);
        CHECK(count_role(page, role) == 0);
    }
    CHECK_FALSE(says(page, "joint"));
    CHECK_FALSE(says(page, "Shaft drawn straight"));
    CHECK(count_role(page, Role::lower_link) > 0);
    CHECK(says(page, "upper link 23 1/8 in"));
}

TEST_CASE("side view: words do not overlap, nothing is clipped, nothing that was to be said is missing",
          "[report][analytic]") {
    for (const PageSetup& paper : {a4_landscape, letter_landscape}) {
        for (const SideViewScene& scene : all_samples()) {
            const PagePicture page = compose_side_view(scene, paper, measure);
            CAPTURE(page.title, paper.width_mm);
            for (const PageShape& shape : page.shapes) CHECK(stays_on_page(page, shape));
            const auto texts = texts_of(page);
            for (std::size_t i = 0; i < texts.size(); ++i) {
                for (std::size_t j = 0; j < i; ++j) {
                    CAPTURE(texts[i].text, texts[j].text);
                    CHECK_FALSE(rects_overlap(text_box(texts[i]), text_box(texts[j])));
                }
            }
            const Drawing d = draw_side_view(scene);
            for (const Label& label : d.labels) CHECK(says(page, label.text));
            for (const DimensionMark& mark : d.dimensions) CHECK(says(page, mark.text));
            CHECK_FALSE(says(page, "Not placed"));
        }
    }
}

TEST_CASE("side view: the verdict comes first, cautions are last and cannot be left out", "[report][analytic]") {
    for (SideViewScene scene : all_samples()) {
        scene.cautions.clear();
        const PagePicture page = compose_side_view(scene, a4_landscape, measure);
        const auto texts = texts_of(page);
        CHECK(texts.front().text == (scene.verdict == Verdict::fits           ? "FITS"
                                     : scene.verdict == Verdict::must_not_run ? "MUST NOT RUN"
                                                                              : "FITS AFTER A CHANGE"));
        for (const Caution caution : standing_cautions) {
            const bool about_shaft = caution == Caution::keep_from_turning_shaft;
            CHECK(says(page, std::string(caution_sentence(caution))) == (!about_shaft || scene.shaft.has_value()));
        }
        CHECK(says(page, "CAUTION"));
        double lowest = 0.0;
        for (const PageText& text : texts) lowest = std::max(lowest, text.at.y);
        const auto at_bottom =
            std::find_if(texts.begin(), texts.end(), [&](const PageText& t) { return t.at.y == lowest; });
        CHECK(at_bottom->text.find(caution_sentence(Caution::manual_rules).substr(60)) != std::string::npos);
    }
}

TEST_CASE("side view: cautions that apply stand beside the standing ones, none is printed twice",
          "[report][analytic]") {
    SideViewScene scene = sample::compact_tiller();
    scene.cautions = {"Tug both ends after latching.", std::string(caution_sentence(Caution::stop_before_touching))};
    const std::string words = words_of(compose_side_view(scene, a4_landscape, measure));
    CHECK(words.find("Tug both ends") != std::string::npos);
    const std::size_t once = words.find("Engine off");
    REQUIRE(once != std::string::npos);
    CHECK(words.find("Engine off", once + 1) == std::string::npos);
}

TEST_CASE("side view: bottoming, separation and gap are said in words, rounded to the safe side",
          "[report][analytic]") {
    const PagePicture tiller = compose_side_view(sample::compact_tiller(), letter_landscape, measure);
    CHECK(says(tiller, "bottoms out by 1 1/2 in (gap of 1 in needed)"));
    CHECK(says(tiller, "gap left 2 1/8 in (1 in needed)"));
    CHECK(says(tiller, "saw marks: 3 5/8 in off each half"));
    const PagePicture flail = compose_side_view(sample::compact_flail(), letter_landscape, measure);
    // 24 in closed, 10 and 9 in tubes, 34.4 in long: overlap 24 + 9 - 34.4 = -1.4 in = -35.56 mm; 6 in = 152.4 mm.
    CHECK(says(flail, "halves apart by 36 mm (overlap of 153 mm needed)"));
    CHECK(count_role(flail, Role::separation) > 0);
}

TEST_CASE("side view: a gap a hair short of what is needed is not printed as enough", "[report][analytic]") {
    SideViewScene scene = sample::utility_cutter();
    ShaftRow& row = scene.shaft->rows.front();
    row.length = row.halves.closed_length + 1.0 * inch - 2e-9;
    CHECK(says(compose_side_view(scene, letter_landscape, measure), "gap left 15/16 in (1 in needed)"));
    row.length = row.halves.closed_length + 1.0 * inch;
    CHECK(says(compose_side_view(scene, letter_landscape, measure), "gap left 1 in (1 in needed)"));
}

TEST_CASE("side view: a shaft far too long for its row keeps clear of the row's words", "[report][analytic]") {
    SideViewScene scene = sample::compact_tiller();
    for (double too_long : {2.0, 12.0, 25.0}) {
        CAPTURE(too_long);
        ShaftRow& row = scene.shaft->rows[0];
        row.halves = {row.length + too_long * inch, row.length + (too_long - 12.0) * inch,
                      row.length + (too_long - 12.0) * inch};
        for (const PageSetup& paper : {a4_landscape, letter_landscape}) {
            const PagePicture page = compose_side_view(scene, paper, measure);
            CHECK(count_role(page, Role::clash) > 0);
            const auto texts = texts_of(page);
            for (const PageShape& shape : page.shapes) {
                const auto* path = std::get_if<PagePath>(&shape.form);
                const bool of_row = shape.role == Role::clash || shape.role == Role::shaft_tractor_half ||
                                    shape.role == Role::shaft_implement_half;
                // The rows come after the picture's words; words of the picture may lie on parts.
                if (path == nullptr || !of_row || path->points.front().y < page.height_mm / 2.0 + 20.0) continue;
                const auto [x0, x1] = std::minmax_element(path->points.begin(), path->points.end(),
                                                          [](PagePoint a, PagePoint b) { return a.x < b.x; });
                const auto [y0, y1] = std::minmax_element(path->points.begin(), path->points.end(),
                                                          [](PagePoint a, PagePoint b) { return a.y < b.y; });
                const PageRect box{x0->x, y0->y, x1->x, y1->y};
                for (const PageText& text : texts) {
                    CAPTURE(text.text);
                    REQUIRE_FALSE(rects_overlap(box, text_box(text)));
                }
            }
        }
    }
}

TEST_CASE("shaft picture: the drawn parts have the lengths the halves have", "[report][analytic]") {
    const TelescopingHalves halves{30 * inch, 19 * inch, 14 * inch};  // roots 11 in together
    for (double length : {34 * inch, 30 * inch, 28 * inch, 50 * inch}) {
        CAPTURE(length);
        const ShaftLayout s = lay_out_shaft(halves, length);
        CHECK(std::fabs(s.tractor_end - s.tractor_root - 19 * inch) < 1e-12);
        CHECK(std::fabs(s.implement_root - s.implement_end - 14 * inch) < 1e-12);
        CHECK(std::fabs(s.overlap() - find_overlap(halves, length)) < 1e-12);
        CHECK(std::fabs(std::min(s.tractor_gap(), s.implement_gap()) - find_gap(halves, length)) < 1e-12);
    }
    Drawing d;
    draw_shaft(d, {0, 0}, {34 * inch, 0}, 34 * inch, halves, ShaftLook{});
    for (const Shape& shape : d.shapes) {
        if (shape.role != Role::overlap) continue;
        const auto box = find_bounding_box(Drawing{{shape}, {}, {}});
        REQUIRE(box);
        CHECK(std::fabs(box->width() - 10 * inch) < 1e-9);  // overlap at 34 in: 10 in
    }
    CHECK(count_role(d, Role::overlap) == 1);
    CHECK(count_role(d, Role::clash) == 0);
    Drawing shorter;
    draw_shaft(shorter, {0, 0}, {28 * inch, 0}, 28 * inch, halves, ShaftLook{});
    CHECK(count_role(shorter, Role::clash) == 1);  // only the longer tube meets a root
    Drawing apart;
    draw_shaft(apart, {0, 0}, {50 * inch, 0}, 50 * inch, halves, ShaftLook{});
    CHECK(count_role(apart, Role::separation) == 1);
    CHECK(count_role(apart, Role::overlap) == 0);
}

TEST_CASE("side view: moving the machine moves the drawing and changes no word", "[report][metamorphic]") {
    SideViewScene scene = sample::compact_blade();
    scene.units = UnitSystem::millimetre;
    const Drawing in_mm = draw_side_view(scene);
    scene.units = UnitSystem::inch;
    const Drawing in_inches = draw_side_view(scene);
    CHECK(in_mm.shapes == in_inches.shapes);
    CHECK(in_mm.labels.size() == in_inches.labels.size());
}

TEST_CASE("side view: what cannot be drawn is said on the page", "[report][analytic]") {
    for (double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(), 1e12}) {
        SideViewScene scene = sample::compact_tiller();
        scene.working->lower_hitch_point.x = bad;
        const PagePicture page = compose_side_view(scene, a4_landscape, measure);
        CHECK(says(page, "No picture"));
        CHECK(says(page, "CAUTION"));
        CHECK(count_role(page, Role::lower_link) == 0);
        for (const PageShape& shape : page.shapes) CHECK(stays_on_page(page, shape));
    }
    SideViewScene scene = sample::compact_tiller();
    scene.tractor.reset();
    scene.no_position = "No picture: the upper link is too short by 1/2 in.";
    const PagePicture page = compose_side_view(scene, a4_landscape, measure);
    CHECK(says(page, "too short by 1/2 in"));
    SideViewScene rows = sample::compact_tiller();
    rows.shaft->rows[0].length = std::nan("");
    rows.shaft->rows[1].halves.tube_a = -1.0;
    const PagePicture broken_rows = compose_side_view(rows, a4_landscape, measure);
    CHECK(says(broken_rows, "not known"));
    for (const PageShape& shape : broken_rows.shapes) CHECK(stays_on_page(broken_rows, shape));
}

TEST_CASE("side view: long names and many notes stay on the page without overlap", "[report][analytic]") {
    SideViewScene scene = sample::utility_cutter();
    scene.subtitle = std::string(400, 'W') + " " + scene.subtitle;
    scene.verdict_sentence += " " + std::string(120, 'M');
    scene.tractor->upper_link_pins[3].name = "a hole with a rather long name";
    scene.notes.assign(3,
                       "A further remark that is long enough to fill about one line of the page when it is printed.");
    const PagePicture page = compose_side_view(scene, a4_landscape, measure);
    const auto texts = texts_of(page);
    for (const PageShape& shape : page.shapes) CHECK(stays_on_page(page, shape));
    for (std::size_t i = 0; i < texts.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) CHECK_FALSE(rects_overlap(text_box(texts[i]), text_box(texts[j])));
    }
}
