// See ditch_pass.h; passes_ditch of ditch_study.h.
#include "geometry/ditch_pass.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace hitchwright {
namespace {

/// Whether a way keeps the limits, with as few stations as are needed to say so.
///
/// Every few stations first, at least two on each straight piece of the ground and every eighth at the most. Between two of
/// them a quantity is taken to change no faster than `ditch_rate_margin` times the fastest seen between any two stations of the
/// way; where it could not come to its limit at that rate nothing is looked at, elsewhere the stretch is halved down to the
/// stations, and between stations a peak is looked for. Stretches are gone through again until no faster change is seen.
class PassCheck {
public:
    PassCheck(const DrawnModel& m, const DitchMarch& way, const Crossing& crossing, const DitchLimits& limits)
        : m_(m), way_(way), limits_(limits), stride_(find_stride(crossing)), level_(is_level(crossing.profile)) {}

    bool run() {
        std::vector<double> places = way_.list_places(station_step);
        if (level_) places.resize(1);
        std::vector<DitchStation> marched;
        std::vector<std::size_t> index;
        for (std::size_t i = 0;; i = std::min(i + stride_, places.size() - 1)) {
            marched.push_back(marched.empty() ? way_.limited_at(places[i], nullptr) : walk(marched.back(), places[i]));
            index.push_back(i);
            if (!keeps(marched.back())) return false;
            if (marched.size() > 1) learn_rates(marched[marched.size() - 2], marched.back());
            if (i + 1 == places.size()) break;
        }
        for (Rates before{}; before != rates_;) {
            before = rates_;
            for (std::size_t i = 1; i < marched.size(); ++i) {
                if (!passes_between(marched[i - 1], marched[i], index[i] - index[i - 1])) return false;
            }
        }
        find_rooms(marched);
        return true;
    }

    /// Of a way that passes.
    const DitchRooms& rooms() const { return rooms_; }
    /// Of a way that does not.
    double breaks_at() const { return breaks_at_; }
    bool stands() const { return stands_; }

private:
    using Rates = std::array<double, ditch_quantities.size()>;

    bool keeps(const DitchStation& station) {
        breaks_at_ = station.pose.place;
        stands_ = station.pose.stands;
        return keeps_limits(m_, station, limits_);
    }

    void find_rooms(const std::vector<DitchStation>& marched) {
        for (std::size_t q = 0; q < ditch_quantities.size(); ++q) {
            if (needs_shaft(ditch_quantities[q]) && !m_.has_shaft) continue;
            for (const DitchStation& s : marched) rooms_[q] = std::min(rooms_[q], find_room(m_, s, limits_, ditch_quantities[q]));
        }
    }

    /// Stations from one look to the next, so that a narrow piece of ground, or a steep one, is not stepped over.
    static std::size_t find_stride(const Crossing& crossing) {
        const double most = std::min(8.0 / std::sin(crossing.angle), 32.0);  // across the ditch as far as squarely, down to 15 deg
        double narrowest = 2.0 * most * station_step;
        const std::vector<Point>& corners = crossing.profile.corners;
        for (std::size_t i = 1; i < corners.size(); ++i)
            narrowest = std::min(narrowest, (corners[i].x() - corners[i - 1].x()) / std::sin(crossing.angle));
        return static_cast<std::size_t>(std::clamp(narrowest / (2.0 * station_step), 1.0, most));
    }

    /// Then the rig stands everywhere as it does before the ditch.
    static bool is_level(const GroundProfile& ground) {
        return std::all_of(ground.corners.begin(), ground.corners.end(), [&](const Point& p) { return p.y() == ground.corners.front().y(); });
    }

    /// The station at a place, from one that stands: at a leap, and where that finds no pose station by station.
    DitchStation walk(const DitchStation& from, double place) const {
        DitchStation there = way_.limited_at(place, &from.pose);
        if (there.pose.stands) return there;
        const double way = place - from.pose.place;
        const int steps = static_cast<int>(std::ceil(std::fabs(way) / station_step));
        there = from;
        for (int i = 1; i <= steps && there.pose.stands; ++i)
            there = way_.limited_at(from.pose.place + way * i / steps, &there.pose);
        return there;
    }

    /// Fastest change of each quantity by the way so far, m/m or rad/m.
    void learn_rates(const DitchStation& a, const DitchStation& b) {
        const double way = std::fabs(b.pose.place - a.pose.place);
        for (std::size_t i = 0; way > 0.0 && i < ditch_quantities.size(); ++i)
            rates_[i] = std::max(rates_[i], std::fabs(signed_value_of(a, ditch_quantities[i]) - signed_value_of(b, ditch_quantities[i])) / way);
    }

    /// Quantities that could come to their limit between two stations.
    bool may_break(const DitchStation& a, const DitchStation& b, std::size_t i) const {
        if (needs_shaft(ditch_quantities[i]) && !m_.has_shaft) return false;
        const double room =
            find_room(m_, a, limits_, ditch_quantities[i]) + find_room(m_, b, limits_, ditch_quantities[i]);
        return room <= ditch_rate_margin * rates_[i] * std::fabs(b.pose.place - a.pose.place);
    }

    bool passes_between(const DitchStation& a, const DitchStation& b, std::size_t steps) {
        std::array<bool, ditch_quantities.size()> open{};
        for (std::size_t i = 0; i < ditch_quantities.size(); ++i) open[i] = may_break(a, b, i);
        if (std::none_of(open.begin(), open.end(), [](bool o) { return o; })) return true;
        if (steps <= 1) {
            for (std::size_t i = 0; i < ditch_quantities.size(); ++i) {
                if (open[i] && !keeps_at_peak(a, b, ditch_quantities[i])) return false;
            }
            return true;
        }
        const std::size_t first = steps / 2;
        const double share = static_cast<double>(first) / static_cast<double>(steps);
        const DitchStation middle = walk(a, a.pose.place + share * (b.pose.place - a.pose.place));
        if (!keeps(middle)) return false;
        learn_rates(a, middle);
        learn_rates(middle, b);
        return passes_between(a, middle, first) && passes_between(middle, b, steps - first);
    }

    /// Between two stations: where the quantity rises from both into the stretch there is a peak.
    bool keeps_at_peak(const DitchStation& a, const DitchStation& b, DitchQuantity q) {
        constexpr double beside = 0.01;  // of the stretch
        const double from = a.pose.place, to = b.pose.place;
        const DitchStation after = way_.limited_at(from + beside * (to - from), &a.pose),
                           before = way_.limited_at(to - beside * (to - from), &b.pose);
        if (!keeps(after) || !keeps(before)) return false;
        if (badness(after, q) <= badness(a, q) || badness(before, q) <= badness(b, q)) return true;
        const double rate = ditch_rate_margin * rates_[static_cast<std::size_t>(q)];
        return keeps(find_peak(way_, after, from, to, q, [&](const DitchStation& worst, double within) {
            const double room = find_room(m_, worst, limits_, q);
            return room < 0.0 || room > rate * within;
        }));
    }

    const DrawnModel& m_;
    const DitchMarch& way_;
    const DitchLimits& limits_;
    std::size_t stride_;
    bool level_;
    Rates rates_{};
    DitchRooms rooms_ = make_endless_rooms();
    double breaks_at_ = 0.0;
    bool stands_ = true;
};

/// The quantity with the least room.
DitchQuantity find_tightest(const DrawnModel& m, const DitchStation& station, const DitchLimits& limits) {
    return *std::min_element(ditch_quantities.begin(), ditch_quantities.end(), [&](DitchQuantity a, DitchQuantity b) {
        return find_room(m, station, limits, a) < find_room(m, station, limits, b);
    });
}

}  // namespace

DitchPass look_whether_passes(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits) {
    DitchPass r{true, true, make_endless_rooms(), std::nullopt};
    for (const Heading heading : list_headings(crossing)) {
        const DitchMarch way(m, rig, crossing, heading);
        PassCheck check(m, way, crossing, limits);
        if (!check.run()) return {false, check.stands(), std::nullopt, DitchPlace{heading, check.breaks_at()}};
        for (std::size_t q = 0; q < r.rooms->size(); ++q) (*r.rooms)[q] = std::min((*r.rooms)[q], check.rooms()[q]);
    }
    return r;
}

DitchPeak find_peak_near(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits, const DitchPlace& seen) {
    const DitchMarch way(m, rig, crossing, seen.heading);
    const auto breaks = [&](const DitchStation& s) { return s.pose.stands && !keeps_limits(m, s, limits); };
    constexpr double beside = 0.06, near = 1.0e-3;  // m; m or rad
    DitchStation top = way.limited_at(seen.place, nullptr);
    for (int round = 0; round < 2 && top.pose.stands && !breaks(top); ++round) {
        const DitchQuantity q = find_tightest(m, top, limits);
        const double place = top.pose.place, here = badness(top, q), room = find_room(m, top, limits, q);
        const DitchStation before = way.limited_at(place - beside, &top.pose), after = way.limited_at(place + beside, &top.pose);
        if (!before.pose.stands || !after.pose.stands) break;
        const double rise = 0.5 * (badness(after, q) - badness(before, q)), bend = badness(before, q) - 2.0 * here + badness(after, q);
        const double farthest = 3.0, by = bend < 0.0 ? std::clamp(-rise / bend, -farthest, farthest) : std::copysign(1.0, rise);
        const DitchStation next = way.limited_at(place + by * beside, &top.pose);
        for (const DitchStation* s : {&before, &after, &next}) {
            if (s->pose.stands && badness(*s, q) > badness(top, q)) top = *s;
        }
        if (badness(top, q) - here > 0.2 * room) continue;
        const double rate = std::max(here - badness(before, q), here - badness(after, q)) / beside, low = top.pose.place - 0.5 * beside;
        if (room < near) top = find_peak(way, top, low, low + beside, q, [&](const DitchStation& worst, double within) {
            return breaks(worst) || find_room(m, worst, limits, q) > rate * within;
        });
        break;
    }
    return {{seen.heading, top.pose.place}, breaks(top)};
}

bool passes_ditch(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits) {
    return look_whether_passes(m, rig, crossing, limits).passes;
}

}  // namespace hitchwright
