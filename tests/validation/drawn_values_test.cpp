// Drawbar figures, wheels in a V and turns against drawn_values.toml: printed figures, trigonometry.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/drawbar_study.h"
#include "geometry/ground_profile.h"
#include "geometry/turn_limits.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using hitchwright::test::known;
using validation::load_checks;
using validation::ValueCheck;

namespace {

constexpr double mm = 0.001, inch = 0.0254;

/// The sample with joints in one plane, p and q as given (m).
Setup make_flat(double p, double q) {
    Setup s = hitchwright::test::make_drawn_setup();
    s.tractor.drawbar_pins[1].length = known(p + 0.030);
    s.implement.pic.x = known(q + 0.030);
    s.implement.pic.z = known(0.190);
    return s;
}

}  // namespace

TEST_CASE("drawbar: figures of length, height and drop for each PTO type, and a pin off its figure", "[handbook][practice]") {
    for (const ValueCheck& c : load_checks("drawn_values.toml", "drawbar_figure")) {
        INFO(c.name << " (" << c.source << ")");
        const DrawbarFigures f = find_drawbar_figures(static_cast<PtoType>(static_cast<int>(c.input("pto_type"))));
        CHECK(std::fabs(f.length.value / mm - c.out.at("length_mm")) <= c.tolerance);
        CHECK(std::fabs(f.top_low.value / mm - c.out.at("top_low_mm")) <= c.tolerance);
        CHECK(std::fabs(f.drop_low.value / mm - c.out.at("drop_low_mm")) <= c.tolerance);
        CHECK(std::fabs(f.drop_high.value / mm - c.out.at("drop_high_mm")) <= c.tolerance);
    }
    for (const ValueCheck& c : load_checks("drawn_values.toml", "drawbar_off")) {
        Setup s = hitchwright::test::make_drawn_setup();
        s.tractor.drawbar_pins = {{"only", known(c.input("measured_in") * inch), Reading{}, Reading{}}};
        const DrawbarStudy study = study_drawbar(s, millimetre_mark);
        const PinReason& off = study.pins.at(0).reasons[static_cast<std::size_t>(PinReasonKind::figure)];
        CHECK(std::fabs(off.value / inch - c.out.at("off_in")) <= c.tolerance);
        CHECK((off.known && !off.good));
    }
}

TEST_CASE("wheel in a V: a rigid wheel stays above the vertex", "[handbook]") {
    for (const ValueCheck& c : load_checks("drawn_values.toml", "wheel_in_v")) {
        INFO(c.name << " (" << c.source << ")");
        const double radius = c.input("radius_in") * inch, depth = 2.0;
        const GroundProfile v = make_ditch_profile(depth, 0.0, to_radians(c.input("side_deg"))).value();
        const WheelCircle level{{0.0, 0.0, radius}, Eigen::Vector3d::UnitX(), Eigen::Vector3d::UnitZ(), radius};
        const double sinks = find_wheel_gap(v, level, Eigen::Vector3d::UnitX()).gap;  // from standing at 0
        CHECK(std::fabs((depth - sinks) / inch - c.out.at("above_vertex_in")) <= c.tolerance);
    }
}

TEST_CASE("drawn model: turns of the hand values, and the turn at which a shaft bottoms", "[analytic]") {
    for (const ValueCheck& c : load_checks("drawn_values.toml", "turn")) {
        INFO(c.name << " (" << c.source << ")");
        const DrawnModel m = make_drawn_model(make_flat(c.input("p") * mm, c.input("q") * mm)).model;
        REQUIRE(m.has_shaft);
        for (const double side : {1.0, -1.0}) {
            const DrivelineState s = find_driveline_state(m, {0.0, 0.0, side * to_radians(c.input("yaw"))});
            CHECK(std::fabs(s.length / mm - c.out.at("length")) <= c.tolerance);
            CHECK(std::fabs(to_degrees(s.tractor_angle) - c.out.at("joint_1")) <= c.tolerance);
            CHECK(std::fabs(to_degrees(s.implement_angle) - c.out.at("joint_2")) <= c.tolerance);
        }
    }
    for (const ValueCheck& c : load_checks("drawn_values.toml", "bottoming")) {
        INFO(c.name << " (" << c.source << ")");
        Setup s = make_flat(c.input("p") * mm, c.input("q") * mm);
        s.driveline.closed_length = known(c.input("closed") * mm);
        for (const TurnResult& side : find_turn_stops(s, make_drawn_model(s).model, {})) {
            bool seen = false;
            for (const TurnStop& stop : side.stops) {
                if (stop.kind != TurnLimitKind::bottoming) continue;
                seen = true;
                CHECK(std::fabs(to_degrees(stop.yaw) - c.out.at("yaw")) <= c.tolerance);
            }
            CHECK(seen);
        }
    }
}

TEST_CASE("drawbar: printed variants of a figure count as on it, another type's do not", "[handbook]") {
    for (const ValueCheck& c : load_checks("drawn_values.toml", "pin_on_figure")) {
        INFO(c.name << " (" << c.source << ")");
        Setup s = hitchwright::test::make_drawn_setup();
        s.tractor.pto.type = static_cast<PtoType>(static_cast<int>(c.input("pto_type")));
        s.tractor.drawbar_pins = {{"only", known(c.input("length_mm") * mm), Reading{}, Reading{}}};
        s.choices.drawn.drawbar_pin = "only";
        const DrawbarStudy study = study_drawbar(s, millimetre_mark);
        CHECK(study.pins.at(0).reasons[static_cast<std::size_t>(PinReasonKind::figure)].good == (c.out.at("good") > c.tolerance));
        const Analysis a = analyze(s, millimetre_mark);
        const auto f = std::find_if(a.findings.begin(), a.findings.end(), [](const Finding& x) { return x.kind == FindingKind::drawbar_length; });
        REQUIRE(f != a.findings.end());
        CHECK((f->severity == Severity::good) == (c.out.at("good") > c.tolerance));
    }
}

TEST_CASE("drawbar: the ends of the printed bands of height and drop add up to the printed heights of the PTO, and are within", "[handbook]") {
    for (const ValueCheck& c : load_checks("drawn_values.toml", "pto_height")) {
        INFO(c.name << " (" << c.source << ")");
        Setup s = hitchwright::test::make_drawn_setup();
        s.tractor.drawbar.top_height = Reading{};
        s.tractor.drawbar.drop = known(c.input("drop_in") * inch);
        s.tractor.pto.stub_z = known((c.input("top_in") + c.input("drop_in")) * inch);
        CHECK(std::fabs(s.tractor.pto.stub_z.value / mm - c.out.at("pto_mm")) <= c.tolerance);
        const DrawnModel m = make_drawn_model(s).model;
        CHECK(std::fabs(m.drawbar_top - c.input("top_in") * inch) < 1e-12);
        CHECK(std::fabs(m.pto_above_drawbar - c.input("drop_in") * inch) < 1e-12);
        for (const PinStudy& p : study_drawbar(s, millimetre_mark).pins) {
            CHECK(p.reasons[static_cast<std::size_t>(PinReasonKind::drawbar_top)].good);
            CHECK(p.reasons[static_cast<std::size_t>(PinReasonKind::drop)].good);
        }
    }
}

TEST_CASE("drawn model: turn and pitch where neither set-up nor rule set says anything are the printed ones", "[handbook]") {
    for (const ValueCheck& c : load_checks("drawn_values.toml", "turn_limit")) {
        INFO(c.name << " (" << c.source << ")");
        Setup s = hitchwright::test::make_drawn_setup();
        s.rules.turn_plain = s.rules.turn_wide_angle = s.rules.relative_pitch = {};
        if (c.input("wide_angle") > 0.0) hitchwright::test::make_tractor_joint_wide(s, 0.090);
        const AttitudeBox box = make_drawn_model(s).model.box;
        for (const double turn : {-box.yaw.low, box.yaw.high}) CHECK(std::fabs(to_degrees(turn) - c.out.at("turn_deg")) <= c.tolerance);
        for (const double pitch : {-box.pitch.low, box.pitch.high}) CHECK(std::fabs(to_degrees(pitch) - c.out.at("pitch_deg")) <= c.tolerance);
    }
}
