#include "tests/geometry/sample_setup.h"

#include <cmath>

#include "geometry/angle.h"

namespace hitchwright::test {

LowerLinkReadings make_lower_link(double pivot_x, double pivot_z, double projected, double spread_at_pivot,
                                  double spread_at_ball) {
    const double length = std::hypot(projected, spread_at_ball - spread_at_pivot);
    return {known(pivot_x), known(pivot_z), known(length), known(spread_at_pivot), known(spread_at_ball)};
}

RuleSet make_general_rules() {
    RuleSet r;
    r.key = "general";
    r.name = "general";
    r.gap_required = limit(0.0254);
    r.gap_aimed = limit(0.040);
    r.overlap_least = limit(0.150);
    r.overlap_fraction = limit(1.0 / 3.0);
    r.overlap_fraction_aimed = limit(0.5);
    r.angle_free = limit(to_radians(25.0));
    r.angle_pto_off = limit(to_radians(35.0));
    r.angle_stop = limit(to_radians(45.0));
    r.angle_watch = limit(to_radians(15.0));
    r.non_uniformity = limit(0.03);
    r.clearance = limit(0.025);
    return r;
}

Tractor make_tractor_a() {
    Tractor t;
    t.key = t.name = "tractor of linkage A";
    t.lower_link = make_lower_link(0.0, 0.500, 0.885, 0.210, 0.4125);
    t.upper_link_pins = {{"1", known(0.240), known(0.960)}};
    t.travel = {known(0.200), known(0.950)};
    t.pto.stub_x = known(0.350);
    t.pto.stub_z = known(0.600);
    return t;
}

void add_lift_a(Tractor& t, double angle_low_deg, double angle_high_deg) {
    const double share = 0.430 / 0.885;
    const double pin_spread = 0.210 + (0.4125 - 0.210) * share;
    t.lift_arm = {known(0.110), known(1.010), known(0.280), known(0.250), known(to_radians(angle_low_deg)),
                  known(to_radians(angle_high_deg))};
    t.lift_rod.length = known(std::hypot(0.600, pin_spread - 0.250));
    t.lift_rod.pin_along_link = known(share * t.lower_link.length.value);
}

Implement make_implement_a() {
    Implement m;
    m.key = m.name = "implement on linkage A";
    m.mast_pins = {{"1", known(0.610), known(0.0)}};
    m.pic.fitted = true;
    m.pic.x = known(0.500);
    m.pic.z = known(0.250);
    m.work.ball_height = known(0.300);
    return m;
}

Driveline make_driveline_a() {
    Driveline d;
    d.key = d.name = "shaft";
    d.closed_length = known(0.800);
    d.tractor_tube = known(0.500);
    d.implement_tube = known(0.450);
    d.tractor_joint.offset = known(0.030);
    d.implement_joint.offset = known(0.030);
    return d;
}

Setup make_setup_a() {
    Setup s;
    s.key = s.name = "linkage A";
    s.tractor = make_tractor_a();
    s.implement = make_implement_a();
    s.has_driveline = true;
    s.driveline = make_driveline_a();
    s.rules = make_general_rules();
    s.choices.upper_link_length = known(0.660);
    return s;
}

}  // namespace hitchwright::test
