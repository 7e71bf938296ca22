#include "geometry/terrain_solver.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <Eigen/LU>

#include "geometry/sine_cosine.h"
#include "geometry/standing_tractor.h"

namespace hitchwright {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

/// Steps after which a pose counts as not found; most need five.
constexpr int most_steps = 600;

/// Level ground kept before and behind the ditch, m.
constexpr double run_up = 0.25;

Vector3d find_across(const Crossing& c) { return {std::sin(c.angle), -std::cos(c.angle), 0.0}; }

/// Columns of make_rotation with yaw 0, for the rolls of a body and of what rocks in it on the same axis.
struct Axes {
    Vector3d along, beside, up;
};
struct Pitched {
    double cosine, sine;

    explicit Pitched(double pitch) : Pitched(find_sine_cosine(pitch)) {}
    explicit Pitched(const SineCosine& pitch) : cosine(pitch.cosine), sine(pitch.sine) {}
    Axes roll(double roll) const {
        const auto [s, c] = find_sine_cosine(roll);
        return {{cosine, 0.0, sine}, {-sine * s, c, cosine * s}, {-sine * c, -s, cosine * c}};
    }
    /// How a gap with this contact changes by pitch and by roll: about the y axis, rear up, and about the body's own x axis.
    double slope_by_pitch(const WheelContact& w, const Vector3d& arm) const { return w.normal.z() * arm.x() - w.normal.x() * arm.z(); }
    double slope_by_roll(const WheelContact& w, const Vector3d& arm) const {
        return -w.normal.x() * sine * arm.y() + w.normal.y() * (sine * arm.x() - cosine * arm.z()) + w.normal.z() * cosine * arm.y();
    }
};

Attitude find_relative_attitude(const Axes& tractor, const Axes& implement) {
    return {std::asin(std::clamp(tractor.up.dot(implement.along), -1.0, 1.0)),
            std::atan2(tractor.up.dot(implement.beside), tractor.up.dot(implement.up)),
            std::atan2(tractor.beside.dot(implement.along), tractor.along.dot(implement.along))};
}

/// Gaps and their slopes by the unknowns, and how the body lies then.
template <int n>
struct Gaps {
    Axes body;
    Eigen::Matrix<double, n, 1> gap;
    Eigen::Matrix<double, n, n> slopes;

    double size() const { return gap.template lpNorm<Eigen::Infinity>(); }
};

class TractorSolver {
public:
    TractorSolver(const TerrainRig& rig, const WheelGround& ground) : rig_(rig), ground_(ground) {}

    static constexpr int unknowns = 4;  ///< height, pitch, roll, rock
    using Vector = Eigen::Vector4d;

    /// left rear, right rear, left front, right front
    std::array<WheelCircle, 4> wheels(const TerrainPose& p) const {
        const Pitched pitched(p.tractor.pitch);
        const Axes body = pitched.roll(p.tractor.roll);
        return wheels(p, pitched, body, find_pivot(p, body));
    }

    std::array<WheelCircle, 4> wheels(const TerrainPose& p, const Pitched& pitched, const Axes& body, const Vector3d& pivot) const {
        const Axes front = pitched.roll(p.tractor.roll + p.front_rock);
        const Vector3d middle(p.place, 0.0, p.height);
        const double down = rig_.front_radius - rig_.front_pivot_height;
        const Vector3d side = rig_.rear_half_track * body.beside, front_side = rig_.front_half_track * front.beside;
        const Vector3d front_middle = pivot + down * front.up;
        return {make_wheel(middle - side, body, rig_.rear_radius), make_wheel(middle + side, body, rig_.rear_radius),
                make_wheel(front_middle - front_side, front, rig_.front_radius),
                make_wheel(front_middle + front_side, front, rig_.front_radius)};
    }

    Gaps<4> gaps(const TerrainPose& p) const {
        const Pitched pitched(p.tractor.pitch);
        Gaps<4> g;
        g.body = pitched.roll(p.tractor.roll);
        const Vector3d middle(p.place, 0.0, p.height), pivot = find_pivot(p, g.body);
        const std::array<WheelCircle, 4> w = wheels(p, pitched, g.body, pivot);
        for (std::size_t i = 0; i < 4; ++i) {
            const WheelContact c = ground_.find(w[i]);
            const Vector3d at = w[i].centre + c.arm, arm = at - middle, on_pivot = at - pivot;
            const auto row = static_cast<Eigen::Index>(i);
            g.gap[row] = c.gap;
            g.slopes.row(row) << c.normal.z(), pitched.slope_by_pitch(c, arm), pitched.slope_by_roll(c, arm),
                i < 2 ? 0.0 : pitched.slope_by_roll(c, on_pivot);
        }
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
    static WheelCircle make_wheel(const Vector3d& centre, const Axes& body, double radius) { return {centre, body.along, body.up, radius}; }

    Vector3d find_pivot(const TerrainPose& p, const Axes& body) const {
        return Vector3d(p.place, 0.0, p.height) - rig_.wheelbase * body.along + (rig_.front_pivot_height - rig_.rear_radius) * body.up;
    }

    const TerrainRig& rig_;
    const WheelGround& ground_;
};

class ImplementSolver {
public:
    ImplementSolver(const TerrainRig& rig, const WheelGround& ground) : rig_(rig), ground_(ground) {}

    static constexpr int unknowns = 2;  ///< pitch, roll
    using Vector = Eigen::Vector2d;

    static WheelCircle wheel(const TerrainPose& p, const Axes& body, const ImplementAxle& a, double side) {
        return {p.pin + a.x * body.along + side * a.half_track * body.beside + a.z * body.up, body.along, body.up, a.radius};
    }

    /// Of the wheels that carry: left, right.
    Gaps<2> gaps(const TerrainPose& p) const {
        const Pitched pitched(p.implement.pitch);
        Gaps<2> g;
        g.body = pitched.roll(p.implement.roll);
        for (Eigen::Index i = 0; i < 2; ++i) {
            const Carrier c = find_carrier(p, g.body, i == 0 ? -1.0 : 1.0);
            g.gap[i] = c.contact.gap;
            g.slopes.row(i) << pitched.slope_by_pitch(c.contact, c.arm), pitched.slope_by_roll(c.contact, c.arm);
        }
        return g;
    }

    /// Pitch and roll that would close the gaps if wheels only rose.
    Vector find_lift(const TerrainPose& p, const Vector& g) const {
        const Axes body = Pitched(p.implement.pitch).roll(p.implement.roll);
        const ImplementAxle &left = *find_carrier(p, body, -1.0).axle, &right = *find_carrier(p, body, 1.0).axle;
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
        WheelContact contact;
        Vector3d arm = Vector3d::Zero();  ///< from the pin to the place of contact
    };
    Carrier find_carrier(const TerrainPose& p, const Axes& body, double side) const {
        Carrier least;
        for (const ImplementAxle& a : rig_.axles) {
            const WheelCircle w = wheel(p, body, a, side);
            const WheelContact c = ground_.find(w);
            if (!least.axle || c.gap / a.x < least.contact.gap / least.axle->x) least = {&a, c, w.centre + c.arm - p.pin};
        }
        return least;
    }

    const TerrainRig& rig_;
    const WheelGround& ground_;
};

/// Newton's step; the lift alone where the slopes have no inverse (a single wheel in the middle, a wheel off its corner).
template <class Solver>
typename Solver::Vector find_newton_step(const Solver& solver, const TerrainPose& p, const Gaps<Solver::unknowns>& g) {
    constexpr double least_determinant = 1.0e-6;  // of slopes of 1 and arms of a metre
    Eigen::Matrix<double, Solver::unknowns, Solver::unknowns> inverse;
    bool invertible = false;
    g.slopes.computeInverseWithCheck(inverse, invertible, least_determinant);
    if (!invertible) return solver.find_lift(p, g.gap);
    const typename Solver::Vector by = inverse * -g.gap;
    return by;
}

/// Takes `by`, halved until the greatest gap falls; false, and the pose as it was, when it does not.
template <class Solver>
bool take_step(const Solver& solver, TerrainPose& pose, Gaps<Solver::unknowns>& g, typename Solver::Vector by) {
    for (int halved = 0; halved < 12; ++halved, by *= 0.5) {
        const TerrainPose next = Solver::moved(pose, by);
        const Gaps<Solver::unknowns> left = solver.gaps(next);
        ++pose.steps;
        if (!(left.size() < g.size())) continue;
        const int steps = pose.steps;
        pose = next;
        pose.steps = steps;
        g = left;
        return true;
    }
    return false;
}

/// Whether the gaps are closed, and how the body lies at the end.
struct Settled {
    bool stands;
    Axes body;
};

/// Newton's steps; where one closes little (a kink) a lift as well, and where neither helps a part of the lift, come what may.
template <class Solver>
Settled settle(const Solver& solver, TerrainPose& pose) {
    Gaps<Solver::unknowns> g = solver.gaps(pose);
    while (g.size() > contact_tolerance && pose.steps < most_steps) {
        const double before = g.size();
        bool closer = take_step(solver, pose, g, find_newton_step(solver, pose, g));
        if (g.size() > 0.5 * before) closer = take_step(solver, pose, g, solver.find_lift(pose, g.gap)) || closer;
        if (closer) continue;
        const int steps = pose.steps;
        pose = Solver::moved(pose, 0.3 * solver.find_lift(pose, g.gap));
        pose.steps = steps + 1;
        g = solver.gaps(pose);
    }
    pose.worst_contact = g.size();
    return {pose.worst_contact <= contact_tolerance, g.body};
}

/// Wheels can touch the ground from a rig that lies on its side or back as well.
bool is_upright(const Attitude& a) {
    constexpr double on_its_side = 0.5 * std::numbers::pi;
    return std::fabs(a.pitch) < on_its_side && std::fabs(a.roll) < on_its_side;
}

void need(const Reading& r, const char* key, std::vector<std::string>& missing) {
    if (!r.known) missing.emplace_back(key);
}

}  // namespace

TerrainRigResult make_terrain_rig(const Setup& s, const DrawnModel& m) {
    TerrainRigResult r;
    const StandingSetup on(s);
    const Tractor& t = on->tractor;
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

TerrainSolver::TerrainSolver(const TerrainRig& rig, const Crossing& crossing)
    : rig_(rig), crossing_(crossing), ground_(crossing.profile, find_across(crossing)) {}

TerrainPose TerrainSolver::solve(double place, const TerrainPose* start) const {
    TerrainPose p;
    if (start && start->stands) {
        p = *start;
    } else {
        p.height = rig_.rear_radius + find_ground_height(crossing_.profile, place * std::sin(crossing_.angle));
        p.implement.pitch = rig_.level_pitch;
    }
    p.stands = false;
    p.place = place;
    p.steps = 0;
    const auto [tractor_stands, tractor] = settle(TractorSolver(rig_, ground_), p);
    if (!tractor_stands || !is_upright(p.tractor)) return p;
    const double tractor_contact = p.worst_contact;
    p.steps = 0;
    p.pin = Vector3d(p.place, 0.0, p.height) + rig_.pin.x() * tractor.along + rig_.pin.y() * tractor.beside +
            (rig_.pin.z() - rig_.rear_radius) * tractor.up;
    const auto [implement_stands, implement] = settle(ImplementSolver(rig_, ground_), p);
    p.stands = implement_stands && is_upright(p.implement);
    p.worst_contact = std::max(p.worst_contact, tractor_contact);
    p.relative = find_relative_attitude(tractor, implement);
    return p;
}

TerrainPose solve_terrain_pose(const TerrainRig& rig, const Crossing& crossing, double place, const TerrainPose* start) {
    return TerrainSolver(rig, crossing).solve(place, start);
}

std::vector<StandingWheel> list_wheels(const TerrainRig& rig, const Crossing& crossing, const TerrainPose& pose) {
    static constexpr const char* names[] = {"left rear wheel", "right rear wheel", "left front wheel", "right front wheel"};
    std::vector<StandingWheel> all;
    const WheelGround ground(crossing.profile, find_across(crossing));
    const std::array<WheelCircle, 4> tractor = TractorSolver(rig, ground).wheels(pose);
    for (std::size_t i = 0; i < 4; ++i) all.push_back({names[i], tractor[i], Vector3d::Zero(), 0.0});
    const Axes implement = Pitched(pose.implement.pitch).roll(pose.implement.roll);
    for (const ImplementAxle& a : rig.axles) {
        all.push_back({"left implement wheel", ImplementSolver::wheel(pose, implement, a, -1.0), Vector3d::Zero(), 0.0});
        all.push_back({"right implement wheel", ImplementSolver::wheel(pose, implement, a, 1.0), Vector3d::Zero(), 0.0});
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
    const Matrix3d t = make_rotation(tractor), i = make_rotation(implement);
    return find_relative_attitude(Axes{t.col(0), t.col(1), t.col(2)}, Axes{i.col(0), i.col(1), i.col(2)});
}

}  // namespace hitchwright
