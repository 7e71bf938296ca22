// Every hole at once: each tractor upper-link pin with each mast pin, what the machine does with it, and which to
// take.
//
// For every combination the upper link is set for the working attitude, the numbers are taken over the whole travel
// (extremes bounded, hole_numbers.h), and the set-up is judged as `fit` judges it (analysis.h). The order is by a wish:
// docs/theory/linkage.md, "Which hole". Pure; the same set-up gives the same study. Lengths m, angles rad.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/hole_numbers.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// What the choice is for.
enum class HoleWish {
    general,        ///< least to change, then a balance of joint angle, pitch change and lift
    level_carry,    ///< least change of pitch from work to the top of the travel
    tail_high,      ///< rear of the implement as high as it gets at the top
    most_lift,      ///< greatest lift of the load at the worst height
    shallow_joints  ///< least joint angle over the travel
};

/// How a combination stands, best first.
enum class HoleStanding {
    fits,           ///< as it is, conditions included
    cut,            ///< after cutting the shaft, nothing else
    change,         ///< after another change
    not_decided,    ///< too close to call, or a reading is missing
    other_shaft,    ///< not with this shaft: nothing but its length forbids it
    link_out_of_reach,  ///< not with this upper link
    must_not_run,
    does_not_close  ///< the linkage does not get through the travel
};

/// What combinations are compared by.
enum class HoleMeasure {
    standing,
    changes,               ///< count of things to change
    load_rises,            ///< 1: the load rises at every height, or nothing is known of it; 0: somewhere it does not
    points,                ///< find_hole_points
    joint_angle,           ///< greatest over the travel
    joint_angle_in_work,   ///< greatest in the working band
    lift_ratio,            ///< least dz_ball/dz_load
    pitch_change,          ///< from work to the top of the travel, either way
    tail_height,           ///< at the top
    pitch_top,             ///< stands for the tail when no point of it is known
    thread_left            ///< of the upper link, to the nearer end
};

/// One combination, judged.
struct HoleResult {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(HoleResult);
    HoleNumbers numbers;
    Analysis analysis;      ///< as `fit` of choose_holes(setup, numbers.holes), its direct readings fitted before and taken out
    HoleStanding standing = HoleStanding::does_not_close;
    int changes = 0;        ///< findings that want a change
    int conditions = 0;     ///< findings on condition; told, not ranked by: one height can stand in several
    std::vector<HeightRange> work_heights;  ///< as numbers.shaft has them, ends drawn in for the readings' errors where a
    std::vector<HeightRange> pto_heights;   ///< condition states the height; these are the ones to say
    std::size_t place = 0;  ///< 1 is the first choice; equal combinations share a place
    HoleMeasure decided_by = HoleMeasure::standing;  ///< what puts it behind the first choice; means nothing in the first place
};

/// The whole study.
struct HoleStudy {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(HoleStudy);
    HoleWish wish = HoleWish::general;
    HoleWish judged_by = HoleWish::general;  ///< `general` when no combination has what the wish is about
    std::vector<HoleResult> results;  ///< best first; equal ones: the set-up's own first, then in the order of the files
    std::size_t combinations = 0;     ///< how many there are; results are empty when that is more than most_hole_combinations
    bool typed_link_ignored = false;  ///< the set-up states a link length; the study sets the link for the working attitude
    std::vector<Finding> findings;    ///< without any combination: what is missing
};

/// More than this many are not studied: no machine has them.
inline constexpr std::size_t most_hole_combinations = 256;

/// Studies all combinations of a set-up. `mark`: what cuts are rounded to. Never throws on readings.
HoleStudy study_holes(const Setup& setup, const Mark& mark, HoleWish wish);

/// The same one combination at a time, so that a window need not wait for it.
class HoleSearch {
public:
    HoleSearch(Setup setup, const Mark& mark, HoleWish wish);

    /// Judges one combination. False: there was none left.
    bool step();
    bool finished() const { return done() == total(); }
    std::size_t done() const { return study_.results.size(); }
    std::size_t total() const { return to_do_.size(); }
    /// The whole study, ranked, as study_holes gives it; needs finished(). The search is of no use afterwards.
    HoleStudy take();

private:
    Setup setup_, fitted_;  ///< as it is; fitted to its direct readings, without them
    bool prepared_ = false;
    std::optional<Analysis> base_;  ///< where there are direct readings
    Mark mark_;
    std::vector<HoleCombination> to_do_;
    HoleStudy study_;
};

/// Penalty points of the general order: degrees of joint angle over the travel, degrees of pitch change, and half a
/// point for each percent that the lift ratio is below 1. Less is better; what is not known counts nothing.
double find_hole_points(const HoleNumbers& numbers);

/// A measure of a combination as it is compared; nothing when it is not known. Angles rad, lengths m, else plain.
std::optional<double> find_hole_measure(const HoleResult& result, HoleMeasure measure);

/// True when less of it is better.
bool is_less_better(HoleMeasure measure);

/// -1: a is better, 1: b is better, 0: the same as shown (angles to 0.1 deg, lengths to 1 mm, lift to 1 %).
int compare_hole_measure(const HoleResult& a, const HoleResult& b, HoleMeasure measure);

/// Fixed words for machine-readable output.
std::string_view hole_wish_word(HoleWish wish);
std::string_view hole_standing_word(HoleStanding standing);
std::string_view hole_measure_word(HoleMeasure measure);

/// All wishes, in the order of the enumeration.
const std::vector<HoleWish>& all_hole_wishes();

}  // namespace hitchwright
