#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/angle.h"
#include "geometry/envelope.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

DrawnModel model_of(const Setup& s) {
    const DrawnModelResult r = make_drawn_model(s);
    REQUIRE(r.hitch_ok);
    REQUIRE(r.model.has_shaft);
    return r.model;
}

}  // namespace

TEST_CASE("envelope: a level cell is the law of cosines, margins are gap and overlap less their limits", "[analytic]") {
    Setup s = make_drawn_setup();
    s.tractor.pto.stub_z = known(0.450 + 0.170);  // stub, hitch joint and input on heights that keep the turn plane
    s.tractor.drawbar.articulation_above_top = known(0.020);
    const DrawnModel m = model_of(s);
    const TurnLimits limits = make_turn_limits(s, m, JointHold::pto_off);
    const Envelope e = study_envelope(m, limits, 9, 5);
    CHECK(e.cells.size() == 45);
    const EnvelopeCell& c = e.at(1, 2);
    REQUIRE(std::fabs(c.pitch) < 1e-12);
    const double p = 0.330, q = 0.500;
    CHECK(std::fabs(c.length - std::sqrt(p * p + q * q + 2 * p * q * std::cos(c.yaw))) < 1e-12);
    CHECK(std::fabs(c.gap_margin - (c.length - 0.640 - 0.025)) < 1e-12);
    CHECK(std::fabs(c.overlap_margin - (0.640 + 0.400 - c.length - limits.overlap)) < 1e-12);
    CHECK(e.yaw.low <= m.box.yaw.low);
    CHECK(e.pitch.high >= m.box.pitch.high);
}

TEST_CASE("envelope: mirrored turns of a symmetric machine have the same margins", "[metamorphic]") {
    const Setup s = make_drawn_setup();
    const DrawnModel m = model_of(s);
    const Envelope e = study_envelope(m, make_turn_limits(s, m, JointHold::pto_off), 21, 11);
    for (std::size_t j = 0; j < e.pitches; ++j) {
        for (std::size_t i = 0; i < e.yaws; ++i) {
            const EnvelopeCell &a = e.at(i, j), &b = e.at(e.yaws - 1 - i, j);
            CHECK(std::fabs(a.length - b.length) < 1e-12);
            CHECK(std::fabs(a.joint_margin - b.joint_margin) < 1e-12);
        }
    }
}

TEST_CASE("envelope: on its zero lines the margin is nought, as near as the cells are small", "[oracle]") {
    const Setup s = make_drawn_setup();
    const DrawnModel m = model_of(s);
    const TurnLimits limits = make_turn_limits(s, m, JointHold::pto_off);
    for (const EnvelopeQuantity q : {EnvelopeQuantity::gap, EnvelopeQuantity::overlap, EnvelopeQuantity::joint}) {
        const std::vector<ZeroSegment> line = find_zero_line(study_envelope(m, limits, 121, 81), q);
        CAPTURE(static_cast<int>(q), line.size());
        for (const ZeroSegment& z : line) {
            const DrivelineState state = find_driveline_state(m, {z.pitch_a, 0.0, z.yaw_a});
            const double margin = q == EnvelopeQuantity::gap       ? find_gap(m.halves, state.length) - limits.gap
                                  : q == EnvelopeQuantity::overlap ? find_overlap(m.halves, state.length) - limits.overlap
                                                                   : std::min(*limits.tractor_angle - state.tractor_angle,
                                                                              *limits.implement_angle - state.implement_angle);
            CHECK(std::fabs(margin) < 1e-3);
        }
    }
    CHECK_FALSE(find_zero_line(study_envelope(m, limits, 121, 81), EnvelopeQuantity::joint).empty());
    DrawnModel bare = m;
    bare.has_halves = false;
    CHECK(find_zero_line(study_envelope(bare, limits, 5, 5), EnvelopeQuantity::gap).empty());
}
