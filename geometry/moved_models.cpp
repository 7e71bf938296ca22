// See moved_models.h.
#include "geometry/moved_models.h"

#include <algorithm>

namespace hitchwright {
namespace {

/// Keys of no number of the model.
constexpr std::string_view beside[] = {
    "tractor.hitch.",          "tractor.upper_link.length_",    "tractor.upper_link.advance_",
    "tractor.lift_rod.length_", "tractor.lift_rod.advance_",    "tractor.lower_link.outer_half_width",
    "tractor.mass.",           "tractor.drawbar",               "tractor.cab_line",
    "tractor.steering.",       "tractor.lift_point",            "tractor.lift_rating",
    "tractor.pto.shaft_",      "tractor.tyre.rear_width",       "tractor.tyre.rear_track",
    "tractor.tyre.front_",     "implement.hitch.",              "implement.pic.shaft_",
    "implement.ground_contact", "implement.point",              "implement.mass.",
    "driveline.guard.radius",  "choices.ballast.",
};

/// Key of the item of a list: list + "[" + name or number + "]".
bool is_item(std::string_view key, std::string_view list, std::string_view name) {
    return key.size() > list.size() + name.size() + 2 && key.starts_with(list) && key.substr(list.size() + 1, name.size()) == name &&
           key[list.size() + 1 + name.size()] == ']';
}

/// False when the key is of another item of the list than the one in use.
template <class Items>
bool is_in_use(std::string_view key, std::string_view list, const Items& items, std::size_t used) {
    if (!key.starts_with(list) || key.size() <= list.size() || key[list.size()] != '[' || used >= items.size()) return true;
    return is_item(key, list, items[used].name);
}

}  // namespace

const MountedModelResult& MovedModels::find(const MovedSetup& moved, const PinDecision& decided, RangeSearch search) {
    if (moved.move == MovedSetup::not_kept) return last_ = make_mounted_model(moved.setup, &decided, search);
    Kept& kept = kept_[static_cast<std::size_t>(search)];
    if (kept.size() <= moved.move) kept.resize(moved.move + 1);
    std::unique_ptr<MountedModelResult>& model = kept[moved.move];
    if (model) return *model;
    // But for sway and tilt the models are the same.
    if (search == RangeSearch::none) {
        model = std::make_unique<MountedModelResult>(make_mounted_model(moved.setup, &decided, search));
    } else {
        model = std::make_unique<MountedModelResult>(find(moved, decided, RangeSearch::none));
        MountedModel& m = model->model;
        if (model->linkage_ok) set_side_ranges(m.space, {m.travel, effective_upper_lengths(m)}, search);
    }
    return *model;
}

bool may_move_model(const Setup& s, const MountedModel& m, std::string_view key) {
    // Other tyres turn the tractor about its wheels.
    if (!s.choices.tyre_set.empty() && (key.starts_with("tractor.tyre") || key == "tractor.mass.wheelbase")) return true;
    if (std::any_of(std::begin(beside), std::end(beside), [&](std::string_view start) { return key.starts_with(start); })) return false;
    return is_in_use(key, "tractor.upper_link_pin", s.tractor.upper_link_pins, m.tractor_pin) &&
           is_in_use(key, "implement.mast_pin", s.implement.mast_pins, m.mast_pin) &&
           (!key.starts_with("tractor.tyre_set[") || is_item(key, "tractor.tyre_set", s.choices.tyre_set));
}

}  // namespace hitchwright
