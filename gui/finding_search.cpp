#include "gui/finding_search.h"

#include <algorithm>
#include <chrono>

#include <fmt/format.h>

#include "report/explain_text.h"

namespace hitchwright {
namespace {

constexpr auto frame_time = std::chrono::milliseconds(12);

void drop_stale(FindingState& state, int revision) {
    if (state.asked.empty() || state.revision == revision) return;
    state.asked.clear();
    state.search.reset();
    state.rooms.clear();
}

}  // namespace

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

void begin_search_frame(AppState& app) {
    FindingState& state = app.view.findings;
    if (std::exchange(state.animates, false)) app.view.animates = false;
    drop_stale(state, app.results.revision);
}

void end_search_frame(AppState& app) {
    FindingState& state = app.view.findings;
    drop_stale(state, app.results.revision);
    if (!state.search) return;
    const auto start = std::chrono::steady_clock::now();
    bool more = true;
    do more = state.search->step();
    while (more && std::chrono::steady_clock::now() - start < frame_time);
    if (!more) {
        state.rooms = state.search->rooms();
        std::stable_sort(state.rooms.begin(), state.rooms.end(), is_tighter);
        state.search.reset();
    }
    // One frame more for the words that were found.
    state.animates = app.view.animates = true;
}

}  // namespace hitchwright
