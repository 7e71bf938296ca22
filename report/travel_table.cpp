// See travel_table.h.
#include "report/travel_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "geometry/visit_readings.h"
#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

using Row = std::vector<std::string>;
using Rows = std::vector<Row>;

struct Column {
    const char* title;
    const PoseReport* pose;
};

std::vector<Column> list_columns(const LinkageAnalysis& l) {
    std::vector<Column> columns;
    if (l.low.pose.closes) columns.push_back({"lowest", &l.low});
    if (l.working.pose.closes) columns.push_back({"working", &l.working});
    if (l.high.pose.closes) columns.push_back({"highest", &l.high});
    return columns;
}

template <class F>
Row make_row(const char* name, const std::vector<Column>& columns, const F& text) {
    Row row{name};
    for (const Column& c : columns) row.push_back(text(*c.pose));
    return row;
}

std::string signed_angle(double radians) {
    const std::string text = format_angle(radians);
    return radians > 0.0 && text != "0.0 deg" ? "+" + text : text;
}

/// A gap or an overlap that is left, or what is lacking.
std::string left_or_lacking(double metres, const SafeWords& w) {
    return metres < 0.0 ? w.need(-metres) + " short" : w.have(metres);
}

/// The shortest rounds down, the longest up, as everywhere; the others to the nearest mark.
std::string format_shaft_length(const PoseReport& p, const ShaftAnalysis& s, const SafeWords& w) {
    if (p.pose.ball_height == s.travel.shortest.height) return w.at_most(p.shaft_length);
    if (p.pose.ball_height == s.travel.longest.height) return w.at_least(p.shaft_length);
    return w.place(p.shaft_length);
}

Rows make_shaft_rows(const std::vector<Column>& columns, const MountedModel& m, const ShaftAnalysis& s,
                     const SafeWords& w) {
    Rows rows{
        make_row("shaft, joint centres", columns, [&](const PoseReport& p) { return format_shaft_length(p, s, w); })};
    if (m.has_halves) {
        rows.push_back(make_row("gap left", columns, [&](const PoseReport& p) { return left_or_lacking(p.gap, w); }));
        rows.push_back(
            make_row("overlap left", columns, [&](const PoseReport& p) { return left_or_lacking(p.overlap, w); }));
    }
    rows.push_back(make_row("tractor joint", columns,
                            [](const PoseReport& p) { return format_angle(p.tractor_angle, Rounding::up); }));
    rows.push_back(make_row("implement joint", columns,
                            [](const PoseReport& p) { return format_angle(p.implement_angle, Rounding::up); }));
    return rows;
}

std::string format_shaft_extremes(const ShaftAnalysis& s, const SafeWords& w, const TextStyle& style) {
    return format_paragraph(
        fmt::format("Shaft through the whole travel: shortest {} at ball height {}, longest {} at {}.",
                    w.at_most(s.travel.shortest.bound), w.place(s.travel.shortest.height),
                    w.at_least(s.travel.longest.bound), w.place(s.travel.longest.height)),
        style.width, 0, 0);
}

std::string format_transport(const LinkageAnalysis& l, const SafeWords& w, const TextStyle& style) {
    if (l.transport_height <= 0.0 || !l.transport.closure.closes() || l.transport.past_dead_centre) return {};
    return format_paragraph(
        fmt::format(
            "Transport pitch, a figure to compare linkages with (set with mast upright and links level, then lifted to "
            "{}{}): {}.",
            w.place(l.transport_height), l.transport_grade == Grade::C ? ", a height from memory, unverified" : "",
            signed_angle(l.transport.pitch)),
        style.width, 0, 0);
}

/// One end of the travel: by the tape, by the lift arm, or by a stop.
std::string describe_end(const TravelEnd& end, bool stop, const char* stop_name) {
    if (stop) return stop_name;
    return end.bound == TravelBound::typed ? "the tape" : "the lift arm";
}

struct Proof {
    double length = 0.0, angle = 0.0;  ///< greatest proven error, m and rad
    bool converged = true;
};

void include(Proof& p, const TravelExtreme& e, double Proof::*kind) {
    p.*kind = std::max(p.*kind, std::fabs(e.bound - e.value));
    p.converged = p.converged && e.converged;
}

Proof find_proof(const Analysis& a) {
    Proof p;
    include(p, a.linkage->pitch.least, &Proof::angle);
    include(p, a.linkage->pitch.greatest, &Proof::angle);
    if (a.shaft) {
        for (const ShaftExtremes* e : {&a.shaft->travel, &a.shaft->work}) {
            include(p, e->shortest, &Proof::length);
            include(p, e->longest, &Proof::length);
            include(p, e->tractor_angle, &Proof::angle);
            include(p, e->implement_angle, &Proof::angle);
        }
    }
    for (const Clearance& c : a.clearances) include(p, c.least, &Proof::length);
    return p;
}

}  // namespace

std::string format_pose_table(const Analysis& analysis, const TextStyle& style) {
    if (!analysis.linkage) return {};
    const LinkageAnalysis& l = *analysis.linkage;
    const SafeWords w{style.units};
    const std::vector<Column> columns = list_columns(l);
    Row header{"Through the travel"};
    for (const Column& c : columns) header.emplace_back(c.title);
    Rows rows{header};
    rows.push_back(make_row("ball height", columns, [&](const PoseReport& p) { return w.place(p.pose.ball_height); }));
    rows.push_back(
        make_row("pitch, rear up is +", columns, [](const PoseReport& p) { return signed_angle(p.pose.pitch); }));
    if (l.model.float_kind != UpperLinkKind::rigid) {
        rows.push_back(
            make_row("upper link with float", columns, [&](const PoseReport& p) { return w.place(p.upper_length); }));
    }
    if (analysis.shaft) {
        for (Row& row : make_shaft_rows(columns, l.model, *analysis.shaft, w)) rows.push_back(std::move(row));
    }
    std::string text = format_columns(rows);
    if (analysis.shaft) text += format_shaft_extremes(*analysis.shaft, w, style);
    return text + format_transport(l, w, style);
}

std::string format_travel_bounds(const Analysis& analysis, const TextStyle& style) {
    if (!analysis.linkage) return {};
    const MountedModel& m = analysis.linkage->model;
    const SafeWords w{style.units};
    return format_paragraph(
        fmt::format("Travel {} to {} of ball height: bottom by {}, top by {}.", w.place(m.travel.low),
                    w.place(m.travel.high), describe_end(m.travel_bounds.low, m.lower_stop_binds, "the lower stop"),
                    describe_end(m.travel_bounds.high, m.lift_stop_binds, "the lift stop")),
        style.width, 0, 0);
}

std::string format_bound_statement(const Analysis& analysis, const TextStyle& style) {
    if (!analysis.linkage) return {};
    const Proof p = find_proof(analysis);
    const double degrees = p.angle * 180.0 / std::numbers::pi;
    if (p.converged && p.length <= 1.0e-5 && degrees <= 1.0e-3) {
        return format_paragraph(
            fmt::format(
                "Extremes are bounded to 0.01 mm and 0.001 deg over the whole travel, not sampled ({} evaluations).",
                analysis.evaluations),
            style.width, 0, 0);
    }
    return format_paragraph(fmt::format("Extremes are bounded to {} and {} deg only over the whole travel; the worse "
                                        "bound was taken ({} evaluations).",
                                        format_millimetres(p.length, MillimetrePlaces::tenth, Rounding::up),
                                        format_ratio(degrees, 3, Rounding::up), analysis.evaluations),
                            style.width, 0, 0);
}

/// The names, or the first six and how many more when those are at least two.
std::string join_first(const std::vector<std::string>& names) {
    constexpr std::size_t most = 6;
    const std::size_t shown = names.size() <= most + 1 ? names.size() : most;
    std::string text;
    for (std::size_t i = 0; i < shown; ++i) text += (text.empty() ? "" : ", ") + names[i];
    return shown < names.size() ? fmt::format("{} and {} more", text, names.size() - shown) : text;
}

std::string format_origins(const Setup& setup, const TextStyle& style) {
    Setup copy = setup;
    std::array<std::size_t, 5> counts{};
    std::vector<std::string> assumed;
    visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec&) {
        if (!r.known) return;
        ++counts[static_cast<std::size_t>(r.origin)];
        if (r.origin == Origin::assumed) assumed.push_back(printable_text(key, 60));
    });
    std::string text = "Readings:";
    const auto add = [&](Origin origin, const char* words) {
        const std::size_t n = counts[static_cast<std::size_t>(origin)];
        if (n > 0) text += fmt::format("{} {} {}", text.back() == ':' ? "" : ",", n, words);
    };
    add(Origin::measured, "measured");
    add(Origin::manual, "from manuals");
    add(Origin::preset, "from example presets");
    add(Origin::assumed, "assumed");
    if (text.back() == ':') text += " none";
    text += '.';
    if (!assumed.empty()) text += " Assumed: " + join_first(assumed) + '.';
    return format_paragraph(text, style.width, 0, 2);
}

}  // namespace hitchwright
