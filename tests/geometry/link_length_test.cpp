#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include "geometry/angle.h"
#include "geometry/link_length.h"
#include "tests/geometry/linkage_a.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Lower link 1 m, mast 0.6 upright, upper pin 0.6 over the lower pivot.
PlanarLinkage make_square() {
    return {.lower_pivot = Point(0.0, 0.5),
            .lower_length = 1.0,
            .upper_pin = Point(0.0, 1.1),
            .upper_length = 1.0,
            .mast_pin = Point(0.0, 0.6)};
}

}  // namespace

TEST_CASE("link length: a level square rig needs a link as long as its lower one", "[analytic]") {
    const WantedLength wanted = solve_upper_link_length(make_square(), 0.5, 0.0);
    REQUIRE(wanted.closure.closes());
    CHECK(wanted.length == 1.0);
    CHECK_FALSE(wanted.past_dead_centre);
    // At 3-4-5 height the frame is still a parallelogram.
    CHECK(solve_upper_link_length(make_square(), 1.1, 0.0).length == Approx(1.0).epsilon(0).margin(1e-15));
}

TEST_CASE("link length: the pose with the wanted length has the wanted pitch", "[random][residual]") {
    const unsigned seed = 20260113;
    CAPTURE(seed);
    std::mt19937 random(seed);
    int checked = 0;
    for (int i = 0; i < 500; ++i) {
        PlanarLinkage linkage = make_random_linkage(random);
        const double height = linkage.lower_pivot.y() + std::uniform_real_distribution<double>(-0.3, 0.4)(random);
        const double pitch = std::uniform_real_distribution<double>(-0.4, 0.4)(random);
        const WantedLength wanted = solve_upper_link_length(linkage, height, pitch);
        REQUIRE(wanted.closure.closes());
        linkage.upper_length = wanted.length;
        if (wanted.past_dead_centre) {
            linkage.side = MastSide::below;
        }
        const PlanarPose pose = solve_pose(linkage, height);
        CAPTURE(i, height, pitch);
        REQUIRE(pose.closes);
        CHECK(pose.pitch == Approx(pitch).epsilon(0).margin(1e-9));
        ++checked;
    }
    CHECK(checked == 500);
}

TEST_CASE("link length: a pitch beyond the dead centre is said, on either side", "[analytic]") {
    PlanarLinkage linkage = make_square();
    // Upside down: mast pin below the ball.
    CHECK(solve_upper_link_length(linkage, 0.5, pi).past_dead_centre);
    linkage.side = MastSide::below;
    CHECK_FALSE(solve_upper_link_length(linkage, 0.5, pi).past_dead_centre);
    CHECK(solve_upper_link_length(linkage, 0.5, 0.0).past_dead_centre);
}

TEST_CASE("link length: what cannot be placed is charged to its part", "[analytic]") {
    const Closure reach = solve_upper_link_length(make_square(), 1.75, 0.0).closure;
    CHECK(reach == Closure{LinkagePart::lower_link, Misfit::too_short, 0.25});
    PlanarLinkage no_mast = make_square();
    no_mast.mast_pin = Point(0.0, 0.0);
    CHECK(solve_upper_link_length(no_mast, 0.5, 0.0).closure.part == LinkagePart::mast);
    CHECK(solve_upper_link_length(make_square(), 0.5, not_a_number).closure.misfit == Misfit::undefined);
    CHECK(solve_upper_link_length(make_square(), not_a_number, 0.0).closure.misfit == Misfit::undefined);
    PlanarLinkage on_the_pin = make_square();
    on_the_pin.upper_pin = Point(1.0, 1.1);
    CHECK(solve_upper_link_length(on_the_pin, 0.5, 0.0).closure ==
          Closure{LinkagePart::upper_link, Misfit::undefined, 0.0});
}

TEST_CASE("turns: positive lengthens, two threads count together", "[analytic]") {
    CHECK(find_turns(0.668, 0.660, 0.004).value() == Approx(2.0).epsilon(0).margin(1e-12));
    CHECK(find_turns(0.650, 0.660, 0.004).value() == Approx(-2.5).epsilon(0).margin(1e-12));
    CHECK_FALSE(find_turns(0.668, 0.660, 0.0));
    CHECK_FALSE(find_turns(0.668, 0.660, -0.004));
    CHECK_FALSE(find_turns(0.668, not_a_number, 0.004));
    CHECK_FALSE(find_turns(0.668, 0.660, not_a_number));
}

TEST_CASE("upper-link reach: inside the range the thread left is told both ways", "[analytic]") {
    const UpperLinkReach reach = check_upper_link_reach(0.65, 0.5, 0.75).value();
    CHECK(reach.within);
    CHECK(reach.thread_left_to_shorten == Approx(0.15).epsilon(0).margin(1e-15));
    CHECK(reach.thread_left_to_lengthen == Approx(0.10).epsilon(0).margin(1e-15));
    CHECK(reach.too_short_by == 0.0);
    CHECK(reach.too_long_by == 0.0);
    CHECK(check_upper_link_reach(0.5, 0.5, 0.75).value().within);
    CHECK(check_upper_link_reach(0.75, 0.5, 0.75).value().within);
}

TEST_CASE("upper-link reach: outside the range it says which way and by how much", "[analytic]") {
    const UpperLinkReach lacks = check_upper_link_reach(0.875, 0.5, 0.75).value();
    CHECK_FALSE(lacks.within);
    CHECK(lacks.too_short_by == 0.125);
    CHECK(lacks.too_long_by == 0.0);
    CHECK(lacks.thread_left_to_lengthen == 0.0);
    const UpperLinkReach over = check_upper_link_reach(0.375, 0.5, 0.75).value();
    CHECK_FALSE(over.within);
    CHECK(over.too_long_by == 0.125);
    CHECK(over.too_short_by == 0.0);
    CHECK(over.thread_left_to_shorten == 0.0);
}

TEST_CASE("upper-link reach: a range upside down or not finite gives no answer", "[analytic]") {
    CHECK_FALSE(check_upper_link_reach(0.6, 0.75, 0.5));
    CHECK_FALSE(check_upper_link_reach(not_a_number, 0.5, 0.75));
    CHECK_FALSE(check_upper_link_reach(0.6, not_a_number, 0.75));
    CHECK_FALSE(check_upper_link_reach(0.6, 0.5, std::numeric_limits<double>::infinity()));
}

TEST_CASE("transport pitch: a parallelogram keeps the implement level", "[analytic]") {
    const TransportPitch transport = solve_transport_pitch(make_square(), 1.2);
    REQUIRE(transport.closure.closes());
    CHECK(transport.upper_length == 1.0);
    CHECK(std::abs(transport.pitch) < 1e-14);
}

TEST_CASE("transport pitch: set with links level and mast vertical, apart from the present link", "[analytic]") {
    PlanarLinkage a = make_linkage_a();
    const TransportPitch transport = solve_transport_pitch(a, 0.95);
    REQUIRE(transport.closure.closes());
    CHECK(transport.upper_length == Approx(std::hypot(0.645, 0.15)).epsilon(0).margin(1e-15));
    // The present link, longer or shorter, is not what counts; at the top it gives another pitch.
    a.upper_length = 0.70;
    CHECK(solve_transport_pitch(a, 0.95).pitch == transport.pitch);
    CHECK(std::abs(solve_pose(a, 0.95).pitch - transport.pitch) > 0.01);
    a.upper_length = transport.upper_length;
    CHECK(solve_pose(a, 0.95).pitch == Approx(transport.pitch).epsilon(0).margin(1e-12));
    CHECK(std::abs(solve_pose(a, 0.5).pitch) < 1e-12);
}

TEST_CASE("transport pitch: an offset mast pin is judged by the frame, not by the pin", "[analytic]") {
    PlanarLinkage linkage = make_square();
    linkage.mast_pin = Point(0.1, 0.6);
    const TransportPitch transport = solve_transport_pitch(linkage, 0.5);
    REQUIRE(transport.closure.closes());
    CHECK(transport.upper_length == Approx(1.1).epsilon(0).margin(1e-15));
    CHECK(std::abs(transport.pitch) < 1e-14);
}

TEST_CASE("transport pitch: heights and masts that do not work are results", "[analytic]") {
    CHECK(solve_transport_pitch(make_square(), 2.0).closure.part == LinkagePart::lower_link);
    PlanarLinkage no_mast = make_square();
    no_mast.mast_pin = Point(0.0, 0.0);
    CHECK(solve_transport_pitch(no_mast, 0.7).closure.part == LinkagePart::mast);
    PlanarLinkage hanging = make_square();
    hanging.mast_pin = Point(0.0, -0.6);
    CHECK(solve_transport_pitch(hanging, 0.7).past_dead_centre);
    // The raised ball comes to (0.6, 1.3), close to the upper pin: the mast of 0.6 is too long for the link of 0.3.
    PlanarLinkage tight = make_square();
    tight.upper_pin = Point(0.7, 1.1);
    const TransportPitch lost = solve_transport_pitch(tight, 1.3);
    CHECK(lost.upper_length == Approx(0.3).epsilon(0).margin(1e-15));
    CHECK(lost.closure.part == LinkagePart::upper_link);
    CHECK(lost.closure.misfit == Misfit::too_short);
    CHECK(lost.closure.shortfall == Approx(0.6 - 0.3 - std::hypot(0.1, 0.2)).epsilon(0).margin(1e-14));
    CHECK(lost.pitch == 0.0);
}

TEST_CASE("link length: scaled and mirrored twins", "[metamorphic]") {
    const PlanarLinkage a = make_linkage_a();
    const double length = solve_upper_link_length(a, 0.7, 0.1).length;
    const double k = 1.0 / 0.0254;
    const PlanarLinkage inches{.lower_pivot = k * a.lower_pivot,
                               .lower_length = k * a.lower_length,
                               .upper_pin = k * a.upper_pin,
                               .mast_pin = k * a.mast_pin};
    CHECK(solve_upper_link_length(inches, k * 0.7, 0.1).length == Approx(k * length).epsilon(0).margin(1e-12));
    PlanarLinkage down = a;
    down.lower_pivot.y() *= -1.0;
    down.upper_pin.y() *= -1.0;
    down.mast_pin.y() *= -1.0;
    down.side = MastSide::below;
    const WantedLength mirrored = solve_upper_link_length(down, -0.7, -0.1);
    CHECK(mirrored.length == Approx(length).epsilon(0).margin(1e-14));
    CHECK_FALSE(mirrored.past_dead_centre);
}
