// The measuring card: text within its columns, sketches and pages that agree with the lines, nothing off the paper.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "report/card_pages.h"
#include "report/card_sketch_text.h"
#include "report/card_sketches.h"
#include "report/card_words.h"
#include "report/cairo_writer.h"
#include "report/caution_text.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup with_parts() {
    Setup setup = make_blank_setup(true);
    setup.parts.coupler.fitted = setup.parts.link_extender.fitted = setup.parts.overrunning_clutch.fitted = true;
    return setup;
}

// Everything a drawn card can have: clevis, bearing, clutch, a ditch without the readings it needs.
Setup make_full_drawn() {
    Setup s = make_drawn_setup();
    s.implement.drawn.hitch = DrawnHitchKind::clevis;
    s.implement.drawn.steady_bearing.fitted = true;
    s.parts.overrunning_clutch.fitted = true;
    s.choices.drawn.ditch.crossing_angle = known(1.2);
    s.implement.ground_contacts.clear();
    s.tractor.drawbar.top_height = Reading{};
    s.tractor.drawbar.drop = known(0.2);
    return s;
}

std::vector<Setup> drawn_samples() {
    return {make_blank_setup(true, Attachment::drawn), make_blank_setup(false, Attachment::drawn), make_drawn_setup(), make_full_drawn()};
}

std::vector<Setup> samples() {
    Setup full = make_setup_a();
    add_lift_a(full.tractor, -10, 40);
    full.tractor.cab_line = {{"top", known(0.1), known(2.1)}, {"foot", known(0.0), known(1.2)}};
    full.implement.upper_link_float.kind = UpperLinkKind::slot;
    full.driveline.reference = LengthReference::locking_grooves;
    full.driveline.implement_joint.kind = JointKind::wide_angle;
    std::vector<Setup> all = drawn_samples();
    for (const Setup& s : {make_blank_setup(true), make_blank_setup(false), make_setup_a(), with_parts(), full}) all.push_back(s);
    return all;
}

// "G to P, level: 6, 8" in a row of entries, as from, to.
std::vector<std::pair<std::string, std::string>> spans_in(const std::string& text) {
    std::vector<std::pair<std::string, std::string>> spans;
    const std::regex form("(floor|\\b[A-Z]) to ([A-Z])[^:]*: [0-9]");
    for (std::sregex_iterator at(text.begin(), text.end(), form), end; at != end; ++at) spans.emplace_back((*at)[1], (*at)[2]);
    return spans;
}

// Numbers behind the colons.
std::set<int> numbers_in(const std::string& text) {
    std::set<int> numbers;
    const std::regex form("[0-9]+(?: to ([0-9]+))?");
    for (std::sregex_iterator at(text.begin(), text.end(), form), end; at != end; ++at) {
        const int first = std::stoi(at->str()), last = (*at)[1].matched ? std::stoi((*at)[1]) : first;
        for (int n = first; n <= last; ++n) numbers.insert(n);
    }
    return numbers;
}

std::map<int, int> count_numbers(const std::vector<CardSketch>& sketches) {
    std::map<int, int> counts;
    for (const CardSketch& sketch : sketches) {
        for (const SketchNumbers& numbers : sketch.numbers) {
            for (const int n : numbers.numbers) ++counts[n];
        }
    }
    return counts;
}

std::vector<PagePicture> compose(const Setup& setup, const CardOptions& options = {}) {
    return compose_card_pages(setup, options, a4_portrait, BuiltInTextMeasure{});
}

std::vector<PageText> texts_of(const PagePicture& page) {
    std::vector<PageText> texts;
    for (const PageShape& shape : page.shapes) {
        if (const auto* text = std::get_if<PageText>(&shape.form)) texts.push_back(*text);
    }
    return texts;
}

// Boxes wiped white behind the numbers of a sketch.
std::vector<PageRect> balloons_of(const PagePicture& page) {
    std::vector<PageRect> boxes;
    for (const PageShape& shape : page.shapes) {
        const auto* path = std::get_if<PagePath>(&shape.form);
        if (shape.part != PagePart::wipe || path == nullptr) continue;
        boxes.push_back({path->points[0].x, path->points[0].y, path->points[2].x, path->points[2].y});
    }
    return boxes;
}

}  // namespace

TEST_CASE("card sketches: each number is a line's, stands once, and every needed distance has an arrow", "[analytic]") {
    for (const Setup& setup : samples()) {
        const std::vector<CardLine> lines = list_card_lines(setup);
        const std::map<int, int> counts = count_numbers(make_card_sketches(lines));
        REQUIRE(counts.size() > 20);
        for (const auto& [number, count] : counts) {
            CAPTURE(number);
            REQUIRE(number >= 1);
            REQUIRE(number <= static_cast<int>(lines.size()));
            CHECK(count == 1);
        }
        for (const CardLine& line : lines) {
            CAPTURE(line.key);
            if (line.needed && line.form == CardForm::quantity) CHECK(counts.contains(line.number));
        }
    }
}

TEST_CASE("card sketches: a number stands in the sketch of its own part", "[analytic]") {
    for (const Setup& setup : samples()) {
        const std::vector<CardLine> lines = list_card_lines(setup);
        for (const CardSketch& sketch : make_card_sketches(lines)) {
            for (const SketchNumbers& numbers : sketch.numbers) {
                for (const int n : numbers.numbers) {
                    CAPTURE(lines[static_cast<std::size_t>(n - 1)].key);
                    CHECK(find_group(lines[static_cast<std::size_t>(n - 1)].station) == sketch.group);
                }
            }
        }
    }
    const std::vector<CardSketch> blade = make_card_sketches(list_card_lines(make_blank_setup(false)));
    CHECK(std::none_of(blade.begin(), blade.end(), [](const CardSketch& s) { return s.group == Station::shaft; }));
}

TEST_CASE("card sketches in letters: what is taken runs between letters of the drawing above it, and every needed length is named", "[analytic]") {
    std::vector<Setup> setups = drawn_samples();
    for (const Setup& s : {make_blank_setup(true), make_blank_setup(false), with_parts()}) setups.push_back(s);
    for (const Setup& setup : setups) {
        const std::vector<CardLine> lines = list_card_lines(setup);
        std::string all;
        Station station = Station::none;
        for (const CardLine& line : lines) {
            if (line.station == station) continue;
            all += format_card_sketches(line.station, station == Station::none || find_group(station) != find_group(line.station), lines, 80);
            station = line.station;
        }
        std::set<int> named;
        std::size_t drawings = 0;
        for (std::size_t at = 0; at < all.size();) {
            const std::size_t end = std::min(all.find("\n\n", at), all.size());
            const std::string sketch = all.substr(at, end - at);
            at = end + 1;
            // Entries stand below the drawing, in rows that begin with two blanks and end without a caption.
            std::string drawing, entries;
            std::size_t row_at = 0;
            while (row_at < sketch.size()) {
                const std::size_t row_end = std::min(sketch.find('\n', row_at), sketch.size());
                const std::string row = sketch.substr(row_at, row_end - row_at);
                row_at = row_end + 1;
                (spans_in(row).empty() ? drawing : entries) += row + "\n";
                CHECK(row.size() <= 80);
            }
            CAPTURE(sketch);
            REQUIRE_FALSE(entries.empty());
            ++drawings;
            for (const auto& [from, to] : spans_in(entries)) {
                std::string art, captions;
                for (std::size_t r = 0; r < drawing.size();) {
                    const std::size_t stop = drawing.find('\n', r);
                    art += drawing.substr(r, std::min<std::size_t>(stop - r, 41)) + "\n";
                    if (stop - r > 41) captions += drawing.substr(r + 41, stop - r - 41) + "\n";
                    r = stop + 1;
                }
                for (const std::string& letter : {from, to}) {
                    CAPTURE(letter);
                    const std::regex alone(letter == "floor" ? letter : "\\b" + letter + "\\b");
                    if (letter != "floor") CHECK(art.find(letter) != std::string::npos);
                    CHECK(std::regex_search(captions, alone));
                }
            }
            for (const int n : numbers_in(entries)) named.insert(n);
        }
        CHECK(drawings >= 4);
        for (const CardLine& line : lines) {
            CAPTURE(line.key);
            if (line.needed && line.form == CardForm::quantity) CHECK(named.count(line.number) == 1);
        }
        CHECK(*named.rbegin() <= static_cast<int>(lines.size()));
    }
}

TEST_CASE("card pages: everything lies on the paper, and numbers in sketches do not lie on each other", "[analytic]") {
    for (const Setup& setup : samples()) {
        for (const PageSetup& paper : {a4_portrait, letter_portrait}) {
            const std::vector<PagePicture> pages = compose_card_pages(setup, {}, paper, BuiltInTextMeasure{});
            REQUIRE(pages.size() >= 3);
            std::size_t balloons = 0;
            for (const PagePicture& page : pages) {
                const PageRect sheet{5.0, 5.0, page.width_mm - 5.0, page.height_mm - 5.0};
                for (const PageText& text : texts_of(page)) {
                    CAPTURE(text.text, text.at.x, text.at.y);
                    CHECK(rect_inside(text_box(text), sheet));
                }
                const std::vector<PageRect> boxes = balloons_of(page);
                balloons += boxes.size();
                for (std::size_t i = 0; i < boxes.size(); ++i) {
                    CAPTURE(boxes[i].left, boxes[i].top);
                    CHECK(rect_inside(boxes[i], sheet));
                    for (std::size_t k = i + 1; k < boxes.size(); ++k) CHECK_FALSE(rects_overlap(boxes[i], boxes[k]));
                }
            }
            CHECK(balloons > 15);
        }
    }
}

TEST_CASE("card pages: every line is there once with its key, needed ones that lack a value are marked", "[analytic]") {
    for (const Setup& setup : samples()) {
        const std::vector<CardLine> lines = list_card_lines(setup);
        std::multiset<std::string> words;
        for (const PagePicture& page : compose(setup)) {
            for (const PageText& text : texts_of(page)) words.insert(text.text);
        }
        for (const CardLine& line : lines) {
            CAPTURE(line.key);
            CHECK(words.count(line.key) == 1);
        }
        const auto missing = std::count_if(lines.begin(), lines.end(), [](const CardLine& l) { return l.missing(); });
        CHECK(static_cast<std::ptrdiff_t>(words.count("NEEDED")) == missing);
    }
}

TEST_CASE("card pages: cautions stand at the top, at their step and at the foot of every page", "[practice]") {
    const std::string stop(caution_sentence(Caution::stop_before_touching));
    for (const Setup& setup : samples()) {
        const std::vector<PagePicture> pages = compose(setup);
        std::string all;
        for (const PagePicture& page : pages) {
            bool foot = false;
            for (const PageText& text : texts_of(page)) {
                foot = foot || text.text == stop;
                all += text.text + " ";
            }
            CHECK(foot);
        }
        for (const CardLine& line : list_card_lines(setup)) {
            for (const std::string& caution : station_cautions(line.station)) {
                CAPTURE(caution);
                // Broken into lines on the page: its first words are enough.
                CHECK(all.find(caution.substr(0, 30)) != std::string::npos);
            }
        }
    }
}

TEST_CASE("card text: 80 columns, each key and number, cautions before the first reading", "[analytic]") {
    std::vector<Setup> setups = samples();
    setups.back().name = "a \x1b[31m name \xff with (\"everything\") in it " + std::string(300, 'x');
    setups.back().tractor.upper_link_pins[0].name = std::string(190, 'W');
    Setup drawn = make_drawn_setup();
    drawn.name = "\x1b]0;drawn\x07";
    drawn.tractor.drawbar_pins[0].name = std::string(190, 'W');
    drawn.implement.drawn.bars[0].name = "\xff tongue \x1b[2J";
    setups.push_back(drawn);
    for (const Setup& setup : setups) {
        const std::string text = format_card_text(setup, {});
        CHECK(text.find('\x1b') == std::string::npos);
        for (std::size_t at = 0; at < text.size();) {
            const std::size_t end = text.find('\n', at);
            REQUIRE(end != std::string::npos);
            CAPTURE(text.substr(at, end - at));
            CHECK(count_columns(text.substr(at, end - at)) <= 80);
            at = end + 1;
        }
        for (const CardLine& line : list_card_lines(setup)) {
            CAPTURE(line.key);
            CHECK(text.find(printable_text(line.key, 70) + "\n") != std::string::npos);
        }
        CHECK(text.find(std::string(caution_sentence(Caution::never_under_raised))) < text.find("   1  "));
        if (setup.implement.attachment == Attachment::drawn) {
            const std::size_t chocked = text.find("! Wheels chocked and the tongue on its jack"), joint = text.find("Implement: hitch joint");
            CHECK((joint != std::string::npos && chocked > joint && chocked < text.find("implement.drawn.hitch")));
            CHECK(text.find("! Cross ditches slowly") < text.find("choices.turn_left_most"));
        }
    }
}

TEST_CASE("card: a blank one shows no value, another shows value and origin", "[metamorphic]") {
    const Setup setup = make_setup_a();
    const std::string open = format_card_text(setup, {UnitSystem::millimetre, false});
    const std::string blank = format_card_text(setup, {UnitSystem::millimetre, true});
    CHECK(open.find("[600 mm, measured]") != std::string::npos);
    CHECK(blank.find("measured]") == std::string::npos);
    CHECK(blank.find("600 mm") == std::string::npos);
    const auto has_value = [&](bool hide) {
        for (const PagePicture& page : compose(setup, {UnitSystem::millimetre, hide})) {
            for (const PageText& text : texts_of(page)) {
                if (text.text.find("600 mm, measured") != std::string::npos) return true;
            }
        }
        return false;
    };
    CHECK(has_value(false));
    CHECK_FALSE(has_value(true));
}

TEST_CASE("pdf: several pages, each of its own size, the first one's title", "[analytic]") {
    const std::vector<PagePicture> pages = compose(make_blank_setup(true));
    const RenderResult pdf = render_pdf(pages);
    REQUIRE(pdf.ok());
    CHECK(pdf.bytes.starts_with("%PDF-"));
    CHECK(pdf.bytes.find("%%EOF") != std::string::npos);
    CHECK(pdf.bytes.find("/Count " + std::to_string(pages.size())) != std::string::npos);
    CHECK(pdf.bytes == render_pdf(pages).bytes);
    CHECK_FALSE(render_pdf(std::vector<PagePicture>{}).ok());
    std::vector<PagePicture> bad(2);
    bad[1].width_mm = -1.0;
    CHECK_FALSE(render_pdf(bad).ok());
    CHECK(render_pdf(bad).bytes.empty());
}

TEST_CASE("card: numbers of missing lines are named in runs", "[analytic]") {
    std::vector<CardLine> lines(8);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        lines[i].number = static_cast<int>(i) + 1;
        lines[i].needed = i != 1 && i != 5;
    }
    lines[7].known = true;
    CHECK(format_missing_numbers(lines) == "1, 3 to 5, 7");
    lines[4].needed = false;
    CHECK(format_missing_numbers(lines) == "1, 3, 4, 7");
    CHECK(format_missing_numbers({}).empty());
}
