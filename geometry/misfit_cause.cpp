#include "geometry/misfit_cause.h"

#include <algorithm>

#include "geometry/direct_place.h"
#include "geometry/mounted_model.h"

namespace hitchwright {
namespace {

constexpr LengthReference all_points[] = {LengthReference::joint_centres, LengthReference::locking_grooves, LengthReference::shaft_ends};

const char* key_of(DirectCause hole) {
    return hole == DirectCause::upper_link_pin ? "choices.upper_link_pin" : hole == DirectCause::mast_pin ? "choices.mast_pin" : "choices.drawbar_pin";
}

/// The distances named, or all, taken between other points.
bool find_other_points(const Setup& s, const std::vector<std::string>& keys, ModelFit& fit) {
    for (const LengthReference points : all_points) {
        Setup trial = s;
        bool differs = false;
        for (const Observation& o : list_observations(s)) {
            if (o.list == ObservationList::pose || (!keys.empty() && std::find(keys.begin(), keys.end(), o.key) == keys.end())) continue;
            LengthReference& reference = o.list == ObservationList::turn ? trial.turn_readings[o.index].reference : trial.direct_readings[o.index].reference;
            differs = differs || reference != points;
            reference = points;
        }
        if (!differs || !is_consistent(trial)) continue;
        fit.cause = DirectCause::other_points;
        fit.points = points;
        fit.subject = keys.size() == 1 ? keys.front() : std::string();
        return true;
    }
    return false;
}

/// Drawn: the drawbar's pin in another position.
bool find_other_position(const Setup& s, ModelFit& fit) {
    const DrawnModelResult r = make_drawn_model(s);
    if (!r.hitch_ok) return false;
    Setup trial = s;
    for (std::size_t i = 0; i < s.tractor.drawbar_pins.size(); ++i) {
        trial.choices.drawn.drawbar_pin = s.tractor.drawbar_pins[i].name;
        if (i == r.model.pin || !is_consistent(trial)) continue;
        fit.cause = DirectCause::drawbar_pin;
        fit.subject = s.tractor.drawbar_pins[i].name;
        return true;
    }
    return false;
}

bool find_other_hole(const Setup& s, ModelFit& fit) {
    if (s.implement.attachment == Attachment::drawn) return find_other_position(s, fit);
    const MountedModelResult r = make_mounted_model(s, nullptr, RangeSearch::none);
    if (!r.linkage_ok) return false;
    Setup trial = s;
    // The link stays as long as it is: a wrong hole goes unnoticed, a link turned to the length it should not have does not.
    if (!s.choices.upper_link_length.known) trial.choices.upper_link_length = make_reading(r.model.linkage.upper_length, Origin::computed);
    for (std::size_t i = 0; i < s.tractor.upper_link_pins.size(); ++i) {
        trial.choices.upper_link_pin = fit.subject = s.tractor.upper_link_pins[i].name;
        fit.cause = DirectCause::upper_link_pin;
        if (i != r.model.tractor_pin && is_consistent(trial)) return true;
    }
    trial.choices.upper_link_pin = s.choices.upper_link_pin;
    for (std::size_t i = 0; i < s.implement.mast_pins.size(); ++i) {
        trial.choices.mast_pin = fit.subject = s.implement.mast_pins[i].name;
        fit.cause = DirectCause::mast_pin;
        if (i != r.model.mast_pin && is_consistent(trial)) return true;
    }
    fit.cause = DirectCause::unknown;
    fit.subject.clear();
    return false;
}

}  // namespace

void set_misfit_cause(const Setup& setup, const std::vector<std::string>& left_out, ModelFit& fit) {
    if (!left_out.empty() && find_other_points(setup, left_out, fit)) return;
    if (left_out.size() == 1 && fit.used) {
        // Another hole might explain it too; one reading that the others speak against is the simpler mistake.
        if (find_other_hole(setup, fit)) fit.equally.emplace_back(key_of(fit.cause));
        fit.cause = DirectCause::one_reading;
        fit.subject = left_out.front();
        return;
    }
    if (!find_other_points(setup, {}, fit)) find_other_hole(setup, fit);
}

}  // namespace hitchwright
