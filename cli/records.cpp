#include "cli/records.h"

#include <fmt/format.h>

#include "report/csv_text.h"
#include "report/json_writer.h"

namespace hitchwright {
namespace {

JsonValue to_json(const RecordValue& value) {
    return std::visit(
        [](const auto& v) -> JsonValue {
            if constexpr (std::is_same_v<std::decay_t<decltype(v)>, std::monostate>) {
                return {};
            } else {
                return v;
            }
        },
        value);
}

void add_fields(JsonObject& json, const Record& record) {
    for (const auto& [name, value] : record) json.add(name, to_json(value));
}

JsonObject start(std::string_view schema) {
    JsonObject json;
    json.add("schema", fmt::format("hitchwright.{}", schema));
    json.add("schema_version", json_version);
    return json;
}

RecordValue text_or_none(const std::string& text) { return text.empty() ? RecordValue() : RecordValue(text); }

RecordValue place_or_none(int number) { return number == 0 ? RecordValue() : RecordValue(number); }

// An option stands where a file problem has its key.
Problem as_problem(const UsageProblem& usage) { return {{}, 0, 0, usage.where, usage.message, {}, {}, usage.nearest}; }

struct CsvField {
    std::string operator()(std::monostate) const { return {}; }
    std::string operator()(bool flag) const { return flag ? "true" : "false"; }
    std::string operator()(int number) const { return fmt::format("{}", number); }
    std::string operator()(double number) const { return format_csv_number(number); }
    std::string operator()(const std::string& text) const { return format_csv_text(text); }
};

}  // namespace

JsonValue make_problem_json(const Problem& problem) {
    JsonObject json;
    add_fields(json, {{"file", text_or_none(problem.file)},
                      {"line", place_or_none(problem.line)},
                      {"column", place_or_none(problem.column)},
                      {"key", text_or_none(problem.key)},
                      {"message", problem.message},
                      {"read", text_or_none(problem.read)},
                      {"allowed", text_or_none(problem.allowed)},
                      {"nearest", text_or_none(problem.nearest_key)}});
    return json.build();
}

std::string format_json(std::string_view schema, const Record& record) {
    JsonObject json = start(schema);
    add_fields(json, record);
    return format_json_value(json.build());
}

std::string format_json(std::string_view schema, std::string_view key, const std::vector<Record>& records) {
    JsonArray list;
    for (const Record& record : records) {
        JsonObject item;
        add_fields(item, record);
        list.push_back(item.build());
    }
    JsonObject json = start(schema);
    json.add(key, std::move(list));
    return format_json_value(json.build());
}

std::string format_failure_json(const Failure& failure) {
    JsonArray problems;
    for (const UsageProblem& problem : failure.usage) problems.push_back(make_problem_json(as_problem(problem)));
    for (const Problem& problem : failure.problems) problems.push_back(make_problem_json(problem));
    JsonObject json = start("failure");
    add_fields(json, {{"failure", std::string(failure_word(failure.code))},
                      {"exit_code", failure.code},
                      {"message", text_or_none(failure.message)}});
    json.add("problems", std::move(problems));
    return format_json_value(json.build());
}

std::string format_csv(const std::vector<Record>& records) {
    std::string text;
    std::vector<std::string> cells;
    if (!records.empty()) {
        for (const auto& entry : records.front()) cells.emplace_back(entry.first);
        text += format_csv_line(cells);
    }
    for (const Record& record : records) {
        cells.clear();
        for (const auto& entry : record) cells.push_back(std::visit(CsvField{}, entry.second));
        text += format_csv_line(cells);
    }
    return text;
}

}  // namespace hitchwright
