// See sheet_text.h.
#include "report/sheet_text.h"

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/json_parts.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

constexpr std::size_t target_columns = 30;

std::string write_on(std::size_t columns) { return std::string(columns, '_'); }

std::string format_fields(const Sheet& sheet, const TextStyle& style) {
    std::string text;
    for (const SheetField& f : sheet.fields) {
        text += format_labelled(pad_right(f.label, 12), f.text.empty() ? write_on(30) : printable_text(f.text, 200),
                                style.width, 2, 14);
    }
    return text;
}

std::string format_line(const SheetLine& line, int number, const SheetOptions& options, const TextStyle& style) {
    const bool hidden = options.worksheet;
    const std::string what = say_what(line, hidden);
    std::string text = format_labelled(fmt::format("[ ] {:>2}  ", number), what + (what.ends_with('.') ? "" : "."),
                                       style.width, 2, 10);
    if (!line.measures) return text;
    const bool shown = !hidden || line.section == SheetSection::specification;
    const std::string target = !shown || line.target.empty() ? write_on(16) : line.target,
                      read = say_read(line, hidden);
    const std::string measured = read.empty() ? write_on(14) : read;
    const std::string first = "target " + target,
                      second = fmt::format("measured {}  initials {}", measured, write_on(5));
    if (count_columns(first) < target_columns && 10 + target_columns + count_columns(second) <= style.width)
        return text + fmt::format("{:10}{}{}\n", "", pad_right(first, target_columns), second);
    return text + format_labelled("target ", target, style.width, 10, 17) + fmt::format("{:10}{}\n", "", second);
}

std::string format_cut(const Sheet& sheet, const TextStyle& style) {
    if (sheet.cut.empty()) return {};
    std::vector<std::vector<std::string>> rows{{"part", "before", "cut off", "after", "measured after"}};
    for (const CutRow& r : sheet.cut)
        rows.push_back({r.part, r.before.empty() ? write_on(8) : r.before, r.cut,
                        r.after.empty() ? write_on(8) : r.after, write_on(10)});
    return "\nCut sheet\n" + format_columns(rows, 2, 2) + format_paragraph(sheet.cut_note, style.width, 2, 2);
}

/// "Good to (95 %), low / work / high: pitch +- 0.8 deg / ...": only what has a band.
std::string format_bands(const Sheet& sheet, const TextStyle& style) {
    std::string text;
    for (std::size_t i = 0; i < sheet.expected_heads.size(); ++i) {
        std::string band;
        bool any = false;
        for (const ExpectedReadings& e : sheet.expected) {
            const std::string& at = i < e.bands.size() ? e.bands[i] : std::string();
            const bool first = band.empty();
            band += first ? "" : " / ";
            band += at.empty() ? "-" : first || !at.starts_with("+- ") ? at : at.substr(3);
            any = any || !at.empty();
        }
        if (any) text += fmt::format("{}{} {}", text.empty() ? "" : "; ", sheet.expected_heads[i], band);
    }
    return text.empty() ? text : format_paragraph(fmt::format("Good to (95 %), in the same order: {}.", text), style.width, 2, 4);
}

std::string format_expected(const Sheet& sheet, const SheetOptions& options, const TextStyle& style) {
    if (sheet.expected.empty()) return {};
    std::vector<std::vector<std::string>> rows{{""}};
    for (const ExpectedReadings& e : sheet.expected) rows.front().push_back(e.where);
    rows.front().emplace_back("read, low / work / high");
    for (std::size_t i = 0; i < sheet.expected_heads.size(); ++i) {
        std::vector<std::string> row{sheet.expected_heads[i]};
        for (const ExpectedReadings& e : sheet.expected) row.push_back(options.worksheet ? write_on(8) : e.values[i]);
        row.push_back("____ / ____ / ____");
        rows.push_back(std::move(row));
    }
    return "\nExpected, to read back on the machine\n" + format_columns(rows, 2, 2) + (options.worksheet ? std::string() : format_bands(sheet, style));
}

std::string format_variants(const Sheet& sheet, const TextStyle& style) {
    if (sheet.variants.empty()) return {};
    std::string text = fmt::format("\n{}\n", sheet_variants_title);
    for (const SheetVariant& v : sheet.variants)
        text += format_paragraph(fmt::format("{}: {}{}", v.what, v.verdict, v.changes ? "" : ", as now"), style.width, 2, 4);
    return text;
}

}  // namespace

std::string format_sheet_text(const Sheet& sheet, const SheetOptions& options, const TextStyle& style) {
    std::string text = format_paragraph(
        (options.worksheet ? "Worksheet: " : "Set-up sheet: ") + printable_text(sheet.title, 200), style.width, 0, 2);
    text += fmt::format("{}{}\n\n", sheet.program, options.printed.empty() ? "" : ", printed " + options.printed);
    text += format_fields(sheet, style);
    if (!options.worksheet) {
        text += "\n" + format_paragraph(sheet.verdict, style.width, 0, 2);
        for (std::size_t i = 0; i < sheet.steps.size(); ++i)
            text += format_labelled(fmt::format("{}. ", i + 1), sheet.steps[i], style.width, 2, 5);
        if (!sheet.after.empty())
            text += format_paragraph(fmt::format("Targets below are for the machine after: {}.", sheet.after),
                                     style.width, 2, 2);
        text += format_paragraph(sheet.model, style.width, 2, 2);
    }
    const SheetLine* before = nullptr;
    int number = 0;
    for (const SheetLine& line : sheet.lines) {
        if (!before || before->section != line.section) {
            text += fmt::format("\n{}\n", sheet_section_title(line.section));
            for (const Caution c : section_cautions(line.section))
                text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
        }
        text += format_line(line, ++number, options, style);
        before = &line;
    }
    if (!options.worksheet) text += format_cut(sheet, style);
    text += format_expected(sheet, options, style);
    if (!options.worksheet) text += format_variants(sheet, style);
    text += "\nCautions\n";
    for (const Caution c : sheet.cautions) text += format_labelled("! ", caution_sentence(c), style.width, 2, 4);
    return text + fmt::format("\n  Technician {}  date {}\n  Operator   {}  date {}\n", write_on(30), write_on(12),
                              write_on(30), write_on(12));
}

std::string format_sheet_json(const Sheet& sheet, const Setup& setup, const SheetOptions& options) {
    JsonArray fields, lines, cut, expected, heads, steps;
    for (const SheetField& f : sheet.fields)
        fields.push_back(JsonObject().add("label", f.label).add("text", f.text).build());
    for (const SheetLine& l : sheet.lines) {
        lines.push_back(
            JsonObject()
                .add("section", sheet_section_word(l.section))
                .add("line", l.word)
                .add("what", l.what)
                .add("hint", options.worksheet ? std::string() : l.hint)
                .add("target", options.worksheet && l.section != SheetSection::specification ? std::string() : l.target)
                .add("measured", l.measured)
                .add("mark", options.worksheet ? std::string() : l.mark)
                .add("measures", l.measures)
                .build());
    }
    if (!options.worksheet) {
        for (const CutRow& r : sheet.cut)
            cut.push_back(JsonObject()
                              .add("part", r.part)
                              .add("before", r.before)
                              .add("cut", r.cut)
                              .add("after", r.after)
                              .build());
        steps.assign(sheet.steps.begin(), sheet.steps.end());
        for (const ExpectedReadings& e : sheet.expected) {
            JsonArray values(e.values.begin(), e.values.end()), bands(e.bands.begin(), e.bands.end());
            expected.push_back(JsonObject().add("where", e.where).add("values", std::move(values)).add("bands", std::move(bands)).build());
        }
    }
    heads.assign(sheet.expected_heads.begin(), sheet.expected_heads.end());
    JsonObject o;
    o.add("schema", "hitchwright.sheet").add("schema_version", json_version).add("setup", make_setup_json(setup));
    o.add("worksheet", options.worksheet)
        .add("verdict", options.worksheet ? JsonValue() : JsonValue(verdict_word(sheet.verdict_word)));
    o.add("after", options.worksheet ? std::string() : sheet.after)
        .add("model", options.worksheet ? std::string() : sheet.model)
        .add("fields", std::move(fields))
        .add("steps", std::move(steps))
        .add("lines", std::move(lines))
        .add("cut", std::move(cut));
    JsonArray variants;
    for (const SheetVariant& v : options.worksheet ? std::vector<SheetVariant>{} : sheet.variants)
        variants.push_back(JsonObject().add("switch", v.word).add("what", v.what).add("verdict", v.verdict).add("changes_verdict", v.changes).build());
    o.add("expected_heads", std::move(heads)).add("expected", std::move(expected)).add("variants", std::move(variants));
    return format_json_value(o.add("cautions", make_cautions_json(sheet.cautions)).build());
}

}  // namespace hitchwright
