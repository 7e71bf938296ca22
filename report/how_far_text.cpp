#include "report/how_far_text.h"

#include <fmt/format.h>

#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr double least_fraction = metres_per_inch / 8.0;  // below it sixteenths are too coarse
constexpr std::size_t indent = 4;

std::string decimals_down(double number, double step, int places, std::string_view unit) {
    return format_ratio(round_to_step(number, step, Rounding::down, step * 1e-9), places) + std::string(unit);
}

std::string say_answer(const RoomSide& side, bool of_finding) {
    if (!of_finding) return std::string(verdict_headline(side.verdict));
    if (!side.severity) return "the finding is gone";
    switch (*side.severity) {
        case Severity::forbids:
            return "this forbids";
        case Severity::unknown:
            return "this is open";
        case Severity::change:
            return "this wants a change";
        case Severity::condition:
            return "this sets a condition";
        case Severity::watch:
            return "this is worth watching";
        case Severity::good:
            break;
    }
    return "this is within its limit";
}

std::string describe_side(const RoomSide& side, std::string_view way, Dimension dimension, bool of_finding,
                          UnitSystem units) {
    if (!side.changes) {
        if (!(side.searched > 0.0)) return fmt::format("{}: at the end of what is possible", way);
        return fmt::format("not within {} {}", format_room(side.searched, dimension, units), way);
    }
    const std::string amount = format_room(side.holds, dimension, units);
    std::string text = fmt::format("may be {} {} before {}{}", amount, way, of_finding ? "" : "it says ", say_answer(side, of_finding));
    if (side.comes_back) text += " (farther on it is as now again)";
    return text;
}

std::string format_entry(const ReadingRoom& room, const TextStyle& style) {
    const RoomWords words = describe_room(room, false, style.units);
    std::string head = fmt::format("{} = {}", printable_text(room.key, 70),
                                   format_decimal_quantity(room.reading.value, room.spec.dimension, style.units));
    if (!words.error.empty()) head += ", " + words.error;
    head += ", " + std::string(origin_word(room.reading.origin));
    std::string text = format_paragraph(head, style.width, 2, indent);
    text += format_paragraph(words.lower, style.width, indent, indent + 2);
    text += format_paragraph(words.higher, style.width, indent, indent + 2);
    if (words.inside_error)
        text += format_paragraph("! Less than its own error: take this one again before anything rests on it.",
                                 style.width, indent, indent + 2);
    return text;
}

}  // namespace

std::string format_room(double amount, Dimension dimension, UnitSystem units) {
    const bool inch = units == UnitSystem::inch;
    switch (dimension) {
        case Dimension::length:
            if (!inch) return format_millimetres(amount, MillimetrePlaces::tenth, Rounding::down);
            if (amount >= least_fraction) return format_inches(amount, Rounding::down);
            return decimals_down(amount / metres_per_inch, 1e-3, 3, " in");
        case Dimension::length_per_turn:
            return inch ? decimals_down(amount / metres_per_inch, 1e-4, 4, " in/turn")
                        : decimals_down(amount * 1e3, 1e-3, 3, " mm/turn");
        case Dimension::angle:
            return format_angle(amount, Rounding::down);
        case Dimension::mass:
            return format_mass(amount, units, Rounding::down);
        case Dimension::force:
            return format_force(amount, units, Rounding::down);
        case Dimension::power:
            return format_power(amount, units, Rounding::down);
        case Dimension::rotation_speed:
            return format_rotation_speed(amount, Rounding::down);
        case Dimension::pressure:
            return format_pressure(amount, units, Rounding::down);
        case Dimension::torque:
            return format_torque(amount, units, Rounding::down);
        case Dimension::count:
        case Dimension::ratio:
            break;
    }
    return format_ratio(amount, 3, Rounding::down);
}

RoomWords describe_room(const ReadingRoom& room, bool of_finding, UnitSystem units) {
    const RoomSide& low = of_finding ? room.finding_lower : room.lower;
    const RoomSide& high = of_finding ? room.finding_higher : room.higher;
    const Dimension dimension = room.spec.dimension;
    RoomWords words;
    words.lower = describe_side(low, "lower", dimension, of_finding, units);
    words.higher = describe_side(high, "higher", dimension, of_finding, units);
    if (room.error > 0.0) {
        // An error is rounded the other way.
        const std::string error = dimension == Dimension::length && units == UnitSystem::inch && room.error >= metres_per_sixteenth / 2.0
                                      ? format_inches(room.error, Rounding::up)
                                      : format_decimal_quantity(room.error, dimension, units);
        words.error = (room.reading.tolerance > 0.0 ? "good to " : "usually good to ") + error;
    }
    for (const RoomSide* side : {&low, &high}) words.inside_error = words.inside_error || (side->changes && side->holds < room.error);
    return words;
}

std::string say_how_searched() {
    return "One reading at a time, all others as they are; each was looked at up to ten times its error (without one, a "
           "quarter of its value) and not beyond what is possible. An island between two of the values looked at is not "
           "seen. Two readings that are off together may need less.";
}

std::string format_how_far(const std::vector<ReadingRoom>& rooms, Verdict now, const TextStyle& style) {
    std::string text = format_paragraph(fmt::format("How far one reading may be off before the verdict is no longer {}, least room first:",
                                                    verdict_headline(now)),
                                        style.width, 0, 0);
    std::size_t steady = 0, idle = 0;
    for (const ReadingRoom& room : rooms) {
        if (find_least_room(room)) text += format_entry(room, style);
        else ++(room.idle ? idle : steady);
    }
    if (steady + idle == rooms.size()) text += format_paragraph("None of the readings looked at changes it.", style.width, 2, 2);
    if (steady > 0)
        text += format_paragraph(fmt::format("Moving a finding but not the verdict: {}.", format_count(steady, "other reading")), style.width, 2, 2);
    if (idle > 0) text += format_paragraph(fmt::format("Without a part in this answer: {}.", format_count(idle, "other reading")), style.width, 2, 2);
    return text + format_paragraph(say_how_searched(), style.width, 2, 2);
}

}  // namespace hitchwright
