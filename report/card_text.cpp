// Two or more rows for each line: number, mark, from where to where; below it the line to write on, the unit, the usual
// error, the value known so far, and the key under which it is typed in.
#include "report/card_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/card_sketch_text.h"
#include "report/card_sketches.h"
#include "report/card_words.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t number_width = 5;
constexpr std::size_t answer_indent = 8;
constexpr std::string_view writing_line = "________________";

std::string mark_of(const CardLine& line) { return line.missing() ? "NEEDED " : line.needed ? "* " : ""; }

std::string format_answer(const CardLine& line, const CardOptions& options, std::size_t width) {
    std::string text;
    if (!line.words.empty()) {
        std::size_t used = answer_indent;
        for (const std::string& word : line.words) {
            if (word == "unknown") continue;
            const std::string box = "[ ] " + word;
            const bool fits = used + 2 + count_columns(box) <= width;
            if (!text.empty()) text += fits ? std::string("  ") : '\n' + std::string(answer_indent, ' ');
            used = (fits ? used + 2 : answer_indent) + count_columns(box);
            text += box;
        }
    } else {
        text = writing_line;
        const std::string unit = card_unit(line, options.units);
        if (!unit.empty()) text += " " + unit;
    }
    const std::string error = card_error(line, options.units);
    if (!error.empty()) text += "  " + error;
    const std::string value = options.blank ? std::string{} : card_value(line, options.units);
    if (value.empty()) return text;
    const bool fits = answer_indent + count_columns(text) + count_columns(value) + 4 <= width;
    return text + fmt::format("{}[{}]", fits ? std::string("  ") : '\n' + std::string(answer_indent, ' '), value);
}

// The key stands at the right end of the row where there is room, else on a row of its own.
std::string format_line(const CardLine& line, const CardOptions& options, std::size_t width) {
    const std::string number = pad_left(fmt::format("{}", line.number), number_width - 1) + "  ";
    std::string text = format_labelled(number, mark_of(line) + card_question(line), width, 0, number_width + 1);
    const std::string answer = std::string(answer_indent, ' ') + format_answer(line, options, width);
    const std::string key = printable_text(line.key, 70);
    const std::size_t row = answer.rfind('\n') == std::string::npos ? 0 : answer.rfind('\n') + 1;
    const std::size_t used = count_columns(answer.substr(row)) + count_columns(key) + 2;
    if (used <= width) {
        return text + answer.substr(0, row) + pad_right(answer.substr(row), width - count_columns(key)) + key + "\n";
    }
    return text + answer + "\n" + pad_left(key, width) + "\n";
}

std::string format_station(Station station, bool drawn, std::size_t width) {
    std::string text = fmt::format("\n{}\n", station_title(station));
    text += format_paragraph(station_method(station, drawn), width, 0, 0);
    for (const std::string& caution : station_cautions(station)) text += format_paragraph("! " + caution, width, 0, 2);
    return text;
}

std::string format_head(const Setup& setup, const std::vector<CardLine>& lines, std::size_t width) {
    std::string text = format_paragraph("Measuring card: " + card_title(setup), width, 0, 2);
    text += fmt::format("{} in walking order. Date ____________  Taken by ____________________\n\n",
                        format_count(lines.size(), "reading"));
    for (const std::string& caution : opening_cautions()) text += format_paragraph("! " + caution, width, 0, 2);
    text += fmt::format("\n{}", format_paragraph(card_preparation(setup), width, 0, 0));
    text += fmt::format("\n{}",
                        format_paragraph("* an answer depends on it. NEEDED: it does, and the set-up has no value yet. "
                                         "Without either: it makes a further check possible. +- the usual error. [ ] "
                                         "what the set-up has so far, and where it comes from. At the right, "
                                         "the key under which the reading is typed in.",
                                         width, 0, 0));
    const std::string missing = format_missing_numbers(lines);
    text += '\n';
    return text +
           format_paragraph(missing.empty() ? "Every reading an answer depends on has a value; those marked preset or "
                                              "assumed are not yours until you have taken them."
                                            : "Needed first: " + missing + ".",
                            width, 0, 0);
}

}  // namespace

std::string format_missing_numbers(const std::vector<CardLine>& lines) {
    std::vector<int> numbers;
    for (const CardLine& line : lines) {
        if (line.missing()) numbers.push_back(line.number);
    }
    return format_runs(numbers);
}

std::string format_card_text(const Setup& setup, const CardOptions& options, std::size_t width) {
    const std::vector<CardLine> lines = list_card_lines(setup);
    std::string text = format_head(setup, lines, width);
    Station station = Station::none;
    for (const CardLine& line : lines) {
        if (line.station != station) {
            const bool begins_part = station == Station::none || find_group(station) != find_group(line.station);
            text += format_card_sketches(line.station, begins_part, lines, width) +
                    format_station(line.station, setup.implement.attachment == Attachment::drawn, width);
        }
        station = line.station;
        text += format_line(line, options, width);
    }
    return text;
}

}  // namespace hitchwright
