// The three-point linkage against linkage_a.csv: pose, lift linkage, virtual hitch point, rates and forces.
#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/angle.h"
#include "geometry/lift_linkage.h"
#include "geometry/linkage_quantities.h"
#include "geometry/mast_closure.h"
#include "tests/geometry/linkage_a.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using hitchwright::test::make_lift_a;
using hitchwright::test::make_linkage_a;
using validation::load_table;
using validation::TableRow;

namespace {

constexpr double mm = 0.001;
constexpr double length_tolerance = 1e-12;  // m
constexpr double angle_tolerance = 1e-9;    // deg, also deg/m

void check_length(double metres, const TableRow& row, const char* column) {
    CAPTURE(column);
    CHECK(metres == Approx(row.number(column) * mm).epsilon(0).margin(length_tolerance));
}

void check_angle(double radians, const TableRow& row, const char* column) {
    CAPTURE(column);
    CHECK(to_degrees(radians) == Approx(row.number(column)).epsilon(0).margin(angle_tolerance));
}

/// The rows, all there.
std::vector<TableRow> load_rows() {
    const std::vector<TableRow> rows = load_table("linkage_a.csv");
    REQUIRE(rows.size() == 16);
    return rows;
}

}  // namespace

TEST_CASE("linkage A table: pose by the kernel and by the mast closure", "[oracle]") {
    const PlanarLinkage a = make_linkage_a();
    for (const TableRow& row : load_rows()) {
        CAPTURE(row.text("ball_height_mm"));
        const PlanarPose pose = solve_pose(a, row.number("ball_height_mm") * mm);
        REQUIRE(pose.closes);
        check_angle(pose.lower_link_angle, row, "lower_link_deg");
        check_angle(pose.pitch, row, "pitch_deg");
        check_angle(pose.upper_link_angle, row, "top_link_deg");
        check_length(pose.ball.x(), row, "ball_x_mm");
        check_length(pose.mast_pin.x(), row, "mast_pin_x_mm");
        check_length(pose.mast_pin.y(), row, "mast_pin_z_mm");
        const MastPose mast = solve_mast(pose.ball, a.upper_pin, a.upper_length, a.mast_pin);
        REQUIRE(mast.closure.closes());
        check_angle(mast.pitch, row, "pitch_deg");
        check_angle(mast.upper_link_angle, row, "top_link_deg");
        check_length(mast.mast_pin.x(), row, "mast_pin_x_mm");
        check_length(mast.mast_pin.y(), row, "mast_pin_z_mm");
    }
}

TEST_CASE("linkage A table: lift arm from ball height and ball height from lift arm", "[oracle]") {
    const LiftLinkage lift = make_lift_a();
    for (const TableRow& row : load_rows()) {
        CAPTURE(row.text("ball_height_mm"));
        const LiftPose up = solve_lift_from_ball(lift, row.number("ball_height_mm") * mm);
        REQUIRE(up.closure.closes());
        check_angle(up.arm_angle, row, "lift_arm_deg");
        check_angle(up.lower_link_angle, row, "lower_link_deg");
        check_length(up.arm_end.x(), row, "arm_end_x_mm");
        check_length(up.arm_end.y(), row, "arm_end_z_mm");
        const LiftPose down = solve_lift_from_arm(lift, to_radians(row.number("lift_arm_deg")));
        REQUIRE(down.closure.closes());
        check_length(down.ball_height, row, "ball_height_mm");
        check_length(down.ball.x(), row, "ball_x_mm");
    }
}

TEST_CASE("linkage A table: virtual hitch point and pitch rate", "[oracle]") {
    const PlanarLinkage a = make_linkage_a();
    for (const TableRow& row : load_rows()) {
        CAPTURE(row.text("ball_height_mm"));
        const LinkPoints points = find_link_points(a, solve_pose(a, row.number("ball_height_mm") * mm));
        const std::optional<Point> at = find_virtual_hitch_point(points);
        REQUIRE(at);
        CHECK(at->x() == Approx(row.number("ic_x_mm") * mm).epsilon(0).margin(1e-11));
        CHECK(at->y() == Approx(row.number("ic_z_mm") * mm).epsilon(0).margin(1e-11));
        const double ahead = (row.number("ball_x_mm") - row.number("ic_x_mm")) * mm;
        CHECK(find_inverse_hitch_distance(points).value() == Approx(1.0 / ahead).epsilon(0).margin(1e-11));
        check_angle(find_pitch_rate(points).value(), row, "pitch_rate_deg_per_m");
    }
}

TEST_CASE("linkage A table: forces at the ball and 610 mm behind it", "[oracle]") {
    const PlanarLinkage a = make_linkage_a();
    const LiftLinkage lift = make_lift_a();
    for (const TableRow& row : load_rows()) {
        CAPTURE(row.text("ball_height_mm"));
        const double height = row.number("ball_height_mm") * mm;
        const PlanarPose pose = solve_pose(a, height);
        const LinkPoints points = find_link_points(a, pose);
        const double ball_force = find_arm_rate(lift, solve_lift_from_ball(lift, height)).value();
        CHECK(ball_force == Approx(row.number("ball_force_kN_per_kNm")).epsilon(0).margin(1e-12));
        const double rise = find_rise_ratio(points, place_point(pose, Point(0.610, 0.0))).value();
        CHECK(1.0 / rise == Approx(row.number("ratio610")).epsilon(0).margin(1e-12));
        CHECK(ball_force / rise == Approx(row.number("force610_kN_per_kNm")).epsilon(0).margin(1e-12));
        const double ratio = 1.0 / (1.0 + 0.610 * std::cos(pose.pitch) * find_inverse_hitch_distance(points).value());
        CHECK(ratio == Approx(row.number("ratio610")).epsilon(0).margin(1e-12));
    }
}
