// How much may come off a telescoping shaft: the set of admissible cuts, and the cut to make.
//
// A cut (c_a, c_b) leaves halves t' = t - c and the closed length S_0' = rho + max(t_a', t_b'). It is admissible when
//   gap:      S_0' <= S_least - gap               c_a >= rho + t_a - (S_least - gap), the same for b, c >= 0
//   overlap:  O'(S_most) >= overlap_least         c_a + c_b <= R - overlap_least,  R = rho + t_a + t_b - S_most
//             O'(S_most) >= f max(t_a', t_b')     (1 - f) c_a + c_b <= R - f t_a, the same with a and b exchanged
// and, where a rule set asks a share w of the tube in the working band, the same with w and the longest length there.
// All are linear: the set is a convex polygon with its least corner at the gap's bounds. For equal halves and f = 1/3
// the greatest equal cut is min[(O_0 + S_0 - S_most - overlap_least)/2, 0.6 (O_0 + S_0 - S_most - t/3)].
//
// The sense of the trade: a shaft too long by X loses X from EACH half, both tubes and both guards; the closed length
// falls by X and the overlap at any given length by 2 X. Halves unequal by d: only the longer is cut up to d, both
// beyond. Lengths in m between joint centres, travel taken over the whole movement.
#pragma once

#include <vector>

#include "geometry/telescoping.h"

namespace hitchwright {

/// Shortest and longest distance of the joint centres over the whole travel (m).
struct ShaftTravel {
    double shortest = 0.0;
    double longest = 0.0;
    double longest_in_work = 0.0;  ///< m over the working band only; 0: not asked

    bool operator==(const ShaftTravel&) const = default;
};

/// What a shaft is held to. A rule set that says nothing about an item has 0 there.
struct CutLimits {
    double gap_required = 0.0;            ///< m left at the shortest length
    double gap_aimed = 0.0;               ///< m a cut aims for; below gap_required it counts as that
    double overlap_least = 0.0;           ///< m of tube overlap at the longest length, above 0 or overlap_fraction is
    double overlap_fraction = 0.0;        ///< f: the same as a share of the longer free tube after the cut, 0 <= f < 1
    double overlap_fraction_aimed = 0.0;  ///< share one would like to have, reported only, 0 <= f < 1
    double overlap_fraction_in_work = 0.0;  ///< w: the share needed at longest_in_work, 0 <= w < 1; 0: none

    bool operator==(const CutLimits&) const = default;
};

/// Step of the marks a cut is measured out by.
struct Mark {
    double step = 0.0;  ///< m, above 0

    bool operator==(const Mark&) const = default;
};

inline constexpr Mark sixteenth_inch_mark{0.0254 / 16.0};
inline constexpr Mark millimetre_mark{0.001};

/// m (1e-6 mm). Less than this is ignored when a limit or a mark is met, so that an exact sixteenth stays itself.
inline constexpr double cut_tolerance = 1e-9;

/// What a shaft leaves at both ends of its travel.
struct ShaftMargins {
    double closed_length = 0.0;    ///< m
    double gap = 0.0;              ///< m left at the shortest length; negative: bottoms out
    double overlap = 0.0;          ///< m at the longest length; negative: apart
    double overlap_needed = 0.0;   ///< m at the longest length by the limits, with the tubes as they are then
    double overlap_in_work = 0.0;  ///< m at longest_in_work; 0 when nothing is asked there
    double overlap_in_work_needed = 0.0;
    bool gap_aim_reached = false;      ///< gap_aimed is kept
    bool overlap_aim_reached = false;  ///< overlap_fraction_aimed of the longer tube is kept

    bool operator==(const ShaftMargins&) const = default;
};

/// Margins of halves as they are (whole, or after a cut).
ShaftMargins find_margins(const TelescopingHalves& halves, const ShaftTravel& travel, const CutLimits& limits);

/// True when margins keep the required gap and overlap (to within `cut_tolerance`).
bool keeps_limits(const ShaftMargins& margins, const CutLimits& limits);

/// The answer to "what do I cut".
enum class CutAnswer {
    halves_invalid,     ///< `halves_status` says why; nothing else holds
    travel_invalid,     ///< shortest or longest not finite, not above 0, or in the wrong order
    limits_invalid,     ///< a limit is not finite or outside its range, or no overlap at all is asked for
    mark_invalid,       ///< the mark's step is not finite or below 0.001 mm
    no_cut_needed,      ///< required gap and overlap are kept as the shaft is; `recommended` is no cut
    cut_to_aim,         ///< `recommended` is the smallest mark that reaches the gap aimed for
    cut_short_of_aim,   ///< the aim costs too much overlap: `recommended` is the largest mark inside, gap as required
    cut_between_marks,  ///< cuts work, but no mark lies inside: `recommended` lies on a whole or a tenth of a
                        ///< millimetre, or, in a set narrower still, in its middle; print mm and say so
    no_cut_works        ///< `obstacle` and the numbers beside it say why and what to order
};

/// Why no cut works.
enum class CutObstacle {
    none,
    too_short_uncut,    ///< the gap is there but the overlap is not: the shaft is too short as it is
    cut_costs_overlap,  ///< what must come off for the gap leaves too little overlap
    tubes_used_up       ///< even without tubes the shaft cannot close as far: the roots meet
};

/// All about cutting one shaft for one travel. Lengths in m; zero where they do not apply.
struct CutPlan {
    CutAnswer answer = CutAnswer::halves_invalid;
    HalvesStatus halves_status = HalvesStatus::ok;
    CutObstacle obstacle = CutObstacle::none;
    std::vector<CutPair> admissible;  ///< corners of the set, anticlockwise from its least corner; empty: no cut works
    CutPair least_cut;                ///< least from either half that keeps the required gap; the set's least corner
    double least_total = 0.0;         ///< least_cut.a + least_cut.b
    bool equal_possible = false;      ///< a cut of the same length from both halves exists
    double equal_least = 0.0;         ///< least and most of such equal cuts, from each half
    double equal_most = 0.0;
    CutPair recommended;             ///< what to take off
    double recommended_step = 0.0;   ///< step of the marks `recommended` lies on; 0: none
    CutPair to_aim;                  ///< what would reach the aimed-for gap on a mark, also when nothing need be cut
    bool to_aim_admissible = false;  ///< `to_aim` keeps all limits
    ShaftMargins uncut;              ///< as the shaft is
    ShaftMargins after;              ///< after `recommended`; as `uncut` when no cut works
    double closed_at_most = 0.0;     ///< to order: closed length at most this, S_least - gap_required
    double extended_at_least = 0.0;  ///< to order: usable extended length at least this, S_most
    double overlap_short_by = 0.0;   ///< no_cut_works: overlap lacking after the least cut

    bool operator==(const CutPlan&) const = default;
};

/// True when the plan holds an answer (also "no cut works"); false for input that is named invalid.
bool is_answered(const CutPlan& plan);

/// Works out the admissible cuts and the cut to make. A cut is judged as made: the tubes shortened, the closed length
/// and the overlap taken again. Never throws; bad input is named by `answer`.
CutPlan plan_cut(const TelescopingHalves& halves, const ShaftTravel& travel, const CutLimits& limits, const Mark& mark);

/// How far apart are the lengths that two plans tell, m: the longer of the two cuts, or the overlap that is lacking where no cut works. The
/// greater of the two where one tells of a cut, or of overlap, and the other does not.
double find_plan_difference(const CutPlan& plan, const CutPlan& other);

/// What a search for the lengths leaves open of `plan`, m: the greatest difference from plans with the shortest or the longest lengths, or
/// both, as attained instead of as bounded (the plan's own). A cut and what lacks fall and rise with each length, so that no lengths between
/// tell of more, but for a cut between the marks, which may lie on another of its finer steps. 0 of a plan that tells of neither.
double find_plan_error(const CutPlan& plan, const TelescopingHalves& halves, const ShaftTravel& bounds, const ShaftTravel& attained,
                       const CutLimits& limits, const Mark& mark);

/// `length` moved to the next mark up or down; a length within `cut_tolerance` of a mark is on it. Finite input.
double round_up_to_mark(double length, const Mark& mark);
double round_down_to_mark(double length, const Mark& mark);

}  // namespace hitchwright
