// Places are chosen by eye; an arrow for each distance, a pointer for what is counted, looked at or turned.
#include "report/card_sketches.h"

#include "report/card_sketches_drawn.h"
#include "report/sketch_builder.h"

namespace hitchwright {
namespace {

using P = DrawingPoint;

constexpr P hub{0.0, 0.55}, pivot{0.16, 0.40}, ball{1.60, 0.42}, stub_end{0.66, 0.66};
constexpr P holes[] = {{0.36, 0.88}, {0.36, 0.98}, {0.36, 1.08}};
constexpr P link_end{1.60, 0.98}, arm_pivot{0.16, 1.22}, arm_end{0.86, 1.28}, rod_foot{1.00, 0.41};
constexpr P drawbar_end{1.06, 0.22}, cab_top{-0.26, 1.78}, cab_foot{-0.14, 1.26};

void draw_tractor_body(SketchBuilder& s) {
    s.line(Role::ground, {{-0.95, 0.0}, {2.15, 0.0}});
    s.circle(Role::tyre, hub, 0.55);
    s.shape(Role::tractor_outline, {{-0.70, 0.70}, {-0.70, 1.16}, {-0.10, 1.16}, {0.32, 1.12}, {0.32, 0.56}, {0.05, 0.42}, {-0.60, 0.55}});
    s.line(Role::frame, {{0.0, 1.2}, {0.0, -0.62}});
    s.bar(Role::drawbar, {0.05, 0.20}, {drawbar_end.x - 0.02, 0.20}, 0.04);
    s.bar(Role::lower_link, pivot, ball, 0.05);
    s.bar(Role::upper_link, holes[1], link_end, 0.04);
    s.circle(Role::pin, hub, 0.025);
    for (const P& hole : holes) s.pin(hole);
    for (const P& pin : {pivot, ball, link_end}) s.pin(pin);
}

CardSketch make_tractor_sketch(const std::vector<CardLine>& lines) {
    CardSketch sketch{Station::rear_axle, "Tractor from the left. Everything level is measured on the floor from the hub mark.", {}, {}};
    SketchBuilder s(lines, sketch, 0.05);
    draw_tractor_body(s);
    s.plumb({hub.x, 0.0}, hub, -0.84, {"tractor.tyre.rear_radius"});
    s.plumb({pivot.x, 0.0}, pivot, -0.30, {"tractor.lower_link.pivot_z"});
    s.level({0.0, 0.0}, {pivot.x, pivot.z}, -0.12, {"tractor.lower_link.pivot_x"});
    s.level({0.0, 0.0}, {holes[0].x, holes[0].z}, -0.26, {"tractor.upper_link_pin[].x"});
    s.plumb({1.3, 0.0}, holes[2], 1.98, {"tractor.upper_link_pin[].z"});
    s.along(pivot, ball, -0.13, {"tractor.lower_link.length"});
    s.along(holes[1], link_end, 0.16, {"tractor.upper_link.length_least", "tractor.upper_link.length_most", "choices.upper_link_length_now", "choices.upper_link_length"});
    s.point_out({1.10, 0.97}, {1.24, 0.80}, {"tractor.upper_link.advance_per_turn"});
    s.point_out(holes[2], {0.56, 1.44}, {"choices.upper_link_pin"});
    s.point_out(ball, {1.76, 0.26}, {"tractor.hitch.category", "tractor.hitch.lower_ball_bore"});
    s.point_out(link_end, {1.76, 0.86}, {"tractor.hitch.upper_pin_diameter"});
    if (s.has({"tractor.pto.stub_z"})) {
        s.bar(Role::pto_stub, {0.32, stub_end.z}, {stub_end.x - 0.02, stub_end.z}, 0.05);
        s.level({0.0, 0.0}, stub_end, -0.40, {"tractor.pto.stub_x"});
        s.plumb({1.3, 0.0}, stub_end, 1.36, {"tractor.pto.stub_z"});
        s.point_out(stub_end, {0.86, 0.80}, {"tractor.pto.type", "tractor.pto.splines", "tractor.pto.shaft_diameter", "tractor.pto.stub_slope"});
    }
    s.level({0.0, 0.0}, drawbar_end, -0.54, {"tractor.drawbar.end_x"});
    s.plumb({1.06, 0.0}, drawbar_end, 1.18, {"tractor.drawbar.end_z"});
    if (s.has({"tractor.cab_line[].x"})) {
        s.line(Role::obstacle, {cab_top, cab_foot});
        s.point_out(cab_top, {0.24, 1.76}, {"tractor.cab_line[].x", "tractor.cab_line[].z"});
    }
    if (s.has({"tractor.lift_arm.length", "tractor.lift_rod.length"})) {
        s.bar(Role::lift_arm, arm_pivot, arm_end, 0.045);
        s.bar(Role::lift_rod, arm_end, rod_foot, 0.025);
        for (const P& pin : {arm_pivot, arm_end, rod_foot}) s.pin(pin);
        s.point_out(arm_pivot, {-0.56, 1.40}, {"tractor.lift_arm.pivot_x", "tractor.lift_arm.pivot_z", "tractor.lift_arm.angle_low", "tractor.lift_arm.angle_high"});
        s.along(arm_pivot, arm_end, 0.36, {"tractor.lift_arm.length"});
        s.along(arm_end, rod_foot, 0.34, {"tractor.lift_rod.length"});
        s.along(pivot, rod_foot, 0.09, {"tractor.lift_rod.pin_along_link", "tractor.lift_rod_hole[].pin_along_link"});
    }
    return sketch;
}

// Lateral distances stand in the plan view: z of the drawing is to the right of the seat.
CardSketch make_plan_sketch(const std::vector<CardLine>& lines) {
    CardSketch sketch{Station::rear_axle, "The same from above: across the tractor.", {}, {}};
    SketchBuilder s(lines, sketch, 0.05);
    for (const double side : {-1.0, 1.0}) {
        s.shape(Role::tyre, {{-0.55, side * 0.62}, {0.55, side * 0.62}, {0.55, side * 0.94}, {-0.55, side * 0.94}});
        s.bar(Role::lower_link, {0.12, side * 0.24}, {1.10, side * 0.40}, 0.05);
        s.pin({0.12, side * 0.24});
        s.pin({1.10, side * 0.40});
    }
    s.shape(Role::tractor_outline, {{-0.75, -0.2}, {0.22, -0.2}, {0.22, 0.2}, {-0.75, 0.2}});
    s.line(Role::frame, {{-0.9, 0.0}, {1.45, 0.0}});
    s.plumb({0.3, 0.0}, {0.12, -0.24}, 0.36, {"tractor.lower_link.half_spread_at_pivot"});
    s.plumb({1.1, 0.0}, {1.10, 0.40}, 1.28, {"tractor.lower_link.half_spread_at_ball"});
    s.plumb({-0.55, -0.78}, {-0.55, 0.78}, -0.82, {"tractor.tyre.rear_track"});
    s.plumb({0.55, 0.62}, {0.55, 0.94}, 0.68, {"tractor.tyre.rear_width"});
    if (s.has({"tractor.pto.stub_y"})) {
        s.bar(Role::pto_stub, {0.22, 0.0}, {0.34, 0.0}, 0.06);
        s.point_out({0.36, 0.01}, {0.72, 0.14}, {"tractor.pto.stub_y", "tractor.pto.stub_plan_angle"});
    }
    if (s.has({"tractor.lift_arm.half_spread"})) {
        s.bar(Role::lift_arm, {0.10, -0.22}, {0.56, -0.26}, 0.04);
        s.point_out({0.56, -0.26}, {0.74, -0.52}, {"tractor.lift_arm.half_spread"});
    }
    return sketch;
}

// For a front pin that cannot be taped: the same ball at three heights.
CardSketch make_ball_sketch(const std::vector<CardLine>& lines) {
    constexpr P low{1.52, 0.24}, middle{1.58, 0.62}, high{1.42, 1.02}, front{0.16, 0.55};
    CardSketch sketch{Station::rear_axle, "The same ball at three heights or more, far apart: behind the hub mark, and above the floor.", {}, {}};
    SketchBuilder s(lines, sketch, 0.05);
    s.line(Role::ground, {{-0.7, 0.0}, {2.1, 0.0}});
    s.circle(Role::tyre, {0.0, 0.55}, 0.55);
    s.line(Role::frame, {{0.0, 1.2}, {0.0, -0.3}});
    for (const P& p : {low, high}) s.line(Role::ghost, {front, p});
    s.bar(Role::lower_link, front, middle, 0.05);
    for (const P& p : {front, low, middle, high}) s.pin(p);
    s.level({0.0, 0.0}, middle, -0.22, {"tractor.ball_reading[].x"});
    s.plumb({middle.x, 0.0}, middle, 1.86, {"tractor.ball_reading[].z"});
    s.point_out({0.5, 1.12}, {0.74, 1.26}, {"tractor.ball_reading[].arm_angle"});
    if (s.has({"tractor.ball_reading[].arm_angle"})) s.bar(Role::lift_arm, {0.10, 1.06}, {0.72, 1.12}, 0.045);
    return sketch;
}

CardSketch make_parts_sketch(const std::vector<CardLine>& lines) {
    constexpr P own{0.0, 0.0}, own_top{0.0, 0.46}, hook{0.16, 0.03}, top{0.15, 0.56};
    CardSketch sketch{Station::rear_axle, "Parts: link extender, coupler standing upright, part on the PTO stub.", {}, {}};
    SketchBuilder s(lines, sketch, 0.035);
    if (s.has({"link_extender.length"})) {
        s.bar(Role::lower_link, {-0.95, 0.0}, {-0.55, 0.0}, 0.04);
        for (const P& p : {P{-0.72, 0.0}, P{-0.55, 0.0}}) s.pin(p);
        s.level({-0.72, 0.0}, {-0.55, 0.0}, -0.14, {"link_extender.length"});
    }
    if (s.has({"coupler.set_back", "coupler.hook_height", "coupler.pin_height"})) {
        s.shape(Role::mast, {{-0.03, -0.05}, {-0.03, 0.50}, {0.05, 0.62}, {0.12, 0.62}, {0.08, 0.46}, {0.08, 0.06}, {0.12, -0.05}});
        for (const P& p : {own, own_top, hook, top}) s.pin(p);
        s.level(own, hook, -0.16, {"coupler.set_back"});
        s.point_out(hook, {0.30, -0.14}, {"coupler.hook_rise"});
        s.plumb(hook, top, 0.36, {"coupler.hook_height"});
        s.point_out(top, {0.24, 0.70}, {"coupler.hook_offset", "coupler.hook_depth"});
        s.plumb(own, own_top, -0.20, {"coupler.pin_height"});
        s.point_out(own_top, {-0.16, 0.62}, {"coupler.pin_offset"});
    }
    if (s.has({"overrunning_clutch.added_length", "spline_extender.added_length"})) {
        s.bar(Role::pto_stub, {0.62, 0.25}, {0.80, 0.25}, 0.05);
        s.bar(Role::pto_stub, {0.92, 0.25}, {1.06, 0.25}, 0.05);
        s.shape(Role::guard, {{0.70, 0.19}, {0.70, 0.31}, {0.94, 0.31}, {0.94, 0.19}});
        s.level({0.80, 0.25}, {1.06, 0.25}, 0.06, {"overrunning_clutch.added_length", "spline_extender.added_length"});
    }
    return sketch;
}

CardSketch make_implement_sketch(const std::vector<CardLine>& lines) {
    constexpr P pins{0.0, 0.0}, mast{0.06, 0.62}, input{0.42, 0.22}, deck_front{0.30, -0.10}, rear{1.90, -0.16};
    constexpr P wheel{1.90, -0.34};
    CardSketch sketch{Station::implement_pins, "Implement from the left, frame level. Everything is measured from the line of the lower pins.", {}, {}};
    SketchBuilder s(lines, sketch, 0.05);
    s.line(Role::ground, {{-0.3, -0.5}, {2.3, -0.5}});
    s.shape(Role::implement_outline, {{-0.04, -0.06}, {0.14, -0.06}, deck_front, {1.80, -0.10}, rear, {1.80, -0.24}, {0.34, -0.24}, {0.26, -0.20}, {0.10, 0.05}, {-0.04, 0.06}});
    s.shape(Role::mast, {{-0.03, 0.0}, {0.01, 0.70}, {0.11, 0.70}, {0.14, 0.0}});
    s.circle(Role::ground_contact, wheel, 0.16);
    for (const P& pin : {pins, mast, P{0.05, 0.52}, wheel}) s.pin(pin);
    s.plumb(pins, mast, -0.22, {"implement.mast_pin[].height"});
    s.level(pins, mast, 0.82, {"implement.mast_pin[].offset"});
    s.point_out(mast, {0.48, 0.66}, {"implement.upper_link_float.kind", "implement.upper_link_float.slack", "implement.upper_link_float.strap_length", "implement.hitch.upper_pin_diameter", "choices.mast_pin", "choices.upper_bushing"});
    s.point_out(pins, {-0.26, -0.22}, {"implement.hitch.category", "implement.hitch.lower_pin_diameter", "implement.hitch.shoulder_span", "choices.lower_bushings"});
    if (s.has({"implement.pic.x"})) {
        s.shape(Role::implement_outline, {{0.58, -0.10}, {0.58, 0.32}, {0.86, 0.32}, {0.86, -0.10}});
        s.bar(Role::input_shaft, {0.58, input.z}, {input.x + 0.02, input.z}, 0.05);
        s.level(pins, input, 0.42, {"implement.pic.x"});
        s.plumb(pins, input, 0.34, {"implement.pic.z"});
        s.point_out({0.50, input.z}, {1.20, 0.46}, {"implement.pic.type", "implement.pic.splines", "implement.pic.shaft_diameter", "implement.pic.slope"});
    }
    s.point_out(deck_front, {0.62, -0.17}, {"implement.point[].x", "implement.point[].z", "implement.point[].half_width"});
    s.level(pins, wheel, -0.66, {"implement.ground_contact[].x"});
    s.plumb(pins, wheel, 2.20, {"implement.ground_contact[].z"});
    s.point_out({1.80, -0.46}, {1.50, -0.38}, {"implement.ground_contact[].radius"});
    if (s.has({"implement.mass.cg_x"})) {
        add_shape(sketch.drawing, Role::pin, Marker{{1.10, -0.02}, MarkerForm::target, 2.4});
        s.level(pins, {1.10, -0.02}, -0.80, {"implement.mass.cg_x"});
        s.plumb(pins, {1.10, -0.02}, 1.36, {"implement.mass.cg_z"});
    }
    return sketch;
}

void draw_joint(SketchBuilder& s, P at, double toward) {
    s.shape(Role::joint, {{at.x - toward * 0.07, at.z - 0.03}, {at.x - toward * 0.07, at.z + 0.03}, {at.x + toward * 0.07, at.z + 0.03}, {at.x + toward * 0.07, at.z - 0.03}});
    s.pin(at);
}

// Above: closed, coupled to both machines' shafts. Below: pulled apart.
CardSketch make_shaft_sketch(const std::vector<CardLine>& lines) {
    constexpr P a{0.0, 0.0}, b{1.0, 0.0}, c{-0.12, -0.36}, d{1.42, -0.36};
    constexpr double root = 0.10, tube = 0.56;
    CardSketch sketch{Station::shaft, "Shaft, tractor end on the left. Above: pushed fully home. Below: pulled apart.", {}, {}};
    SketchBuilder s(lines, sketch, 0.035);
    s.bar(Role::shaft_implement_half, {0.30, 0.0}, {b.x, 0.0}, 0.05);
    s.bar(Role::shaft_tractor_half, a, {0.66, 0.0}, 0.07);
    s.shape(Role::guard, {{0.08, -0.07}, {0.08, 0.07}, {0.92, 0.07}, {0.92, -0.07}});
    s.bar(Role::pto_stub, {-0.24, 0.0}, {-0.09, 0.0}, 0.045);
    s.bar(Role::input_shaft, {1.09, 0.0}, {1.24, 0.0}, 0.045);
    draw_joint(s, a, 1.0);
    draw_joint(s, b, 1.0);
    s.level(a, b, 0.22, {"driveline.shaft.reference", "driveline.shaft.closed_length", "driveline.shaft.longest_usable"});
    s.level({-0.07, 0.0}, a, 0.14, {"driveline.tractor_joint.offset"});
    s.level(b, {1.07, 0.0}, 0.14, {"driveline.implement_joint.offset"});
    s.point_out({-0.01, -0.02}, {-0.16, -0.14}, {"driveline.tractor_joint.kind", "driveline.tractor_joint.spacing", "driveline.tractor_joint.centre_to_groove", "driveline.tractor_joint.centre_to_end", "driveline.tractor_joint.angle_most", "driveline.tractor_joint.splines"});
    s.point_out({1.01, -0.02}, {1.20, -0.14}, {"driveline.implement_joint.kind", "driveline.implement_joint.spacing", "driveline.implement_joint.centre_to_groove", "driveline.implement_joint.centre_to_end", "driveline.implement_joint.angle_most", "driveline.implement_joint.splines"});
    s.point_out({0.66, 0.07}, {0.80, 0.14}, {"driveline.guard.radius", "driveline.guard.closed_length", "driveline.guard.overlap_closed"});
    s.bar(Role::shaft_tractor_half, c, {c.x + root + tube, c.z}, 0.07);
    s.bar(Role::shaft_implement_half, {d.x - root - tube, d.z}, d, 0.05);
    draw_joint(s, c, 1.0);
    draw_joint(s, d, 1.0);
    s.level({c.x + root, c.z}, {c.x + root + tube, c.z}, -0.48, {"driveline.shaft.tractor_tube"});
    s.level({d.x - root - tube, d.z}, {d.x - root, d.z}, -0.48, {"driveline.shaft.implement_tube"});
    s.point_out({c.x, c.z + 0.03}, {0.30, -0.20}, {"driveline.shaft.yoke_phase_error"});
    return sketch;
}

CardSketch make_coupled_sketch(const std::vector<CardLine>& lines) {
    constexpr P low{1.08, 0.18}, work{1.10, 0.42}, high{1.02, 0.86};
    CardSketch sketch{Station::coupled, "Three heights of the lower hitch point, each with the engine off.", {}, {}};
    SketchBuilder s(lines, sketch, 0.05);
    s.line(Role::ground, {{-0.75, 0.0}, {2.2, 0.0}});
    s.circle(Role::tyre, hub, 0.55);
    s.shape(Role::tractor_outline, {{-0.62, 0.70}, {-0.62, 1.10}, {-0.05, 1.10}, {0.22, 1.06}, {0.22, 0.50}, {0.0, 0.42}, {-0.55, 0.55}});
    for (const P& p : {low, high}) s.line(Role::ghost, {pivot, p});
    s.bar(Role::lower_link, pivot, work, 0.05);
    for (const P& p : {pivot, low, work, high}) s.pin(p);
    s.plumb({low.x, 0.0}, low, 1.34, {"tractor.travel.ball_height_low"});
    s.plumb({work.x, 0.0}, work, 1.60, {"choices.working_ball_height", "choices.working_band_low", "choices.working_band_high"});
    s.plumb({high.x, 0.0}, high, 1.86, {"tractor.travel.ball_height_high", "choices.lift_stop", "choices.lower_stop"});
    s.point_out(work, {0.80, 0.56}, {"choices.working_pitch"});
    if (s.has({"direct_reading[].distance"})) {
        constexpr P stub{0.40, 0.70}, input{1.34, 0.80};
        s.bar(Role::pto_stub, {0.22, stub.z}, {stub.x - 0.02, stub.z}, 0.05);
        s.bar(Role::input_shaft, {input.x + 0.02, input.z}, {1.52, input.z}, 0.05);
        s.along(stub, input, 0.26, {"direct_reading[].distance"});
        s.point_out(low, {0.78, 0.10}, {"direct_reading[].ball_height"});
        s.point_out(input, {1.62, 1.04}, {"direct_reading[].reference"});
    }
    return sketch;
}

bool has_group(const std::vector<CardLine>& lines, Station group) {
    for (const CardLine& line : lines) {
        if (find_group(line.station) == group) return true;
    }
    return false;
}

}  // namespace

Station find_group(Station station) {
    if (station < Station::implement_pins) return Station::rear_axle;
    if (station < Station::shaft) return Station::implement_pins;
    return station;
}

namespace {

std::vector<CardSketch> make_all(const std::vector<CardLine>& lines, bool drawn) {
    if (!drawn)
        return {make_tractor_sketch(lines), make_plan_sketch(lines),      make_ball_sketch(lines),
                make_parts_sketch(lines),   make_implement_sketch(lines), make_shaft_sketch(lines),
                make_coupled_sketch(lines)};
    std::vector<CardSketch> all = make_drawn_sketches(lines);
    all.push_back(make_parts_sketch(lines));
    all.push_back(make_shaft_sketch(lines));
    return all;
}

}  // namespace

std::vector<CardSketch> make_card_sketches(const std::vector<CardLine>& lines) {
    std::vector<CardSketch> sketches;
    for (CardSketch& sketch : make_all(lines, is_drawn_card(lines))) {
        if (has_group(lines, sketch.group) && !sketch.numbers.empty()) sketches.push_back(std::move(sketch));
    }
    return sketches;
}

std::optional<CardSketch> make_sketch_of(std::string_view pattern, bool drawn) {
    // What the other lines show stays in the picture, without its arrow.
    std::vector<CardLine> lines = list_card_lines(make_blank_setup(true, drawn ? Attachment::drawn : Attachment::mounted));
    for (CardLine& line : lines) line.number = 0;
    CardLine& own = lines.emplace_back();
    own.number = 1;
    own.pattern = pattern;
    for (CardSketch& sketch : make_all(lines, drawn)) {
        // cppcheck-suppress returnStdMoveLocal ; a reference: without it the sketch would be copied
        if (!sketch.numbers.empty()) return std::move(sketch);
    }
    return std::nullopt;
}

}  // namespace hitchwright
