// See sample_scene.h. Inches and degrees here, as on the sheet they were made up on; all figures are invented.
#include "tests/report/sample_scene.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hitchwright::sample {
namespace {

constexpr double inch = 0.0254;
constexpr double degree = std::numbers::pi / 180.0;

DrawingPoint at(double x, double z) { return {x * inch, z * inch}; }

struct Machine {
    DrawingPoint pivot, stub;
    double link = 0.0;
    std::vector<PinHole> pins;
    double tyre = 0.0;
    DrawingPoint arm_pivot;
    double arm = 0.0, rod = 0.0, rod_share = 0.0;
    double mast = 0.0;
    std::vector<DrawingPoint> outline;  // frame I, m
    std::vector<ContactWheel> wheels;   // frame I
    bool has_input = false;
    DrawingPoint input;  // frame I
    double upper_link = 0.0;
};

DrawingPoint chosen_pin(const Machine& m) {
    return std::find_if(m.pins.begin(), m.pins.end(), [](const PinHole& p) { return p.chosen; })->at;
}

/// Crossing of two circles on the left of the line a-b.
DrawingPoint crossing(DrawingPoint a, double ra, DrawingPoint b, double rb) {
    const double d = std::hypot(b.x - a.x, b.z - a.z);
    const double along = (d * d + ra * ra - rb * rb) / (2.0 * d);
    return point_along(a, b, along, std::sqrt(std::max(ra * ra - along * along, 0.0)));
}

DrawingPoint turned(DrawingPoint origin, DrawingPoint p, double pitch) {
    return {origin.x + p.x * std::cos(pitch) - p.z * std::sin(pitch),
            origin.z + p.x * std::sin(pitch) + p.z * std::cos(pitch)};
}

DrawingPoint ball_at(const Machine& m, double h) {
    const double rise = h - m.pivot.z;
    return {m.pivot.x + std::sqrt(m.link * m.link - rise * rise), h};
}

PoseView pose_at(const Machine& m, double h) {
    PoseView pose;
    const DrawingPoint ball = ball_at(m, h);
    const DrawingPoint top = crossing(chosen_pin(m), m.upper_link, ball, m.mast);
    pose.lower_hitch_point = ball;
    pose.upper_hitch_point = top;
    pose.pitch = std::atan2(top.z - ball.z, top.x - ball.x) - std::numbers::pi / 2.0;
    pose.mast_pins = {{top, "1", true}};
    std::vector<DrawingPoint> outline;
    for (const DrawingPoint& p : m.outline) outline.push_back(turned(ball, p, pose.pitch));
    pose.outlines = {outline};
    for (const ContactWheel& w : m.wheels) pose.wheels.push_back({turned(ball, w.centre, pose.pitch), w.radius});
    const double share = m.rod_share;
    const DrawingPoint rod_pin{m.pivot.x + share * (ball.x - m.pivot.x), m.pivot.z + share * (ball.z - m.pivot.z)};
    pose.lift = LiftParts{m.arm_pivot, crossing(m.arm_pivot, m.arm, rod_pin, m.rod), rod_pin};
    if (!m.has_input) return pose;
    pose.input_shaft_end = turned(ball, m.input, pose.pitch);
    pose.tractor_joint = DrawingPoint{m.stub.x + 1.25 * inch, m.stub.z};
    pose.implement_joint = turned(ball, {m.input.x - 1.25 * inch, m.input.z}, pose.pitch);
    const double dx = pose.implement_joint->x - pose.tractor_joint->x,
                 dz = pose.implement_joint->z - pose.tractor_joint->z;
    pose.shaft_length = std::hypot(dx, dz);
    pose.tractor_joint_angle = std::fabs(std::atan2(dz, dx));
    pose.implement_joint_angle = std::fabs(std::atan2(dz, dx) - pose.pitch);
    return pose;
}

/// Upper link that stands the mast upright at the working height.
void set_level(Machine& m, double h) {
    const DrawingPoint ball = ball_at(m, h), pin = chosen_pin(m);
    m.upper_link = std::hypot(ball.x - pin.x, ball.z + m.mast - pin.z);
}

SideViewScene scene_of(Machine& m, double low, double work, double high) {
    set_level(m, work);
    SideViewScene scene;
    TractorView tractor;
    tractor.rear_tyre_radius = m.tyre;
    tractor.lower_link_pivot = m.pivot;
    tractor.upper_link_pins = m.pins;
    tractor.pto_stub_end = m.stub;
    scene.tractor = tractor;
    scene.working = pose_at(m, work);
    scene.lifted = pose_at(m, high);
    scene.upper_link_length = m.upper_link;
    for (int i = 0; i <= 40; ++i) {
        const PoseView pose = pose_at(m, low + (high - low) * i / 40.0);
        scene.ball_travel.push_back(pose.lower_hitch_point);
        if (pose.implement_joint) scene.joint_travel.push_back(*pose.implement_joint);
    }
    scene.cautions = {
        "Both tubes and both guards are cut alike. Too short can part and flail; too long breaks bearings and "
        "housings.",
        "Tug both ends after latching. Do not cut before a direct measurement agrees."};
    return scene;
}

Machine compact() {
    Machine m;
    m.pivot = at(1.5, 14.5);
    m.link = 29.6 * inch;
    m.stub = at(11, 21);
    m.tyre = 21 * inch;
    m.pins = {{at(8, 30), "1", false}, {at(8, 32), "2", true}, {at(8, 34), "3", false}};
    m.arm_pivot = at(5.5, 30.5);
    m.arm = 14 * inch;
    m.rod = 16.5 * inch;
    m.rod_share = 0.6;
    m.mast = 18 * inch;
    return m;
}

Machine utility() {
    Machine m;
    m.pivot = at(2, 19);
    m.link = 34.5 * inch;
    m.stub = at(14, 26);
    m.tyre = 29 * inch;
    m.pins = {
        {at(11, 35.5), "1", false}, {at(11, 38), "2", false}, {at(11, 40.5), "3", false}, {at(11, 43), "4", true}};
    m.arm_pivot = at(8, 38.5);
    m.arm = 15 * inch;
    m.rod = 21 * inch;
    m.rod_share = 0.58;
    m.mast = 24 * inch;
    return m;
}

}  // namespace

SideViewScene compact_tiller() {
    Machine m = compact();
    m.outline = {at(3, 4), at(6, 9), at(22, 9), at(30, 2), at(30, -11), at(22, -14), at(6, -10)};
    m.has_input = true;
    m.input = at(12, 9);
    SideViewScene scene = scene_of(m, 8 * inch, 15 * inch, 33 * inch);
    scene.verdict = Verdict::fits_after_change;
    scene.verdict_sentence =
        "Cut 3 5/8 in from each half (both tubes, both guards): the shaft bottoms out by 1 1/16 in at a ball height of "
        "20 3/4 in.";
    scene.subtitle = "Compact tractor, hole 2; tiller 5 ft, mast hole 1; shaft 31 in closed; rules: general";
    const TelescopingHalves halves{31 * inch, 19 * inch, 19 * inch};
    const TelescopingHalves after{27.375 * inch, 15.375 * inch, 15.375 * inch};
    const double shortest = 29.5 * inch, longest = 33.1 * inch;
    ShaftView shaft{halves, true, 2.0 * inch, {}};
    shaft.rows = {
        {"Shortest, as it is",
         "ball height 20 3/4 in",
         shortest,
         halves,
         1.0 * inch,
         std::nullopt,
         {3.625 * inch, 3.625 * inch}},
        {"Shortest, after the cut", "ball height 20 3/4 in", shortest, after, 1.0 * inch, std::nullopt, {}},
        {"Longest, after the cut", "hitch fully up, ball height 33 in", longest, after, std::nullopt, 6.0 * inch, {}}};
    scene.shaft = shaft;
    return scene;
}

SideViewScene utility_cutter() {
    Machine m = utility();
    m.outline = {at(4, 0), at(4, -5), at(84, -5), at(84, 1), at(60, 4), at(20, 4)};
    m.wheels = {{at(98, -6), 5.0 * inch}};
    m.has_input = true;
    m.input = at(28, 10);
    SideViewScene scene = scene_of(m, 8 * inch, 11 * inch, 38 * inch);
    scene.verdict = Verdict::fits;
    scene.verdict_sentence =
        "Fits with the lift stop at a ball height of 29 3/8 in; PTO off above 26 3/4 in (front joint passes 25 deg).";
    scene.subtitle = "Utility tractor, hole 4; rotary cutter 7 ft, mast hole 1; shaft 43 in closed; rules: general";
    scene.tractor->drawbar_end = at(20, 17);
    scene.tractor->cab_line = {at(-6, 80), at(6, 66), at(9, 50)};
    const TelescopingHalves halves{43 * inch, 32 * inch, 28 * inch};
    ShaftView shaft{halves, false, 2.2 * inch, {}};
    shaft.rows = {
        {"Shortest", "ball height 23 1/4 in", 45.3 * inch, halves, 1.0 * inch, std::nullopt, {}},
        {"Longest", "hitch fully down, ball height 8 in", 49.9 * inch, halves, std::nullopt, 10.667 * inch, {}}};
    scene.shaft = shaft;
    scene.clearances = {{at(52, 19.4), scene.working->outlines[0][5], 4.37 * inch, 1.0 * inch, "guard to deck lip"}};
    scene.notes = {"The implement's outline is drawn through the points measured on it."};
    return scene;
}

SideViewScene compact_blade() {
    Machine m = compact();
    m.outline = {at(1, 0), at(13, -16), at(26, -16), at(28, -2)};
    SideViewScene scene = scene_of(m, 8 * inch, 16 * inch, 33 * inch);
    scene.verdict = Verdict::fits;
    scene.verdict_sentence = "Runs level with the upper link at 24 1/8 in.";
    scene.subtitle = "Compact tractor, hole 2; box blade 5 ft, mast hole 1; no shaft; rules: general";
    scene.tractor->pto_stub_end.reset();
    scene.cautions = {};
    return scene;
}

SideViewScene compact_flail() {
    Machine m = compact();
    m.outline = {at(2, 2), at(10, 12), at(24, 12), at(34, 0), at(34, -10), at(4, -12)};
    m.wheels = {{at(36, -10), 3.0 * inch}};
    m.has_input = true;
    m.input = at(14, 11);
    SideViewScene scene = scene_of(m, 8 * inch, 14 * inch, 28 * inch);
    scene.units = UnitSystem::millimetre;
    scene.verdict = Verdict::must_not_run;
    scene.verdict_sentence =
        "The shaft comes apart: at the longest point the halves are 36 mm short of meeting. No cut can help; order one "
        "that is at most 760 mm closed and at least 920 mm extended.";
    scene.subtitle = "Compact tractor, hole 3; flail mower 5 ft, mast hole 1; shaft 24 in closed; rules: general";
    const TelescopingHalves halves{24 * inch, 10 * inch, 9 * inch};
    ShaftView shaft{halves, true, std::nullopt, {}};
    shaft.rows = {
        {"Shortest", "ball height 530 mm", 30.5 * inch, halves, 1.0 * inch, std::nullopt, {}},
        {"Longest", "hitch fully down, ball height 203 mm", 34.4 * inch, halves, std::nullopt, 6.0 * inch, {}}};
    scene.shaft = shaft;
    return scene;
}

}  // namespace hitchwright::sample
