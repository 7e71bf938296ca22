#include "tests/properties/any_setup.h"

#include <algorithm>
#include <limits>
#include <ostream>

#include "geometry/angle.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/geometry/sample_setup.h"

namespace properties {

using namespace hitchwright;
using hitchwright::test::known;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

void add_floating_link(Setup& s) {
    s.implement.upper_link_float.kind = UpperLinkKind::slot;
    s.implement.upper_link_float.slack = known(0.05);
    s.implement.ground_contacts = {GroundContact{"wheel", known(1.6), known(-0.1), known(0.15)}};
}

void add_unlike_rods(Setup& s) {
    hitchwright::test::add_lift_a(s.tractor, -40.0, 40.0);
    s.choices.left_lift_rod_length = s.choices.right_lift_rod_length = s.tractor.lift_rod.length;
    s.choices.left_lift_rod_length.value += 0.015;
    s.tractor.sway.total_at_ball = known(0.03);
}

/// Everything that clearances, loads, guards and the lift are judged by.
void equip(Setup& s) {
    Tractor& t = s.tractor;
    hitchwright::test::add_lift_a(t, -40.0, 40.0);
    t.upper_link = {known(0.45), known(0.75), known(0.005)};
    t.tyre = {known(0.74), known(0.43), known(1.6), known(0.5), known(1500.0), known(4000.0)};
    t.front_axle = {known(0.3), known(1.5), known(0.52)};
    t.mass = {known(3000.0), known(0.4), known(2.3), known(15000.0), known(18000.0), known(2500.0), known(4500.0), known(6000.0)};
    t.lift_cylinder = {known(-0.3), known(0.9), known(0.12), known(0.5), known(0.08), known(1.8e7), known(0.9), 1};
    t.cab_line = {{"top", known(-0.3), known(2.1)}, {"bottom", known(-0.1), known(1.2)}};
    t.drawbar.end_x = known(0.45);
    t.drawbar.end_z = known(0.3);
    Implement& m = s.implement;
    m.mass = {known(500.0), known(0.6), known(0.3)};
    m.points = {ImplementPoint{"edge", known(0.2), known(0.0), Reading{}, true},
                ImplementPoint{"top", known(0.3), known(0.8), known(0.7), false}};
    m.ground_contacts = {GroundContact{"wheel", known(1.6), known(-0.1), known(0.15)}};
    Driveline& d = s.driveline;
    d.guard_radius = known(0.07);
    d.guard_closed_length = known(0.78);
    d.guard_overlap_closed = known(0.4);
    s.choices.upper_link_length_now = known(0.64);
    s.choices.cut_tractor_half = known(0.05);
    s.choices.cut_implement_half = known(0.05);
    for (Reading* r : {&t.lower_link.pivot_x, &t.pto.stub_x, &m.pic.z, &d.closed_length}) r->tolerance = 0.003;
}

void add_ditch(Setup& s) {
    s.choices.drawn.ditch.depth = known(0.4);
    s.choices.drawn.ditch.bottom_width = known(0.5);
    s.choices.drawn.ditch.side_slope = known(to_radians(30.0));
}

double draw_hostile() {
    return *rc::gen::element(0.0, -1.0, std::numeric_limits<double>::quiet_NaN(), infinity, -infinity, 1e308, -1e308, 1e160, 1e30, 1e9, -1e9,
                             1e-9, 1e-160, 1e-308, 5e-324, -5e-324, std::numeric_limits<double>::epsilon());
}

/// Within its possible range, mostly near what it was; hundredths, so that it shrinks to a plain number.
double draw_possible(const Reading& was, const FieldSpec& spec) {
    const double share = *rc::gen::inRange(-50, 51) / 100.0;
    const double reach = *rc::gen::element(0.02, 0.2, 1.0);
    const double middle = was.known ? was.value : 0.5 * (spec.least + spec.most);
    return std::clamp(middle + share * reach * (spec.most - spec.least), spec.least, spec.most);
}

struct Field {
    std::string key;
    Reading reading;
    FieldSpec spec;
};

std::vector<Field> list_fields(Start start) {
    Setup s = make_start(start);
    std::vector<Field> all;
    visit_readings(s, [&](const std::string& key, const Reading& r, const FieldSpec& spec) { all.push_back({key, r, spec}); });
    return all;
}

rc::Gen<Change> any_change(Start start, Values values) {
    return rc::gen::exec([start, values] {
        const std::vector<Field> fields = list_fields(start);
        const Field& f = fields[*rc::gen::inRange<std::size_t>(0, fields.size())];
        Change c{f.key};
        const bool hostile = values == Values::hostile;
        const int kind = *rc::gen::inRange(0, 10);
        c.missing = kind == 9;
        c.value = hostile && kind > 3 ? draw_hostile() : draw_possible(f.reading, f.spec);
        c.tolerance = kind % 2 == 0 ? f.spec.tolerance : hostile && kind == 7 ? draw_hostile() : 0.0;
        return c;
    });
}

}  // namespace

Setup make_start(Start start) {
    const bool is_drawn = start == Start::drawn || start == Start::drawn_wide_angle || start == Start::drawn_in_ditch;
    Setup s = is_drawn ? hitchwright::test::make_drawn_setup() : hitchwright::test::make_setup_a();
    s.driveline.closed_length = known(is_drawn ? 0.64 : 0.6);
    if (start == Start::floating) add_floating_link(s);
    if (start == Start::unlike_rods) add_unlike_rods(s);
    if (start == Start::equipped) equip(s);
    if (start == Start::wide_angle || start == Start::drawn_wide_angle) hitchwright::test::make_tractor_joint_wide(s, 0.09);
    if (start == Start::drawn_in_ditch) add_ditch(s);
    return s;
}

Setup AnySetup::build() const {
    Setup s = make_start(start);
    visit_readings(s, [&](const std::string& key, Reading& r, const FieldSpec&) {
        for (const Change& c : changes) {
            if (c.key == key) r = c.missing ? Reading{} : known(c.value, c.tolerance);
        }
    });
    return s;
}

rc::Gen<AnySetup> any_setup(Values values) {
    return rc::gen::exec([values] {
        AnySetup s;
        s.start = *rc::gen::element(Start::mounted, Start::floating, Start::wide_angle, Start::unlike_rods, Start::equipped, Start::drawn,
                                    Start::drawn_wide_angle, Start::drawn_in_ditch);
        // A handful: with many, little of the machine is left.
        s.changes = *rc::gen::resize(8, rc::gen::container<std::vector<Change>>(rc::gen::resize(100, any_change(s.start, values))));
        return s;
    });
}

void showValue(const AnySetup& s, std::ostream& out) {
    out.precision(17);
    out << "start " << static_cast<int>(s.start);
    for (const Change& c : s.changes) {
        out << ", " << c.key << " = ";
        if (c.missing) out << "missing";
        else out << c.value << " +- " << c.tolerance;
    }
}

}  // namespace properties
