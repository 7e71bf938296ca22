// The few numbers of a fit that stand in one row of a table: holes, link, shaft, cut, lift, front axle.
//
// What an analysis does not know is empty. Lengths m, angles rad, masses kg. Extremes are the proven bounds over the whole
// travel, of a drawn implement over the whole box of attitudes.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "geometry/analysis.h"
#include "geometry/setup.h"
#include "report/format_length.h"
#include "report/json_value.h"

namespace hitchwright {

struct FitNumbers {
    std::string upper_link_pin, mast_pin, lift_rod_hole;  ///< holes in use; empty: none, or not known
    std::string drawbar_pin;                              ///< position in use, of a drawn implement
    std::optional<double> upper_link, working_pitch;
    std::optional<double> shortest, longest;  ///< distance of the joint centres
    std::optional<double> gap, overlap;       ///< at those, the shaft as it is
    std::string cut_answer;                   ///< cut_answer_word; empty: no shaft, or its halves are not known
    std::optional<double> cut_tractor_half, cut_implement_half;  ///< what to take off; empty too where no cut works
    std::optional<double> joint_angle_in_work, joint_angle_over_travel;  ///< of the joint that bends more
    std::optional<double> lift_least, load;   ///< kg at the implement's centre of gravity: carried at the worst height; to carry
    std::optional<double> front_axle_share, front_axle_share_wanted;     ///< in the lightest state, by the base that binds

    bool operator==(const FitNumbers&) const = default;
};

/// Visits all members in the order of the tables: v.text(name, member), v.number(name, dimension, member). The name is
/// without its unit.
template <class N, class V>
void visit_fit_numbers(N& n, V&& v) {
    v.text("upper_link_pin", n.upper_link_pin);
    v.text("mast_pin", n.mast_pin);
    v.text("lift_rod_hole", n.lift_rod_hole);
    v.text("drawbar_pin", n.drawbar_pin);
    v.number("upper_link", Dimension::length, n.upper_link);
    v.number("working_pitch", Dimension::angle, n.working_pitch);
    v.number("shortest", Dimension::length, n.shortest);
    v.number("longest", Dimension::length, n.longest);
    v.number("gap", Dimension::length, n.gap);
    v.number("overlap", Dimension::length, n.overlap);
    v.text("cut_answer", n.cut_answer);
    v.number("cut_tractor_half", Dimension::length, n.cut_tractor_half);
    v.number("cut_implement_half", Dimension::length, n.cut_implement_half);
    v.number("joint_angle_in_work", Dimension::angle, n.joint_angle_in_work);
    v.number("joint_angle_over_travel", Dimension::angle, n.joint_angle_over_travel);
    v.number("lift_least", Dimension::mass, n.lift_least);
    v.number("load", Dimension::mass, n.load);
    v.number("front_axle_share", Dimension::ratio, n.front_axle_share);
    v.number("front_axle_share_wanted", Dimension::ratio, n.front_axle_share_wanted);
}

/// Takes them out of an analysis.
FitNumbers find_fit_numbers(const Setup& setup, const Analysis& analysis);

/// The name with its unit, as it stands in a key or column: "gap_mm", "front_axle_share".
std::string name_with_unit(std::string_view name, Dimension dimension, UnitSystem lengths = UnitSystem::millimetre);

/// Adds them all to an object; what is not known is null.
void add_fit_numbers(JsonObject& object, const FitNumbers& numbers);

/// The answer of a fit in brief, for one line of many: name, verdict, its sentence, steps, numbers, and the findings that are
/// not simply within their limits, each with its number and headline; words of the cautions. Keys: docs/json.md.
void add_brief_fit(JsonObject& object, const Setup& setup, const Analysis& analysis, UnitSystem units);

}  // namespace hitchwright
