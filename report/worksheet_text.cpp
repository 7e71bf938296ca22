// See worksheet_text.h.
#include "report/worksheet_text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/card_lines.h"
#include "geometry/visit_readings.h"
#include "report/card_words.h"
#include "report/caution_text.h"
#include "report/page_blocks.h"
#include "report/safe_words.h"
#include "report/sheet_text.h"

namespace hitchwright {
namespace {

constexpr TextFace title_face{4.6, true}, head_face{3.3, true}, text_face{2.6, false}, bold_face{2.6, true},
    small_face{2.2, false};

std::string say_value(double value, Dimension dimension, UnitSystem units) {
    return dimension == Dimension::angle ? format_angle(value) : format_length(value, units);
}

/// A heading with lines of words below it; `key`: belongs to the key.
struct Part {
    std::string head;
    std::vector<std::string> lines;
};

/// The readings an answer needs, as taped.
Part list_given(const Worksheet& w, UnitSystem units) {
    Part part{"Given: taped on the machine, each with its usual error", {}};
    for (const CardLine& line : list_card_lines(w.paper)) {
        if (!line.known) continue;
        const bool tape = line.form == CardForm::quantity &&
                          (line.spec.dimension == Dimension::length || line.spec.dimension == Dimension::angle);
        const std::string value = tape ? say_value(line.reading.value, line.spec.dimension, units)
                                  : line.form == CardForm::quantity
                                      ? format_decimal_quantity(line.reading.value, line.spec.dimension, units)
                                      : printable_text(line.text, 40);
        const std::string error = tape && line.reading.tolerance > 0.0
                                      ? " +- " + say_value(line.reading.tolerance, line.spec.dimension, units)
                                      : "";
        part.lines.push_back(
            fmt::format("{}{}: {} [{}]", value, error, card_question(line), printable_text(line.key, 80)));
    }
    Setup paper = w.paper;
    visit_readings(paper, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
        const bool choice = key.starts_with("choices.") || (key.starts_with("tractor.travel.") && r.known);
        const bool there = std::any_of(part.lines.begin(), part.lines.end(), [&](const std::string& l) {
            return l.find("[" + key + "]") != std::string::npos;
        });
        const bool tape = spec.dimension == Dimension::length || spec.dimension == Dimension::angle;
        if (choice && r.known && tape && !there)
            part.lines.push_back(fmt::format("{}: {} [{}]", say_value(r.value, spec.dimension, units), spec.measure,
                                             printable_text(key, 80)));
    });
    const RuleSet& rules = w.paper.rules;
    const auto limit = [&](const char* what, const Limit& l, Dimension d) {
        if (l.set)
            part.lines.push_back(fmt::format(
                "{}: {}", d == Dimension::ratio ? format_percent(l.value) : say_value(l.value, d, units), what));
    };
    limit("rule: least gap at the shortest point", rules.gap_required, Dimension::length);
    limit("rule: gap a cut aims for", rules.gap_aimed, Dimension::length);
    limit("rule: least overlap at the longest point", rules.overlap_least, Dimension::length);
    limit("rule: least overlap as a share of the longer tube", rules.overlap_fraction, Dimension::ratio);
    limit("rule: joint angle up to which work is free", rules.angle_free, Dimension::angle);
    limit("rule: joint angle above which the PTO is off", rules.angle_pto_off, Dimension::angle);
    limit("rule: joint angle that must not be reached", rules.angle_stop, Dimension::angle);
    limit("rule: least room to anything", rules.clearance, Dimension::length);
    limit("rule: least share on the front axle", rules.front_axle_share, Dimension::ratio);
    const auto heavy = [&](const char* what, const Reading& r) {
        if (r.known) part.lines.push_back(fmt::format("{}: {}", format_mass(r.value, units), what));
    };
    heavy("mass of the implement", w.paper.implement.mass.mass);
    heavy("mass of the tractor, empty", w.paper.tractor.mass.mass);
    if (w.paper.tractor.mass.front_share.known)
        part.lines.push_back(
            fmt::format("{}: of it on the front axle", format_percent(w.paper.tractor.mass.front_share.value)));
    for (const auto& [what, r] :
         {std::pair{"published lift at the balls", w.paper.tractor.mass.lift_at_balls},
          std::pair{"published lift 610 mm (24 in) behind them", w.paper.tractor.mass.lift_at_610}})
        if (r.known) part.lines.push_back(fmt::format("{}: {}", format_force(r.value, units), what));
    return part;
}

Part list_seen(const Worksheet& w, UnitSystem units) {
    Part part{"Seen at the machine, where one thing is not as on paper", {}};
    for (const SeenAtMachine& s : w.seen)
        part.lines.push_back(fmt::format("{}{}: {}", s.what, s.where.empty() ? "" : ", " + s.where,
                                         say_value(s.value, s.dimension, units)));
    return part;
}

Part list_questions(const Sheet& sheet) {
    Part part{"To be worked out", {}};
    part.lines = {"The targets of the lines that follow, from the readings given.",
                  "The readings at three heights (table at the end)."};
    if (!sheet.cut.empty()) part.lines.emplace_back("What comes off which part of the shaft, and what is left.");
    part.lines.emplace_back(
        "Which one thing on the machine is not as on paper, and how far out. Say which reading settles it.");
    return part;
}

std::vector<Part> list_key(const Worksheet& w, const Sheet& sheet, UnitSystem units) {
    Part fault{"Key: what was set in", {say_fault(w.fault, units) + "."}};
    Part answers{"Key: from the readings given", {sheet.verdict}};
    int number = 0;
    for (const SheetLine& line : sheet.lines) {
        ++number;
        const std::string key =
            fmt::format("{}{}{}", line.target, line.target.empty() || line.hint.empty() ? "" : ". ", line.hint);
        if (!key.empty()) answers.lines.push_back(fmt::format("{}. {}", number, key));
    }
    for (const CutRow& r : sheet.cut) answers.lines.push_back(fmt::format("{}: {} off", r.part, r.cut));
    Part read{"Key: at three heights, from the readings given", {}};
    for (const ExpectedReadings& e : sheet.expected) {
        std::string text = e.where + ": ";
        for (std::size_t i = 0; i < e.values.size(); ++i)
            text += fmt::format("{}{} {}", i == 0 ? "" : ", ", sheet.expected_heads[i], e.values[i]);
        read.lines.push_back(text);
    }
    Part errors{"Key: readings farthest from the machine, for their error", {}};
    std::vector<TapedReading> sorted = w.taped;
    std::stable_sort(sorted.begin(), sorted.end(), [](const TapedReading& a, const TapedReading& b) {
        return std::fabs(a.taped - a.machine) / a.tolerance > std::fabs(b.taped - b.machine) / b.tolerance;
    });
    for (std::size_t i = 0; i < std::min<std::size_t>(sorted.size(), 8); ++i) {
        const TapedReading& t = sorted[i];
        errors.lines.push_back(fmt::format("{}: taped {}, on the machine {}", printable_text(t.key, 70),
                                           say_value(t.taped, t.dimension, units),
                                           say_value(t.machine, t.dimension, units)));
    }
    return {fault, answers, read, errors};
}

/// Parts one below the other, lines in two columns where they are short.
class PartPages {
public:
    PartPages(const PageSetup& paper, const TextMeasure& measure, std::string title, std::string footer)
        : paper_(paper), measure_(measure), title_(std::move(title)), footer_(std::move(footer)) {}

    std::vector<PagePicture> compose(const std::vector<Part>& parts) {
        start_page();
        for (const Part& p : parts) add(p);
        for (std::size_t i = 0; i < pages_.size(); ++i) {
            const std::string text = fmt::format("{}, page {} of {}. {}", footer_, i + 1, pages_.size(),
                                                 caution_sentence(Caution::stop_before_touching));
            pages_[i].shapes.push_back(
                {Role::label, PagePart::normal,
                 make_text({paper_.margin_mm, paper_.height_mm - paper_.margin_mm}, text, small_face, measure_)});
        }
        return std::move(pages_);
    }

private:
    double width() const { return paper_.width_mm - 2.0 * paper_.margin_mm; }
    double bottom() const { return paper_.height_mm - paper_.margin_mm - 6.0; }
    void start_page() {
        PagePicture& page = pages_.emplace_back();
        page.width_mm = paper_.width_mm;
        page.height_mm = paper_.height_mm;
        page.title = title_;
        page.description = "worksheet";
        y_ = add_text_block(page, make_text_block(title_, title_face, width(), measure_),
                            {paper_.margin_mm, paper_.margin_mm}, Role::title, measure_) +
             2.0;
    }
    void add(const Part& part) {
        if (part.lines.empty()) return;
        const double column = (width() - 4.0) / 2.0;
        const bool narrow = std::all_of(part.lines.begin(), part.lines.end(),
                                        [&](const std::string& l) { return measure_.width_mm(l, text_face) < column; });
        const double room = narrow ? column : width();
        const std::size_t columns = narrow ? 2 : 1;
        if (y_ + 14.0 > bottom()) start_page();
        y_ = add_text_block(pages_.back(), make_text_block(part.head, head_face, width(), measure_),
                            {paper_.margin_mm, y_ + 1.5}, Role::title, measure_) +
             0.8;
        for (std::size_t i = 0; i < part.lines.size(); i += columns) {
            double height = 0.0;
            for (std::size_t c = 0; c < columns && i + c < part.lines.size(); ++c)
                height = std::max(
                    height, block_height(make_text_block(part.lines[i + c], text_face, room, measure_), measure_));
            if (y_ + height > bottom()) start_page();
            for (std::size_t c = 0; c < columns && i + c < part.lines.size(); ++c)
                add_text_block(pages_.back(), make_text_block(part.lines[i + c], text_face, room, measure_),
                               {paper_.margin_mm + static_cast<double>(c) * (column + 4.0), y_}, Role::label, measure_);
            y_ += height + 0.6;
        }
    }

    const PageSetup& paper_;
    const TextMeasure& measure_;
    std::string title_, footer_;
    std::vector<PagePicture> pages_;
    double y_ = 0.0;
};

std::string format_part(const Part& part, const TextStyle& style) {
    if (part.lines.empty()) return {};
    std::string text = "\n" + format_paragraph(part.head, style.width, 0, 2);
    for (const std::string& line : part.lines) text += format_paragraph(line, style.width, 2, 4);
    return text;
}

}  // namespace

std::string say_fault(const WorksheetFault& f, UnitSystem units) {
    const std::string on_paper =
        fmt::format("\"{}\", on paper \"{}\"", printable_text(f.machine, 40), printable_text(f.paper, 40));
    switch (f.kind) {
        case SetInFault::none:
            return "nothing: the machine has nothing that could be set in";
        case SetInFault::upper_link_pin:
            return "the upper link is in hole " + on_paper + " of the tractor";
        case SetInFault::mast_pin:
            return "the upper link is in hole " + on_paper + " of the mast";
        case SetInFault::upper_link_length:
            return fmt::format("the upper link is {} {} than on paper", format_length(std::fabs(f.change), units),
                               f.change > 0.0 ? "longer" : "shorter");
        case SetInFault::drawbar_pin:
            return "the hitch pin is in position " + on_paper;
    }
    return {};
}

std::string format_worksheet_text(const Worksheet& w, const Sheet& sheet, const SheetOptions& options,
                                  const TextStyle& style) {
    SheetOptions hidden = options;
    hidden.worksheet = true;
    std::string text = fmt::format("Worksheet {} of {}\n", w.seed, printable_text(sheet.title, 60));
    for (const Part& p : {list_given(w, style.units), list_seen(w, style.units), list_questions(sheet)})
        text += format_part(p, style);
    text += "\n" + format_sheet_text(sheet, hidden, style) + "\n" + std::string(30, '-') + " key " +
            std::string(30, '-') + "\n";
    for (const Part& p : list_key(w, sheet, style.units)) text += format_part(p, style);
    return text;
}

std::vector<PagePicture> compose_worksheet_pages(const Worksheet& w, const Sheet& sheet, const SheetOptions& options,
                                                 UnitSystem units, const PageSetup& paper, const TextMeasure& measure) {
    SheetOptions hidden = options;
    hidden.worksheet = true;
    hidden.code.clear();  // the code would carry the answers
    const std::string title = fmt::format("Worksheet {}: {}", w.seed, sheet.title);
    std::vector<PagePicture> pages = PartPages(paper, measure, title, "Given")
                                         .compose({list_given(w, units), list_seen(w, units), list_questions(sheet)});
    for (PagePicture& page : compose_sheet_pages(sheet, hidden, paper, measure)) pages.push_back(std::move(page));
    for (PagePicture& page : PartPages(paper, measure, fmt::format("Key of worksheet {}: {}", w.seed, sheet.title),
                                       "Key: not for the student")
                                 .compose(list_key(w, sheet, units)))
        pages.push_back(std::move(page));
    return pages;
}

}  // namespace hitchwright
