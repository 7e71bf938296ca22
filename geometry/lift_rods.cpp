// See lift_rods.h.
#include "geometry/lift_rods.h"

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/interval_trig.h"
#include "geometry/scalar_zero.h"

namespace hitchwright {
namespace {

constexpr double point_error = 1e-8;    ///< of the tilt's sine, where it is solved at one place
constexpr double probe = 1e-6;          ///< step of a first slope: of a sine, or m
constexpr double tilt_end = 3e-14;      ///< of the tilt's sine
constexpr double height_end = 1e-12;    ///< m
constexpr double most_tilt_sine = 0.7;  ///< steps stay within 45 deg
constexpr double length_error = 1e-10;  ///< m: what may be left of a rod's length
constexpr double arm_error = 1e-9;      ///< rad: of a wanted arm angle

bool finite(double a, double b) { return std::isfinite(a) && std::isfinite(b); }

/// The lower hitch points alone, without the implement on them: their middle and the axis through them.
struct HitchLine {
    Vec3<double> middle, along;
};
std::optional<HitchLine> find_hitch_line(const SpatialLinkage& k, const HitchPlace<double>& at) {
    const std::optional<HitchHeading> heading = solve_heading(k, at);
    if (!heading) return std::nullopt;
    return HitchLine{{k.side_view.lower_pivot.x() + heading->run, at.sway, at.height},
                     detail::make_pin_axis(heading->sine, at.tilt_sine).along};
}

std::optional<double> find_difference(const SpatialLinkage& k, const LiftRods& rods, const HitchPlace<double>& at) {
    const std::optional<HitchLine> line = find_hitch_line(k, at);
    if (!line) return std::nullopt;
    const double f = find_arm_difference(k, rods, line->middle, line->along);
    return std::isfinite(f) ? std::optional<double>(f) : std::nullopt;
}

/// Arm end of one side for an arm direction (unit length not needed: it is the arm's own length).
Vec3<double> place_arm_end(const LiftRods& rods, const Vec2<double>& arm, TractorSide side) {
    return {rods.arm_pivot.x() + arm.x, find_side_sign(side) * rods.arm_half_spread, rods.arm_pivot.y() + arm.z};
}

double distance(const Vec3<double>& a, const Vec3<double>& b) { return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z); }

/// Arms, feet and whether both rods have their lengths.
RodPose measure(const SpatialLinkage& k, const LiftRods& rods, const SpatialSolution& hitch) {
    RodPose r;
    r.hitch = hitch;
    r.left_foot = find_rod_foot(k, rods, hitch.left_ball, TractorSide::left);
    r.right_foot = find_rod_foot(k, rods, hitch.right_ball, TractorSide::right);
    const Vec2<double> arm = find_arm(rods, r.right_foot, rods.right_length, TractorSide::right);
    r.arm_angle = std::atan2(arm.z, arm.x);
    r.left_arm_end = place_arm_end(rods, arm, TractorSide::left);
    r.right_arm_end = place_arm_end(rods, arm, TractorSide::right);
    r.closes = std::fabs(distance(r.left_foot, r.left_arm_end) - rods.left_length) <= length_error &&
               std::fabs(distance(r.right_foot, r.right_arm_end) - rods.right_length) <= length_error &&
               std::fabs(std::hypot(arm.x, arm.z) - rods.arm_length) <= length_error;
    return r;
}

/// The arm's turn per variable of the box, from the rod's closure: with V = E - Q, da = V.dQ / (V.perp(arm)).
std::array<Interval, 3> find_arm_slopes(const LiftRods& rods, const Vec3<SpatialJet>& foot, const Vec2<Interval>& arm, TractorSide side) {
    const Interval x = arm.x + Interval(rods.arm_pivot.x()) - foot.x.v, z = arm.z + Interval(rods.arm_pivot.y()) - foot.z.v,
                   y = Interval(find_side_sign(side) * rods.arm_half_spread) - foot.y.v;
    const Interval lever = z * arm.x - x * arm.z;
    std::array<Interval, 3> slopes;
    for (std::size_t i = 0; i < 3; ++i) slopes[i] = (x * foot.x.d[i] + y * foot.y.d[i] + z * foot.z.d[i]) / lever;
    return slopes;
}

/// find_arm over a box of feet: the arm of the box's middle turned by d, the zero of |E - Q|^2 - rod^2. The formula of find_arm
/// itself, carried through intervals, forgets that its parts come from one foot.
Vec2<Interval> enclose_arm_values(const LiftRods& rods, const Vec3<SpatialJet>& foot, const Vec2<Interval>& middle, double rod,
                                  TractorSide side) {
    const Vec3<Interval> q{foot.x.v - Interval(rods.arm_pivot.x()), foot.y.v - Interval(find_side_sign(side) * rods.arm_half_spread),
                           foot.z.v - Interval(rods.arm_pivot.y())};
    const Vec2<Interval> start{Interval(middle.x.middle()), Interval(middle.z.middle())};
    const auto turned = [&](const Interval& d) {
        const Interval c = cos(d), s = sin(d);
        return Vec2<Interval>{c * start.x - s * start.z, s * start.x + c * start.z};
    };
    const auto value = [&] { return square(start.x - q.x) + square(q.y) + square(start.z - q.z) - square(Interval(rod)); };
    const auto slope = [&](const Interval& d) {
        const Vec2<Interval> a = turned(d);
        return Interval(2.0) * (q.x * a.z - q.z * a.x);  // 2 (a - q).perp(a)
    };
    const RootEnclosure root = enclose_root(0.0, value, slope);
    return root.proven ? turned(root.root) : find_arm<Interval>(rods, {foot.x.v, foot.y.v, foot.z.v}, rod, side);
}

/// find_arm over a box, narrowed about the arm in its middle: as in jet_pose.h, the closed loop gives the slopes.
Vec2<SpatialJet> enclose_arm(const LiftRods& rods, const Vec3<SpatialJet>& foot, const Vec3<Interval>& foot_middle, double rod,
                             TractorSide side, const SpatialBox& box) {
    const Vec2<Interval> middle = find_arm<Interval>(rods, foot_middle, rod, side);
    Vec2<Interval> arm = enclose_arm_values(rods, foot, middle, rod, side);
    const Interval reach(-outward::above(rods.arm_length), outward::above(rods.arm_length));
    arm = {detail::narrow(arm.x, reach), detail::narrow(arm.z, reach)};
    std::array<Interval, 3> slopes = find_arm_slopes(rods, foot, arm, side);
    for (int pass = 0; pass < 2; ++pass) {
        Interval turn(0.0);
        for (std::size_t i = 0; i < 3; ++i) turn = turn + detail::step(slopes[i], box[i]);
        const Vec2<Interval> before = arm;
        arm.x = detail::narrow(arm.x, middle.x - before.z * turn);
        arm.z = detail::narrow(arm.z, middle.z + before.x * turn);
        slopes = find_arm_slopes(rods, foot, arm, side);
    }
    Vec2<SpatialJet> r{SpatialJet(arm.x), SpatialJet(arm.z)};
    for (std::size_t i = 0; i < 3; ++i) {
        r.x.d[i] = -(arm.z * slopes[i]);
        r.z.d[i] = arm.x * slopes[i];
    }
    return r;
}

/// Both feet, and F over a box.
template <class T>
struct Feet {
    Vec3<T> left, right;
};
template <class T>
Feet<T> find_feet(const SpatialLinkage& k, const LiftRods& rods, const HitchEnclosure<T>& h) {
    return {find_rod_foot(k, rods, find_ball(k, h.hitch, h.axis.along, TractorSide::left), TractorSide::left),
            find_rod_foot(k, rods, find_ball(k, h.hitch, h.axis.along, TractorSide::right), TractorSide::right)};
}

SpatialJet enclose_difference(const SpatialLinkage& k, const LiftRods& rods, const SpatialBox& box) {
    const HitchEnclosure<Interval> m = enclose_hitch_point(k, detail::find_middle(box));
    const Feet<Interval> middle = find_feet(k, rods, m);
    Feet<SpatialJet> feet = find_feet(k, rods, enclose_hitch(k, box));
    narrow_by_mean(feet.left, middle.left, box);
    narrow_by_mean(feet.right, middle.right, box);
    const Vec2<SpatialJet> a = enclose_arm(rods, feet.left, middle.left, rods.left_length, TractorSide::left, box);
    const Vec2<SpatialJet> b = enclose_arm(rods, feet.right, middle.right, rods.right_length, TractorSide::right, box);
    SpatialJet f = (1.0 / (rods.arm_length * rods.arm_length)) * cross(a, b);
    narrow_by_mean(f, find_arm_difference(k, rods, m.hitch, m.axis.along), box);
    return f;
}

RodPose solve_on_rods_near(const SpatialLinkage& k, const LiftRods& rods, double height, double sway, double near_tilt) {
    if (!finite(height, sway)) return {};
    const auto f = [&](double tilt) { return find_difference(k, rods, {height, sway, tilt}); };
    const std::optional<double> tilt = find_scalar_zero(f, {near_tilt, probe, tilt_end, -most_tilt_sine, most_tilt_sine});
    if (!tilt) return {};
    return measure(k, rods, solve_spatial_pose(k, {height, sway, *tilt}));
}

/// How far both rods are too long, squared, for an arm angle.
class RodsLeft {
public:
    RodsLeft(const SpatialLinkage& k, const LiftRods& rods, double arm_angle) : k_(k), rods_(rods) {
        const Vec2<double> arm{rods.arm_length * std::cos(arm_angle), rods.arm_length * std::sin(arm_angle)};
        left_end_ = place_arm_end(rods, arm, TractorSide::left);
        right_end_ = place_arm_end(rods, arm, TractorSide::right);
    }
    struct Left {
        double left, right;
    };
    std::optional<Left> operator()(const HitchPlace<double>& at) const {
        const std::optional<HitchLine> line = find_hitch_line(k_, at);
        if (!line) return std::nullopt;
        return Left{find(*line, TractorSide::left, left_end_, rods_.left_length), find(*line, TractorSide::right, right_end_, rods_.right_length)};
    }

private:
    double find(const HitchLine& line, TractorSide side, const Vec3<double>& end, double rod) const {
        const Vec3<double> foot = find_rod_foot(k_, rods_, find_ball(k_, line.middle, line.along, side), side);
        return square(end.x - foot.x) + square(end.y - foot.y) + square(end.z - foot.z) - rod * rod;
    }

    const SpatialLinkage& k_;
    const LiftRods& rods_;
    Vec3<double> left_end_{0, 0, 0}, right_end_{0, 0, 0};
};

/// True when the left rod, too, asks for this arm by the branch that is meant.
bool is_meant(const LiftRods& rods, const RodPose& p) {
    const Vec2<double> arm = find_arm(rods, p.left_foot, rods.left_length, TractorSide::left);
    return std::fabs(wrap_angle(std::atan2(arm.z, arm.x) - p.arm_angle)) <= arm_error;
}

/// Height and tilt together, by Newton's steps with slopes by differences; does not close where they lead elsewhere.
RodPose solve_both_rods(const SpatialLinkage& k, const LiftRods& rods, double arm_angle, double sway, double near_height) {
    constexpr int steps = 12;
    const RodsLeft left(k, rods, arm_angle);
    HitchPlace<double> at{near_height, sway, 0.0};
    for (int i = 0; i < steps; ++i) {
        const auto here = left(at), higher = left({at.height + probe, sway, at.tilt_sine}), tilted = left({at.height, sway, at.tilt_sine + probe});
        if (!here || !higher || !tilted) return {};
        const double a = higher->left - here->left, b = tilted->left - here->left, c = higher->right - here->right, d = tilted->right - here->right;
        const double height = probe * (here->left * d - here->right * b) / (a * d - b * c), tilt = probe * (a * here->right - c * here->left) / (a * d - b * c);
        if (!finite(height, tilt)) return {};
        at.height -= height;
        at.tilt_sine = std::clamp(at.tilt_sine - tilt, -most_tilt_sine, most_tilt_sine);
        if (std::fabs(height) > height_end || std::fabs(tilt) > height_end) continue;
        const RodPose found = measure(k, rods, solve_spatial_pose(k, at));
        const bool holds = found.closes && std::fabs(wrap_angle(found.arm_angle - arm_angle)) <= arm_error && is_meant(rods, found);
        return holds ? found : RodPose{};
    }
    return {};
}

}  // namespace

RodPose solve_on_rods(const SpatialLinkage& k, const LiftRods& rods, double height, double sway) {
    return solve_on_rods_near(k, rods, height, sway, 0.0);
}

RodPose solve_at_arm(const SpatialLinkage& k, const LiftRods& rods, double arm_angle, double sway, double near_height) {
    if (!finite(arm_angle, near_height)) return {};
    if (const RodPose found = solve_both_rods(k, rods, arm_angle, sway, near_height); found.closes) return found;
    // Where that leads nowhere: the tilt for every height tried.
    double tilt = 0.0;  // at the height looked at last
    const auto solve = [&](double height) {
        const RodPose p = solve_on_rods_near(k, rods, height, sway, tilt);
        return p.closes ? p : solve_on_rods_near(k, rods, height, sway, 0.0);  // where the last tilt leads nowhere
    };
    const auto f = [&](double height) -> std::optional<double> {
        const RodPose p = solve(height);
        if (!p.closes) return std::nullopt;
        tilt = p.hitch.at.tilt_sine;
        return wrap_angle(p.arm_angle - arm_angle);
    };
    const double pivot = k.side_view.lower_pivot.y();
    const std::optional<double> height = find_scalar_zero(f, {near_height, probe, height_end, pivot - k.lower_length, pivot + k.lower_length});
    if (!height) return {};
    const RodPose found = solve(*height);
    // A search that is stopped at an end of the links' reach leaves the arms elsewhere.
    return found.closes && std::fabs(wrap_angle(found.arm_angle - arm_angle)) <= arm_error ? found : RodPose{};
}

std::optional<double> find_rod_length(const SpatialLinkage& k, const LiftRods& rods, const HitchPlace<double>& at, double arm_angle,
                                      TractorSide side) {
    const SpatialSolution s = solve_spatial_pose(k, at);
    if (!s.reached) return std::nullopt;
    const Vec3<double> foot = find_rod_foot(k, rods, side == TractorSide::right ? s.right_ball : s.left_ball, side);
    const Vec2<double> arm{rods.arm_length * std::cos(arm_angle), rods.arm_length * std::sin(arm_angle)};
    return distance(foot, place_arm_end(rods, arm, side));
}

std::optional<double> find_arm_angle(const SpatialLinkage& k, const LiftRods& rods, const HitchPlace<double>& at, TractorSide side) {
    const SpatialSolution s = solve_spatial_pose(k, at);
    if (!s.reached) return std::nullopt;
    const bool right = side == TractorSide::right;
    const double rod = right ? rods.right_length : rods.left_length;
    const Vec3<double> foot = find_rod_foot(k, rods, right ? s.right_ball : s.left_ball, side);
    const Vec2<double> arm = find_arm(rods, foot, rod, side);
    if (std::fabs(distance(foot, place_arm_end(rods, arm, side)) - rod) > length_error) return std::nullopt;
    return std::atan2(arm.z, arm.x);
}

SpatialJet enclose_rod_tilt(const SpatialLinkage& k, const LiftRods& rods, const SpatialBox& box) {
    SpatialJet unknown(Interval(-1.0, 1.0));
    unknown.d.fill(whole_line());
    const RodPose middle = solve_on_rods(k, rods, box[0].middle(), box[1].middle());
    if (!middle.closes) return unknown;
    const double centre = middle.hitch.at.tilt_sine;
    // A place alone: the rods were kept to 1e-10 m there, which is less of a tilt than this.
    if (box[0].lo == box[0].hi && box[1].lo == box[1].hi) return SpatialJet(Interval(centre - point_error, centre + point_error));
    const auto difference = [&](const Interval& tilt) {
        return enclose_difference(k, rods, {box[0], box[1], tilt, Interval(box[3].middle())});
    };
    const JetRoot<SpatialJet> tilt = enclose_jet_root(centre, 2, difference);
    return tilt.proven ? tilt.root : unknown;
}

}  // namespace hitchwright
