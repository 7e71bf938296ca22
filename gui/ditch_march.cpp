// See ditch_march.h.
#include "gui/ditch_march.h"

#include <algorithm>
#include <cmath>

#include "gui/ditch_place.h"

namespace hitchwright {
namespace {

const DitchWay& find_way(const AppState& app) { return app.results.analysis.drawn->ditch->study->ways.front(); }

/// Driving forward the place falls.
double start_of(const DitchWay& way) { return std::max(way.stations.front().pose.place, way.stations.back().pose.place); }
double end_of(const DitchWay& way) { return std::min(way.stations.front().pose.place, way.stations.back().pose.place); }

void set_playing(AppState& app, bool plays) { app.view.act.march.plays = plays; }

}  // namespace

bool can_march(const AppState& app) {
    return app.view.drawn_picture == DrawnPicture::ditch && find_shown_station(app) != nullptr && !find_way(app).stations.empty();
}

void toggle_march(AppState& app) {
    if (!can_march(app)) return;
    if (app.view.act.march.plays) return set_playing(app, false);
    const DitchWay& way = find_way(app);
    const double place = app.view.ditch_place.value_or(start_of(way));
    app.view.ditch_place = place <= end_of(way) + 0.5 * station_step ? start_of(way) : std::min(place, start_of(way));
    set_playing(app, true);
}

void advance_march(AppState& app, double seconds) {
    if (!app.view.act.march.plays) return;
    if (!can_march(app)) return set_playing(app, false);
    const DitchWay& way = find_way(app);
    const double speed = march_speeds[static_cast<std::size_t>(std::clamp(app.view.act.march.speed, 0, static_cast<int>(march_speeds.size()) - 1))];
    const double next = app.view.ditch_place.value_or(start_of(way)) - speed * std::max(seconds, 0.0);
    app.view.ditch_place = std::max(next, end_of(way));
    if (next <= end_of(way)) set_playing(app, false);
}

void step_march(AppState& app, int stations) {
    if (!can_march(app)) return;
    set_playing(app, false);
    const DitchWay& way = find_way(app);
    // From a place that is a station's, a whole number of stations on.
    const double place = find_shown_place(app) - stations * station_step;
    app.view.ditch_place = std::clamp(place, end_of(way), start_of(way));
}

MarchShares find_march_shares(const AppState& app) {
    const DitchWay& way = find_way(app);
    const double whole = start_of(way) - end_of(way);
    const auto share = [&](double place) { return whole > 0.0 ? std::clamp((start_of(way) - place) / whole, 0.0, 1.0) : 0.0; };
    MarchShares shares{share(find_shown_place(app)), std::nullopt};
    if (const DitchWorst* worst = find_worst_on_way(app)) {
        if (worst->heading == way.heading) shares.worst = share(worst->station.pose.place);
    }
    return shares;
}

}  // namespace hitchwright
