// See machine_drawing.h.
#include "report/machine_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

// Widths and sizes for the eye, m unless the name says mm.
constexpr double stub_shown = 0.12;
constexpr double gearbox_length = 0.24;
constexpr double gearbox_half_height = 0.10;
constexpr double input_shaft_shown = 0.06;
constexpr double ground_margin = 0.15;
constexpr double ground_tick = 0.03;
constexpr double ground_tick_spacing = 0.18, most_ground_ticks = 10000.0;
constexpr double cab_shown = 0.12;  // above everything else
constexpr double frame_width = 0.030;
constexpr double coupler_width = 0.022;
constexpr double stand_width = 0.09;
constexpr double longest_stand = 0.6;
constexpr double pin_marker_mm = 1.9;
constexpr double chosen_marker_mm = 2.5;

void add_tyre(Drawing& d, double radius) {
    add_shape(d, Role::tyre, Circle{{0.0, radius}, radius}, "rear tyre");
    add_shape(d, Role::tyre, Circle{{0.0, radius}, 0.56 * radius}, "rim");
    add_shape(d, Role::tyre, Marker{{0.0, radius}, MarkerForm::cross, 3.0}, "rear axle");
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
    const DrawingPoint stub =
        t.pto_stub_end.value_or(DrawingPoint{t.lower_link_pivot.x + 0.25, t.lower_link_pivot.z + 0.15});
    const double back = std::max(stub.x - stub_shown, t.lower_link_pivot.x);
    const double low = std::min(t.lower_link_pivot.z, stub.z - 0.1) - 0.05;
    const double housing_top = std::max(stub.z + 0.08, std::min(pin_low - 0.05, stub.z + 0.2));
    const double front = -0.30;
    add_shape(d, Role::tractor_outline,
              Polygon{{{front, low},
                       {back, low},
                       {back, housing_top},
                       {pin_back + 0.03, housing_top + 0.02},
                       {pin_back + 0.03, pin_high + 0.04},
                       {pin_back - 0.09, pin_high + 0.04},
                       {front, pin_high - 0.02}}},
              "tractor");
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

/// The part of an open line that lies below a height; pieces above are left out, a piece through it is cut there.
std::vector<std::vector<DrawingPoint>> pieces_below(const std::vector<DrawingPoint>& line, double height) {
    std::vector<std::vector<DrawingPoint>> pieces;
    bool open = false;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        DrawingPoint a = line[i], b = line[i + 1];
        if (a.z > height && b.z > height) {
            open = false;
            continue;
        }
        const DrawingPoint cut = a.z == b.z ? a : point_between(a, b, (height - a.z) / (b.z - a.z));
        const bool ends = b.z > height;
        if (a.z > height) a = cut;
        if (ends) b = cut;
        if (!open) pieces.push_back({a});
        pieces.back().push_back(b);
        open = !ends;
    }
    return pieces;
}

}  // namespace

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

void draw_pins(Drawing& d, const std::vector<PinHole>& pins, const char* what) {
    for (const PinHole& pin : pins) {
        const Role role = pin.chosen ? Role::pin_chosen : Role::pin;
        add_shape(d, role, Marker{pin.at, MarkerForm::circle, pin.chosen ? chosen_marker_mm : pin_marker_mm}, pin.name);
        if (pin.chosen && pins.size() > 1) d.labels.push_back({pin.at, fmt::format("{} {}", what, pin.name), 3, false});
    }
}

void draw_tractor(Drawing& d, const TractorView& t) {
    if (t.rear_tyre_radius && *t.rear_tyre_radius > 0.0) add_tyre(d, *t.rear_tyre_radius);
    add_tractor_body(d, t);
    if (t.drawbar_end) {
        const DrawingPoint e = *t.drawbar_end;
        add_shape(d, Role::drawbar, Polygon{{{-0.30, e.z}, e, {e.x, e.z - 0.035}, {-0.30, e.z - 0.035}}}, "drawbar");
        d.labels.push_back({{e.x, e.z - 0.018}, "drawbar", 8, false});
    }
    if (t.pto_stub_end) {
        const DrawingPoint root = point_toward(*t.pto_stub_end, t.pto_slope, -stub_shown);
        add_shape(d, Role::pto_stub, make_strip(root, *t.pto_stub_end, 0.0, stub_shown, stub_width), "PTO stub");
    }
}

void draw_coupler(Drawing& d, const PoseView& pose) {
    const CouplerView& c = *pose.coupler;
    const DrawingPoint ball = pose.lower_hitch_point, own = pose.upper_hitch_point;
    for (const auto& [from, to] : {std::pair(ball, own), std::pair(ball, c.lower_hook), std::pair(own, c.top_hook)})
        add_shape(d, Role::mast, make_bar(from, to, coupler_width), "coupler");
    d.labels.push_back({point_between(ball, own, 0.75), "coupler", 6, false});
}

void draw_implement(Drawing& d, const PoseView& pose) {
    for (const std::vector<DrawingPoint>& outline : pose.outlines)
        add_shape(d, Role::implement_outline, Polygon{outline}, "implement");
    const DrawingPoint hitch = pose.coupler ? pose.coupler->lower_hook : pose.lower_hitch_point;
    if (const auto p = nearest_outline_point(pose, hitch))
        add_shape(d, Role::implement_outline, make_bar(hitch, *p, frame_width), "hitch frame");
    for (const ContactWheel& wheel : pose.wheels) {
        const auto p = nearest_outline_point(pose, wheel.centre);
        if (p && wheel.radius > 0.0)
            add_shape(d, Role::implement_outline, make_bar(wheel.centre, *p, frame_width), "wheel arm");
        if (wheel.radius > 0.0)
            add_shape(d, Role::ground_contact, Circle{wheel.centre, wheel.radius}, "wheel");
        else
            add_shape(d, Role::ground_contact, Marker{wheel.centre, MarkerForm::circle, 1.4}, "skid");
    }
    for (const DrawingPoint& p : pose.points)
        add_shape(d, Role::implement_outline, Marker{p, MarkerForm::cross, 1.8}, "measured point");
    const DrawingPoint ball = hitch;
    DrawingPoint top = pose.coupler ? pose.coupler->top_hook : pose.upper_hitch_point;
    for (const PinHole& pin : pose.mast_pins) {
        if (std::hypot(pin.at.x - ball.x, pin.at.z - ball.z) > std::hypot(top.x - ball.x, top.z - ball.z)) top = pin.at;
    }
    add_shape(d, Role::mast, make_bar(ball, top, mast_width), "mast");
    d.labels.push_back({point_between(ball, top, 0.6), "mast", 6, false});
    draw_pins(d, pose.mast_pins, "mast hole");
    if (pose.coupler) draw_coupler(d, pose);
}

void draw_input_shaft(Drawing& d, const PoseView& pose) {
    if (!pose.input_shaft_end) return;
    const DrawingPoint end = *pose.input_shaft_end;
    double angle = pose.pitch;
    if (pose.implement_joint) {
        const double dx = end.x - pose.implement_joint->x, dz = end.z - pose.implement_joint->z;
        if (std::hypot(dx, dz) > 1e-6) angle = std::atan2(dz, dx);
    }
    const DrawingPoint box = point_toward(end, angle, input_shaft_shown);
    const DrawingPoint back = point_toward(box, angle, gearbox_length);
    const DrawingPoint foot = point_between(box, back, 0.5);
    const auto deck = outline_height_below(pose, foot);
    if (deck && foot.z - *deck < longest_stand) {
        add_shape(d, Role::implement_outline, make_strip(foot, {foot.x, *deck}, 0.0, foot.z - *deck, stand_width),
                  "gearbox stand");
    }
    add_shape(d, Role::implement_outline, make_strip(box, back, 0.0, gearbox_length, 2.0 * gearbox_half_height),
              "gearbox");
    add_shape(d, Role::input_shaft, make_strip(end, box, 0.0, input_shaft_shown, stub_width), "input shaft");
}

void draw_cab(Drawing& d, const TractorView& t) {
    const auto box = find_bounding_box(d);
    if (!box) return;
    const auto pieces = pieces_below(t.cab_line, box->most.z + cab_shown);
    for (const std::vector<DrawingPoint>& piece : pieces) add_shape(d, Role::obstacle, Polyline{piece}, "cab or ROPS");
    if (!pieces.empty()) d.labels.push_back({pieces.front().front(), "cab or ROPS", 8, false});
}

void draw_ground(Drawing& d) {
    const auto box = find_bounding_box(d);
    if (!box) return;
    const double from = box->least.x - ground_margin, to = box->most.x + ground_margin;
    add_shape(d, Role::ground, Polyline{{{from, 0.0}, {to, 0.0}}}, "ground");
    const double ticks = std::ceil((to - from - ground_tick) / ground_tick_spacing);
    if (!(ticks < most_ground_ticks)) return;
    for (int i = 0; i < static_cast<int>(ticks); ++i) {
        const double x = from + ground_tick + i * ground_tick_spacing;
        add_shape(d, Role::ground, Polyline{{{x, 0.0}, {x - ground_tick, -ground_tick}}});
    }
}

}  // namespace hitchwright
