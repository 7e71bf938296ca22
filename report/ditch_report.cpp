// See ditch_report.h.
#include "report/ditch_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/caution_text.h"
#include "report/csv_text.h"
#include "report/edge_units.h"
#include "report/finding_sentences.h"
#include "report/fit_report.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr Caution cautions[] = {Caution::cross_ditches_slowly, Caution::turn_with_pto_off, Caution::keep_from_turning_shaft,
                                Caution::parts_or_breaks, Caution::hitch_to_drawbar_only, Caution::safety_chains, Caution::nobody_between,
                                Caution::rops_and_belt, Caution::manual_rules};

std::string_view quantity_word(DitchQuantity q) {
    switch (q) {
        case DitchQuantity::shortest: return "shortest";
        case DitchQuantity::longest: return "longest";
        case DitchQuantity::tractor_angle: return "tractor_angle";
        case DitchQuantity::implement_angle: return "implement_angle";
        case DitchQuantity::pitch_up: return "pitch_up";
        case DitchQuantity::pitch_down: return "pitch_down";
        case DitchQuantity::roll: return "roll";
    }
    return "roll";
}

std::string quantity_name(DitchQuantity q) {
    switch (q) {
        case DitchQuantity::shortest: return "shaft shortest";
        case DitchQuantity::longest: return "shaft longest";
        case DitchQuantity::tractor_angle: return "tractor joint";
        case DitchQuantity::implement_angle: return "implement joint";
        case DitchQuantity::pitch_up: return "rear up";
        case DitchQuantity::pitch_down: return "rear down";
        case DitchQuantity::roll: return "roll";
    }
    return "roll";
}

bool is_length(DitchQuantity q) { return q == DitchQuantity::shortest || q == DitchQuantity::longest; }

std::string_view heading_word(Heading h) { return h == Heading::as_given ? "as_given" : "other_way"; }

std::string format_ground(const Setup& s, const Crossing& c, const SafeWords& w) {
    const DitchReadings& d = s.choices.drawn.ditch;
    const std::string angle = format_angle(c.angle);
    if (!d.points.empty()) return fmt::format("Ground by {} points, crossed at {} (square is 90.0 deg).", d.points.size(), angle);
    return fmt::format("{} {} {}, {} wide {}, sides of {}, crossed at {} (square is 90.0 deg).", d.depth.value < 0.0 ? "Ridge" : "Ditch",
                       w.place(std::fabs(d.depth.value)), d.depth.value < 0.0 ? "high" : "deep", w.place(d.bottom_width.value_or(0.0)),
                       d.depth.value < 0.0 ? "on top" : "at the bottom", format_angle(d.side_slope.value_or(0.0)), angle);
}

std::vector<std::string> list_worst(const DitchWorst& worst, const SafeWords& w) {
    const bool down = worst.quantity == DitchQuantity::pitch_down;
    const std::string value = !is_length(worst.quantity) ? format_angle(std::max(0.0, down ? -worst.value : worst.value), Rounding::up)
                              : worst.quantity == DitchQuantity::shortest ? w.at_most(worst.value) : w.at_least(worst.value);
    const Attitude& a = worst.station.pose.relative;
    const double degree = find_edge_unit(Dimension::angle).per_si;
    const auto shown = [&](double angle) { return std::fabs(angle * degree) < 0.05 ? 0.0 : angle * degree; };  // no "-0.0"
    return {quantity_name(worst.quantity), value, fmt::format("{:.1f}", shown(a.pitch)), fmt::format("{:.1f}", shown(a.roll)),
            fmt::format("{} {}", w.place(std::fabs(worst.station.pose.place)), worst.station.pose.place > 0.0 ? "before" : "past"),
            worst.heading == Heading::as_given ? "" : "other way"};
}

std::string format_rows(const std::vector<std::vector<std::string>>& rows) {
    std::string text;
    for (const std::vector<std::string>& r : rows)
        text += fmt::format("  {:<16}{:>13}{:>8}{:>8}{:>20}{}\n", r[0], r[1], r[2], r[3], r[4], r[5].empty() ? "" : "  " + r[5]);
    return text;
}

/// The angle nearest to square that passes, between way and ditch line, never above 90 deg: left and right are alike to it.
std::string say_crossing(const DitchAnalysis& d, const StillPasses& p) {
    constexpr double square = 0.5 * 3.14159265358979323846;
    const bool crossed_square = std::fabs(d.crossing.angle - square) < 1e-3, blunt = p.value > square;
    const double angle = blunt ? 2.0 * square - p.value : p.value;
    if (angle >= square - 1e-3) return crossed_square ? "Square on, at 90.0 deg, it passes." : "Square on, at 90.0 deg, it passes too.";
    const std::string typed = blunt ? fmt::format(" ({} as the set-up counts it)", format_angle(p.value, Rounding::up)) : "";
    return fmt::format("At {} to the line of the ditch{}{}, it passes.", format_angle(angle, Rounding::down), typed, p.monotone ? ", or flatter" : "");
}

void add_passing(AnswerBuilder& out, const Setup& s, const DitchAnalysis& d, const SafeWords& w) {
    const DitchStudy& study = *d.study;
    const auto add = [&](const std::string& sentence) { out.words(sentence, 2, 4); };
    for (const std::string& pin : d.pins_that_pass) add(fmt::format("With the drawbar's pin in position {} it passes.", printable_text(pin, 24)));
    const std::string row = " Looked for over a row of values; between them it changes more than once.";
    if (study.angle.any)
        add(say_crossing(d, study.angle) + (study.angle.monotone ? "" : row));
    else
        add("At no crossing angle down to 15 deg does it pass.");
    const Reading& depth = s.choices.drawn.ditch.depth;
    if (!study.passes && depth.known) {
        if (study.depth.any && study.depth.value > 0.0)
            add(fmt::format("At this angle {} of depth still passes.{}", w.at_most(std::fabs(study.depth.value * depth.value)), study.depth.monotone ? "" : row));
        else
            add(study.depth.any ? "At this angle no ditch worth the name passes, only level ground."
                                : "Not even a shallow one passes at this angle: the shaft does not serve level ground.");
    } else if (!study.passes && study.depth.any && study.depth.value > 0.0) {
        add(fmt::format("At this angle heights of {} of these still pass.{}", format_percent(study.depth.value, Rounding::down), study.depth.monotone ? "" : row));
    }
}

JsonValue make_state_json(const DitchStation& s, const DrawnModel& m) {
    JsonObject o;
    o.length("place", s.pose.place).add("stands", s.pose.stands);
    if (!s.pose.stands) return o.build();
    o.add("relative", make_attitude_json(s.pose.relative)).add("tractor", make_attitude_json(s.pose.tractor)).add("implement", make_attitude_json(s.pose.implement));
    if (!m.has_shaft) return o.build();
    o.length("shaft", s.shaft.length).angle("tractor_angle", s.shaft.tractor_angle).angle("implement_angle", s.shaft.implement_angle);
    if (m.has_halves) o.length("gap", find_gap(m.halves, s.shaft.length)).length("overlap", find_overlap(m.halves, s.shaft.length));
    return o.build();
}

JsonValue make_passing_json(const StillPasses& p, bool angle) {
    JsonObject o;
    o.add("any", p.any).add("changes_once", p.monotone);
    if (angle) o.angle("value", p.value);
    else o.number("value", p.value);
    return o.build();
}

const Finding* find_ditch_finding(const Analysis& a) {
    const auto found = std::find_if(a.findings.begin(), a.findings.end(), [](const Finding& f) { return f.kind == FindingKind::ditch_crossing; });
    return found == a.findings.end() ? nullptr : &*found;
}

}  // namespace

std::vector<AnswerBlock> make_ditch_blocks(const Setup& s, const Analysis& analysis, const TextStyle& style) {
    const SafeWords w{style.units};
    const DitchAnalysis& d = *analysis.drawn->ditch;
    const FindingContext context = make_finding_context(s, analysis, style.units);
    AnswerBuilder out(style);
    out.machines(s);
    out.gap();
    if (const Finding* f = find_ditch_finding(analysis)) out.finding(*f, context);
    if (d.no_ground.empty()) {
        out.gap();
        out.words(format_ground(s, d.crossing, w), 0, 2);
    }
    if (d.study) {
        out.gap();
        std::vector<std::vector<std::string>> rows{{"worst on the way", "", "pitch", "roll", "rear axle", ""}};
        for (const DitchWorst& worst : d.study->worst) {
            const bool nothing = worst.quantity == DitchQuantity::roll && worst.value * find_edge_unit(Dimension::angle).per_si < 0.05;
            if (!nothing) rows.push_back(list_worst(worst, w));
        }
        std::string terminal = format_rows(rows);
        out.table(std::move(rows), std::move(terminal));
        out.words(fmt::format("Pitch and roll of the implement against the tractor, deg: rear up and right side up are +. Rear axle before or "
                              "past {}, driving forward; backing passes the same places. Both ways were looked at.",
                              s.choices.drawn.ditch.points.empty() ? "the middle of the ditch" : "x = 0 of the points"),
                  2, 2);
        out.gap();
        out.heading("What passes");
        add_passing(out, s, d, w);
    }
    out.gap();
    out.words("Wheels are rigid circles; tyres that give, soft ground, speed and turning in the ditch are left out.", 0, 2);
    out.cautions({std::begin(cautions), std::end(cautions)});
    return out.take();
}

std::string format_ditch_report(const Setup& s, const Analysis& analysis, const TextStyle& style) {
    return format_blocks(make_ditch_blocks(s, analysis, style), style);
}

std::string format_ditch_json(const Setup& s, const Analysis& analysis, UnitSystem units) {
    const DitchAnalysis& d = *analysis.drawn->ditch;
    const DrawnModel& m = analysis.drawn->model;
    const FindingContext context = make_finding_context(s, analysis, units);
    JsonObject o;
    o.add("schema", "hitchwright.ditch").add("schema_version", json_version).add("setup", make_setup_json(s));
    const Finding* f = find_ditch_finding(analysis);
    o.add("finding", f ? make_finding_json(*f, context) : JsonValue()).angle("crossing_angle", d.crossing.angle);
    JsonArray corners, worst, ways, missing, pins;
    for (const Point& p : d.crossing.profile.corners) corners.push_back(JsonObject().length("across", p.x()).length("height", p.y()).build());
    for (const std::string& key : d.missing) missing.push_back(key);
    for (const std::string& pin : d.pins_that_pass) pins.push_back(pin);
    o.add("profile", std::move(corners)).add("missing", std::move(missing)).add("positions_that_pass", std::move(pins));
    if (d.study) {
        for (const DitchWorst& x : d.study->worst) {
            JsonObject item;
            item.add("quantity", quantity_word(x.quantity)).add("heading", heading_word(x.heading));
            if (is_length(x.quantity)) item.length("value", x.value);
            else item.angle("value", x.value);
            worst.push_back(item.add("station", make_state_json(x.station, m)).build());
        }
        for (const DitchWay& way : d.study->ways) {
            JsonArray stations;
            for (const DitchStation& station : way.stations) stations.push_back(make_state_json(station, m));
            ways.push_back(JsonObject().add("heading", heading_word(way.heading)).add("complete", way.complete)
                               .angle("return_difference", way.return_difference).add("stations", std::move(stations)).build());
        }
        o.add("passes", d.study->passes).add("depth_share", make_passing_json(d.study->depth, false)).add("angle", make_passing_json(d.study->angle, true));
    }
    o.add("worst", std::move(worst)).add("ways", std::move(ways));
    return format_json_value(o.add("cautions", make_cautions_json({std::begin(cautions), std::end(cautions)})).build());
}

std::string format_ditch_csv(const Analysis& analysis, UnitSystem units) {
    const std::string u = units == UnitSystem::inch ? "_in" : "_mm";
    const double unit = find_edge_unit(Dimension::length, units).per_si, degree = find_edge_unit(Dimension::angle).per_si;
    std::string text = format_csv_line({"heading", "place" + u, "stands", "relative_pitch_deg", "relative_roll_deg", "relative_yaw_deg", "shaft" + u, "gap" + u,
                                        "overlap" + u, "tractor_angle_deg", "implement_angle_deg"});
    const DrawnModel& m = analysis.drawn->model;
    const DitchAnalysis& d = *analysis.drawn->ditch;
    if (!d.study) return text;
    for (const DitchWay& way : d.study->ways) {
        for (const DitchStation& s : way.stations) {
            const bool shaft = s.pose.stands && m.has_shaft, halves = shaft && m.has_halves;
            const auto number = [&](double v, double scale, bool there) { return there ? format_csv_number(v * scale) : std::string(); };
            text += format_csv_line({std::string(heading_word(way.heading)), format_csv_number(s.pose.place * unit), s.pose.stands ? "true" : "false",
                                     number(s.pose.relative.pitch, degree, s.pose.stands), number(s.pose.relative.roll, degree, s.pose.stands),
                                     number(s.pose.relative.yaw, degree, s.pose.stands), number(s.shaft.length, unit, shaft),
                                     number(halves ? find_gap(m.halves, s.shaft.length) : 0.0, unit, halves),
                                     number(halves ? find_overlap(m.halves, s.shaft.length) : 0.0, unit, halves),
                                     number(s.shaft.tractor_angle, degree, shaft), number(s.shaft.implement_angle, degree, shaft)});
        }
    }
    return text;
}

}  // namespace hitchwright
