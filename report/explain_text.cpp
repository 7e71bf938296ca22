// See explain_text.h.
#include "report/explain_text.h"

#include <fmt/format.h>

#include <cmath>

#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "report/finding_text.h"
#include "report/safe_words.h"
#include "report/trust_text.h"

namespace hitchwright {
namespace {

constexpr std::size_t indent = 4;
constexpr std::size_t label_columns = 10;

/// One labelled paragraph: "    formula   gap = S_min - S_0".
std::string format_entry(std::string_view label, std::string_view text, const TextStyle& style) {
    return format_labelled(pad_right(label, label_columns), text, style.width, indent, indent + label_columns + 2);
}

std::string format_result(const Finding& f, UnitSystem units) {
    const auto number = [&](double v) { return format_decimal_quantity(v, f.dimension, units); };
    std::string text = "value " + number(f.value);
    if (f.has_limit) text += fmt::format(", limit {}, margin {}", number(f.limit), number(f.margin));
    if (f.has_height) text += ", at ball height " + format_decimal_quantity(f.height, Dimension::length, units);
    return text;
}

/// Far smaller than what is shown of the value; a share without a unit.
std::string format_proof(double bound_error, Dimension dimension) {
    switch (dimension) {
        case Dimension::angle: return fmt::format("{:.1e} deg", to_degrees(bound_error));
        case Dimension::length: return fmt::format("{:.1e} mm", bound_error * 1e3);
        case Dimension::mass: return fmt::format("{:.1e} kg", bound_error);
        default: return fmt::format("{:.1e}", bound_error);
    }
}

std::string format_error(const Finding& f, UnitSystem units) {
    std::string text = "the readings' errors are not carried to this number";
    if (f.band > 0.0 && f.error.width <= 0.0) text = fmt::format("margin +- {} from the readings (95 %)", format_decimal_quantity(f.band, f.dimension, units));
    if (f.band > 0.0 && f.error.width > 0.0) {
        text = fmt::format("value {} from the readings (95 %), {}", say_band_in_decimals(f.error, f.dimension, units), say_band_method(f.error));
        if (const std::string chance = say_chance_of_breaking(f); !chance.empty()) text += fmt::format("; chance that the limit is broken in truth {}", chance);
        if (const std::string most = say_contributors(f, units); !most.empty()) text += "; most of it from " + most;
    }
    if (f.bound_error > 0.0) {
        const bool by_plan = f.kind == FindingKind::cut || f.kind == FindingKind::no_cut_works;
        text += by_plan ? "; the search over the travel leaves this much of it open: " : "; search over the travel proven to ";
        text += format_proof(f.bound_error, f.dimension);
    }
    return text;
}

std::string format_value(const Reading& r, Dimension dimension, UnitSystem units) {
    std::string text = format_decimal_quantity(r.value, dimension, units);
    if (r.tolerance > 0.0) text += " +- " + format_decimal_quantity(r.tolerance, dimension, units);
    return text;
}

bool starts_with_any(const std::string& key, const std::vector<std::string_view>& beginnings) {
    for (const std::string_view b : beginnings) {
        if (key.starts_with(b)) return true;
    }
    return false;
}

std::vector<ExplainedReading> list_readings(const Finding& f, const Setup& setup, UnitSystem units) {
    const std::vector<std::string_view> beginnings = list_input_keys(f.kind);
    Setup copy = setup;
    std::vector<ExplainedReading> list;
    visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
        if (r.known && starts_with_any(key, beginnings)) list.push_back({key, format_value(r, spec.dimension, units), r.origin});
    });
    return list;
}

std::string format_inputs(const std::vector<ExplainedReading>& readings, const TextStyle& style) {
    std::string text;
    for (const ExplainedReading& r : readings) {
        const std::string line = fmt::format("{} = {}, {}", printable_text(r.key, 70), r.value, origin_word(r.origin));
        text += format_entry(text.empty() ? "readings" : "", line, style);
    }
    return text;
}

constexpr std::string_view link_inputs[] = {"tractor.lower_link.", "tractor.upper_link_pin",    "implement.mast_pin",
                                            "tractor.travel.",     "choices.upper_link_length", "choices.working_",
                                            "coupler.",            "link_extender."};
constexpr std::string_view shaft_inputs[] = {"driveline.shaft.closed_length",
                                             "driveline.shaft.tractor_tube",
                                             "driveline.shaft.implement_tube",
                                             "driveline.shaft.overlap_closed",
                                             "driveline.shaft.longest_usable",
                                             "driveline.tractor_joint.offset",
                                             "driveline.implement_joint.offset",
                                             "tractor.pto.stub_",
                                             "implement.pic.x",
                                             "implement.pic.y",
                                             "implement.pic.z",
                                             "implement.pic.slope",
                                             "tractor.travel.",
                                             "choices.cut_",
                                             "choices.lift_stop",
                                             "choices.lower_stop",
                                             "coupler.",
                                             "link_extender.",
                                             "overrunning_clutch.",
                                             "spline_extender."};
constexpr std::string_view joint_inputs[] = {"tractor.pto.stub_",
                                             "implement.pic.x",
                                             "implement.pic.y",
                                             "implement.pic.z",
                                             "implement.pic.slope",
                                             "driveline.tractor_joint.",
                                             "driveline.implement_joint.",
                                             "choices.working_",
                                             "coupler.",
                                             "overrunning_clutch.",
                                             "spline_extender."};

template <std::size_t N>
std::vector<std::string_view> as_list(const std::string_view (&keys)[N]) {
    return {std::begin(keys), std::end(keys)};
}

}  // namespace

std::string_view finding_formula(FindingKind kind) {
    switch (kind) {
        case FindingKind::missing_reading:
            return "none: a reading is missing, and nothing is put in its place";
        case FindingKind::linkage_cannot_close:
            return "closes while |m - e| <= |U - H| <= m + e, and |h - z_P| <= c'";
        case FindingKind::upper_link_reach:
            return "e = |U - (H + R(p) M)|; least <= e <= most; turns = (e - e_now) / advance per turn";
        case FindingKind::working_pitch:
            return "W = (a D + b perp(D)) / d^2, D = U - H, d = |D|, a = (d^2 + m^2 - e^2)/2; pitch = angle from M to "
                   "W; dp/de = -1/lever";
        case FindingKind::pitch_range:
            return "least and greatest pitch over all ball heights of the travel";
        case FindingKind::dead_centre_in_travel:
            return "|U - H| = m + e (stretched) or |m - e| (folded)";
        case FindingKind::travel_bound:
            return "travel = taped heights, lift arm and rod, stops: the narrower at each end";
        case FindingKind::gap_at_shortest:
            return "gap = S_min - S_0";
        case FindingKind::overlap_at_longest:
        case FindingKind::separation:
            return "O = S_0 + min(t_A, t_B) - S_max; needed: max(O_least, f max(t_A, t_B))";
        case FindingKind::overlap_in_work:
            return "O = S_0 + min(t_A, t_B) - S_work; needed: f max(t_A, t_B)";
        case FindingKind::cut:
            return "c >= S_0 - max(t_A, t_B) + t - (S_min - gap) for each half, c >= 0; O after >= max(O_least, f t "
                   "after); the smallest mark that reaches gap_aimed, else the largest inside";
        case FindingKind::no_cut_works:
            return "least cuts for the gap, c = max(0, S_0 - max(t_A, t_B) + t - (S_min - gap)), leave O < "
                   "max(O_least, f t after)";
        case FindingKind::joint_angle_in_work:
        case FindingKind::joint_angle_watch:
        case FindingKind::joint_angle_over_travel:
            return "cos B1 = dot(u_A, K - Q)/S, cos B2 = dot(u_B, K - Q)/S, S = |K - Q|; greatest over the heights "
                   "judged";
        case FindingKind::non_uniformity:
            return "cos B_e = s_min/s_max of diag(cos B2, 1) Rot(f + g) diag(1, cos B1); greatest less least speed "
                   "ratio = 1/cos B_e - cos B_e";
        case FindingKind::guard_gap:
            return "gap of the guard tubes = S_min - their own closed length";
        case FindingKind::guard_overlap:
            return "overlap of the guard tubes at S_max, by their own lengths";
        case FindingKind::clearance:
            return "least distance of point and segment over the travel, less the radius of guard or tyre";
        case FindingKind::ground_clearance:
            return "z_H + x sin p + z cos p, less the wheel's radius";
        case FindingKind::floating_link_band:
            return "pitch at the two stops of the link, e to e + slack (swing strap: e - w to e + w)";
        case FindingKind::floating_link_slot:
            return "distance of the link's pins with the implement on ground that falls or rises behind the rear axle, "
                   "against its stops";
        case FindingKind::hidden_pins:
            return "least squares of |p_i - P| - c' over the balls' positions, each over its error; c = hypot(c', y_H - y_P)";
        case FindingKind::direct_reading:
            return "read - |(K + a_B u_B) - (Q - a_A u_A)|, a: joint centre outward to the point taped; allowed: 1.645 of the "
                   "95 % band of all readings together";
        case FindingKind::model_fit:
            return "least |2 u|^2 + sum (2 (y_j - h_j(u)) / r_j)^2, u: errors of all readings in their tolerances, y_j: what was "
                   "read directly, h_j: the same by the model, r_j: its tolerance";
        case FindingKind::direct_travel:
            return "S^2 = a + b h + c h^2 through the readings; S = distance - a_A cos(bend) - a_B cos(bend)";
        case FindingKind::coupler_seat:
            return "R(k) M = (t_x, sqrt(|M|^2 - t_x^2)), frame of the coupler; above the seat by sqrt(|M|^2 - t_x^2) - t_z, "
                   "from 0 to the hook's depth; k: tilt";
        case FindingKind::link_extender:
            return "z_P + (h - z_P) c2'/c1' for a height h taped without it; lift at the balls falls to c1'/c2'";
        case FindingKind::lift_rod_hole:
            return "arm angle of the taped height with the rod in its hole, height of that angle in the other; lift at the "
                   "balls by d(arm)/d(height)";
        case FindingKind::side_level:
            return "six closures in space at the working height, hitch centred; right less left end of the widest part, less that of the wanted roll";
        case FindingKind::levelling_rod:
            return "|E - Q| at the arm angle that the other rod gives, against the screw's range";
        case FindingKind::lift_rods_set:
            return "arm angle of each height with the rods alike; mean ball height of that angle with the rods as set";
        case FindingKind::sway:
            return "sway at which |B - C| of a chain is its length, or half the total found; tail at its place in frame I";
        case FindingKind::check_chain:
            return "sway at which the left chain is taut against that of the right one";
        case FindingKind::tyre_room:
            return "least distance of the lower link's outer side to the tyre over heights, sways and tilts";
        case FindingKind::side_motion:
            return "closure of the linkage over heights, sways and tilts";
        case FindingKind::other_tyres:
            return "p' = (0, r1) + R(t) (p - (0, r0)); t = asin((r1 - f1) / d) - atan((r0 - f0) / w), d = hypot(w, r0 - f0): f "
                   "front radius, w wheelbase";
        case FindingKind::category_match:
            return "category of the implement = category of the tractor, narrow hitches likewise";
        case FindingKind::pin_match:
            return "hole less pin: below 0 does not go in, above 1.5 mm wants a bushing";
        case FindingKind::span_match:
            return "ball spread = shoulder span + ball width, to 25 mm";
        case FindingKind::mast_match:
            return "mast height against the category's, to 40 mm";
        case FindingKind::pto_type_match:
            return "type of the implement = type of the tractor, or a shaft with the right yoke at each end";
        case FindingKind::pto_speed_match:
            return "speed chosen = speed the implement is made for, and the tractor offers it";
        case FindingKind::pto_spline_match:
            return "splines of the yoke = splines of the machine's shaft";
        case FindingKind::pto_rotation_match:
            return "rotation of the tractor = rotation of the implement, seen from behind";
        case FindingKind::driveline_power:
            return "P_driveline >= min(P_tractor, P_implement) at that speed";
        case FindingKind::drawbar_length:
            return "PTO end (of a clutch, extender or adapter on it) to the pin, level, against the figure for the PTO type";
        case FindingKind::drawbar_height:
            return "ground to the top of the drawbar";
        case FindingKind::drawbar_drop:
            return "PTO axis less top of the drawbar";
        case FindingKind::drawbar_load:
            return "vertical load of the implement against the tractor's limit in that position";
        case FindingKind::hitch_play:
            return "pitch at which the implement stands on its wheels, against the free play";
        case FindingKind::turn_limit:
            return "least turn at which a tyre comes within the clearance of a bar, a joint reaches its PTO-off angle, or gap or "
                   "overlap fall below the rule; steady turn = atan(c/r) + asin(L/hypot(r, c))";
        case FindingKind::articulation_angle:
            return "cos B = dot(u, K - Q)/S, K = A + R K_I, R = Rz(yaw) Ry(-pitch) Rx(roll); greatest over the whole box";
        case FindingKind::ditch_crossing:
            return "wheels on the profile, R = R_T^T R_I at every station, shaft at each";
        case FindingKind::lift_capacity:
            return "capacity(h) = (F(h)/g - m_c dz_c/dz_ball)/(dz_cg/dz_ball), least over the travel; published: F >= max(F_b, "
                   "F_610 dz_610/dz_ball in the test's frame)";
        case FindingKind::load_rise:
            return "dz_cg/dz_ball = 1 + (x cos p - z sin p)/X, least over the travel; X: ball to virtual hitch point";
        case FindingKind::front_axle_share:
            return "front = sum m (-x)/b over all masses, x behind the rear axle; share = front/base";
        case FindingKind::rear_axle_share:
            return "rear = sum m (b + x)/b over all masses; share = rear/tractor's empty mass";
        case FindingKind::carried_load:
            return "axle loads by moments, in the state with the most, against the figure allowed";
        case FindingKind::specification_line:
            return "measured against nominal +- deviation, or at_least and at_most; too close where the reading's error reaches over a limit";
        case FindingKind::specification_not_measured:
            return "lines without a reading";
        case FindingKind::joint_model:
            return "none: such a driveline is not computed";
    }
    return "";
}

std::vector<std::string_view> list_input_keys(FindingKind kind) {
    switch (kind) {
        case FindingKind::specification_line:
        case FindingKind::specification_not_measured:
            return {};
        case FindingKind::missing_reading:
        case FindingKind::drawbar_length:
        case FindingKind::drawbar_height:
        case FindingKind::drawbar_drop:
        case FindingKind::drawbar_load:
            return {"tractor.drawbar", "tractor.pto.stub_", "implement.drawn.vertical_load"};
        case FindingKind::lift_capacity: {
            std::vector<std::string_view> keys = as_list(link_inputs);
            for (const std::string_view key : {"implement.mass.", "tractor.mass.lift_", "tractor.lift_test.", "tractor.lift_point",
                                               "tractor.lift_cylinder.", "tractor.lift_arm.", "tractor.lift_rod"})
                keys.push_back(key);
            return keys;
        }
        case FindingKind::load_rise: {
            std::vector<std::string_view> keys = as_list(link_inputs);
            keys.emplace_back("implement.mass.");
            return keys;
        }
        case FindingKind::front_axle_share:
        case FindingKind::rear_axle_share:
        case FindingKind::carried_load:
            return {"tractor.mass.", "tractor.tyre.", "implement.mass.", "implement.drawn.vertical_load", "choices.ballast.", "coupler.mass",
                    "coupler.cg_x"};
        case FindingKind::hitch_play:
            return {"implement.drawn.", "implement.ground_contact", "tractor.drawbar"};
        case FindingKind::turn_limit:
            return {"tractor.tyre.", "tractor.drawbar", "implement.tongue_bar", "choices.turn_", "tractor.steering."};
        case FindingKind::articulation_angle:
            return {"tractor.drawbar", "tractor.pto.stub_", "implement.pic.", "driveline.tractor_joint.", "driveline.implement_joint.",
                    "choices.turn_", "choices.pitch_", "choices.roll_"};
        case FindingKind::ditch_crossing:
            return {"choices.ditch", "choices.ditch_point", "tractor.tyre.", "tractor.mass.wheelbase", "implement.ground_contact"};
        case FindingKind::upper_link_reach: {
            std::vector<std::string_view> keys = as_list(link_inputs);
            keys.emplace_back("tractor.upper_link.");
            return keys;
        }
        case FindingKind::linkage_cannot_close:
        case FindingKind::working_pitch:
        case FindingKind::pitch_range:
        case FindingKind::dead_centre_in_travel:
            return as_list(link_inputs);
        case FindingKind::travel_bound:
            return {"tractor.travel.", "tractor.lift_arm.", "tractor.lift_rod", "choices.lift_stop",
                    "choices.lower_stop"};
        case FindingKind::gap_at_shortest:
        case FindingKind::overlap_at_longest:
        case FindingKind::overlap_in_work:
        case FindingKind::separation:
        case FindingKind::cut:
        case FindingKind::no_cut_works:
            return as_list(shaft_inputs);
        case FindingKind::joint_angle_in_work:
        case FindingKind::joint_angle_over_travel:
        case FindingKind::joint_angle_watch:
        case FindingKind::joint_model:
            return as_list(joint_inputs);
        case FindingKind::non_uniformity:
            return {"driveline.shaft.yoke_phase_error", "tractor.pto.stub_slope", "implement.pic.slope"};
        case FindingKind::guard_gap:
        case FindingKind::guard_overlap:
            return {"driveline.guard."};
        case FindingKind::clearance:
            return {"implement.point", "driveline.guard.radius", "tractor.drawbar.", "tractor.tyre.",
                    "tractor.cab_line"};
        case FindingKind::ground_clearance:
            return {"implement.point", "implement.ground_contact"};
        case FindingKind::floating_link_band:
            return {"implement.upper_link_float.", "implement.ground_contact"};
        case FindingKind::floating_link_slot:
            return {"implement.upper_link_float.", "implement.ground_contact", "choices.hump_angle",
                    "choices.hollow_angle"};
        case FindingKind::hidden_pins:
            return {"tractor.ball_reading", "tractor.lower_link.", "tractor.lift_arm."};
        case FindingKind::direct_reading: {
            std::vector<std::string_view> keys = as_list(shaft_inputs);
            keys.emplace_back("direct_reading");
            return keys;
        }
        case FindingKind::model_fit:
            return {"direct_reading", "pose_reading"};
        case FindingKind::direct_travel:
            return {"direct_reading", "driveline.tractor_joint.", "driveline.implement_joint.", "tractor.travel."};
        case FindingKind::coupler_seat:
            return {"coupler.", "implement.mast_pin"};
        case FindingKind::link_extender:
            return {"link_extender.", "tractor.lower_link.", "tractor.travel."};
        case FindingKind::lift_rod_hole:
            return {"tractor.lift_rod", "tractor.lift_arm.", "tractor.lower_link.", "tractor.travel."};
        case FindingKind::side_level:
        case FindingKind::levelling_rod:
        case FindingKind::lift_rods_set:
            return {"tractor.lift_rod", "tractor.lift_arm.", "tractor.lower_link.", "choices.left_lift_rod", "choices.right_lift_rod",
                    "choices.working_roll"};
        case FindingKind::sway:
        case FindingKind::check_chain:
        case FindingKind::side_motion:
            return {"tractor.sway.", "tractor.check_chain.", "choices.left_check", "choices.right_check", "tractor.lower_link."};
        case FindingKind::tyre_room:
            return {"tractor.tyre.rear_", "tractor.lower_link.", "tractor.sway.", "tractor.check_chain.", "implement.hitch.side_play"};
        case FindingKind::other_tyres:
            return {"tractor.tyre", "tractor.mass.wheelbase"};
        case FindingKind::category_match:
            return {};
        case FindingKind::pin_match:
            return {"implement.hitch.lower_pin", "implement.hitch.upper_pin", "tractor.hitch."};
        case FindingKind::span_match:
            return {"implement.hitch.shoulder_span", "tractor.lower_link.half_spread_at_ball"};
        case FindingKind::mast_match:
            return {"implement.mast_pin"};
        case FindingKind::pto_type_match:
        case FindingKind::pto_speed_match:
        case FindingKind::pto_spline_match:
        case FindingKind::pto_rotation_match:
            return {};
        case FindingKind::driveline_power:
            return {"driveline.shaft.power_", "tractor.pto.power", "implement.pic.power"};
    }
    return {};
}

Explanation explain_finding(const Finding& f, const Setup& setup, UnitSystem units) {
    Explanation e;
    e.formula = finding_formula(f.kind);
    for (const Term& t : f.terms) {
        e.numbers.push_back(fmt::format("{} = {}: {}", printable_text(t.symbol, 30),
                                        format_decimal_quantity(t.value, t.dimension, units), printable_text(t.meaning, 120)));
    }
    if (f.value != 0.0 || f.has_limit || f.has_height) {
        e.result = format_result(f, units);
        e.error = format_error(f, units);
    }
    if (f.rule.set) e.source = format_source(f.rule) + " (" + std::string(grade_meaning(f.rule.grade)) + ")";
    e.readings = list_readings(f, setup, units);
    return e;
}

std::string format_explanation(const Finding& f, const Setup& setup, const TextStyle& style, bool with_readings) {
    const Explanation e = explain_finding(f, setup, style.units);
    std::string text = format_entry("formula", e.formula, style);
    for (std::size_t i = 0; i < e.numbers.size(); ++i) text += format_entry(i == 0 ? "numbers" : "", e.numbers[i], style);
    if (!e.result.empty()) text += format_entry("result", e.result, style) + format_entry("error", e.error, style);
    if (!e.source.empty()) text += format_entry("source", e.source, style);
    if (list_input_keys(f.kind).empty()) return text;
    return text + (with_readings ? format_inputs(e.readings, style)
                                 : format_entry("readings", "as listed above for the same parts", style));
}

}  // namespace hitchwright
