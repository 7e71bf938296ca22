// Lift from readings to the load, against the constructed table of linkage A.
#include <catch2/catch.hpp>

#include <string>

#include "geometry/lift_study.h"
#include "tests/geometry/linkage_a.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using validation::load_table;
using validation::TableRow;

namespace {

constexpr double torque = 10000.0;  // N m at the rockshaft

}  // namespace

TEST_CASE("lift: force 610 mm behind the balls of the table of linkage A, from a lift curve of its forces at the balls",
          "[oracle]") {
    Setup s = test::make_setup_a();
    s.implement.mass = {test::known(100.0), test::known(0.610), test::known(0.0)};
    const auto table = load_table("linkage_a.csv");
    for (const TableRow& row : table) {
        s.tractor.lift_points.push_back({row.text("ball_height_mm"), test::known(row.number("ball_height_mm") / 1000.0),
                                         test::known(row.number("ball_force_kN_per_kNm") * torque)});
    }
    const MountedModelResult model = make_mounted_model(s);
    REQUIRE(model.linkage_ok);
    const LiftStudy study = study_lift_alone(s, model.model);
    CHECK(study.whole_travel);
    int rows = 0;
    for (const TableRow& row : table) {
        const LiftRow lift = find_lift_row(study, model.model, row.number("ball_height_mm") / 1000.0);
        REQUIRE(lift.capacity);
        CHECK(*lift.capacity * gravity == Approx(row.number("force610_kN_per_kNm") * torque).epsilon(0).margin(1e-5));
        CHECK(1.0 / lift.rise == Approx(row.number("ratio610")).epsilon(0).margin(1e-9));
        ++rows;
    }
    CHECK(rows == 16);
}

TEST_CASE("lift: arm and rod of linkage A give the table's force at the balls", "[oracle]") {
    const LiftLinkage lift = test::make_lift_a();
    for (const TableRow& row : load_table("linkage_a.csv")) {
        const LiftKernelPose<double> pose = solve_lift_kernel(lift, row.number("ball_height_mm") / 1000.0);
        CHECK(find_arm_rate(lift, pose) == Approx(row.number("ball_force_kN_per_kNm")).epsilon(0).margin(1e-11));
    }
}
