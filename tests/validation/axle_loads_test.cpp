// Axle loads and least ballast against a table of equilibria, printed figures and the printed formulas.
#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <vector>

#include "geometry/axle_loads.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using validation::load_checks;
using validation::load_table;
using validation::TableRow;
using validation::ValueCheck;

namespace {

/// Symbols as operator's manuals print them: TV, TH axle loads empty, GV front mass at a ahead of the front axle, GH implement at
/// c + d behind the rear axle, b wheelbase.
struct Printed {
    double tv = 0.0, th = 0.0, a = 0.0, b = 0.0, c = 0.0, d = 0.0, gv = 0.0, gh = 0.0;

    std::vector<PlacedMass> masses(bool front_mass, bool implement) const {
        return {{tv, -b}, {th, 0.0}, {front_mass ? gv : 0.0, -b - a}, {implement ? gh : 0.0, c + d}};
    }
    double empty() const { return tv + th; }
    /// (GH (c + d) - TV b + 0.2 TL b) / (a + b)
    double least_front() const { return (gh * (c + d) - tv * b + 0.2 * empty() * b) / (a + b); }
    /// (GV a - TH b + 0.45 TL b) / (b + c + d)
    double least_rear() const { return (gv * a - th * b + 0.45 * empty() * b) / (b + c + d); }
    /// (GV (a + b) + TV b - GH (c + d)) / b
    double front() const { return (gv * (a + b) + tv * b - gh * (c + d)) / b; }
    AxleShare front_share(LoadBase base = LoadBase::tractor_empty) const { return {Axle::front, base, 0.2, empty()}; }
    AxleShare rear_share() const { return {Axle::rear, LoadBase::tractor_empty, 0.45, empty()}; }
    double moments_least_front() const {
        return find_least_ballast(find_axle_loads(masses(false, true), b), b, front_share(), -b - a).value();
    }
    double moments_least_rear() const {
        return find_least_ballast(find_axle_loads(masses(true, false), b), b, rear_share(), c + d).value();
    }
};

Printed read(const TableRow& r) {
    return {r.number("front_empty_kg"), r.number("rear_empty_kg"), r.number("front_mass_arm_m"), r.number("wheelbase_m"),
            r.number("ball_m"), r.number("cg_m"), r.number("front_mass_kg"), r.number("implement_kg")};
}

Printed read(const ValueCheck& c) {
    return {c.input("front_empty"), c.input("rear_empty"), c.input_or("arm", 0.0), c.input("wheelbase"), c.input("ball"), c.input("cg"),
            0.0, c.input("implement")};
}

}  // namespace

TEST_CASE("axle loads: a table of equilibria, and least masses, negative ones reported as none", "[oracle]") {
    const std::vector<TableRow> rows = load_table("axle_loads.csv");
    REQUIRE(rows.size() == 6);
    for (const TableRow& row : rows) {
        const Printed p = read(row);
        const AxleLoads loads = find_axle_loads(p.masses(true, true), p.b);
        CHECK(std::fabs(loads.front - row.number("front_kg")) < 1e-6);
        CHECK(std::fabs(loads.rear - row.number("rear_kg")) < 1e-6);
        CHECK(std::fabs(100.0 * find_axle_share(loads, p.front_share()) - row.number("front_share_pct")) < 1e-6);
        CHECK(std::fabs(p.moments_least_front() - std::max(0.0, row.number("least_front_kg"))) < 1e-6);
        CHECK(std::fabs(p.moments_least_rear() - std::max(0.0, row.number("least_rear_kg"))) < 1e-6);
    }
}

TEST_CASE("axle loads: printed figures of ballast pages", "[handbook]") {
    for (const ValueCheck& c : load_checks("load_values.toml", "axle_loads")) {
        INFO(c.name << " (" << c.source << ")");
        const Printed p = read(c);
        const AxleLoads loads = find_axle_loads(p.masses(false, true), p.b);
        CHECK(std::fabs(loads.front - c.out.at("front")) <= c.tolerance);
        CHECK(std::fabs(loads.rear - c.out.at("rear")) <= c.tolerance);
    }
    for (const ValueCheck& c : load_checks("load_values.toml", "least_front")) {
        INFO(c.name << " (" << c.source << ")");
        const Printed p = read(c);
        const LoadBase base = c.input("all_together") > 0.5 ? LoadBase::all_together : LoadBase::tractor_empty;
        const auto least = find_least_ballast(find_axle_loads(p.masses(false, true), p.b), p.b, p.front_share(base), -p.b - p.a);
        REQUIRE(least);
        CHECK(std::fabs(*least - c.out.at("least")) <= c.tolerance);
        std::vector<PlacedMass> with = p.masses(false, true);
        with.push_back({*least, -p.b - p.a});
        CHECK(std::fabs(find_axle_share(find_axle_loads(with, p.b), p.front_share(base)) - 0.2) < 1e-9);
    }
}

TEST_CASE("axle loads: the printed formulas follow from moments, the one printed with a wrong sign does not", "[handbook][random]") {
    // BAL: a dozen manuals print these, two of them with a wrong sign.
    std::mt19937 random(52);
    const auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
    int front_needed = 0, rear_needed = 0;
    for (int i = 0; i < 300; ++i) {
        const Printed p{between(600, 3000), between(800, 4000), between(0.6, 1.5), between(1.5, 3.0), between(0.7, 1.2),
                        between(0.4, 1.6),  between(0, 1500),   between(200, 2500)};
        CHECK(find_axle_loads(p.masses(true, true), p.b).front == Approx(p.front()).epsilon(1e-12).margin(1e-9));
        CHECK(p.moments_least_front() == Approx(std::max(0.0, p.least_front())).epsilon(1e-12).margin(1e-9));
        CHECK(p.moments_least_rear() == Approx(std::max(0.0, p.least_rear())).epsilon(1e-12).margin(1e-9));
        front_needed += p.least_front() > 0.0 ? 1 : 0;
        rear_needed += p.least_rear() > 0.0 ? 1 : 0;
        // As one manual prints it, the tractor's own moment taken off instead of added: never what moments give.
        const double wrong = (p.gv * (p.a + p.b) - p.tv * p.b - p.gh * (p.c + p.d)) / p.b;
        CHECK(std::fabs(find_axle_loads(p.masses(true, true), p.b).front - wrong) > 1000.0);
    }
    CHECK(front_needed > 20);
    CHECK(rear_needed > 5);
    const Printed p{2000, 3000, 1.2, 2.5, 0.9, 1.0, 0, 1500};
    CHECK(find_axle_loads(p.masses(false, true), p.b).front == Approx(860.0));  // not -3140
}
