// Lists and small answers for machines: records of named values as JSON or CSV.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "cli/outcome.h"
#include "report/json_value.h"

namespace hitchwright {

/// A value of a record; monostate stands for "not given" (JSON null, an empty CSV field).
using RecordValue = std::variant<std::monostate, bool, int, double, std::string>;

/// Named values in order. Names are snake_case and end in the unit where there is one.
using Record = std::vector<std::pair<std::string_view, RecordValue>>;

/// The record as an answer of its own, with schema and version before it (docs/json.md).
std::string format_json(std::string_view schema, const Record& record);

/// The records as a list under `key`.
std::string format_json(std::string_view schema, std::string_view key, const std::vector<Record>& records);

/// The failure with all its problems.
std::string format_failure_json(const Failure& failure);

/// One problem of a file: file, line, column, key, message, read, allowed, nearest.
JsonValue make_problem_json(const Problem& problem);

/// A header and a line for each record. Records have the same names; without any there is no header either.
std::string format_csv(const std::vector<Record>& records);

}  // namespace hitchwright
