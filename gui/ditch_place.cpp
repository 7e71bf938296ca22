// See ditch_place.h.
#include "gui/ditch_place.h"

#include <algorithm>
#include <cmath>

namespace hitchwright {
namespace {

const DitchStudy* find_study(const AppState& app) {
    const auto& drawn = app.results.analysis.drawn;
    return drawn && drawn->ditch && drawn->ditch->study ? &*drawn->ditch->study : nullptr;
}

const DitchWorst* find_worst(const AppState& app, const DitchStudy& study) {
    const DrawnModel& m = app.results.analysis.drawn->model;
    return find_telling_state(study, m, make_ditch_limits(app.now.setup, m, JointHold::stop));
}

}  // namespace

const DitchWorst* find_worst_on_way(const AppState& app) {
    const DitchStudy* study = find_study(app);
    return study ? find_worst(app, *study) : nullptr;
}

const DitchStation* find_shown_station(const AppState& app) {
    const DitchStudy* study = find_study(app);
    if (!study || study->ways.empty()) return nullptr;
    const DitchWorst* worst = find_worst(app, *study);
    if (!worst || !app.view.ditch_place) return worst ? &worst->station : nullptr;
    const DitchStation* nearest = nullptr;
    const auto off = [&](const DitchStation& s) { return std::fabs(s.pose.place - *app.view.ditch_place); };
    for (const DitchStation& s : study->ways.front().stations) {
        if (s.pose.stands && (!nearest || off(s) < off(*nearest))) nearest = &s;
    }
    return nearest;
}

Heading find_shown_heading(const AppState& app) {
    const DitchStudy* study = find_study(app);
    const DitchWorst* worst = study && !app.view.ditch_place ? find_worst(app, *study) : nullptr;
    return worst ? worst->heading : Heading::as_given;
}

double find_shown_place(const AppState& app) {
    const DitchStation* station = find_shown_station(app);
    return station ? station->pose.place : 0.0;
}

}  // namespace hitchwright
