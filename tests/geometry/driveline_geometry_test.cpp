// Driveline between two machine shafts: joint centres, angles, groove readings, twins, refused input.
#include "geometry/driveline_geometry.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

#include <Eigen/Geometry>

#include "geometry/angle.h"

using namespace hitchwright;

namespace {

constexpr double rounding = 1e-12;

MachineShaft make_shaft(double x, double y, double z, double slope, double plan, double offset) {
    return {{x, y, z}, make_shaft_axis(slope, plan), offset, 0.0};
}

struct Ends {
    MachineShaft stub;
    MachineShaft input;
};

Ends make_random_ends(std::mt19937& random) {
    std::uniform_real_distribution<double> side(-0.3, 0.3);
    std::uniform_real_distribution<double> along(0.6, 1.4);
    std::uniform_real_distribution<double> tilt(-0.6, 0.6);
    std::uniform_real_distribution<double> offset(-0.02, 0.12);
    return {make_shaft(side(random), side(random), 0.6 + side(random), tilt(random), tilt(random), offset(random)),
            make_shaft(along(random), side(random), 0.6 + side(random), tilt(random), tilt(random), offset(random))};
}

}  // namespace

TEST_CASE("shaft axis: slope lifts the rear end, plan angle takes it to the right", "[analytic]") {
    CHECK((make_shaft_axis(0.0, 0.0) - Eigen::Vector3d(1.0, 0.0, 0.0)).norm() < rounding);
    CHECK(std::abs(make_shaft_axis(to_radians(30.0), 0.0).z() - 0.5) < rounding);
    CHECK(std::abs(make_shaft_axis(0.0, to_radians(30.0)).y() - 0.5) < rounding);
    CHECK(std::abs(make_shaft_axis(0.7, -2.2).norm() - 1.0) < rounding);
}

TEST_CASE("joint centres: offset and added length push both joints into the gap between the machines", "[analytic]") {
    MachineShaft stub = make_shaft(0.3, 0.0, 0.6, 0.0, 0.0, 0.03);
    MachineShaft input = make_shaft(1.3, 0.0, 0.6, 0.0, 0.0, 0.04);
    CHECK(std::abs(find_driveline_pose(stub, input).length - 0.93) < rounding);
    stub.added_length = 0.10;   // overrunning clutch on the stub
    input.added_length = 0.02;  // adapter on the input shaft
    const DrivelinePose pose = find_driveline_pose(stub, input);
    REQUIRE(pose.status == DrivelineStatus::ok);
    CHECK(std::abs(pose.length - 0.81) < rounding);
    CHECK(std::abs(pose.tractor_joint.x() - 0.43) < rounding);
    CHECK(std::abs(pose.implement_joint.x() - 1.24) < rounding);
    CHECK(pose.tractor_joint_angle == 0.0);
    CHECK(pose.implement_joint_angle == 0.0);
}

TEST_CASE("joint angles: a bend of a millionth of a degree is still measured", "[analytic]") {
    const double bend = to_radians(1e-6);
    const MachineShaft stub = make_shaft(0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    MachineShaft input = make_shaft(0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    input.end = make_shaft_axis(bend, 0.0);
    const DrivelinePose pose = find_driveline_pose(stub, input);
    REQUIRE(pose.status == DrivelineStatus::ok);
    CHECK(std::abs(pose.tractor_joint_angle / bend - 1.0) < 1e-9);
    CHECK(std::abs(pose.implement_joint_angle / bend - 1.0) < 1e-9);
}

TEST_CASE("joint angles: they are the turns between successive axes, also past a right angle", "[analytic]") {
    const MachineShaft stub = make_shaft(0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    const MachineShaft input{{-0.5, 0.5, 0.0}, make_shaft_axis(0.0, to_radians(90.0)), 0.0, 0.0};
    const DrivelinePose pose = find_driveline_pose(stub, input);
    CHECK(std::abs(pose.tractor_joint_angle - to_radians(135.0)) < rounding);
    CHECK(std::abs(pose.implement_joint_angle - to_radians(45.0)) < rounding);
}

TEST_CASE("groove reading: a straight shaft adds both distances, a bent one does not", "[analytic]") {
    const GrooveOffsets grooves = make_groove_offsets(0.05, 0.06);
    CHECK(grooves == GrooveOffsets{0.05, -0.06});
    const MachineShaft stub = make_shaft(0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    const MachineShaft straight = make_shaft(0.9, 0.0, 0.0, 0.0, 0.0, 0.0);
    CHECK(std::abs(find_groove_distance(stub, straight, grooves) - 1.01) < rounding);
    // Shafts parallel, 0.3 m offset: G^2 = (0.9 + 0.11)^2 + 0.3^2, less than S + 0.11.
    const MachineShaft lifted = make_shaft(0.9, 0.0, 0.3, 0.0, 0.0, 0.0);
    CHECK(std::abs(find_groove_distance(stub, lifted, grooves) - std::hypot(1.01, 0.3)) < rounding);
    CHECK(find_groove_distance(stub, lifted, grooves) < find_driveline_pose(stub, lifted).length + 0.11 - 0.004);
}

TEST_CASE("groove reading: a groove on the tube side of its joint centre takes its distance off", "[analytic]") {
    const MachineShaft stub = make_shaft(0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    const MachineShaft input = make_shaft(0.9, 0.0, 0.0, 0.0, 0.0, 0.0);
    CHECK(std::abs(find_groove_distance(stub, input, {-0.02, 0.03}) - 0.85) < rounding);
}

TEST_CASE("driveline: moved, mirrored, scaled and reversed twins agree", "[metamorphic]") {
    constexpr unsigned seed = 31337u;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> turn(-3.0, 3.0);
    for (int i = 0; i < 100; ++i) {
        CAPTURE(i);
        const Ends ends = make_random_ends(random);
        const GrooveOffsets grooves = make_groove_offsets(0.05, 0.03);
        const DrivelinePose pose = find_driveline_pose(ends.stub, ends.input);
        REQUIRE(pose.status == DrivelineStatus::ok);
        const double reading = find_groove_distance(ends.stub, ends.input, grooves);

        const Eigen::Matrix3d rotation = make_rotation({turn(random), turn(random), turn(random)});
        const Eigen::Vector3d origin(turn(random), turn(random), turn(random));
        const MachineShaft moved_stub = move_shaft(ends.stub, rotation, origin);
        const MachineShaft moved_input = move_shaft(ends.input, rotation, origin);
        const DrivelinePose moved = find_driveline_pose(moved_stub, moved_input);
        CHECK(std::abs(moved.length - pose.length) < rounding);
        CHECK(std::abs(moved.tractor_joint_angle - pose.tractor_joint_angle) < rounding);
        CHECK(std::abs(moved.implement_joint_angle - pose.implement_joint_angle) < rounding);
        CHECK(std::abs(std::sin(moved.bending_plane_angle - pose.bending_plane_angle)) < 1e-9);
        CHECK(std::abs(find_groove_distance(moved_stub, moved_input, grooves) - reading) < rounding);

        Ends mirrored = ends;
        for (MachineShaft* shaft : {&mirrored.stub, &mirrored.input}) {
            shaft->end.y() = -shaft->end.y();
            shaft->axis.y() = -shaft->axis.y();
        }
        const DrivelinePose mirror = find_driveline_pose(mirrored.stub, mirrored.input);
        CHECK(std::abs(mirror.length - pose.length) < rounding);
        CHECK(std::abs(mirror.tractor_joint_angle - pose.tractor_joint_angle) < rounding);
        CHECK(std::abs(std::sin(mirror.bending_plane_angle + pose.bending_plane_angle)) < 1e-9);

        Ends scaled = ends;  // the same in inches
        for (MachineShaft* shaft : {&scaled.stub, &scaled.input}) {
            shaft->end /= 0.0254;
            shaft->joint_offset /= 0.0254;
        }
        const DrivelinePose inches = find_driveline_pose(scaled.stub, scaled.input);
        CHECK(std::abs(inches.length * 0.0254 - pose.length) < rounding);
        CHECK(std::abs(inches.implement_joint_angle - pose.implement_joint_angle) < rounding);

        MachineShaft front = ends.input;  // seen from behind: the machines change places
        MachineShaft rear = ends.stub;
        front.axis = -ends.input.axis;
        rear.axis = -ends.stub.axis;
        const DrivelinePose reversed = find_driveline_pose(front, rear);
        CHECK(std::abs(reversed.length - pose.length) < rounding);
        CHECK(std::abs(reversed.tractor_joint_angle - pose.implement_joint_angle) < rounding);
        CHECK(std::abs(reversed.implement_joint_angle - pose.tractor_joint_angle) < rounding);
    }
}

TEST_CASE("driveline: what cannot be a driveline is named, never a number", "[analytic]") {
    const MachineShaft stub = make_shaft(0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    MachineShaft input = make_shaft(0.9, 0.0, 0.0, 0.0, 0.0, 0.0);
    input.axis *= 1.001;
    CHECK(find_driveline_pose(stub, input).status == DrivelineStatus::axis_not_unit);
    input.axis.setZero();
    CHECK(find_driveline_pose(stub, input).status == DrivelineStatus::axis_not_unit);
    input = make_shaft(0.9, 0.0, 0.0, 0.0, 0.0, 0.9);
    CHECK(find_driveline_pose(stub, input).status == DrivelineStatus::joint_centres_coincide);
    input.end.x() = std::numeric_limits<double>::quiet_NaN();
    CHECK(find_driveline_pose(stub, input).status == DrivelineStatus::not_finite);
    CHECK(find_driveline_pose(stub, input).length == 0.0);
    input.end.x() = 1e200;
    CHECK(find_driveline_pose(stub, input).status == DrivelineStatus::not_finite);
    input = make_shaft(0.9, 0.0, 0.0, 0.0, 0.0, std::numeric_limits<double>::infinity());
    CHECK(find_driveline_pose(stub, input).status == DrivelineStatus::not_finite);
}
