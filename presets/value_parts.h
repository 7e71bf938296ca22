// A value and what may stand beside it: { value = 14, tolerance = "1/8 in", origin = "manual", note = "page 12" }.
//
// Internal to the field reader: takes a node apart, whether it stands alone or in such a table.
#pragma once

#include <string>
#include <vector>

#include "presets/field_values.h"

namespace hitchwright {

/// A value with what stood beside it, or the file's own words where nothing did.
struct ValueParts {
    const SourceNode* value = nullptr;  ///< null: there is none, and a problem says so
    const SourceNode* tolerance = nullptr;
    FieldNote note;
    Grade grade = Grade::C;
    std::string source;
};

/// What may stand beside a value.
enum class Beside { origin, origin_and_tolerance, grade_and_source };

/// Takes a node apart; unknown keys in its table become problems.
ValueParts take_apart(const SourceNode& node, const std::string& key, Beside beside, ReadContext& context);

/// The name of an item of a list, alone or with something said beside it; empty: it has none that is a text or a number.
std::string find_item_name(const SourceNode& item);

/// Files the note of a value under its full key.
void keep_note(const std::string& key, const ValueParts& parts, ReadContext& context);

/// The problem of a list, table or date that stands where one value belongs.
void refuse_kind(const SourceNode& node, const std::string& key, std::string allowed, ReadContext& context);

/// "a, b, c" for sentences.
std::string join_words(const std::vector<std::string>& words);

}  // namespace hitchwright
