// See kept_rows.h.
#include "cli/kept_rows.h"

#include <cerrno>

#include "cli/line_reader.h"
#include "presets/file_text.h"
#include "presets/json_tree.h"
#include "report/edge_units.h"
#include "report/json_line.h"

namespace hitchwright {
namespace {

/// Takes the members of a row out of a tree; what is null stays empty.
struct RowReader {
    const SourceNode& root;
    bool complete = true;

    const SourceNode* find(std::string_view key) {
        const SourceNode* node = root.find(key);
        complete = complete && node != nullptr;
        return node;
    }
    void text(std::string_view name, std::string& value) {
        const SourceNode* node = find(name);
        if (node != nullptr && node->kind == SourceKind::text) value = node->typed;
    }
    void texts(std::string_view name, std::vector<std::string>& values) {
        const SourceNode* node = find(name);
        if (node == nullptr || node->kind != SourceKind::list) return;
        for (const SourceNode& item : node->members) values.push_back(item.typed);
    }
    void number(std::string_view name, Dimension dimension, std::optional<double>& value) {
        const SourceNode* node = find(name_with_unit(name, dimension));
        const bool there = node != nullptr && (node->kind == SourceKind::number || node->kind == SourceKind::whole);
        if (there) value = node->number / find_edge_unit(dimension).per_si;
    }
};

}  // namespace

std::string name_kept_rows(const std::string& output) { return output + ".rows"; }

std::string name_old_rows(const std::string& output) { return name_kept_rows(output) + ".old"; }

std::map<std::string, PairRow> read_kept_rows(const std::string& file) {
    std::map<std::string, PairRow> rows;
    std::ifstream stream(file, std::ios::binary);
    if (!stream) return rows;
    LineReader lines(stream, most_file_bytes);
    while (const std::optional<InputLine> line = lines.next()) {
        const ParsedJson parsed = parse_json(line->text, file);
        if (!parsed.ok() || parsed.root.kind != SourceKind::table) continue;
        PairRow row;
        RowReader reader{parsed.root};
        visit_pair_row(row, reader);
        if (reader.complete && !row.inputs.empty()) rows[row.inputs] = std::move(row);
    }
    return rows;
}

std::optional<FileError> KeptRows::begin(const std::string& file, const std::vector<PairRow>& rows) {
    std::string text;
    for (const PairRow& row : rows) text += format_json_line(make_pair_row_json(row));
    if (auto error = write_file_atomically(file, text)) return error;
    file_ = file;
    stream_.open(file, std::ios::binary | std::ios::app);
    return stream_ ? std::nullopt : std::optional(make_file_error(file, errno));
}

std::optional<FileError> KeptRows::add(const PairRow& row) {
    stream_ << format_json_line(make_pair_row_json(row)) << std::flush;
    return stream_ ? std::nullopt : std::optional(make_file_error(file_, errno));
}

}  // namespace hitchwright
