#include "geometry/error_band.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "geometry/carried_bands.h"
#include "geometry/clearance_pair.h"
#include "geometry/joint_findings.h"
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
constexpr double hill_share = 1.0 / 32.0;
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
        for (double h = range_of(m).low; h < range_of(m).high + 0.5 * step; h += step) found.push_back(value(at_height(box, std::min(h, range_of(m).high))));
        for (std::size_t i = 1; i + 1 < found.size(); ++i) {
            if (found[i - 1] && found[i] && found[i + 1] && *found[i] > *found[i - 1] && *found[i] >= *found[i + 1]) {
                heights.push_back(range_of(m).low + static_cast<double>(i) * step);
            }
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

/// A number of the driveline at one place.
template <class F>
auto of_shaft(const MountedModel& m, const F& number) {
    return [&m, number](const TravelBox& at) -> Found {
        const std::optional<ShaftState<double>> state = find_shaft_at(m, at);
        return state ? Found(number(*state)) : std::nullopt;
    };
}
double find_angle(double cosine) { return std::acos(std::clamp(cosine, -1.0, 1.0)); }
auto length_of(const MountedModel& m) { return of_shaft(m, [](const auto& s) { return s.length; }); }
auto minus_length_of(const MountedModel& m) { return of_shaft(m, [](const auto& s) { return -s.length; }); }
auto tractor_angle_of(const MountedModel& m) { return of_shaft(m, [](const auto& s) { return find_angle(s.cos_tractor_joint); }); }
auto implement_angle_of(const MountedModel& m) { return of_shaft(m, [](const auto& s) { return find_angle(s.cos_implement_joint); }); }

auto non_uniformity_of(const MountedModel& m) {
    return of_shaft(m, [&m](const auto& s) { return std::sqrt(std::max(0.0, find_non_uniformity_squared(m.ends, s))); });
}

/// A joint's own stop, where the limit is one, has an error of its own.
Found less_limit(const Found& angle, const Limit& limit) { return angle && limit.set ? Found(*angle - limit.value) : angle; }

class ShaftNumbers {
public:
    ShaftNumbers(const LinkageAnalysis& linkage, const ShaftAnalysis& shaft)
        : m_(linkage.model), limits_(shaft.limits), has_guard_(shaft.has_guard) {
        const TravelBox& box = linkage.box;
        const auto in_travel = [&](const TravelExtreme& e) { return find_place(e, m_.travel, box, false); };
        const auto in_work = [&](const TravelExtreme& e) { return find_place(e, m_.working_band, box, true); };
        shortest_.emplace(in_travel(shaft.travel.shortest), m_, minus_length_of(m_));
        longest_.emplace(in_travel(shaft.travel.longest), m_, length_of(m_));
        longest_in_work_.emplace(in_work(shaft.work.longest), m_, length_of(m_));
        tractor_in_work_.emplace(in_work(shaft.work.tractor_angle), m_, tractor_angle_of(m_));
        implement_in_work_.emplace(in_work(shaft.work.implement_angle), m_, implement_angle_of(m_));
        tractor_.emplace(in_travel(shaft.travel.tractor_angle), m_, tractor_angle_of(m_));
        implement_.emplace(in_travel(shaft.travel.implement_angle), m_, implement_angle_of(m_));
        if (shaft.work.turns) non_uniformity_.emplace(in_work(shaft.work.non_uniformity), m_, non_uniformity_of(m_));
    }

    void operator()(const MovedSetup& at, const MountedModel& m, std::span<Found> out) const {
        const Setup& moved = at.setup;
        if (!m.has_shaft || !m.has_halves) return;
        const JointLimits t = find_joint_limits(moved, JointEnd::tractor), i = find_joint_limits(moved, JointEnd::implement);
        if (at.asks(Number::tractor_in_work)) out[Number::tractor_in_work] = less_limit(tractor_in_work_->find_greatest(m, tractor_angle_of(m)), t.free);
        if (at.asks(Number::implement_in_work)) out[Number::implement_in_work] = less_limit(implement_in_work_->find_greatest(m, implement_angle_of(m)), i.free);
        if (at.asks(Number::tractor)) out[Number::tractor] = less_limit(tractor_->find_greatest(m, tractor_angle_of(m)), t.stop);
        if (at.asks(Number::implement)) out[Number::implement] = less_limit(implement_->find_greatest(m, implement_angle_of(m)), i.stop);
        if (non_uniformity_ && at.asks(Number::non_uniformity)) out[Number::non_uniformity] = non_uniformity_->find_greatest(m, non_uniformity_of(m));
        set_lengths(at, m, out);
    }

private:
    void set_lengths(const MovedSetup& at, const MountedModel& m, std::span<Found> out) const {
        const bool guard = has_guard_ && m.has_guard;
        if (at.asks(Number::gap) || at.asks(Number::shortest) || at.asks(Number::guard_gap)) {
            if (const Found least = shortest_->find_greatest(m, minus_length_of(m))) {
                out[Number::gap] = find_gap(m.halves, -*least);
                out[Number::shortest] = -*least;
                if (guard) out[Number::guard_gap] = find_gap(m.guard, -*least);
            }
        }
        if (at.asks(Number::overlap) || at.asks(Number::longest) || at.asks(Number::guard_overlap)) {
            if (const Found most = longest_->find_greatest(m, length_of(m))) {
                out[Number::overlap] = find_spare(m.halves, *most, limits_.overlap_least, limits_.overlap_fraction);
                out[Number::longest] = *most;
                if (guard) out[Number::guard_overlap] = find_overlap(m.guard, *most);
            }
        }
        if (!at.asks(Number::overlap_in_work)) return;
        const Found in_work = longest_in_work_->find_greatest(m, length_of(m));
        if (in_work) out[Number::overlap_in_work] = find_spare(m.halves, *in_work, 0.0, limits_.overlap_fraction_in_work);
    }

    const MountedModel& m_;
    CutLimits limits_;
    bool has_guard_;
    std::optional<NearPlaces> shortest_, longest_, longest_in_work_, tractor_in_work_, implement_in_work_, tractor_, implement_, non_uniformity_;
};

/// Room of one pair of parts at one place, negative.
auto minus_room_of(const PairRooms& rooms, std::size_t pair) {
    return [&rooms, pair](const TravelBox& at) -> Found {
        const Found found = rooms.find_at(pair, at);
        return found ? Found(-*found) : std::nullopt;
    };
}

}  // namespace

ErrorBands find_error_bands(const ErrorModel& errors, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft) {
    Propagation p = propagate_model(errors, linkage.model.pin_decision, numbers, ShaftNumbers(linkage, shaft),
                                    reads_model_and(errors, linkage.model, {}), RangeSearch::at_a_few_heights);
    ErrorBands bands;
    if (p.lost_by[gap]) {
        const ReadingError& by = errors.readings()[*p.lost_by[gap]];
        bands.broken_by = {by.key, by.error};
        bands.broken_by_dimension = by.spec.dimension;
        return bands;
    }
    bands.known = true;
    const std::array<ErrorBand*, numbers> all{&bands.gap, &bands.overlap, &bands.overlap_in_work, &bands.tractor_angle_in_work,
                                              &bands.implement_angle_in_work, &bands.tractor_angle, &bands.implement_angle, &bands.non_uniformity,
                                              &bands.guard_gap, &bands.guard_overlap, &bands.shortest, &bands.longest};
    for (std::size_t i = 0; i < numbers; ++i) *all[i] = std::move(p.bands[i]);
    return bands;
}

std::vector<ErrorBand> find_clearance_bands(const ErrorModel& errors, const MountedModel& model,
                                            const std::vector<Clearance>& clearances) {
    if (clearances.empty()) return {};
    const TravelBox box = make_travel_box(model);
    std::vector<NearPlaces> places;
    const PairRooms as_read(errors.setup(), model, clearances);
    for (std::size_t i = 0; i < clearances.size(); ++i) {
        places.emplace_back(find_place(clearances[i].least, model.travel, box, false), model, minus_room_of(as_read, i));
    }
    return propagate_model(errors, model.pin_decision, clearances.size(), [&](const MovedSetup& moved, const MountedModel& m, std::span<Found> out) {
               const std::size_t first = moved.first(), count = moved.count(clearances.size());
               const PairRooms rooms(moved.setup, m, std::span(clearances).subspan(first, count));
               for (std::size_t i = 0; i < count; ++i) {
                   const Found least = places[first + i].find_greatest(m, minus_room_of(rooms, i));
                   if (least) out[first + i] = -*least;
               }
           }, reads_model_and(errors, model, {"tractor.drawbar", "tractor.cab_line", "tractor.tyre", "implement.point", "driveline.guard."})).bands;
}

}  // namespace hitchwright
