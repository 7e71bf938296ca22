// One value of the source tree to one field: the part of the field reader that is no template.
//
// Each function sets the field when the value is right and otherwise adds a problem and leaves the field
// alone. A value stands alone or in a table { value, tolerance, origin, note } (rules: grade, source).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/setup_fields.h"
#include "presets/field_note.h"
#include "presets/problem.h"
#include "presets/source_tree.h"

namespace hitchwright {

/// What a reader is told and where it puts what it finds.
struct ReadContext {
    const SourceFile& file;
    std::vector<Problem>& problems;
    FieldNotes& notes;
    std::string note_prefix = {};  ///< before each key in the notes: "tractor." when a tractor file is read for a set-up
    Grade grade = Grade::C;          ///< rules: of limits that state none
    std::string source = {};         ///< rules: of limits that state none
    std::vector<std::string> (*all_keys)() = nullptr;  ///< every key of this kind of file, for "nearest"
    std::string all_keys_prefix = {};                  ///< where those keys stand in this file: "tractor." in a set-up
};

/// Adds a problem at a value.
void add_problem(ReadContext& context, const SourceNode& node, const std::string& key, std::string message,
                 std::string read = {}, std::string allowed = {}, std::string nearest = {});

/// True of a problem that is said once for its whole file, and was.
bool is_said_already(const std::vector<Problem>& said, std::string_view file, std::string_view message);

/// The text of a node for "read:", shortened for tables and lists.
std::string typed_text(const SourceNode& node);

/// A figure as it was typed, with its unit: "4 in +- 1/8 in", "5.25 in" for a bare 5.25 in a file in inches.
std::string format_typed(const SourceNode& node, Dimension dimension, const SourceFile& file);

void read_reading(const SourceNode& node, const std::string& key, Reading& field, const FieldSpec& spec, ReadContext& context);
void read_text(const SourceNode& node, const std::string& key, std::string& field, bool one_line, ReadContext& context);
void read_whole(const SourceNode& node, const std::string& key, int& field, int least, int most, ReadContext& context);
void read_whole_list(const SourceNode& node, const std::string& key, std::vector<int>& field, int least, int most,
                     ReadContext& context);
void read_flag(const SourceNode& node, const std::string& key, bool& field, ReadContext& context);
void read_limit(const SourceNode& node, const std::string& key, Limit& field, const FieldSpec& spec, ReadContext& context);

/// The position of a word among `words`; nothing after a problem.
std::optional<std::size_t> read_word(const SourceNode& node, const std::string& key, const std::vector<std::string>& words,
                                     ReadContext& context);

/// Longest text of one line, and longest note, in bytes.
inline constexpr std::size_t most_text_bytes = 200;
inline constexpr std::size_t most_note_bytes = 4000;

/// Words behind `origin =`.
inline constexpr ChoiceName<Origin> origins[] = {{"measured", Origin::measured}, {"manual", Origin::manual},
                                                 {"preset", Origin::preset},     {"assumed", Origin::assumed}};

}  // namespace hitchwright
