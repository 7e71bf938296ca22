// See hole_tables.h.
#include "report/hole_tables.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "report/hole_words.h"

namespace hitchwright {
namespace {

using Cells = std::vector<std::string>;

/// One column: three lines of heading, and the text of a row. Rows without numbers stay empty.
struct Column {
    Cells heading;
    std::function<std::string(const HoleNumbers&, const HoleResult&)> text;
};

std::string bare(const std::string& with_unit) {
    const std::size_t space = with_unit.rfind(' ');
    return space == std::string::npos ? with_unit : with_unit.substr(0, space);
}

/// Lengths as fractions, or in tenths of an inch where fractions would make a table too wide.
struct LengthText {
    UnitSystem units = UnitSystem::inch;
    bool tenths = false;
    std::string operator()(double metres, Rounding rounding = Rounding::nearest) const {
        if (tenths && units == UnitSystem::inch) return format_ratio(metres / metres_per_inch, 1, rounding);
        return bare(format_length(metres, units, rounding));
    }
};

std::string say_angle(double radians, Rounding rounding = Rounding::nearest) { return bare(format_angle(radians, rounding)); }

std::string say_optional_angle(const std::optional<double>& radians) { return radians ? say_angle(*radians) : "-"; }

/// X from the balls forward, in feet or metres, as in the sweep.
std::string say_hitch_distance(const std::optional<double>& inverse, UnitSystem units) {
    if (!inverse) return "dead";
    if (*inverse > -0.01 && *inverse < 0.01) return "par.";
    const double x = 1.0 / *inverse;
    return format_ratio(units == UnitSystem::inch ? x / (12.0 * metres_per_inch) : x, 1);
}

std::string say_lift(const LiftRatio& lift) {
    if (lift.load_stops()) return "stops";
    return lift.worst() ? format_ratio(*lift.worst() * 100.0, 0, Rounding::down) : "-";
}

std::string say_joint(JointEnd joint) { return joint == JointEnd::tractor ? "t" : "i"; }

/// The top of the heights around the working height at which a limit is kept: where it ends below the top of the travel.
std::string say_up_to(const std::vector<HeightRange>& heights, const HoleNumbers& n, const LengthText& length) {
    if (heights.size() == 1 && heights.front() == n.travel) return "all";
    if (heights.empty()) return "none";
    if (heights.size() > 1) return "parts";
    const HeightRange& r = heights.front();
    const std::string top = length(r.high, Rounding::down);
    return r.low > n.travel.low ? length(r.low, Rounding::up) + "-" + top : top;
}

std::string say_cut(const HoleShaft& s, const LengthText& length) {
    if (!s.has_plan) return "-";
    if (s.plan.answer == CutAnswer::no_cut_works) return "none";
    if (s.plan.answer == CutAnswer::no_cut_needed) return "0";
    const CutPair& c = s.plan.recommended;
    const std::string a = length(c.a), b = length(c.b);
    return a == b ? a : a + "/" + b;
}

std::vector<Column> list_link_columns(const LengthText& length) {
    const std::string unit = length.units == UnitSystem::inch ? "in" : "mm";
    const auto thread = [length](const HoleNumbers& n, double UpperLinkReach::*side) -> std::string {
        if (!n.reach) return "-";
        return n.reach->within ? length((*n.reach).*side, Rounding::down) : "out";
    };
    return {{{"upper", "link", unit}, [length](const HoleNumbers& n, const HoleResult&) { return length(n.upper_length); }},
            {{"thread", "shorter", unit}, [thread](const HoleNumbers& n, const HoleResult&) { return thread(n, &UpperLinkReach::thread_left_to_shorten); }},
            {{"left", "longer", unit}, [thread](const HoleNumbers& n, const HoleResult&) { return thread(n, &UpperLinkReach::thread_left_to_lengthen); }},
            {{"pitch", "low", "deg"}, [](const HoleNumbers& n, const HoleResult&) { return say_angle(n.pitch_low); }},
            {{"", "work", "deg"}, [](const HoleNumbers& n, const HoleResult&) { return say_optional_angle(n.pitch_working); }},
            {{"", "top", "deg"}, [](const HoleNumbers& n, const HoleResult&) { return say_angle(n.pitch_top); }},
            {{"trans-", "port", "deg"}, [](const HoleNumbers& n, const HoleResult&) { return say_optional_angle(n.transport_pitch); }}};
}

std::vector<Column> list_carry_columns(const LengthText& length) {
    const bool inch = length.units == UnitSystem::inch;
    const std::string unit = inch ? "in" : "mm";
    const auto height = [length](const std::optional<RaisedPoint>& p) { return p ? length(p->height, Rounding::down) : "-"; };
    const auto beyond = [length](const HoleNumbers& n, const HoleResult&) { return n.dead_centre.beyond ? length(*n.dead_centre.beyond) : "-"; };
    return {{{"X", "work", inch ? "ft" : "m"}, [length](const HoleNumbers& n, const HoleResult&) { return say_hitch_distance(n.inverse_hitch_distance, length.units); }},
            {{"tail", "top", unit}, [height](const HoleNumbers& n, const HoleResult&) { return height(n.tail); }},
            {{"ground", "top", unit}, [height](const HoleNumbers& n, const HoleResult&) { return height(n.lowest); }},
            {{"lift", "least", "%"}, [](const HoleNumbers& n, const HoleResult&) { return say_lift(n.lift); }},
            {{"at", "height", unit}, [length](const HoleNumbers& n, const HoleResult&) { return n.lift.known ? length(n.lift.rise_most.height) : "-"; }},
            {{"off dead", "centre", "deg"}, [](const HoleNumbers& n, const HoleResult&) { return say_angle(n.dead_centre.angle, Rounding::down); }},
            {{"dead c.", "height", unit}, beyond}};
}

std::vector<Column> list_shaft_columns(const LengthText& length) {
    const std::string unit = length.units == UnitSystem::inch ? "in" : "mm";
    const auto of = [](auto text) {
        return [text](const HoleNumbers& n, const HoleResult& r) { return n.shaft ? text(*n.shaft, r) : std::string("-"); };
    };
    using S = const HoleShaft&;
    using R = const HoleResult&;
    const auto left = [length](S s, double ShaftMargins::*part) {
        return s.has_plan ? length(s.plan.uncut.*part, Rounding::down) : std::string("-");
    };
    return {{{"short-", "est", unit}, of([length](S s, R) { return length(s.shortest.bound, Rounding::down); })},
            {{"long-", "est", unit}, of([length](S s, R) { return length(s.longest.bound, Rounding::up); })},
            {{"gap", "", unit}, of([left](S s, R) { return left(s, &ShaftMargins::gap); })},
            {{"over-", "lap", unit}, of([left](S s, R) { return left(s, &ShaftMargins::overlap); })},
            {{"cut", "each", unit}, of([length](S s, R) { return say_cut(s, length); })},
            {{"joint", "work", "deg"}, of([](S s, R) { return say_angle(s.work_angle.bound, Rounding::up) + say_joint(s.work_joint); })},
            {{"joint", "travel", "deg"}, of([](S s, R) { return say_angle(s.travel_angle.bound, Rounding::up) + say_joint(s.travel_joint); })},
            {{"work", "up to", unit}, of([length](S, R r) { return say_up_to(r.work_heights, r.numbers, length); })},
            {{"PTO", "up to", unit}, of([length](S, R r) { return say_up_to(r.pto_heights, r.numbers, length); })}};
}

using ColumnList = std::vector<Column> (*)(const LengthText&);

std::string format_table(const HoleStudy& study, bool with_answer, ColumnList list, const LengthText& length) {
    std::vector<Column> columns = list(length);
    std::vector<Cells> rows{{"", "trac-", "mast"}, {"", "tor", "hole"}, {"", "hole", ""}};
    const bool rods = has_several_rod_holes(study);
    for (std::size_t line = 0; rods && line < 3; ++line) rows[line].emplace_back(line == 0 ? "rod" : line == 1 ? "hole" : "");
    for (std::size_t line = 0; with_answer && line < 3; ++line) rows[line].emplace_back(line == 0 ? "an-" : line == 1 ? "swer" : "");
    for (std::size_t line = 0; line < 3; ++line) {
        for (const Column& c : columns) rows[line].push_back(c.heading[line]);
    }
    for (const HoleResult& r : study.results) {
        const HoleNumbers& n = r.numbers;
        Cells cells{fmt::format("{}{}", r.place, n.is_present ? "*" : ""), printable_text(n.tractor_pin, 10), printable_text(n.mast_pin, 10)};
        if (rods) cells.push_back(printable_text(n.rod_hole, 10));
        if (with_answer) cells.emplace_back(say_standing_shortly(r.standing));
        for (const Column& c : columns) cells.push_back(n.has_numbers ? c.text(n, r) : "-");
        rows.push_back(std::move(cells));
    }
    return format_columns(rows, 0, 2);
}

/// With fractions when the page takes them, else with tenths of an inch.
std::string format_fitting_table(const HoleStudy& study, bool with_answer, ColumnList list, const TextStyle& style) {
    std::string text;
    for (const bool tenths : {false, true}) {
        text = format_table(study, with_answer, list, {style.units, tenths});
        std::size_t widest = 0;
        for (std::size_t start = 0; start < text.size();) {
            const std::size_t end = text.find('\n', start);
            widest = std::max(widest, count_columns(std::string_view(text).substr(start, end - start)));
            start = end + 1;
        }
        if (widest <= style.width) break;
    }
    return text;
}

/// What each hole of the lift rod gives, whatever the other holes.
std::string format_rod_table(const HoleStudy& study, const TextStyle& style) {
    const LengthText length{style.units, false};
    const std::string unit = style.units == UnitSystem::inch ? "in" : "mm";
    std::vector<Cells> rows{{"rod", "balls", "balls", "lift", "lift"}, {"hole", "low", "top", "low", "top"}, {"", unit, unit, "%", "%"}};
    std::vector<std::size_t> seen;
    for (const HoleResult& r : study.results) {
        const HoleNumbers& n = r.numbers;
        if (!n.has_numbers || !n.whole_travel || std::find(seen.begin(), seen.end(), n.holes.rod_hole) != seen.end()) continue;
        seen.push_back(n.holes.rod_hole);
        const auto share = [](double s) { return s > 0.0 ? format_ratio(s * 100.0, 0, Rounding::down) : std::string("-"); };
        rows.push_back({printable_text(n.rod_hole, 16), length(n.travel.low), length(n.travel.high), share(n.rod_lift_share.low),
                        share(n.rod_lift_share.high)});
    }
    return rows.size() > 3 ? format_columns(rows, 1, 2) : std::string();
}

std::string format_note(std::string_view text, const TextStyle& style) { return format_paragraph(text, style.width, 2, 2); }

std::string say_answers(const HoleStudy& study) {
    std::string text = "Answer:";
    std::vector<HoleStanding> seen;
    for (const HoleResult& r : study.results) {
        if (std::find(seen.begin(), seen.end(), r.standing) != seen.end()) continue;
        text += fmt::format("{} {}: {}", seen.empty() ? "" : ";", say_standing_shortly(r.standing), say_standing(r.standing));
        seen.push_back(r.standing);
    }
    return text + ". ";
}

std::string_view say_load(LoadPoint point) {
    switch (point) {
        case LoadPoint::centre_of_gravity:
            return "the implement's centre of gravity";
        case LoadPoint::centre_of_gravity_height_unknown:
            return "the implement's centre of gravity (its height was not read: taken level with the lower pins)";
        case LoadPoint::behind_610:
            return "a load 610 mm (24 in) behind the lower hitch points, as lift is published (the centre of gravity was "
                   "not read)";
    }
    return "";
}

}  // namespace

std::string format_hole_tables(const HoleStudy& study, const TextStyle& style) {
    const auto has = [&](auto p) { return std::any_of(study.results.begin(), study.results.end(), p); };
    if (!has([](const HoleResult& r) { return r.numbers.has_numbers; })) return {};
    const bool present = has([](const HoleResult& r) { return r.numbers.is_present; });
    std::string text = "Link and pitch\n" + format_fitting_table(study, true, list_link_columns, style);
    text += format_note(fmt::format("{}{}Pitch: rear up is +. Transport: set with the mast upright and the links level, then "
                                    "lifted to standard transport height. out: the link does not reach.",
                                    present ? "*: the set-up's own holes. " : "", say_answers(study)), style);
    if (has_several_rod_holes(study)) {
        text += "\nLift rod\n" + format_rod_table(study, style);
        text += format_note("Lift: at the balls, of that with the rod in the hole the heights were taped with (-: that hole, or not "
                            "known). It does not count in the order. Tape the heights again once the rods are moved.", style);
    }
    text += "\nRaised\n" + format_fitting_table(study, false, list_carry_columns, style);
    text += format_note(fmt::format("X: from the balls forward to where the link lines meet, - behind, par. parallel. Tail: rearmost "
                                    "point, ground: lowest point, hitch at the top. Lift: of the force at the balls, at {}, at the "
                                    "height where it is least{}. Off dead centre: upper link and mast out of line by at least this; "
                                    "the ball height of the nearest dead centre.",
                                    say_load(study.results.front().numbers.lift.point),
                                    has([](const HoleResult& r) { return r.numbers.lift.load_stops(); })
                                        ? "; stops: the load does not rise everywhere" : ""), style);
    if (!has([](const HoleResult& r) { return r.numbers.shaft.has_value(); })) return text;
    text += "\nShaft\n" + format_fitting_table(study, false, list_shaft_columns, style);
    return text + format_note("Shortest and longest between the joint centres over the whole travel. Gap and overlap there, uncut; a "
                              "minus: bottoms out, comes apart. Joint: the greater angle, t tractor, i implement. Work, PTO up to: "
                              "ball height at which the limit of work, of PTO off, is still kept, with an allowance for the readings' errors; all: at "
                              "every height.", style);
}

}  // namespace hitchwright
