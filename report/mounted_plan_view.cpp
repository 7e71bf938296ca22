// See mounted_plan_view.h.
#include "report/mounted_plan_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/pose_report.h"
#include "geometry/standing_tractor.h"
#include "geometry/turn_limits.h"

namespace hitchwright {
namespace {

constexpr double link_width = 0.06, upper_width = 0.042, shaft_width = 0.05, axis_shown = 0.12, sketch_half = 0.22;  // m

void add_tyres(const Setup& s, MountedPlan& plan) {
    const StandingSetup on(s);
    const TyreReadings& t = on->tractor.tyre;
    if (!t.rear_radius.known || !t.rear_width.known || !t.rear_track.known)
        plan.not_known.push_back("The rear tyres: radius, width and track are not all known.");
    const PlanShape tyres = make_tyre_shapes(s);
    for (std::size_t i = 0; i < tyres.rectangles.size(); ++i) {
        const PlanRectangle& r = tyres.rectangles[i];
        add_shape(plan.drawing, Role::tyre, make_strip({r.front.x(), r.front.y()}, {r.rear.x(), r.rear.y()}, 0.0, (r.rear - r.front).norm(), r.width), tyres.names[i]);
    }
}

void add_linkage(const Setup& s, const MountedModel& m, const PlanarPose& pose, MountedPlan& plan, UnitSystem units) {
    const LowerLinkReadings& l = s.tractor.lower_link;
    Drawing& d = plan.drawing;
    if (l.half_spread_at_pivot.known && l.half_spread_at_ball.known) {
        for (const double side : {-1.0, 1.0}) {
            const DrawingPoint front{m.linkage.lower_pivot.x(), side * l.half_spread_at_pivot.value}, ball{pose.ball.x(), side * l.half_spread_at_ball.value};
            add_shape(d, Role::lower_link, make_bar(front, ball, link_width), side > 0.0 ? "lower link, right" : "lower link, left");
            add_shape(d, Role::pin, Marker{front, MarkerForm::circle, 1.9}, "front pin of the lower link");
            add_shape(d, Role::pin_chosen, Marker{ball, MarkerForm::circle, 2.5}, "ball end of the lower link");
        }
        d.dimensions.push_back({{pose.ball.x(), -l.half_spread_at_ball.value}, {pose.ball.x(), l.half_spread_at_ball.value}, DimensionDirection::vertical,
                                "balls " + format_length(2.0 * l.half_spread_at_ball.value, units), 2});
    } else {
        plan.not_known.push_back("The lower links: half the spread at the front pins and at the balls is not known.");
    }
    add_shape(d, Role::upper_link, make_bar({m.linkage.upper_pin.x(), 0.0}, {pose.mast_pin.x(), 0.0}, upper_width), "upper link");
}

void add_shaft(const Setup& s, const MountedModel& m, const PoseReport& report, MountedPlan& plan, UnitSystem units) {
    if (!m.has_shaft) {
        plan.not_known.push_back(s.implement.pic.fitted ? "The shaft: a reading is missing, the findings name it." : "The implement has no PTO input.");
        return;
    }
    if (!s.tractor.pto.stub_y.known) plan.not_known.push_back("The PTO stub sideways: taken in the tractor's middle.");
    if (!s.implement.pic.y.known) plan.not_known.push_back("The input shaft sideways: taken in the implement's middle.");
    const ShaftState<double> state = find_shaft_state(m.ends, solve_kernel<double>(m.linkage, report.pose.ball_height, report.upper_length));
    const DrawingPoint from{state.from.x, state.from.y}, to{state.to.x, state.to.y};
    Drawing& d = plan.drawing;
    add_shape(d, Role::pto_stub, Polyline{{{from.x - axis_shown * state.stub_axis.x, from.z - axis_shown * state.stub_axis.y}, from}}, "PTO stub");
    add_shape(d, Role::input_shaft, Polyline{{to, {to.x + axis_shown * state.input_axis.x, to.z + axis_shown * state.input_axis.y}}}, "input shaft");
    const Reading& guard = s.driveline.guard_radius;
    add_shape(d, Role::shaft_tractor_half, make_bar(from, to, shaft_width), "shaft");
    if (guard.known) add_shape(d, Role::guard, make_strip(from, to, 0.0, std::hypot(to.x - from.x, to.z - from.z), 2.0 * guard.value), "guard");
    for (const DrawingPoint p : {from, to}) add_shape(d, Role::joint, Marker{p, MarkerForm::cross, 2.4}, "joint");
    d.labels.push_back({point_between(from, to, 0.5), "joint to joint " + format_length(report.shaft_length, units), 2, true});
    const double aside = to.z - from.z;
    if (format_length(std::fabs(aside), units) == format_length(0.0, units)) return;
    d.dimensions.push_back({from, to, DimensionDirection::vertical, "offset " + format_length(std::fabs(aside), units), 2});
}

void add_implement(const Setup& s, const MountedModel& m, const PlanarPose& pose, MountedPlan& plan, UnitSystem units) {
    struct Station {
        double x = 0.0, half = 0.0;
    };
    std::vector<Station> stations;
    std::string without;
    for (const ImplementPoint& p : s.implement.points) {
        if (!p.x.known || !p.z.known) continue;
        if (!p.half_width.known) {
            without += (without.empty() ? "" : ", ") + p.name;
            continue;
        }
        stations.push_back({place_point(pose, find_body_point(m, p.x, p.z)).x(), p.half_width.value});
    }
    if (!without.empty()) plan.not_known.push_back("The implement's width at: " + without + ".");
    if (stations.empty()) {
        plan.not_known.push_back("The implement's outline: no point has a half-width.");
        return;
    }
    std::sort(stations.begin(), stations.end(), [](const Station& a, const Station& b) { return a.x < b.x; });
    Drawing& d = plan.drawing;
    Polygon outline;
    for (const Station& t : stations) outline.points.push_back({t.x, t.half});
    for (auto t = stations.rbegin(); t != stations.rend(); ++t) outline.points.push_back({t->x, -t->half});
    add_shape(d, Role::implement_outline, outline, "implement");
    const Station widest = *std::max_element(stations.begin(), stations.end(), [](const Station& a, const Station& b) { return a.half < b.half; });
    d.dimensions.push_back({{widest.x, -widest.half}, {widest.x, widest.half}, DimensionDirection::vertical, "width " + format_length(2.0 * widest.half, units), 1});
}

}  // namespace

MountedPlan draw_mounted_plan(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units) {
    MountedPlan plan;
    if (!analysis.linkage) return plan;
    const MountedModel& m = analysis.linkage->model;
    const PoseReport report = make_pose_report(setup, m, std::clamp(ball_height, m.travel.low, m.travel.high));
    if (!report.pose.closes) return plan;
    const double front = -StandingSetup(setup)->tractor.mass.wheelbase.value_or(1.0);
    add_shape(plan.drawing, Role::tractor_outline, Polygon{{{front, -sketch_half}, {front, sketch_half}, {0.3, sketch_half}, {0.3, -sketch_half}}}, "tractor, sketched");
    add_tyres(setup, plan);
    add_implement(setup, m, report.pose, plan, units);
    add_linkage(setup, m, report.pose, plan, units);
    add_shaft(setup, m, report, plan, units);
    add_shape(plan.drawing, Role::travel_arc, Polyline{{{front, 0.0}, {report.pose.mast_pin.x() + 0.6, 0.0}}}, "middle of the tractor");
    return plan;
}

}  // namespace hitchwright
