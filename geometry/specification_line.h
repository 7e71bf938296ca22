// A line of a set-up sheet: what is asked for, what was measured, and what follows from the two.
//
// What is asked for is a figure with its permitted deviation (nominal), a band (at_least, at_most: either or both), a
// figure inside a band, or words. A reading is in or out only where its own error does not straddle a limit; a line
// that nobody measured is never in. A figure alone, without deviation or band, is kept as far as the reading can tell:
// off it by no more than the reading's error. Method: arithmetic of limits (grade D). Values are SI; no I/O.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/drawn_readings.h"
#include "geometry/reading.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// Way of turning, as `adjuster` says from where it is seen.
enum class TurnSense { unknown, clockwise, counterclockwise };

/// Figures of a line as they were typed, with their unit; empty: not typed.
struct TypedFigures {
    std::string nominal, at_least, at_most, measured, advance_per_turn, hole_spacing;
    bool operator==(const TypedFigures&) const = default;
};

/// One line: what is specified, what was measured, what follows when it is wrong. Keys: specification_fields.h.
struct SpecificationLine {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(SpecificationLine);
    std::string name;
    std::string specification;                 ///< in words: beside a figure, or in its place
    Dimension quantity = Dimension::length;    ///< of the figures and of `measured`
    Reading nominal;                           ///< the figure; its tolerance is the permitted deviation either way
    Reading at_least, at_most;                 ///< the band; instead of a permitted deviation
    Reading measured;                          ///< its tolerance is the error of the reading
    YesNo as_specified = YesNo::unknown;       ///< of words: whether it is so; nobody looked: unknown
    std::string how;                           ///< from where to where
    std::string if_below, if_above;            ///< what follows from too little and from too much
    std::string consequence;                   ///< of a wrong value, whichever way
    std::string complaint;                     ///< as the user of the machine would put it
    std::string adjuster;                      ///< what to turn or to move, and from where it is seen
    Reading advance_per_turn;                  ///< of a length, in one turn of the adjuster
    TurnSense lengthens = TurnSense::unknown;  ///< the way of turning that makes the length greater
    Reading hole_spacing;                      ///< of a length that goes by holes
    bool stops_work = false;                   ///< true: out of specification, the machine must not run
    std::string source;
    Grade grade = Grade::C;
    TypedFigures typed;
    std::string list;        ///< key of the list it is from; empty: the set-up's own
    bool generated = false;  ///< made from the set-up's own readings (setup_lines.h)

    bool operator==(const SpecificationLine&) const = default;
};

/// What is wrong with a line as data; such a line cannot be judged.
enum class LineFault {
    none,
    no_name,
    asks_for_nothing,  ///< neither figure nor words
    not_a_number,      ///< a value or deviation that is not finite, or a negative deviation
    band_upside_down,
    band_and_deviation,    ///< two sets of limits
    limit_with_deviation,  ///< a limit of the band that may itself be off
    nominal_outside_band,
    measured_words,            ///< a reading, but no figure to hold it against
    figure_answered_in_words,  ///< `as_specified` beside a figure
    adjuster_of_no_length      ///< turns or holes of something that is no length
};

enum class LineVerdict {
    in,
    out,
    too_close,    ///< the error of the reading straddles a limit
    not_measured  ///< never counted as in
};

/// Where a reading lies: against the band when outside it, else against the figure.
enum class LineSide { on, below, above };

/// Turns of an adjuster; positive: the way that makes the length greater.
struct LineTurns {
    double exact = 0.0;  ///< to the aim
    double rounded =
        0.0;  ///< to quarters, or eighths where the exact count is one; never short of an aim that is a limit
    double after = 0.0;   ///< what it measures after the rounded turns
    bool within = false;  ///< `after` lies within the limits
    TurnSense sense = TurnSense::unknown;
    bool operator==(const LineTurns&) const = default;
};

/// Holes to move by; positive: the way that makes the length greater.
struct LineHoles {
    int count = 0;
    double after = 0.0;
    bool within = false;
    bool operator==(const LineHoles&) const = default;
};

/// A line judged. Differences are in the line's quantity, SI.
struct LineResult {
    SpecificationLine line;
    LineVerdict verdict = LineVerdict::not_measured;
    LineFault fault = LineFault::none;
    bool words = false;               ///< judged by `as_specified` alone
    bool bare = false;                ///< a figure without deviation or band
    std::optional<double> low, high;  ///< limits
    std::optional<double> aim;        ///< the figure; else the middle of the band, or its only limit
    std::optional<double> off;        ///< measured less aim
    double beyond = 0.0;              ///< how far outside the band, >= 0
    LineSide side = LineSide::on;
    std::optional<double> correction;  ///< change that brings it to the aim; none when in
    std::optional<LineTurns> turns;
    std::optional<LineHoles> holes;
    bool operator==(const LineResult&) const = default;
};

/// What is wrong with a line as data; the first that is found, in the order of the list.
LineFault find_fault(const SpecificationLine& line);

/// Judges one line.
LineResult check_line(const SpecificationLine& line);

/// Orders worst first: out (what stops work before the rest, then the greater share of the permitted deviation), too
/// close to call, not measured, in; stable.
void sort_lines(std::vector<LineResult>& lines);

/// Fixed words of machine-readable output: in, out, too_close_to_call, not_measured; on, below, above.
std::string_view line_verdict_word(LineVerdict verdict);
std::string_view line_side_word(LineSide side);
std::string_view line_fault_word(LineFault fault);
std::string_view turn_sense_word(TurnSense sense);

}  // namespace hitchwright
