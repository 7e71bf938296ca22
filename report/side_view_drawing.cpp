// The machine of the side view as shapes, labels and dimensions (draw_side_view of side_view.h).
//
// Links are bars of usual width, the tractor is a hint of our own, the lifted pose is a dashed outline. Only points and
// lengths of the scene carry meaning; widths are drawn for the eye.
#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

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
constexpr double mast_width = 0.050;
constexpr double stub_width = 0.045;
constexpr double stub_shown = 0.12;
constexpr double gearbox_length = 0.24;
constexpr double gearbox_half_height = 0.10;
constexpr double ground_margin = 0.15;
constexpr double ground_tick = 0.03;
constexpr double ground_tick_spacing = 0.18;
constexpr double frame_width = 0.030;
constexpr double stand_width = 0.09;
constexpr double longest_stand = 0.6;
constexpr double pin_marker_mm = 1.9;
constexpr double chosen_marker_mm = 2.5;
constexpr double small_move = 0.02;  // m; travel ends nearer to the working height than this get no label

void add(Drawing& d, Role role, Polygon f, std::string name = {}) { d.shapes.push_back({role, std::move(f), std::move(name)}); }
void add(Drawing& d, Role role, Polyline f, std::string name = {}) { d.shapes.push_back({role, std::move(f), std::move(name)}); }
void add(Drawing& d, Role role, Circle f, std::string name = {}) { d.shapes.push_back({role, f, std::move(name)}); }
void add(Drawing& d, Role role, Marker f, std::string name = {}) { d.shapes.push_back({role, f, std::move(name)}); }

DrawingPoint step(DrawingPoint p, double angle, double by) { return {p.x + by * std::cos(angle), p.z + by * std::sin(angle)}; }

DrawingPoint between(DrawingPoint a, DrawingPoint b, double t) { return {a.x + t * (b.x - a.x), a.z + t * (b.z - a.z)}; }

void add_tyre(Drawing& d, double radius) {
    add(d, Role::tyre, Circle{{0.0, radius}, radius}, "rear tyre");
    add(d, Role::tyre, Circle{{0.0, radius}, 0.56 * radius}, "rim");
    add(d, Role::tyre, Marker{{0.0, radius}, MarkerForm::cross, 3.0}, "rear axle");
    d.labels.push_back({{-0.72 * radius, 0.35 * radius}, "rear tyre", 9, false});
}

/// A block behind the axle with a bracket for the upper-link pins: a hint, not a make.
void add_tractor_body(Drawing& d, const TractorView& t) {
    double pin_low = t.lower_link_pivot.z + 0.4, pin_high = pin_low, pin_back = t.lower_link_pivot.x;
    if (!t.upper_link_pins.empty()) {
        const auto by_height = [](const PinHole& a, const PinHole& b) { return a.at.z < b.at.z; };
        const auto [low, high] = std::minmax_element(t.upper_link_pins.begin(), t.upper_link_pins.end(), by_height);
        pin_low = low->at.z;
        pin_high = high->at.z;
        pin_back = 0.0;
        for (const PinHole& pin : t.upper_link_pins) pin_back = std::max(pin_back, pin.at.x);
    }
    const DrawingPoint stub = t.pto_stub_end.value_or(DrawingPoint{t.lower_link_pivot.x + 0.25, t.lower_link_pivot.z + 0.15});
    const double back = std::max(stub.x - stub_shown, t.lower_link_pivot.x);
    const double low = std::min(t.lower_link_pivot.z, stub.z - 0.1) - 0.05;
    const double housing_top = std::max(stub.z + 0.08, std::min(pin_low - 0.05, stub.z + 0.2));
    const double front = -0.30;
    add(d, Role::tractor_outline, Polygon{{{front, low}, {back, low}, {back, housing_top}, {pin_back + 0.03, housing_top + 0.02},
                                           {pin_back + 0.03, pin_high + 0.04}, {pin_back - 0.09, pin_high + 0.04},
                                           {front, pin_high - 0.02}}}, "tractor");
}

void add_tractor(Drawing& d, const TractorView& t) {
    if (t.rear_tyre_radius && *t.rear_tyre_radius > 0.0) add_tyre(d, *t.rear_tyre_radius);
    add_tractor_body(d, t);
    if (t.drawbar_end) {
        const DrawingPoint e = *t.drawbar_end;
        add(d, Role::drawbar, Polygon{{{-0.30, e.z}, e, {e.x, e.z - 0.035}, {-0.30, e.z - 0.035}}}, "drawbar");
        d.labels.push_back({{e.x, e.z - 0.018}, "drawbar", 8, false});
    }
    if (t.cab_line.size() > 1) {
        add(d, Role::obstacle, Polyline{t.cab_line}, "cab or ROPS");
        d.labels.push_back({t.cab_line.front(), "cab or ROPS", 8, false});
    }
    if (t.pto_stub_end) {
        const DrawingPoint root = step(*t.pto_stub_end, t.pto_slope, -stub_shown);
        add(d, Role::pto_stub, make_strip(root, *t.pto_stub_end, 0.0, stub_shown, stub_width), "PTO stub");
    }
}

void add_pins(Drawing& d, const std::vector<PinHole>& pins, const char* what) {
    for (const PinHole& pin : pins) {
        const Role role = pin.chosen ? Role::pin_chosen : Role::pin;
        add(d, role, Marker{pin.at, MarkerForm::circle, pin.chosen ? chosen_marker_mm : pin_marker_mm}, pin.name);
        if (pin.chosen && pins.size() > 1) d.labels.push_back({pin.at, fmt::format("{} {}", what, pin.name), 3, false});
    }
}

/// Tractor end of the upper link; none when no hole is chosen.
std::optional<DrawingPoint> upper_link_front(const TractorView& tractor) {
    for (const PinHole& pin : tractor.upper_link_pins) {
        if (pin.chosen) return pin.at;
    }
    return std::nullopt;
}

void add_lift(Drawing& d, const LiftParts& lift) {
    add(d, Role::lift_arm, make_bar(lift.arm_pivot, lift.arm_end, lift_arm_width), "lift arm");
    add(d, Role::lift_rod, make_bar(lift.arm_end, lift.rod_pin, lift_rod_width), "lift rod");
    for (const DrawingPoint& p : {lift.arm_pivot, lift.arm_end, lift.rod_pin}) add(d, Role::pin, Marker{p, MarkerForm::circle, 1.5});
    d.labels.push_back({between(lift.arm_end, lift.rod_pin, 0.4), "lift rod", 7, false});
}

void add_linkage(Drawing& d, const SideViewScene& scene, const TractorView& tractor, const PoseView& pose) {
    const DrawingPoint pivot = tractor.lower_link_pivot, ball = pose.lower_hitch_point;
    if (pose.lift) add_lift(d, *pose.lift);
    add(d, Role::lower_link, make_bar(pivot, ball, lower_link_width), "lower link");
    d.labels.push_back({between(pivot, ball, 0.45), "lower link", 6, false});
    add(d, Role::pin, Marker{pivot, MarkerForm::circle, pin_marker_mm}, "lower-link pivot");
    add(d, Role::pin_chosen, Marker{ball, MarkerForm::circle, chosen_marker_mm}, "lower hitch point");
    const auto chosen = upper_link_front(tractor);
    if (!chosen) return;
    const DrawingPoint front = *chosen, rear = pose.upper_hitch_point;
    add(d, Role::upper_link, make_bar(front, rear, upper_link_width), "upper link");
    // The turnbuckle body between the two threaded ends.
    add(d, Role::upper_link, make_bar(between(front, rear, 0.28), between(front, rear, 0.72), upper_link_body_width), "upper link body");
    if (scene.upper_link_length) {
        d.dimensions.push_back({front, rear, DimensionDirection::aligned, "upper link " + format_length(*scene.upper_link_length, scene.units), 3});
    } else {
        d.labels.push_back({between(front, rear, 0.5), "upper link", 6, false});
    }
}

/// Corner of the outlines nearest to `p`; none without an outline.
std::optional<DrawingPoint> nearest_outline_point(const PoseView& pose, DrawingPoint p) {
    std::optional<DrawingPoint> nearest;
    const auto off = [&](DrawingPoint q) { return std::hypot(q.x - p.x, q.z - p.z); };
    for (const std::vector<DrawingPoint>& outline : pose.outlines) {
        for (const DrawingPoint& q : outline) {
            if (!nearest || off(q) < off(*nearest)) nearest = q;
        }
    }
    return nearest;
}

/// Height of the topmost outline edge below `p`; none when no outline lies under it, or `p` is inside one.
std::optional<double> outline_height_below(const PoseView& pose, DrawingPoint p) {
    std::optional<double> height;
    int edges_below = 0;
    for (const std::vector<DrawingPoint>& outline : pose.outlines) {
        for (std::size_t i = 0; i < outline.size(); ++i) {
            const DrawingPoint a = outline[i], b = outline[(i + 1) % outline.size()];
            if ((a.x <= p.x) == (b.x <= p.x)) continue;
            const double z = a.z + (b.z - a.z) * (p.x - a.x) / (b.x - a.x);
            if (z >= p.z) continue;
            ++edges_below;
            height = std::max(height.value_or(z), z);
        }
    }
    return edges_below % 2 == 0 ? height : std::nullopt;
}

void add_implement(Drawing& d, const PoseView& pose) {
    for (const std::vector<DrawingPoint>& outline : pose.outlines) add(d, Role::implement_outline, Polygon{outline}, "implement");
    const DrawingPoint hitch = pose.lower_hitch_point;
    if (const auto p = nearest_outline_point(pose, hitch)) add(d, Role::implement_outline, make_bar(hitch, *p, frame_width), "hitch frame");
    for (const ContactWheel& wheel : pose.wheels) {
        const auto p = nearest_outline_point(pose, wheel.centre);
        if (p && wheel.radius > 0.0) add(d, Role::implement_outline, make_bar(wheel.centre, *p, frame_width), "wheel arm");
        if (wheel.radius > 0.0) add(d, Role::ground_contact, Circle{wheel.centre, wheel.radius}, "wheel");
        else add(d, Role::ground_contact, Marker{wheel.centre, MarkerForm::circle, 1.4}, "skid");
    }
    for (const DrawingPoint& p : pose.points) add(d, Role::implement_outline, Marker{p, MarkerForm::cross, 1.8}, "measured point");
    const DrawingPoint ball = hitch;
    DrawingPoint top = pose.upper_hitch_point;
    for (const PinHole& pin : pose.mast_pins) {
        if (std::hypot(pin.at.x - ball.x, pin.at.z - ball.z) > std::hypot(top.x - ball.x, top.z - ball.z)) top = pin.at;
    }
    add(d, Role::mast, make_bar(ball, top, mast_width), "mast");
    d.labels.push_back({between(ball, top, 0.6), "mast", 6, false});
    add_pins(d, pose.mast_pins, "mast hole");
}

void add_input_shaft(Drawing& d, const PoseView& pose) {
    if (!pose.input_shaft_end) return;
    const DrawingPoint end = *pose.input_shaft_end;
    double angle = pose.pitch;
    if (pose.implement_joint) {
        const double dx = end.x - pose.implement_joint->x, dz = end.z - pose.implement_joint->z;
        if (std::hypot(dx, dz) > 1e-6) angle = std::atan2(dz, dx);
    }
    const DrawingPoint box = step(end, angle, 0.06);
    const DrawingPoint back = step(box, angle, gearbox_length);
    const DrawingPoint foot = between(box, back, 0.5);
    const auto deck = outline_height_below(pose, foot);
    if (deck && foot.z - *deck < longest_stand) {
        add(d, Role::implement_outline, make_strip(foot, {foot.x, *deck}, 0.0, foot.z - *deck, stand_width), "gearbox stand");
    }
    add(d, Role::implement_outline, make_strip(box, back, 0.0, gearbox_length, 2.0 * gearbox_half_height), "gearbox");
    add(d, Role::input_shaft, make_strip(end, box, 0.0, 0.06, stub_width), "input shaft");
}

void add_guard(Drawing& d, DrawingPoint from, DrawingPoint to, double radius) {
    for (double side : {-1.0, 1.0}) {
        const double length = std::hypot(to.x - from.x, to.z - from.z);
        add(d, Role::guard, Polyline{{point_along(from, to, 0.0, side * radius), point_along(from, to, length, side * radius)}}, "guard");
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
    if (shaft.halves) draw_shaft(d, a, b, pose.shaft_length, *shaft.halves, ShaftLook{});
    else add(d, Role::guard, Polyline{{a, b}}, "shaft, tubes not known");
    if (shaft.guard_radius && *shaft.guard_radius > 0.0) add_guard(d, a, b, *shaft.guard_radius);
    d.dimensions.push_back({a, b, DimensionDirection::aligned, "joint to joint " + format_length(pose.shaft_length, scene.units), 2});
    d.labels.push_back({a, "front joint angle " + format_angle(pose.tractor_joint_angle, Rounding::up), 2, false});
    d.labels.push_back({b, "rear joint angle " + format_angle(pose.implement_joint_angle, Rounding::up), 2, false});
    if (!shaft.halves) return;
    const std::string state = shaft_state_text(*shaft.halves, pose.shaft_length, scene.units);
    if (!state.empty()) d.labels.push_back({find_gap_point(a, b, pose.shaft_length, *shaft.halves), state, 1, true});
}

void add_lifted(Drawing& d, const SideViewScene& scene, const TractorView& tractor, const PoseView& pose) {
    const DrawingPoint ball = pose.lower_hitch_point;
    add(d, Role::ghost, make_bar(tractor.lower_link_pivot, ball, lower_link_width), "lower link, lifted");
    if (const auto front = upper_link_front(tractor)) add(d, Role::ghost, make_bar(*front, pose.upper_hitch_point, upper_link_width), "upper link, lifted");
    add(d, Role::ghost, make_bar(ball, pose.upper_hitch_point, mast_width), "mast, lifted");
    for (const std::vector<DrawingPoint>& outline : pose.outlines) add(d, Role::ghost, Polygon{outline}, "implement, lifted");
    for (const ContactWheel& wheel : pose.wheels) {
        const auto p = nearest_outline_point(pose, wheel.centre);
        if (wheel.radius > 0.0) add(d, Role::ghost, Circle{wheel.centre, wheel.radius}, "wheel, lifted");
        if (wheel.radius > 0.0 && p) add(d, Role::ghost, Polyline{{wheel.centre, *p}}, "wheel arm, lifted");
    }
    if (pose.tractor_joint && pose.implement_joint) add(d, Role::ghost, Polyline{{*pose.tractor_joint, *pose.implement_joint}}, "shaft, lifted");
    const std::string pitch = fmt::format("{} {}", pose.pitch < 0.0 ? "rear down" : "rear up", format_angle(std::fabs(pose.pitch)));
    DrawingPoint at = pose.upper_hitch_point;
    for (const std::vector<DrawingPoint>& outline : pose.outlines) {
        for (const DrawingPoint& p : outline) at = p.x > at.x ? p : at;
    }
    d.labels.push_back({at, fmt::format("lifted: ball height {}, {}", format_length(ball.z, scene.units), pitch), 4, false});
}

void add_travel(Drawing& d, const SideViewScene& scene) {
    if (scene.ball_travel.size() > 1) add(d, Role::travel_arc, Polyline{scene.ball_travel}, "path of the ball ends");
    if (scene.joint_travel.size() > 1) add(d, Role::travel_arc, Polyline{scene.joint_travel}, "path of the implement joint");
    if (scene.ball_travel.empty()) return;
    const DrawingPoint low = scene.ball_travel.front(), high = scene.ball_travel.back();
    const double work = scene.working ? scene.working->lower_hitch_point.z : farthest_drawn;
    const auto label = [&](const char* word, DrawingPoint at) {
        if (std::fabs(at.z - work) < small_move) return;
        add(d, Role::travel_arc, Marker{at, MarkerForm::cross, 1.8}, word);
        d.labels.push_back({at, fmt::format("{} {}", word, format_length(at.z, scene.units)), 5, false});
    };
    label("lowest", low);
    if (!scene.lifted || std::fabs(scene.lifted->lower_hitch_point.z - high.z) > small_move) label("highest", high);
}

void add_clearances(Drawing& d, const SideViewScene& scene) {
    for (const ClearanceView& c : scene.clearances) {
        const bool clash = c.clearance < 0.0 || (c.required && c.clearance < *c.required - rounding_slack);
        const Role role = clash ? Role::clash : Role::clearance;
        add(d, role, Polyline{{c.from, c.to}}, c.what);
        add(d, role, Marker{c.from, MarkerForm::cross, 1.6});
        add(d, role, Marker{c.to, MarkerForm::cross, 1.6});
        std::string text = c.clearance < 0.0 ? fmt::format("{}: touches by {}", c.what, format_length(-c.clearance, scene.units, Rounding::up))
                                             : fmt::format("{}: {} clear", c.what, format_length(c.clearance, scene.units, Rounding::down));
        if (clash && c.required) text += fmt::format(" ({} needed)", format_length(*c.required, scene.units, Rounding::up));
        d.labels.push_back({between(c.from, c.to, 0.5), text, 3, clash});
    }
}

/// Ground line under everything drawn so far.
void add_ground(Drawing& d) {
    const auto box = find_bounding_box(d);
    if (!box) return;
    const double from = box->least.x - ground_margin, to = box->most.x + ground_margin;
    add(d, Role::ground, Polyline{{{from, 0.0}, {to, 0.0}}}, "ground");
    for (double x = from + ground_tick; x < to; x += ground_tick_spacing) {
        add(d, Role::ground, Polyline{{{x, 0.0}, {x - ground_tick, -ground_tick}}});
    }
}

}  // namespace

Drawing draw_side_view(const SideViewScene& scene) {
    Drawing d;
    if (!scene.tractor) return d;
    add_tractor(d, *scene.tractor);
    if (scene.working) {
        const PoseView& pose = *scene.working;
        add_implement(d, pose);
        add_input_shaft(d, pose);
        add_linkage(d, scene, *scene.tractor, pose);
        add_shaft(d, scene, pose);
        const DrawingPoint ball = pose.lower_hitch_point;
        d.dimensions.push_back({{ball.x, 0.0}, ball, DimensionDirection::vertical, "ball height " + format_length(ball.z, scene.units), 1});
    }
    add_pins(d, scene.tractor->upper_link_pins, "hole");
    if (scene.lifted) add_lifted(d, scene, *scene.tractor, *scene.lifted);
    add_travel(d, scene);
    add_clearances(d, scene);
    add_ground(d);
    return d;
}

}  // namespace hitchwright
