// See drawbar_report.h.
#include "report/drawbar_report.h"

#include <fmt/format.h>

#include <cmath>

#include "report/caution_text.h"
#include "report/csv_text.h"
#include "report/cut_words.h"
#include "report/edge_units.h"
#include "report/finding_sentences.h"
#include "report/fit_report.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr Caution cautions[] = {Caution::stop_before_touching, Caution::keep_from_turning_shaft, Caution::parts_or_breaks,
                                Caution::measure_before_cutting, Caution::turn_with_pto_off, Caution::cross_ditches_slowly,
                                Caution::hitch_to_drawbar_only, Caution::safety_chains, Caution::nobody_between,
                                Caution::manual_rules};

bool is_now(const Setup& s, const PinStudy& p) {
    return s.choices.drawn.drawbar_pin.empty() ? s.tractor.drawbar_pins.size() == 1 : p.name == s.choices.drawn.drawbar_pin;
}

std::string fit_words(const PinStudy& p) {
    switch (p.fit) {
        case ShaftFit::fits: return "as it is";
        case ShaftFit::after_cut: return "after a cut";
        case ShaftFit::not_known: return "not known";
        case ShaftFit::no_cut_works: return "no cut works";
    }
    return "not known";
}

std::string signed_length(double metres, const SafeWords& w) { return metres < 0.0 ? "-" + w.need(-metres) : w.have(metres); }

std::vector<std::vector<std::string>> list_rows(const Setup& s, const DrawbarStudy& study, const SafeWords& w) {
    std::vector<std::vector<std::string>> rows{{"", "position", "length", "shortest", "longest", "gap", "overlap", "split"}};
    int place = 0;
    for (const PinStudy& p : study.pins) {
        const std::string name = printable_text(p.name.empty() ? "(no name)" : p.name, 10);
        std::vector<std::string> row{fmt::format("{}{} ", ++place, is_now(s, p) ? "*" : " "), name, w.place(p.length)};
        if (p.model.has_shaft) {
            row.insert(row.end(), {w.at_most(p.whole.shortest.bound), w.at_least(p.whole.longest.bound),
                                   p.has_plan ? signed_length(p.plan.uncut.gap, w) : "-",
                                   p.has_plan ? signed_length(p.plan.uncut.overlap, w) : "-",
                                   format_angle(std::fabs(p.at_turn.tractor_angle - p.at_turn.implement_angle), Rounding::up)});
        } else {
            row.emplace_back("shaft not known");
        }
        rows.push_back(std::move(row));
    }
    return rows;
}

std::string format_rows(const std::vector<std::vector<std::string>>& rows) {
    std::string text;
    for (const std::vector<std::string>& r : rows) {
        text += fmt::format("{:<3}{:<10}{:>9}", r[0], r[1], r[2]);
        text += r.size() < 8 ? "   " + r[3] : fmt::format("{:>12}{:>12}{:>11}{:>12}{:>9}", r[3], r[4], r[5], r[6], r[7]);
        text += "\n";
    }
    return text;
}

std::string say_reason(const PinReason& r, const SafeWords& w) {
    if (!r.known) return {};
    switch (r.kind) {
        case PinReasonKind::vertical_load:
            return r.good ? "" : fmt::format("vertical load {} over the limit of {}", format_mass(r.value, w.units, Rounding::up), format_mass(r.limit, w.units, Rounding::down));
        case PinReasonKind::shaft: return {};
        case PinReasonKind::joint_angles:
            return fmt::format("joints bend {} at most over the level turn, PTO off beyond {}", format_angle(r.value, Rounding::up), format_angle(r.limit, Rounding::down));
        case PinReasonKind::figure:
            return r.good ? "on the figure for this PTO"
                          : fmt::format("{} {} than the figure for this PTO", w.place(std::fabs(r.value)), r.value > 0.0 ? "longer" : "shorter");
        case PinReasonKind::split:
            return {};
        case PinReasonKind::drawbar_top: return r.good ? "" : "top of the drawbar outside the usual band";
        case PinReasonKind::drop: return r.good ? "" : "PTO height above the drawbar outside the usual band";
    }
    return {};
}

std::string say_shaft(const PinStudy& p, const SafeWords& w) {
    if (!p.has_plan) return "shaft: not known";
    std::string text = "shaft serves " + fit_words(p);
    if (p.fit == ShaftFit::no_cut_works) return "no cut of this shaft works";
    if (p.fit == ShaftFit::after_cut)
        text = fmt::format("shaft wants a cut, {}", format_cut(p.plan.recommended, p.plan.recommended_step, w.units));
    if (p.fit != ShaftFit::fits) return text;
    if (p.plan.equal_possible && p.plan.equal_most > 0.0)
        text += fmt::format("; at most {} may come off each half", w.at_most(p.plan.equal_most));
    return text;
}

void add_reasons(AnswerBuilder& out, const DrawbarStudy& study, const SafeWords& w) {
    int place = 0;
    for (const PinStudy& p : study.pins) {
        std::string line = say_shaft(p, w);
        for (const PinReason& r : p.reasons) {
            const std::string words = say_reason(r, w);
            if (!words.empty()) line += "; " + words;
        }
        if (p.model.has_shaft && p.model.driveline.ends.wide_angle == WideAngleEnd::none) {
            line += fmt::format("; {} before the pin and {} behind it (equal ones split a turn evenly: {} of drawbar)", w.place(p.distances.p),
                                w.place(p.distances.q), w.place(p.length_for_best_split));
        }
        out.item(fmt::format("{}  ", ++place), line + ".", 0, 3);
    }
}

void add_interval(AnswerBuilder& out, const DrawbarInterval& i, const SafeWords& w) {
    if (!i.known) return;
    if (!i.any)
        return out.words(fmt::format("No drawbar length serves this shaft as it is: the gap wants {} or more, the overlap {} or less.",
                                            w.at_least(i.low), w.at_most(i.high)), 0, 2);
    out.words(fmt::format("Drawbar lengths with which this shaft serves as it is: {}{} to {}{}, PTO end to pin.{}", w.at_least(i.low),
                                        i.low_open ? " or less" : "", w.at_most(i.high), i.high_open ? " or more" : "",
                                        i.rises ? "" : " Only the ends are certain."), 0, 2);
}

std::string say_best(const DrawbarStudy& study) {
    if (study.pins.empty()) return "NOT KNOWN. No position of the drawbar can be judged.";
    const PinStudy& best = study.pins.front();
    const std::string name = printable_text(best.name, 24);
    if (is_overloaded(best)) return fmt::format("NO POSITION CARRIES THE VERTICAL LOAD. By the shaft, position {}: {}.", name, fit_words(best));
    switch (best.fit) {
        case ShaftFit::fits: return fmt::format("POSITION {}: the shaft serves as it is.", name);
        case ShaftFit::after_cut: return fmt::format("POSITION {}, and a cut: no position serves the shaft as it is. Drawbar first, cut last.", name);
        case ShaftFit::not_known: return fmt::format("NOT KNOWN. Position {} by the other reasons; the shaft is not known.", name);
        case ShaftFit::no_cut_works: return "NO POSITION WORKS with this shaft.";
    }
    return {};
}

JsonValue make_reasons_json(const std::vector<PinReason>& reasons, const SafeWords& w) {
    JsonArray list;
    for (const PinReason& r : reasons) {
        list.push_back(JsonObject().add("kind", pin_reason_word(r.kind)).add("known", r.known).add("good", r.good).add("text", say_reason(r, w)).build());
    }
    return list;
}

JsonValue make_pin_json(const Setup& s, const PinStudy& p, const SafeWords& w) {
    JsonObject o;
    o.add("position", p.name).add("in_use", is_now(s, p)).length("length", p.length).add("fit", shaft_fit_word(p.fit));
    if (p.model.has_shaft) {
        o.add("whole", make_drawn_extremes_json(p.whole)).add("level_turn", make_drawn_extremes_json(p.turn));
        o.length("before_pin", p.distances.p).length("behind_pin", p.distances.q).angle("turn_for_split", p.turn_for_split);
        o.angle("tractor_angle_there", p.at_turn.tractor_angle).angle("implement_angle_there", p.at_turn.implement_angle);
        o.length("length_for_best_split", p.length_for_best_split).length("gap_straight", p.gap_straight);
    }
    if (p.has_plan) {
        o.length("gap", p.plan.uncut.gap).length("overlap", p.plan.uncut.overlap).length("overlap_needed", p.plan.uncut.overlap_needed);
        o.length("cut_tractor_half", p.plan.recommended.a).length("cut_implement_half", p.plan.recommended.b);
        o.add("equal_cut_possible", p.plan.equal_possible).length("equal_cut_least", p.plan.equal_least).length("equal_cut_most", p.plan.equal_most);
    }
    return o.add("reasons", make_reasons_json(p.reasons, w)).add("text", say_shaft(p, w)).build();
}

}  // namespace

std::string_view shaft_fit_word(ShaftFit fit) {
    switch (fit) {
        case ShaftFit::fits: return "fits";
        case ShaftFit::after_cut: return "after_cut";
        case ShaftFit::not_known: return "not_known";
        case ShaftFit::no_cut_works: return "no_cut_works";
    }
    return "not_known";
}

std::string_view pin_reason_word(PinReasonKind kind) {
    switch (kind) {
        case PinReasonKind::vertical_load: return "vertical_load";
        case PinReasonKind::shaft: return "shaft";
        case PinReasonKind::joint_angles: return "joint_angles";
        case PinReasonKind::figure: return "figure";
        case PinReasonKind::split: return "split";
        case PinReasonKind::drawbar_top: return "drawbar_top";
        case PinReasonKind::drop: return "drop";
    }
    return "shaft";
}

std::vector<AnswerBlock> make_drawbar_blocks(const Setup& s, const DrawbarStudy& study, const TextStyle& style) {
    const SafeWords w{style.units};
    AnswerBuilder out(style);
    out.machines(s);
    out.gap();
    out.answer(say_best(study));
    if (!study.pins.empty()) {
        out.gap();
        std::vector<std::vector<std::string>> rows = list_rows(s, study, w);
        std::string terminal = format_rows(rows);
        out.table(std::move(rows), std::move(terminal));
        out.words("*: the set-up's own. Length: PTO end to pin, with an adapter from its end. Shortest, longest, gap and "
                  "overlap over all turns and dips, uncut; a minus: bottoms out, comes apart. Split: difference of the two "
                  "joint angles in the sharpest level turn.", 2, 2);
        out.gap();
        out.heading("Why, best first: load, shaft, joints over the level turn, the figure, the split");
        add_reasons(out, study, w);
        out.gap();
        add_interval(out, study.lengths, w);
    }
    for (const ModelObstacle& o : study.obstacles) out.words("Not known: " + printable_text(o.key, 70) + ".", 0, 2);
    out.cautions({std::begin(cautions), std::end(cautions)});
    return out.take();
}

std::string format_drawbar_report(const Setup& s, const DrawbarStudy& study, const TextStyle& style) {
    return format_blocks(make_drawbar_blocks(s, study, style), style);
}

std::string format_drawbar_json(const Setup& s, const DrawbarStudy& study, UnitSystem units) {
    const SafeWords w{units};
    JsonArray pins, missing;
    for (const PinStudy& p : study.pins) pins.push_back(make_pin_json(s, p, w));
    for (const ModelObstacle& o : study.obstacles) missing.push_back(o.key);
    JsonObject o;
    o.add("schema", "hitchwright.drawbar").add("schema_version", json_version).add("setup", make_setup_json(s)).add("text", say_best(study));
    o.add("positions", std::move(pins)).add("lengths_for_shaft", make_drawbar_lengths_json(study.lengths)).add("missing", std::move(missing));
    return format_json_value(o.add("cautions", make_cautions_json({std::begin(cautions), std::end(cautions)})).build());
}

std::string format_drawbar_csv(const DrawbarStudy& study, UnitSystem units) {
    const std::string u = units == UnitSystem::inch ? "_in" : "_mm";
    const double unit = find_edge_unit(Dimension::length, units).per_si, degree = find_edge_unit(Dimension::angle).per_si;
    std::string text = format_csv_line({"place", "position", "fit", "length" + u, "shortest" + u, "longest" + u, "gap" + u, "overlap" + u,
                                        "cut_tractor_half" + u, "cut_implement_half" + u, "tractor_angle_turn_deg", "implement_angle_turn_deg",
                                        "before_pin" + u, "behind_pin" + u});
    int place = 0;
    for (const PinStudy& p : study.pins) {
        const bool shaft = p.model.has_shaft;
        const auto length = [&](double v, bool there) { return there ? format_csv_number(v * unit) : std::string(); };
        text += format_csv_line({std::to_string(++place), format_csv_text(p.name), std::string(shaft_fit_word(p.fit)), length(p.length, true),
                                 length(p.whole.shortest.bound, shaft), length(p.whole.longest.bound, shaft), length(p.plan.uncut.gap, p.has_plan),
                                 length(p.plan.uncut.overlap, p.has_plan), length(p.plan.recommended.a, p.has_plan),
                                 length(p.plan.recommended.b, p.has_plan), shaft ? format_csv_number(p.turn.tractor_angle.bound * degree) : "",
                                 shaft ? format_csv_number(p.turn.implement_angle.bound * degree) : "", length(p.distances.p, shaft),
                                 length(p.distances.q, shaft)});
    }
    return text;
}

}  // namespace hitchwright
