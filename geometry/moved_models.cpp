// See moved_models.h.
#include "geometry/moved_models.h"

#include <algorithm>
#include <iterator>
#include <string>

#include "geometry/mounted_shaft.h"

namespace hitchwright {
namespace {

/// Beginnings of the keys of no number of the model, in order, none the beginning of another.
constexpr std::string_view beside[] = {
    "choices.ballast.", "driveline.guard.radius", "implement.ground_contact", "implement.hitch.", "implement.mass.",
    "implement.pic.shaft_", "implement.point", "tractor.cab_line", "tractor.drawbar", "tractor.hitch.", "tractor.lift_point",
    "tractor.lift_rating", "tractor.lift_rod.advance_", "tractor.lift_rod.length_", "tractor.lower_link.outer_half_width",
    "tractor.mass.", "tractor.pto.shaft_", "tractor.steering.", "tractor.tyre.front_", "tractor.tyre.rear_track",
    "tractor.tyre.rear_width", "tractor.upper_link.advance_", "tractor.upper_link.length_",
};
static_assert(std::is_sorted(std::begin(beside), std::end(beside)));

bool is_beside(std::string_view key) {
    const auto* after = std::upper_bound(std::begin(beside), std::end(beside), key);
    return after != std::begin(beside) && key.starts_with(*std::prev(after));
}

/// Key of the item of a list: list + "[" + name or number + "]".
bool is_item(std::string_view key, std::string_view list, std::string_view name) {
    return key.size() > list.size() + name.size() + 2 && key.starts_with(list) && key.substr(list.size() + 1, name.size()) == name &&
           key[list.size() + 1 + name.size()] == ']';
}

/// False when the key is of another item of the list than the one in use.
template <class Items>
bool is_in_use(std::string_view key, std::string_view list, const Items& items, std::size_t used) {
    if (!key.starts_with(list) || key.size() <= list.size() || key[list.size()] != '[' || used >= items.size()) return true;
    return is_item(key, list, items[used].name.empty() ? std::to_string(used + 1) : items[used].name);
}

/// True when readings of the shaft move nothing else: the tractor stands as it was read, and nothing is in the way that would have to
/// be named again.
bool has_shaft_of_its_own(const MountedModelResult& r) {
    return r.linkage_ok && r.linkage_obstacles.empty() && r.shaft_obstacles.empty() && r.model.tyres.status == TyreChange::Status::own;
}

}  // namespace

MovedModels::Model MovedModels::look(RangeSearch search, std::size_t move) const {
    const std::vector<Model>& models = kept_->models[static_cast<std::size_t>(search)];
    const std::lock_guard lock(kept_->mutex);
    return move < models.size() ? models[move] : nullptr;
}

// Two threads may have made the same: the first is kept.
MovedModels::Model MovedModels::keep(RangeSearch search, std::size_t move, Model model) {
    std::vector<Model>& models = kept_->models[static_cast<std::size_t>(search)];
    const std::lock_guard lock(kept_->mutex);
    if (models.size() <= move) models.resize(move + 1);
    if (!models[move]) models[move] = std::move(model);
    return models[move];
}

MovedModels::Model MovedModels::find_kept(const MovedSetup& moved, const PinDecision& decided, RangeSearch search) {
    if (Model known = look(search, moved.move)) return known;
    if (Model as_read = look(search, 0); as_read && moves_nothing(moved, *as_read)) return as_read;
    if (search == RangeSearch::none) return keep(search, moved.move, std::make_shared<const MountedModelResult>(make(moved, decided)));
    // But for sway and tilt the models are the same.
    const Model planar = find_kept(moved, decided, RangeSearch::none);
    const MountedModel& m = planar->model;
    MountedSpace space = m.space;
    if (planar->linkage_ok) set_side_ranges(space, m, search);
    const bool same = space.side.planar() && space.side.proven && space.side.limited && space.side_closes == m.space.side_closes;
    if (same) return keep(search, moved.move, planar);
    auto model = std::make_shared<MountedModelResult>(*planar);
    model->model.space = std::move(space);
    return keep(search, moved.move, std::move(model));
}

const MountedModelResult& MovedModels::find(const MovedSetup& moved, const PinDecision& decided, RangeSearch search) {
    if (moved.move == MovedSetup::not_kept) return last_ = make_mounted_model(moved.setup, &decided, search);
    return *find_kept(moved, decided, search);  // kept as long as this
}

bool MovedModels::moves_nothing(const MovedSetup& moved, const MountedModelResult& as_read) {
    const std::optional<std::size_t> reading = find_moved_reading(moved, keys_.size());
    return reading && as_read.linkage_ok && !may_move_model(moved.setup, as_read.model, keys_[*reading]);
}

MountedModelResult MovedModels::make(const MovedSetup& moved, const PinDecision& decided) {
    const Model as_read = look(RangeSearch::none, 0);
    const std::optional<std::size_t> reading = find_moved_reading(moved, keys_.size());
    if (reading && moves_shaft_alone(keys_[*reading]) && as_read && has_shaft_of_its_own(*as_read)) {
        MountedModelResult r = *as_read;
        if (moved.setup.implement.pic.fitted) replace_mounted_shaft(moved.setup, r);
        return r;
    }
    return make_mounted_model(moved.setup, &decided, RangeSearch::none);
}

void make_moved_models(const ErrorModel& errors, const PinDecision& decided, ReadingHalf half) {
    const std::size_t readings = errors.readings().size(), middle = readings / 2;
    const auto make = [&](const Setup& moved, std::size_t move) { errors.moved_models().find({moved, MovedSetup::all_numbers, move}, decided, RangeSearch::at_a_few_heights); };
    make(errors.setup(), 0);
    for (std::size_t i = half == ReadingHalf::first ? 0 : middle; i < (half == ReadingHalf::first ? middle : readings); ++i) {
        const ReadingError& r = errors.readings()[i];
        make(errors.move(i, r.low), 1 + 2 * i);
        make(errors.move(i, r.high), 2 + 2 * i);
        errors.reset(i);
    }
}

std::optional<std::size_t> find_moved_reading(const MovedSetup& moved, std::size_t readings) {
    if (moved.move == 0 || moved.move == MovedSetup::not_kept || moved.move > 2 * readings) return std::nullopt;
    return (moved.move - 1) / 2;
}

bool moves_shaft_alone(std::string_view key) {
    return key.starts_with("tractor.pto.") || key.starts_with("implement.pic.") || key.starts_with("driveline.");
}

bool may_move_model(const Setup& s, const MountedModel& m, std::string_view key) {
    // Other tyres turn the tractor about its wheels.
    if (!s.choices.tyre_set.empty() && (key.starts_with("tractor.tyre") || key == "tractor.mass.wheelbase")) return true;
    if (is_beside(key)) return false;
    return is_in_use(key, "tractor.upper_link_pin", s.tractor.upper_link_pins, m.tractor_pin) &&
           is_in_use(key, "implement.mast_pin", s.implement.mast_pins, m.mast_pin) &&
           (!key.starts_with("tractor.tyre_set[") || is_item(key, "tractor.tyre_set", s.choices.tyre_set));
}

}  // namespace hitchwright
