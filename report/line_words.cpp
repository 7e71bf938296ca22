// See line_words.h.
#include "report/line_words.h"

#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <numeric>

#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_text = 200;
/// Two figures of turns this near are not told apart on the machine.
constexpr double turns_told_apart = 0.02;

std::string printable(const std::string& text) { return printable_text(text, most_text); }

/// Words of the two senses: how it is ("long") and what to do ("lengthen by").
struct SenseWords {
    std::string_view less, more, increase, reduce;
};

SenseWords find_sense_words(const SpecificationLine& l) {
    if (l.generated && l.name == "drawbar length") return {"short", "long", "extend by", "draw in by"};
    if (l.generated && l.name == "drawbar height") return {"low", "high", "raise by", "lower by"};
    if (l.generated) return {"too little", "too much", "lower the drawbar by", "raise the drawbar by"};
    const std::string_view increase = change_verb(l.quantity, l.nominal.known, true),
                           reduce = change_verb(l.quantity, l.nominal.known, false);
    switch (l.quantity) {
        case Dimension::length:
            return {l.nominal.known ? "short" : "too little", l.nominal.known ? "long" : "too much", increase, reduce};
        case Dimension::count:
            return {"too few", "too many", increase, reduce};
        case Dimension::angle:
            return {"too little", "too much", increase, reduce};
        case Dimension::mass:
            return {"light", "heavy", increase, reduce};
        default:
            return {"low", "high", increase, reduce};
    }
}

/// "3/32 in" for a length that is a whole number of sixty-fourths; empty for any other.
std::string format_sixty_fourths(double metres) {
    const double parts = metres / metres_per_inch * 64.0;
    if (!(std::fabs(parts) < 1e9) || std::fabs(parts - std::round(parts)) > 1e-4) return {};
    long long count = std::llround(std::fabs(parts));
    const long long whole = count / 64, rest = count % 64;
    std::string text = parts < -0.5 ? "-" : "";
    if (rest == 0) return text + fmt::format("{} in", whole);
    const long long shared = std::gcd(rest, 64LL);
    return text + (whole > 0 ? fmt::format("{} ", whole) : "") + fmt::format("{}/{} in", rest / shared, 64 / shared);
}

std::string format_any_length(double metres, UnitSystem units, Rounding rounding) {
    if (units == UnitSystem::inch) {
        const std::string exact = format_sixty_fourths(metres);
        if (!exact.empty()) return exact;
        const double thousandths = round_to_step(metres / metres_per_inch, 0.001, rounding, 1e-7);
        return fmt::format("{:.3f} in", thousandths);
    }
    const double mm = metres * 1e3;
    if (std::fabs(mm - std::round(mm)) < 1e-4) return format_millimetres(metres);
    return format_millimetres(metres, MillimetrePlaces::tenth, rounding);
}

/// Up to three decimals without zeros at the end: a count may be a mean.
std::string format_plain_count(double value) {
    std::string text = fmt::format("{:.3f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

/// "4 psi" for "4.0 psi": gauges are read in whole numbers.
std::string drop_zero(std::string text) {
    const std::size_t at = text.find(".0 ");
    if (at != std::string::npos) text.erase(at, 2);
    return text;
}

/// The figure as typed, else from its value.
std::string figure(const Reading& r, const std::string& typed, Dimension quantity, UnitSystem units) {
    return typed.empty() ? format_figure(r.value, quantity, units) : printable_text(typed, 40);
}

std::string say_turns(const LineResult& r) {
    const LineTurns& t = *r.turns;
    if (t.rounded == 0.0) return "less than a quarter turn away";
    const bool rounded = std::fabs(t.exact - t.rounded) > turns_told_apart;
    std::string text = fmt::format("{}{}", rounded ? "about " : "", format_eighth_turns(t.rounded));
    if (t.sense != TurnSense::unknown)
        text += fmt::format(" {}", turn_sense_word(t.sense));
    else
        text += fmt::format(", the way that {} it", t.rounded > 0.0 ? "lengthens" : "shortens");
    return text;
}

std::string say_holes(const LineResult& r, UnitSystem units) {
    const LineHoles& h = *r.holes;
    if (h.count == 0) return "no other hole comes nearer";
    const double left = h.after - *r.aim;
    std::string text = fmt::format("move {} {} {}", std::abs(h.count), std::abs(h.count) == 1 ? "hole" : "holes",
                                   h.count > 0 ? "longer" : "shorter");
    if (std::fabs(left) > 1e-7)
        text += fmt::format(", still {} off", format_figure(std::fabs(left), r.line.quantity, units));
    if (!h.within) text += ", outside the band";
    return text;
}

std::string say_limits(const SpecificationLine& l, UnitSystem units) {
    const auto at = [&](const Reading& r, const std::string& typed) { return figure(r, typed, l.quantity, units); };
    if (l.at_least.known && l.at_most.known)
        return fmt::format("{} to {}", at(l.at_least, l.typed.at_least), at(l.at_most, l.typed.at_most));
    if (l.at_least.known) return "at least " + at(l.at_least, l.typed.at_least);
    return l.at_most.known ? "at most " + at(l.at_most, l.typed.at_most) : std::string();
}

std::string upper_first(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

}  // namespace

std::string_view line_mark(LineVerdict verdict) {
    switch (verdict) {
        case LineVerdict::in:
            return "IN";
        case LineVerdict::out:
            return "OUT";
        case LineVerdict::too_close:
            return "TOO CLOSE TO CALL";
        case LineVerdict::not_measured:
            return "NOT MEASURED";
    }
    return "NOT MEASURED";
}

std::string format_figure(double value, Dimension quantity, UnitSystem units, Rounding rounding) {
    if (!std::isfinite(value)) return "not known";
    switch (quantity) {
        case Dimension::length:
            return format_any_length(value, units, rounding);
        case Dimension::angle:
            return format_angle(value, rounding);
        case Dimension::pressure:
            return drop_zero(format_pressure(value, units, rounding));
        case Dimension::torque:
            return drop_zero(format_torque(value, units, rounding));
        case Dimension::mass:
            return format_mass(value, units, rounding);
        case Dimension::force:
            return format_force(value, units, rounding);
        case Dimension::rotation_speed:
            return format_rotation_speed(value, rounding);
        case Dimension::count:
            return format_plain_count(value);
        default:
            return format_decimal_quantity(value, quantity, units);
    }
}

std::string format_eighth_turns(double turns) {
    if (!std::isfinite(turns) || std::fabs(turns) > 1e6) return "not known";
    const long long eighths = std::llround(std::fabs(turns) * 8.0);
    const long long whole = eighths / 8, rest = eighths % 8;
    std::string text = whole > 0 || rest == 0 ? std::to_string(whole) : "";
    if (rest > 0) {
        const long long shared = std::gcd(rest, 8LL);
        text += fmt::format("{}{}/{}", text.empty() ? "" : " ", rest / shared, 8 / shared);
    }
    return text + (eighths > 0 && eighths <= 8 ? " turn" : " turns");
}

std::string_view change_verb(Dimension quantity, bool has_figure, bool more) {
    switch (quantity) {
        case Dimension::length:
            if (!has_figure) return more ? "increase by" : "reduce by";
            return more ? "lengthen by" : "shorten by";
        case Dimension::count:
            return more ? "add" : "take away";
        case Dimension::mass:
            return more ? "add" : "take off";
        case Dimension::angle:
            return more ? "increase by" : "reduce by";
        default:
            return more ? "raise by" : "lower by";
    }
}

std::string say_asked(const SpecificationLine& l, UnitSystem units) {
    std::string text;
    if (l.nominal.known) {
        text = figure(l.nominal, l.typed.nominal, l.quantity, units);
        if (l.typed.nominal.empty() && l.nominal.tolerance > 0.0)
            text += " +- " + format_figure(l.nominal.tolerance, l.quantity, units);
    }
    const std::string band = say_limits(l, units);
    if (!band.empty()) text += (text.empty() ? "" : ", ") + band;
    return text.empty() ? printable(l.specification) : text;
}

std::string say_specified(const SpecificationLine& l, UnitSystem units) {
    const std::string asked = say_asked(l, units);
    const bool figure = l.nominal.known || l.at_least.known || l.at_most.known;
    return figure && !l.specification.empty() ? asked + "; " + printable(l.specification) : asked;
}

std::string say_measured(const SpecificationLine& l, UnitSystem units) {
    if (l.measured.known) return figure(l.measured, l.typed.measured, l.quantity, units);
    if (l.nominal.known || l.at_least.known || l.at_most.known) return "not measured";
    return l.as_specified == YesNo::yes  ? "as specified"
           : l.as_specified == YesNo::no ? "not as specified"
                                         : "not looked at";
}

std::string say_difference(const LineResult& r, UnitSystem units) {
    if (!r.off) return {};
    const SenseWords words = find_sense_words(r.line);
    const auto amount = [&](double value, Rounding rounding) {
        return format_figure(std::fabs(value), r.line.quantity, units, rounding);
    };
    std::string text;
    const bool figure_stated = r.line.nominal.known;
    if (figure_stated && r.side != LineSide::on && *r.off != 0.0)
        text = fmt::format("{} {}", amount(*r.off, Rounding::nearest), *r.off > 0.0 ? words.more : words.less);
    if (r.bare)
        return text + (r.verdict == LineVerdict::in && !text.empty() ? ", no more than the reading's own error" : "");
    if (r.beyond > 0.0) {
        const std::string beyond = amount(r.beyond, Rounding::up);
        text += figure_stated ? fmt::format(", {} beyond the band", beyond)
                              : fmt::format("{} {} the band", beyond, r.side == LineSide::above ? "above" : "below");
    }
    if (r.verdict == LineVerdict::too_close) {
        text += fmt::format("{}the reading's own error of +-{} reaches over the limit", text.empty() ? "" : "; ",
                            amount(r.line.measured.tolerance, Rounding::up));
    }
    return text;
}

std::string say_correction(const LineResult& r, UnitSystem units) {
    if (r.words && r.verdict == LineVerdict::out) return "make it so: " + printable(r.line.specification);
    const std::string adjuster = printable(r.line.adjuster);
    std::string text;
    if (r.verdict == LineVerdict::too_close) text = "measure again, closer";
    if (!r.correction) return text;
    const SenseWords words = find_sense_words(r.line);
    const bool only_limit = !r.line.nominal.known && !(r.low && r.high);
    text += fmt::format("{}{} {}{}, to {}", text.empty() ? "" : "; or ",
                        *r.correction > 0.0 ? words.increase : words.reduce, only_limit ? "at least " : "",
                        format_figure(std::fabs(*r.correction), r.line.quantity, units),
                        format_figure(*r.aim, r.line.quantity, units));
    if (r.turns)
        text += fmt::format(": {}{}", adjuster.empty() ? "" : adjuster + ", ", say_turns(r));
    else if (!adjuster.empty())
        text += ": " + adjuster;
    if (r.holes) text += fmt::format("{} {}", r.turns || !adjuster.empty() ? ";" : ":", say_holes(r, units));
    return text;
}

std::string say_consequence(const LineResult& r) {
    if (r.verdict != LineVerdict::out && r.verdict != LineVerdict::too_close) return {};
    const std::string& own = r.side == LineSide::below ? r.line.if_below : r.line.if_above;
    std::string text = r.side == LineSide::on || r.words ? std::string() : printable(own);
    if (!r.line.consequence.empty()) text += (text.empty() ? "" : "; ") + printable(r.line.consequence);
    return text;
}

std::string say_line(const LineResult& r, UnitSystem units) {
    if (r.fault != LineFault::none) return "Not judged: what the line says contradicts itself.";
    const std::string asked = say_asked(r.line, units);
    std::string text;
    switch (r.verdict) {
        case LineVerdict::not_measured:
            return fmt::format("{} (asked for: {}).", r.words ? "Nobody looked" : "Not measured", asked);
        case LineVerdict::in:
            text = "In";
            break;
        case LineVerdict::out:
            text = "Out";
            break;
        case LineVerdict::too_close:
            text = "Too close to call";
            break;
    }
    text += r.words ? fmt::format(": {}", r.verdict == LineVerdict::in ? asked : "not as specified")
                    : fmt::format(": {} for {}", say_measured(r.line, units), asked);
    const std::string difference = say_difference(r, units), correction = say_correction(r, units),
                      follows = say_consequence(r);
    if (!difference.empty()) text += ", " + difference;
    text += ".";
    if (!correction.empty()) text += fmt::format(" {}.", upper_first(correction));
    if (!follows.empty()) text += fmt::format(" As it is: {}.", follows);
    return text;
}

}  // namespace hitchwright
