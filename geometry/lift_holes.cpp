// See lift_holes.h.
#include "geometry/lift_holes.h"

#include <algorithm>
#include <limits>

namespace hitchwright {
namespace {

double find_order(const LiftHole& h) {
    return h.closes && h.lift.least_capacity ? h.lift.least_capacity->value : -std::numeric_limits<double>::infinity();
}

}  // namespace

std::vector<LiftHole> study_lift_holes(const Setup& setup) {
    std::vector<LiftHole> all;
    for (const HoleCombination& holes : list_hole_combinations(setup)) {
        const Setup chosen = choose_holes(setup, holes);
        LiftHole h;
        h.holes = holes;
        h.tractor_pin = chosen.choices.upper_link_pin;
        h.mast_pin = chosen.choices.mast_pin;
        h.rod_hole = chosen.choices.lift_rod_hole;
        h.is_present = is_chosen(setup, holes);
        const MountedModelResult model = make_mounted_model(chosen, nullptr, RangeSearch::none);
        h.closes = model.linkage_ok;
        if (h.closes) h.lift = study_lift_alone(chosen, model.model);
        all.push_back(std::move(h));
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const LiftHole& a, const LiftHole& b) { return find_order(a) > find_order(b); });
    return all;
}

}  // namespace hitchwright
