#include "geometry/hole_ranking.h"

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

/// Differences smaller than these do not show: 0.1 deg, 1 mm, 1 % of lift, 0.1 point.
constexpr double shown_angle = 0.1 * pi / 180.0;
constexpr double shown_length = 0.001;
constexpr double shown_ratio = 0.01;
constexpr double shown_points = 0.1;

double find_step(HoleMeasure m) {
    switch (m) {
        case HoleMeasure::standing:
        case HoleMeasure::changes:
        case HoleMeasure::load_rises: return 1.0;
        case HoleMeasure::points: return shown_points;
        case HoleMeasure::joint_angle:
        case HoleMeasure::joint_angle_in_work:
        case HoleMeasure::pitch_change:
        case HoleMeasure::pitch_top: return shown_angle;
        case HoleMeasure::lift_ratio: return shown_ratio;
        case HoleMeasure::tail_height:
        case HoleMeasure::thread_left: return shown_length;
    }
    return 1.0;
}

double find_pitch_change(const HoleNumbers& n) { return std::fabs(n.pitch_top - n.pitch_working.value_or(n.pitch_low)); }

/// What the wish is about, or `standing` for the general one, which is about nothing in particular.
HoleMeasure find_wish_measure(HoleWish wish, bool has_tail) {
    switch (wish) {
        case HoleWish::general: break;
        case HoleWish::level_carry: return HoleMeasure::pitch_change;
        case HoleWish::tail_high: return has_tail ? HoleMeasure::tail_height : HoleMeasure::pitch_top;
        case HoleWish::most_lift: return HoleMeasure::lift_ratio;
        case HoleWish::shallow_joints: return HoleMeasure::joint_angle;
    }
    return HoleMeasure::standing;
}

/// "After a cut" is as good as "fits" when something is wished for.
HoleStanding merge_cut(HoleStanding s) { return s == HoleStanding::cut ? HoleStanding::fits : s; }

/// -1, 0, 1 as compare_hole_measure, with the standing seen as the wish sees it.
int compare(const HoleResult& a, const HoleResult& b, HoleMeasure measure, HoleWish wish) {
    if (measure != HoleMeasure::standing || wish == HoleWish::general) return compare_hole_measure(a, b, measure);
    const HoleStanding x = merge_cut(a.standing), y = merge_cut(b.standing);
    return x == y ? 0 : x < y ? -1 : 1;
}

/// The first measure that tells the two apart, and how.
struct Decision {
    int order = 0;
    HoleMeasure measure = HoleMeasure::standing;
};
Decision decide(const HoleResult& a, const HoleResult& b, const std::vector<HoleMeasure>& measures, HoleWish wish) {
    for (const HoleMeasure m : measures) {
        if (const int order = compare(a, b, m, wish); order != 0) return {order, m};
    }
    return {};
}

}  // namespace

double find_hole_points(const HoleNumbers& n) {
    if (!n.has_numbers) return 0.0;
    double points = to_degrees(find_pitch_change(n));
    if (n.shaft) points += to_degrees(n.shaft->travel_angle.bound);
    // A load that stops rising counts as one that is not lifted; one near a dead centre, where no ratio is known, as half.
    const double ratio = n.lift.load_stops() ? 0.0 : n.lift.worst().value_or(n.lift.known ? 0.5 : 1.0);
    return points + 50.0 * (1.0 - ratio);
}

std::optional<double> find_hole_measure(const HoleResult& r, HoleMeasure measure) {
    const HoleNumbers& n = r.numbers;
    switch (measure) {
        case HoleMeasure::standing: return static_cast<double>(r.standing);
        case HoleMeasure::changes: return r.changes;
        default: break;
    }
    if (!n.has_numbers) return std::nullopt;
    switch (measure) {
        case HoleMeasure::points: return find_hole_points(n);
        case HoleMeasure::load_rises: return n.lift.load_stops() ? 0.0 : 1.0;
        case HoleMeasure::pitch_change: return find_pitch_change(n);
        case HoleMeasure::pitch_top: return n.pitch_top;
        case HoleMeasure::joint_angle: return n.shaft ? std::optional(n.shaft->travel_angle.bound) : std::nullopt;
        case HoleMeasure::joint_angle_in_work: return n.shaft ? std::optional(n.shaft->work_angle.bound) : std::nullopt;
        case HoleMeasure::lift_ratio: return n.lift.load_stops() ? std::nullopt : n.lift.worst();
        case HoleMeasure::tail_height: return n.tail ? std::optional(n.tail->height) : std::nullopt;
        case HoleMeasure::thread_left:
            if (!n.reach) return std::nullopt;
            return std::min(n.reach->thread_left_to_shorten, n.reach->thread_left_to_lengthen);
        default: return std::nullopt;
    }
}

bool is_less_better(HoleMeasure m) {
    return m != HoleMeasure::load_rises && m != HoleMeasure::lift_ratio && m != HoleMeasure::tail_height && m != HoleMeasure::pitch_top &&
           m != HoleMeasure::thread_left;
}

int compare_hole_measure(const HoleResult& a, const HoleResult& b, HoleMeasure measure) {
    const std::optional<double> x = find_hole_measure(a, measure), y = find_hole_measure(b, measure);
    if (!x || !y) return x ? -1 : y ? 1 : 0;  // what is not known goes behind
    const double step = find_step(measure);
    const double p = std::round(*x / step), q = std::round(*y / step);
    if (p == q) return 0;
    return (p < q) == is_less_better(measure) ? -1 : 1;
}

std::vector<HoleMeasure> list_hole_measures(HoleWish wish, bool has_tail) {
    std::vector<HoleMeasure> list{HoleMeasure::standing};
    if (wish != HoleWish::general) list.push_back(find_wish_measure(wish, has_tail));
    if (wish == HoleWish::shallow_joints) list.push_back(HoleMeasure::joint_angle_in_work);
    list.insert(list.end(), {HoleMeasure::load_rises, HoleMeasure::changes, HoleMeasure::points, HoleMeasure::thread_left});
    return list;
}

void rank_holes(HoleStudy& study) {
    std::vector<HoleResult>& results = study.results;
    const auto any_has = [&](HoleMeasure m) {
        return std::any_of(results.begin(), results.end(), [m](const HoleResult& r) { return find_hole_measure(r, m).has_value(); });
    };
    const bool has_tail = any_has(HoleMeasure::tail_height);
    const bool possible = study.wish == HoleWish::general || any_has(find_wish_measure(study.wish, has_tail));
    study.judged_by = possible ? study.wish : HoleWish::general;
    const std::vector<HoleMeasure> measures = list_hole_measures(study.judged_by, has_tail);
    std::stable_sort(results.begin(), results.end(), [&](const HoleResult& a, const HoleResult& b) {
        const int order = decide(a, b, measures, study.judged_by).order;
        return order != 0 ? order < 0 : a.numbers.is_present && !b.numbers.is_present;
    });
    for (std::size_t i = 0; i < results.size(); ++i) {
        const bool tie = i > 0 && decide(results[i - 1], results[i], measures, study.judged_by).order == 0;
        results[i].place = tie ? results[i - 1].place : i + 1;
        results[i].decided_by = decide(results.front(), results[i], measures, study.judged_by).measure;
    }
}

}  // namespace hitchwright
