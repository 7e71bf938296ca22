// See lines_report.h.
#include "report/lines_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "geometry/specification_fields.h"
#include "report/caution_text.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/fit_report.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/line_words.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr Caution cautions[] = {Caution::stop_before_touching, Caution::keep_from_turning_shaft,
                                Caution::guards_complete,      Caution::never_under_raised,
                                Caution::nobody_between,       Caution::manual_rules};

constexpr std::size_t indent = 4;

/// The text in at most so many columns; longer: its beginning and "...".
std::string clip(std::string_view text, std::size_t columns) {
    std::size_t most = columns;
    std::string shown = printable_text(text, most);
    while (count_columns(shown) > columns && most > 4) shown = printable_text(text, --most);
    return shown;
}

std::string_view table_mark(LineVerdict verdict) {
    switch (verdict) {
        case LineVerdict::in:
            return "in";
        case LineVerdict::out:
            return "OUT";
        case LineVerdict::too_close:
            return "CLOSE";
        case LineVerdict::not_measured:
            return "open";
    }
    return "open";
}

std::string say_beyond(const LineResult& r, UnitSystem units) {
    if (!(r.beyond > 0.0)) return {};
    return fmt::format("{} {}", format_figure(r.beyond, r.line.quantity, units, Rounding::up),
                       r.side == LineSide::above ? "over" : "under");
}

/// "4 3/8 in" for "4 3/8 in +- 1/16 in".
std::string without_error(const std::string& text) {
    std::size_t at = std::min({text.find("+-"), text.find("+/-"), text.find("\u00B1")});
    if (at == std::string::npos || at == 0) return text;
    while (at > 0 && text[at - 1] == ' ') --at;
    return text.substr(0, at);
}

/// What was measured, for a narrow column.
std::string say_answer(const LineResult& r, UnitSystem units) {
    if (r.verdict == LineVerdict::not_measured) return "-";
    if (r.words) return r.verdict == LineVerdict::in ? "so" : "not so";
    return without_error(say_measured(r.line, units));
}

/// Every line in a row, nothing cut off.
std::vector<std::vector<std::string>> list_rows(const std::vector<LineResult>& lines, UnitSystem units) {
    std::vector<std::vector<std::string>> rows{{"", "line", "asked for", "measured", "beyond"}};
    for (const LineResult& r : lines)
        rows.push_back({std::string(table_mark(r.verdict)), printable_text(r.line.name, 120), say_asked(r.line, units),
                        say_answer(r, units), say_beyond(r, units)});
    return rows;
}

/// Every line in one row of the page; the name takes what the figures leave.
std::string format_table(const std::vector<LineResult>& lines, const TextStyle& style) {
    constexpr std::size_t asked_columns = 22, measured_columns = 13, beyond_columns = 14, mark_columns = 5, between = 2;
    std::vector<std::vector<std::string>> rows{{"", "line", "asked for", "measured", "beyond"}};
    std::size_t asked = 9, measured = 8, beyond = 6;
    for (const LineResult& r : lines) {
        const std::string answer = say_answer(r, style.units);
        rows.push_back({std::string(table_mark(r.verdict)), "", clip(say_asked(r.line, style.units), asked_columns),
                        clip(answer, measured_columns), clip(say_beyond(r, style.units), beyond_columns)});
        asked = std::max(asked, count_columns(rows.back()[2]));
        measured = std::max(measured, count_columns(rows.back()[3]));
        beyond = std::max(beyond, count_columns(rows.back()[4]));
    }
    const std::size_t taken = mark_columns + asked + measured + beyond + 4 * between;
    const std::size_t name = std::max<std::size_t>(10, style.width > taken ? style.width - taken : 0);
    std::string text;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::vector<std::string>& row = rows[i];
        const std::string shown = i == 0 ? row[1] : clip(lines[i - 1].line.name, name);
        std::string line = pad_right(row[0], mark_columns + between) + pad_right(shown, name + between) +
                           pad_right(row[2], asked + between) + pad_right(row[3], measured + between) + row[4];
        while (!line.empty() && line.back() == ' ') line.pop_back();
        text += line + '\n';
    }
    return text;
}

/// "operator manuals, grade B (list pto-clutch)".
std::string say_source(const SpecificationLine& l) {
    std::string text = fmt::format(
        "{}, grade {}", l.source.empty() ? "no source stated" : printable_text(l.source, 160), grade_letter(l.grade));
    if (!l.list.empty()) text += fmt::format(" (list {})", printable_text(l.list, 40));
    return text;
}

/// What has to be said of one line that is not in, or not measured.
void add_line(AnswerBuilder& out, const LineResult& r) {
    const UnitSystem units = out.style().units;
    const SpecificationLine& l = r.line;
    const std::string mark(line_mark(r.verdict));
    const Severity severity = r.verdict == LineVerdict::out  ? (l.stops_work ? Severity::forbids : Severity::condition)
                              : r.verdict == LineVerdict::in ? Severity::good
                                                             : Severity::watch;
    const bool titled = !r.words && !l.specification.empty();
    const std::string headline =
        printable_text(l.name, 120) + (titled ? ": " + printable_text(l.specification, 200) : "");
    out.item(mark + "  ", headline, 0, indent).severity = severity;
    const auto add = [&](const std::string& label, const std::string& words) {
        if (!words.empty()) out.item(label, words + ".", indent, indent + label.size());
    };
    const std::string asked = say_asked(l, units), difference = say_difference(r, units);
    if (r.verdict == LineVerdict::not_measured)
        add("", fmt::format("Asked for: {}", asked));
    else
        add("", fmt::format("{} for {}{}",
                            r.words ? say_measured(l, units) : say_measured(l, units) + " measured", asked,
                            difference.empty() ? "" : ": " + difference));
    add("Do: ", say_correction(r, units));
    add("As it is: ", say_consequence(r));
    if (r.verdict != LineVerdict::in && !l.complaint.empty()) add("Complaint: ", printable_text(l.complaint, 200));
    if (r.verdict == LineVerdict::out && l.stops_work) add("! ", "Out of this, the machine must not run");
    if (!l.how.empty()) add("Measure: ", printable_text(l.how, 200));
    add("Source: ", say_source(l));
}

std::optional<double> known(const Reading& r) { return r.known ? std::optional(r.value) : std::nullopt; }

void add_figure(JsonObject& o, std::string_view key, const std::optional<double>& value, const EdgeUnit& unit) {
    if (value)
        o.number(key, *value * unit.per_si);
    else
        o.add(key, JsonValue());
}

JsonValue make_turns_json(const std::optional<LineTurns>& t, const EdgeUnit& unit) {
    if (!t) return {};
    return JsonObject()
        .number("exact", t->exact)
        .number("rounded", t->rounded)
        .add("sense", turn_sense_word(t->sense))
        .number("after", t->after * unit.per_si)
        .add("within", t->within)
        .build();
}

JsonValue make_holes_json(const std::optional<LineHoles>& h, const EdgeUnit& unit) {
    if (!h) return {};
    return JsonObject().add("count", h->count).number("after", h->after * unit.per_si).add("within", h->within).build();
}

std::string_view quantity_word(Dimension quantity) {
    for (const auto& choice : field::quantities) {
        if (choice.value == quantity) return choice.word;
    }
    return "length";
}

JsonValue make_line_json(const LineResult& r, UnitSystem units) {
    const SpecificationLine& l = r.line;
    const EdgeUnit unit = find_edge_unit(l.quantity);
    JsonObject o;
    o.add("name", l.name)
        .add("verdict", line_verdict_word(r.verdict))
        .add("stops_work", l.stops_work)
        .add("quantity", r.words ? std::string_view("words") : quantity_word(l.quantity))
        .add("unit", unit.name);
    add_figure(o, "nominal", known(l.nominal), unit);
    add_figure(o, "deviation",
               l.nominal.known && !r.bare && !l.at_least.known && !l.at_most.known ? std::optional(l.nominal.tolerance)
                                                                                   : std::nullopt,
               unit);
    add_figure(o, "low", r.low, unit);
    add_figure(o, "high", r.high, unit);
    add_figure(o, "measured", known(l.measured), unit);
    add_figure(o, "reading_error", l.measured.known ? std::optional(l.measured.tolerance) : std::nullopt, unit);
    add_figure(o, "aim", r.aim, unit);
    add_figure(o, "off", r.off, unit);
    add_figure(o, "beyond", r.off ? std::optional(r.beyond) : std::nullopt, unit);
    o.add("side", r.off ? JsonValue(line_side_word(r.side)) : JsonValue());
    add_figure(o, "correction", r.correction, unit);
    o.add("turns", make_turns_json(r.turns, unit)).add("holes", make_holes_json(r.holes, unit));
    o.add("specification", l.specification)
        .add("nominal_typed", l.typed.nominal)
        .add("at_least_typed", l.typed.at_least)
        .add("at_most_typed", l.typed.at_most)
        .add("measured_typed", l.typed.measured)
        .add("consequence", say_consequence(r))
        .add("complaint", l.complaint)
        .add("how", l.how)
        .add("adjuster", l.adjuster)
        .add("source", l.source)
        .add("grade", grade_letter(l.grade))
        .add("list", l.list)
        .add("generated", l.generated);
    return o.add("text", say_line(r, units)).build();
}

}  // namespace

LineCounts count_lines(const std::vector<LineResult>& lines) {
    LineCounts c;
    for (const LineResult& r : lines) {
        switch (r.verdict) {
            case LineVerdict::in:
                ++c.in;
                break;
            case LineVerdict::out:
                ++c.out;
                break;
            case LineVerdict::too_close:
                ++c.too_close;
                break;
            case LineVerdict::not_measured:
                ++c.not_measured;
                break;
        }
    }
    return c;
}

std::string say_counts(const LineCounts& c) {
    std::string text;
    for (const auto& [count, word] : {std::pair{c.out, "out"},
                                      {c.too_close, "too close to call"},
                                      {c.not_measured, "not measured"},
                                      {c.in, "in"}}) {
        if (count > 0) text += fmt::format("{}{} {}", text.empty() ? "" : ", ", count, word);
    }
    return text.empty() ? "no lines" : text;
}

std::vector<AnswerBlock> make_line_blocks(const Setup& setup, const std::vector<LineResult>& lines, const TextStyle& style) {
    AnswerBuilder out(style);
    out.machines(setup);
    out.gap();
    if (lines.empty()) {
        constexpr const char* none = "No line to measure against a specification: the set-up has no [[specification]] and names no list";
        out.words(fmt::format("{} (--list NAME).", none), 0, 0, BlockPlace::terminal);
        out.words(fmt::format("{}.", none), 0, 0, BlockPlace::window);
    } else {
        out.words(fmt::format("Measured against specification, worst first: {}.", say_counts(count_lines(lines))), 0, 2);
        out.gap();
        out.table(list_rows(lines, style.units), format_table(lines, style));
        out.gap();
        for (const LineResult& r : lines) {
            // A bare figure is in only as far as the reading can tell, which has to be said.
            const bool silent = r.verdict == LineVerdict::in && !(r.bare && r.side != LineSide::on);
            if (!silent) add_line(out, r);
        }
        out.words("A line that was not measured is never in. Too close: the reading's own error reaches over a limit.", 0, 2);
    }
    out.cautions({std::begin(cautions), std::end(cautions)});
    return out.take();
}

std::string format_lines_report(const Setup& setup, const std::vector<LineResult>& lines, const TextStyle& style) {
    return format_blocks(make_line_blocks(setup, lines, style), style);
}

std::string format_lines_json(const Setup& setup, const std::vector<LineResult>& lines, UnitSystem units) {
    const LineCounts c = count_lines(lines);
    JsonArray list;
    for (const LineResult& r : lines) list.push_back(make_line_json(r, units));
    JsonObject o;
    o.add("schema", "hitchwright.lines").add("schema_version", json_version).add("setup", make_setup_json(setup));
    o.add("counts", JsonObject()
                        .add("out", c.out)
                        .add("too_close_to_call", c.too_close)
                        .add("not_measured", c.not_measured)
                        .add("in", c.in)
                        .build());
    o.add("text", say_counts(c)).add("lines", std::move(list));
    return format_json_value(o.add("cautions", make_cautions_json({std::begin(cautions), std::end(cautions)})).build());
}

std::string format_lines_csv(const std::vector<LineResult>& lines, UnitSystem units) {
    std::string text =
        format_csv_line({"name",       "verdict",       "quantity",   "unit",      "nominal", "low",        "high",
                         "measured",   "reading_error", "off",        "beyond",    "side",    "correction", "turns",
                         "turn_sense", "holes",         "stops_work", "asked_for", "list",    "source",     "grade"});
    for (const LineResult& r : lines) {
        const SpecificationLine& l = r.line;
        const EdgeUnit unit = find_edge_unit(l.quantity, units);
        const auto number = [&](const std::optional<double>& v) {
            return v ? format_csv_number(*v * unit.per_si) : std::string();
        };
        text += format_csv_line({format_csv_text(l.name),
                                 std::string(line_verdict_word(r.verdict)),
                                 std::string(r.words ? "words" : quantity_word(l.quantity)),
                                 std::string(unit.name),
                                 number(known(l.nominal)),
                                 number(r.low),
                                 number(r.high),
                                 number(known(l.measured)),
                                 l.measured.known ? format_csv_number(l.measured.tolerance * unit.per_si) : "",
                                 number(r.off),
                                 r.off ? format_csv_number(r.beyond * unit.per_si) : "",
                                 r.off ? std::string(line_side_word(r.side)) : "",
                                 number(r.correction),
                                 r.turns ? format_csv_number(r.turns->rounded) : "",
                                 r.turns ? std::string(turn_sense_word(r.turns->sense)) : "",
                                 r.holes ? std::to_string(r.holes->count) : "",
                                 l.stops_work ? "true" : "false",
                                 format_csv_text(say_specified(l, units)),
                                 format_csv_text(l.list),
                                 format_csv_text(l.source),
                                 std::string(grade_letter(l.grade))});
    }
    return text;
}

}  // namespace hitchwright
