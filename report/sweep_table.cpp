// See sweep_table.h.
#include "report/sweep_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "report/caution_text.h"
#include "report/csv_text.h"

namespace hitchwright {
namespace {

constexpr double degrees_per_radian = 180.0 / std::numbers::pi;

/// A length without its unit, which stands in the header.
std::string bare(const std::string& text) {
    const std::size_t space = text.rfind(' ');
    const bool unit = space != std::string::npos &&
                      (text.substr(space) == " in" || text.substr(space) == " mm" || text.substr(space) == " deg");
    return unit ? text.substr(0, space) : text;
}

/// X = 1 / (1/X) in feet or metres; too far to matter counts as parallel.
std::string format_hitch_distance(const std::optional<double>& inverse, UnitSystem units) {
    if (!inverse) return "dead";
    if (std::fabs(*inverse) < 0.01) return "par.";
    const double x = 1.0 / *inverse;
    return format_ratio(units == UnitSystem::inch ? x / (12.0 * metres_per_inch) : x, 1);
}

std::string_view float_letter(FloatState state) {
    switch (state) {
        case FloatState::ground_borne:
            return "g";
        case FloatState::carried:
            return "c";
        case FloatState::against_stop:
            return "s";
        case FloatState::no_pitch:
            return "?";
    }
    return "?";
}

using Cells = std::vector<std::string>;

std::vector<Cells> make_headers(const SweepContents& contents, UnitSystem units) {
    const std::string length = units == UnitSystem::inch ? "in" : "mm";
    std::vector<Cells> rows{{"ball", "pitch", "upper", "lower", "X"},
                            {"height", "", "link", "link", ""},
                            {length, "deg", "deg", "deg", units == UnitSystem::inch ? "ft" : "m"}};
    const auto add = [&](const char* a, const char* b, const std::string& c) {
        rows[0].emplace_back(a);
        rows[1].emplace_back(b);
        rows[2].push_back(c);
    };
    if (contents.shaft) add("shaft", "", length);
    if (contents.halves) add("gap", "", length), add("over-", "lap", length);
    if (contents.shaft) add("joint", "1", "deg"), add("joint", "2", "deg"), add("un-", "even", "%");
    if (contents.floating) add("by", "", "");
    return rows;
}

/// Lengths as fractions, or in tenths of an inch where fractions would make the table too wide.
struct LengthCells {
    UnitSystem units = UnitSystem::inch;
    bool tenths = false;

    std::string operator()(double metres, Rounding rounding = Rounding::nearest) const {
        if (tenths && units == UnitSystem::inch) return format_ratio(metres / metres_per_inch, 1, rounding);
        return bare(format_length(metres, units, rounding));
    }
};

Cells make_row(const PoseReport& p, const SweepContents& contents, const LengthCells& length) {
    if (!p.pose.closes) return {length(p.pose.ball_height), "does", "not", "close"};
    Cells cells{length(p.pose.ball_height), bare(format_angle(p.pose.pitch)),
                bare(format_angle(p.pose.upper_link_angle)), bare(format_angle(p.pose.lower_link_angle)),
                format_hitch_distance(p.inverse_hitch_distance, length.units)};
    if (contents.shaft) cells.push_back(length(p.shaft_length));
    if (contents.halves) cells.insert(cells.end(), {length(p.gap, Rounding::down), length(p.overlap, Rounding::down)});
    if (contents.shaft) {
        cells.insert(
            cells.end(),
            {bare(format_angle(p.tractor_angle, Rounding::up)), bare(format_angle(p.implement_angle, Rounding::up)),
             std::isfinite(p.non_uniformity) ? format_ratio(p.non_uniformity * 100.0, 1, Rounding::up) : "-"});
    }
    if (contents.floating) cells.emplace_back(float_letter(p.float_state));
    return cells;
}

std::string format_legend(const SweepContents& contents, const TextStyle& style) {
    std::string text =
        "Pitch: rear up is +. Link angles: rear end up is +. X: from the balls forward to where the link lines meet, - "
        "behind, par. parallel, dead: at a dead centre.";
    if (contents.halves) text += " A minus in gap or overlap: bottoms out, comes apart, by that much.";
    if (contents.shaft)
        text += " Joint 1 at the tractor, 2 at the implement. Uneven: fastest less slowest speed in a turn.";
    if (contents.floating)
        text += " Pitch by: g ground, c carried by the link, s link against its stop, ? nothing holds it.";
    return format_paragraph(text, style.width, 0, 0);
}

}  // namespace

SweepContents find_sweep_contents(const Setup& setup) {
    const MountedModelResult r = make_mounted_model(setup);
    return {r.model.has_shaft, r.model.has_shaft && r.model.has_halves, r.model.float_kind != UpperLinkKind::rigid};
}

std::string format_sweep_table(const std::vector<PoseReport>& rows, const SweepContents& contents,
                               const TextStyle& style) {
    if (rows.empty())
        return format_paragraph(
            "No position can be computed: the linkage does not close, or a reading is missing. fit says which.",
            style.width, 0, 0);
    std::string text;
    for (const bool tenths : {false, true}) {
        std::vector<Cells> table = make_headers(contents, style.units);
        for (const PoseReport& row : rows) table.push_back(make_row(row, contents, {style.units, tenths}));
        text = format_columns(table, 0, 1);
        if (count_columns(std::string_view(text).substr(0, text.find('\n'))) <= style.width) break;
    }
    text.append("\n").append(format_legend(contents, style)).append("\n");
    for (const Caution c : list_sweep_cautions(contents.shaft))
        text += format_labelled("! ", caution_sentence(c), style.width, 0, 2);
    return text;
}

std::string_view float_state_word(FloatState state) {
    switch (state) {
        case FloatState::ground_borne:
            return "ground_borne";
        case FloatState::carried:
            return "carried";
        case FloatState::against_stop:
            return "against_stop";
        case FloatState::no_pitch:
            return "no_pitch";
    }
    return "no_pitch";
}

std::string format_sweep_csv(const std::vector<PoseReport>& rows, const SweepContents& contents, UnitSystem units) {
    const bool inch = units == UnitSystem::inch;
    const std::string u = inch ? "_in" : "_mm";
    const double per_metre = inch ? 1.0 / metres_per_inch : 1e3;
    std::string text = format_csv_line({"ball_height" + u, "pitch_deg", "upper_link_angle_deg", "lower_link_angle_deg",
                                        "upper_link_length" + u, "inverse_hitch_distance_per_m", "shaft_length" + u,
                                        "gap" + u, "overlap" + u, "tractor_joint_angle_deg",
                                        "implement_joint_angle_deg", "non_uniformity", "float_state"});
    for (const PoseReport& p : rows) {
        const auto length = [&](double metres, bool there) {
            return there ? format_csv_number(metres * per_metre) : std::string();
        };
        const auto angle = [&](double radians, bool there) {
            return there ? format_csv_number(radians * degrees_per_radian) : std::string();
        };
        const bool closes = p.pose.closes, shaft = closes && contents.shaft, halves = closes && contents.halves;
        text += format_csv_line({length(p.pose.ball_height, true), angle(p.pose.pitch, closes),
                                 angle(p.pose.upper_link_angle, closes), angle(p.pose.lower_link_angle, closes),
                                 length(p.upper_length, closes),
                                 closes && p.inverse_hitch_distance ? format_csv_number(*p.inverse_hitch_distance) : "",
                                 length(p.shaft_length, shaft), length(p.gap, halves), length(p.overlap, halves),
                                 angle(p.tractor_angle, shaft), angle(p.implement_angle, shaft),
                                 shaft ? format_csv_number(p.non_uniformity) : "",
                                 contents.floating ? std::string(float_state_word(p.float_state)) : ""});
    }
    return text;
}

}  // namespace hitchwright
