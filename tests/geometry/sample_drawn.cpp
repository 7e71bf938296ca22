#include "tests/geometry/sample_drawn.h"

#include "geometry/angle.h"

namespace hitchwright::test {

RuleSet make_drawn_rules() {
    RuleSet r = make_general_rules();
    r.key = r.name = "drawn machine";
    r.gap_required = limit(0.025);
    r.turn_plain = limit(to_radians(35.0));
    r.turn_wide_angle = limit(to_radians(80.0));
    r.relative_pitch = limit(to_radians(25.0));
    return r;
}

Tractor make_drawing_tractor() {
    Tractor t;
    t.key = t.name = "tractor with drawbar";
    t.pto.type = PtoType::type1;
    t.pto.stub_x = known(0.350);
    t.pto.stub_z = known(0.640);
    t.drawbar.top_height = known(0.430);
    t.drawbar.articulation_above_top = known(0.020);
    t.drawbar_pins = {{"short", known(0.280), Reading{}, known(900.0)},
                      {"middle", known(0.360), Reading{}, known(750.0)},
                      {"long", known(0.440), Reading{}, known(600.0)}};
    t.tyre = {known(0.740), known(0.430), known(1.600), known(0.500)};
    t.front_axle = {known(0.300), known(1.500), known(0.520)};
    t.mass.wheelbase = known(2.200);
    return t;
}

Implement make_drawn_cutter() {
    Implement m;
    m.key = m.name = "drawn cutter";
    m.attachment = Attachment::drawn;
    m.pic.fitted = true;
    m.pic.x = known(0.530);
    m.pic.z = known(0.170);
    m.ground_contacts = {{"wheels", known(3.500), known(-0.100), known(0.350), known(1.200)}};
    m.drawn.hitch = DrawnHitchKind::ball;
    m.drawn.vertical_load = known(600.0);
    m.drawn.bars = {{"tongue", known(-0.100), known(0.0), known(2.200), known(0.0), known(0.200)},
                    {"frame", known(2.200), known(0.0), known(3.600), known(0.0), known(3.000)}};
    return m;
}

Driveline make_drawn_driveline() {
    Driveline d;
    d.key = d.name = "drawn shaft";
    d.closed_length = known(0.640);
    d.tractor_tube = known(0.420);
    d.implement_tube = known(0.400);
    d.tractor_joint.offset = known(0.030);
    d.implement_joint.offset = known(0.030);
    return d;
}

Setup make_drawn_setup() {
    Setup s;
    s.key = s.name = "drawn";
    s.tractor = make_drawing_tractor();
    s.implement = make_drawn_cutter();
    s.has_driveline = true;
    s.driveline = make_drawn_driveline();
    s.rules = make_drawn_rules();
    s.choices.drawn.drawbar_pin = "middle";
    return s;
}

void make_tractor_joint_wide(Setup& s, double spacing) {
    s.driveline.tractor_joint.kind = JointKind::wide_angle;
    s.driveline.tractor_joint.spacing = known(spacing);
}

}  // namespace hitchwright::test
