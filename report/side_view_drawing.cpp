// The machine of the side view as shapes, labels and dimensions (draw_side_view of side_view.h).
//
// Links are bars of usual width, the tractor is a hint of our own, the lifted pose is a dashed outline. Only points and
// lengths of the scene carry meaning; widths are drawn for the eye.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/machine_drawing.h"
#include "report/shaft_drawing.h"
#include "report/side_view.h"

namespace hitchwright {
namespace {

// Widths for the eye, m.
constexpr double lower_link_width = 0.060;
constexpr double upper_link_width = 0.042;
constexpr double upper_link_body_width = 0.062;
constexpr double lift_arm_width = 0.060;
constexpr double lift_rod_width = 0.028;
constexpr double pin_marker_mm = 1.9;
constexpr double chosen_marker_mm = 2.5;
constexpr double small_move = 0.02;  // m; travel ends nearer to the working height than this get no label

/// Tractor end of the upper link; none when no hole is chosen.
std::optional<DrawingPoint> upper_link_front(const TractorView& tractor) {
    for (const PinHole& pin : tractor.upper_link_pins) {
        if (pin.chosen) return pin.at;
    }
    return std::nullopt;
}

void add_lift(Drawing& d, const LiftParts& lift) {
    add_shape(d, Role::lift_arm, make_bar(lift.arm_pivot, lift.arm_end, lift_arm_width), "lift arm");
    add_shape(d, Role::lift_rod, make_bar(lift.arm_end, lift.rod_pin, lift_rod_width), "lift rod");
    for (const DrawingPoint& p : {lift.arm_pivot, lift.arm_end, lift.rod_pin})
        add_shape(d, Role::pin, Marker{p, MarkerForm::circle, 1.5});
    d.labels.push_back({point_between(lift.arm_end, lift.rod_pin, 0.4), "lift rod", 7, false});
}

void add_linkage(Drawing& d, const SideViewScene& scene, const TractorView& tractor, const PoseView& pose) {
    const DrawingPoint pivot = tractor.lower_link_pivot, ball = pose.lower_hitch_point;
    if (pose.lift) add_lift(d, *pose.lift);
    add_shape(d, Role::lower_link, make_bar(pivot, ball, lower_link_width), "lower link");
    d.labels.push_back({point_between(pivot, ball, 0.45), "lower link", 6, false});
    add_shape(d, Role::pin, Marker{pivot, MarkerForm::circle, pin_marker_mm}, "lower-link pivot");
    add_shape(d, Role::pin_chosen, Marker{ball, MarkerForm::circle, chosen_marker_mm}, "lower hitch point");
    const auto chosen = upper_link_front(tractor);
    if (!chosen) return;
    const DrawingPoint front = *chosen, rear = pose.upper_hitch_point;
    add_shape(d, Role::upper_link, make_bar(front, rear, upper_link_width), "upper link");
    // The turnbuckle body between the two threaded ends.
    add_shape(d, Role::upper_link,
              make_bar(point_between(front, rear, 0.28), point_between(front, rear, 0.72), upper_link_body_width),
              "upper link body");
    if (scene.upper_link_length) {
        d.dimensions.push_back({front, rear, DimensionDirection::aligned,
                                "upper link " + format_length(*scene.upper_link_length, scene.units), 3});
    } else {
        d.labels.push_back({point_between(front, rear, 0.5), "upper link", 6, false});
    }
}

void add_guard(Drawing& d, DrawingPoint from, DrawingPoint to, double radius) {
    for (double side : {-1.0, 1.0}) {
        const double length = std::hypot(to.x - from.x, to.z - from.z);
        add_shape(d, Role::guard,
                  Polyline{{point_along(from, to, 0.0, side * radius), point_along(from, to, length, side * radius)}},
                  "guard");
    }
}

std::string shaft_state_text(const TelescopingHalves& halves, double length, UnitSystem units) {
    const double overlap = find_overlap(halves, length), gap = find_gap(halves, length);
    if (overlap < 0.0) return "halves apart by " + format_length(-overlap, units, Rounding::up);
    if (gap < 0.0) return "bottoms out by " + format_length(-gap, units, Rounding::up);
    return {};
}

void add_shaft(Drawing& d, const SideViewScene& scene, const PoseView& pose) {
    if (!scene.shaft || !pose.tractor_joint || !pose.implement_joint) return;
    const DrawingPoint a = *pose.tractor_joint, b = *pose.implement_joint;
    const ShaftView& shaft = *scene.shaft;
    if (shaft.halves)
        draw_shaft(d, a, b, pose.shaft_length, *shaft.halves, ShaftLook{});
    else
        add_shape(d, Role::guard, Polyline{{a, b}}, "shaft, tubes not known");
    if (shaft.guard_radius && *shaft.guard_radius > 0.0) add_guard(d, a, b, *shaft.guard_radius);
    d.dimensions.push_back(
        {a, b, DimensionDirection::aligned, "joint to joint " + format_length(pose.shaft_length, scene.units), 2});
    d.labels.push_back({a, "front joint angle " + format_angle(pose.tractor_joint_angle, Rounding::up), 2, false});
    d.labels.push_back({b, "rear joint angle " + format_angle(pose.implement_joint_angle, Rounding::up), 2, false});
    if (!shaft.halves) return;
    const std::string state = shaft_state_text(*shaft.halves, pose.shaft_length, scene.units);
    if (!state.empty()) d.labels.push_back({find_gap_point(a, b, pose.shaft_length, *shaft.halves), state, 1, true});
}

void add_lifted(Drawing& d, const SideViewScene& scene, const TractorView& tractor, const PoseView& pose) {
    const DrawingPoint ball = pose.lower_hitch_point;
    add_shape(d, Role::ghost, make_bar(tractor.lower_link_pivot, ball, lower_link_width), "lower link, lifted");
    if (const auto front = upper_link_front(tractor))
        add_shape(d, Role::ghost, make_bar(*front, pose.upper_hitch_point, upper_link_width), "upper link, lifted");
    add_shape(d, Role::ghost, make_bar(ball, pose.upper_hitch_point, mast_width), pose.coupler ? "coupler, lifted" : "mast, lifted");
    for (const std::vector<DrawingPoint>& outline : pose.outlines)
        add_shape(d, Role::ghost, Polygon{outline}, "implement, lifted");
    for (const ContactWheel& wheel : pose.wheels) {
        const auto p = nearest_outline_point(pose, wheel.centre);
        if (wheel.radius > 0.0) add_shape(d, Role::ghost, Circle{wheel.centre, wheel.radius}, "wheel, lifted");
        if (wheel.radius > 0.0 && p) add_shape(d, Role::ghost, Polyline{{wheel.centre, *p}}, "wheel arm, lifted");
    }
    if (pose.tractor_joint && pose.implement_joint)
        add_shape(d, Role::ghost, Polyline{{*pose.tractor_joint, *pose.implement_joint}}, "shaft, lifted");
    const std::string angle = format_angle(std::fabs(pose.pitch));
    const std::string pitch = angle == format_angle(0.0)
                                  ? std::string("level")
                                  : fmt::format("{} {}", pose.pitch < 0.0 ? "rear down" : "rear up", angle);
    DrawingPoint at = pose.upper_hitch_point;
    for (const std::vector<DrawingPoint>& outline : pose.outlines) {
        // Another machine may reach past the edge of the picture: its words stand at its mast, which does not.
        for (const DrawingPoint& p : outline) at = p.x > at.x && !scene.lifted_tractor ? p : at;
    }
    d.labels.push_back(
        {at, fmt::format("{}: ball height {}, {}", scene.lifted_words, format_length(ball.z, scene.units), pitch), 4,
         false});
}

void add_travel(Drawing& d, const SideViewScene& scene) {
    if (scene.ball_travel.size() > 1)
        add_shape(d, Role::travel_arc, Polyline{scene.ball_travel}, "path of the ball ends");
    if (scene.joint_travel.size() > 1)
        add_shape(d, Role::travel_arc, Polyline{scene.joint_travel}, "path of the implement joint");
    if (scene.ball_travel.empty()) return;
    const DrawingPoint low = scene.ball_travel.front(), high = scene.ball_travel.back();
    const double work = scene.working ? scene.working->lower_hitch_point.z : farthest_drawn;
    const auto label = [&](const char* word, DrawingPoint at) {
        if (std::fabs(at.z - work) < small_move) return;
        add_shape(d, Role::travel_arc, Marker{at, MarkerForm::cross, 1.8}, word);
        d.labels.push_back({at, fmt::format("{} {}", word, format_length(at.z, scene.units)), 5, false});
    };
    label("lowest", low);
    if (!scene.lifted || std::fabs(scene.lifted->lower_hitch_point.z - high.z) > small_move) label("highest", high);
}

void add_clearances(Drawing& d, const SideViewScene& scene) {
    for (const ClearanceView& c : scene.clearances) {
        const bool clash = c.clearance < 0.0 || (c.required && c.clearance < *c.required - rounding_slack);
        const Role role = clash ? Role::clash : Role::clearance;
        add_shape(d, role, Polyline{{c.from, c.to}}, c.what);
        add_shape(d, role, Marker{c.from, MarkerForm::cross, 1.6});
        add_shape(d, role, Marker{c.to, MarkerForm::cross, 1.6});
        std::string text =
            c.clearance < 0.0
                ? fmt::format("{}: touches by {}", c.what, format_length(-c.clearance, scene.units, Rounding::up))
                : fmt::format("{}: {} clear", c.what, format_length(c.clearance, scene.units, Rounding::down));
        if (clash && c.required)
            text += fmt::format(" ({} needed)", format_length(*c.required, scene.units, Rounding::up));
        d.labels.push_back({point_between(c.from, c.to, 0.5), text, 3, clash});
    }
}

}  // namespace

Drawing draw_side_view(const SideViewScene& scene) {
    Drawing d;
    if (!scene.tractor) return d;
    draw_tractor(d, *scene.tractor);
    if (scene.working) {
        const PoseView& pose = *scene.working;
        draw_implement(d, pose);
        draw_input_shaft(d, pose);
        add_linkage(d, scene, *scene.tractor, pose);
        add_shaft(d, scene, pose);
        const DrawingPoint ball = pose.lower_hitch_point;
        d.dimensions.push_back({{ball.x, 0.0},
                                ball,
                                DimensionDirection::vertical,
                                "ball height " + format_length(ball.z, scene.units),
                                1});
    }
    if (scene.open) draw_open_linkage(d, *scene.open);
    draw_pins(d, scene.tractor->upper_link_pins, "hole");
    if (scene.lifted) add_lifted(d, scene, scene.lifted_tractor ? *scene.lifted_tractor : *scene.tractor, *scene.lifted);
    add_travel(d, scene);
    add_clearances(d, scene);
    draw_cab(d, *scene.tractor);
    draw_ground(d);
    return d;
}

}  // namespace hitchwright
