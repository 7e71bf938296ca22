#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/floating_link.h"
#include "geometry/lower_link.h"
#include "geometry/mast_closure.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Upper pin 1 m ahead of the ball at its height (both at 0.5), mast 0.6: |U - M| runs from 0.4 to 1.6.
PlanarLinkage make_flat() {
    return {
        .lower_pivot = Point(0.0, 0.5), .lower_length = 1.0, .upper_pin = Point(0.0, 0.5), .mast_pin = Point(0.0, 0.6)};
}

double pitch_at(const PlanarLinkage& linkage, double height, double upper_length) {
    PlanarLinkage set = linkage;
    set.upper_length = upper_length;
    return solve_pose(set, height).pitch;
}

/// Whether the link can reach from the upper pin to some strap angle between the stops, by a scan of the strap.
bool strap_allows(const PlanarLinkage& linkage, const Point& ball, double pitch, const SwingStrap& strap) {
    constexpr int steps = 720;
    double least = 1e9;
    double most = 0.0;
    for (int k = 0; k <= steps; ++k) {
        const double angle = strap.stop_low + (strap.stop_high - strap.stop_low) * k / steps;
        const Point pin = ball + rotate(linkage.mast_pin + strap.strap_length * unit_vector(angle), pitch);
        const double distance = (pin - linkage.upper_pin).norm();
        least = std::min(least, distance);
        most = std::max(most, distance);
    }
    return least <= strap.link_length && strap.link_length <= most;
}

/// The end of the band in one direction, by walking the pitch out from a pose that is allowed and halving the last
/// step.
double scan_strap_band(const PlanarLinkage& linkage, const Point& ball, double start, double step,
                       const SwingStrap& strap) {
    double inside = start;
    while (std::abs(inside - start) < pi && strap_allows(linkage, ball, inside + step, strap)) {
        inside += step;
    }
    double outside = inside + step;
    for (int i = 0; i < 20; ++i) {
        const double middle = 0.5 * (inside + outside);
        (strap_allows(linkage, ball, middle, strap) ? inside : outside) = middle;
    }
    return inside;
}

}  // namespace

TEST_CASE("slot: the band runs from the pitch at e + s up to the pitch at e", "[analytic]") {
    const PlanarLinkage a = make_linkage_a();
    for (const double height : {0.2, 0.5, 0.8}) {
        const PitchBand band = find_pitch_band(a, height, make_link_stops(0.64, 0.05));
        REQUIRE(band.closure.closes());
        CHECK(band.low == Approx(pitch_at(a, height, 0.69)).epsilon(0).margin(1e-12));
        CHECK(band.high == Approx(pitch_at(a, height, 0.64)).epsilon(0).margin(1e-12));
        CHECK(band.low < band.high);
        CHECK(band.low_end == BandEnd::stop);
        CHECK(band.high_end == BandEnd::stop);
    }
}

TEST_CASE("slot: without slack the band is one pitch", "[analytic]") {
    const PlanarLinkage a = make_linkage_a();
    const PitchBand band = find_pitch_band(a, 0.5, make_link_stops(0.66, 0.0));
    REQUIRE(band.closure.closes());
    CHECK(band.low == band.high);
    CHECK(band.low == Approx(pitch_at(a, 0.5, 0.66)).epsilon(0).margin(1e-12));
}

TEST_CASE("slot: more slack widens the band at its lower end only", "[metamorphic]") {
    const PlanarLinkage a = make_linkage_a();
    const PitchBand narrow = find_pitch_band(a, 0.5, make_link_stops(0.64, 0.03));
    const PitchBand wide = find_pitch_band(a, 0.5, make_link_stops(0.64, 0.06));
    CHECK(wide.low < narrow.low);
    CHECK(wide.high == narrow.high);
}

TEST_CASE("chain: its upper end is the dead centre, since nothing stops it before", "[analytic]") {
    // Upper pin straight ahead of the ball: a mast pointing at it has turned a quarter turn forward.
    const PitchBand band = find_pitch_band(make_flat(), 0.5, LinkStops{0.0, 1.0});
    REQUIRE(band.closure.closes());
    CHECK(band.high == Approx(pi / 2.0).epsilon(0).margin(1e-12));
    CHECK(band.high_end == BandEnd::dead_centre);
    // Taut: triangle 1, 0.6, 1: the mast leans back from the line to the pin by acos(0.3).
    CHECK(band.low == Approx(pi / 2.0 - std::acos(0.3)).epsilon(0).margin(1e-12));
    CHECK(band.low_end == BandEnd::stop);
}

TEST_CASE("chain: one that can never be taut has half a turn between its dead centres", "[analytic]") {
    for (const MastSide side : {MastSide::above, MastSide::below}) {
        PlanarLinkage flat = make_flat();
        flat.side = side;
        const PitchBand band = find_pitch_band(flat, 0.5, LinkStops{0.0, 2.0});
        REQUIRE(band.closure.closes());
        CHECK(band.low_end == BandEnd::dead_centre);
        CHECK(band.high_end == BandEnd::dead_centre);
        CHECK(band.high - band.low == Approx(pi).epsilon(0).margin(1e-12));
    }
}

TEST_CASE("slot: a mast pin below the line has its band the other way round", "[metamorphic]") {
    PlanarLinkage down = make_linkage_a();
    const PitchBand up = find_pitch_band(down, 0.7, make_link_stops(0.64, 0.05));
    down.lower_pivot.y() *= -1.0;
    down.upper_pin.y() *= -1.0;
    down.mast_pin.y() *= -1.0;
    down.side = MastSide::below;
    const PitchBand mirrored = find_pitch_band(down, -0.7, make_link_stops(0.64, 0.05));
    CHECK(mirrored.low == Approx(-up.high).epsilon(0).margin(1e-13));
    CHECK(mirrored.high == Approx(-up.low).epsilon(0).margin(1e-13));
}

TEST_CASE("slot: a link that does not reach says which way and by how much", "[analytic]") {
    CHECK(find_pitch_band(make_flat(), 0.5, LinkStops{0.1, 0.3}).closure.misfit == Misfit::too_short);
    CHECK(find_pitch_band(make_flat(), 0.5, LinkStops{0.1, 0.3}).closure.shortfall ==
          Approx(0.1).epsilon(0).margin(1e-15));
    const Closure over = find_pitch_band(make_flat(), 0.5, LinkStops{1.7, 1.9}).closure;
    CHECK(over.part == LinkagePart::upper_link);
    CHECK(over.misfit == Misfit::too_long);
    CHECK(over.shortfall == Approx(0.1).epsilon(0).margin(1e-15));
    CHECK(find_pitch_band(make_flat(), 1.75, LinkStops{0.9, 1.0}).closure ==
          Closure{LinkagePart::lower_link, Misfit::too_short, 0.25});
}

TEST_CASE("slot: stops and pins that are none are undefined", "[analytic]") {
    for (const LinkStops stops : {LinkStops{-0.1, 1.0}, LinkStops{1.0, 0.9}, LinkStops{not_a_number, 1.0},
                                  LinkStops{0.9, std::numeric_limits<double>::infinity()}}) {
        CHECK(find_pitch_band(make_flat(), 0.5, stops).closure ==
              Closure{LinkagePart::upper_link, Misfit::undefined, 0.0});
    }
    PlanarLinkage no_mast = make_flat();
    no_mast.mast_pin = Point(0.0, 0.0);
    CHECK(find_pitch_band(no_mast, 0.5, LinkStops{0.9, 1.0}).closure.part == LinkagePart::mast);
    PlanarLinkage pinned = make_flat();
    pinned.upper_pin = Point(1.0, 0.5);
    CHECK(find_pitch_band(pinned, 0.5, LinkStops{0.5, 0.7}).closure.misfit == Misfit::undefined);
}

TEST_CASE("swing strap: without stops it runs from link plus strap to link less strap", "[analytic]") {
    const PlanarLinkage a = make_linkage_a();
    const SwingStrap strap{.link_length = 0.62, .strap_length = 0.08};
    const PitchBand band = find_pitch_band(a, 0.5, strap);
    REQUIRE(band.closure.closes());
    CHECK(band.low == Approx(pitch_at(a, 0.5, 0.70)).epsilon(0).margin(1e-12));
    CHECK(band.high == Approx(pitch_at(a, 0.5, 0.54)).epsilon(0).margin(1e-12));
    CHECK(band.low_end == BandEnd::in_line);
    CHECK(band.high_end == BandEnd::in_line);
}

TEST_CASE("swing strap: held between equal stops it is a mast pin moved to the strap's end", "[analytic]") {
    const PlanarLinkage a = make_linkage_a();
    const double up = to_radians(80.0);
    const SwingStrap strap{.link_length = 0.65, .strap_length = 0.10, .stop_low = up, .stop_high = up};
    const PitchBand band = find_pitch_band(a, 0.6, strap);
    REQUIRE(band.closure.closes());
    PlanarLinkage moved = a;
    moved.mast_pin += 0.10 * unit_vector(up);
    CHECK(band.low == Approx(pitch_at(moved, 0.6, 0.65)).epsilon(0).margin(1e-12));
    CHECK(band.high == Approx(band.low).epsilon(0).margin(1e-14));
    CHECK(band.low_end == BandEnd::stop);
}

TEST_CASE("swing strap: is not scalar slack, an upright strap moves less than its length", "[metamorphic]") {
    // 40 degrees either way of upright: the strap pin moves 2 w sin 40 along the link, not 2 w.
    const PlanarLinkage a = make_linkage_a();
    const SwingStrap strap{
        .link_length = 0.66, .strap_length = 0.10, .stop_low = to_radians(50.0), .stop_high = to_radians(130.0)};
    const PitchBand band = find_pitch_band(a, 0.5, strap);
    const PitchBand slot = find_pitch_band(a, 0.5, LinkStops{0.56, 0.76});
    REQUIRE(band.closure.closes());
    CHECK(band.high - band.low < 0.9 * (slot.high - slot.low));
    CHECK(band.low_end == BandEnd::stop);
    CHECK(band.high_end == BandEnd::stop);
}

TEST_CASE("swing strap: the band is what a scan of strap and pitch finds", "[random][oracle]") {
    const unsigned seed = 20260114;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int in_line = 0;
    int stopped = 0;
    for (int i = 0; i < 30; ++i) {
        const PlanarLinkage linkage = make_random_linkage(random);
        const double height = linkage.lower_pivot.y() + between(-0.15, 0.15);
        SwingStrap strap{.link_length = linkage.upper_length * between(0.95, 1.05),
                         .strap_length = between(0.04, 0.12)};
        strap.stop_low = between(-pi, pi);
        strap.stop_high = strap.stop_low + between(0.3, 4.0);
        const PitchBand band = find_pitch_band(linkage, height, strap);
        CAPTURE(i, height, strap.stop_low, strap.stop_high);
        REQUIRE(band.closure.closes());
        const Point ball = solve_lower_link(linkage.lower_pivot, linkage.lower_length, height).ball;
        const double middle = 0.5 * (band.low + band.high);
        REQUIRE(strap_allows(linkage, ball, middle, strap));
        // The scan misses the strap's own extreme by up to w (step / 2)^2 / 2 = 5e-7 m, some 1e-6 rad of pitch.
        CHECK(band.low == Approx(scan_strap_band(linkage, ball, middle, -2e-3, strap)).epsilon(0).margin(2e-6));
        CHECK(band.high == Approx(scan_strap_band(linkage, ball, middle, 2e-3, strap)).epsilon(0).margin(2e-6));
        in_line += band.low_end == BandEnd::in_line || band.high_end == BandEnd::in_line ? 1 : 0;
        stopped += band.low_end == BandEnd::stop || band.high_end == BandEnd::stop ? 1 : 0;
    }
    CHECK(in_line > 5);
    CHECK(stopped > 5);
}

TEST_CASE("swing strap: stops given a turn further on are the same stops", "[metamorphic]") {
    const PlanarLinkage a = make_linkage_a();
    const SwingStrap strap{.link_length = 0.66, .strap_length = 0.10, .stop_low = 2.0, .stop_high = 4.0};
    SwingStrap turned = strap;
    turned.stop_low += 2.0 * pi;
    turned.stop_high += 2.0 * pi;
    const PitchBand band = find_pitch_band(a, 0.5, strap);
    REQUIRE(band.closure.closes());
    CHECK(find_pitch_band(a, 0.5, turned).low == Approx(band.low).epsilon(0).margin(1e-13));
    CHECK(find_pitch_band(a, 0.5, turned).high == Approx(band.high).epsilon(0).margin(1e-13));
}

TEST_CASE("swing strap: raised it hangs lower than any slot of the same link without the strap", "[metamorphic]") {
    const PlanarLinkage a = make_linkage_a();
    const SwingStrap strap{.link_length = 0.62, .strap_length = 0.08};
    CHECK(find_pitch_band(a, 0.8, strap).low < pitch_at(a, 0.8, 0.62));
}

TEST_CASE("swing strap: a link out of reach at some strap angle says by how much at the worst", "[analytic]") {
    // Mast with the strap straight up reaches 0.7 from the ball; the upper pin is 1 ahead: a link of 0.25 lacks 0.05
    // there and 0.25 with the strap folded down on the mast (0.5).
    const SwingStrap strap{.link_length = 0.25, .strap_length = 0.1};
    const Closure closure = find_pitch_band(make_flat(), 0.5, strap).closure;
    CHECK(closure.part == LinkagePart::upper_link);
    CHECK(closure.misfit == Misfit::too_short);
    CHECK(closure.shortfall == Approx(0.25).epsilon(0).margin(1e-14));
}

TEST_CASE("swing strap: straps that are none are undefined", "[analytic]") {
    const PlanarLinkage a = make_linkage_a();
    const Closure undefined{LinkagePart::upper_link, Misfit::undefined, 0.0};
    CHECK(find_pitch_band(a, 0.5, SwingStrap{.link_length = 0.66, .strap_length = 0.0}).closure == undefined);
    CHECK(find_pitch_band(a, 0.5, SwingStrap{.link_length = 0.1, .strap_length = 0.2}).closure == undefined);
    CHECK(find_pitch_band(a, 0.5, SwingStrap{0.66, 0.1, 1.0, 0.5}).closure == undefined);
    CHECK(find_pitch_band(a, 0.5, SwingStrap{0.66, 0.1, not_a_number, 0.5}).closure == undefined);
    CHECK(find_pitch_band(a, 0.5, SwingStrap{not_a_number, 0.1}).closure == undefined);
    CHECK(find_pitch_band(a, 2.0, SwingStrap{.link_length = 0.66, .strap_length = 0.1}).closure.part ==
          LinkagePart::lower_link);
}

TEST_CASE("floating link: scaled twins keep their angles", "[metamorphic]") {
    const PlanarLinkage a = make_linkage_a();
    const double k = 1.0 / 0.0254;
    const PlanarLinkage inches{.lower_pivot = k * a.lower_pivot,
                               .lower_length = k * a.lower_length,
                               .upper_pin = k * a.upper_pin,
                               .mast_pin = k * a.mast_pin};
    const PitchBand slot = find_pitch_band(a, 0.6, LinkStops{0.64, 0.69});
    const PitchBand slot_inches = find_pitch_band(inches, k * 0.6, LinkStops{k * 0.64, k * 0.69});
    CHECK(slot_inches.low == Approx(slot.low).epsilon(0).margin(1e-13));
    CHECK(slot_inches.high == Approx(slot.high).epsilon(0).margin(1e-13));
    const PitchBand strap = find_pitch_band(a, 0.6, SwingStrap{0.62, 0.08});
    const PitchBand strap_inches = find_pitch_band(inches, k * 0.6, SwingStrap{k * 0.62, k * 0.08});
    CHECK(strap_inches.low == Approx(strap.low).epsilon(0).margin(1e-13));
    CHECK(strap_inches.high == Approx(strap.high).epsilon(0).margin(1e-13));
}
