// See mounted_plan_view.h.
#include "report/mounted_plan_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/pose_report.h"
#include "geometry/standing_tractor.h"
#include "geometry/turn_limits.h"
#include "report/rear_parts.h"
#include "report/space_pose.h"
#include "report/text_layout.h"

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

/// Points of the implement's outline with their half-width, frame T; x as it is placed.
struct Station {
    double x = 0.0, half = 0.0;
};

Polygon make_outline(const std::vector<DrawingPoint>& right, std::vector<DrawingPoint> left) {
    Polygon outline{right};
    std::reverse(left.begin(), left.end());
    outline.points.insert(outline.points.end(), left.begin(), left.end());
    return outline;
}

DrawingPoint from_above(const Vec3<double>& p) { return {p.x, p.y}; }

/// Links and implement with the hitch at one end of its sway.
void add_swayed(const Setup& s, const MountedModel& m, const SpacePose& p, const std::string& side, Drawing& d) {
    add_shape(d, Role::ghost, Polyline{{from_above(p.left_pivot), from_above(p.hitch.left_ball), from_above(p.hitch.right_ball), from_above(p.right_pivot)}}, "lower links, swayed to the " + side);
    for (const Vec3<double>& ball : {p.hitch.left_ball, p.hitch.right_ball}) add_shape(d, Role::ghost, Marker{from_above(ball), MarkerForm::circle, 1.9}, "ball end, swayed to the " + side);
    std::vector<std::pair<DrawingPoint, DrawingPoint>> ends;
    for (const ImplementPoint& q : s.implement.points) {
        if (!q.x.known || !q.z.known || !q.half_width.known) continue;
        const double middle = q.y.value_or(0.0), half = q.half_width.value;
        ends.emplace_back(from_above(place_in_space(m, p, q.x, q.z, middle + half)), from_above(place_in_space(m, p, q.x, q.z, middle - half)));
    }
    std::sort(ends.begin(), ends.end(), [](const auto& a, const auto& b) { return a.first.x < b.first.x; });
    std::vector<DrawingPoint> right, left;
    for (const auto& [r, l] : ends) right.push_back(r), left.push_back(l);
    if (!ends.empty()) add_shape(d, Role::ghost, make_outline(right, left), "implement, swayed to the " + side);
}

/// Way of the rearmost point from one end of the sway to the other.
void add_tail_swing(const Setup& s, const MountedModel& m, double height, const SwayLimits& ends, const SafeWords& w, Drawing& d) {
    constexpr int places = 17;
    const std::optional<RearmostPoint> rear = find_rearmost_point(s.implement, m);
    if (!rear) return;
    Polyline way;
    for (int i = 0; i < places; ++i) {
        const double sway = *ends.left + (*ends.right - *ends.left) * i / (places - 1);
        const SpatialSolution p = solve_spatial_pose(m.space.linkage, {height, sway, 0.0});
        if (!p.closes) return;
        way.points.push_back(from_above(p.pose.place({rear->at.x(), 0.0, rear->at.y()})));
    }
    const DrawingPoint left = way.points.front(), right = way.points.back();
    add_shape(d, Role::travel_arc, std::move(way), "tail swing");
    d.dimensions.push_back({left, right, DimensionDirection::vertical, fmt::format("tail swing {}", w.need(right.z - left.z)), 2});
}

void add_sway(const Setup& s, const MountedModel& m, double height, MountedPlan& plan, UnitSystem units) {
    const SwayLimits ends = find_sway_ends(m.space, height);
    if (m.space.sway_source == SwaySource::none) return;
    if (!ends.left || !ends.right) {
        plan.not_known.push_back("Nothing stops the sway within the reach of the links at this height.");
        return;
    }
    if (*ends.right < *ends.left) {
        plan.not_known.push_back("The check chains do not let the hitch up to this height.");
        return;
    }
    const SafeWords w{units};
    for (const double sway : {*ends.left, *ends.right}) {
        SpacePose p;
        p.hitch = solve_spatial_pose(m.space.linkage, {height, sway, 0.0});
        if (!p.hitch.closes) return;
        const SpatialLinkage& k = m.space.linkage;
        p.left_pivot = {k.side_view.lower_pivot.x(), -k.half_spread_at_pivot, k.side_view.lower_pivot.y()};
        p.right_pivot = {k.side_view.lower_pivot.x(), k.half_spread_at_pivot, k.side_view.lower_pivot.y()};
        add_swayed(s, m, p, sway == *ends.left ? "left" : "right", plan.drawing);
        const double x = p.hitch.pose.hitch.x;
        if (sway == *ends.right)
            plan.drawing.dimensions.push_back({{x, *ends.left}, {x, *ends.right}, DimensionDirection::vertical, "sway " + w.need(*ends.right - *ends.left), 2});
    }
    add_tail_swing(s, m, height, ends, w, plan.drawing);
}

void add_chains(const MountedModel& m, double height, Drawing& d) {
    if (m.space.sway_source != SwaySource::chains) return;
    SpacePose p = find_space_pose(m, {height, 0.0});
    if (!p.closes) return;
    for (const TractorSide side : {TractorSide::left, TractorSide::right}) {
        const ChainLine c = find_chain_line(m.space, p, side);
        add_shape(d, Role::lift_rod, Polyline{{from_above(c.anchor), from_above(c.pin)}}, side == TractorSide::right ? "check chain, right" : "check chain, left");
        add_shape(d, Role::pin, Marker{from_above(c.anchor), MarkerForm::circle, 1.5}, "pin of the check chain");
    }
}

/// Least room at this height, level, over the whole sway there.
void add_tyre_room(const SpaceStudy& study, const MountedModel& m, double height, Drawing& d, UnitSystem units) {
    if (!study.tyre || m.space.sway_source == SwaySource::none) return;
    const SafeWords w{units};
    const SwayLimits ends = find_sway_ends(m.space, height);
    SpatialBox box = make_place_box(m, {height, 0.0, 0.0});
    if (ends.left && ends.right && *ends.left <= *ends.right) box[1] = Interval(*ends.left, *ends.right);
    const TyreRoom room = find_tyre_room(m.space.linkage, study.tyre_parts, box);
    const SpatialSolution at = solve_spatial_pose(m.space.linkage, room.at);
    if (!at.reached) return;
    const SpatialLinkage& k = m.space.linkage;
    const double sign = find_side_sign(room.side);
    const Vec3<double> pivot{k.side_view.lower_pivot.x(), sign * k.half_spread_at_pivot, k.side_view.lower_pivot.y()}, ball = room.side == TractorSide::right ? at.right_ball : at.left_ball;
    const Vec3<double> p = pivot + room.along * (ball - pivot);
    const DrawingPoint link{p.x, p.y + sign * (study.tyre_parts.outer_half_width + study.tyre_parts.side_play * room.along)}, face{p.x, sign * study.tyre_parts.inner_face};
    const bool meets = room.room <= 0.0;
    add_shape(d, meets ? Role::clash : Role::clearance, Polyline{{link, face}}, "room to the tyre");
    const std::string swayed = is_shown_zero(room.at.sway, w) ? "" : fmt::format(", balls {} to the {}", w.place(std::fabs(room.at.sway)), room.at.sway > 0.0 ? "right" : "left");
    d.labels.push_back({point_between(link, face, 0.5), (meets ? fmt::format("link in the tyre, {} deep", w.need(-room.room)) : "room to the tyre " + w.have(room.room)) + swayed, 2, meets});
}

void add_implement(const Setup& s, const MountedModel& m, const PlanarPose& pose, MountedPlan& plan, UnitSystem units) {
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
    std::vector<DrawingPoint> right, left;
    for (const Station& t : stations) right.push_back({t.x, t.half}), left.push_back({t.x, -t.half});
    add_shape(d, Role::implement_outline, make_outline(right, left), "implement");
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
    add_chains(m, report.pose.ball_height, plan.drawing);
    add_sway(setup, m, report.pose.ball_height, plan, units);
    if (analysis.space) add_tyre_room(*analysis.space, m, report.pose.ball_height, plan.drawing, units);
    add_shape(plan.drawing, Role::travel_arc, Polyline{{{front, 0.0}, {report.pose.mast_pin.x() + 0.6, 0.0}}}, "middle of the tractor");
    return plan;
}

}  // namespace hitchwright
