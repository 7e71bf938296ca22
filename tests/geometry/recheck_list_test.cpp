// Which readings are taken again after the first hour, and when a difference of two is a movement.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "geometry/recheck_list.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

std::vector<std::string> list_keys(const Setup& setup) {
    std::vector<std::string> keys;
    for (const RecheckReading& r : list_recheck_readings(setup)) keys.push_back(r.key);
    return keys;
}

bool has(const std::vector<std::string>& keys, const std::string& key) {
    return std::find(keys.begin(), keys.end(), key) != keys.end();
}

}  // namespace

TEST_CASE("recheck list: what is known and can settle, by the hitch of the implement", "[analytic]") {
    Setup setup = make_setup_a();
    setup.choices.upper_link_length = make_reading(0.6, Origin::measured, 0.0016);
    setup.tractor.travel.ball_height_low = make_reading(0.2, Origin::measured, 0.003);
    setup.choices.lift_stop = {};
    setup.tractor.drawbar_pins = {{"in [1]", make_reading(0.35), {}, {}}, {"out", make_reading(0.4), {}, {}}};
    setup.direct_readings.resize(1);
    setup.direct_readings[0].name = "top.a[2]";
    setup.direct_readings[0].distance = make_reading(0.8);
    const auto mounted = list_keys(setup);
    CHECK(has(mounted, "choices.upper_link_length"));
    CHECK(has(mounted, "tractor.travel.ball_height_low"));
    CHECK(has(mounted, "direct_reading[top.a[2]].distance"));
    CHECK_FALSE(has(mounted, "choices.lift_stop"));
    CHECK_FALSE(has(mounted, "tractor.drawbar_pin[out].length"));
    // Cast and welded.
    CHECK_FALSE(has(mounted, "tractor.lower_link.length"));
    setup.choices.lift_stop = make_reading(0.7);
    CHECK(has(list_keys(setup), "choices.lift_stop"));
    setup.implement.attachment = Attachment::drawn;
    const auto drawn = list_keys(setup);
    CHECK(has(drawn, "tractor.drawbar_pin[in [1]].length"));
    CHECK(has(drawn, "tractor.drawbar_pin[out].length"));
    CHECK_FALSE(has(drawn, "choices.upper_link_length"));
    setup.choices.drawn.drawbar_pin = "out";
    CHECK_FALSE(has(list_keys(setup), "tractor.drawbar_pin[in [1]].length"));
    CHECK(has(list_keys(setup), "tractor.drawbar_pin[out].length"));
}

TEST_CASE("recheck list: every reading has an error of taking it again, a measure and a reason", "[metamorphic]") {
    Setup setup = make_setup_a();
    setup.tractor.drawbar_pins.resize(1);
    std::size_t known = 0;
    visit_readings(setup, [&](const std::string&, Reading& r, const FieldSpec& spec) {
        r = make_reading(0.5 * (spec.least + spec.most), Origin::measured, spec.tolerance);
        ++known;
    });
    for (const Attachment attachment : {Attachment::mounted, Attachment::drawn}) {
        setup.implement.attachment = attachment;
        const auto readings = list_recheck_readings(setup);
        CHECK(readings.size() >= 4);
        CHECK(readings.size() < known / 4);
        for (const RecheckReading& r : readings) {
            CAPTURE(r.key);
            CHECK(r.tolerance > 0.0);
            CHECK(std::string(r.measure).size() > 10);
            CHECK(std::string(r.reason).size() > 10);
        }
    }
}

TEST_CASE("movement: told only beyond the error of both readings", "[analytic]") {
    const Reading before = make_reading(0.5, Origin::measured, 0.003);
    const auto later = [](double value) { return make_reading(value, Origin::measured, 0.004); };
    CHECK(find_movement(before, later(0.506)).error == Approx(0.005).margin(1e-15));
    CHECK(find_movement(before, later(0.506)).moved == Approx(0.006).margin(1e-15));
    CHECK(find_movement(before, later(0.506)).told);
    CHECK(find_movement(before, later(0.494)).told);
    CHECK_FALSE(find_movement(before, later(0.505)).told);
    CHECK_FALSE(find_movement(before, later(0.495)).told);
    CHECK_FALSE(find_movement(before, before).told);
}

TEST_CASE("movement: two readings of a thing that stands still are called moved one time in twenty", "[random]") {
    const unsigned seed = 20260302;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const double e1 = 0.0016, e2 = 0.0032;
    std::normal_distribution<double> first(0.0, e1 / 2.0), second(0.0, e2 / 2.0);
    constexpr int runs = 40000;
    int told = 0;
    for (int i = 0; i < runs; ++i) {
        told += find_movement(make_reading(0.5 + first(random), Origin::measured, e1),
                              make_reading(0.5 + second(random), Origin::measured, e2))
                        .told
                    ? 1
                    : 0;
    }
    // Beyond two sigma: 4.55 %; four standard deviations of the count are 0.42 %.
    const double share = std::erfc(2.0 / std::sqrt(2.0));
    CHECK(static_cast<double>(told) / runs == Approx(share).margin(4.0 * std::sqrt(share * (1.0 - share) / runs)));
}
