// The set-up sheet as data: what a technician works through at the machine, each line with its target, and what to read
// back when it is done. Printed by sheet_pages.h, and as text by sheet_text.h.
//
// A line is there when it concerns the set-up: a blade has no driveline, a drawn machine no upper link. Targets come
// from the analysis; where it has none, the line stays and its target is left to the manual. Numbers are rounded as
// safe_words.h does. Nothing here is computed.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/finding.h"
#include "report/format_length.h"

namespace hitchwright {

/// Parts of the sheet, in the order of the work.
enum class SheetSection { job, safe_state, readings, hitch, levelling, full_travel, driveline, drawn, loads, specification, run };

/// One line.
struct SheetLine {
    SheetSection section{};
    std::string_view word;  ///< fixed, for machine-readable output and tests: "upper_link_length"
    std::string what;       ///< what to do or to look at
    std::string target;     ///< empty: only to tick
    std::string measured;   ///< what was read so far; empty: a line to write on
    bool measures = false;  ///< something is to be read and written down
    std::string hint = {};  ///< behind `what`: what was worked out; a worksheet keeps it back
    std::string mark = {};  ///< before `measured`: "OUT"; a worksheet keeps it back
    bool operator==(const SheetLine&) const = default;
};

/// One of the four parts of the shaft, before and after the cut.
struct CutRow {
    std::string part, before, cut, after;
    bool operator==(const CutRow&) const = default;
};

/// Expected readings at one height of the lift, for the check on the machine.
struct ExpectedReadings {
    std::string where;  ///< "lowest", "working", "highest"
    std::vector<std::string> values;
    std::vector<std::string> bands = {};  ///< of each value, "+- 1/2 in"; empty: not known
    bool operator==(const ExpectedReadings&) const = default;
};

/// A label with what stands behind it; empty: a line to write on.
struct SheetField {
    std::string label, text;
    bool operator==(const SheetField&) const = default;
};

/// What one switch would make of the machine the targets are for.
struct SheetVariant {
    std::string word;  ///< the switch, as for `compare --switch`
    std::string what, verdict;
    bool changes = false;  ///< the verdict is another one
    bool operator==(const SheetVariant&) const = default;
};

/// The whole sheet in words.
struct Sheet {
    std::string title;
    std::vector<SheetField> fields;  ///< machines, serials, technician, date
    std::string verdict;             ///< the sentence
    Verdict verdict_word{};
    std::vector<std::string> steps;           ///< what to change first
    std::string after;                        ///< changes that the targets count as made; empty: none
    std::vector<SheetLine> lines;             ///< by section
    std::string model;                        ///< which model targets and cut come from; empty: that of the files
    std::vector<CutRow> cut;                  ///< empty: nothing to cut
    std::string cut_note;                     ///< how to measure and cut, with what it leaves
    std::vector<std::string> expected_heads;  ///< names of the values
    std::vector<ExpectedReadings> expected;
    std::vector<std::string> expected_bands;  ///< the widest band of each value over the heights; empty text: not known
    std::vector<SheetVariant> variants;  ///< those that change the verdict first
    std::vector<Caution> cautions;  ///< all that apply
    std::string program;            ///< name and version
};

/// `what` with its hint, unless it is held back.
std::string say_what(const SheetLine& line, bool worksheet);
/// What was read, with its mark unless it is held back.
std::string say_read(const SheetLine& line, bool worksheet);

/// What the sheet of a set-up says. Targets are those of the machine after the steps that choose another hole, position
/// or stop, or put ballast on (proposed_setup.h): nobody is to set a machine up into the state that was judged bad.
/// `version`: of the program.
Sheet make_sheet(const Setup& setup, const Analysis& analysis, UnitSystem units, std::string_view version);

std::string_view sheet_section_title(SheetSection section);
std::string_view sheet_section_word(SheetSection section);

/// Title of the variants.
inline constexpr std::string_view sheet_variants_title = "With one thing changed, all else as it is; the sheet is then to be done anew";

/// Cautions that stand at the head of a section.
std::vector<Caution> section_cautions(SheetSection section);

}  // namespace hitchwright
