#include "tests/validation/value_file.h"

#include <fstream>
#include <sstream>
#include <stdexcept>

#include "third_party/toml.h"

namespace validation {

namespace {

std::string read_file(const std::string& file) {
    const std::string path = std::string(HITCHWRIGHT_SOURCE_DIR) + "/tests/validation/" + file;
    std::ifstream stream(path);
    if (!stream) {
        throw std::runtime_error("validation data missing: " + path);
    }
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

std::string need_text(const toml::table& table, std::string_view key) {
    const std::string value = table[key].value_or(std::string());
    if (value.empty()) {
        throw std::runtime_error("a check lacks \"" + std::string(key) + "\"");
    }
    return value;
}

std::map<std::string, double> need_numbers(const toml::table& table, std::string_view key) {
    std::map<std::string, double> numbers;
    if (const toml::table* values = table[key].as_table()) {
        for (const auto& [name, node] : *values) {
            if (!node.is_number()) {
                throw std::runtime_error("not a number: " + std::string(name.str()));
            }
            numbers[std::string(name.str())] = node.value_or(0.0);
        }
    }
    if (numbers.empty()) {
        throw std::runtime_error("a check lacks \"" + std::string(key) + "\"");
    }
    return numbers;
}

ValueCheck read_check(const toml::table& table) {
    ValueCheck check;
    check.kind = need_text(table, "kind");
    check.name = need_text(table, "name");
    check.source = need_text(table, "source");
    check.obtained = need_text(table, "obtained");
    check.reason = need_text(table, "reason");
    check.tolerance = table["tolerance"].value_or(0.0);
    if (!(check.tolerance > 0.0)) {
        throw std::runtime_error("a check lacks a tolerance above 0: " + check.name);
    }
    check.in = need_numbers(table, "in");
    check.out = need_numbers(table, "out");
    return check;
}

std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells;
    std::istringstream stream(line);
    for (std::string cell; std::getline(stream, cell, ',');) {
        cells.push_back(cell);
    }
    return cells;
}

}  // namespace

double ValueCheck::input(const std::string& key) const {
    const auto found = in.find(key);
    if (found == in.end()) {
        throw std::runtime_error(name + " lacks input " + key);
    }
    return found->second;
}

double ValueCheck::input_or(const std::string& key, double fallback) const {
    return in.count(key) != 0 ? in.at(key) : fallback;
}

std::vector<ValueCheck> read_checks(std::string_view text) {
    std::vector<ValueCheck> checks;
    const toml::parse_result file = toml::parse(text);
    if (!file) {
        throw std::runtime_error("validation data not understood: " + std::string(file.error().description()));
    }
    if (const toml::array* list = file.table()["check"].as_array()) {
        for (const toml::node& node : *list) {
            if (const toml::table* table = node.as_table()) {
                checks.push_back(read_check(*table));
            }
        }
    }
    if (checks.empty()) {
        throw std::runtime_error("validation data without a check");
    }
    return checks;
}

std::vector<ValueCheck> load_checks(const std::string& file, std::string_view kind) {
    std::vector<ValueCheck> chosen;
    for (const ValueCheck& check : read_checks(read_file(file))) {
        if (check.kind == kind) {
            chosen.push_back(check);
        }
    }
    if (chosen.empty()) {
        throw std::runtime_error("no check of kind " + std::string(kind) + " in " + file);
    }
    return chosen;
}

const std::string& TableRow::text(const std::string& column) const {
    const auto found = cells.find(column);
    if (found == cells.end()) {
        throw std::runtime_error("no column " + column);
    }
    return found->second;
}

double TableRow::number(const std::string& column) const {
    const std::string& cell = text(column);
    std::size_t used = 0;
    double value = 0.0;
    try {
        value = std::stod(cell, &used);
    } catch (const std::logic_error&) {
        used = 0;
    }
    if (used == 0 || used != cell.size()) {
        throw std::runtime_error("not a number in column " + column + ": \"" + cell + "\"");
    }
    return value;
}

std::vector<TableRow> read_table(std::string_view text) {
    std::istringstream stream{std::string(text)};
    std::string notes;
    std::vector<std::string> columns;
    std::vector<TableRow> rows;
    for (std::string line; std::getline(stream, line);) {
        if (!line.empty() && line.back() == '\r') {
            line.pop_back();
        }
        if (line.empty() || line.front() == '#') {
            notes += line + "\n";
        } else if (columns.empty()) {
            columns = split(line);
        } else {
            const std::vector<std::string> cells = split(line);
            if (cells.size() != columns.size()) {
                throw std::runtime_error("a row does not have one cell per column: " + line);
            }
            TableRow& row = rows.emplace_back();
            for (std::size_t i = 0; i < columns.size(); ++i) {
                row.cells[columns[i]] = cells[i];
            }
        }
    }
    for (const char* key : {"# source:", "# obtained:", "# tolerance:", "# reason:"}) {
        if (notes.find(key) == std::string::npos) {
            throw std::runtime_error("a table lacks its line \"" + std::string(key) + "\"");
        }
    }
    if (rows.empty()) {
        throw std::runtime_error("a table without rows");
    }
    return rows;
}

std::vector<TableRow> load_table(const std::string& file) { return read_table(read_file(file)); }

}  // namespace validation
