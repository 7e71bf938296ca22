// See pair_row.h; the text is in pair_text.cpp.
#include "report/pair_row.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/caution_text.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/output_number.h"

namespace hitchwright {
namespace {

struct JsonAdder {
    JsonObject& object;
    void text(std::string_view name, const std::string& value) {
        object.add(name, value.empty() ? JsonValue() : JsonValue(value));
    }
    void texts(std::string_view name, const std::vector<std::string>& values) {
        JsonArray list;
        for (const std::string& value : values) list.emplace_back(value);
        object.add(name, std::move(list));
    }
    void number(std::string_view name, Dimension dimension, const std::optional<double>& value) {
        const std::string key = name_with_unit(name, dimension);
        if (value) object.number(key, *value * find_edge_unit(dimension).per_si);
        else object.add(key, JsonValue());
    }
};

struct CsvCells {
    UnitSystem units;
    bool header;
    std::vector<std::string> cells = {};
    void text(std::string_view name, const std::string& value) { cells.push_back(header ? std::string(name) : format_csv_text(value)); }
    void texts(std::string_view name, const std::vector<std::string>& values) {
        std::string joined;
        for (const std::string& value : values) joined += (joined.empty() ? "" : " ") + value;
        text(name, joined);
    }
    void number(std::string_view name, Dimension dimension, const std::optional<double>& value) {
        if (header) cells.push_back(name_with_unit(name, dimension, units));
        else cells.push_back(value ? format_csv_number(*value * find_edge_unit(dimension, units).per_si) : std::string());
    }
};

std::string format_csv_row(const PairRow& row, UnitSystem units, bool header) {
    CsvCells cells{units, header};
    visit_pair_row(row, cells);
    return format_csv_line(cells.cells);
}

struct Rounder {
    void text(std::string_view, const std::string&) {}
    void number(std::string_view, Dimension dimension, std::optional<double>& value) {
        const double per_si = find_edge_unit(dimension).per_si;
        if (value) value = round_for_output(*value * per_si) / per_si;
    }
};

}  // namespace

void round_for_rows(FitNumbers& numbers) { visit_fit_numbers(numbers, Rounder{}); }

std::size_t PairTable::count(std::string_view answer) const {
    return static_cast<std::size_t>(std::count_if(rows.begin(), rows.end(), [&](const PairRow& r) { return r.answer == answer; }));
}

std::vector<Caution> PairTable::list_cautions() const {
    std::vector<Caution> list;
    for (const Caution c : all_cautions()) {
        const std::string word = fmt::format(" {} ", caution_word(c));
        const bool any = std::any_of(rows.begin(), rows.end(), [&](const PairRow& r) { return fmt::format(" {} ", r.cautions).find(word) != std::string::npos; });
        if (any) list.push_back(c);
    }
    return list;
}

const std::vector<std::string_view>& all_pair_answers() {
    static const std::vector<std::string_view> all = {verdict_word(Verdict::fits), verdict_word(Verdict::fits_after_change), verdict_word(Verdict::must_not_run),
                                                      verdict_word(Verdict::too_close_to_call), verdict_word(Verdict::not_known), not_tried_word, not_read_word};
    return all;
}

JsonValue make_pair_row_json(const PairRow& row) {
    JsonObject o;
    visit_pair_row(row, JsonAdder{o});
    return o.build();
}

std::string format_pair_table_json(const PairTable& table) {
    JsonArray rows;
    for (const PairRow& row : table.rows) rows.push_back(make_pair_row_json(row));
    JsonObject counts;
    for (const std::string_view answer : all_pair_answers()) counts.add(answer, static_cast<int>(table.count(answer)));
    JsonObject o;
    o.add("schema", "hitchwright.matrix").add("schema_version", json_version).add("complete", table.complete());
    return format_json_value(o.add("total", static_cast<int>(table.total)).add("counts", counts.build()).add("rows", std::move(rows))
                                 .add("cautions", make_cautions_json(table.list_cautions()))
                                 .build());
}

std::string format_pair_table_csv(const PairTable& table, UnitSystem units) {
    std::string text = format_csv_row({}, units, true);
    for (const PairRow& row : table.rows) text += format_csv_row(row, units, false);
    return text;
}

}  // namespace hitchwright
