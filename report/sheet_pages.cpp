// Blocks from the top down; one that does not fit begins a new page. A heading stays with its first row. mm, y down.
#include "report/sheet_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/page_blocks.h"
#include "report/qr_code.h"

namespace hitchwright {
namespace {

constexpr TextFace title_face{4.6, true}, head_face{3.3, true}, text_face{2.7, false}, bold_face{2.7, true};
constexpr TextFace target_face{2.8, true}, small_face{2.2, false}, caution_face{2.3, true};
constexpr double number_mm = 11.0;  ///< tick box and number
constexpr double target_mm = 40.0, writing_mm = 28.0, initials_mm = 13.0;
constexpr double least_row_mm = 5.5;
constexpr double footer_mm = 5.0;
constexpr const char* band_label = "good to (95 %)";  ///< of a small row below its values
constexpr double box_mm = 3.0;
constexpr double gap_mm = 1.4;
constexpr double code_square_mm = 0.40;  ///< one square of the code: a telephone reads it from paper
constexpr double least_code_mm = 30.0, most_code_mm = 64.0;

PagePath rectangle(const PageRect& r) {
    return {{{r.left, r.top}, {r.right, r.top}, {r.right, r.bottom}, {r.left, r.bottom}}, true};
}

class SheetComposer {
public:
    SheetComposer(const Sheet& sheet, const SheetOptions& options, const PageSetup& paper, const TextMeasure& measure)
        : sheet_(sheet), options_(options), paper_(paper), measure_(measure) {}

    std::vector<PagePicture> compose() {
        start_page();
        add_head();
        const SheetLine* before = nullptr;
        int number = 0;
        for (const SheetLine& line : sheet_.lines) {
            if (!before || before->section != line.section) add_section(line);
            add_row(line, ++number);
            before = &line;
        }
        add_cut();
        add_expected();
        add_variants();
        add_end();
        add_footers();
        return std::move(pages_);
    }

private:
    double left() const { return paper_.margin_mm; }
    double right() const { return paper_.width_mm - paper_.margin_mm; }
    double bottom() const { return paper_.height_mm - paper_.margin_mm - footer_mm; }
    double width() const { return right() - left(); }
    double what_mm() const { return width() - number_mm - target_mm - writing_mm - initials_mm - 3.0 * gap_mm; }
    PagePicture& page() { return pages_.back(); }

    void start_page() {
        PagePicture& next = pages_.emplace_back();
        next.width_mm = paper_.width_mm;
        next.height_mm = paper_.height_mm;
        next.title = (options_.worksheet ? "Worksheet: " : "Set-up sheet: ") + sheet_.title;
        next.description = "lines to work through at the machine, each with a box to tick";
        y_ = paper_.margin_mm;
    }
    bool make_room(double height) {
        if (y_ + height <= bottom()) return false;
        start_page();
        return true;
    }

    void add_path(Role role, PagePath path) { page().shapes.push_back({role, PagePart::normal, std::move(path)}); }
    void add_line(double from, double to, double y) { add_path(Role::legend, {{{from, y}, {to, y}}, false}); }
    void add_text(PagePoint at, const std::string& text, TextFace face, Role role = Role::label) {
        page().shapes.push_back({role, PagePart::normal, make_text(at, text, face, measure_)});
    }
    double height_of(std::string_view text, TextFace face, double room) const {
        return block_height(make_text_block(text, face, room, measure_), measure_);
    }
    double add_words(std::string_view text, TextFace face, PagePoint corner, double room, Role role = Role::label) {
        return add_text_block(page(), make_text_block(text, face, room, measure_), corner, role, measure_);
    }

    void add_head() {
        y_ = add_words((options_.worksheet ? "Worksheet: " : "Set-up sheet: ") + sheet_.title, title_face, {left(), y_},
                       width(), Role::title) +
             gap_mm;
        add_fields();
        if (options_.worksheet) {
            y_ = add_words("Targets and readings are left to you. The key stands on a page of its own.", bold_face,
                           {left(), y_}, width()) +
                 gap_mm;
            return;
        }
        y_ = add_verdict_header(page(), sheet_.verdict_word, sheet_.verdict, "", {left(), y_, right(), bottom()},
                                measure_);
        if (!sheet_.model.empty()) y_ = add_words(sheet_.model, text_face, {left(), y_}, width());
        if (sheet_.steps.empty() && sheet_.after.empty()) return;
        y_ = add_words("To be changed first:", bold_face, {left(), y_}, width());
        for (std::size_t i = 0; i < sheet_.steps.size(); ++i)
            y_ = add_words(fmt::format("{}. {}", i + 1, sheet_.steps[i]), text_face, {left() + 3.0, y_}, width() - 3.0);
        if (!sheet_.after.empty())
            y_ = add_words(fmt::format("Targets below are for the machine after: {}.", sheet_.after), bold_face,
                           {left(), y_}, width());
        y_ += gap_mm;
    }

    /// Two columns; an empty field is a line to write on, a long text is broken.
    void add_fields() {
        const double column = (width() - 4.0) / 2.0;
        for (std::size_t i = 0; i < sheet_.fields.size(); i += 2) {
            double below = y_ + 4.9;
            for (std::size_t k = 0; k < 2 && i + k < sheet_.fields.size(); ++k) {
                const SheetField& f = sheet_.fields[i + k];
                const double x = left() + static_cast<double>(k) * (column + 4.0);
                const double label = measure_.width_mm(f.label, small_face) + 2.0;
                add_text({x, y_ + 3.4}, f.label, small_face, Role::leader);
                if (f.text.empty()) {
                    add_line(x + label, x + column, y_ + 4.4);
                } else {
                    below = std::max(below, add_words(f.text, bold_face, {x + label, y_ + 1.0}, column - label) + 1.0);
                }
            }
            y_ = below;
        }
        y_ += gap_mm;
    }

    void add_section(const SheetLine& first) {
        std::string cautions;
        for (const Caution c : section_cautions(first.section))
            cautions += (cautions.empty() ? "" : " ") + std::string(caution_sentence(c));
        make_room(7.0 + row_height(first) + height_of(cautions, caution_face, width() - 4.0));
        y_ += 1.8;
        page().shapes.push_back({Role::legend, PagePart::normal, PagePath{{{left(), y_}, {right(), y_}}, false}});
        y_ += 0.8;
        const double x = right() - initials_mm - gap_mm - writing_mm;
        add_text({x - gap_mm - target_mm, y_ + 2.8}, "target", small_face, Role::leader);
        add_text({x, y_ + 2.8}, "measured", small_face, Role::leader);
        add_text({right() - initials_mm, y_ + 2.8}, "initials", small_face, Role::leader);
        y_ = add_words(sheet_section_title(first.section), head_face, {left(), y_}, what_mm() + number_mm, Role::title);
        add_text({left(), y_ + measure_.ascent_mm(caution_face)}, "!", {2.6, true}, Role::caution);
        y_ = add_words(cautions, caution_face, {left() + 3.0, y_}, width() - 4.0, Role::caution) + 0.6;
    }

    /// A specification is given to a student, what was worked out is not.
    std::string target_of(const SheetLine& line) const {
        return options_.worksheet && line.section != SheetSection::specification ? std::string() : line.target;
    }
    std::string measured_of(const SheetLine& line) const { return say_read(line, options_.worksheet); }

    double row_height(const SheetLine& line) const {
        const double what = height_of(say_what(line, options_.worksheet), text_face,
                                      line.measures ? what_mm() : what_mm() + target_mm + writing_mm);
        const double target = height_of(target_of(line), target_face, target_mm);
        const double measured = height_of(measured_of(line), text_face, writing_mm);
        return std::max({least_row_mm - (line.measures ? 0.0 : 1.0), what + 1.3, target + 1.3, measured + 1.3});
    }

    void add_row(const SheetLine& line, int number) {
        const double height = row_height(line);
        make_room(height);
        const double top = y_;
        add_path(Role::frame, {{{left(), top}, {right(), top}}, false});
        add_path(Role::legend, rectangle({left() + 0.3, top + 1.0, left() + 0.3 + box_mm, top + 1.0 + box_mm}));
        add_text({left() + box_mm + 2.0, top + 3.5}, std::to_string(number), bold_face);
        const double x = left() + number_mm;
        add_words(say_what(line, options_.worksheet), text_face, {x, top + 1.0},
                  line.measures ? what_mm() : what_mm() + target_mm + writing_mm);
        const double initials = right() - initials_mm, writing = initials - gap_mm - writing_mm,
                     target = writing - gap_mm - target_mm;
        if (line.measures) {
            const std::string wanted = target_of(line), read = measured_of(line);
            if (!wanted.empty())
                add_words(wanted, target_face, {target, top + 0.8}, target_mm);
            else
                add_line(target, target + target_mm - 6.0, top + 4.7);
            if (!read.empty())
                add_words(read, text_face, {writing, top + 1.0}, writing_mm);
            else
                add_line(writing, writing + writing_mm, top + 4.7);
        }
        add_line(initials, right(), top + (line.measures ? 4.7 : 4.0));
        y_ = top + height;
    }

    /// A small table; the first row is its head.
    void add_table(const std::string& title, const std::vector<std::vector<std::string>>& rows, double first_mm) {
        const auto height_of_row = [&](std::size_t r) { return rows[r].front() == band_label ? 3.3 : 4.8; };
        double height = 8.0;
        for (std::size_t r = 0; r < rows.size(); ++r) height += height_of_row(r);
        make_room(height);
        y_ = add_words(title, head_face, {left(), y_ + 1.5}, width(), Role::title) + 0.8;
        const double column =
            (width() - first_mm) / static_cast<double>(std::max<std::size_t>(1, rows.front().size() - 1));
        for (std::size_t r = 0; r < rows.size(); ++r) {
            const bool band = rows[r].front() == band_label;
            if (!band) add_path(Role::frame, {{{left(), y_}, {right(), y_}}, false});
            const TextFace face = r == 0 || band ? small_face : bold_face;
            for (std::size_t c = 0; c < rows[r].size(); ++c) {
                const double x = left() + (c == 0 ? 0.0 : first_mm + column * static_cast<double>(c - 1));
                const double room = (c == 0 ? first_mm : column) - 2.0;
                const std::string& text = rows[r][c];
                const bool write = r > 0 && (text.empty() || (options_.worksheet && c > 0));
                if (write)
                    add_line(x, x + room, y_ + 4.0);
                else
                    add_text({x, y_ + (band ? 2.4 : 3.6)}, shorten_text(text, face, room, measure_), face, r == 0 ? Role::leader : Role::label);
            }
            y_ += height_of_row(r);
        }
        add_path(Role::frame, {{{left(), y_}, {right(), y_}}, false});
        y_ += gap_mm;
    }

    void add_cut() {
        if (sheet_.cut.empty() || options_.worksheet) return;
        std::vector<std::vector<std::string>> rows{{"part", "before", "cut off", "should be after", "measured after"}};
        for (const CutRow& r : sheet_.cut) rows.push_back({r.part, r.before, r.cut, r.after, ""});
        add_table("Cut sheet", rows, 50.0);
        const double height = height_of(sheet_.cut_note, text_face, width());
        make_room(height);
        y_ = add_words(sheet_.cut_note, text_face, {left(), y_}, width()) + gap_mm;
    }

    void add_bands(std::vector<std::vector<std::string>>& rows) const {
        const std::vector<std::string>& bands = sheet_.expected_bands;
        if (std::all_of(bands.begin(), bands.end(), [](const std::string& b) { return b.empty(); })) return;
        rows.push_back({band_label});
        for (const std::string& b : bands) rows.back().push_back(b.empty() ? " " : b);
    }

    void add_expected() {
        if (sheet_.expected.empty()) return;
        std::vector<std::vector<std::string>> rows{{"height"}};
        rows.front().insert(rows.front().end(), sheet_.expected_heads.begin(), sheet_.expected_heads.end());
        for (const ExpectedReadings& e : sheet_.expected) {
            rows.push_back({e.where});
            rows.back().insert(rows.back().end(), e.values.begin(), e.values.end());
            rows.push_back(std::vector<std::string>(1 + e.values.size()));
            rows.back().front() = "read";
        }
        if (!options_.worksheet) add_bands(rows);
        add_table(options_.worksheet ? "Worked out" : "To read back on the machine, at three heights", rows, 34.0);
    }

    /// Two columns of small rows, kept together: what one switch would make of it.
    void add_variants() {
        if (options_.worksheet || sheet_.variants.empty()) return;
        const std::size_t rows = (sheet_.variants.size() + 1) / 2;
        const double row = 3.4, column = (width() - 4.0) / 2.0;
        // Rather beside the code than a page of its own for the signatures.
        const double block = 4.4 + row * static_cast<double>(rows);
        variants_at_end_ = y_ + block + find_end_height() > bottom() && y_ + find_end_height() <= bottom();
        if (variants_at_end_) return;
        make_room(4.4 + row * static_cast<double>(rows));
        y_ = add_words(sheet_variants_title, bold_face, {left(), y_}, width(), Role::title);
        for (std::size_t i = 0; i < sheet_.variants.size(); ++i) {
            const SheetVariant& v = sheet_.variants[i];
            const PagePoint at{left() + (i >= rows ? column + 4.0 : 0.0), y_ + row * static_cast<double>(i % rows) + 2.6};
            const std::string verdict = v.changes ? v.verdict : "as now";
            const TextFace face = v.changes ? TextFace{2.2, true} : small_face;
            const double end = measure_.width_mm(verdict, face);
            add_text(at, shorten_text(v.what, small_face, column - end - 3.0, measure_), small_face);
            add_text({at.x + column - end, at.y}, verdict, face);
        }
        y_ += row * static_cast<double>(rows);
    }

    /// Cautions that no part of this sheet has at its head.
    std::vector<Caution> list_other_cautions() const {
        std::vector<Caution> others = sheet_.cautions;
        for (const SheetLine& line : sheet_.lines) {
            for (const Caution c : section_cautions(line.section)) std::erase(others, c);
        }
        return others;
    }

    /// The variants in one line, for the end of the sheet.
    std::string say_variants() const {
        std::string text;
        for (const SheetVariant& v : sheet_.variants) text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", v.what, v.changes ? v.verdict : "as now");
        return fmt::format("{}: {}.", sheet_variants_title, text);
    }

    double find_code_size(const std::optional<QrCode>& code) const {
        return code ? std::clamp(code_square_mm * (code->size + 8), least_code_mm, most_code_mm) : 0.0;
    }

    double find_end_height() const {
        const std::optional<QrCode> code = make_qr_code(options_.code);
        const double code_mm = find_code_size(code), room = width() - (code ? code_mm + 4.0 : 0.0);
        double height = 22.0;
        for (const Caution c : list_other_cautions()) height += height_of(caution_sentence(c), text_face, room - 4.0);
        if (variants_at_end_) height += height_of(say_variants(), small_face, room);
        return std::max(height, code ? code_mm + 7.0 : 0.0);
    }

    /// Other cautions, signatures and the code, kept together.
    void add_end() {
        const std::vector<Caution> cautions = list_other_cautions();
        const std::optional<QrCode> code = make_qr_code(options_.code);
        const double code_mm = find_code_size(code);
        const double beside = code ? code_mm + 4.0 : 0.0, room = width() - beside;
        make_room(find_end_height());
        const double top = y_ + 1.0;
        y_ = add_words("Cautions, beside those above", head_face, {left(), top}, room, Role::title) + 0.6;
        for (const Caution c : cautions) {
            add_text({left(), y_ + measure_.ascent_mm(text_face)}, "!", {3.0, true}, Role::caution);
            y_ = add_words(caution_sentence(c), text_face, {left() + 4.0, y_}, room - 4.0, Role::caution);
        }
        if (variants_at_end_) y_ = add_words(say_variants(), small_face, {left(), y_ + 0.4}, room, Role::leader);
        if (code) {
            const PageRect area{right() - code_mm, top, right(), top + code_mm};
            for (PageShape& shape : place_qr_code(*code, area)) page().shapes.push_back(std::move(shape));
            add_words("This set-up: \"hitchwright code --read\" takes its text.", small_face,
                      {area.left + 2.0, area.bottom}, code_mm - 4.0, Role::leader);
        } else if (!options_.worksheet && !options_.no_code.empty()) {
            y_ = add_words(fmt::format("No code of the set-up: {}.", options_.no_code), small_face, {left(), y_}, room,
                           Role::leader);
        }
        y_ += 2.0;
        const double half = (room - 6.0) / 2.0;
        for (int i = 0; i < 2; ++i) {
            const double x = left() + i * (half + 6.0);
            add_line(x, x + half, y_ + 6.0);
            add_text({x, y_ + 9.4},
                     i == 0 ? "Technician: signature, date" : "Operator: shown and understood, signature, date",
                     small_face, Role::leader);
        }
        y_ += 11.0;
    }

    void add_footers() {
        const std::string caution(caution_sentence(Caution::stop_before_touching));
        const std::string printed = options_.printed.empty() ? std::string() : ", printed " + options_.printed;
        for (std::size_t i = 0; i < pages_.size(); ++i) {
            const double y = paper_.height_mm - paper_.margin_mm;
            const bool hidden = options_.worksheet || sheet_.verdict_word == Verdict::fits;
            const std::string number =
                fmt::format("{}{}{}{}, page {} of {}", hidden ? "" : verdict_headline(sheet_.verdict_word),
                            hidden ? "" : ". ", sheet_.program, printed, i + 1, pages_.size());
            const auto add = [&](double x, const std::string& text, TextFace face) {
                pages_[i].shapes.push_back({Role::label, PagePart::normal, make_text({x, y}, text, face, measure_)});
            };
            add(left(), caution, {2.3, true});
            add(right() - measure_.width_mm(number, small_face), number, small_face);
        }
    }

    const Sheet& sheet_;
    const SheetOptions& options_;
    const PageSetup& paper_;
    const TextMeasure& measure_;
    std::vector<PagePicture> pages_;
    double y_ = 0.0;
    bool variants_at_end_ = false;  ///< they had no room before it
};

}  // namespace

std::vector<PagePicture> compose_sheet_pages(const Sheet& sheet, const SheetOptions& options, const PageSetup& paper,
                                             const TextMeasure& measure) {
    return SheetComposer(sheet, options, paper, measure).compose();
}

}  // namespace hitchwright
