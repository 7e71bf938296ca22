// The whole way from readings to poses against the table of linkage A (linkage_a.csv).
//
// The readings are lengths in space: lower links that stand apart differently at pivots and balls, so that only a right
// projection gives the table's 885 mm, and a lift rod at a slant for the travel from the arm.
// source, obtained, tolerance: see the head of linkage_a.csv
#include <catch2/catch.hpp>

#include <cmath>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using namespace hitchwright::test;
using validation::load_table;
using validation::TableRow;

namespace {

constexpr double mm = 0.001;
constexpr double length_tolerance = 1e-12;  // m
constexpr double angle_tolerance = 1e-9;    // deg

void check_angle(double radians, const TableRow& row, const char* column) {
    CAPTURE(column);
    CHECK(to_degrees(radians) == Approx(row.number(column)).epsilon(0).margin(angle_tolerance));
}

void check_point(const Point& at, const TableRow& row, const char* x, const char* z) {
    CAPTURE(x, z);
    CHECK(at.x() == Approx(row.number(x) * mm).epsilon(0).margin(length_tolerance));
    CHECK(at.y() == Approx(row.number(z) * mm).epsilon(0).margin(length_tolerance));
}

}  // namespace

TEST_CASE("pose from readings: the table of linkage A through set-up, model and pose report", "[oracle]") {
    const Setup setup = make_setup_a();
    const MountedModelResult built = make_mounted_model(setup);
    REQUIRE(built.linkage_obstacles.empty());
    const std::vector<TableRow> rows = load_table("linkage_a.csv");
    REQUIRE(rows.size() == 16);
    for (const TableRow& row : rows) {
        const double height = row.number("ball_height_mm") * mm;
        CAPTURE(height);
        const PoseReport r = make_pose_report(setup, built.model, height);
        REQUIRE(r.pose.closes);
        check_angle(r.pose.pitch, row, "pitch_deg");
        check_angle(r.pose.lower_link_angle, row, "lower_link_deg");
        check_angle(r.pose.upper_link_angle, row, "top_link_deg");
        check_point(r.pose.mast_pin, row, "mast_pin_x_mm", "mast_pin_z_mm");
        CHECK(r.pose.ball.x() == Approx(row.number("ball_x_mm") * mm).epsilon(0).margin(length_tolerance));
        REQUIRE(r.inverse_hitch_distance);
        const double ahead = (row.number("ball_x_mm") - row.number("ic_x_mm")) * mm;
        CHECK(*r.inverse_hitch_distance == Approx(1.0 / ahead).epsilon(0).margin(1e-11));
        // Shaft by Pythagoras from the table's ball and pitch: stub (350, 600) + 30, input (500, 250) - 30 in frame I.
        const double p = to_radians(row.number("pitch_deg"));
        const double x = row.number("ball_x_mm") + 470.0 * std::cos(p) - 250.0 * std::sin(p) - 380.0;
        const double z = row.number("ball_height_mm") + 470.0 * std::sin(p) + 250.0 * std::cos(p) - 600.0;
        CHECK(r.shaft_length == Approx(std::hypot(x, z) * mm).epsilon(0).margin(length_tolerance));
        CHECK(r.tractor_angle == Approx(std::fabs(std::atan2(z, x))).epsilon(0).margin(1e-11));
        CHECK(r.implement_angle == Approx(std::fabs(std::atan2(z, x) - p)).epsilon(0).margin(1e-11));
        CHECK(r.gap == Approx(r.shaft_length - 0.800).epsilon(0).margin(length_tolerance));
        CHECK(r.overlap == Approx(0.800 + 0.450 - r.shaft_length).epsilon(0).margin(length_tolerance));
    }
}

TEST_CASE("pose from readings: the travel from the lift arm ends at the table's heights", "[oracle]") {
    const std::vector<TableRow> rows = load_table("linkage_a.csv");
    REQUIRE(rows.size() == 16);
    for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
        Setup setup = make_setup_a();
        setup.tractor.travel = {};
        add_lift_a(setup.tractor, rows[i].number("lift_arm_deg"), rows.back().number("lift_arm_deg"));
        const MountedModelResult built = make_mounted_model(setup);
        REQUIRE(built.linkage_ok);
        CHECK(built.model.travel.low == Approx(rows[i].number("ball_height_mm") * mm).epsilon(0).margin(length_tolerance));
        CHECK(built.model.travel.high == Approx(rows.back().number("ball_height_mm") * mm).epsilon(0).margin(length_tolerance));
    }
}

TEST_CASE("pose from readings: a sweep over the travel has both ends and is what single poses are", "[residual]") {
    const Setup setup = make_setup_a();
    const std::vector<PoseReport> sweep = sweep_travel(setup, 16);
    const std::vector<TableRow> rows = load_table("linkage_a.csv");
    REQUIRE(sweep.size() == rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        CHECK(sweep[i].pose.ball_height == Approx(rows[i].number("ball_height_mm") * mm).epsilon(0).margin(length_tolerance));
        check_angle(sweep[i].pose.pitch, rows[i], "pitch_deg");
    }
    CHECK(sweep.front().pose.ball_height == 0.200);
    CHECK(sweep.back().pose.ball_height == 0.950);
}
