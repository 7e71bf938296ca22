#include "gui/history.h"

namespace hitchwright {
namespace {

template <class T>
std::shared_ptr<const T> share(T&& value, const std::shared_ptr<const T>* neighbour) {
    if (neighbour != nullptr && **neighbour == value) return *neighbour;
    return std::make_shared<const T>(std::forward<T>(value));
}

}  // namespace

KeptStep keep_step(Snapshot snapshot, const KeptStep* neighbour) {
    // Names every member of a set-up: a new one does not compile here until it is kept and restored as well.
    auto& [key, name, note, job, tractor, implement, has_driveline, driveline, rules, choices, direct_readings, pose_readings,
           turn_readings, specification, parts] = snapshot.setup;
    const auto part = [&](auto KeptStep::*member) { return neighbour == nullptr ? nullptr : &(neighbour->*member); };
    KeptStep kept;
    kept.edits = std::move(snapshot.edits);
    kept.head = share(SetupHead{std::move(key), std::move(name), std::move(note), std::move(job), has_driveline},
                      part(&KeptStep::head));
    kept.tractor = share(std::move(tractor), part(&KeptStep::tractor));
    kept.implement = share(std::move(implement), part(&KeptStep::implement));
    kept.driveline = share(std::move(driveline), part(&KeptStep::driveline));
    kept.rules = share(std::move(rules), part(&KeptStep::rules));
    kept.choices = share(std::move(choices), part(&KeptStep::choices));
    kept.direct_readings = share(std::move(direct_readings), part(&KeptStep::direct_readings));
    kept.pose_readings = share(std::move(pose_readings), part(&KeptStep::pose_readings));
    kept.turn_readings = share(std::move(turn_readings), part(&KeptStep::turn_readings));
    kept.specification = share(std::move(specification), part(&KeptStep::specification));
    kept.parts = share(std::move(parts), part(&KeptStep::parts));
    kept.notes = share(std::move(snapshot.notes), part(&KeptStep::notes));
    return kept;
}

Snapshot restore_step(const KeptStep& k) {
    Setup setup;
    setup.key = k.head->key;
    setup.name = k.head->name;
    setup.note = k.head->note;
    setup.job = k.head->job;
    setup.tractor = *k.tractor;
    setup.implement = *k.implement;
    setup.has_driveline = k.head->has_driveline;
    setup.driveline = *k.driveline;
    setup.rules = *k.rules;
    setup.choices = *k.choices;
    setup.direct_readings = *k.direct_readings;
    setup.pose_readings = *k.pose_readings;
    setup.turn_readings = *k.turn_readings;
    setup.specification = *k.specification;
    setup.parts = *k.parts;
    return {k.edits, std::move(setup), *k.notes};
}

void History::remember(Snapshot before) {
    past.push_back(keep_step(std::move(before), past.empty() ? nullptr : &past.back()));
    future.clear();
}

bool History::step(std::vector<KeptStep>& from, std::vector<KeptStep>& to, Snapshot& now) {
    if (from.empty()) return false;
    to.push_back(keep_step(std::move(now), &from.back()));
    now = restore_step(from.back());
    from.pop_back();
    return true;
}

}  // namespace hitchwright
