// See standing_tractor.h.
#include "geometry/standing_tractor.h"

#include <algorithm>
#include <cmath>

#include "geometry/driveline_geometry.h"
#include "geometry/lower_link.h"
#include "geometry/tractor_lift.h"

namespace hitchwright {
namespace {

class Mover {
public:
    Mover(const Tractor& tractor, const TyreChange& change, const Tractor& resolved) : t_(tractor), c_(change) {
        const LowerLinkReadings& l = resolved.lower_link;
        if (!l.pivot_x.known || !l.pivot_z.known || !l.length.known || !l.half_spread_at_ball.known || !l.half_spread_at_pivot.known) return;
        const ProjectedLength p = project_length(LinkagePart::lower_link, l.length.value, l.half_spread_at_ball.value - l.half_spread_at_pivot.value);
        if (!p.closure.closes()) return;
        pivot_ = Point(l.pivot_x.value, l.pivot_z.value);
        link_ = p.length;
    }

    Tractor run() {
        Tractor m = t_;
        point(m.lower_link.pivot_x, m.lower_link.pivot_z);
        for (NamedPoint& p : m.upper_link_pins) point(p.x, p.z);
        for (NamedPoint& p : m.cab_line) point(p.x, p.z);
        lift(m);
        pto(m.pto);
        point(m.drawbar.end_x, m.drawbar.end_z);
        drawbar(m);
        front(m);
        tyres(m);
        return m;
    }

private:
    double error_up(const Point& read) const { return find_tyre_error(t_, c_, read).place.y(); }
    double error_turn() const { return find_tyre_error(t_, c_, Point::Zero()).turn; }

    /// A place read in frame T. With one of the two readings alone nothing can be computed; the other keeps its sense.
    void point(Reading& x, Reading& z) const {
        if (!x.known || !z.known) {
            if (z.known) z.value += c_.rise();
            return;
        }
        const Point read(x.value, z.value), now = c_.place(read);
        const Point error = find_tyre_error(t_, c_, read).place;
        const double c = std::cos(c_.turn), s = std::sin(c_.turn), tx = x.tolerance, tz = z.tolerance;
        x.value = now.x();
        z.value = now.y();
        x.tolerance = std::hypot(std::hypot(c * tx, s * tz), error.x());
        z.tolerance = std::hypot(std::hypot(s * tx, c * tz), error.y());
    }

    void angle(Reading& a) const {
        if (!a.known) return;
        a.value += c_.turn;
        a.tolerance = std::hypot(a.tolerance, error_turn());
    }

    /// Where the ball is at a height read on the own tyres, and how much faster it now rises with the same link.
    struct Ball {
        double height = 0.0, rate = 1.0, error = 0.0;
    };
    Ball ball_at(double height) const {
        const LowerLinkPose pose = solve_lower_link(pivot_, link_, height);
        const double upright = std::cos(pose.angle);
        if (link_ <= 0.0 || !pose.closure.closes() || upright <= 0.0) return {height + c_.rise(), 1.0, error_up(Point(0.0, height))};
        return {c_.place(pose.ball).y(), std::cos(pose.angle + c_.turn) / upright, error_up(pose.ball)};
    }

    void height(Reading& h) const {
        if (!h.known) return;
        const Ball b = ball_at(h.value);
        h.value = b.height;
        h.tolerance = std::hypot(h.tolerance * b.rate, b.error);
    }

    void lift(Tractor& m) const {
        point(m.lift_arm.pivot_x, m.lift_arm.pivot_z);
        angle(m.lift_arm.angle_low);
        angle(m.lift_arm.angle_high);
        point(m.check_chain.anchor_x, m.check_chain.anchor_z);
        point(m.lift_cylinder.base_x, m.lift_cylinder.base_z);
        height(m.travel.ball_height_low);
        height(m.travel.ball_height_high);
        for (BallReading& b : m.ball_readings) {
            point(b.x, b.z);
            angle(b.arm_angle);
        }
        for (LiftPoint& p : m.lift_points) {
            if (!p.ball_height.known) continue;
            const double rate = ball_at(p.ball_height.value).rate;
            height(p.ball_height);
            if (rate <= 0.0) continue;
            p.force.value /= rate;
            p.force.tolerance /= rate;
        }
    }

    static Eigen::Vector3d find_axis(const PtoReadings& p) { return make_shaft_axis(p.stub_slope.value_or(0.0), p.stub_plan_angle.value_or(0.0)); }

    void pto(PtoReadings& p) const {
        if (c_.turn != 0.0 && p.stub_x.known) {
            const Eigen::Vector3d axis = find_axis(p);
            const Point side = rotate(Point(axis.x(), axis.z()), c_.turn);
            if (!p.stub_slope.known) p.stub_slope = make_reading(0.0, Origin::computed);
            p.stub_slope.value = std::asin(std::clamp(side.y(), -1.0, 1.0));
            p.stub_slope.tolerance = std::hypot(p.stub_slope.tolerance, error_turn());
            if (p.stub_plan_angle.known) p.stub_plan_angle.value = std::atan2(axis.y(), side.x());
        }
        point(p.stub_x, p.stub_z);
    }

    /// End of the stub, of its adapter if it has one, from which the pins' lengths count.
    static Point find_pto_end(const Tractor& t) {
        const Eigen::Vector3d axis = t.drawbar.adapter_length.value_or(0.0) * find_axis(t.pto);
        return {t.pto.stub_x.value + axis.x(), t.pto.stub_z.value + axis.z()};
    }

    /// The middle of the hitch joint goes with the tractor; length and top of a position are read plumb and level to it.
    void drawbar(Tractor& m) const {
        const DrawbarReadings& d = t_.drawbar;
        if (c_.turn == 0.0 || !t_.pto.stub_x.known || !t_.pto.stub_z.known) {
            shift(m.drawbar.top_height);
            for (DrawbarPin& p : m.drawbar_pins) shift(p.top_height);
            return;
        }
        const Point end = find_pto_end(t_), end_now = find_pto_end(m);
        const double above = d.articulation_above_top.value_or(0.0);
        for (DrawbarPin& p : m.drawbar_pins) {
            Reading top = p.top_height.known ? p.top_height : d.top_height;
            if (!top.known && d.drop.known) {
                top = make_reading(t_.pto.stub_z.value - d.drop.value, d.drop.origin, std::hypot(d.drop.tolerance, t_.pto.stub_z.tolerance));
            }
            if (!p.length.known || !top.known) continue;
            const Point joint(end.x() + p.length.value, top.value + above), now = c_.place(joint);
            p.length.value = now.x() - end_now.x();
            p.length.tolerance = std::hypot(p.length.tolerance, (joint.y() - end.y()) * error_turn());
            p.top_height = make_reading(now.y() - above, top.origin, std::hypot(top.tolerance, error_up(joint)));
        }
        shift(m.drawbar.top_height);
    }

    void shift(Reading& z) const {
        if (!z.known) return;
        z.value += c_.rise();
        z.tolerance = std::hypot(z.tolerance, error_up(Point(0.0, z.value)));
    }

    void front(Tractor& m) const {
        Reading at = make_reading(-t_.mass.wheelbase.value_or(0.0));
        point(at, m.front_axle.pivot_height);
        if (m.mass.wheelbase.known) m.mass.wheelbase.value *= c_.wheelbase_share;
    }

    void tyres(Tractor& m) const {
        const auto set = std::find_if(t_.tyre_sets.begin(), t_.tyre_sets.end(), [&](const TyreSet& s) { return s.name == c_.name; });
        if (set == t_.tyre_sets.end()) return;
        m.tyre.rear_radius = set->rear_radius;
        if (set->rear_width.known) m.tyre.rear_width = set->rear_width;
        if (set->rear_track.known) m.tyre.rear_track = set->rear_track;
        if (set->front_radius.known) m.tyre.front_radius = set->front_radius;
        m.tyre.front_load_most = m.tyre.rear_load_most = Reading{};
    }

    const Tractor& t_;
    const TyreChange& c_;
    Point pivot_ = Point::Zero();
    double link_ = 0.0;  ///< c', 0: not known
};

/// The tractor with the front pin of its lower link where ball readings put it, on its own tyres.
Tractor resolve_pins(const Setup& setup) {
    if (setup.tractor.ball_readings.empty()) return setup.tractor;
    Setup own = setup;
    own.choices.tyre_set.clear();
    return resolve_tractor(own, find_rod_holes(own)).as_taped;
}

}  // namespace

Tractor move_tractor(const Tractor& tractor, const TyreChange& change, const Tractor& resolved) {
    return change.moved() ? Mover(tractor, change, resolved).run() : tractor;
}

Setup stand_on_tyres(const Setup& setup) {
    const TyreChange change = find_tyre_change(setup);
    if (!change.moved()) return setup;
    Setup s = setup;
    s.tractor = move_tractor(setup.tractor, change, resolve_pins(setup));
    s.choices.tyre_set.clear();
    return s;
}

StandingSetup::StandingSetup(const Setup& setup) : setup_(setup) {
    if (find_tyre_change(setup).moved()) moved_ = stand_on_tyres(setup);
}

}  // namespace hitchwright
