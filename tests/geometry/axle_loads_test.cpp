// Axle loads and ballast against moments taken by hand and by bisection.
#include "geometry/axle_loads.h"

#include <catch2/catch.hpp>

#include <array>
#include <random>
#include <vector>

using namespace hitchwright;

TEST_CASE("axle loads: a mass on an axle loads that axle alone, one behind the rear axle lifts the front one", "[analytic]") {
    const double b = 2.5;
    const std::array tractor{PlacedMass{2000.0, -b}, PlacedMass{3000.0, 0.0}};
    CHECK(find_axle_loads(tractor, b) == AxleLoads{2000.0, 3000.0});
    const std::array with{tractor[0], tractor[1], PlacedMass{1500.0, 1.9}};
    const AxleLoads loads = find_axle_loads(with, b);
    CHECK(loads.front == Approx(860.0).epsilon(0).margin(1e-9));
    CHECK(loads.rear == Approx(5640.0).epsilon(0).margin(1e-9));
    const std::array front{tractor[0], tractor[1], PlacedMass{400.0, -b - 1.2}};
    CHECK(find_axle_loads(front, b).rear < 3000.0);
}

TEST_CASE("axle loads: no moment is left about any point, and nothing is lost", "[random]") {
    std::mt19937 random(31);
    const auto between = [&](double a, double c) { return std::uniform_real_distribution<double>(a, c)(random); };
    for (int i = 0; i < 200; ++i) {
        const double b = between(1.4, 3.2);
        std::vector<PlacedMass> masses;
        double sum = 0.0;
        for (int k = 0; k < 6; ++k) {
            masses.push_back({between(50.0, 3000.0), between(-4.0, 3.0)});
            sum += masses.back().mass;
        }
        const AxleLoads loads = find_axle_loads(masses, b);
        CHECK(loads.total() == Approx(sum).epsilon(1e-12));
        const double about = between(-5.0, 5.0);
        double moment = loads.front * (-b - about) + loads.rear * -about;
        for (const PlacedMass& m : masses) moment -= m.mass * (m.x - about);
        CHECK(std::fabs(moment) < 1e-8);
    }
}

TEST_CASE("least ballast: with it the share is kept exactly, a kilogram less breaks it, by bisection the same", "[random][oracle]") {
    std::mt19937 random(32);
    const auto between = [&](double a, double c) { return std::uniform_real_distribution<double>(a, c)(random); };
    int wanted_some = 0, none_helps = 0;
    for (int i = 0; i < 400; ++i) {
        const double b = between(1.5, 3.0), front = between(500.0, 3000.0), rear = between(800.0, 4000.0);
        const std::vector<PlacedMass> masses{{front, -b}, {rear, 0.0}, {between(200.0, 2500.0), between(0.8, 2.5)}};
        AxleShare share{i % 2 == 0 ? Axle::front : Axle::rear, i % 3 == 0 ? LoadBase::all_together : LoadBase::tractor_empty,
                        i % 2 == 0 ? between(0.15, 0.4) : between(0.45, 0.95), front + rear};
        const double x = share.axle == Axle::front ? between(-b - 1.5, 0.3) : between(-b - 0.2, 1.5);
        const auto keeps = [&](double ballast) {
            std::vector<PlacedMass> all = masses;
            all.push_back({ballast, x});
            return find_axle_share(find_axle_loads(all, b), share) >= share.share;
        };
        const std::optional<double> least = find_least_ballast(find_axle_loads(masses, b), b, share, x);
        if (!least) {
            ++none_helps;
            for (const double m : {10.0, 1e3, 1e5, 1e7}) CHECK_FALSE(keeps(m));
            continue;
        }
        if (*least == 0.0) {
            CHECK(keeps(0.0));
            continue;
        }
        ++wanted_some;
        double low = 0.0, high = 2.0 * *least + 1.0;
        REQUIRE((!keeps(low) && keeps(high)));
        for (int k = 0; k < 80; ++k) {
            const double middle = 0.5 * (low + high);
            (keeps(middle) ? high : low) = middle;
        }
        CHECK(high == Approx(*least).epsilon(1e-9));
    }
    CHECK(wanted_some > 60);
    CHECK(none_helps > 10);
}
