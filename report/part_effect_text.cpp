// See part_effect_text.h.
#include "report/part_effect_text.h"

#include <cmath>
#include <functional>
#include <optional>
#include <vector>

#include "report/finding_text.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

using Rows = std::vector<std::vector<std::string>>;
using Words = std::function<std::string(double)>;

constexpr const char* not_computed = "not computed";

std::string format_change(double change, const Words& size) {
    const std::string text = size(std::fabs(change));
    if (text == size(0.0)) return "none";
    return (change > 0.0 ? "+" : "-") + text;
}

void add(Rows& rows, const char* name, const std::optional<double>& with, const std::optional<double>& without,
         const Words& words, const Words& size) {
    if (!with && !without) return;
    const auto text = [&](const std::optional<double>& v) { return v ? words(*v) : std::string(not_computed); };
    rows.push_back({name, text(with), text(without), with && without ? format_change(*with - *without, size) : ""});
}

void add_shaft(Rows& rows, const PartEffect& e, const SafeWords& w) {
    if (!e.with.shaft && !e.without.shaft) return;
    const auto row = [&](const char* name, auto member, const Words& words, const Words& size) {
        std::optional<double> with, without;
        if (e.with.shaft) with = (*e.with.shaft).*member;
        if (e.without.shaft) without = (*e.without.shaft).*member;
        add(rows, name, with, without, words, size);
    };
    const Words place = [w](double v) { return w.place(v); };
    const Words left = [w](double v) { return v < 0.0 ? w.need(-v) + " short" : w.have(v); };
    const Words angle = [](double v) { return format_angle(v, Rounding::up); };
    const Words angle_size = [](double v) { return format_angle(v); };
    row("shaft at its shortest", &ShaftFigures::shortest, [w](double v) { return w.at_most(v); }, place);
    row("gap left there", &ShaftFigures::gap, left, place);
    row("shaft at its longest", &ShaftFigures::longest, [w](double v) { return w.at_least(v); }, place);
    row("overlap left there", &ShaftFigures::overlap, left, place);
    row("worst joint angle in work", &ShaftFigures::angle_in_work, angle, angle_size);
    row("worst over the travel", &ShaftFigures::angle_over_travel, angle, angle_size);
}

std::string signed_angle(double radians) {
    const std::string text = format_angle(radians);
    return radians > 0.0 && text != "0.0 deg" ? "+" + text : text;
}

std::string format_effect(const PartEffect& e, const SafeWords& w) {
    const PartFigures &with = e.with, &without = e.without;
    const Words place = [w](double v) { return w.place(v); };
    const Words angle = [](double v) { return signed_angle(v); };
    const Words angle_size = [](double v) { return format_angle(v); };
    Rows rows{{"", "with", "without", "change"}};
    rows.push_back({"verdict", std::string(verdict_word(with.verdict)), std::string(verdict_word(without.verdict)),
                    with.verdict == without.verdict ? "none" : ""});
    add(rows, "upper link, pin to pin", with.upper_link_length, without.upper_link_length, place, place);
    add(rows, "ball height at the top", with.height_at_top, without.height_at_top, place, place);
    add(rows, "pitch at the top, rear up +", with.pitch_at_top, without.pitch_at_top, angle, angle_size);
    add_shaft(rows, e, w);
    if (with.lift_share < 1.0 && e.part == PartKind::link_extender)
        rows.push_back({"lift at the balls", format_percent(with.lift_share, Rounding::down), format_percent(1.0), ""});
    return "With and without the " + part_name(e.part, e.name) + '\n' + format_columns(rows, 2) + '\n';
}

}  // namespace

std::string part_name(PartKind part, std::string_view own_name) {
    std::string kind = "coupler";
    if (part == PartKind::link_extender) kind = "link extender";
    if (part == PartKind::overrunning_clutch) kind = "overrunning clutch";
    if (part == PartKind::spline_extender) kind = "spline extender";
    return own_name.empty() || own_name == kind ? kind : kind + " (" + printable_text(own_name, 40) + ")";
}

std::string_view part_word(PartKind part) {
    switch (part) {
        case PartKind::link_extender: return "link_extender";
        case PartKind::coupler: return "coupler";
        case PartKind::overrunning_clutch: return "overrunning_clutch";
        case PartKind::spline_extender: return "spline_extender";
    }
    return "coupler";
}

std::string format_part_effects(const Analysis& analysis, const TextStyle& style) {
    std::string text;
    for (const PartEffect& e : analysis.part_effects) text += format_effect(e, SafeWords{style.units});
    return text;
}

}  // namespace hitchwright
