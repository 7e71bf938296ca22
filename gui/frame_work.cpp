// See frame_work.h.
#include "gui/frame_work.h"

#include "gui/ditch_march.h"
#include "gui/finding_search.h"
#include "gui/switches.h"
#include "gui/touch.h"

namespace hitchwright {
namespace {

using Clock = std::chrono::steady_clock;

/// Of the 16.7 ms of a frame; the rest is for handing the picture on.
constexpr auto frame_share = std::chrono::milliseconds(14);

/// What was asked for last in a frame's order: the table is short, a search is long.
bool step_work(AppState& app) { return step_hole_table(app) || step_search(app) || step_switches(app); }

}  // namespace

void begin_frame_work(AppState& app) {
    app.view.work = {Clock::now(), app.results.revision, false};
    app.hole_table.wanted = false;
    app.view.compare.switches.wanted = false;
    drop_stale_search(app);
}

void end_frame_work(AppState& app) {
    FrameWork& work = app.view.work;
    const auto end = work.begun + frame_share;
    const bool edited = work.revision != app.results.revision;
    bool worked = false;
    // A step is taken to last as long as the one before; the first one of a frame without an edit is done in any case.
    Clock::duration step{};
    for (auto now = Clock::now(); (!edited && !worked) || now + step < end;) {
        if (!step_work(app)) break;
        worked = true;
        const auto after = Clock::now();
        step = after - now;
        now = after;
    }
    work.more = worked || is_comparing(app) || app.view.findings.search.has_value() || has_switches_left(app);
}

bool wants_frames(const AppState& app) { return (app.view.act.march.plays && can_march(app)) || app.view.work.more || wants_frames(app.view.touch); }

}  // namespace hitchwright
