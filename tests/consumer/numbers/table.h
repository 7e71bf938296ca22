// A table of tests/validation as a foreign program reads it: comment lines, a line of column names, rows of numbers.
#pragma once

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

/// One row: column name to text.
using Row = std::map<std::string, std::string>;

inline std::vector<std::string> split(const std::string& line) {
    std::vector<std::string> cells;
    std::istringstream stream(line);
    for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
    return cells;
}

inline std::vector<Row> read_table(const std::string& path) {
    std::ifstream stream(path);
    std::vector<std::string> names;
    std::vector<Row> rows;
    for (std::string line; std::getline(stream, line);) {
        if (line.empty() || line[0] == '#') continue;
        const std::vector<std::string> cells = split(line);
        if (names.empty()) {
            names = cells;
            continue;
        }
        Row row;
        for (std::size_t i = 0; i < names.size(); ++i) row[names[i]] = i < cells.size() ? cells[i] : "";
        rows.push_back(row);
    }
    return rows;
}

inline double number(const Row& row, const char* column) { return std::strtod(row.at(column).c_str(), nullptr); }

/// Counts what was compared, and what was farther off than its tolerance.
struct Comparison {
    int made = 0, failed = 0;

    void compare(const char* what, double got, double wanted, double tolerance) {
        ++made;
        if (std::fabs(got - wanted) <= tolerance) return;
        ++failed;
        std::printf("%s: %.12g instead of %.12g\n", what, got, wanted);
    }
    /// Exit code: all is well and as many comparisons were made as there had to be.
    int finish(int expected) const {
        std::printf("%d numbers compared, %d off\n", made, failed);
        return failed == 0 && made == expected ? 0 : 1;
    }
};
