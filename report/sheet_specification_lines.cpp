// Lines of the sheet measured against a specification; see sheet_lines.h.
#include <fmt/format.h>

#include "geometry/setup_lines.h"
#include "report/line_words.h"
#include "report/sheet_lines.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

/// "Control cable (bracket to clevis). 3/8 in long: shorten ...": what it is, how it is taken, what is to be done.
std::string say_what(const LineResult& r, UnitSystem units) {
    const bool named = r.words || r.line.specification.empty();
    std::string text = printable_text(named ? r.line.name : r.line.specification, 120);
    if (!r.line.how.empty()) text += fmt::format(" ({})", printable_text(r.line.how, 200));
    const std::string off = say_difference(r, units), todo = say_correction(r, units), follows = say_consequence(r);
    if (!off.empty()) text += ". " + off;
    if (!todo.empty()) text += ": " + todo;
    if (!follows.empty()) text += fmt::format(". If left: {}", follows);
    return text;
}

}  // namespace

void add_specification_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    LineWriter lines(SheetSection::specification, out);
    for (const LineResult& r : check_lines(x.setup)) {
        if (r.line.generated) continue;  // the drawbar has lines of its own
        const bool read = r.verdict != LineVerdict::not_measured;
        lines.read("specification", say_what(r, x.words.units), say_asked(r.line, x.words.units),
                   read ? fmt::format("{}: {}", line_mark(r.verdict), say_measured(r.line, x.words.units)) : std::string());
    }
}

}  // namespace hitchwright
