// See switches.h.
#include "gui/switches.h"

#include "gui/compare.h"
#include "presets/variant_sets.h"

namespace hitchwright {

const std::vector<Variant>& list_switches(AppState& app) {
    SwitchState& s = app.view.compare.switches;
    s.wanted = true;
    if (s.revision == app.results.revision) return s.variants;
    s.revision = app.results.revision;
    s.variants = list_variants(app.now.setup);
    s.answers.clear();
    return s.variants;
}

const VariantAnswer* find_switch_answer(const AppState& app, std::size_t place) {
    const SwitchState& s = app.view.compare.switches;
    return s.revision == app.results.revision && place < s.answers.size() ? &s.answers[place] : nullptr;
}

std::vector<Problem> throw_switch(AppState& app, const Variant& variant) {
    const CompareState before = app.view.compare;
    remember_as_a(app);
    Edits edits = app.now.edits;
    for (const auto& [key, value] : list_variant_sets(app.now.setup, variant)) edits = with_value(std::move(edits), key, value);
    std::vector<Problem> problems = change_edits(app, std::move(edits));
    if (!problems.empty()) app.view.compare = before;
    return problems;
}

bool has_switches_left(const AppState& app) {
    const SwitchState& s = app.view.compare.switches;
    return s.wanted && s.revision == app.results.revision && s.answers.size() < s.variants.size();
}

bool step_switches(AppState& app) {
    if (!has_switches_left(app)) return false;
    SwitchState& s = app.view.compare.switches;
    s.answers.push_back(std::move(study_variants(app.now.setup, {s.variants[s.answers.size()]}, app.mark).front()));
    return true;
}

}  // namespace hitchwright
