// See hole_table.h.
#include "gui/hole_table.h"

#include <utility>

#include "gui/app_state.h"

namespace hitchwright {
namespace {

template <class Hole>
std::vector<std::string> list_names(const std::vector<Hole>& holes) {
    std::vector<std::string> names;
    for (const Hole& hole : holes) names.push_back(hole.name);
    return names;
}

HoleNames list_hole_names(const Setup& setup) {
    return {list_names(setup.tractor.upper_link_pins), list_names(setup.implement.mast_pins), list_names(setup.tractor.lift_rod_holes)};
}

bool belongs_to_results(const AppState& app) { return app.hole_table.revision == app.results.revision; }

void finish(AppState& app) {
    HoleTable& table = app.hole_table;
    table.study = table.search->take();
    table.search.reset();
    table.curves = make_hole_curves(app.now.setup, table.study);
}

void begin(AppState& app) {
    HoleTable& table = app.hole_table;
    table.revision = app.results.revision;
    table.search.reset();
    // Rows of other holes are of no use in the meantime.
    HoleNames names = list_hole_names(app.now.setup);
    if (names != table.names) {
        table.study = {};
        table.curves = {};
        table.names = std::move(names);
    }
    // A drawn implement has positions of the drawbar in their place.
    if (!app.problems.empty() || app.now.setup.implement.attachment == Attachment::drawn) return;
    table.search.emplace(app.now.setup, app.mark, HoleWish::general);
    if (table.search->finished()) finish(app);
}

/// False: there was none left, and the table is whole.
bool judge_one(AppState& app) {
    if (app.hole_table.search->step()) return true;
    finish(app);
    return false;
}

}  // namespace

void want_hole_table(AppState& app) {
    app.hole_table.wanted = true;
    if (!belongs_to_results(app)) begin(app);
}

bool is_compared(const AppState& app) { return belongs_to_results(app) && !app.hole_table.search; }

bool is_comparing(const AppState& app) { return app.hole_table.wanted && app.hole_table.search && belongs_to_results(app); }

bool step_hole_table(AppState& app) {
    if (!is_comparing(app)) return false;
    judge_one(app);
    return true;
}

const HoleStudy& finish_hole_table(AppState& app) {
    if (!belongs_to_results(app)) begin(app);
    while (app.hole_table.search) judge_one(app);
    return app.hole_table.study;
}

}  // namespace hitchwright
