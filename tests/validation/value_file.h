// Validation data read from tests/validation: lists of checks (TOML) and tables (CSV).
//
// Both carry their source, how the values were obtained, the tolerance and its reason; a file that is missing, empty,
// or lacks one of these throws, so that a test can never pass for want of data.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace validation {

/// One check of a TOML list `[[check]]`: numbers in, numbers out.
struct ValueCheck {
    std::string kind, name, source, obtained, reason;
    double tolerance = 0.0;
    std::map<std::string, double> in, out;

    /// An input; throws when the check does not have it.
    double input(const std::string& key) const;
    /// An input, or `fallback` when the check does not have it.
    double input_or(const std::string& key, double fallback) const;
};

/// All checks of one kind in tests/validation/`file`; throws when there is none.
std::vector<ValueCheck> load_checks(const std::string& file, std::string_view kind);

/// Reads checks from text; throws std::runtime_error naming what is missing or not understood.
std::vector<ValueCheck> read_checks(std::string_view text);

/// One row of a table: column name to text.
struct TableRow {
    std::map<std::string, std::string> cells;

    /// The text of a column; throws when there is no such column.
    const std::string& text(const std::string& column) const;
    /// The number of a column; throws when it is no number.
    double number(const std::string& column) const;
};

/// All rows of a CSV table in tests/validation/`file`.
std::vector<TableRow> load_table(const std::string& file);

/// Reads a table from text: comment lines `# source:`, `# obtained:`, `# tolerance:`, `# reason:`, a line of column
/// names, rows of as many cells. Throws std::runtime_error naming what is missing or not understood.
std::vector<TableRow> read_table(std::string_view text);

}  // namespace validation
