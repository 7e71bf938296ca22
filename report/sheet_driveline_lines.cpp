// Lines of the sheet about the driveline and the drawn hitch; see sheet_lines.h.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/proposed_setup.h"
#include "report/cut_words.h"
#include "report/sheet_lines.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

/// Shortest and longest between joint centres, with their heights.
void add_lengths(const SheetSource& x, const CutCase& c, LineWriter& lines) {
    const SafeWords& w = x.words;
    const auto at = [&](const std::optional<double>& h) {
        return h ? fmt::format("At ball height {}.", w.place(*h)) : std::string();
    };
    const auto within = [&](const std::optional<double>& h) { return h ? say_within(x, *h, CurveNumber::shaft_length) : std::string(); };
    lines.read("shortest", "Shortest distance of the joint centres", w.at_most(c.travel.shortest) + within(c.height_at_shortest),
               at(c.height_at_shortest));
    lines.read("longest", "Longest distance of the joint centres", w.at_least(c.travel.longest) + within(c.height_at_longest),
               at(c.height_at_longest));
}

void add_ticks(const SheetSource& x, LineWriter& lines);
/// Readings contradict each other: no length is a target.
void add_undecided(const SheetSource& x, LineWriter& lines);

/// "3 5/8 in off each half".
std::string say_cut_shortly(const CutCase& c, UnitSystem units) {
    const CutPair& cut = c.plan.recommended;
    const auto length = [&](double v) { return format_cut_length(v, c.plan.recommended_step, units); };
    if (cut.a == cut.b) return length(cut.a) + " off each half";
    if (cut.b <= 0.0) return length(cut.a) + " off the tractor half";
    if (cut.a <= 0.0) return length(cut.b) + " off the implement half";
    return fmt::format("{} off the tractor half, {} off the implement half", length(cut.a), length(cut.b));
}

double find_bend(const SheetSource& x) {
    if (x.analysis.shaft)
        return std::max(x.analysis.shaft->travel.tractor_angle.bound, x.analysis.shaft->travel.implement_angle.bound);
    if (x.analysis.drawn && x.analysis.drawn->model.has_shaft)
        return std::max(x.analysis.drawn->turn.tractor_angle.bound, x.analysis.drawn->turn.implement_angle.bound);
    return 0.0;
}

bool has_clutch(const Setup& s) { return s.parts.overrunning_clutch.fitted; }

std::string say_turn(const SheetSource& x, TurnSide side) {
    const std::string_view name = side == TurnSide::left ? "left" : "right";
    for (const Finding& f : x.analysis.findings) {
        if (f.kind != FindingKind::turn_limit || f.subject != name) continue;
        return format_angle(std::max(0.0, f.value - f.band), Rounding::down);
    }
    return {};
}

}  // namespace

namespace {

void add_undecided(const SheetSource& x, LineWriter& lines) {
    lines.read("shortest", "Stub to input shaft, taped directly at the lowest height", "measure again first");
    lines.read("longest", "Stub to input shaft, taped directly at the highest height", "measure again first");
    lines.read("closed_length", "Shaft pushed home: nothing is to be cut while readings contradict each other",
               "measure again first");
    add_ticks(x, lines);
}

void add_ticks(const SheetSource& x, LineWriter& lines) {
    lines.tick("yokes", "Ears of both inner yokes in one plane; locks latched and tugged; retaining clip in.");
    lines.tick("guards", "Guards complete, free to turn, chained; no bare gap at either end.");
    if (has_clutch(x.setup)) {
        const Reading& added = x.setup.parts.overrunning_clutch.added_length;
        lines.read("overrunning_clutch",
                   "Overrunning clutch: turns free one way, locked on the stub; its length is counted",
                   added.known ? x.words.place(added.value) : "");
    }
    lines.tick("clutch_or_bolt", "Slip clutch run in as its maker says, or the right shear bolt in.");
}

}  // namespace

std::string say_pto_limits(const SheetSource& x) {
    std::string text;
    for (const bool work : {false, true}) {
        const Remedy* above = nullptr;
        const Remedy* below = nullptr;
        for (const Finding& f : x.analysis.findings) {
            if ((f.other == "no_work") != work) continue;
            for (const Remedy& r : f.remedies) {
                if (r.kind != RemedyKind::pto_off_above) continue;
                if (r.subject == "below")
                    below = !below || r.value > below->value ? &r : below;
                else
                    above = !above || r.value < above->value ? &r : above;
            }
        }
        const char* what = work ? "no work" : "PTO off";
        for (const Finding& f : x.analysis.findings) {
            for (const Remedy& r : f.remedies) {
                if (r.kind == RemedyKind::turn_at_most && !work)
                    text += fmt::format("{}PTO off beyond {} to the {}", text.empty() ? "" : "; ",
                                        format_angle(r.value, Rounding::down), r.subject);
            }
        }
        if (above) text += fmt::format("{}{} above {}", text.empty() ? "" : "; ", what, x.words.at_most(above->value));
        if (below) text += fmt::format("{}{} below {}", text.empty() ? "" : "; ", what, x.words.at_least(below->value));
    }
    return text;
}

void add_driveline_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    if (!x.has_shaft()) return;
    LineWriter lines(SheetSection::driveline, out);
    const std::optional<CutCase> c = make_cut_case(x.setup, x.analysis);
    if (c) add_lengths(x, *c, lines);
    if (c && c->contradicted) return add_undecided(x, lines);
    const bool cut = c && advises_cut(x.analysis) && (c->plan.recommended.a > 0.0 || c->plan.recommended.b > 0.0);
    const double closed = c ? (cut ? c->plan.after.closed_length : c->plan.uncut.closed_length) : 0.0;
    lines.read("closed_length", fmt::format("Shaft pushed home, joint centres{}", cut ? ", after the cut" : ""),
               c ? x.words.need(closed) : "");
    if (cut) {
        lines.read("cut", "Cut by the cut sheet, tubes and guards; deburr, clean, grease",
                   say_cut_shortly(*c, x.words.units));
    }
    if (c && c->plan.answer != CutAnswer::no_cut_works) {
        const ShaftMargins& after = cut ? c->plan.after : c->plan.uncut;
        lines.read("gap", "Room left at the shortest point before it bottoms",
                   after.gap >= 0.0 ? x.words.have(after.gap) + say_within(x, FindingKind::gap_at_shortest) : "bottoms out");
        lines.read("overlap", "Overlap of the tubes left at the longest point",
                   after.overlap >= 0.0 ? x.words.have(after.overlap) + say_within(x, FindingKind::overlap_at_longest) : "comes apart");
    }
    const std::string limits = say_pto_limits(x);
    const double bend = find_bend(x);
    lines.read("joint_angles",
               x.mounted()
                   ? "Greatest bend of a joint over the travel; lift stop and PTO-off height told to the operator"
                   : "Greatest bend of a joint in the turn driven",
               fmt::format("{}{}{}", bend > 0.0 ? format_angle(bend, Rounding::up) : "",
                           bend > 0.0 && !limits.empty() ? "; " : "", limits));
    add_ticks(x, lines);
}

void add_drawn_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    if (x.mounted()) return;
    LineWriter lines(SheetSection::drawn, out);
    const SafeWords& w = x.words;
    const auto& drawn = x.analysis.drawn;
    const std::string pin = drawn ? printable_text(x.setup.tractor.drawbar_pins[drawn->model.pin].name, 20) : "";
    lines.read("drawbar_length", fmt::format("PTO end to hitch pin, level{}", pin.empty() ? "" : ", position " + pin),
               drawn ? w.place(drawn->model.drawbar_length) : "");
    lines.read("drawbar_height", "Top of the drawbar above the floor", drawn ? w.place(drawn->model.drawbar_top) : "");
    lines.read("drawbar_drop", "PTO axis above the top of the drawbar",
               drawn ? w.place(drawn->model.pto_above_drawbar) : "");
    lines.tick("hitch_pin",
               "Hitch pin of the right size with its retainer; safety chain; jack up; drawbar pinned in the middle.");
    const bool input = x.setup.implement.pic.fitted && x.setup.implement.pic.z.known;
    if (x.has_shaft())
        lines.read("input_height", "Input shaft above the hitch, implement level",
                   input ? w.place(x.setup.implement.pic.z.value) : "");
    lines.read("turn_left", "Turned slowly to the left, PTO off: nothing meets before",
               drawn ? say_turn(x, TurnSide::left) : "");
    lines.read("turn_right", "Turned slowly to the right, PTO off: nothing meets before",
               drawn ? say_turn(x, TurnSide::right) : "");
    std::string ditch = "not studied";
    if (drawn && drawn->ditch && drawn->ditch->study)
        ditch = drawn->ditch->study->passes ? "passes as given" : "keep out: it does not pass";
    lines.read("ditch", "Ditches and banks crossed at an angle, PTO off; the one of the set-up", ditch);
}

}  // namespace hitchwright
