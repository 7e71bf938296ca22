// What error bands leave out: readings that cannot move a model, on the built-in set-ups.
#include "geometry/moved_models.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "geometry/carried_bands.h"
#include "geometry/mounted_extremes.h"
#include "presets/library.h"
#include "presets/load_setup.h"

using namespace hitchwright;

namespace {

/// Numbers of a model from every part of it.
std::vector<double> list_numbers(const MountedModel& m) {
    std::vector<double> all{m.travel.low, m.travel.high, m.working_height, m.working_band.low, m.working_band.high, m.slack,
                            m.linkage.upper_length, m.space.side.sway.low, m.space.side.sway.high, m.space.side.tilt_sine.low,
                            m.space.side.tilt_sine.high};
    for (const double share : {0.0, 0.4, 1.0}) {
        const double h = m.travel.low + share * (m.travel.high - m.travel.low);
        const KernelPose<double> pose = solve_kernel<double>(m.linkage, h, m.linkage.upper_length);
        all.insert(all.end(), {pose.ball.x, pose.ball.z, pose.cos_pitch, pose.sin_pitch});
        if (!m.has_shaft) continue;
        const ShaftState<double> s = find_shaft_state(m.ends, pose);
        all.insert(all.end(), {s.length, s.cos_tractor_joint, s.cos_implement_joint});
    }
    if (m.has_halves) all.insert(all.end(), {m.halves.closed_length, m.halves.tube_a, m.halves.tube_b, m.guard.closed_length});
    return all;
}

/// The same but for the order in which second differences are added.
void check_same(const ErrorBand& a, const ErrorBand& b) {
    CHECK(a.slopes == b.slopes);
    CHECK(a.method == b.method);
    CHECK(a.below == Approx(b.below).epsilon(1e-12).margin(1e-15));
    CHECK(a.above == Approx(b.above).epsilon(1e-12).margin(1e-15));
}

std::vector<Setup> load_mounted() {
    std::vector<Setup> all;
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        LoadedSetup loaded = load_setup(entry.key, Library());
        if (loaded.setup.implement.attachment != Attachment::mounted) continue;
        all.push_back(loaded.setup);
        for (const TyreSet& tyres : loaded.setup.tractor.tyre_sets) {
            all.push_back(loaded.setup);
            all.back().choices.tyre_set = tyres.name;
        }
    }
    REQUIRE_FALSE(all.empty());
    return all;
}

}  // namespace

TEST_CASE("moved models: what is said not to move a model does not, in any built-in set-up", "[residual]") {
    std::size_t left_out = 0, moved = 0;
    for (const Setup& s : load_mounted()) {
        const ErrorModel errors(s, BandEffort::second_order);
        const MountedModelResult as_read = make_mounted_model(s);
        if (!as_read.linkage_ok) continue;  // tyres that lack a radius
        const std::vector<double> numbers = list_numbers(as_read.model);
        for (std::size_t i = 0; i < errors.readings().size(); ++i) {
            const ReadingError& r = errors.readings()[i];
            const bool may = may_move_model(s, as_read.model, r.key);
            (may ? moved : left_out) += 1;
            if (may) continue;
            for (const double value : {r.low, r.high}) {
                const MountedModelResult now = make_mounted_model(errors.move(i, value), &as_read.model.pin_decision);
                CAPTURE(r.key);
                REQUIRE(now.linkage_ok);
                CHECK(list_numbers(now.model) == numbers);
            }
            errors.reset(i);
        }
    }
    CHECK(left_out > moved / 2);  // else nothing is gained
}

TEST_CASE("moved models: a reading wrongly left out is found out, and the bands are those of all readings", "[metamorphic]") {
    for (const Setup& s : load_mounted()) {
        const ErrorModel errors(s, BandEffort::second_order);
        const MountedModelResult made = make_mounted_model(s);
        if (!made.linkage_ok) continue;
        const MountedModel& as_read = made.model;
        // Overtaken within the errors, near their end: a kink that shows only when a reading is moved by nearly all its error.
        const auto pin = std::find_if(errors.readings().begin(), errors.readings().end(),
                                      [](const ReadingError& r) { return r.key == "tractor.lower_link.pivot_z"; });
        REQUIRE(pin != errors.readings().end());
        const double overtaken = as_read.linkage.lower_pivot.y() + 0.9 * pin->error;
        int evaluations = 0;
        const ModelNumbers numbers = [&](const MovedSetup&, const MountedModel& m, std::span<std::optional<double>> out) {
            ++evaluations;
            const KernelPose<double> low = solve_kernel<double>(m.linkage, m.travel.low, m.linkage.upper_length);
            out[0] = low.sin_pitch;
            out[1] = m.travel.high;
            out[2] = std::max(m.linkage.lower_pivot.y(), overtaken);
        };
        const Propagation all = propagate_model(errors, as_read.pin_decision, 3, numbers);
        const int without = evaluations;
        evaluations = 0;
        const Propagation right = propagate_model(errors, as_read.pin_decision, 3, numbers, reads_model_and(errors, as_read, {}));
        CHECK(evaluations < without);
        const Propagation wrong = propagate_model(errors, as_read.pin_decision, 3, numbers,
                                                  [](std::string_view key) { return key != "tractor.lower_link.pivot_z"; });
        const Propagation none = propagate_model(errors, as_read.pin_decision, 3, numbers, [](std::string_view) { return false; });
        for (const Propagation* p : {&right, &wrong, &none}) {
            for (std::size_t i = 0; i < all.bands.size(); ++i) check_same(p->bands[i], all.bands[i]);
        }
    }
}
