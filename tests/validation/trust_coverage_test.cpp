// How often a 95 % band holds the truth: machines drawn at random, taped with random errors, judged from what was taped.
//
// source: none needed; truth: random_setup.h with the usual tolerance of each field; readings: the truth plus normal errors,
//   sigma = half the tolerance. The band comes from the readings, the number it must hold from the truth, both numbers by
//   sampling (trust_machine.h). A band is two sigma: 95.45 % is expected of a number without kinks
// tolerance: without kinks 94 to 96 %; 10,000 machines know a share to 0.2 %. With kinks: floors argued at their cases
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "geometry/error_band.h"
#include "geometry/tractor_lift.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/random_setup.h"
#include "tests/validation/trust_draws.h"
#include "tests/validation/trust_machine.h"

using namespace hitchwright;
using namespace validation;

namespace {

constexpr unsigned seed = 20261102;

/// Lift arm and rod that give the travel as taped; false when these do not reach.
bool add_lift(Setup& s) {
    Tractor& t = s.tractor;
    const LowerLinkReadings& l = t.lower_link;
    const double sideways = l.half_spread_at_ball.value - l.half_spread_at_pivot.value;
    LiftLinkage lift;
    lift.lower_pivot = Point(l.pivot_x.value, l.pivot_z.value);
    lift.lower_length = std::sqrt(l.length.value * l.length.value - sideways * sideways);
    lift.rod_pin_along = 0.5 * lift.lower_length;
    lift.arm_pivot = lift.lower_pivot + Point(0.02, 0.70 * lift.lower_length);
    lift.arm_length = 0.36 * lift.lower_length;
    const double middle = 0.5 * (t.travel.ball_height_low.value + t.travel.ball_height_high.value);
    const double sine = (middle - lift.lower_pivot.y()) / lift.lower_length;
    const Point pin = lift.lower_pivot + lift.rod_pin_along * Point(std::sqrt(1.0 - sine * sine), sine);
    lift.rod_length = (lift.arm_pivot + Point(lift.arm_length, 0.0) - pin).norm();
    const LiftPose low = solve_lift_from_ball(lift, t.travel.ball_height_low.value), high = solve_lift_from_ball(lift, t.travel.ball_height_high.value);
    if (!low.closure.closes() || !high.closure.closes() || high.arm_angle - low.arm_angle < 0.5) return false;
    using test::known;
    const double spread = 0.5 * (l.half_spread_at_ball.value + l.half_spread_at_pivot.value);
    t.lift_arm = {known(lift.arm_pivot.x()), known(lift.arm_pivot.y()), known(lift.arm_length), known(spread), known(low.arm_angle), known(high.arm_angle)};
    t.lift_rod.length = known(lift.rod_length);
    t.lift_rod.pin_along_link = known(0.5 * l.length.value);
    const MountedModelResult r = make_mounted_model(s, nullptr, RangeSearch::none);
    return r.linkage_ok && r.model.travel_bounds.low.spare < 1e-6 && r.model.travel_bounds.high.spare < 1e-6;
}

/// Share of machines whose band held the truth.
struct Held {
    std::array<int, quantities> held{}, of{};
    int broken = 0;  ///< a reading's error alone makes the linkage impossible: no band
    double share(std::size_t q) const { return 100.0 * held[q] / of[q]; }
};

/// Which numbers count.
enum class Which { plain, competing, all };

bool is_short_of(const Held& h, int count) {
    for (const int n : h.of) {
        if (n < count) return true;
    }
    return false;
}

/// `lifted`: the travel is known by the lift arm too.
Held count_held(int count, unsigned from, const Features& features, bool lifted, Which which, BandEffort effort) {
    std::mt19937 machines(from);
    std::mt19937_64 errors(from + 1);
    Held h;
    for (int tries = 0; is_short_of(h, count) && tries < 100 * count; ++tries) {
        Setup truth = make_random_setup(machines, features).setup;
        if (lifted && !add_lift(truth)) continue;
        set_usual_tolerances(truth);
        const std::optional<Seen> is = look_at(truth);
        if (!is) continue;
        const auto wanted = [&](std::size_t q) { return h.of[q] < count && (which == Which::all || is->plain[q] == (which == Which::plain)); };
        bool any = false;
        for (std::size_t q = 0; q < quantities; ++q) any = any || wanted(q);
        if (!any) continue;
        Drawn drawn(truth);
        const Setup& taped = drawn.draw(errors);
        const std::optional<Seen> as_taped = look_at(taped);
        if (!as_taped) {
            ++h.broken;
            continue;
        }
        const ErrorBands b = find_error_bands(ErrorModel(taped, effort), as_taped->linkage, as_taped->shaft);
        if (!b.known) {
            ++h.broken;
            continue;
        }
        const std::array<const ErrorBand*, quantities> bands{&b.gap, &b.overlap, &b.tractor_angle, &b.implement_angle, &b.shortest, &b.longest};
        for (std::size_t q = 0; q < quantities; ++q) {
            if (!wanted(q)) continue;
            const double off = is->number[q] - as_taped->number[q];
            ++h.of[q];
            if (off >= -bands[q]->below && off <= bands[q]->above) ++h.held[q];
        }
    }
    return h;
}

void print(const char* what, const Held& h) {
    fmt::print("| {} |", what);
    for (std::size_t q = 0; q < quantities; ++q) fmt::print(" {:.1f} |", h.share(q));
    fmt::print(" {} | {} |\n", h.of[0], h.broken);
}

}  // namespace

TEST_CASE("trust: 95 % bands of 10,000 random machines without kinks hold the truth in 94 to 96 %", "[random][oracle]") {
    const Held h = count_held(10000, seed, {}, false, Which::plain, BandEffort::second_order);
    print("nothing competes", h);
    for (std::size_t q = 0; q < quantities; ++q) {
        CAPTURE(quantity_names[q], h.of[q], h.held[q]);
        CHECK(h.of[q] == 10000);
        CHECK(h.share(q) >= 94.0);
        CHECK(h.share(q) <= 96.0);
    }
}

// A number that is the lesser of two of which the truth is both - the travel's end by tape and by arm - is read too low as often
// as not, and draws about the readings lie lower still: a number that is this end alone is held in 88 to 91 %, whichever of the
// two is taped better, and all that is missed lies above. Second order takes the
// kink's slopes as half of each side's and is narrower yet: measured 86.5 %. Lengths and gaps hardly move with the end. Extremes that
// compete are the same in small: where both are equally far out in truth 91 %, else soon 95 %.
TEST_CASE("trust: 95 % bands of random machines with kinks", "[random][oracle]") {
    struct Series {
        const char* what;
        Features features;
        bool lifted;
        Which which;
        double floor;
    };
    const Series all[] = {{"extremes inside, or that compete", {}, false, Which::competing, 91.0},
                          {"joints beside the middle, slopes", {true, false, false, false}, false, Which::all, 93.0},
                          {"slack in the upper link", {false, false, true, false}, false, Which::all, 93.0},
                          {"travel by tape and by lift arm", {}, true, Which::all, 85.0}};
    for (const Series& s : all) {
        for (const BandEffort effort : {BandEffort::second_order, BandEffort::draws}) {
            const bool drawn = effort == BandEffort::draws;
            const int count = drawn ? (is_long_run() ? 400 : 60) : (is_long_run() ? 5000 : 1500);
            const Held h = count_held(count, seed + 7, s.features, s.lifted, s.which, effort);
            print(fmt::format("{}, {}", s.what, drawn ? "draws" : "second order").c_str(), h);
            for (std::size_t q = 0; q < quantities; ++q) {
                CAPTURE(s.what, drawn, quantity_names[q], h.of[q], h.held[q]);
                CHECK(h.of[q] == count);
                // Three standard errors of the share.
                CHECK(h.share(q) >= s.floor - 3.0 * 100.0 * std::sqrt(0.05 * 0.95 / count));
            }
        }
    }
}
