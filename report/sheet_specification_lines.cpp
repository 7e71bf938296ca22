// Lines of the sheet measured against a specification; see sheet_lines.h.
#include <fmt/format.h>

#include "geometry/setup_lines.h"
#include "report/line_words.h"
#include "report/sheet_lines.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

/// "Control cable (bracket to clevis)": what it is and how it is taken.
std::string name_line(const LineResult& r) {
    const bool named = r.words || r.line.specification.empty();
    std::string text = printable_text(named ? r.line.name : r.line.specification, 120);
    if (!r.line.how.empty()) text += fmt::format(" ({})", printable_text(r.line.how, 200));
    return text;
}

/// "3/8 in long: shorten ... If left: ...": what is to be done.
std::string say_result(const LineResult& r, UnitSystem units) {
    const std::string off = say_difference(r, units), todo = say_correction(r, units), follows = say_consequence(r);
    std::string text = off;
    if (!todo.empty()) text += (text.empty() ? "" : ": ") + todo;
    if (!follows.empty()) text += fmt::format("{}If left: {}", text.empty() ? "" : ". ", follows);
    return text.empty() ? text : text + ".";
}

}  // namespace

void add_specification_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    LineWriter lines(SheetSection::specification, out);
    for (const LineResult& r : check_lines(x.setup)) {
        if (r.line.generated) continue;  // the drawbar has lines of its own
        const bool read = r.verdict != LineVerdict::not_measured;
        const UnitSystem units = x.words.units;
        lines.add({{},
                   "specification",
                   name_line(r),
                   say_asked(r.line, units),
                   read ? say_measured(r.line, units) : std::string(),
                   true,
                   say_result(r, units),
                   read ? std::string(line_mark(r.verdict)) : std::string()});
    }
}

}  // namespace hitchwright
