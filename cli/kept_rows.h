// Rows of a matrix that is being made, kept in FILE.rows as they are done: one JSON object a line, flushed line by line.
//
// A program that is killed leaves at most one torn line at the end, which is passed over when the rows are read again. A
// row holds for the digest of its inputs, so that a changed file makes its rows anew and no others.
#pragma once

#include <fstream>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "report/atomic_file.h"
#include "report/pair_row.h"

namespace hitchwright {

/// "pairs.csv.rows".
std::string name_kept_rows(const std::string& output);

/// "pairs.csv.rows.old": rows of an earlier run that is not gone on with.
std::string name_old_rows(const std::string& output);

/// Rows by the digest of their inputs; empty when there is no such file. What is no row is passed over.
std::map<std::string, PairRow> read_kept_rows(const std::string& file);

/// A file of rows that is added to.
class KeptRows {
public:
    /// Begins the file anew with these rows. A value: it cannot be written.
    std::optional<FileError> begin(const std::string& file, const std::vector<PairRow>& rows);
    /// A value: it cannot be written.
    std::optional<FileError> add(const PairRow& row);

private:
    std::string file_;
    std::ofstream stream_;
};

}  // namespace hitchwright
