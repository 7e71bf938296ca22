// Attitude: signs of the three angles, a proper rotation, and the order they are applied in.
#include "geometry/attitude.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>

#include <Eigen/Geometry>

#include "geometry/angle.h"

using namespace hitchwright;

TEST_CASE("attitude: rear up, right side up and rear to the right are positive", "[analytic]") {
    const double small = to_radians(10.0);
    const Eigen::Vector3d behind = Eigen::Vector3d::UnitX();
    const Eigen::Vector3d beside = Eigen::Vector3d::UnitY();
    CHECK(Eigen::Vector3d(make_rotation({small, 0.0, 0.0}) * behind).z() > 0.1);
    CHECK(Eigen::Vector3d(make_rotation({0.0, small, 0.0}) * beside).z() > 0.1);
    CHECK(Eigen::Vector3d(make_rotation({0.0, 0.0, small}) * behind).y() > 0.1);
    CHECK(make_rotation({0.0, 0.0, 0.0}) == Eigen::Matrix3d::Identity());
}

TEST_CASE("attitude: the matrix is Rz(yaw) Ry(-pitch) Rx(roll) of a general rotation library", "[oracle]") {
    constexpr unsigned seed = 5150u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> angle(-pi, pi);
    for (int i = 0; i < 100; ++i) {
        const Attitude attitude{angle(random), angle(random), angle(random)};
        CAPTURE(i, attitude.pitch, attitude.roll, attitude.yaw);
        const Eigen::Matrix3d reference = (Eigen::AngleAxisd(attitude.yaw, Eigen::Vector3d::UnitZ()) *
                                           Eigen::AngleAxisd(-attitude.pitch, Eigen::Vector3d::UnitY()) *
                                           Eigen::AngleAxisd(attitude.roll, Eigen::Vector3d::UnitX()))
                                              .toRotationMatrix();
        const Eigen::Matrix3d rotation = make_rotation(attitude);
        CHECK((rotation - reference).cwiseAbs().maxCoeff() < 1e-14);
        CHECK((rotation * rotation.transpose() - Eigen::Matrix3d::Identity()).cwiseAbs().maxCoeff() < 1e-14);
    }
}
