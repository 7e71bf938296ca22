// The set's bounds all rise with both cuts, except the gap's, which bound each cut from below. So the set is empty if
// and only if its least corner breaks the overlap, and rounding that corner up to marks gives the least marked cut
// there is. Along the path of least cuts for a gap g, c(g) = max(0, g - g_uncut) for each half, the overlap bounds a
// greatest g.
#include "geometry/shaft_cut.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "geometry/cut_set.h"

namespace hitchwright {

namespace {

// m; finer marks than a micrometre are a typing error.
constexpr double least_step = 1e-6;

// Everything that stays the same while cuts are tried.
struct CutTask {
    TelescopingHalves halves;
    ShaftTravel travel;
    CutLimits limits;
};

// Least cuts that leave the gap.
CutPair find_cuts_for_gap(const CutTask& task, double gap) {
    return find_cuts_for_closed_length(task.halves, task.travel.shortest - gap);
}

CutPair round_up(const CutPair& cut, const Mark& mark) {
    return {round_up_to_mark(cut.a, mark), round_up_to_mark(cut.b, mark)};
}

// Judged by making the cut, not by the bounds.
bool is_admissible(const CutTask& task, const CutPair& cut) {
    const CutHalves after = cut_halves(task.halves, cut);
    return after.status == CutStatus::ok &&
           keeps_limits(find_margins(after.halves, task.travel, task.limits), task.limits);
}

void find_equal_cuts(const CutTask& task, CutPlan& plan) {
    plan.equal_least = std::max(plan.least_cut.a, plan.least_cut.b);
    double most = std::min(task.halves.tube_a, task.halves.tube_b);
    for (const OverlapBound& limit : make_overlap_bounds(task.halves, task.travel, task.limits)) {
        most = std::min(most, limit.bound / (limit.weight_a + limit.weight_b));
    }
    plan.equal_possible = plan.equal_least <= most + cut_tolerance;
    plan.equal_least = plan.equal_possible ? plan.equal_least : 0.0;
    plan.equal_most = plan.equal_possible ? std::max(most, plan.equal_least) : 0.0;
}

// Greatest gap g whose least cuts keep one overlap bound. gap_a, gap_b: gap each half leaves uncut.
double find_greatest_gap(const OverlapBound& limit, double gap_a, double gap_b) {
    const bool a_first = gap_a <= gap_b;  // the longer half is cut first
    const double alone = a_first ? gap_a + limit.bound / limit.weight_a : gap_b + limit.bound / limit.weight_b;
    if (alone <= std::max(gap_a, gap_b)) {
        return alone;
    }
    return (limit.bound + limit.weight_a * gap_a + limit.weight_b * gap_b) / (limit.weight_a + limit.weight_b);
}

// The path of least cuts of a task and how far along it the overlap allows to go.
struct CutPath {
    double gap_a = 0.0;  // gap left by half a, by half b, uncut
    double gap_b = 0.0;
    double gap_most = 0.0;

    explicit CutPath(const CutTask& task) {
        const double spare = task.travel.shortest - find_root_length(task.halves);
        gap_a = spare - task.halves.tube_a;
        gap_b = spare - task.halves.tube_b;
        const std::vector<OverlapBound> limits = make_overlap_bounds(task.halves, task.travel, task.limits);
        gap_most = find_greatest_gap(limits[0], gap_a, gap_b);
        for (const OverlapBound& limit : limits) {
            gap_most = std::min(gap_most, find_greatest_gap(limit, gap_a, gap_b));
        }
    }
};

// Admissible marked cut with the greatest gap, if any. Of the gaps at which a's cut, or b's, is a mark, only the last
// one of each up to gap_most can be the greatest. At the lesser of these two both cuts, rounded up, are marks within
// gap_most, so that one is always inside; the greater may be.
std::optional<CutPair> find_largest_marked_cut(const CutTask& task, const CutPath& path, const Mark& mark) {
    std::optional<CutPair> best;
    double best_gap = 0.0;
    for (const double uncut : {path.gap_a, path.gap_b}) {
        const double gap = uncut + round_down_to_mark(std::max(0.0, path.gap_most - uncut), mark);
        const CutPair cut = round_up(find_cuts_for_gap(task, gap), mark);
        if ((!best || gap > best_gap) && is_admissible(task, cut)) {
            best = cut;
            best_gap = gap;
        }
    }
    return best;
}

// No mark of the wanted step inside: a millimetre, a tenth, or the middle of what is left.
void recommend_between_marks(const CutTask& task, const CutPath& path, CutPlan& plan) {
    plan.answer = CutAnswer::cut_between_marks;
    for (const double step : {0.001, 0.0001}) {
        const Mark finer{step};
        plan.recommended_step = step;
        plan.recommended = round_up(find_cuts_for_gap(task, task.limits.gap_aimed), finer);
        if (is_admissible(task, plan.recommended)) {
            return;
        }
        if (const std::optional<CutPair> largest = find_largest_marked_cut(task, path, finer)) {
            plan.recommended = *largest;
            return;
        }
    }
    const bool aim_inside = path.gap_most >= task.limits.gap_aimed;
    const double from = aim_inside ? task.limits.gap_aimed : task.limits.gap_required;
    plan.recommended_step = 0.0;
    plan.recommended = find_cuts_for_gap(task, std::max(from, 0.5 * (from + path.gap_most)));
}

void recommend_cut(const CutTask& task, const Mark& mark, CutPlan& plan) {
    plan.recommended_step = mark.step;
    if (keeps_limits(plan.uncut, task.limits)) {
        plan.answer = CutAnswer::no_cut_needed;
        return;
    }
    if (plan.to_aim_admissible) {
        plan.answer = CutAnswer::cut_to_aim;
        plan.recommended = plan.to_aim;
        return;
    }
    const CutPath path(task);
    if (const std::optional<CutPair> largest = find_largest_marked_cut(task, path, mark)) {
        plan.answer = CutAnswer::cut_short_of_aim;
        plan.recommended = *largest;
        return;
    }
    recommend_between_marks(task, path, plan);
}

void explain_no_cut(const CutTask& task, CutPlan& plan) {
    plan.answer = CutAnswer::no_cut_works;
    const CutHalves after = cut_halves(task.halves, plan.least_cut);
    if (after.status != CutStatus::ok) {
        plan.obstacle = CutObstacle::tubes_used_up;
        return;
    }
    const ShaftMargins margins = find_margins(after.halves, task.travel, task.limits);
    plan.overlap_short_by =
        std::max(margins.overlap_needed - margins.overlap, margins.overlap_in_work_needed - margins.overlap_in_work);
    plan.obstacle = plan.least_total > 0.0 ? CutObstacle::cut_costs_overlap : CutObstacle::too_short_uncut;
}

bool in_range(double value, double below) { return value >= 0.0 && value < below; }

// NaN fails every comparison.
bool travel_is_valid(const ShaftTravel& travel) {
    return travel.shortest > 0.0 && travel.longest >= travel.shortest && std::isfinite(travel.longest) &&
           travel.longest_in_work >= 0.0 && travel.longest_in_work <= travel.longest + cut_tolerance;
}

bool limits_are_valid(const CutLimits& limits) {
    const double most = std::numeric_limits<double>::max();
    return in_range(limits.gap_required, most) && in_range(limits.gap_aimed, most) &&
           in_range(limits.overlap_least, most) && in_range(limits.overlap_fraction, 1.0) &&
           in_range(limits.overlap_fraction_aimed, 1.0) && in_range(limits.overlap_fraction_in_work, 1.0) &&
           (limits.overlap_least > 0.0 || limits.overlap_fraction > 0.0);
}

bool input_is_valid(const CutTask& task, const Mark& mark, CutPlan& plan) {
    plan.halves_status = check_halves(task.halves);
    if (plan.halves_status != HalvesStatus::ok) {
        plan.answer = CutAnswer::halves_invalid;
    } else if (!travel_is_valid(task.travel)) {
        plan.answer = CutAnswer::travel_invalid;
    } else if (!limits_are_valid(task.limits)) {
        plan.answer = CutAnswer::limits_invalid;
    } else if (!(mark.step >= least_step && std::isfinite(mark.step))) {
        plan.answer = CutAnswer::mark_invalid;
    } else {
        return true;
    }
    return false;
}

}  // namespace

ShaftMargins find_margins(const TelescopingHalves& halves, const ShaftTravel& travel, const CutLimits& limits) {
    const double longer = std::max(halves.tube_a, halves.tube_b);
    ShaftMargins margins;
    margins.closed_length = halves.closed_length;
    margins.gap = find_gap(halves, travel.shortest);
    margins.overlap = find_overlap(halves, travel.longest);
    margins.overlap_needed = std::max(limits.overlap_least, limits.overlap_fraction * longer);
    if (asks_overlap_in_work(travel, limits)) {
        margins.overlap_in_work = find_overlap(halves, travel.longest_in_work);
        margins.overlap_in_work_needed = limits.overlap_fraction_in_work * longer;
    }
    margins.gap_aim_reached = margins.gap >= std::max(limits.gap_aimed, limits.gap_required) - cut_tolerance;
    margins.overlap_aim_reached = margins.overlap >= limits.overlap_fraction_aimed * longer - cut_tolerance;
    return margins;
}

bool keeps_limits(const ShaftMargins& margins, const CutLimits& limits) {
    return margins.gap >= limits.gap_required - cut_tolerance &&
           margins.overlap >= margins.overlap_needed - cut_tolerance &&
           margins.overlap_in_work >= margins.overlap_in_work_needed - cut_tolerance;
}

CutPlan plan_cut(const TelescopingHalves& halves, const ShaftTravel& travel, const CutLimits& limits,
                 const Mark& mark) {
    CutPlan plan;
    CutTask task{halves, travel, limits};
    if (!input_is_valid(task, mark, plan)) {
        return plan;
    }
    task.limits.gap_aimed = std::max(limits.gap_aimed, limits.gap_required);
    plan.closed_at_most = travel.shortest - limits.gap_required;
    plan.extended_at_least = travel.longest;
    plan.least_cut = find_cuts_for_gap(task, limits.gap_required);
    plan.least_total = plan.least_cut.a + plan.least_cut.b;
    plan.to_aim = round_up(find_cuts_for_gap(task, task.limits.gap_aimed), mark);
    plan.to_aim_admissible = is_admissible(task, plan.to_aim);
    plan.uncut = find_margins(halves, travel, limits);
    plan.after = plan.uncut;
    if (!is_admissible(task, plan.least_cut)) {
        explain_no_cut(task, plan);
        return plan;
    }
    plan.admissible = find_admissible_set(halves, travel, task.limits, plan.least_cut);
    find_equal_cuts(task, plan);
    recommend_cut(task, mark, plan);
    plan.after = find_margins(cut_halves(halves, plan.recommended).halves, travel, limits);
    return plan;
}

bool is_answered(const CutPlan& plan) {
    switch (plan.answer) {
        case CutAnswer::no_cut_needed:
        case CutAnswer::cut_to_aim:
        case CutAnswer::cut_short_of_aim:
        case CutAnswer::cut_between_marks:
        case CutAnswer::no_cut_works:
            return true;
        default:
            return false;
    }
}

double find_plan_difference(const CutPlan& plan, const CutPlan& other) {
    enum class Told { cut, overlap, nothing };
    const auto tells = [](const CutPlan& p) {
        if (p.answer == CutAnswer::no_cut_works) return p.obstacle == CutObstacle::tubes_used_up ? Told::nothing : Told::overlap;
        return is_answered(p) && p.answer != CutAnswer::no_cut_needed ? Told::cut : Told::nothing;
    };
    const auto length = [&](const CutPlan& p) { return tells(p) == Told::cut ? std::max(p.recommended.a, p.recommended.b) : p.overlap_short_by; };
    return tells(plan) == tells(other) ? std::fabs(length(plan) - length(other)) : std::max(length(plan), length(other));
}

double find_plan_error(const CutPlan& plan, const TelescopingHalves& halves, const ShaftTravel& bounds, const ShaftTravel& attained,
                       const CutLimits& limits, const Mark& mark) {
    double error = 0.0;
    if (!is_answered(plan) || plan.answer == CutAnswer::no_cut_needed) return error;
    const auto compare = [&](const ShaftTravel& short_end, const ShaftTravel& long_end) {
        const ShaftTravel corner{short_end.shortest, long_end.longest, long_end.longest_in_work};
        error = std::max(error, find_plan_difference(plan, plan_cut(halves, corner, limits, mark)));
    };
    compare(attained, attained);
    compare(attained, bounds);
    compare(bounds, attained);
    return error;
}

double round_up_to_mark(double length, const Mark& mark) {
    return std::ceil((length - cut_tolerance) / mark.step) * mark.step + 0.0;  // + 0.0: no negative zero
}

double round_down_to_mark(double length, const Mark& mark) {
    return std::floor((length + cut_tolerance) / mark.step) * mark.step + 0.0;
}

}  // namespace hitchwright
