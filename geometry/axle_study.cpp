// See axle_study.h.
#include "geometry/axle_study.h"

#include <algorithm>
#include <cmath>

#include "geometry/lift_ratio.h"
#include "geometry/load_band.h"
#include "geometry/mounted_extremes.h"
#include "geometry/standing_tractor.h"

namespace hitchwright {
namespace {

/// A load on the tractor in some state.
struct Carried {
    LoadState state{};
    double height = 0.0;
    std::vector<PlacedMass> masses;  ///< implement first
};

/// Tractor and ballast as masses; false: something is missing.
bool set_tractor(const Setup& s, AxleStudy& r) {
    const TractorMassReadings& t = s.tractor.mass;
    const auto need = [&](const Reading& x, const char* key) {
        if (!x.known) r.missing.emplace_back(key);
    };
    need(t.mass, "tractor.mass.mass");
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

std::vector<PlacedMass> list_tractor(const AxleStudy& r, bool front_ballast, bool rear_ballast) {
    std::vector<PlacedMass> masses{{r.front_empty, -r.wheelbase}, {r.rear_empty, 0.0}};
    if (front_ballast) masses.push_back({r.front_ballast, -r.wheelbase - r.front_ahead});
    if (rear_ballast) masses.push_back({r.rear_ballast, r.rear_behind});
    return masses;
}

AxleLoads load_axles(const AxleStudy& r, const std::vector<PlacedMass>& carried, bool front_ballast,
                     bool rear_ballast) {
    std::vector<PlacedMass> all = list_tractor(r, front_ballast, rear_ballast);
    all.insert(all.end(), carried.begin(), carried.end());
    return find_axle_loads(all, r.wheelbase);
}

void set_shares(const Setup& s, const std::vector<PlacedMass>& carried, AxleStudy& r) {
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

void set_rear(const Setup& s, const std::vector<PlacedMass>& carried, AxleStudy& r) {
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

void set_limits(const Setup& s, AxleStudy& r) {
    const TractorMassReadings& m = s.tractor.mass;
    const TyreReadings& t = s.tractor.tyre;
    const std::pair<CarryingPart, const Reading*> limits[] = {{CarryingPart::front_axle, &m.front_axle_most},
                                                              {CarryingPart::rear_axle, &m.rear_axle_most},
                                                              {CarryingPart::front_tyres, &t.front_load_most},
                                                              {CarryingPart::rear_tyres, &t.rear_load_most},
                                                              {CarryingPart::whole_tractor, &m.total_most}};
    for (const auto& [part, limit] : limits) {
        if (!limit->known) continue;
        const auto most =
            std::max_element(r.states.begin(), r.states.end(), [p = part](const AxleState& a, const AxleState& b) {
                return find_carried(a.loads, p) < find_carried(b.loads, p);
            });
        r.carried.push_back({part, find_carried(most->loads, part), most->state, limit->value, 0.0, {}});
    }
}

/// Error of a carried load: every mass moved by its own, at its place; places are as they are.
ErrorBand find_carried_band(const Setup& s, const AxleStudy& r, const Carried& carried, CarryingPart part) {
    const auto error = [](const Reading& m) {
        return find_load_error(m, FieldSpec{Dimension::mass, 0.0, 0.0, 0.0, Need::optional, ""});
    };
    const double tractor = error(s.tractor.mass.mass), share = s.tractor.mass.front_share.value;
    std::vector<std::vector<PlacedMass>> moved;
    std::vector<std::string> keys;
    const auto add = [&](const char* key, std::vector<PlacedMass> masses) {
        keys.emplace_back(key);
        moved.push_back(std::move(masses));
    };
    add("tractor.mass.mass", {{tractor * share, -r.wheelbase}, {tractor * (1.0 - share), 0.0}});
    if (!carried.masses.empty() && carried.state != LoadState::on_ground) {
        const bool mounted = s.implement.attachment == Attachment::mounted;
        const Reading& load = mounted ? s.implement.mass.mass : s.implement.drawn.vertical_load;
        add(mounted ? "implement.mass.mass" : "implement.drawn.vertical_load",
            {{error(load), carried.masses.front().x}});
    }
    ErrorBand band;
    double squares = 0.0;
    for (std::size_t i = 0; i < moved.size(); ++i) {
        const double by = std::fabs(find_carried(find_axle_loads(moved[i], r.wheelbase), part));
        squares += by * by;
        if (by > band.widest.share) band.widest = {keys[i], by};
    }
    band.width = std::sqrt(squares);
    return band;
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
            {c.state, c.height, c.masses.empty() ? 0.0 : c.masses.front().x, load_axles(r, c.masses, true, true)});
        const std::size_t i = r.states.size() - 1;
        if (r.states[i].loads.front < r.states[r.lightest].loads.front) r.lightest = i;
        if (r.states[i].loads.rear < r.states[rear_lightest].loads.rear) rear_lightest = i;
    }
    set_shares(s, carried[r.lightest].masses, r);
    set_rear(s, carried[rear_lightest].masses, r);
    set_limits(s, r);
    for (CarriedLoad& c : r.carried) {
        const auto at =
            std::find_if(carried.begin(), carried.end(), [&](const Carried& state) { return state.state == c.state; });
        const ErrorBand band = find_carried_band(s, r, *at, c.part);
        c.band = band.width;
        c.widest = band.widest.reading;
    }
    r.ballast_breaks = breaks_limit(r, carried);
    r.known = true;
}

Point find_coupler_centre(const Coupler& c) { return {c.cg_x.value_or(c.set_back.value_or(0.0)), 0.0}; }

TravelBox find_raised_box(const MountedModel& m) {
    TravelBox box = make_travel_box(m);
    box.upper_lengths.low = box.upper_lengths.high;  // raised, a floating link is in tension at its longest
    return box;
}

AxleStudy study_mounted(const Setup& s, const MountedModel& m) {
    AxleStudy r;
    const ImplementMassReadings& i = s.implement.mass;
    if (!i.mass.known) r.missing.emplace_back("implement.mass.mass");
    if (!i.cg_x.known) r.missing.emplace_back("implement.mass.cg_x");
    if (!set_tractor(s, r) || !r.missing.empty()) return r;
    r.implement = i.mass.value;
    r.cg_height_assumed = !i.cg_z.known;
    const bool coupler = m.has_coupler && s.parts.coupler.mass.known;
    r.coupler_mass_missing = m.has_coupler && !coupler;
    r.coupler = coupler ? s.parts.coupler.mass.value : 0.0;
    const Point at = find_body_point(m, i.cg_x, i.cg_z);
    const TravelBox box = find_raised_box(m);
    const auto hang = [&](LoadState state, double h, std::optional<double> length = {}) {
        const KernelPose<double> pose = solve_kernel<double>(m.linkage, h, length.value_or(box.upper_lengths.high));
        Carried c{state, h, {{r.implement, pose.place(at.x(), at.y()).x}}};
        if (coupler) c.masses.push_back({r.coupler, pose.place(find_coupler_centre(s.parts.coupler).x(), 0.0).x});
        return c;
    };
    Carried standing = hang(LoadState::on_ground, m.travel.low);
    standing.masses.erase(standing.masses.begin());
    const auto behind = [&](const auto& pose) { return pose.place(at.x(), at.y()).x; };
    // A strap between stops holds the link at some length of its range: all of them are looked at.
    const TravelExtreme farthest = find_greatest(m.linkage, m.strap_has_stops ? make_travel_box(m) : box, behind,
                                                 PlainCloseness{length_closeness});
    judge_states(s,
                 {{LoadState::unhitched, 0.0, {}},
                  standing,
                  hang(LoadState::lowest, m.travel.low),
                  hang(LoadState::farthest, farthest.height, farthest.upper_length),
                  hang(LoadState::highest, m.travel.high)},
                 r);
    return r;
}

AxleStudy study_drawn(const Setup& s, const DrawnModel& m) {
    AxleStudy r;
    const Reading& load = s.implement.drawn.vertical_load;
    if (!load.known) r.missing.emplace_back("implement.drawn.vertical_load");
    if (!set_tractor(s, r) || !r.missing.empty()) return r;
    r.implement = load.value;
    judge_states(
        s,
        {{LoadState::unhitched, 0.0, {}}, {LoadState::hitched, 0.0, {{r.implement, m.pto_end_x + m.drawbar_length}}}},
        r);
    return r;
}

/// Bands of the front load and of its share. `loads`: of moved readings, with the tractor's part set.
template <class F>
void set_bands(const Setup& s, AxleStudy& r, const F& loads) {
    const auto find = [&](const Setup& moved) -> std::optional<std::array<double, 2>> {
        AxleStudy one;
        if (!set_tractor(moved, one)) return std::nullopt;
        const std::optional<AxleLoads> found = loads(moved, one);
        if (!found) return std::nullopt;
        return std::array{found->front, find_axle_share(*found, {Axle::front, r.binding, 0.0, one.tractor_empty})};
    };
    const std::array<ErrorBand, 2> bands = find_load_bands<2>(s, find);
    r.front_band = bands[0];
    r.share_band = bands[1];
}

}  // namespace

AxleStudy study_axles(const Setup& setup, const MountedModel& m) {
    const StandingSetup on(setup);
    const Setup& s = *on;
    AxleStudy r = study_mounted(s, m);
    if (!r.known) return r;
    // By the envelope theorem the farthest place may stay at its height while readings move.
    const AxleState lightest = r.states[r.lightest];
    const LoadState state = lightest.state;
    set_bands(s, r, [&](const Setup& moved, const AxleStudy& one) -> std::optional<AxleLoads> {
        const MountedModelResult result = make_mounted_model(moved, &m.pin_decision, RangeSearch::none);
        if (!result.linkage_ok) return std::nullopt;
        const MountedModel& model = result.model;
        PlanarLinkage k = model.linkage;
        k.upper_length = effective_upper_lengths(model).high;
        const double h = state == LoadState::highest  ? model.travel.high
                         : state == LoadState::lowest ? model.travel.low
                                                      : lightest.height;
        if (!closes_at(k, h)) return std::nullopt;
        const KernelPose<double> pose = solve_kernel<double>(k, h, k.upper_length);
        const ImplementMassReadings& i = moved.implement.mass;
        const Point at = find_body_point(model, i.cg_x, i.cg_z);
        std::vector<PlacedMass> masses;
        if (state != LoadState::unhitched && state != LoadState::on_ground)
            masses.push_back({i.mass.value, pose.place(at.x(), at.y()).x});
        if (state != LoadState::unhitched && model.has_coupler && moved.parts.coupler.mass.known)
            masses.push_back(
                {moved.parts.coupler.mass.value, pose.place(find_coupler_centre(moved.parts.coupler).x(), 0.0).x});
        return load_axles(one, masses, true, true);
    });
    return r;
}

AxleStudy study_axles(const Setup& setup, const DrawnModel& m) {
    const StandingSetup on(setup);
    const Setup& s = *on;
    AxleStudy r = study_drawn(s, m);
    if (!r.known) return r;
    const bool hitched = r.states[r.lightest].state == LoadState::hitched;
    set_bands(s, r, [&](const Setup& moved, const AxleStudy& one) -> std::optional<AxleLoads> {
        // The pin stands so far behind the stub's end, which is read by itself.
        const double pin =
            m.pto_end_x + m.drawbar_length + (moved.tractor.pto.stub_x.value - s.tractor.pto.stub_x.value) +
            (moved.tractor.drawbar_pins[m.pin].length.value - s.tractor.drawbar_pins[m.pin].length.value);
        std::vector<PlacedMass> masses;
        if (hitched) masses.push_back({moved.implement.drawn.vertical_load.value, pin});
        return load_axles(one, masses, true, true);
    });
    return r;
}

}  // namespace hitchwright
