// Places are chosen by eye, as in card_sketches.cpp.
#include "report/card_sketches_drawn.h"

#include "report/sketch_builder.h"

namespace hitchwright {
namespace {

using P = DrawingPoint;

constexpr P hub{0.0, 0.62}, stub_end{0.80, 0.74}, pin_top{1.36, 0.44}, joint{1.36, 0.52};

void draw_rear_end(SketchBuilder& s) {
    s.circle(Role::tyre, hub, 0.62);
    s.shape(Role::tractor_outline,
            {{-0.70, 0.72}, {-0.70, 1.20}, {-0.10, 1.20}, {0.36, 1.14}, {0.36, 0.60}, {0.05, 0.46}, {-0.60, 0.56}});
    s.bar(Role::drawbar, {0.05, 0.41}, {1.44, 0.41}, 0.06);
    s.circle(Role::pin, hub, 0.025);
}

CardSketch make_hitch_sketch(const std::vector<CardLine>& lines) {
    CardSketch sketch{
        Station::rear_axle,
        "Stub, drawbar and hitch from the left. Everything level is measured on the floor from the hub mark.",
        {},
        {}};
    SketchBuilder s(lines, sketch, 0.05);
    s.line(Role::ground, {{-0.95, 0.0}, {2.5, 0.0}});
    draw_rear_end(s);
    s.line(Role::frame, {{0.0, 1.3}, {0.0, -0.30}});
    s.bar(Role::implement_outline, {1.30, joint.z}, {2.4, joint.z}, 0.05);
    s.bar(Role::pto_stub, {0.36, stub_end.z}, {stub_end.x - 0.02, stub_end.z}, 0.05);
    s.bar(Role::pin, {pin_top.x, 0.34}, {pin_top.x, 0.60}, 0.03);
    s.plumb({hub.x, 0.0}, hub, -0.84, {"tractor.tyre.rear_radius"});
    s.level({0.0, 0.0}, stub_end, -0.16, {"tractor.pto.stub_x"});
    s.plumb({0.9, 0.0}, stub_end, 2.28, {"tractor.pto.stub_z"});
    s.level(stub_end, {pin_top.x, 0.62}, 0.98, {"tractor.drawbar_pin[].length"});
    s.plumb({1.44, 0.0}, {1.44, pin_top.z}, 1.76, {"tractor.drawbar.top_height", "tractor.drawbar_pin[].top_height"});
    s.plumb({1.44, pin_top.z}, {0.90, stub_end.z}, 2.00, {"tractor.drawbar.drop"});
    s.point_out(joint, {1.64, 0.92}, {"tractor.drawbar.articulation_above_top"});
    s.point_out(stub_end, {0.70, 1.34},
                {"tractor.pto.type", "tractor.pto.speeds_rpm", "tractor.pto.splines", "tractor.pto.shaft_diameter",
                 "tractor.pto.rotation", "tractor.pto.power", "tractor.pto.stub_slope", "choices.pto_speed_rpm"});
    s.point_out({stub_end.x, 0.70}, {0.84, 0.56}, {"tractor.drawbar.adapter_length"});
    s.point_out({pin_top.x, 0.36}, {1.12, 0.10}, {"choices.drawbar_pin", "tractor.drawbar_pin[].vertical_load_most"});
    return sketch;
}

// z of the drawing is to the right of the seat.
CardSketch make_tractor_plan(const std::vector<CardLine>& lines) {
    CardSketch sketch{Station::rear_axle, "The same from above: across the tractor.", {}, {}};
    SketchBuilder s(lines, sketch, 0.05);
    for (const double side : {-1.0, 1.0}) {
        s.shape(Role::tyre, {{-0.62, side * 0.62}, {0.62, side * 0.62}, {0.62, side * 1.0}, {-0.62, side * 1.0}});
    }
    s.shape(Role::tractor_outline, {{-0.80, -0.22}, {0.30, -0.22}, {0.30, 0.22}, {-0.80, 0.22}});
    s.bar(Role::drawbar, {0.30, 0.0}, {1.20, 0.0}, 0.09);
    s.bar(Role::pto_stub, {0.30, 0.0}, {0.62, 0.0}, 0.05);
    s.shape(Role::implement_outline, {{1.06, -0.05}, {1.06, 0.05}, {1.34, 0.07}, {1.34, -0.07}});
    s.pin({1.12, 0.0});
    s.line(Role::frame, {{-0.95, 0.0}, {1.42, 0.0}});
    s.plumb({-0.62, -0.81}, {-0.62, 0.81}, -0.90, {"tractor.tyre.rear_track"});
    s.plumb({0.62, 0.62}, {0.62, 1.0}, 0.78, {"tractor.tyre.rear_width"});
    s.point_out({0.62, 0.02}, {0.84, 0.30}, {"tractor.pto.stub_y", "tractor.pto.stub_plan_angle"});
    return sketch;
}

CardSketch make_front_sketch(const std::vector<CardLine>& lines) {
    constexpr P front{-2.0, 0.42}, rear{0.0, 0.62};
    constexpr double left = 1.9, right = 3.3, pivot = 0.46;
    CardSketch sketch{Station::rear_axle,
                      "For a ditch or ridge only: the tractor from the left, its front axle from the front.",
                      {},
                      {}};
    SketchBuilder s(lines, sketch, 0.06);
    s.line(Role::ground, {{-2.9, 0.0}, {4.2, 0.0}});
    s.circle(Role::tyre, front, front.z);
    s.circle(Role::tyre, rear, rear.z);
    s.shape(Role::tractor_outline,
            {{-2.35, 0.66}, {-2.35, 1.12}, {-0.75, 1.16}, {-0.10, 1.20}, {0.30, 1.14}, {0.30, 0.60}, {-1.5, 0.62}});
    for (const P& p : {front, rear}) s.pin(p);
    s.level(front, rear, -0.22, {"tractor.mass.wheelbase"});
    s.plumb({front.x, 0.0}, front, -2.70, {"tractor.tyre.front_radius"});
    for (const double y : {left, right}) {
        s.shape(Role::tyre, {{y - 0.14, 0.0}, {y + 0.14, 0.0}, {y + 0.14, 2 * front.z}, {y - 0.14, 2 * front.z}});
    }
    s.bar(Role::frame, {left + 0.14, pivot}, {right - 0.14, pivot}, 0.08);
    s.pin({0.5 * (left + right), pivot});
    s.level({left, 2 * front.z}, {right, 2 * front.z}, 1.06, {"tractor.tyre.front_track"});
    s.level({right - 0.14, 0.0}, {right + 0.14, 0.0}, -0.22, {"tractor.tyre.front_width"});
    s.plumb({right, 0.0}, {0.5 * (left + right), pivot}, 3.9, {"tractor.tyre.front_pivot_height"});
    return sketch;
}

void draw_wheel(SketchBuilder& s, P at, double radius) {
    s.circle(Role::ground_contact, at, radius);
    s.pin(at);
}

CardSketch make_towed_sketch(const std::vector<CardLine>& lines) {
    constexpr P at{0.0, 0.0}, input{0.62, 0.24}, wheel{2.10, -0.14};
    CardSketch sketch{
        Station::implement_pins,
        "Implement from the left, frame level. Everything is measured from the middle of the hitch joint.",
        {},
        {}};
    SketchBuilder s(lines, sketch, 0.05);
    s.line(Role::ground, {{-0.4, -0.42}, {3.0, -0.42}});
    s.bar(Role::drawbar, {-0.40, -0.11}, {0.08, -0.11}, 0.06);
    s.bar(Role::implement_outline, {-0.07, 0.0}, {1.16, 0.0}, 0.06);
    s.shape(Role::implement_outline, {{1.16, -0.10}, {1.16, 0.42}, {2.70, 0.42}, {2.70, -0.10}});
    draw_wheel(s, wheel, 0.28);
    s.pin(at);
    s.level(at, wheel, -0.74, {"implement.ground_contact[].x"});
    s.plumb(at, wheel, 2.88, {"implement.ground_contact[].z"});
    s.point_out({wheel.x - 0.2, -0.34}, {1.70, -0.56}, {"implement.ground_contact[].radius"});
    s.point_out(at, {-0.16, -0.30},
                {"implement.drawn.hitch", "implement.drawn.pitch_play", "implement.drawn.roll_play",
                 "implement.drawn.vertical_load"});
    if (s.has({"implement.pic.x"})) {
        s.bar(Role::input_shaft, {input.x + 0.02, input.z}, {1.16, input.z}, 0.05);
        s.level(at, input, 0.42, {"implement.pic.x"});
        s.plumb(at, input, -0.24, {"implement.pic.z"});
        s.point_out(
            {0.84, input.z}, {0.66, 0.66},
            {"implement.pic.type", "implement.pic.speed_rpm", "implement.pic.splines", "implement.pic.shaft_diameter",
             "implement.pic.rotation", "implement.pic.power", "implement.pic.slope"});
    }
    if (s.has({"implement.steady_bearing.x"})) {
        constexpr P bearing{0.40, 0.10};
        s.bar(Role::input_shaft, {bearing.x, bearing.z}, {0.58, bearing.z}, 0.04);
        s.shape(Role::obstacle, {{0.46, 0.0}, {0.46, 0.16}, {0.52, 0.16}, {0.52, 0.0}});
        s.level(at, bearing, -0.18, {"implement.steady_bearing.x"});
        s.plumb(at, bearing, 0.20, {"implement.steady_bearing.z"});
        s.point_out({input.x, input.z}, {0.88, -0.24},
                    {"implement.steady_bearing.rear_joint_offset", "implement.steady_bearing.y",
                     "implement.steady_bearing.phase"});
    }
    return sketch;
}

CardSketch make_frame_plan(const std::vector<CardLine>& lines) {
    CardSketch sketch{Station::implement_pins, "The same from above.", {}, {}};
    SketchBuilder s(lines, sketch, 0.06);
    s.bar(Role::implement_outline, {-0.10, 0.0}, {1.20, 0.0}, 0.16);
    s.shape(Role::implement_outline, {{1.20, -0.80}, {1.20, 0.80}, {2.30, 0.80}, {2.30, -0.80}});
    for (const double side : {-1.0, 1.0}) {
        s.shape(Role::ground_contact,
                {{1.60, side * 0.86}, {2.12, side * 0.86}, {2.12, side * 1.04}, {1.60, side * 1.04}});
    }
    s.line(Role::frame, {{-0.4, 0.0}, {2.7, 0.0}});
    s.pin({0.0, 0.0});
    s.level({0.0, 0.0}, {-0.10, 0.0}, -0.30, {"implement.tongue_bar[].front_x"});
    s.level({0.0, 0.0}, {1.20, -0.08}, -0.60, {"implement.tongue_bar[].rear_x"});
    s.point_out({0.62, -0.08}, {0.80, -0.36}, {"implement.tongue_bar[].width"});
    s.plumb({1.86, 0.0}, {1.86, 0.95}, 2.56, {"implement.ground_contact[].half_track"});
    s.point_out({1.20, 0.02}, {0.86, 0.52}, {"implement.tongue_bar[].front_y", "implement.tongue_bar[].rear_y"});
    s.point_out({0.42, 0.03}, {0.30, 0.84}, {"implement.pic.y", "implement.pic.plan_angle"});
    return sketch;
}

CardSketch make_ditch_sketch(const std::vector<CardLine>& lines) {
    CardSketch sketch{
        Station::way, "The ground, cut square to the ditch, and the ditch from above with the way across it.", {}, {}};
    SketchBuilder s(lines, sketch, 0.09);
    s.line(Role::ground, {{-2.2, 0.0}, {-1.2, 0.0}, {-0.5, -0.6}, {0.5, -0.6}, {1.2, 0.0}, {2.2, 0.0}});
    s.plumb({-1.2, 0.0}, {-0.5, -0.6}, -1.6,
            {"choices.ditch.depth", "choices.ditch_point[].x", "choices.ditch_point[].z"});
    s.level({-0.5, -0.6}, {0.5, -0.6}, -0.86, {"choices.ditch.bottom_width"});
    s.point_out({0.85, -0.3}, {1.5, -0.5}, {"choices.ditch.side_slope"});
    if (s.has({"choices.ditch.crossing_angle"})) {
        for (const double x : {3.2, 4.0}) s.line(Role::ground, {{x, -0.8}, {x, 0.5}});
        s.line(Role::frame, {{2.7, -0.65}, {4.6, 0.35}});
        s.point_out({3.2, -0.39}, {2.9, 0.30}, {"choices.ditch.crossing_angle"});
    }
    return sketch;
}

CardSketch make_turn_sketch(const std::vector<CardLine>& lines) {
    constexpr P pin{0.0, 0.0};
    CardSketch sketch{
        Station::way, "Turn from above (a left turn brings the implement to the left), dip from the left.", {}, {}};
    SketchBuilder s(lines, sketch, 0.06);
    s.bar(Role::drawbar, {-0.9, 0.0}, pin, 0.10);
    s.bar(Role::implement_outline, pin, {0.9, 0.0}, 0.10);
    s.bar(Role::ghost, pin, {0.75, 0.5}, 0.10);
    s.bar(Role::ghost, pin, {0.75, -0.5}, 0.10);
    s.pin(pin);
    s.point_out({0.66, 0.24}, {1.12, 0.34}, {"choices.turn_right_most"});
    s.point_out({0.66, -0.24}, {1.12, -0.34}, {"choices.turn_left_most"});
    s.point_out(pin, {-0.30, 0.44}, {"choices.roll_most"});
    constexpr P hitch{0.0, -1.1};
    s.bar(Role::drawbar, {-0.9, hitch.z}, hitch, 0.08);
    s.bar(Role::implement_outline, hitch, {0.9, hitch.z}, 0.08);
    s.bar(Role::ghost, hitch, {0.84, hitch.z + 0.30}, 0.08);
    s.bar(Role::ghost, hitch, {0.84, hitch.z - 0.30}, 0.08);
    s.pin(hitch);
    s.point_out({0.70, hitch.z + 0.13}, {1.12, hitch.z + 0.24}, {"choices.pitch_up_most"});
    s.point_out({0.70, hitch.z - 0.13}, {1.12, hitch.z - 0.24}, {"choices.pitch_down_most"});
    return sketch;
}

}  // namespace

std::vector<CardSketch> make_drawn_sketches(const std::vector<CardLine>& lines) {
    return {make_hitch_sketch(lines), make_tractor_plan(lines), make_front_sketch(lines), make_towed_sketch(lines),
            make_frame_plan(lines),   make_ditch_sketch(lines), make_turn_sketch(lines)};
}

}  // namespace hitchwright
