#include "geometry/terrain.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <Eigen/LU>

namespace hitchwright {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

/// Steps after which a pose counts as not found; most need five.
constexpr int most_steps = 600;

/// Level ground kept before and behind the ditch, m.
constexpr double run_up = 0.25;

Vector3d find_across(const Crossing& c) { return {std::sin(c.angle), -std::cos(c.angle), 0.0}; }

WheelCircle make_wheel(const Vector3d& centre, const Matrix3d& body, double radius) {
    return {centre, body.col(0), body.col(2), radius};
}

/// Turn about x with the right side up.
Matrix3d make_roll(double angle) { return make_rotation({0.0, angle, 0.0}); }

class TractorSolver {
public:
    TractorSolver(const TerrainRig& rig, const Crossing& crossing) : rig_(rig), crossing_(crossing), across_(find_across(crossing)) {}

    /// left rear, right rear, left front, right front
    std::array<WheelCircle, 4> wheels(const TerrainPose& p) const {
        const Matrix3d body = make_rotation(p.tractor);
        const Vector3d middle(p.place, 0.0, p.height);
        const Matrix3d front = body * make_roll(p.front_rock);
        const Vector3d pivot = middle + body * Vector3d(-rig_.wheelbase, 0.0, rig_.front_pivot_height - rig_.rear_radius);
        const double down = rig_.front_radius - rig_.front_pivot_height;
        const Vector3d side = rig_.rear_half_track * body.col(1), front_side = rig_.front_half_track * front.col(1);
        const Vector3d front_middle = pivot + down * front.col(2);
        return {make_wheel(middle - side, body, rig_.rear_radius), make_wheel(middle + side, body, rig_.rear_radius),
                make_wheel(front_middle - front_side, front, rig_.front_radius),
                make_wheel(front_middle + front_side, front, rig_.front_radius)};
    }

    using Vector = Eigen::Vector4d;

    Vector gaps(const TerrainPose& p) const {
        const std::array<WheelCircle, 4> w = wheels(p);
        Vector g;
        for (std::size_t i = 0; i < 4; ++i) g[static_cast<Eigen::Index>(i)] = find_wheel_gap(crossing_.profile, w[i], across_).gap;
        return g;
    }

    /// Height, pitch, roll, rock that would close the gaps if wheels only rose.
    Vector find_lift(const TerrainPose& p, const Vector& g) const {
        const double level = std::cos(p.tractor.pitch) * std::cos(p.tractor.roll);
        const double rise = -0.5 * (g[0] + g[1]), front_rise = -0.5 * (g[2] + g[3]);
        const double roll = 0.5 * (g[0] - g[1]) / (rig_.rear_half_track * level);
        return {rise, (rise - front_rise) / (rig_.wheelbase * std::cos(p.tractor.pitch)), roll,
                0.5 * (g[2] - g[3]) / (rig_.front_half_track * level) - roll};
    }

    static TerrainPose moved(TerrainPose p, const Vector& by) {
        p.height += by[0];
        p.tractor.pitch += by[1];
        p.tractor.roll += by[2];
        p.front_rock += by[3];
        return p;
    }

private:
    const TerrainRig& rig_;
    const Crossing& crossing_;
    Vector3d across_;
};

class ImplementSolver {
public:
    ImplementSolver(const TerrainRig& rig, const Crossing& crossing) : rig_(rig), crossing_(crossing), across_(find_across(crossing)) {}

    WheelCircle wheel(const TerrainPose& p, const ImplementAxle& a, double side) const {
        const Matrix3d body = make_rotation(p.implement);
        return make_wheel(p.pin + body * Vector3d(a.x, side * a.half_track, a.z), body, a.radius);
    }

    using Vector = Eigen::Vector2d;

    /// Of the wheels that carry: left, right.
    Vector gaps(const TerrainPose& p) const { return {find_carrier(p, -1.0).gap, find_carrier(p, 1.0).gap}; }

    /// Pitch and roll that would close the gaps if wheels only rose.
    Vector find_lift(const TerrainPose& p, const Vector& g) const {
        const ImplementAxle &left = *find_carrier(p, -1.0).axle, &right = *find_carrier(p, 1.0).axle;
        const double tip_left = -g[0] / left.x, tip_right = -g[1] / right.x;
        const double half = 0.5 * (left.half_track + right.half_track), level = std::cos(p.implement.pitch);
        const double apart = 0.25 * (tip_right - tip_left) * (left.x + right.x);
        return {0.5 * (tip_left + tip_right) / level, half > 0.0 ? apart / (half * level * std::cos(p.implement.roll)) : 0.0};
    }

    static TerrainPose moved(TerrainPose p, const Vector& by) {
        p.implement.pitch += by[0];
        p.implement.roll += by[1];
        return p;
    }

private:
    /// The wheel of a side that the least tip closes or the most opens: the one that carries.
    struct Carrier {
        const ImplementAxle* axle = nullptr;
        double gap = 0.0;
    };
    Carrier find_carrier(const TerrainPose& p, double side) const {
        Carrier least;
        for (const ImplementAxle& a : rig_.axles) {
            const double gap = find_wheel_gap(crossing_.profile, wheel(p, a, side), across_).gap;
            if (!least.axle || gap / a.x < least.gap / least.axle->x) least = {&a, gap};
        }
        return least;
    }

    const TerrainRig& rig_;
    const Crossing& crossing_;
    Vector3d across_;
};

double size_of(const auto& gaps) { return gaps.template lpNorm<Eigen::Infinity>(); }

/// Newton's step with the slopes of the gaps by differences; the lift alone where they have no inverse.
template <class Solver>
typename Solver::Vector find_newton_step(const Solver& solver, const TerrainPose& p, const typename Solver::Vector& g) {
    using Vector = typename Solver::Vector;
    constexpr int n = Vector::RowsAtCompileTime;
    constexpr double step = 1.0e-7;  // m and rad: far below the room between kinks, far above rounding
    Eigen::Matrix<double, n, n> slopes;
    for (int i = 0; i < n; ++i) {
        const Vector by = step * Vector::Unit(i);
        slopes.col(i) = (solver.gaps(Solver::moved(p, by)) - solver.gaps(Solver::moved(p, -by))) / (2.0 * step);
    }
    const Eigen::FullPivLU<Eigen::Matrix<double, n, n>> lu(slopes);
    if (!lu.isInvertible()) return solver.find_lift(p, g);
    const Vector by = lu.solve(-g);
    return by;
}

/// Takes `by`, halved until the greatest gap falls; false, and the pose as it was, when it does not.
template <class Solver>
bool take_step(const Solver& solver, TerrainPose& pose, typename Solver::Vector& g, typename Solver::Vector by) {
    for (int halved = 0; halved < 12; ++halved, by *= 0.5) {
        const TerrainPose next = Solver::moved(pose, by);
        const typename Solver::Vector left = solver.gaps(next);
        ++pose.steps;
        if (!(size_of(left) < size_of(g))) continue;
        const int steps = pose.steps;
        pose = next;
        pose.steps = steps;
        g = left;
        return true;
    }
    return false;
}

/// Lifts while that closes the gaps well, else Newton's steps; where neither helps (a kink) a part of the lift, come what may.
template <class Solver>
bool settle(const Solver& solver, TerrainPose& pose) {
    typename Solver::Vector g = solver.gaps(pose);
    while (size_of(g) > contact_tolerance && pose.steps < most_steps) {
        const double before = size_of(g);
        bool closer = take_step(solver, pose, g, solver.find_lift(pose, g));
        if (size_of(g) > 0.2 * before) closer = take_step(solver, pose, g, find_newton_step(solver, pose, g)) || closer;
        if (closer) continue;
        const int steps = pose.steps;
        pose = Solver::moved(pose, 0.3 * solver.find_lift(pose, g));
        pose.steps = steps + 1;
        g = solver.gaps(pose);
    }
    pose.worst_contact = size_of(g);
    return pose.worst_contact <= contact_tolerance;
}

void need(const Reading& r, const char* key, std::vector<std::string>& missing) {
    if (!r.known) missing.emplace_back(key);
}

}  // namespace

TerrainRigResult make_terrain_rig(const Setup& s, const DrawnModel& m) {
    TerrainRigResult r;
    const Tractor& t = s.tractor;
    need(t.tyre.rear_radius, "tractor.tyre.rear_radius", r.missing);
    need(t.tyre.rear_track, "tractor.tyre.rear_track", r.missing);
    need(t.tyre.front_radius, "tractor.tyre.front_radius", r.missing);
    need(t.front_axle.track, "tractor.tyre.front_track", r.missing);
    need(t.front_axle.pivot_height, "tractor.tyre.front_pivot_height", r.missing);
    need(t.mass.wheelbase, "tractor.mass.wheelbase", r.missing);
    TerrainRig& rig = r.rig;
    rig = {t.tyre.rear_radius.value,  0.5 * t.tyre.rear_track.value,  t.mass.wheelbase.value, t.tyre.front_radius.value,
           0.5 * t.front_axle.track.value, t.front_axle.pivot_height.value, {m.driveline.pin.x, m.driveline.pin.y, m.driveline.pin.z},
           {}, m.level_pitch};
    for (std::size_t i = 0; i < s.implement.ground_contacts.size(); ++i) {
        const GroundContact& g = s.implement.ground_contacts[i];
        if (!g.x.known || !g.z.known || g.x.value <= 0.0) continue;
        const std::string id = g.name.empty() ? std::to_string(i + 1) : g.name;
        need(g.half_track, ("implement.ground_contact[" + id + "].half_track").c_str(), r.missing);
        rig.axles.push_back({g.x.value, g.z.value, g.half_track.value, g.radius.value_or(0.0)});
    }
    if (rig.axles.empty()) r.missing.emplace_back("implement.ground_contact");
    return r;
}

TerrainPose solve_terrain_pose(const TerrainRig& rig, const Crossing& crossing, double place, const TerrainPose* start) {
    TerrainPose p;
    p.height = rig.rear_radius + find_ground_height(crossing.profile, place * std::sin(crossing.angle));
    p.implement.pitch = rig.level_pitch;
    if (start && start->stands) p = *start;
    p.stands = false;
    p.place = place;
    p.steps = 0;
    if (!settle(TractorSolver(rig, crossing), p)) return p;
    const double tractor_contact = p.worst_contact;
    p.steps = 0;
    const Vector3d from_axle = rig.pin - Vector3d(0.0, 0.0, rig.rear_radius);
    p.pin = Vector3d(p.place, 0.0, p.height) + make_rotation(p.tractor) * from_axle;
    p.stands = settle(ImplementSolver(rig, crossing), p);
    p.worst_contact = std::max(p.worst_contact, tractor_contact);
    p.relative = find_relative_attitude(p.tractor, p.implement);
    return p;
}

std::vector<StandingWheel> list_wheels(const TerrainRig& rig, const Crossing& crossing, const TerrainPose& pose) {
    static constexpr const char* names[] = {"left rear wheel", "right rear wheel", "left front wheel", "right front wheel"};
    std::vector<StandingWheel> all;
    const std::array<WheelCircle, 4> tractor = TractorSolver(rig, crossing).wheels(pose);
    for (std::size_t i = 0; i < 4; ++i) all.push_back({names[i], tractor[i], Vector3d::Zero(), 0.0});
    for (const ImplementAxle& a : rig.axles) {
        const ImplementSolver implement(rig, crossing);
        all.push_back({"left implement wheel", implement.wheel(pose, a, -1.0), Vector3d::Zero(), 0.0});
        all.push_back({"right implement wheel", implement.wheel(pose, a, 1.0), Vector3d::Zero(), 0.0});
    }
    for (StandingWheel& w : all) {
        const WheelGap g = find_wheel_gap(crossing.profile, w.circle, find_across(crossing));
        w.touches = g.at;
        w.gap = g.gap;
    }
    return all;
}

WayRange find_way(const TerrainRig& rig, const Crossing& c) {
    double low = 0.0, high = 0.0, side = std::max(rig.rear_half_track, rig.front_half_track), rear = 0.0;
    if (!c.profile.corners.empty()) {
        low = c.profile.corners.front().x();
        high = c.profile.corners.back().x();
    }
    double radius = std::max(rig.rear_radius, rig.front_radius);
    for (const ImplementAxle& a : rig.axles) {
        side = std::max(side, a.half_track);
        rear = std::max(rear, rig.pin.x() + a.x);
        radius = std::max(radius, a.radius);
    }
    const double skew = side * std::fabs(std::cos(c.angle)) / std::sin(c.angle), room = skew + radius + run_up;
    return {high / std::sin(c.angle) + room + rig.wheelbase, low / std::sin(c.angle) - room - rear};
}

Attitude find_relative_attitude(const Attitude& tractor, const Attitude& implement) {
    const Matrix3d r = make_rotation(tractor).transpose() * make_rotation(implement);
    return {std::asin(std::clamp(r(2, 0), -1.0, 1.0)), std::atan2(r(2, 1), r(2, 2)), std::atan2(r(1, 0), r(0, 0))};
}

}  // namespace hitchwright
