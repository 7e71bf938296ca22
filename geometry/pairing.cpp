#include "geometry/pairing.h"

#include <algorithm>
#include <cstdlib>

#include "geometry/category.h"
#include "geometry/lower_link.h"

namespace hitchwright {
namespace {

/// Masts this much lower than the figure still count as of that height (the older ones are): as in hitch_match.cpp.
constexpr double mast_play = 0.040;
/// Share of the empty mass that must stay on the front axle before anybody thinks of ballast. Operator manuals want
/// 20 % in the end (docs/references.md, BAL); what is missing to that can be put on as ballast, with half of it gone the pair
/// is the wrong one. Judgement, grade P.
constexpr double front_share_least = 0.10;
/// A tractor with less than this share of the power the implement takes does not do its work. Judgement, grade P.
constexpr double power_share_least = 0.5;

/// 0 to 4; empty: not stated.
std::optional<int> number_of(Category category) {
    switch (category) {
        case Category::cat0: return 0;
        case Category::cat1: return 1;
        case Category::cat2: return 2;
        case Category::cat3: return 3;
        case Category::cat4: return 4;
        case Category::none: break;
    }
    return std::nullopt;
}

/// The next smaller category; none below category 1, which has no figures.
Category next_smaller(Category category) {
    switch (category) {
        case Category::cat2: return Category::cat1;
        case Category::cat3: return Category::cat2;
        case Category::cat4: return Category::cat3;
        default: return Category::none;
    }
}

/// Bushings take one step of category, not two; a larger pin goes into no smaller ball.
Pairing check_category(const Tractor& t, const Implement& i) {
    const auto tractor = number_of(t.hitch.category), implement = number_of(i.hitch.category);
    if (!tractor || !implement || *implement == *tractor || *implement == *tractor - 1) return {};
    return {PairingObstacle::category, static_cast<double>(*implement), static_cast<double>(*tractor)};
}

Pairing check_speed(const Tractor& t, const Implement& i) {
    const std::vector<int>& has = t.pto.speeds_rpm;
    const int wanted = i.pic.speed_rpm;
    if (!i.pic.fitted || wanted == 0 || has.empty() || std::find(has.begin(), has.end(), wanted) != has.end()) return {};
    const int nearest = *std::min_element(has.begin(), has.end(), [&](int a, int b) { return std::abs(a - wanted) < std::abs(b - wanted); });
    return {PairingObstacle::speed, static_cast<double>(wanted), static_cast<double>(nearest)};
}

/// The highest hole counts. A tractor's upper links suit masts of its category and of the next smaller.
Pairing check_mast(const Tractor& t, const Implement& i) {
    const double limit = find_category_figures(next_smaller(t.hitch.category)).mast_height.value - mast_play;
    double highest = 0.0;
    for (const MastPin& p : i.mast_pins) {
        if (!p.height.known) return {};
        highest = std::max(highest, p.height.value);
    }
    if (i.mast_pins.empty() || highest >= limit) return {};
    return {PairingObstacle::mast, highest, limit};
}

Pairing check_front_axle(const Tractor& t, const Implement& i) {
    const std::optional<double> share = find_front_axle_share(t, i);
    if (!share || *share >= front_share_least) return {};
    return {PairingObstacle::front_axle, *share, front_share_least};
}

Pairing check_power(const Tractor& t, const Implement& i) {
    if (!i.pic.fitted || !t.pto.power.known || !i.pic.power.known) return {};
    const double limit = power_share_least * i.pic.power.value;
    if (t.pto.power.value >= limit) return {};
    return {PairingObstacle::power, t.pto.power.value, limit};
}

HoleOutcome find_outcome(const ModelObstacle& obstacle) {
    switch (obstacle.kind) {
        case ModelObstacle::Kind::missing:
        case ModelObstacle::Kind::no_such_pin:
        case ModelObstacle::Kind::pin_not_chosen: return HoleOutcome::not_known;
        default: return HoleOutcome::does_not_close;
    }
}

HoleCheck check_hole(Setup setup, const std::string& tractor_pin, const std::string& mast_pin, const std::string& rod_hole) {
    setup.choices.upper_link_pin = tractor_pin;
    setup.choices.mast_pin = mast_pin;
    setup.choices.lift_rod_hole = rod_hole;
    HoleCheck hole{tractor_pin, mast_pin, rod_hole, HoleOutcome::closes, {}, 0.0, {}, {}};
    const MountedModelResult r = make_mounted_model(setup);
    hole.upper_length = r.model.linkage.upper_length;
    hole.travel = r.model.travel;
    const UpperLinkReadings& link = setup.tractor.upper_link;
    if (!r.linkage_obstacles.empty()) {
        hole.obstacle = r.linkage_obstacles.front();
        hole.outcome = find_outcome(*hole.obstacle);
        return hole;
    }
    if (link.length_least.known && link.length_most.known) {
        hole.reach = check_upper_link_reach(hole.upper_length, link.length_least.value, link.length_most.value);
    }
    if (hole.reach && !hole.reach->within) hole.outcome = HoleOutcome::link_out_of_reach;
    return hole;
}

/// Names to try; without any hole one empty name, so that what is missing is said.
template <class Pin>
std::vector<std::string> list_names(const std::vector<Pin>& pins) {
    std::vector<std::string> names;
    for (const Pin& pin : pins) names.push_back(pin.name);
    if (names.empty()) names.emplace_back();
    return names;
}

}  // namespace

std::optional<double> find_front_axle_share(const Tractor& t, const Implement& i) {
    const LowerLinkReadings& l = t.lower_link;
    const TractorMassReadings& m = t.mass;
    const bool known = m.mass.known && m.front_share.known && m.wheelbase.known && i.mass.mass.known &&
                       i.mass.cg_x.known && l.pivot_x.known && l.length.known && l.half_spread_at_pivot.known &&
                       l.half_spread_at_ball.known;
    if (!known || m.mass.value <= 0.0 || m.wheelbase.value <= 0.0) return std::nullopt;
    const ProjectedLength link = project_length(LinkagePart::lower_link, l.length.value,
                                                l.half_spread_at_ball.value - l.half_spread_at_pivot.value);
    if (!link.closure.closes()) return std::nullopt;
    const double behind_axle = l.pivot_x.value + link.length + i.mass.cg_x.value;
    return m.front_share.value - i.mass.mass.value / m.mass.value * behind_axle / m.wheelbase.value;
}

Pairing check_pairing(const Tractor& tractor, const Implement& implement) {
    if (implement.attachment == Attachment::drawn) return {PairingObstacle::not_mounted, 0.0, 0.0};
    for (const auto check : {check_category, check_speed, check_mast, check_front_axle, check_power}) {
        const Pairing pairing = check(tractor, implement);
        if (!pairing.sensible()) return pairing;
    }
    return {};
}

std::vector<HoleCheck> check_holes(const Tractor& tractor, const Implement& implement) {
    Setup setup;
    setup.tractor = tractor;
    setup.implement = implement;
    std::vector<HoleCheck> holes;
    for (const std::string& tractor_pin : list_names(tractor.upper_link_pins)) {
        for (const std::string& mast_pin : list_names(implement.mast_pins)) {
            for (const std::string& rod_hole : list_names(tractor.lift_rod_holes)) {
                holes.push_back(check_hole(setup, tractor_pin, mast_pin, rod_hole));
            }
        }
    }
    return holes;
}

PairingCheck verify_pairing(const Tractor& tractor, const Implement& implement) {
    PairingCheck check{check_pairing(tractor, implement), {}};
    if (check.pairing.sensible()) check.holes = check_holes(tractor, implement);
    return check;
}

}  // namespace hitchwright
