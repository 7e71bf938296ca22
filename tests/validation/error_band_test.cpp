// Error bands of gap and overlap against Monte Carlo on three constructed set-ups.
//
// source: none needed; 20,000 draws of every reading, normal with sigma = half its tolerance, model rebuilt and the extremes
//   of the shaft's length taken anew over the travel
// tolerance: 5 % of the band: the spread of 20,000 draws is known to 0.5 %, first order leaves out the rest
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "geometry/angle.h"
#include "geometry/error_band.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr int draws = 20000;
constexpr double agreement = 0.05;

/// The usual tolerance of its field for every known reading.
void set_usual_tolerances(Setup& s) {
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
}

/// Least and greatest shaft length over the travel: 41 heights, parabolas between neighbours, both ends of the slack.
std::pair<double, double> find_lengths(const MountedModel& m) {
    constexpr int steps = 40;
    const HeightRange lengths = effective_upper_lengths(m);
    double least = 1e9, most = -1e9;
    for (const double e : {lengths.low, lengths.high}) {
        std::array<double, steps + 1> s{};
        for (int i = 0; i <= steps; ++i) {
            const double h = m.travel.low + (m.travel.high - m.travel.low) * i / steps;
            s[static_cast<std::size_t>(i)] = find_shaft_state(m.ends, solve_kernel<double>(m.linkage, h, e)).length;
        }
        for (std::size_t i = 0; i < s.size(); ++i) {
            least = std::min(least, s[i]);
            most = std::max(most, s[i]);
            if (i == 0 || i + 1 == s.size()) continue;
            const double bend = s[i - 1] - 2.0 * s[i] + s[i + 1], slope = 0.5 * (s[i + 1] - s[i - 1]);
            if (std::fabs(slope) > std::fabs(bend)) continue;
            const double peak = s[i] - 0.5 * slope * slope / bend;
            least = std::min(least, peak);
            most = std::max(most, peak);
        }
    }
    return {least, most};
}

struct Spread {
    double gap = 0.0, overlap = 0.0;  ///< two sigma
};

Spread simulate(const Setup& setup, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    Setup moved = setup;
    std::vector<std::pair<Reading*, double>> readings;
    visit_readings(moved, [&](const std::string&, Reading& r, const FieldSpec&) {
        if (r.known && r.tolerance > 0.0) readings.push_back({&r, r.value});
    });
    REQUIRE(readings.size() > 15);
    double sum_gap = 0.0, sum_gap2 = 0.0, sum_lap = 0.0, sum_lap2 = 0.0;
    for (int i = 0; i < draws; ++i) {
        for (auto& [reading, value] : readings) reading->value = value + 0.5 * reading->tolerance * normal(random);
        const MountedModelResult r = make_mounted_model(moved);
        if (!r.linkage_obstacles.empty() || !r.model.has_halves) FAIL("a draw does not close");
        const auto [least, most] = find_lengths(r.model);
        const double gap = find_gap(r.model.halves, least), lap = find_overlap(r.model.halves, most);
        sum_gap += gap;
        sum_gap2 += gap * gap;
        sum_lap += lap;
        sum_lap2 += lap * lap;
    }
    const auto two_sigma = [](double sum, double squares) { return 2.0 * std::sqrt(squares / draws - (sum / draws) * (sum / draws)); };
    return {two_sigma(sum_gap, sum_gap2), two_sigma(sum_lap, sum_lap2)};
}

void check_bands(const Setup& s) {
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE((a.linkage && a.shaft && a.shaft->has_plan));
    const ErrorBands bands = find_error_bands(ErrorModel(s), *a.linkage, *a.shaft);
    REQUIRE(bands.known);
    const Spread spread = simulate(s, seed);
    CAPTURE(bands.gap.width, spread.gap, bands.overlap.width, spread.overlap);
    CHECK(bands.gap.width > 0.002);
    CHECK(std::fabs(bands.gap.width - spread.gap) < agreement * spread.gap);
    CHECK(std::fabs(bands.overlap.width - spread.overlap) < agreement * spread.overlap);
    CHECK(bands.gap.widest.share <= bands.gap.width);
    CHECK_FALSE(bands.gap.widest.reading.empty());
}

}  // namespace

TEST_CASE("error bands: plain set-up with a taped travel and a typed link against Monte Carlo", "[random][oracle]") {
    Setup s = make_setup_a();
    set_usual_tolerances(s);
    check_bands(s);
}

TEST_CASE("error bands: travel from the lift arm, link for a working pitch, joints beside the middle", "[random][oracle]") {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.tractor.travel = {};
    add_lift_a(s.tractor, -11.0, 55.0);
    s.implement.work.pitch = known(to_radians(-0.5));
    s.tractor.pto.stub_y = known(0.010);
    s.tractor.pto.stub_slope = known(to_radians(2.0));
    s.implement.pic.y = known(0.150);
    s.implement.pic.plan_angle = known(to_radians(6.0));
    set_usual_tolerances(s);
    check_bands(s);
}

TEST_CASE("error bands: slack in the link, wide-angle joint, shaft measured between grooves", "[random][oracle]") {
    Setup s = make_setup_a();
    s.implement.upper_link_float = {UpperLinkKind::slot, known(0.050), Reading{}};
    s.driveline.reference = LengthReference::locking_grooves;
    s.driveline.closed_length = known(0.890);
    s.driveline.tractor_joint.centre_to_groove = known(0.045);
    s.driveline.implement_joint.centre_to_groove = known(0.045);
    s.driveline.tractor_joint.kind = JointKind::wide_angle;
    s.driveline.tractor_joint.spacing = known(0.090);
    set_usual_tolerances(s);
    check_bands(s);
}

namespace {

/// Least distance of the first point to the straight shaft less the guard's radius: heights sampled, segment by hand.
double sample_guard_room(const Setup& s, const MountedModel& m) {
    const double px = s.implement.points[0].x.value, pz = s.implement.points[0].z.value;
    double least = 1e9;
    for (int i = 0; i <= 100; ++i) {
        const double h = m.travel.low + (m.travel.high - m.travel.low) * i / 100;
        const KernelPose<double> pose = solve_kernel<double>(m.linkage, h, m.linkage.upper_length);
        const ShaftState<double> shaft = find_shaft_state(m.ends, pose);
        const double x = pose.ball.x + pose.cos_pitch * px - pose.sin_pitch * pz;
        const double z = pose.ball.z + pose.sin_pitch * px + pose.cos_pitch * pz;
        const double dx = shaft.to.x - shaft.from.x, dz = shaft.to.z - shaft.from.z;
        const double t = std::clamp(((x - shaft.from.x) * dx + (z - shaft.from.z) * dz) / (dx * dx + dz * dz), 0.0, 1.0);
        least = std::min(least, std::hypot(x - shaft.from.x - t * dx, z - shaft.from.z - t * dz));
    }
    return least - s.driveline.guard_radius.value;
}

}  // namespace

TEST_CASE("error bands: room between a deck edge and the guard against Monte Carlo", "[random][oracle]") {
    Setup s = make_setup_a();
    s.driveline.guard_radius = known(0.080);
    ImplementPoint lip;
    lip.name = "deck lip";
    lip.x = known(0.050);
    lip.z = known(-0.150);
    lip.deck_edge = true;
    s.implement.points = {lip};
    set_usual_tolerances(s);
    const Analysis a = analyze(s, millimetre_mark);
    const auto it = std::find_if(a.clearances.begin(), a.clearances.end(),
                                 [](const Clearance& c) { return c.kind == ClearanceKind::guard_to_deck_edge; });
    REQUIRE(it != a.clearances.end());
    const ErrorBand band = find_clearance_bands(ErrorModel(s), a.linkage->model, {*it}).front();
    REQUIRE(std::fabs(sample_guard_room(s, a.linkage->model) - it->least.value) < 1e-4);
    const unsigned seed = Catch::rngSeed();
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    Setup moved = s;
    std::vector<std::pair<Reading*, double>> readings;
    visit_readings(moved, [&](const std::string&, Reading& r, const FieldSpec&) {
        if (r.known && r.tolerance > 0.0) readings.push_back({&r, r.value});
    });
    double sum = 0.0, squares = 0.0;
    for (int i = 0; i < draws; ++i) {
        for (auto& [reading, value] : readings) reading->value = value + 0.5 * reading->tolerance * normal(random);
        const MountedModelResult r = make_mounted_model(moved);
        REQUIRE(r.linkage_ok);
        const double room = sample_guard_room(moved, r.model);
        sum += room;
        squares += room * room;
    }
    const double spread = 2.0 * std::sqrt(squares / draws - (sum / draws) * (sum / draws));
    CAPTURE(band.width, spread);
    CHECK(band.width > 0.002);
    CHECK(std::fabs(band.width - spread) < agreement * spread);
}
