#include "gui/finding_search.h"

#include <algorithm>

#include <fmt/format.h>

#include "report/explain_text.h"

namespace hitchwright {

std::string finding_id(const Finding& finding) { return fmt::format("{} {}", finding_word(finding.kind), finding.subject); }

void ask_how_far(AppState& app, const Finding& finding) {
    FindingState& state = app.view.findings;
    state.asked = finding_id(finding);
    state.revision = app.results.revision;
    state.rooms.clear();
    std::vector<std::string> keys;
    for (const ExplainedReading& r : explain_finding(finding, app.now.setup, app.view.units).readings) keys.push_back(r.key);
    if (keys.empty()) keys = list_room_keys(app.now.setup);
    state.search.emplace(app.now.setup, app.mark, std::move(keys), name_finding(finding));
}

bool is_searching(const AppState& app, const Finding& finding) {
    const FindingState& state = app.view.findings;
    return state.search && state.revision == app.results.revision && state.asked == finding_id(finding);
}

const std::vector<ReadingRoom>* find_rooms(const AppState& app, const Finding& finding) {
    const FindingState& state = app.view.findings;
    const bool holds = !state.search && state.revision == app.results.revision && state.asked == finding_id(finding);
    return holds ? &state.rooms : nullptr;
}

std::string say_progress(const AppState& app) {
    const auto& search = app.view.findings.search;
    if (!search || search->finished()) return {};
    return fmt::format("Looking: {} of {} readings, {}", search->done() + 1, search->total(), search->key());
}

void drop_stale_search(AppState& app) {
    FindingState& state = app.view.findings;
    if (state.asked.empty() || state.revision == app.results.revision) return;
    state.asked.clear();
    state.search.reset();
    state.rooms.clear();
}

bool step_search(AppState& app) {
    drop_stale_search(app);
    FindingState& state = app.view.findings;
    if (!state.search) return false;
    if (state.search->step()) return true;
    state.rooms = state.search->rooms();
    std::stable_sort(state.rooms.begin(), state.rooms.end(), is_tighter);
    state.search.reset();
    return true;
}

}  // namespace hitchwright
