// Findings and verdicts: what a fit says, as values. The words for each are in report/finding_text.
//
// A finding is one judged question: number, limit, margin, where, rule, grade, what to do, cautions beside the step.
// Negative margin: the limit is broken. Findings are ordered worst first (sort_findings).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/attitude.h"
#include "geometry/height_range.h"
#include "geometry/reading.h"
#include "geometry/reading_band.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// The answer in one word; fixed names, see verdict_word().
enum class Verdict { fits, fits_after_change, must_not_run, too_close_to_call, not_known };

/// How much a finding weighs, worst first.
enum class Severity {
    forbids,    ///< must not run like this
    unknown,    ///< a needed reading is missing, or the answer lies inside the error band
    change,     ///< something must be changed or cut, and that is enough
    condition,  ///< fits as long as a stated condition is kept (PTO off above a height)
    watch,      ///< allowed, worth knowing
    good        ///< within its limit
};

/// What a finding is about.
enum class FindingKind {
    missing_reading,
    linkage_cannot_close,
    upper_link_reach,
    working_pitch,
    pitch_range,
    dead_centre_in_travel,
    travel_bound,
    gap_at_shortest,
    overlap_at_longest,
    overlap_in_work,
    separation,
    cut,
    no_cut_works,
    joint_angle_in_work,
    joint_angle_over_travel,
    joint_angle_watch,
    non_uniformity,
    guard_gap,
    guard_overlap,
    clearance,
    ground_clearance,
    floating_link_band,
    floating_link_slot,
    hidden_pins,
    direct_reading,
    direct_travel,
    model_fit,      ///< other: used, left_out, no_place, too_far, contradiction; value: how many direct readings it is fitted to
    coupler_seat,
    link_extender,
    lift_rod_hole,  ///< heights taped with the rod in another hole; subject: the hole, other: the one of the tape
    side_level,     ///< level from side to side; subject: the part it is measured at, empty: the balls; other: wanted, level
    levelling_rod,  ///< a wanted roll is out of a rod's range; subject: left, right
    lift_rods_set,  ///< heights were carried over to rods of another length; value: right less left
    sway,           ///< subject: the rearmost point, in a term its swing; other: check_chains, as_found
    check_chain,    ///< chains that stop the lift
    tyre_room,      ///< lower link beside its tyre; subject: left, right
    side_motion,    ///< sway and tilt that could not be judged; other: why
    other_tyres,    ///< heights read on other tyres; subject: the set it stands on, other: turned, level, level_assumed
    category_match,
    pin_match,
    span_match,
    mast_match,
    pto_type_match,
    pto_speed_match,
    pto_spline_match,
    pto_rotation_match,
    driveline_power,
    drawbar_length,
    drawbar_height,
    drawbar_drop,
    drawbar_load,
    hitch_play,
    turn_limit,
    articulation_angle,
    ditch_crossing,
    lift_capacity,     ///< subject: where the force comes from; other: the answer
    load_rise,
    front_axle_share,  ///< subject: the base; other: the state with the least on the axle
    rear_axle_share,
    carried_load,      ///< subject: axle, tyres or the whole tractor; other: the state
    specification_line,          ///< a line out of its specification or too close to it; subject: its name
    specification_not_measured,  ///< value: how many lines; subject: the first of them
    joint_model,
};

/// Usual cautions; each stands at the step it belongs to and cannot be turned off.
enum class Caution {
    stop_before_touching,    ///< engine off, key out, rotation stopped before connecting, measuring, cutting, greasing
    keep_from_turning_shaft, ///< even when guarded; never step over
    guards_complete,
    parts_or_breaks,         ///< too short can part and flail, too long breaks bearings and housings
    tug_both_ends,
    nobody_between,
    never_under_raised,
    pto_off_above_height,
    lift_stop_before_use,
    weigh_before_relying,
    measure_before_cutting,  ///< do not cut before a direct measurement agrees
    manual_rules,            ///< the maker's manual, local code and licensed practice rule
    rops_and_belt,
    turn_with_pto_off,       ///< drawn: PTO off beyond the turn stated
    cross_ditches_slowly,    ///< at an angle, never backing in
    hitch_to_drawbar_only,
    safety_chains,
};

/// What would change a finding, with its number.
enum class RemedyKind {
    cut_both_halves,
    cut_tractor_half,
    cut_implement_half,
    order_shaft,         ///< value: closed length at most; second: extended length at least
    longer_shaft,        ///< value: extra overlap needed
    set_upper_link,
    set_lift_rod,          ///< value: length, second: turns of the levelling screw, lengthening positive; subject: left, right
    other_upper_link_pin,  ///< subject: the pin
    other_mast_pin,
    other_rod_hole,  ///< of the lift rods in the lower links; subject: the hole
    lift_stop,           ///< value: ball height
    lower_stop,
    pto_off_above,
    working_height,
    measure,             ///< subject: key; value: how far its error alone moves this; second: two sigma that settles it, 0: not known
    bushing,
    match_part,          ///< subject: what has to match
    drawbar_away,
    other_drawbar_pin,   ///< subject: the position
    drawbar_length,      ///< value: least length, second: most
    set_to_specification,  ///< value: change of what was measured; subject: the adjuster, or the words
    turn_at_most,        ///< value: turn, rad; subject: left, right
    crossing_angle,      ///< value: nearest to square that passes, rad
    ditch_depth,         ///< value: depth that still passes, m
    front_ballast,       ///< value: kg in front altogether; second: m ahead of the front axle; subject "assumed": nobody said where
    rear_ballast,        ///< value: kg at the rear altogether; second: m behind the rear axle
};
struct Remedy {
    RemedyKind kind;
    double value = 0.0;   ///< SI
    double second = 0.0;  ///< SI, where the kind has two numbers
    std::string subject;
    bool operator==(const Remedy&) const = default;
};

/// A number that went into a finding, for `--explain`.
struct Term {
    std::string symbol;
    double value = 0.0;  ///< SI
    Dimension dimension = Dimension::length;
    std::string meaning;
    bool operator==(const Term&) const = default;
};

struct Finding {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Finding);
    FindingKind kind{};
    Severity severity = Severity::good;
    std::string subject;  ///< part, joint, point or reading it is about
    std::string other;    ///< second part of a comparison
    Dimension dimension = Dimension::length;
    double value = 0.0;
    bool has_limit = false;
    double limit = 0.0;
    double margin = 0.0;        ///< in the same dimension; negative: broken
    double band = 0.0;          ///< 95 % error band of the margin from the readings' tolerances; 0: not propagated
    ErrorBand error;            ///< the band in full, where `band` is not 0: how it was found, which readings have most of it
    double bound_error = 0.0;   ///< proven error of `value` over the continuous range, apart from the readings; of a cut, or of what
                                ///< lacks for one, what the searches for the shaft's lengths leave open (find_plan_error)
    bool has_height = false;
    double height = 0.0;        ///< ball height where it happens, m
    bool has_attitude = false;  ///< drawn: it happens at `attitude` of the implement against the tractor
    Attitude attitude;
    std::vector<HeightRange> heights;  ///< ball heights inside the limit
    Limit rule;                 ///< limit's grade and source; unset when none applies
    std::vector<Term> terms;
    std::vector<Remedy> remedies;
    std::vector<Caution> cautions;
    bool operator==(const Finding&) const = default;
};

/// Fixed word of a verdict: fits, fits_after_change, must_not_run, too_close_to_call, not_known.
std::string_view verdict_word(Verdict verdict);

/// Fixed word of a finding's kind, as used in machine-readable output.
std::string_view finding_word(FindingKind kind);

/// Fixed word of a severity.
std::string_view severity_word(Severity severity);

/// Orders worst first: severity, then what hurts first when it is wrong, then margin relative to the limit; stable.
void sort_findings(std::vector<Finding>& findings);

/// Verdict that follows from the findings alone.
Verdict find_verdict(const std::vector<Finding>& findings);

}  // namespace hitchwright
