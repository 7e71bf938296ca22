// Blocks from the top down; one that does not fit begins a new page. A heading stays with its first row, a caution with
// the heading it belongs to. Frame of the page: mm, y down.
#include "report/card_pages.h"

#include <algorithm>
#include <optional>
#include <span>

#include <fmt/format.h>

#include "report/card_sketches.h"
#include "report/card_words.h"
#include "report/caution_text.h"
#include "report/page_blocks.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr TextFace title_face{4.6, true}, head_face{3.4, true}, text_face{2.7, false}, small_face{2.2, false};
constexpr TextFace number_face{2.8, true}, mark_face{1.9, true}, balloon_face{2.3, true};
constexpr double number_mm = 13.0;  ///< column of the numbers
constexpr double answer_mm = 82.0;  ///< column to write in
constexpr double writing_mm = 34.0;
constexpr double least_row_mm = 8.5;
constexpr double footer_mm = 7.0;
constexpr double sketch_mm = 62.0, tall_sketch_mm = 88.0;
constexpr double sketch_side_mm = 3.0,
                 sketch_edge_mm = 3.0;  ///< room beside, above and below a sketch; numbers reach into it
constexpr double box_mm = 2.4;  ///< a box to tick
constexpr double gap_mm = 2.0;

PagePath rectangle(const PageRect& r) {
    return {{{r.left, r.top}, {r.right, r.top}, {r.right, r.bottom}, {r.left, r.bottom}}, true};
}

class CardComposer {
public:
    CardComposer(const CardOptions& options, const PageSetup& paper, const TextMeasure& measure)
        : options_(options), paper_(paper), measure_(measure) {}

    std::vector<PagePicture> compose(const Setup& setup) {
        title_ = card_title(setup);
        drawn_ = setup.implement.attachment == Attachment::drawn;
        const std::vector<CardLine> lines = list_card_lines(setup);
        start_page();
        add_head(setup, lines);
        const std::vector<CardSketch> sketches = make_card_sketches(lines);
        Station station = Station::none, group = Station::none;
        for (const CardLine& line : lines) {
            if (find_group(line.station) != group) add_sketches(sketches, group = find_group(line.station));
            if (line.station != station) add_station(line, station = line.station);
            add_row(line);
        }
        add_footers();
        return std::move(pages_);
    }

private:
    double left() const { return paper_.margin_mm; }
    double right() const { return paper_.width_mm - paper_.margin_mm; }
    double bottom() const { return paper_.height_mm - paper_.margin_mm - footer_mm; }
    double width() const { return right() - left(); }
    PagePicture& page() { return pages_.back(); }

    void start_page() {
        PagePicture& next = pages_.emplace_back();
        next.width_mm = paper_.width_mm;
        next.height_mm = paper_.height_mm;
        next.title = "Measuring card: " + title_;
        next.description = "readings to take, in walking order, each with a line to write on";
        y_ = paper_.margin_mm;
    }
    void make_room(double height) {
        if (y_ + height > bottom()) start_page();
    }

    void add_words(std::string_view text, TextFace face, double from, double to, Role role = Role::label) {
        y_ = add_text_block(page(), make_text_block(text, face, to - from, measure_), {from, y_}, role, measure_);
    }
    void add_path(Role role, PagePath path) { page().shapes.push_back({role, PagePart::normal, std::move(path)}); }
    void add_text(Role role, PagePoint at, const std::string& text, TextFace face) {
        page().shapes.push_back({role, PagePart::normal, make_text(at, text, face, measure_)});
    }
    double height_of(std::string_view text, TextFace face, double room) const {
        return block_height(make_text_block(text, face, room, measure_), measure_);
    }
    /// Height of a caution box, found by drawing it on a page that is thrown away.
    double caution_height(const std::vector<std::string>& cautions) const {
        PagePicture scratch;
        const double floor = 1000.0;
        return floor - hitchwright::add_cautions(scratch, cautions, {left(), 0.0, right(), floor}, measure_);
    }
    void add_caution_box(const std::vector<std::string>& cautions) {
        if (cautions.empty()) return;
        const double height = caution_height(cautions);
        make_room(height);
        hitchwright::add_cautions(page(), cautions, {left(), y_, right(), y_ + height}, measure_);
        y_ += height + gap_mm;
    }

    void add_head(const Setup& setup, const std::vector<CardLine>& lines) {
        add_words("Measuring card: " + title_, title_face, left(), right(), Role::title);
        y_ += gap_mm;
        const double baseline = y_ + 4.5;
        add_text(Role::label, {left(), baseline}, "Date", text_face);
        add_path(Role::legend, {{{left() + 9.0, baseline}, {left() + 45.0, baseline}}, false});
        add_text(Role::label, {left() + 50.0, baseline}, "Taken by", text_face);
        add_path(Role::legend, {{{left() + 65.0, baseline}, {left() + 120.0, baseline}}, false});
        y_ = baseline + gap_mm + 1.0;
        add_caution_box(opening_cautions());
        add_words(card_preparation(setup), text_face, left(), right());
        y_ += gap_mm / 2;
        add_words(
            "A number with * carries an answer. Boxed and marked NEEDED: it does, and the set-up has no value yet. "
            "Without either: it makes a further check possible. "
            "+- is the usual error. Grey: what the set-up has so far with its origin, and the key under which the "
            "reading is typed in. Sketches are not to scale.",
            text_face, left(), right());
        y_ += gap_mm / 2;
        const std::string missing = format_missing_numbers(lines);
        if (!missing.empty()) add_words("Needed first: " + missing + ".", {3.0, true}, left(), right());
        y_ += gap_mm;
    }

    void add_sketches(const std::vector<CardSketch>& all, Station group) {
        std::vector<const CardSketch*> row;
        for (const CardSketch& sketch : all) {
            if (sketch.group == group) row.push_back(&sketch);
        }
        for (std::size_t i = 0; i < row.size(); i += 2) add_sketch_row({row.data() + i, std::min<std::size_t>(2, row.size() - i)});
    }

    void add_sketch_row(std::span<const CardSketch* const> row) {
        // The side view is wider than the plan beside it.
        const auto width_of = [&](std::size_t i) { return width() * (row.size() == 1 ? 1.0 : i == 0 ? 0.62 : 0.38); };
        double height = 0.0;
        for (std::size_t i = 0; i < row.size(); ++i) height = std::max(height, sketch_height(*row[i], width_of(i)));
        height = std::min(height, row.size() == 1 ? sketch_mm : tall_sketch_mm);
        make_room(height + 6.0);
        double x = left();
        for (std::size_t i = 0; i < row.size(); ++i) {
            add_sketch(*row[i], {x, y_, x + width_of(i), y_ + height});
            x += width_of(i);
        }
        y_ += height + gap_mm;
    }
    /// Height at which a sketch fills the width, its caption and margins included.
    double sketch_height(const CardSketch& sketch, double wide) const {
        const std::optional<DrawingBox> box = find_bounding_box(sketch.drawing);
        if (!box || !(box->width() > 0.0)) return 0.0;
        return (wide - 2.0 * sketch_side_mm) * box->height() / box->width() +
               height_of(sketch.caption, small_face, wide - 2.0) + 2.0 * sketch_edge_mm;
    }

    void add_sketch(const CardSketch& sketch, const PageRect& area) {
        const TextBlock caption = make_text_block(sketch.caption, small_face, area.width() - 2.0, measure_);
        const PageRect room{area.left + sketch_side_mm, area.top + sketch_edge_mm, area.right - sketch_side_mm,
                            area.bottom - block_height(caption, measure_) - sketch_edge_mm};
        const std::optional<DrawingBox> box = find_bounding_box(sketch.drawing);
        if (!box) return;
        Placement placement;
        placement.scale_denominator = 1000.0 * std::max(box->width() / room.width(), box->height() / room.height());
        placement.drawing_origin = {(box->least.x + box->most.x) / 2.0, (box->least.z + box->most.z) / 2.0};
        placement.page_origin = {(room.left + room.right) / 2.0, (room.top + room.bottom) / 2.0};
        for (PageShape& shape : place_shapes(sketch.drawing, placement)) page().shapes.push_back(std::move(shape));
        for (const SketchNumbers& numbers : sketch.numbers) add_balloon(numbers, placement);
        add_text_block(page(), caption, {area.left + 1.0, room.bottom + 1.5}, Role::leader, measure_);
    }

    void add_balloon(const SketchNumbers& numbers, const Placement& placement) {
        std::string text;
        for (const int number : numbers.numbers) text += fmt::format("{}{}", text.empty() ? "" : ", ", number);
        const PagePoint at = placement.to_page(numbers.at);
        const double half = measure_.width_mm(text, balloon_face) / 2.0;
        const PageRect box{at.x - half - 0.7, at.y - 1.6, at.x + half + 0.7, at.y + 1.6};
        page().shapes.push_back({Role::label, PagePart::wipe, rectangle(box)});
        add_text(Role::label, {at.x - half, at.y + 0.36 * balloon_face.size_mm}, text, balloon_face);
    }

    void add_station(const CardLine& first, Station station) {
        const std::vector<std::string> cautions = station_cautions(station);
        const double head = 5.5 + height_of(station_method(station, drawn_), text_face, width()) + gap_mm +
                            (cautions.empty() ? 0.0 : caution_height(cautions) + gap_mm) + row_height(first);
        make_room(head);
        y_ += 1.0;
        add_path(Role::legend, {{{left(), y_}, {right(), y_}}, false});
        y_ += 0.8;
        add_words(station_title(station), head_face, left(), right(), Role::title);
        add_words(station_method(station, drawn_), text_face, left(), right());
        y_ += gap_mm / 2;
        add_caution_box(cautions);
    }

    double question_room() const { return width() - number_mm - answer_mm - 3.0; }

    double row_height(const CardLine& line) const {
        const double words = height_of(card_question(line), text_face, question_room()) +
                             height_of(line.key, small_face, question_room()) + 1.4;
        return std::max({least_row_mm, words, answer_height(line) + 1.0});
    }
    double answer_height(const CardLine& line) const {
        if (!line.words.empty()) return 3.8 * count_tick_rows(line) + value_height(line);
        return 6.0 + value_height(line);
    }
    double value_height(const CardLine& line) const { return value_of(line).empty() ? 0.0 : 3.0; }
    std::string value_of(const CardLine& line) const {
        return options_.blank ? std::string{} : card_value(line, options_.units);
    }

    void add_row(const CardLine& line) {
        const double height = row_height(line);
        make_room(height);
        const double top = y_;
        add_path(Role::frame, {{{left(), top}, {right(), top}}, false});
        add_number(line, top);
        y_ = top + 0.7;
        add_words(card_question(line), text_face, left() + number_mm, left() + number_mm + question_room());
        add_words(line.key, small_face, left() + number_mm, left() + number_mm + question_room(), Role::leader);
        add_answer(line, top);
        y_ = top + height;
    }

    void add_number(const CardLine& line, double top) {
        const std::string number = fmt::format("{}{}", line.number, line.needed && !line.missing() ? "*" : "");
        const double wide = measure_.width_mm(number, number_face);
        add_text(Role::label, {left() + 1.0, top + 3.5}, number, number_face);
        if (!line.missing()) return;
        add_path(Role::legend, rectangle({left() + 0.2, top + 0.8, left() + wide + 1.8, top + 4.4}));
        add_text(Role::label, {left() + 0.2, top + 6.8}, "NEEDED", mark_face);
    }

    void add_answer(const CardLine& line, double top) {
        const double x = right() - answer_mm;
        double below = top + 6.0;
        if (!line.words.empty()) {
            below = top + 3.8 * add_tick_boxes(line, {x, top});
        } else {
            add_path(Role::legend, {{{x, top + 5.6}, {x + writing_mm, top + 5.6}}, false});
            const std::string unit = card_unit(line, options_.units);
            add_text(Role::label, {x + writing_mm + 1.5, top + 5.4}, unit, text_face);
            add_text(Role::leader, {x + writing_mm + 18.0, top + 5.4}, card_error(line, options_.units), text_face);
        }
        const std::string value = value_of(line);
        if (!value.empty()) {
            add_text(Role::leader, {x, below + 2.4}, shorten_text("so far: " + value, small_face, answer_mm, measure_),
                     small_face);
        }
    }

    /// Calls `place(word, x, row)` for each word to tick; returns the count of rows.
    template <class F>
    int lay_out_ticks(const CardLine& line, F&& place) const {
        double x = 0.0;
        int row = 0;
        for (const std::string& word : line.words) {
            if (word == "unknown") continue;
            const double wide = box_mm + 1.2 + measure_.width_mm(word, text_face) + 4.0;
            if (x > 0.0 && x + wide > answer_mm + 4.0) {
                x = 0.0;
                ++row;
            }
            place(word, x, row);
            x += wide;
        }
        return row + 1;
    }
    int count_tick_rows(const CardLine& line) const {
        return lay_out_ticks(line, [](const std::string&, double, int) {});
    }
    int add_tick_boxes(const CardLine& line, PagePoint corner) {
        return lay_out_ticks(line, [&](const std::string& word, double x, int row) {
            const PagePoint at{corner.x + x, corner.y + 1.2 + 3.8 * row};
            add_path(Role::legend, rectangle({at.x, at.y, at.x + box_mm, at.y + box_mm}));
            add_text(Role::label, {at.x + box_mm + 1.2, at.y + 2.2}, word, text_face);
        });
    }

    void add_footers() {
        const std::string caution(caution_sentence(Caution::stop_before_touching));
        for (std::size_t i = 0; i < pages_.size(); ++i) {
            const double y = paper_.height_mm - paper_.margin_mm;
            const std::string number = fmt::format("page {} of {}", i + 1, pages_.size());
            const double wide = measure_.width_mm(number, small_face);
            const auto add_footer = [&](double x, const std::string& text, TextFace face) {
                pages_[i].shapes.push_back({Role::label, PagePart::normal, make_text({x, y}, text, face, measure_)});
            };
            add_footer(left(), caution, {2.4, true});
            add_footer(right() - wide, number, small_face);
            if (i > 0) pages_[i].title = pages_.front().title;
        }
    }

    const CardOptions& options_;
    const PageSetup& paper_;
    const TextMeasure& measure_;
    std::string title_;
    bool drawn_ = false;
    std::vector<PagePicture> pages_;
    double y_ = 0.0;
};

}  // namespace

std::vector<PagePicture> compose_card_pages(const Setup& setup, const CardOptions& options, const PageSetup& paper,
                                            const TextMeasure& measure) {
    return CardComposer(options, paper, measure).compose(setup);
}

}  // namespace hitchwright
