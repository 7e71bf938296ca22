// The closed form of the planar linkage against a general multibody solver.
//
// source: Simbody 3.7 (Sherman, Seth and Delp, "Simbody: multibody dynamics for biomedical research", Procedia IUTAM 2,
//   2011, from memory), a linkage built here from pin joints, a rod and a point-in-plane constraint: iteration, no closed form
// obtained: assembled from a start 0.1 rad and more off the answer
// tolerance: 1e-11 rad and 1e-11 m. The assembler is asked for constraint errors of 1e-13 m; an error d of the link's
//   length turns the implement by d / lever, with levers of 0.1 m and more (linkages nearer to a dead centre are left out),
//   so 1e-12; it reaches 2e-13
#include <catch2/catch.hpp>

#include <cmath>
#include <iostream>
#include <random>

#include "geometry/linkage_quantities.h"
#include "tests/geometry/linkage_a.h"
#include "tests/validation/simbody_linkage.h"

using namespace hitchwright;
using hitchwright::test::make_linkage_a;
using hitchwright::test::make_random_linkage;
using validation::SimbodyLinkage;
using validation::SimbodyPose;

namespace {

constexpr double tolerance = 1e-11;

SimbodyLinkage to_simbody(const PlanarLinkage& k, double height) {
    return {k.lower_pivot.x(), k.lower_pivot.y(), k.lower_length, k.upper_pin.x(), k.upper_pin.y(),
            k.upper_length,    k.mast_pin.x(),    k.mast_pin.y(), height};
}

/// Distance of the ball from the upper link's line: pitch per change of length is 1 over about this.
double find_lever(const PlanarLinkage& k, const PlanarPose& p) {
    const Point along = (p.mast_pin - k.upper_pin).normalized(), arm = p.mast_pin - p.ball;
    return std::fabs(along.x() * arm.y() - along.y() * arm.x());
}

struct Worst {
    double angle = 0.0, place = 0.0, left = 0.0;
};

void compare(const PlanarLinkage& k, double height, double link_off, double pitch_off, Worst& worst) {
    const PlanarPose p = solve_pose(k, height);
    REQUIRE(p.closes);
    const SimbodyPose s = validation::assemble_with_simbody(to_simbody(k, height), p.lower_link_angle + link_off, p.pitch + pitch_off);
    CAPTURE(height, link_off, pitch_off, s.upper_link_error, s.height_error, p.pitch, s.pitch);
    REQUIRE(s.assembled);
    CHECK(std::fabs(s.pitch - p.pitch) < tolerance);
    CHECK(std::fabs(s.lower_link_angle - p.lower_link_angle) < tolerance);
    CHECK((Point(s.ball_x, s.ball_z) - p.ball).norm() < tolerance);
    CHECK((Point(s.mast_pin_x, s.mast_pin_z) - p.mast_pin).norm() < tolerance);
    worst.angle = std::max(worst.angle, std::fabs(s.pitch - p.pitch));
    worst.place = std::max(worst.place, (Point(s.mast_pin_x, s.mast_pin_z) - p.mast_pin).norm());
    worst.left = std::max({worst.left, std::fabs(s.upper_link_error), std::fabs(s.height_error)});
}

}  // namespace

TEST_CASE("linkage by a multibody solver: linkage A through its travel", "[oracle]") {
    Worst worst;
    for (double height = 0.200; height < 0.951; height += 0.050) compare(make_linkage_a(), height, 0.1, -0.1, worst);
    CHECK(worst.left < 1e-12);
}

TEST_CASE("linkage by a multibody solver: 80 random poses of random linkages", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> rise(-0.35, 0.40), off(0.10, 0.20);
    Worst worst;
    int poses = 0;
    while (poses < 80) {
        const PlanarLinkage k = make_random_linkage(random);
        const double height = k.lower_pivot.y() + rise(random);
        const PlanarPose p = solve_pose(k, height);
        if (!p.closes || find_lever(k, p) < 0.1) continue;
        compare(k, height, off(random), poses % 2 == 0 ? off(random) : -off(random), worst);
        ++poses;
    }
    std::cout << "multibody solver: worst difference " << worst.angle << " rad, " << worst.place
              << " m; constraint error it left " << worst.left << " m" << std::endl;
}
