#include "geometry/error_band.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <string_view>

#include "geometry/carried_bands.h"
#include "geometry/clearance_pair.h"
#include "geometry/joint_findings.h"
#include "geometry/moved_models.h"
#include "geometry/pose_numbers.h"
#include "geometry/travel_place.h"

namespace hitchwright {
namespace {

/// Part of the range between the heights a parabola is laid through.
constexpr double parabola_share = 1.0 / 64.0;
/// A rival place that stands farther off than this (m, rad) does not catch up within the errors.
constexpr double rival_reach = 0.05;
/// An extreme at an end of the range that falls by less than this over the parabola's step may leave the end.
constexpr double flat_end = 0.002;
/// Part of the range between the heights at which a rival inside is looked for, and how often a parabola follows its peak.
constexpr std::size_t hill_steps = 32;
constexpr double hill_share = 1.0 / static_cast<double>(hill_steps);
constexpr int climbs = 3;

using Found = std::optional<double>;

TravelBox at_height(TravelBox box, double h) {
    box.heights = {h, h};
    return box;
}

/// Where the greatest of a number over the travel may be found when readings have moved: chosen once, with the readings as
/// they are.
class NearPlaces {
public:
    template <class F>
    NearPlaces(const TravelPlace& place, const MountedModel& m, const F& value) {
        const Found best = value(find_box_at(place, m));
        places_.push_back({place, is_curved(place, m, value)});
        if (!best) return;
        const auto add_rival = [&](const TravelPlace& rival) {
            const Found there = value(find_box_at(rival, m));
            if (there && *best - *there < rival_reach) places_.push_back({rival, is_curved(rival, m, value)});
        };
        const HeightRange lengths = effective_upper_lengths(m);
        for (const double share : {place.length_share, 0.0, 1.0}) {
            if (share != place.length_share && !(lengths.low < lengths.high)) continue;
            TravelPlace rival = place;
            rival.length_share = share;
            if (share != place.length_share) add_rival(rival);
            for (const auto kind : {TravelPlace::Kind::low_end, TravelPlace::Kind::high_end}) {
                rival.kind = kind;
                if (kind != place.kind || share != place.length_share) add_rival(rival);
            }
            rival.kind = TravelPlace::Kind::inside;
            for (const double h : list_hills(rival, m, value)) {
                rival.height = h;
                const double from_place = find_box_at(place, m).heights.low - h;
                if (place.kind != TravelPlace::Kind::inside || std::fabs(from_place) > 1.5 * hill_share * length_of_range(m)) add_rival(rival);
            }
        }
    }

    /// Nothing when a pose does not close.
    template <class F>
    Found find_greatest(const MountedModel& m, const F& value) const {
        Found best;
        for (const Near& near : places_) {
            const Found there = climb(near, m, value);
            if (!there) return std::nullopt;
            best = best ? std::max(*best, *there) : *there;
        }
        return best;
    }

private:
    /// A place, and whether the greatest stays there exactly.
    struct Near {
        TravelPlace place;
        bool curved = false;
    };

    const HeightRange& range_of(const MountedModel& m) const { return places_.front().place.in_work ? m.working_band : m.travel; }
    double length_of_range(const MountedModel& m) const { return range_of(m).high - range_of(m).low; }

    /// An extreme inside moves along the travel; one at an end may leave it where it is flat there.
    template <class F>
    static bool is_curved(const TravelPlace& place, const MountedModel& m, const F& value) {
        if (place.kind == TravelPlace::Kind::inside) return true;
        const HeightRange& range = place.in_work ? m.working_band : m.travel;
        const double step = parabola_share * (range.high - range.low);
        if (!(step > 0.0)) return false;
        const TravelBox end = find_box_at(place, m);
        const double beside = place.kind == TravelPlace::Kind::low_end ? range.low + step : range.high - step;
        const Found here = value(end), there = value(at_height(end, beside));
        return !here || !there || *here - *there < flat_end;
    }

    /// Heights of even steps that no neighbour is above: an extreme inside that another place is beyond now.
    template <class F>
    std::vector<double> list_hills(TravelPlace place, const MountedModel& m, const F& value) const {
        std::vector<double> heights;
        const double step = hill_share * length_of_range(m);
        if (!(step > 0.0)) return heights;
        place.kind = TravelPlace::Kind::low_end;
        const TravelBox box = find_box_at(place, m);
        std::vector<Found> found;
        const HeightRange range = range_of(m);
        const auto height_of = [&](std::size_t i) { return std::min(range.low + static_cast<double>(i) * step, range.high); };
        for (std::size_t i = 0; i <= hill_steps; ++i) found.push_back(value(at_height(box, height_of(i))));
        for (std::size_t i = 1; i < hill_steps; ++i) {
            if (found[i - 1] && found[i] && found[i + 1] && *found[i] > *found[i - 1] && *found[i] >= *found[i + 1]) heights.push_back(height_of(i));
        }
        return heights;
    }

    /// The value at a place, and up the parabola through three heights beside it; the heights follow a peak that is farther away.
    template <class F>
    Found climb(const Near& near, const MountedModel& m, const F& value) const {
        const TravelBox here = find_box_at(near.place, m);
        Found best = value(here);
        const HeightRange& range = range_of(m);
        const double step = parabola_share * (range.high - range.low);
        if (!best || !near.curved || !(step > 0.0)) return best;
        double h = std::clamp(here.heights.low, range.low + step, range.high - step);
        for (int round = 0; round < climbs; ++round) {
            const Found a = value(at_height(here, h - step)), b = value(at_height(here, h)), c = value(at_height(here, h + step));
            if (!a || !b || !c) return std::nullopt;
            const double bend = *a - 2.0 * *b + *c, slope = 0.5 * (*c - *a);
            best = std::max({*best, *a, *b, *c});
            if (!(bend < 0.0)) break;
            if (std::fabs(slope) <= -bend) return std::max(*best, *b - 0.5 * slope * slope / bend);
            const double next = std::clamp(h - std::clamp(slope / bend, -4.0, 4.0) * step, range.low + step, range.high - step);
            if (next == h) break;
            h = next;
        }
        return best;
    }

    std::vector<Near> places_;
};

double find_longer_tube(const TelescopingHalves& h) { return std::max(h.tube_a, h.tube_b); }

double find_spare(const TelescopingHalves& h, double longest, double least, double fraction) {
    return find_overlap(h, longest) - std::max(least, fraction * find_longer_tube(h));
}

enum Number : std::size_t {
    gap, overlap, overlap_in_work, tractor_in_work, implement_in_work, tractor, implement, non_uniformity, guard_gap, guard_overlap, shortest, longest, numbers
};

/// The driveline of a model at places of its travel. In the side plane its closed form, kept for the places asked about last: the
/// numbers share many of them.
class ShaftPlaces {
public:
    explicit ShaftPlaces(const MountedModel& m) : m_(m) {}

    /// All zero where the pose does not close.
    PoseNumbers find(const TravelBox& at) {
        const double h = at.heights.low, e = at.upper_lengths.low;
        if (!at.planar()) return find_in_space(at);
        for (const Solved& s : last_) {
            if (s.height == h && s.upper_length == e) return s.numbers;
        }
        Solved& s = last_[next_];
        next_ = (next_ + 1) % last_.size();
        s = {h, e, solve_pose_numbers(constants_of(e), h)};
        return s.numbers;
    }

    Found find_non_uniformity(const TravelBox& at) {
        const std::optional<ShaftState<double>> s = at.planar() ? find_in_plane(at.heights.low, constants_of(at.upper_lengths.low)) : find_shaft_at(m_, at);
        return s ? Found(std::sqrt(std::max(0.0, find_non_uniformity_squared(m_.ends, *s)))) : std::nullopt;
    }

private:
    struct Solved {
        double height = std::numeric_limits<double>::quiet_NaN(), upper_length = 0.0;
        PoseNumbers numbers;
    };

    const PoseConstants& constants_of(double upper_length) {
        if (upper_length != upper_length_) {
            PlanarLinkage k = m_.linkage;
            k.upper_length = upper_length_ = upper_length;
            constants_ = make_pose_constants(k, m_.ends);
        }
        return constants_;
    }

    static std::optional<ShaftState<double>> find_in_plane(double h, const PoseConstants& k) {
        const double ball_x = detail::find_ball_x(k, h);
        const detail::ImplementTurn turn = detail::turn_implement(k, ball_x, h);
        if (!turn.closes) return std::nullopt;
        return find_shaft_state(k.ends, KernelPose<double>{{ball_x, h}, {0.0, 0.0}, turn.cosine, turn.sine});
    }

    PoseNumbers find_in_space(const TravelBox& at) const {
        const auto angle = [](double cosine) { return std::acos(std::clamp(cosine, -1.0, 1.0)); };
        const std::optional<ShaftState<double>> s = find_shaft_at(m_, at);
        return s ? PoseNumbers{true, 0.0, s->length, angle(s->cos_tractor_joint), angle(s->cos_implement_joint)} : PoseNumbers{};
    }

    const MountedModel& m_;
    double upper_length_ = std::numeric_limits<double>::quiet_NaN();
    PoseConstants constants_;
    std::array<Solved, 12> last_;
    std::size_t next_ = 0;
};

/// A number of the driveline at one place.
template <class F>
auto of_shaft(ShaftPlaces& shaft, const F& number) {
    return [&shaft, number](const TravelBox& at) -> Found {
        const PoseNumbers n = shaft.find(at);
        return n.closes ? Found(number(n)) : std::nullopt;
    };
}

/// A joint's own stop, where the limit is one, has an error of its own.
Found less_limit(const Found& angle, const LimitView& limit) { return angle && limit.set ? Found(*angle - limit.value) : angle; }

/// Extremes that the numbers are made from; each has its place.
enum Extreme : std::size_t { least_length, most_length, most_in_work, turn_in_work, implement_turn_in_work, turn, implement_turn, ripple, extremes };

class ShaftNumbers {
public:
    ShaftNumbers(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft)
        : m_(linkage.model), limits_(shaft.limits), has_guard_(shaft.has_guard), joint_limits_(find_limits(setup)),
          limits_stay_(!setup.driveline.tractor_joint.angle_most.known && !setup.driveline.implement_joint.angle_most.known) {
        const TravelBox& box = linkage.box;
        ShaftPlaces as_read(m_);
        const auto in_travel = [&](Extreme which, const TravelExtreme& e) { place(which, find_place(e, m_.travel, box, false), as_read); };
        const auto in_work = [&](Extreme which, const TravelExtreme& e) { place(which, find_place(e, m_.working_band, box, true), as_read); };
        in_travel(least_length, shaft.travel.shortest);
        in_travel(most_length, shaft.travel.longest);
        in_work(most_in_work, shaft.work.longest);
        in_work(turn_in_work, shaft.work.tractor_angle);
        in_work(implement_turn_in_work, shaft.work.implement_angle);
        in_travel(turn, shaft.travel.tractor_angle);
        in_travel(implement_turn, shaft.travel.implement_angle);
        if (shaft.work.turns) in_work(ripple, shaft.work.non_uniformity);
    }

    void operator()(const MovedSetup& at, const MountedModel& m, std::span<Found> out) {
        if (!m.has_halves) return;
        if (at.move == 0) as_read_ = &m;
        const bool same = at.move != 0 && as_read_ && has_same_poses(m, *as_read_) && has_same_ends(m, *as_read_);
        ShaftPlaces places(m);
        const auto find = [&](Extreme which) {
            if (same) return found_[which];
            const Found there = find_greatest(which, m, places);
            if (at.move == 0) found_[which] = there;
            return there;
        };
        set_angles(at, find, out);
        set_lengths(at, m, find, out);
    }

private:
    using Limits = std::array<JointLimits, 2>;

    static Limits find_limits(const Setup& s) { return {find_joint_limits(s, JointEnd::tractor), find_joint_limits(s, JointEnd::implement)}; }

    /// `ask` with the extreme as a function of a place; of a least one it is negated.
    template <class Ask>
    static auto with_quantity(Extreme which, ShaftPlaces& places, const Ask& ask) {
        switch (which) {
            case least_length: return ask(of_shaft(places, [](const PoseNumbers& n) { return -n.length; }));
            case most_length:
            case most_in_work: return ask(of_shaft(places, [](const PoseNumbers& n) { return n.length; }));
            case turn_in_work:
            case turn: return ask(of_shaft(places, [](const PoseNumbers& n) { return n.tractor_angle; }));
            case implement_turn_in_work:
            case implement_turn: return ask(of_shaft(places, [](const PoseNumbers& n) { return n.implement_angle; }));
            case ripple:
            case extremes: break;
        }
        return ask([&places](const TravelBox& at) { return places.find_non_uniformity(at); });
    }

    void place(Extreme which, const TravelPlace& at, ShaftPlaces& as_read) {
        with_quantity(which, as_read, [&](const auto& value) { near_[which].emplace(at, m_, value); });
    }
    Found find_greatest(Extreme which, const MountedModel& m, ShaftPlaces& places) const {
        return with_quantity(which, places, [&](const auto& value) { return near_[which]->find_greatest(m, value); });
    }

    template <class Find>
    void set_angles(const MovedSetup& at, const Find& find, std::span<Found> out) const {
        std::optional<Limits> moved;
        if (!limits_stay_) moved = find_limits(at.setup);
        const auto& [t, i] = moved ? *moved : joint_limits_;
        if (at.asks(Number::tractor_in_work)) out[Number::tractor_in_work] = less_limit(find(turn_in_work), t.free);
        if (at.asks(Number::implement_in_work)) out[Number::implement_in_work] = less_limit(find(implement_turn_in_work), i.free);
        if (at.asks(Number::tractor)) out[Number::tractor] = less_limit(find(turn), t.stop);
        if (at.asks(Number::implement)) out[Number::implement] = less_limit(find(implement_turn), i.stop);
        if (near_[ripple] && at.asks(Number::non_uniformity)) out[Number::non_uniformity] = find(ripple);
    }

    template <class Find>
    void set_lengths(const MovedSetup& at, const MountedModel& m, const Find& find, std::span<Found> out) const {
        const bool guard = has_guard_ && m.has_guard;
        if (at.asks(Number::gap) || at.asks(Number::shortest) || at.asks(Number::guard_gap)) {
            if (const Found least = find(least_length)) {
                out[Number::gap] = find_gap(m.halves, -*least);
                out[Number::shortest] = -*least;
                if (guard) out[Number::guard_gap] = find_gap(m.guard, -*least);
            }
        }
        if (at.asks(Number::overlap) || at.asks(Number::longest) || at.asks(Number::guard_overlap)) {
            if (const Found most = find(most_length)) {
                out[Number::overlap] = find_spare(m.halves, *most, limits_.overlap_least, limits_.overlap_fraction);
                out[Number::longest] = *most;
                if (guard) out[Number::guard_overlap] = find_overlap(m.guard, *most);
            }
        }
        if (!at.asks(Number::overlap_in_work)) return;
        if (const Found in_work = find(most_in_work)) out[Number::overlap_in_work] = find_spare(m.halves, *in_work, 0.0, limits_.overlap_fraction_in_work);
    }

    const MountedModel& m_;
    CutLimits limits_;
    bool has_guard_;
    Limits joint_limits_;
    bool limits_stay_;  ///< no joint has a stop of its own that could be misread
    std::array<std::optional<NearPlaces>, extremes> near_;
    const MountedModel* as_read_ = nullptr;  ///< once it has been asked about
    std::array<Found, extremes> found_;      ///< of that model
};

/// Room of one pair of parts at one place, negative.
auto minus_room_of(const PairRooms& rooms, std::size_t pair) {
    return [&rooms, pair](const TravelBox& at) -> Found {
        const Found found = rooms.find_at(pair, at);
        return found ? Found(-*found) : std::nullopt;
    };
}

/// True for the reading of a point of that name; without one, of any: keys then have its number.
bool is_of_point(std::string_view key, std::string_view name) {
    constexpr std::string_view list = "implement.point[";
    if (!key.starts_with(list) || name.empty()) return key.starts_with(list);
    return key.substr(list.size()).starts_with(name) && key.substr(list.size() + name.size()).starts_with("]");
}

/// False for a reading that changes a pair's room by way of the model alone. The tractor stands as it was read.
bool is_read_by(const Clearance& pair, std::string_view key) {
    switch (pair.kind) {
        case ClearanceKind::guard_to_drawbar: return key.starts_with("driveline.guard.") || key.starts_with("tractor.drawbar");
        case ClearanceKind::guard_to_deck_edge: return key.starts_with("driveline.guard.") || is_of_point(key, pair.part);
        case ClearanceKind::point_to_tyre: return key.starts_with("tractor.tyre") || is_of_point(key, pair.part);
        case ClearanceKind::point_to_cab: return key.starts_with("tractor.cab_line") || is_of_point(key, pair.part);
        case ClearanceKind::point_to_upper_link: return is_of_point(key, pair.part);
    }
    return true;
}

/// Rooms of all pairs of moved set-ups. Where one reading is moved, pairs that it does not change keep the room they had as read.
class ClearanceNumbers {
public:
    ClearanceNumbers(const ErrorModel& errors, const MountedModel& model, const std::vector<Clearance>& pairs) : errors_(errors), pairs_(pairs) {
        const TravelBox box = make_travel_box(model);
        const PairRooms as_read(errors.setup(), model, pairs);
        for (std::size_t i = 0; i < pairs.size(); ++i) {
            places_.emplace_back(find_place(pairs[i].least, model.travel, box, false), model, minus_room_of(as_read, i));
        }
    }

    void operator()(const MovedSetup& moved, const MountedModel& m, std::span<Found> out) {
        if (moved.move == 0) as_read_ = &m;
        const std::vector<std::size_t> changed = list_changed(moved, m, out);
        if (!changed.empty() && as_read_ && moves_model_alone(moved, m)) {
            if (!rooms_) rooms_.emplace(errors_.setup(), m, pairs_);
            rooms_->put_on(m);
            for (const std::size_t i : changed) find_least(i, m, *rooms_, i, out);
        } else if (!changed.empty()) {
            const bool alone = changed.size() == 1;
            const PairRooms rooms(moved.setup, m, alone ? std::span(&pairs_[changed.front()], 1) : std::span(pairs_));
            for (const std::size_t i : changed) find_least(i, m, rooms, alone ? 0 : i, out);
        }
        if (moved.move == 0) read_.assign(out.begin(), out.end());
    }

private:
    void find_least(std::size_t pair, const MountedModel& m, const PairRooms& rooms, std::size_t in_rooms, std::span<Found> out) const {
        const Found least = places_[pair].find_greatest(m, minus_room_of(rooms, in_rooms));
        if (least) out[pair] = -*least;
    }

    const std::string* find_key(const MovedSetup& moved) const {
        const std::optional<std::size_t> reading = find_moved_reading(moved, errors_.readings().size());
        return reading && moved.setup.choices.tyre_set.empty() ? &errors_.readings()[*reading].key : nullptr;
    }

    /// The one reading that is moved, if any, leaves all parts where they are on tractor and implement.
    bool moves_model_alone(const MovedSetup& moved, const MountedModel& m) const {
        const std::string* key = find_key(moved);
        const bool of_part = key && std::any_of(pairs_.begin(), pairs_.end(), [&](const Clearance& c) { return is_read_by(c, *key); });
        return (key || moved.move == 0) && !of_part && m.coupled.lower_hook == as_read_->coupled.lower_hook;
    }

    /// Pairs to be looked at; the others are put out as read.
    std::vector<std::size_t> list_changed(const MovedSetup& moved, const MountedModel& m, std::span<Found> out) const {
        const std::size_t first = moved.first(), end = first + moved.count(pairs_.size());
        const std::string* key = find_key(moved);
        const bool compares = key && as_read_ && has_same_poses(m, *as_read_) && m.coupled.lower_hook == as_read_->coupled.lower_hook;
        const bool same_ends = compares && has_same_ends(m, *as_read_);
        std::vector<std::size_t> changed;
        for (std::size_t i = first; i < end; ++i) {
            const bool guard = pairs_[i].kind == ClearanceKind::guard_to_drawbar || pairs_[i].kind == ClearanceKind::guard_to_deck_edge;
            const bool stays = compares && (!guard || same_ends) && !is_read_by(pairs_[i], *key);
            if (stays) out[i] = read_[i];
            else changed.push_back(i);
        }
        return changed;
    }

    const ErrorModel& errors_;
    const std::vector<Clearance>& pairs_;
    std::vector<NearPlaces> places_;
    const MountedModel* as_read_ = nullptr;  ///< once it has been asked about
    std::vector<Found> read_;                ///< of that model
    std::optional<PairRooms> rooms_;         ///< of all pairs, put on one model after the other
};

}  // namespace

ErrorBands find_error_bands(const ErrorModel& errors, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft) {
    ShaftNumbers of_model(errors.setup(), linkage, shaft);
    // A side motion that does not close is left out of the extremes, so of their errors too.
    const RangeSearch side = linkage.model.space.side_closes ? RangeSearch::at_a_few_heights : RangeSearch::none;
    Propagation p = propagate_model(errors, linkage.model.pin_decision, numbers, std::ref(of_model),
                                    reads_model_and(errors, linkage.model, {}), side);
    ErrorBands bands;
    bands.known = true;
    for (const Number q : {gap, overlap, overlap_in_work}) {
        const bool asked = q != overlap_in_work || shaft.limits.overlap_fraction_in_work > 0.0;
        if (!asked || (p.there[q] && !p.lost_by[q])) continue;
        bands.known = false;
        if (!p.lost_by[q] || !bands.broken_by.reading.empty()) continue;
        const ReadingError& by = errors.readings()[*p.lost_by[q]];
        bands.broken_by = {by.key, by.error};
        bands.broken_by_dimension = by.spec.dimension;
    }
    const std::array<ErrorBand*, numbers> all{&bands.gap, &bands.overlap, &bands.overlap_in_work, &bands.tractor_angle_in_work,
                                              &bands.implement_angle_in_work, &bands.tractor_angle, &bands.implement_angle, &bands.non_uniformity,
                                              &bands.guard_gap, &bands.guard_overlap, &bands.shortest, &bands.longest};
    for (std::size_t i = 0; i < numbers; ++i) {
        if (bands.known || !p.lost_by[i]) *all[i] = std::move(p.bands[i]);
    }
    return bands;
}

std::vector<ErrorBand> find_clearance_bands(const ErrorModel& errors, const MountedModel& model,
                                            const std::vector<Clearance>& clearances) {
    if (clearances.empty()) return {};
    ClearanceNumbers of_model(errors, model, clearances);
    return propagate_model(errors, model.pin_decision, clearances.size(), std::ref(of_model),
                           reads_model_and(errors, model, {"tractor.drawbar", "tractor.cab_line", "tractor.tyre", "implement.point", "driveline.guard."}))
        .bands;
}

}  // namespace hitchwright
