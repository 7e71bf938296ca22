// See measuring_card.h.
#include "report/measuring_card.h"

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/measuring_words.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t line_indent = 6;

std::string name_or(const std::string& name, const std::string& key, const char* otherwise) {
    if (!name.empty()) return printable_text(name);
    return key.empty() ? otherwise : printable_text(key);
}

std::string list_machines(const Setup& s, bool driven) {
    std::string text = name_or(s.tractor.name, s.tractor.key, "a tractor without a name") + "; " +
                       name_or(s.implement.name, s.implement.key, "an implement without a name");
    if (!driven) return text + "; no PTO shaft";
    return text + "; " + (s.has_driveline ? name_or(s.driveline.name, s.driveline.key, "a shaft without a name") : "no shaft named yet");
}

std::size_t count_lines(const MeasuringCard& card) {
    std::size_t count = 0;
    for (const CardSection& section : card.sections) count += section.lines.size();
    return count;
}

std::string format_line(const CardLine& line, const MeasuringCard& card, const TextStyle& style) {
    const MeasuringItem& item = line.item;
    const std::string mark = item.needed() ? "NEEDED " : "";
    std::string text = format_labelled(fmt::format("{:>4}{} ", line.number, item.required ? '*' : ' '), mark + describe_item(item), style.width, 0, line_indent);
    std::string row = format_item_blank(item, style.units);
    const std::string error = format_item_error(item, style.units);
    if (!error.empty()) row += item.spec.tolerance == 0.0 ? "   " + error : "   usual error " + error;
    const std::string known = card.blank ? std::string() : format_item_known(item, style.units);
    if (!known.empty()) {
        const bool fits = line_indent + row.size() + 3 + known.size() <= style.width;
        row += (fits ? "   " : "\n" + std::string(line_indent, ' ')) + known;
    }
    text += std::string(line_indent, ' ') + row + "\n";
    const std::string key = item.key.empty() ? "(to compare with \"sweep\"; not typed in)" : printable_text(item.key, 70);
    return text + std::string(line_indent, ' ') + key + "\n";
}

std::string format_section(const CardSection& section, const MeasuringCard& card, const TextStyle& style) {
    std::string title(station_title(section.station));
    for (char& c : title) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    std::string text = "\n" + title + "\n" + format_paragraph(station_method(section.station), style.width, 2, 2);
    for (const Caution caution : list_station_cautions(section.station, card.driven)) {
        text += format_labelled("  ! ", caution_sentence(caution), style.width, 0, 4);
    }
    for (const CardLine& line : section.lines) text += format_line(line, card, style);
    return text;
}

}  // namespace

MeasuringCard make_measuring_card(const Setup& setup, const GivenKeys& given, bool blank) {
    MeasuringCard card;
    card.driven = find_measuring_job(setup).driven;
    card.title = name_or(setup.name, setup.key, "Set-up without a name");
    card.subtitle = list_machines(setup, card.driven);
    card.blank = blank;
    int number = 0;
    for (MeasuringItem& item : list_measuring_items(setup, given)) {
        if (card.sections.empty() || card.sections.back().station != item.station) card.sections.push_back({item.station, {}});
        card.sections.back().lines.push_back({++number, std::move(item)});
    }
    return card;
}

std::string format_needed_numbers(const MeasuringCard& card) {
    std::vector<int> needed;
    for (const CardSection& section : card.sections) {
        for (const CardLine& line : section.lines) {
            if (line.item.needed()) needed.push_back(line.number);
        }
    }
    std::string text;
    for (std::size_t i = 0; i < needed.size();) {
        std::size_t last = i;
        while (last + 1 < needed.size() && needed[last + 1] == needed[last] + 1) ++last;
        text += text.empty() ? "" : ", ";
        text += last == i ? fmt::format("{}", needed[i]) : fmt::format("{}-{}", needed[i], needed[last]);
        i = last + 1;
    }
    return text;
}

std::vector<std::string> list_card_notes(const MeasuringCard& card) {
    std::vector<std::string> notes;
    const std::string needed = format_needed_numbers(card);
    notes.push_back(needed.empty() ? "No reading is missing that an answer waits for." : "NEEDED FIRST, no answer without them: " + needed + ".");
    notes.push_back(fmt::format("{}, in walking order, and only those this job calls for. With a *: an answer waits for it; the others sharpen an answer or open another one. Read twice, by two people if you can.",
                                format_count(count_lines(card), "line")));
    if (!card.blank) notes.emplace_back("In brackets: what the set-up has so far and where from. A \"preset\" is an example, not your machine.");
    notes.emplace_back("The last line of each is the key under which the value is typed into the set-up file. What you did not get stays empty: better than a guess.");
    return notes;
}

std::string format_measuring_card(const MeasuringCard& card, const TextStyle& style) {
    std::string text = "MEASURING CARD\n" + format_paragraph(card.title, style.width, 0, 2) + format_paragraph(card.subtitle, style.width, 0, 2) + "\n";
    for (const std::string& note : list_card_notes(card)) text += format_paragraph(note, style.width, 0, 2);
    for (const Caution caution : {Caution::stop_before_touching, Caution::nobody_between, Caution::never_under_raised}) {
        text += format_labelled("! ", caution_sentence(caution), style.width, 0, 2);
    }
    for (const CardSection& section : card.sections) text += format_section(section, card, style);
    return text + "\n" + format_labelled("! ", caution_sentence(Caution::manual_rules), style.width, 0, 2);
}

}  // namespace hitchwright
