// Driveline poses against values from trigonometry: driveline_turn.csv, driveline_values.toml, and the order of
// rotations.
#include <catch2/catch.hpp>

#include <cmath>

#include <Eigen/Geometry>

#include "geometry/angle.h"
#include "geometry/driveline_geometry.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using validation::load_checks;
using validation::load_table;
using validation::TableRow;
using validation::ValueCheck;

namespace {

constexpr double mm = 0.001;

struct DrawnGeometry {
    double to_pin = 0.0;    // m, joint 1 to the pin, horizontally
    double to_joint = 0.0;  // m, pin to joint 2 in implement axes, behind
    double above = 0.0;     // m, joint 2 above joint 1 when level
};

// Places the implement by its pin and attitude; the input shaft carries its joint 30 mm ahead of its end, the stub 50
// mm behind its own, so that offsets are exercised as well.
DrivelinePose pose_of(const DrawnGeometry& g, const Attitude& attitude) {
    const Eigen::Vector3d q(0.40, -0.02, 0.55);
    const MachineShaft stub{q - Eigen::Vector3d(0.050, 0.0, 0.0), Eigen::Vector3d::UnitX(), 0.050, 0.0};
    const MachineShaft input{{g.to_joint + 0.030, 0.0, g.above}, Eigen::Vector3d::UnitX(), 0.010, 0.020};
    const Eigen::Vector3d pin = q + Eigen::Vector3d(g.to_pin, 0.0, 0.0);
    return find_driveline_pose(stub, move_shaft(input, make_rotation(attitude), pin));
}

}  // namespace

TEST_CASE("drawn implement in a turn: length and joint angles of the table", "[oracle]") {
    for (const TableRow& row : load_table("driveline_turn.csv")) {
        const DrawnGeometry geometry{row.number("pto_end_to_pin_mm") * mm, row.number("pin_to_joint_mm") * mm,
                                     row.number("joint_above_pto_mm") * mm};
        const double yaw = to_radians(row.number("turn_deg"));
        CAPTURE(row.text("pto_end_to_pin_mm"), row.text("pin_to_joint_mm"), row.text("joint_above_pto_mm"),
                row.text("turn_deg"));
        const double straight = pose_of(geometry, {}).length;
        for (const double side : {1.0, -1.0}) {  // a left turn is the mirror of a right one
            const DrivelinePose pose = pose_of(geometry, {0.0, 0.0, side * yaw});
            REQUIRE(pose.status == DrivelineStatus::ok);
            CHECK(std::abs(pose.length - row.number("joint_centres_mm") * mm) < 2e-9);
            CHECK(std::abs(straight - pose.length - row.number("shortening_mm") * mm) < 2e-9);
            CHECK(std::abs(to_degrees(pose.tractor_joint_angle) - row.number("joint1_deg")) < 1e-6);
            CHECK(std::abs(to_degrees(pose.implement_joint_angle) - row.number("joint2_deg")) < 1e-6);
        }
    }
}

TEST_CASE("driveline: hand values of parallel stubs and turns", "[analytic]") {
    for (const ValueCheck& check : load_checks("driveline_values.toml", "pose")) {
        INFO(check.name << " (" << check.source << ")");
        const DrivelinePose pose =
            pose_of({check.input("to_pin") * mm, check.input("to_joint") * mm, check.input("above") * mm},
                    {0.0, 0.0, to_radians(check.input("yaw"))});
        REQUIRE(pose.status == DrivelineStatus::ok);
        CHECK(std::abs(pose.length / mm - check.out.at("length")) <= check.tolerance);
        CHECK(std::abs(to_degrees(pose.tractor_joint_angle) - check.out.at("joint_1")) <= check.tolerance);
        CHECK(std::abs(to_degrees(pose.implement_joint_angle) - check.out.at("joint_2")) <= check.tolerance);
    }
}

TEST_CASE("drawn implement: yaw 60, pitch 20, roll 10 are applied in the model's order, any other is 9 mm off or more",
          "[oracle]") {
    // Joint 350 mm behind, 0 beside, 120 mm above the pin; pin 350 mm behind joint 1 and level with it.
    const double y = to_radians(60.0);
    const double p = to_radians(20.0);
    const double r = to_radians(10.0);
    const DrivelinePose pose = pose_of({0.350, 0.350, 0.120}, {p, r, y});
    REQUIRE(pose.status == DrivelineStatus::ok);

    // By hand: roll carries (350, 0, 120) to (350, -120 sin r, 120 cos r); pitch lifts the rear; yaw swings it right.
    const double x1 = 350.0;
    const double y1 = -120.0 * std::sin(r);
    const double z1 = 120.0 * std::cos(r);
    const double x2 = x1 * std::cos(p) - z1 * std::sin(p);
    const double z2 = x1 * std::sin(p) + z1 * std::cos(p);
    const double x3 = x2 * std::cos(y) - y1 * std::sin(y);
    const double y3 = x2 * std::sin(y) + y1 * std::cos(y);
    const double by_hand = std::sqrt((350.0 + x3) * (350.0 + x3) + y3 * y3 + z2 * z2) * mm;
    CHECK(std::abs(pose.length - by_hand) < 1e-12);

    const Eigen::AngleAxisd yaw(y, Eigen::Vector3d::UnitZ());
    const Eigen::AngleAxisd pitch(-p, Eigen::Vector3d::UnitY());
    const Eigen::AngleAxisd roll(r, Eigen::Vector3d::UnitX());
    const Eigen::Vector3d joint(0.350, 0.0, 0.120);
    const Eigen::Vector3d pin(0.350, 0.0, 0.0);
    const auto length = [&](const Eigen::Quaterniond& turn) {
        const Eigen::Vector3d seen = turn * joint;
        return (pin + seen).norm();
    };
    CHECK(std::abs(length(yaw * pitch * roll) - pose.length) < 1e-12);
    for (const Eigen::Quaterniond& other :
         {yaw * roll * pitch, pitch * yaw * roll, pitch * roll * yaw, roll * yaw * pitch, roll * pitch * yaw}) {
        CHECK(std::abs(length(other) - pose.length) > 0.009);
        CHECK(std::abs(length(other) - pose.length) < 0.034);
    }
}
