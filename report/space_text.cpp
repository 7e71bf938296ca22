// See space_text.h.
#include "report/space_text.h"

#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "geometry/side_word.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

using Rows = std::vector<std::vector<std::string>>;

std::string signed_angle(double radians) {
    const std::string text = format_angle(radians);
    return radians > 0.0 && text != "0.0 deg" ? "+" + text : text;
}

std::string signed_length(double metres, const SafeWords& w) {
    const std::string text = w.place(metres);
    return metres > 0.0 && text.front() != '0' ? "+" + text : text;
}

/// One row of the table: `value` of each pose that closes.
template <class F>
std::vector<std::string> make_row(std::string name, const Levelling& l, const F& value) {
    std::vector<std::string> row{std::move(name)};
    for (const LevelPose* p : {&l.low, &l.working, &l.high}) row.push_back(p->closes ? value(*p) : "-");
    return row;
}

std::string format_poses(const Levelling& l, const SafeWords& w) {
    Rows rows{{"Side to side, rods as set", "lowest", "working", "highest"}};
    rows.push_back(make_row("roll, right side up +", l, [](const LevelPose& p) { return signed_angle(p.attitude.roll); }));
    rows.push_back(make_row("left ball", l, [&](const LevelPose& p) { return w.place(p.left_ball); }));
    rows.push_back(make_row("right ball", l, [&](const LevelPose& p) { return w.place(p.right_ball); }));
    rows.push_back(make_row("pitch, rear up +", l, [](const LevelPose& p) { return signed_angle(p.attitude.pitch); }));
    const LevelPose& any = l.working.closes ? l.working : l.low;
    for (std::size_t i = 0; i < any.edges.size(); ++i) {
        const std::string name = printable_text(any.edges[i].name, 24);
        rows.push_back(make_row(name + ", left end", l, [&](const LevelPose& p) { return w.place(p.edges[i].left); }));
        rows.push_back(make_row(name + ", right end", l, [&](const LevelPose& p) { return w.place(p.edges[i].right); }));
    }
    return format_columns(rows);
}

std::string format_turn(const Levelling& l, const SafeWords& w, const TextStyle& style) {
    if (!l.after_turn || !l.working.closes) return {};
    const LevelPose &before = l.working, &after = *l.after_turn;
    std::string text = fmt::format("One turn longer on the {} lift rod, lever left alone: roll {}, left ball {}, right ball {}", side_word(l.turned),
                                   signed_angle(after.attitude.roll - before.attitude.roll), signed_length(after.left_ball - before.left_ball, w),
                                   signed_length(after.right_ball - before.right_ball, w));
    for (std::size_t i = 0; i < after.edges.size() && i < before.edges.size(); ++i) {
        if (after.edges[i].name != l.measured_at) continue;
        text += fmt::format("; {}: left end {}, right end {}", printable_text(after.edges[i].name, 24),
                            signed_length(after.edges[i].left - before.edges[i].left, w), signed_length(after.edges[i].right - before.edges[i].right, w));
    }
    return format_paragraph(text + ".", style.width, 0, 0);
}

std::string format_wanted(const Levelling& l, const SafeWords& w, const TextStyle& style) {
    if (!l.wanted || !l.wanted->reached) return {};
    const WantedRoll& wanted = *l.wanted;
    std::string text = wanted.typed ? fmt::format("For a roll of {} at the working height:", signed_angle(wanted.roll)) : "To stand level at the working height:";
    for (const RodLength& r : wanted.rods) {
        text += fmt::format(" {} lift rod {}", side_word(r.side), w.place(r.wanted));
        if (r.turns) text += fmt::format(" ({})", format_rod_turns(*r.turns));
        text += &r == &wanted.rods.back() ? "." : ",";
    }
    return format_paragraph(text, style.width, 0, 0);
}

std::string format_sway(const SwayStudy& s, const SafeWords& w, const TextStyle& style) {
    const auto limit = [&](const std::optional<double>& v, double outwards) {
        if (!v) return std::string("no limit");
        return outwards * *v < 0.0 ? "taut " + w.place(std::fabs(*v)) + " short" : w.place(std::fabs(*v));
    };
    Rows rows{{"Sway of the balls, hitch level", "lowest", "working", "highest"}, {"to the left"}, {"to the right"}};
    for (const SwayAt* at : {&s.low, &s.working, &s.high}) {
        const bool there = at->ball_height != 0.0;
        rows[1].push_back(there ? limit(at->left, -1.0) : "-");
        rows[2].push_back(there ? limit(at->right, 1.0) : "-");
    }
    std::string text = format_columns(rows);
    if (s.tail)
        text += format_paragraph(fmt::format("Tail swing at the working height: {} at the balls is {} at the {}, {} behind the lower pins.", w.need(s.tail->balls),
                                             w.need(s.tail->tail), printable_text(s.tail->name, 40), w.place(s.tail->behind)), style.width, 0, 0);
    if (s.source == SwaySource::total)
        text += format_paragraph("Sway as found at one height, taken alike at all.", style.width, 0, 0);
    return text;
}

std::string format_box(const Analysis& analysis, const SafeWords& w, const TextStyle& style) {
    const SpaceStudy& a = *analysis.space;
    if (a.side.planar() || (!analysis.shaft && !a.tyre)) return {};
    const char* const what = !a.tyre ? "Shaft and joints were" : analysis.shaft ? "Shaft, joints and the room beside the tyres were" : "The room beside the tyres was";
    return format_paragraph(fmt::format("{} judged over every sway from {} left to {} right with every tilt of the lower hitch points from "
                                        "{} to {}, at every height. The table of the travel and all other rooms are those of the hitch centred and level.", what, w.need(-a.side.sway.low), w.need(a.side.sway.high),
                                        signed_angle(std::asin(a.side.tilt_sine.low)), signed_angle(std::asin(a.side.tilt_sine.high))), style.width, 0, 0);
}

}  // namespace

std::string format_rod_turns(double turns) {
    const std::string shown = format_turns(std::fabs(turns));
    if (shown == format_turns(0.0)) return "as it is";
    return shown + (turns > 0.0 ? " longer" : " shorter");
}

std::string format_space_study(const Analysis& analysis, const TextStyle& style) {
    if (!analysis.space || !analysis.space->asked()) return {};
    const SpaceStudy& a = *analysis.space;
    const SafeWords w{style.units};
    std::string text;
    const bool tilted = a.rods_told || a.sway || !a.side.planar();
    if (a.levelling && tilted) text += format_poses(*a.levelling, w);
    if (a.levelling) text += format_turn(*a.levelling, w, style);
    if (a.levelling && a.rods_told) text += format_wanted(*a.levelling, w, style);
    if (a.sway) text += format_sway(*a.sway, w, style);
    return text + format_box(analysis, w, style);
}

}  // namespace hitchwright
