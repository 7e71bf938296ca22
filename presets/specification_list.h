// Lines measured against a specification: from lists ([[line]]) and from set-ups ([[specification]]).
//
// A set-up may name lists; an item of its own that has the name of a line of a list gives that line further values
// (what was measured, for example), any other is a line of its own. The kind of a figure is that of its unit; where no
// unit tells (a bare number) it is a length, or what `quantity` says.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/specification_fields.h"
#include "presets/field_values.h"
#include "presets/library.h"
#include "presets/problem.h"
#include "presets/toml_reader.h"

namespace hitchwright {

/// Most lists that one set-up names.
inline constexpr std::size_t most_specification_lists = 16;

struct SpecificationList {
    std::string key, name, note;
    std::vector<SpecificationLine> lines;

    bool operator==(const SpecificationList&) const = default;
};

/// Visits all fields of a specification list; visitor as in setup_fields.h.
template <class V>
void visit_fields(SpecificationList& s, V&& v) {
    v.text("name", s.name, "name shown");
    v.text("note", s.note, "free text");
    visit_lines("line", s.lines, v);
}

/// Reads the text of a specification list; all problems in one go. `origin` holds for values where the file states
/// none.
SpecificationList read_specification_list(std::string_view text, const std::string& file,
                                          std::vector<Problem>& problems, Origin origin = Origin::measured);

/// The same for a text that was parsed before.
SpecificationList read_specification_list(const ParsedToml& parsed, const std::string& file, std::vector<Problem>& problems, Origin origin);

/// Reads the items of a list of a file into `lines`: over the line of a list that has their name, else as new ones.
/// `key`: of the list, "line" or "specification".
void read_line_items(const SourceNode& node, const std::string& key, std::vector<SpecificationLine>& lines,
                     ReadContext& context);

/// Adds a problem for each line that contradicts itself and each name that stands twice, placed by the notes.
/// `key`: under which the lines stand in them.
void check_contradictions(const std::vector<SpecificationLine>& lines, const std::string& key, const FieldNotes& notes,
                          std::vector<Problem>& problems);

}  // namespace hitchwright
