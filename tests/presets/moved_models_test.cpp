// What error bands leave out: readings that cannot move a model, on the built-in set-ups.
#include "geometry/moved_models.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/candidate_readings.h"
#include "geometry/carried_bands.h"
#include "geometry/clearance.h"
#include "geometry/direct_place.h"
#include "geometry/do_both.h"
#include "geometry/drawn_model.h"
#include "geometry/error_band.h"
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

/// With the one hole in use on either side, and the first point of the outline, alone.
Setup keep_one_of_each(Setup s) {
    const auto keep = [](auto& items, const std::string& name) {
        std::erase_if(items, [&](const auto& item) { return !name.empty() && item.name != name; });
        items.resize(std::min<std::size_t>(items.size(), 1));
    };
    keep(s.tractor.upper_link_pins, s.choices.upper_link_pin);
    keep(s.implement.mast_pins, s.choices.mast_pin);
    keep(s.implement.points, "");
    return s;
}

/// The same set-up without the names that one of a kind does not need.
Setup drop_names(Setup s) {
    s.choices.upper_link_pin.clear();
    s.choices.mast_pin.clear();
    for (auto& pin : s.tractor.upper_link_pins) pin.name.clear();
    for (auto& pin : s.implement.mast_pins) pin.name.clear();
    for (auto& point : s.implement.points) point.name.clear();
    return s;
}

std::vector<Setup> load_all(Attachment attachment) {
    std::vector<Setup> all;
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        LoadedSetup loaded = load_setup(entry.key, Library());
        if (loaded.setup.implement.attachment != attachment) continue;
        all.push_back(loaded.setup);
        if (attachment == Attachment::mounted) all.push_back(drop_names(keep_one_of_each(loaded.setup)));
        for (const TyreSet& tyres : loaded.setup.tractor.tyre_sets) {
            all.push_back(loaded.setup);
            all.back().choices.tyre_set = tyres.name;
        }
    }
    REQUIRE_FALSE(all.empty());
    return all;
}

std::vector<Setup> load_mounted() { return load_all(Attachment::mounted); }

std::vector<double> list_numbers(const DrawnModel& m) {
    std::vector<double> all{m.pto_end_x, m.drawbar_length, m.drawbar_top, m.level_pitch, m.box.yaw.low, m.box.yaw.high,
                            m.driveline.pin.x, m.driveline.pin.y, m.driveline.pin.z};
    const DrivelineEnds& e = m.driveline.ends;
    for (const Vec3<double>& v : {e.tractor_joint, e.stub_axis, e.implement_joint, e.input_axis}) all.insert(all.end(), {v.x, v.y, v.z});
    all.insert(all.end(), {e.yoke_phase_error, m.halves.closed_length, m.halves.tube_a, m.halves.tube_b, m.guard.closed_length});
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

TEST_CASE("moved models: holes and points without a name have the bands of those with one", "[metamorphic]") {
    std::size_t compared = 0;
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        const Setup named = keep_one_of_each(load_setup(entry.key, Library()).setup);
        if (named.implement.attachment != Attachment::mounted) continue;
        const Analysis a = analyze_alone(named, millimetre_mark, BandEffort::second_order);
        const Analysis b = analyze_alone(drop_names(named), millimetre_mark, BandEffort::second_order);
        CAPTURE(entry.key);
        REQUIRE(a.findings.size() == b.findings.size());
        std::vector<std::vector<double>> of_named, of_nameless;
        for (const Finding& f : a.findings) of_named.push_back(f.error.slopes);
        for (const Finding& f : b.findings) of_nameless.push_back(f.error.slopes);
        std::sort(of_named.begin(), of_named.end());
        std::sort(of_nameless.begin(), of_nameless.end());
        CHECK(of_named == of_nameless);
        compared += of_named.size();
    }
    CHECK(compared > 100);
}

TEST_CASE("moved models: what is said not to move a drawn machine does not, in any built-in set-up", "[residual]") {
    std::size_t left_out = 0;
    for (const Setup& s : load_all(Attachment::drawn)) {
        const ErrorModel errors(s, BandEffort::second_order);
        const DrawnModelResult as_read = make_drawn_model(s);
        if (!as_read.hitch_ok) continue;
        const std::vector<double> numbers = list_numbers(as_read.model);
        for (std::size_t i = 0; i < errors.readings().size(); ++i) {
            const ReadingError& r = errors.readings()[i];
            if (may_move_drawn(r.key)) continue;
            ++left_out;
            for (const double value : {r.low, r.high}) {
                CAPTURE(r.key);
                CHECK(list_numbers(make_drawn_model(errors.move(i, value)).model) == numbers);
            }
            errors.reset(i);
        }
    }
    CHECK(left_out > 50);
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

TEST_CASE("moved models: a model that is kept is the one made anew, also where its shaft alone was put in again", "[metamorphic]") {
    std::size_t shaft_alone = 0;
    for (const Setup& s : load_mounted()) {
        const ErrorModel errors(s, BandEffort::second_order);
        const MountedModelResult as_read = make_mounted_model(s);
        if (!as_read.linkage_ok) continue;
        const PinDecision& decided = as_read.model.pin_decision;
        const auto compare = [&](const MovedSetup& moved) {
            const MountedModelResult now = make_mounted_model(moved.setup, &decided, RangeSearch::none);
            const MountedModelResult& kept = errors.moved_models().find(moved, decided, RangeSearch::none);
            REQUIRE(kept.linkage_ok == now.linkage_ok);
            CHECK(kept.linkage_obstacles.size() == now.linkage_obstacles.size());
            CHECK(kept.shaft_obstacles.size() == now.shaft_obstacles.size());
            CHECK(kept.model.has_shaft == now.model.has_shaft);
            CHECK(kept.model.has_halves == now.model.has_halves);
            CHECK(kept.model.has_guard == now.model.has_guard);
            if (now.linkage_ok) CHECK(list_numbers(kept.model) == list_numbers(now.model));
        };
        compare({errors.setup(), MovedSetup::all_numbers, 0});
        for (std::size_t i = 0; i < errors.readings().size(); ++i) {
            const ReadingError& r = errors.readings()[i];
            CAPTURE(r.key);
            compare({errors.move(i, r.low), MovedSetup::all_numbers, 1 + 2 * i});
            compare({errors.move(i, r.high), MovedSetup::all_numbers, 2 + 2 * i});
            errors.reset(i);
            if (moves_shaft_alone(r.key)) ++shaft_alone;
        }
    }
    CHECK(shaft_alone > 100);
}

namespace {

/// Numbers of clearances and shaft that bands are made for, each by a search over the whole travel.
struct Searched {
    std::vector<double> rooms, shaft;
};

Searched search(const Setup& s, const PinDecision& decided) {
    Searched r;
    const MountedModel m = make_mounted_model(s, &decided, RangeSearch::at_a_few_heights).model;
    const TravelBox box = make_travel_box(m);
    for (const Clearance& c : find_clearances(s, m, box)) r.rooms.push_back(c.least.value);
    if (!m.has_halves) return r;
    const ShaftExtremes e = find_shaft_extremes(m, box);
    r.shaft = {find_gap(m.halves, e.shortest.value), e.shortest.value, e.longest.value, e.tractor_angle.value, e.implement_angle.value};
    return r;
}

/// A number whose slope by a reading is nil does not move with it.
void check_unmoved(const ErrorBand& band, std::size_t reading, const std::vector<double>& low, const std::vector<double>& high, std::size_t number,
                   std::size_t& unmoved) {
    if (band.slopes.empty() || band.slopes[reading] != 0.0 || number >= low.size() || low.size() != high.size()) return;
    ++unmoved;
    CHECK(std::fabs(high[number] - low[number]) < 2.0 * length_closeness);
}

}  // namespace

TEST_CASE("moved models: what a band says a reading leaves alone, a search over the whole travel finds unmoved", "[random][oracle]") {
    std::size_t unmoved = 0;
    for (const Setup& s : load_mounted()) {
        if (!s.choices.tyre_set.empty()) continue;  // nothing is left out there
        const Analysis a = analyze_alone(s, sixteenth_inch_mark, BandEffort::second_order);
        if (!a.linkage) continue;
        const ErrorModel errors(s, BandEffort::second_order);
        const std::vector<ErrorBand> rooms = find_clearance_bands(errors, a.linkage->model, a.clearances);
        const ErrorBands shaft = a.shaft && a.shaft->has_plan ? find_error_bands(errors, *a.linkage, *a.shaft) : ErrorBands{};
        const ErrorBand* const of_shaft[] = {&shaft.gap, &shaft.shortest, &shaft.longest, &shaft.tractor_angle, &shaft.implement_angle};
        for (std::size_t i = 0; i < errors.readings().size(); ++i) {
            const ReadingError& r = errors.readings()[i];
            CAPTURE(r.key);
            const PinDecision& decided = a.linkage->model.pin_decision;
            const Searched low = search(errors.move(i, r.low), decided), high = search(errors.move(i, r.high), decided);
            errors.reset(i);
            for (std::size_t n = 0; n < rooms.size(); ++n) check_unmoved(rooms[n], i, low.rooms, high.rooms, n, unmoved);
            for (std::size_t n = 0; n < std::size(of_shaft); ++n) check_unmoved(*of_shaft[n], i, low.shaft, high.shaft, n, unmoved);
        }
    }
    CHECK(unmoved > 1000);
}

TEST_CASE("moved models: slopes of readings that could be taken are those of a model made anew for each", "[oracle]") {
    std::size_t compared = 0;
    for (const Setup& s : load_mounted()) {
        const ErrorModel errors(s, BandEffort::second_order);
        const MountedModelResult as_read = make_mounted_model(s);
        if (!as_read.linkage_ok) continue;
        const std::vector<CandidateReading> candidates = list_candidates(errors);
        for (std::size_t i = 0; i < errors.readings().size(); ++i) {
            const ReadingError& r = errors.readings()[i];
            CAPTURE(r.key);
            const MountedModelResult low = make_mounted_model(errors.move(i, r.low), &as_read.model.pin_decision, RangeSearch::none);
            const Setup at_low = errors.setup();
            const MountedModelResult high = make_mounted_model(errors.move(i, r.high), &as_read.model.pin_decision, RangeSearch::none);
            if (low.linkage_ok && high.linkage_ok) {
                for (const CandidateReading& c : candidates) {
                    if (c.reading.again || c.reading.kind == DirectKind::upper_link_length) continue;
                    const DirectPlace place{c.reading.kind, c.reading.reference, c.reading.ball_height, 0.0, 0.0, c.reading.point};
                    const std::optional<double> less = predict_at(place, {}, at_low, low.model), more = predict_at(place, {}, errors.setup(), high.model);
                    if (!less || !more) continue;
                    ++compared;
                    CHECK(c.slopes[i] == Approx((*more - *less) * r.error / (r.high - r.low)).epsilon(1e-12).margin(1e-15));
                }
            }
            errors.reset(i);
        }
    }
    CHECK(compared > 5000);
}

TEST_CASE("moved models: two threads that share them find each the other's, equal to those made alone", "[metamorphic]") {
    for (const Setup& setup : load_mounted()) {
        CAPTURE(setup.name);
        const MountedModelResult as_read = make_mounted_model(setup);
        if (!as_read.linkage_ok) continue;
        const PinDecision& decided = as_read.model.pin_decision;
        const ErrorModel alone(setup), one(setup), other(setup);
        other.moved_models().share(one.moved_models());
        do_both(2, [&] { make_moved_models(one, decided, ReadingHalf::first); }, [&] { make_moved_models(other, decided, ReadingHalf::second); });
        const auto find = [&](const ErrorModel& errors, std::size_t reading, bool high, RangeSearch search) -> const MountedModelResult& {
            const ReadingError& r = errors.readings()[reading];
            const MovedSetup moved{errors.move(reading, high ? r.high : r.low), MovedSetup::all_numbers, 1 + 2 * reading + (high ? 1 : 0)};
            const MountedModelResult& found = errors.moved_models().find(moved, decided, search);
            errors.reset(reading);
            return found;
        };
        for (const ErrorModel* errors : {&alone, &one})
            static_cast<void>(errors->moved_models().find({errors->setup(), MovedSetup::all_numbers, 0}, decided, RangeSearch::none));
        static_cast<void>(alone.moved_models().find({alone.setup(), MovedSetup::all_numbers, 0}, decided, RangeSearch::at_a_few_heights));
        for (std::size_t i = 0; i < one.readings().size(); ++i) {
            CAPTURE(one.readings()[i].key);
            for (const bool high : {false, true}) {
                for (const RangeSearch search : {RangeSearch::none, RangeSearch::at_a_few_heights}) {
                    const MountedModelResult &a = find(one, i, high, search), &b = find(other, i, high, search), &c = find(alone, i, high, search);
                    CHECK(&a == &b);
                    CHECK(a.linkage_ok == c.linkage_ok);
                    CHECK(list_numbers(a.model) == list_numbers(c.model));
                }
            }
        }
    }
}
