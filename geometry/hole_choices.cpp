#include "geometry/hole_choices.h"

#include <algorithm>

namespace hitchwright {
namespace {

template <class Pin>
bool is_chosen(const std::vector<Pin>& pins, std::size_t index, const std::string& name) {
    return name.empty() ? pins.size() == 1 : pins[index].name == name;
}

HoleChoice judge(const Setup& setup, std::size_t tractor_pin, std::size_t mast_pin, const Mark& mark) {
    HoleChoice c;
    c.tractor_pin = tractor_pin;
    c.mast_pin = mast_pin;
    c.setup = with_holes(setup, tractor_pin, mast_pin);
    c.chosen = is_chosen(setup.tractor.upper_link_pins, tractor_pin, setup.choices.upper_link_pin) &&
               is_chosen(setup.implement.mast_pins, mast_pin, setup.choices.mast_pin);
    const Analysis a = analyze_alone(c.setup, mark);
    c.verdict = a.verdict;
    if (!a.linkage) return c;
    c.upper_link_length = a.linkage->model.linkage.upper_length;
    c.within_reach = !a.linkage->reach || a.linkage->reach->within;
    if (a.linkage->high.pose.closes) c.pitch_at_top = a.linkage->high.pose.pitch;
    if (a.shaft) {
        c.worst_joint_angle = std::max(a.shaft->travel.tractor_angle.bound, a.shaft->travel.implement_angle.bound);
    }
    return c;
}

}  // namespace

Setup with_holes(const Setup& setup, std::size_t tractor_pin, std::size_t mast_pin) {
    Setup changed = setup;
    const std::string& tractor_name = setup.tractor.upper_link_pins[tractor_pin].name;
    const std::string& mast_name = setup.implement.mast_pins[mast_pin].name;
    const bool same = is_chosen(setup.tractor.upper_link_pins, tractor_pin, setup.choices.upper_link_pin) &&
                      is_chosen(setup.implement.mast_pins, mast_pin, setup.choices.mast_pin);
    changed.choices.upper_link_pin = tractor_name;
    changed.choices.mast_pin = mast_name;
    const bool has_height = setup.choices.working_ball_height.known || setup.implement.work.ball_height.known;
    if (!same && has_height) changed.choices.upper_link_length = {};
    return changed;
}

std::vector<HoleChoice> find_hole_choices(const Setup& setup, const Mark& mark) {
    std::vector<HoleChoice> choices;
    if (setup.implement.attachment == Attachment::drawn) return choices;
    for (std::size_t t = 0; t < setup.tractor.upper_link_pins.size(); ++t) {
        for (std::size_t m = 0; m < setup.implement.mast_pins.size(); ++m) choices.push_back(judge(setup, t, m, mark));
    }
    return choices;
}

}  // namespace hitchwright
