// The built-in machines are plausible: every figure inside the range of machines of that kind (judgement, no source).
// Inches and pounds, as the files are written.

#include <catch2/catch.hpp>

#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "presets/load_machine.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254, pound = 0.45359237, half_degree = 0.5 * 3.14159265358979323846 / 180.0;

struct Range {
    double least = 0.0, most = 0.0;
};

/// Mounted implement: mass, mast, end of the input shaft, centre of gravity, rearmost contact, height of the pins at work.
struct Usual {
    Range mass, mast, pic_x, pic_z, cg_x, rear_contact, ball_height;
};
constexpr Range none{};

const std::map<std::string, Usual> usual = {
    {"box-blade-5", {{350, 650}, {18, 20}, none, none, {10, 16}, {24, 30}, {14, 18}}},
    {"chipper", {{450, 1000}, {18, 20}, {10, 18}, {4, 10}, {20, 30}, {20, 40}, {10, 14}}},
    {"finish-mower-6", {{450, 850}, {18, 20}, {20, 30}, {4, 10}, {30, 40}, {55, 75}, {8, 14}}},
    {"flail-5", {{500, 950}, {18, 20}, {10, 18}, {8, 14}, {18, 26}, {30, 40}, {10, 16}}},
    {"flail-6", {{600, 1100}, {18, 24}, {10, 18}, {8, 14}, {18, 28}, {30, 44}, {10, 16}}},
    {"power-harrow-3m", {{3000, 3600}, {24, 27}, {12, 18}, {10, 14}, {22, 32}, {40, 48}, {15, 19}}},
    {"rear-blade-6", {{250, 600}, {17, 20}, none, none, {24, 34}, {34, 50}, {14, 18}}},
    {"rotary-cutter-10", {{2000, 2800}, {24, 27}, {30, 38}, {10, 14}, {55, 70}, {120, 135}, {12, 16}}},
    {"rotary-cutter-4", {{350, 450}, {18, 20}, {14, 20}, {7, 11}, {24, 32}, {60, 66}, {7, 10}}},
    {"rotary-cutter-5", {{400, 1000}, {18, 20}, {18, 26}, {6, 12}, {30, 42}, {72, 88}, {8, 12}}},
    {"rotary-cutter-6", {{525, 1200}, {18, 22}, {22, 30}, {6, 12}, {36, 48}, {84, 100}, {9, 13}}},
    {"rotary-cutter-7", {{800, 1700}, {20, 24}, {26, 34}, {6, 14}, {42, 54}, {92, 112}, {10, 14}}},
    {"spreader-pendulum", {{650, 1800}, {18, 20}, {10, 16}, {0, 8}, {14, 20}, none, {20, 24}}},
    {"tiller-4", {{350, 500}, {18, 20}, {8, 14}, {6, 10}, {12, 18}, {24, 28}, {9, 13}}},
    {"tiller-5", {{450, 800}, {18, 20}, {8, 16}, {6, 12}, {12, 20}, {26, 34}, {12, 18}}},
};

void check_inside(const char* what, const Reading& reading, double unit, const Range& range) {
    CAPTURE(what, reading.value / unit);
    REQUIRE(reading.known);
    CHECK(reading.value / unit >= range.least - 1e-9);
    CHECK(reading.value / unit <= range.most + 1e-9);
}

template <class T>
std::vector<T> load_all(FileKind kind) {
    std::vector<Problem> problems;
    const std::vector<T> machines = load_machines<T>(kind, Library{}, problems);
    CHECK(problems.empty());
    REQUIRE_FALSE(machines.empty());
    return machines;
}

template <class T>
void check_names(const std::vector<T>& machines) {
    std::set<std::string> names;
    for (const T& m : machines) {
        CAPTURE(m.key);
        CHECK(names.insert(m.name).second);
        CHECK(m.note.starts_with("example, not a real "));
        CHECK(m.note.find("measure yours") != std::string::npos);
    }
}

}  // namespace

TEST_CASE("example machines: each has a name of its own and says that it is no real machine", "[practice]") {
    check_names(load_all<Tractor>(FileKind::tractor));
    check_names(load_all<Implement>(FileKind::implement));
    check_names(load_all<Driveline>(FileKind::driveline));
}

TEST_CASE("example implements: every figure is inside the range of its kind", "[practice]") {
    const std::vector<Implement> implements = load_all<Implement>(FileKind::implement);
    const auto drawn = std::count_if(implements.begin(), implements.end(), [](const Implement& i) { return i.attachment == Attachment::drawn; });
    CHECK(implements.size() == usual.size() + static_cast<std::size_t>(drawn));
    for (const Implement& i : implements) {
        CAPTURE(i.key);
        if (i.attachment == Attachment::drawn) continue;
        REQUIRE(usual.contains(i.key));
        const Usual& u = usual.at(i.key);
        check_inside("mass", i.mass.mass, pound, u.mass);
        check_inside("centre of gravity", i.mass.cg_x, inch, u.cg_x);
        check_inside("working height", i.work.ball_height, inch, u.ball_height);
        for (const MastPin& p : i.mast_pins) check_inside("mast", p.height, inch, u.mast);
        CHECK(i.pic.fitted == (u.pic_x.most > 0.0));
        if (i.pic.fitted) {
            check_inside("input behind", i.pic.x, inch, u.pic_x);
            check_inside("input above", i.pic.z, inch, u.pic_z);
        }
        double rear = 0.0;
        for (const GroundContact& g : i.ground_contacts) rear = std::max(rear, g.x.value / inch);
        CHECK(i.ground_contacts.empty() == (u.rear_contact.most == 0.0));
        if (!i.ground_contacts.empty()) {
            CHECK(rear >= u.rear_contact.least);
            CHECK(rear <= u.rear_contact.most);
        }
    }
}

TEST_CASE("example implements: wheels, rollers and skids touch level ground in the working position", "[practice]") {
    for (const Implement& i : load_all<Implement>(FileKind::implement)) {
        if (i.attachment == Attachment::drawn) continue;
        for (const GroundContact& g : i.ground_contacts) {
            CAPTURE(i.key, g.name);
            const double p = i.work.pitch.value;
            CHECK(std::fabs(p) <= half_degree + 1e-9);
            const double lowest = i.work.ball_height.value + g.x.value * std::sin(p) + g.z.value * std::cos(p) - g.radius.value;
            CHECK(std::fabs(lowest) < 0.1 * inch);
        }
        for (const ImplementPoint& q : i.points) {
            CAPTURE(i.key, q.name);
            CHECK(i.work.ball_height.value + q.z.value > 0.0);
        }
    }
}

TEST_CASE("example tractors: drawbar, balls, travel and lift hang together", "[practice]") {
    for (const Tractor& t : load_all<Tractor>(FileKind::tractor)) {
        CAPTURE(t.key);
        const double pin = t.drawbar.end_x.value - t.pto.stub_x.value;  // the pin stands a little ahead of the end
        CHECK(pin > 9 * inch);
        CHECK(pin < 22 * inch);
        CHECK(t.pto.stub_z.value - t.drawbar.end_z.value >= 6 * inch);
        CHECK(t.pto.stub_z.value - t.drawbar.end_z.value <= 12 * inch);
        CHECK(t.travel.ball_height_low.value < t.lower_link.pivot_z.value);
        CHECK(t.travel.ball_height_high.value > t.pto.stub_z.value);
        const double ratio = t.mass.lift_at_balls.value / t.mass.lift_at_610.value;
        CHECK(ratio >= 1.1);
        CHECK(ratio <= 1.8);
        CHECK(t.mass.front_share.value >= 0.30);
        CHECK(t.mass.front_share.value <= 0.48);
        CHECK(t.upper_link_pins.size() >= 2);
        CHECK(t.lower_link.pivot_x.value + t.lower_link.length.value > t.tyre.rear_radius.value);
    }
}

TEST_CASE("example shafts: the longest usable length leaves half the overlap, the guard goes with the tubes", "[practice]") {
    for (const Driveline& d : load_all<Driveline>(FileKind::driveline)) {
        CAPTURE(d.key);
        const double tube = d.tractor_tube.value, closed = d.closed_length.value;
        CHECK(tube == d.implement_tube.value);
        CHECK(d.longest_usable.value - closed == Approx(0.5 * tube).margin(1e-9).epsilon(0));
        const double roots = (closed - tube) / inch;
        CHECK(roots >= 10.5);
        CHECK(roots <= 14.5);
        CHECK(d.guard_closed_length.value < closed);
        CHECK(d.guard_overlap_closed.value < tube);
        CHECK(d.power_1000.value / d.power_540.value == Approx(1.56).margin(0.06).epsilon(0));
        CHECK(d.tractor_joint.splines == d.implement_joint.splines);
        // The name says power and closed length.
        CHECK(d.name.find(std::to_string(std::lround(closed / inch)) + " in closed") != std::string::npos);
    }
}

TEST_CASE("example shafts: a wide-angle joint stands at the tractor, with a plain partner, its centre half way between its crosses", "[practice]") {
    int count = 0;
    for (const Driveline& d : load_all<Driveline>(FileKind::driveline)) {
        CAPTURE(d.key);
        CHECK(d.implement_joint.kind == JointKind::plain);
        if (d.tractor_joint.kind != JointKind::wide_angle) continue;
        ++count;
        const JointReadings &wide = d.tractor_joint, &plain = d.implement_joint;
        CHECK(d.name.ends_with("wide-angle joint"));
        CHECK(d.key.ends_with("-wide-angle"));
        check_inside("spacing", wide.spacing, 0.001, {80, 120});
        CHECK(wide.angle_most.value == Approx(80.0 * 3.14159265358979323846 / 180.0).margin(1e-12).epsilon(0));
        // The same yokes: the centre is half the spacing farther from shaft end and groove.
        for (const Reading JointReadings::*member : {&JointReadings::offset, &JointReadings::centre_to_groove, &JointReadings::centre_to_end}) {
            CHECK((wide.*member).value - (plain.*member).value == Approx(wide.spacing.value / 2).margin(1e-9).epsilon(0));
        }
    }
    CHECK(count == 1);
}

TEST_CASE("example drawn implements: eight, each with figures inside the range of its kind", "[practice]") {
    struct Drawn {
        Range mass, load, joint, height;  // lb, lb, in pin to joint, in above ground
    };
    const std::map<std::string, Drawn> ranges = {{"drawn-cutter-10", {{1800, 3500}, {400, 900}, {16, 24}, {18, 24}}},
                                                 {"drawn-cutter-15", {{3800, 7500}, {800, 2000}, {16, 24}, {20, 26}}},
                                                 {"mower-conditioner", {{4500, 8000}, {1500, 2000}, {55, 70}, {22, 30}}},
                                                 {"round-baler", {{3500, 6500}, {500, 1500}, {16, 24}, {20, 26}}},
                                                 {"square-baler", {{2500, 4500}, {300, 700}, {16, 24}, {18, 24}}},
                                                 {"manure-spreader", {{1500, 4000}, {250, 800}, {16, 24}, {18, 26}}},
                                                 {"grain-cart", {{8000, 18000}, {1500, 4500}, {16, 24}, {22, 32}}},
                                                 {"grain-auger", {{1500, 6000}, {200, 800}, {16, 24}, {18, 30}}}};
    std::size_t count = 0;
    for (const Implement& i : load_all<Implement>(FileKind::implement)) {
        if (i.attachment != Attachment::drawn) continue;
        CAPTURE(i.key);
        REQUIRE(ranges.contains(i.key));
        ++count;
        const Drawn& d = ranges.at(i.key);
        check_inside("mass", i.mass.mass, pound, d.mass);
        check_inside("vertical load", i.drawn.vertical_load, pound, d.load);
        Reading joint = i.pic.x, height = i.pic.z;
        joint.value -= 1.25 * inch;
        height.value += 17.75 * inch;  // hitch joint of the utility tractor
        check_inside("pin to joint", joint, inch, d.joint);
        check_inside("input height", height, inch, d.height);
        CHECK_FALSE(i.drawn.bars.empty());
        CHECK_FALSE(i.ground_contacts.empty());
    }
    CHECK(count == ranges.size());
}
