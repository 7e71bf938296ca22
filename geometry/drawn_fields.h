// The fields of drawn machines: key, dimension, range, usual error, how to measure. Part of the list in setup_fields.h,
// which describes the visitor. Ranges are limits of the possible, not of the usual.
#pragma once

#include <vector>

#include "geometry/drawn_readings.h"
#include "geometry/field_spec.h"

namespace hitchwright {

namespace field {
inline constexpr ChoiceName<DrawnHitchKind> drawn_hitch_kinds[] = {
    {"unknown", DrawnHitchKind::unknown}, {"ball", DrawnHitchKind::ball}, {"clevis", DrawnHitchKind::clevis}};
}  // namespace field

/// Members of the drawbar that only drawn implements need.
template <class V>
void visit_drawbar(DrawbarReadings& d, V&& v) {
    using namespace field;
    stand_at(v, Station::drawbar, Asked::always, Hitched::drawn);
    v.reading("top_height", d.top_height, length(0.05, 1.5, floor_error, Need::optional, "floor to the top of the drawbar at the pin, implement hitched"));
    v.reading("drop", d.drop, length(-0.2, 1, pin_error, Need::optional, "centre of the PTO stub down to the top of the drawbar, plumb; instead of top_height").when(Asked::height_by_drop));
    v.reading("articulation_above_top", d.articulation_above_top, length(-0.2, 0.4, pin_error, Need::optional, "top of the drawbar to the middle of the hitch joint (ball centre, or half the tongue's eye), above positive"));
    v.reading("adapter_length", d.adapter_length, length(0, 0.5, pin_error, Need::optional, "adapter or extender on the stub: end of the stub to its own end; the lengths of the pins then count from there"));
}

/// [[drawbar_pin]], one for each hole or position of the drawbar.
template <class V>
void visit_drawbar_pins(std::vector<DrawbarPin>& pins, V&& v) {
    using namespace field;
    stand_at(v, Station::drawbar, Asked::always, Hitched::drawn);
    v.list("drawbar_pin", pins, [](DrawbarPin& p, auto& i) {
        i.text("name", p.name, "name or number of the position");
        i.reading("length", p.length, length(0.1, 1.5, pin_error, Need::file, "straight edge on the PTO stub's end (with an adapter: the adapter's end): level to the pin centre"));
        i.reading("top_height", p.top_height, length(0.05, 1.5, floor_error, Need::optional, "floor to the top of the drawbar in this position, when it differs (drawbar turned over)"));
        i.reading("vertical_load_most", p.vertical_load_most, {Dimension::mass, 20, 20000, 0, Need::optional, "greatest vertical load in this position, from the tractor's manual or plate"});
    }, "each position of the drawbar's pin");
}

/// Members of [tyre] about the front axle.
template <class V>
void visit_front_axle(FrontAxleReadings& f, V&& v) {
    using namespace field;
    stand_at(v, Station::front_axle, Asked::ditch, Hitched::drawn);
    v.reading("front_width", f.width, length(0.05, 1, inch / 4, Need::optional, "width of the front tyre at its widest"));
    v.reading("front_track", f.track, length(0.3, 4, inch / 4, Need::optional, "middle of the left to middle of the right front tyre, wheels straight"));
    v.reading("front_pivot_height", f.pivot_height, length(0.1, 2, inch / 4, Need::optional, "floor to the pin the front axle rocks on"));
}

/// [steering]
template <class V>
void visit_steering(SteeringReadings& s, V&& v) {
    using namespace field;
    stand_at(v, Station::way, Asked::always, Hitched::drawn);
    v.table("steering", [&](auto& t) {
        t.reading("least_radius", s.least_radius, length(0.5, 15, 0.1, Need::optional, "drive the tightest circle, no brakes: half the distance across between tracks of the middle of the rear axle"));
    });
}

/// [drawn], [[tongue_bar]] and [steady_bearing] of an implement file.
template <class V>
void visit_drawn_implement(DrawnImplementReadings& d, V&& v) {
    using namespace field;
    stand_at(v, Station::hitch_joint, Asked::always, Hitched::drawn);
    v.table("drawn", [&](auto& t) {
        t.choice("hitch", d.hitch, drawn_hitch_kinds, "ball: pitches and rolls freely on the drawbar; clevis: only by its free play");
        t.reading("pitch_play", d.pitch_play, angle(0, 60, Need::optional, "clevis: tongue lifted and let down by hand or jack, angle finder on it; half the range").when(Asked::clevis));
        t.reading("roll_play", d.roll_play, angle(0, 60, Need::optional, "clevis: tongue twisted against the drawbar; half the range").when(Asked::clevis));
        t.reading("vertical_load", d.vertical_load, {Dimension::mass, 0, 20000, 0, Need::optional, "weigh under the hitch, implement level and loaded"});
    });
    stand_at(v, Station::tongue, Asked::as_found, Hitched::drawn);
    v.list("tongue_bar", d.bars, [](PlanBar& b, auto& i) {
        i.text("name", b.name, "tongue, frame, or what it is");
        i.reading("front_x", b.front_x, length(-1, 10, inch / 4, Need::file, "hitch pin to the front end of the bar, behind positive"));
        i.reading("front_y", b.front_y, length(-5, 5, inch / 4, Need::optional, "middle of its front end to the right of the hitch pin"));
        i.reading("rear_x", b.rear_x, length(-1, 15, inch / 4, Need::file, "hitch pin to the rear end of the bar"));
        i.reading("rear_y", b.rear_y, length(-5, 5, inch / 4, Need::optional, "middle of its rear end to the right of the hitch pin"));
        i.reading("width", b.width, length(0, 10, inch / 4, Need::file, "width of the bar, with hoses, jack and guards on it"));
    }, "straight bars of the tongue and frame, from above, that a tyre could meet in a turn");
    stand_at(v, Station::input, Asked::steady_bearing, Hitched::drawn);
    v.optional_table("steady_bearing", d.steady_bearing.fitted, [&](auto& b) {
        SteadyBearingReadings& s = d.steady_bearing;
        b.reading("x", s.x, length(-1, 8, frame_error, Need::part, "hitch pin to the front end of the bearing's shaft, behind positive"));
        b.reading("y", s.y, length(-2, 2, frame_error, Need::optional, "front end of the bearing's shaft to the right of the hitch pin"));
        b.reading("z", s.z, length(-1, 2, frame_error, Need::part, "front end of the bearing's shaft above the middle of the hitch joint"));
        b.reading("rear_joint_offset", s.rear_joint_offset, length(-0.2, 0.6, floor_error, Need::part, "end of the input shaft to the centre of the joint of the fixed shaft, along the axis"));
        b.reading("phase", s.phase, {Dimension::angle, -90 * degree, 90 * degree, 2 * degree, Need::optional, "turn of one yoke of the fixed shaft against the other; ears in one plane is 0"});
    });
}

/// Choices of a drawn set-up.
template <class V>
void visit_drawn_choices(DrawnChoices& c, V&& v) {
    using namespace field;
    stand_at(v, Station::drawbar, Asked::always, Hitched::drawn);
    v.text("drawbar_pin", c.drawbar_pin, "name of the drawbar position the implement is hitched in");
    stand_at(v, Station::way, Asked::always, Hitched::drawn);
    v.reading("turn_left_most", c.turn_left_most, angle(0, 175, Need::optional, "sharpest left turn driven, tractor against tongue; absent: the rule set's"));
    v.reading("turn_right_most", c.turn_right_most, angle(0, 175, Need::optional, "sharpest right turn driven; absent: the rule set's"));
    v.reading("pitch_up_most", c.pitch_up_most, angle(0, 80, Need::optional, "rear of the implement up against the tractor, at most; absent: the rule set's, a clevis narrows it"));
    v.reading("pitch_down_most", c.pitch_down_most, angle(0, 80, Need::optional, "rear of the implement down against the tractor, at most"));
    v.reading("roll_most", c.roll_most, angle(0, 60, Need::optional, "roll of the implement against the tractor either way, at most"));
    stand_at(v, Station::way, Asked::ditch, Hitched::drawn);
    v.table("ditch", [&](auto& t) {
        t.reading("depth", c.ditch.depth, length(-3, 3, 0, Need::optional, "depth of the ditch below the ground; a ridge or bank is negative"));
        t.reading("bottom_width", c.ditch.bottom_width, length(0, 30, 0, Need::optional, "width of its bottom (of the ridge's top), square to the ditch"));
        t.reading("side_slope", c.ditch.side_slope, {Dimension::angle, 0, 80 * degree, 0, Need::optional, "slope of its sides against level"});
        t.reading("crossing_angle", c.ditch.crossing_angle, {Dimension::angle, 5 * degree, 175 * degree, 0, Need::optional, "angle between the way and the line of the ditch; square is 90 deg, above 90 the left wheels come first"});
    });
    stand_at(v, Station::way, Asked::if_known, Hitched::drawn);
    v.list("ditch_point", c.ditch.points, [](GroundPoint& p, auto& i) {
        i.text("name", p.name, "any name");
        i.reading("x", p.x, length(-50, 50, 0, Need::file, "along a line square to the ditch, rising"));
        i.reading("z", p.z, length(-5, 5, 0, Need::file, "height of the ground there; level beyond the first and last point"));
    }, "points of the ground instead of depth, width and slope");
}

}  // namespace hitchwright
