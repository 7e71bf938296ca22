// Specification lists: lines of a set-up sheet such as "control cable, bracket to clevis: 4 in +- 1/8 in".
//
// Read and validated as data; a set-up sheet prints them beside what was measured.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/setup_fields.h"
#include "presets/field_values.h"
#include "presets/problem.h"

namespace hitchwright {

/// One line: what is specified, what was measured, what follows when it is wrong.
struct SpecificationLine {
    std::string name;
    std::string specification;  ///< in words, where it is no length
    Reading length;             ///< the specified length with its permitted deviation as tolerance
    Reading measured;
    std::string how;          ///< from where to where
    std::string consequence;  ///< of a wrong value
    std::string complaint;    ///< as the user of the machine would put it
    std::string source;
    Grade grade = Grade::C;

    bool operator==(const SpecificationLine&) const = default;
};

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
    v.list("line", s.lines, [](SpecificationLine& l, auto& i) {
        using field::length;
        i.text("name", l.name, "what is to be set or checked");
        i.text("specification", l.specification, "what is asked for, in words");
        i.reading("length", l.length, length(-10, 10, 0, Need::optional, "what is asked for, as a length; its tolerance is the permitted deviation"));
        i.reading("measured", l.measured, length(-10, 10, field::pin_error, Need::optional, "what was measured"));
        i.text("how", l.how, "from where to where it is measured");
        i.text("consequence", l.consequence, "what a wrong value causes");
        i.text("complaint", l.complaint, "how the user of the machine would complain about it");
        i.text("source", l.source, "where the figure is from");
        i.choice("grade", l.grade, grades, "how well the figure is known: A to D, or P for common practice");
    }, "each line of the list");
}

/// Reads the text of a specification list; all problems in one go.
SpecificationList read_specification_list(std::string_view text, const std::string& file, std::vector<Problem>& problems);

}  // namespace hitchwright
