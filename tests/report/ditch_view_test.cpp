// The picture of a drawn machine in a ditch, measured: wheels on the line of the ground, shaft as long as computed.
#include "geometry/angle.h"
#include "report/ditch_view.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_crossing_setup(double crossing_deg) {
    Setup s = make_drawn_setup();
    s.choices.drawn.ditch.depth = known(0.35);
    s.choices.drawn.ditch.bottom_width = known(0.6);
    s.choices.drawn.ditch.side_slope = known(to_radians(25.0));
    s.choices.drawn.ditch.crossing_angle = known(to_radians(crossing_deg));
    return s;
}

template <class Form>
std::vector<Form> list_forms(const Drawing& d, Role role) {
    std::vector<Form> forms;
    for (const Shape& s : d.shapes) {
        if (s.role == role && std::holds_alternative<Form>(s.form)) forms.push_back(std::get<Form>(s.form));
    }
    return forms;
}

double find_distance(const DrawingPoint& p, const DrawingPoint& a, const DrawingPoint& b) {
    const double dx = b.x - a.x, dz = b.z - a.z, length = dx * dx + dz * dz;
    const double t = length > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.z - a.z) * dz) / length, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - a.x - t * dx, p.z - a.z - t * dz);
}

double find_distance(const DrawingPoint& p, const Polyline& line) {
    double least = 1e9;
    for (std::size_t i = 1; i < line.points.size(); ++i) least = std::min(least, find_distance(p, line.points[i - 1], line.points[i]));
    return least;
}

}  // namespace

TEST_CASE("ditch view: square on, every wheel stands on the line of the ground, everywhere on the way", "[analytic]") {
    const Setup s = make_crossing_setup(90.0);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE((a.drawn && a.drawn->ditch && a.drawn->ditch->study));
    const std::vector<DitchStation>& stations = a.drawn->ditch->study->ways.front().stations;
    REQUIRE(stations.size() > 100);
    for (std::size_t i = 0; i < stations.size(); i += 7) {
        const Drawing d = draw_ditch_view(s, *a.drawn, stations[i], Heading::as_given, UnitSystem::millimetre);
        const std::vector<Polyline> ground = list_forms<Polyline>(d, Role::ground);
        const std::vector<Circle> tyres = list_forms<Circle>(d, Role::tyre), wheels = list_forms<Circle>(d, Role::ground_contact);
        REQUIRE((ground.size() == 1 && tyres.size() == 2 && wheels.size() == 1));
        for (const Circle& c : {tyres[0], tyres[1], wheels[0]}) CHECK(std::fabs(find_distance(c.centre, ground[0]) - c.radius) < 1e-6);
        const std::vector<Marker> joints = list_forms<Marker>(d, Role::joint);
        REQUIRE(joints.size() == 2);
        // No part of this machine stands aside, so that the side view shows the shaft at its true length.
        CHECK(std::hypot(joints[1].at.x - joints[0].at.x, joints[1].at.z - joints[0].at.z) == Approx(stations[i].shaft.length).epsilon(0).margin(1e-9));
        // The tongue turns about the pin, which both machines hold: 360 mm behind the end of the stub, along the tractor.
        const std::vector<Marker> pin = list_forms<Marker>(d, Role::pin_chosen);
        const std::vector<Polyline> stub = list_forms<Polyline>(d, Role::pto_stub);
        REQUIRE((pin.size() == 1 && stub.size() == 1));
        const DrawingPoint end = stub[0].points.back();
        CHECK(std::hypot(pin[0].at.x - end.x, pin[0].at.z - end.z) == Approx(std::hypot(0.360, 0.640 - 0.450)).epsilon(0).margin(1e-9));
    }
}

TEST_CASE("ditch view: crossed at an angle the right wheels and their ground are shown besides", "[analytic]") {
    const Setup s = make_crossing_setup(60.0);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE((a.drawn && a.drawn->ditch && a.drawn->ditch->study));
    const DitchStudy& study = *a.drawn->ditch->study;
    const DitchWorst* worst = find_telling_state(study, a.drawn->model, make_ditch_limits(s, a.drawn->model, JointHold::stop));
    REQUIRE(worst);
    const Drawing d = draw_ditch_view(s, *a.drawn, worst->station, worst->heading, UnitSystem::inch);
    CHECK(list_forms<Circle>(d, Role::ghost).size() == 3);
    CHECK(list_forms<Polyline>(d, Role::ghost).size() == 2);
    // Below 90 deg the right wheels come first: driving forward (to smaller x) the right edge of the ditch lies behind the left one.
    const std::vector<Polyline> edges = list_forms<Polyline>(d, Role::ghost);
    CHECK(edges[1].points[1].x > edges[0].points[1].x + 0.5);
}

TEST_CASE("ditch view: the telling state is the broken one, else the length with the least room", "[analytic]") {
    const auto find = [](const Setup& s, const Analysis& a) {
        return find_telling_state(*a.drawn->ditch->study, a.drawn->model, make_ditch_limits(s, a.drawn->model, JointHold::stop));
    };
    Setup s = make_crossing_setup(90.0);
    s.choices.drawn.ditch.depth = known(0.05);
    Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.drawn->ditch->study->passes);
    const DitchLimits limits = make_ditch_limits(s, a.drawn->model, JointHold::stop);
    const DitchWorst* w = find(s, a);
    REQUIRE(w);
    for (const DitchWorst& other : a.drawn->ditch->study->worst) {
        if (other.quantity != DitchQuantity::shortest && other.quantity != DitchQuantity::longest) continue;
        CHECK(find_room(a.drawn->model, w->station, limits, w->quantity) <= find_room(a.drawn->model, other.station, limits, other.quantity));
    }
    s.choices.drawn.ditch.depth = known(0.35);
    s.driveline.closed_length = known(0.780);
    a = analyze(s, millimetre_mark);
    REQUIRE_FALSE(a.drawn->ditch->study->passes);
    w = find(s, a);
    REQUIRE(w);
    CHECK(find_room(a.drawn->model, w->station, make_ditch_limits(s, a.drawn->model, JointHold::stop), w->quantity) < 0.0);
}
