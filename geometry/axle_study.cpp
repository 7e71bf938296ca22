// See axle_study.h.
#include "geometry/axle_study.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <initializer_list>
#include <iterator>
#include <span>
#include <string_view>

#include "geometry/carried_bands.h"
#include "geometry/lift_ratio.h"
#include "geometry/mounted_extremes.h"
#include "geometry/standing_tractor.h"
#include "geometry/travel_panels.h"
#include "geometry/travel_place.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(AxleStudy);

namespace {

/// A few masses, without a place on the heap: they are put together anew for each reading moved by its error.
class Masses {
public:
    Masses() = default;
    Masses(std::initializer_list<PlacedMass> masses) {
        for (const PlacedMass& m : masses) add(m);
    }
    void add(const PlacedMass& m) { all_[count_++] = m; }
    void drop_first() { std::shift_left(all_.begin(), all_.begin() + static_cast<std::ptrdiff_t>(count_--), 1); }
    std::span<const PlacedMass> list() const { return {all_.data(), count_}; }

private:
    std::array<PlacedMass, 6> all_{};  // of the tractor two, two of ballast, implement and coupler
    std::size_t count_ = 0;
};

/// A load on the tractor in some state.
struct Carried {
    LoadState state{};
    double height = 0.0;
    Masses masses;  ///< implement first
};

/// Tractor and ballast as masses; false: something is missing.
bool set_tractor(const Setup& s, AxleStudy& r) {
    const TractorMassReadings& t = s.tractor.mass;
    const auto need = [&](const Reading& x, const char* key) {
        if (!x.known) r.missing.emplace_back(key);
    };
    need(t.mass.known && t.mass.value > 0.0 ? t.mass : Reading{}, "tractor.mass.mass");  // of nothing there is no share
    need(t.front_share, "tractor.mass.front_share");
    need(t.wheelbase, "tractor.mass.wheelbase");
    if (!r.missing.empty() || !(t.wheelbase.value > 0.0)) return false;
    r.tractor_empty = t.mass.value;
    r.wheelbase = t.wheelbase.value;
    r.front_empty = t.front_share.value * t.mass.value;
    r.rear_empty = t.mass.value - r.front_empty;
    const BallastReadings& b = s.choices.ballast;
    r.front_ballast = b.front.value_or(0.0);
    r.front_ahead = b.front_ahead.value_or(0.0);
    r.front_place_assumed = !b.front_ahead.known;
    r.rear_ballast = b.rear.value_or(0.0);
    r.rear_behind = b.rear_behind.value_or(0.0);
    r.binding = b.base;
    return true;
}

Masses list_tractor(const AxleStudy& r, bool front_ballast, bool rear_ballast) {
    Masses masses{{r.front_empty, -r.wheelbase}, {r.rear_empty, 0.0}};
    if (front_ballast) masses.add({r.front_ballast, -r.wheelbase - r.front_ahead});
    if (rear_ballast) masses.add({r.rear_ballast, r.rear_behind});
    return masses;
}

AxleLoads load_axles(const AxleStudy& r, const Masses& carried, bool front_ballast, bool rear_ballast) {
    Masses all = list_tractor(r, front_ballast, rear_ballast);
    for (const PlacedMass& m : carried.list()) all.add(m);
    return find_axle_loads(all.list(), r.wheelbase);
}

void set_shares(const Setup& s, const Masses& carried, AxleStudy& r) {
    const double wanted = s.rules.front_axle_share.set ? s.rules.front_axle_share.value : 0.0;
    const AxleLoads loads = load_axles(r, carried, true, true), bare = load_axles(r, carried, false, true);
    for (const LoadBase base : {LoadBase::tractor_empty, LoadBase::all_together}) {
        const AxleShare share{Axle::front, base, wanted, r.tractor_empty};
        FrontShare& f = r.shares[base == LoadBase::tractor_empty ? 0 : 1];
        f.base = base;
        f.base_mass = base == LoadBase::tractor_empty ? r.tractor_empty : loads.total();
        f.wanted = wanted;
        f.share = find_axle_share(loads, share);
        f.ballast = find_least_ballast(bare, r.wheelbase, share, -r.wheelbase - r.front_ahead);
    }
}

void set_rear(const Setup& s, const Masses& carried, AxleStudy& r) {
    r.rear_wanted = s.rules.rear_axle_share.set ? s.rules.rear_axle_share.value : 0.0;
    const AxleShare share{Axle::rear, LoadBase::tractor_empty, r.rear_wanted, r.tractor_empty};
    r.rear_share = find_axle_share(load_axles(r, carried, true, true), share);
    r.rear_ballast_least = find_least_ballast(load_axles(r, carried, true, false), r.wheelbase, share, r.rear_behind);
}

double find_carried(const AxleLoads& loads, CarryingPart part) {
    switch (part) {
        case CarryingPart::front_axle:
        case CarryingPart::front_tyres:
            return loads.front;
        case CarryingPart::rear_axle:
        case CarryingPart::rear_tyres:
            return loads.rear;
        case CarryingPart::whole_tractor:
            break;
    }
    return loads.total();
}

/// kg: loads that differ by less are the same but for rounding, and the first state counts.
constexpr double same_load = 1e-6;

void set_limits(const Setup& s, AxleStudy& r) {
    const TractorMassReadings& m = s.tractor.mass;
    const TyreReadings& t = s.tractor.tyre;
    const std::pair<CarryingPart, const Reading*> limits[] = {{CarryingPart::front_axle, &m.front_axle_most},
                                                              {CarryingPart::rear_axle, &m.rear_axle_most},
                                                              {CarryingPart::front_tyres, &t.front_load_most},
                                                              {CarryingPart::rear_tyres, &t.rear_load_most},
                                                              {CarryingPart::whole_tractor, &m.total_most}};
    r.carried.reserve(std::size(limits));
    for (const auto& [part, limit] : limits) {
        if (!limit->known) continue;
        auto most = r.states.begin();
        for (auto state = most; state != r.states.end(); ++state) {
            if (find_carried(state->loads, part) - find_carried(most->loads, part) > same_load) most = state;
        }
        r.carried.push_back({part, find_carried(most->loads, part), most->state, limit->value, {}});
    }
}

/// True when the ballast that keeps the binding share breaks a limit in some state.
bool breaks_limit(const AxleStudy& r, const std::vector<Carried>& carried) {
    const FrontShare& share = r.shares[r.binding == LoadBase::tractor_empty ? 0 : 1];
    if (!share.ballast || *share.ballast <= r.front_ballast) return false;
    AxleStudy with = r;
    with.front_ballast = *share.ballast;
    for (const CarriedLoad& limit : r.carried) {
        for (const Carried& c : carried) {
            if (find_carried(load_axles(with, c.masses, true, true), limit.part) > limit.allowed) return true;
        }
    }
    return false;
}

/// States, shares and limits from what is carried in each.
void judge_states(const Setup& s, const std::vector<Carried>& carried, AxleStudy& r) {
    std::size_t rear_lightest = 0;
    for (const Carried& c : carried) {
        r.states.push_back(
            {c.state, c.height, c.masses.list().empty() ? 0.0 : c.masses.list().front().x, load_axles(r, c.masses, true, true)});
        const std::size_t i = r.states.size() - 1;
        if (r.states[i].loads.front < r.states[r.lightest].loads.front) r.lightest = i;
        if (r.states[i].loads.rear < r.states[rear_lightest].loads.rear) rear_lightest = i;
    }
    set_shares(s, carried[r.lightest].masses, r);
    set_rear(s, carried[rear_lightest].masses, r);
    set_limits(s, r);
    r.ballast_breaks = breaks_limit(r, carried);
    r.known = true;
}

Point find_coupler_centre(const Coupler& c) { return {c.cg_x.value_or(c.set_back.value_or(0.0)), 0.0}; }

TravelBox find_raised_box(const MountedModel& m) {
    TravelBox box = make_travel_box(m);
    box.upper_lengths.low = box.upper_lengths.high;  // raised, a floating link is in tension at its longest
    return box;
}

/// What hangs on the tractor in each state; `farthest`: where the implement's centre is farthest behind. Nothing when a pose
/// does not close. `s` stands on its tyres.
std::optional<std::vector<Carried>> hang_implement(const Setup& s, const MountedModel& m, const TravelBox& farthest) {
    const ImplementMassReadings& i = s.implement.mass;
    const Point at = find_body_point(m, i.cg_x, i.cg_z);
    const double longest = effective_upper_lengths(m).high;
    std::vector<Carried> all;
    all.reserve(5);
    all.push_back({LoadState::unhitched, 0.0, {}});
    const auto hang = [&](LoadState state, double h, double length) {
        PlanarLinkage k = m.linkage;
        k.upper_length = length;
        if (!closes_at(k, h)) return false;
        const KernelPose<double> pose = solve_kernel<double>(k, h, length);
        Carried c{state, h, {{i.mass.value, pose.place(at.x(), at.y()).x}}};
        if (m.has_coupler && s.parts.coupler.mass.known)
            c.masses.add({s.parts.coupler.mass.value, pose.place(find_coupler_centre(s.parts.coupler).x(), 0.0).x});
        all.push_back(c);
        return true;
    };
    const bool closes = hang(LoadState::on_ground, m.travel.low, longest) && hang(LoadState::lowest, m.travel.low, longest) &&
                        hang(LoadState::farthest, farthest.heights.low, farthest.upper_lengths.low) &&
                        hang(LoadState::highest, m.travel.high, longest);
    if (!closes) return std::nullopt;
    all[1].masses.drop_first();  // the implement stands by itself
    return all;
}

/// Where the implement's centre of gravity is farthest behind. A strap between stops holds the link at some length of its
/// range: all of them are looked at.
TravelExtreme find_farthest(const Setup& s, const MountedModel& m) {
    const Point at = find_body_point(m, s.implement.mass.cg_x, s.implement.mass.cg_z);
    const PlainCloseness close{length_closeness};
    const auto behind = [&](const auto& pose) { return std::array{pose.place(at.x(), at.y()).x}; };
    const TravelBox box = m.strap_has_stops ? make_travel_box(m) : find_raised_box(m);
    if (box.upper_lengths.low == box.upper_lengths.high) return TravelPanels<1, decltype(behind)>(m.linkage, box, behind).find_greatest(0, box.heights, close);
    return find_greatest(m.linkage, box, [&](const auto& pose) { return behind(pose)[0]; }, close);
}

bool set_mounted(const Setup& s, const MountedModel& m, AxleStudy& r) {
    const ImplementMassReadings& i = s.implement.mass;
    if (!i.mass.known) r.missing.emplace_back("implement.mass.mass");
    if (!i.cg_x.known) r.missing.emplace_back("implement.mass.cg_x");
    if (!set_tractor(s, r) || !r.missing.empty()) return false;
    r.implement = i.mass.value;
    r.cg_height_assumed = !i.cg_z.known;
    const bool coupler = m.has_coupler && s.parts.coupler.mass.known;
    r.coupler_mass_missing = m.has_coupler && !coupler;
    r.coupler = coupler ? s.parts.coupler.mass.value : 0.0;
    return true;
}

std::vector<Carried> hitch_implement(const Setup& s, const DrawnModel& m) {
    return {{LoadState::unhitched, 0.0, {}},
            {LoadState::hitched, 0.0, {{s.implement.drawn.vertical_load.value, m.pto_end_x + m.drawbar_length}}}};
}

bool set_drawn(const Setup& s, AxleStudy& r) {
    const Reading& load = s.implement.drawn.vertical_load;
    if (!load.known) r.missing.emplace_back("implement.drawn.vertical_load");
    if (!set_tractor(s, r) || !r.missing.empty()) return false;
    r.implement = load.value;
    return true;
}

using Numbers = std::span<std::optional<double>>;
/// Front load, share that binds, share on the rear axle; then what has a limit, less the limit.
constexpr std::size_t plain_numbers = 3;

/// The numbers of a moved set-up, each in the state that has the least or the most then. `s` stands on its tyres.
void find_numbers(const Setup& s, const std::vector<Carried>& carried, const AxleStudy& as_read, Numbers out) {
    AxleStudy r;
    if (!set_tractor(s, r)) return;
    r.states.reserve(carried.size());
    for (const Carried& c : carried) r.states.push_back({c.state, c.height, 0.0, load_axles(r, c.masses, true, true)});
    const auto least = [&](const auto& load) {
        return *std::min_element(r.states.begin(), r.states.end(), [&](const AxleState& a, const AxleState& b) { return load(a) < load(b); });
    };
    const AxleLoads front = least([](const AxleState& a) { return a.loads.front; }).loads;
    const AxleLoads rear = least([](const AxleState& a) { return a.loads.rear; }).loads;
    out[0] = front.front;
    out[1] = find_axle_share(front, {Axle::front, as_read.binding, 0.0, r.tractor_empty});
    out[2] = find_axle_share(rear, {Axle::rear, LoadBase::tractor_empty, 0.0, r.tractor_empty});
    set_limits(s, r);
    for (std::size_t i = 0; i < r.carried.size() && plain_numbers + i < out.size(); ++i)
        out[plain_numbers + i] = r.carried[i].most - r.carried[i].allowed;
}

void take_bands(std::vector<ErrorBand> bands, AxleStudy& r) {
    r.front_band = std::move(bands[0]);
    r.share_band = std::move(bands[1]);
    r.rear_band = std::move(bands[2]);
    for (std::size_t i = 0; i < r.carried.size(); ++i) r.carried[i].band = std::move(bands[plain_numbers + i]);
}

}  // namespace

AxleStudy study_axles(const ErrorModel& errors, const MountedModel& m) {
    AxleStudy r;
    TravelPlace place;
    {
        const StandingSetup on(errors.setup());
        if (!set_mounted(*on, m, r)) return r;
        const TravelExtreme e = find_farthest(*on, m);
        place = find_place(e, m.travel, TravelBox{m.travel, effective_upper_lengths(m)}, false);
        const std::optional<std::vector<Carried>> carried =
            hang_implement(*on, m, {{e.height, e.height}, {e.upper_length, e.upper_length}});
        if (!carried) return r;
        judge_states(*on, *carried, r);
    }
    take_bands(propagate_model(errors, m.pin_decision, plain_numbers + r.carried.size(),
                               [&](const MovedSetup& moved, const MountedModel& now, Numbers out) {
                                   const StandingSetup on(moved.setup);
                                   const auto carried = hang_implement(*on, now, find_box_at(place, now));
                                   if (carried) find_numbers(*on, *carried, r, out);
                               },
                               reads_linkage_and(errors, m, {"tractor.mass.", "tractor.tyre", "choices.ballast.", "implement.mass.", "coupler."}))
                   .bands,
               r);
    return r;
}

AxleStudy study_axles(const ErrorModel& errors, const DrawnModel& m) {
    AxleStudy r;
    {
        const StandingSetup on(errors.setup());
        if (!set_drawn(*on, r)) return r;
        judge_states(*on, hitch_implement(*on, m), r);
    }
    take_bands(propagate(errors, plain_numbers + r.carried.size(),
                         [&](const MovedSetup& at, Numbers out) {
                             const Setup& moved = at.setup;
                             const DrawnModelResult now = make_drawn_model(moved);
                             const StandingSetup on(moved);
                             if (now.hitch_ok) find_numbers(*on, hitch_implement(*on, now.model), r, out);
                         }, [](std::string_view key) {
                             const bool behind = key.starts_with("driveline.") || key.starts_with("implement.pic.") || key.starts_with("implement.tongue_bar[");
                             return !behind && may_move_drawn(key);
                         })
                   .bands,
               r);
    return r;
}

}  // namespace hitchwright
