// See ditch_analysis.h.
#include "geometry/ditch_analysis.h"

#include <memory>

namespace hitchwright {
namespace {

/// What crosses, and what it must keep.
struct DitchRig {
    TerrainRig rig;
    DitchLimits limits;
};

bool passes_with(const Setup& setup, const std::string& pin, const Crossing& crossing) {
    Setup trial = setup;
    trial.choices.drawn.drawbar_pin = pin;
    const DrawnModelResult result = make_drawn_model(trial);
    if (!result.hitch_ok || (setup.implement.pic.fitted && !result.model.has_halves)) return false;
    const TerrainRigResult rig = make_terrain_rig(trial, result.model);
    return rig.missing.empty() && passes_ditch(result.model, rig.rig, crossing, make_ditch_limits(trial, result.model, JointHold::stop));
}

std::vector<std::string> list_pins_that_pass(const Setup& s, const DrawnModel& m, const Crossing& crossing) {
    std::vector<std::string> pins;
    for (const DrawbarPin& pin : s.tractor.drawbar_pins) {
        if (pin.name != s.tractor.drawbar_pins[m.pin].name && passes_with(s, pin.name, crossing)) pins.push_back(pin.name);
    }
    return pins;
}

void begin_ditch(const Setup& s, const DrawnModel& m, DitchAnalysis& d, SharedWork& work) {
    d.no_ground = find_ground_faults(s.choices.drawn.ditch);
    if (!d.no_ground.empty()) return;
    d.shaft_unknown = s.implement.pic.fitted && !(m.has_shaft && m.has_halves);
    d.crossing = make_crossing(s.choices.drawn.ditch);
    const TerrainRigResult made = make_terrain_rig(s, m);
    d.missing = made.missing;
    if (!d.missing.empty()) return;
    const auto rig = std::make_shared<const DitchRig>(DitchRig{made.rig, make_ditch_limits(s, m, JointHold::stop)});
    d.study = study_ditch(m, rig->rig, d.crossing, rig->limits);
    if (!d.study->passes) work.add_first([&](int) { d.pins_that_pass = list_pins_that_pass(s, m, d.crossing); });
    work.add_first([&, rig](int) { d.study->depth = find_passing_depth(m, rig->rig, d.crossing, rig->limits, *d.study); });
    work.add_first([&, rig](int) { d.study->angle = find_passing_angle(m, rig->rig, d.crossing, rig->limits, *d.study); });
}

}  // namespace

void add_ditch(const Setup& s, const DrawnModel& m, DitchAnalysis& d, SharedWork& work) {
    work.add([&](int) { begin_ditch(s, m, d, work); }, true);
}

}  // namespace hitchwright
