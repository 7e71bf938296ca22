// See drawn_ghost.h.
#include "gui/drawn_ghost.h"

#include <algorithm>
#include <cmath>

#include "gui/ditch_place.h"

namespace hitchwright {
namespace {

double clamp_to(const AngleRange& range, double angle) { return std::clamp(angle, range.low, range.high); }

bool same_ground(const Crossing& a, const Crossing& b) { return a.angle == b.angle && a.profile == b.profile; }

/// Where another study stands nearest to a place; null: nowhere on that way.
const DitchStation* find_station_near(const DitchStudy& study, Heading heading, double place) {
    const DitchStation* nearest = nullptr;
    const auto off = [&](const DitchStation& s) { return std::fabs(s.pose.place - place); };
    for (const DitchWay& way : study.ways) {
        // A ground that is the same from both sides is marched once.
        if (way.heading != heading && study.ways.size() > 1) continue;
        for (const DitchStation& s : way.stations) {
            if (s.pose.stands && off(s) < station_step && (!nearest || off(s) < off(*nearest))) nearest = &s;
        }
    }
    return nearest;
}

}  // namespace

Attitude find_shown_attitude(const AppState& app) {
    if (app.view.attitude) return *app.view.attitude;
    return {app.results.analysis.drawn->model.level_pitch, 0.0, 0.0};
}

std::optional<DrawnGhost> find_drawn_ghost(const AppState& app, const Attitude& shown) {
    Setup hovered;
    const std::optional<Ghost> ghost = find_ghost(app, hovered);
    if (!ghost || ghost->setup == &hovered || !ghost->analysis->drawn) return std::nullopt;
    const DrawnModel& m = ghost->analysis->drawn->model;
    const double dip = shown.pitch - app.results.analysis.drawn->model.level_pitch;
    const Attitude attitude{clamp_to(m.box.pitch, m.level_pitch + dip), clamp_to(m.box.roll, shown.roll), clamp_to(m.box.yaw, shown.yaw)};
    return DrawnGhost{*ghost->setup, *ghost->analysis->drawn, attitude, ghost->words};
}

std::optional<DitchGhost> find_ditch_ghost(const AppState& app, const DitchStation& shown) {
    Setup hovered;
    const std::optional<Ghost> ghost = find_ghost(app, hovered);
    if (!ghost || ghost->setup == &hovered || !ghost->analysis->drawn) return std::nullopt;
    const DrawnAnalysis& other = *ghost->analysis->drawn;
    const auto& own = app.results.analysis.drawn->ditch;
    if (!other.ditch || !other.ditch->study || !own || !same_ground(other.ditch->crossing, own->crossing)) return std::nullopt;
    const DitchStation* station = find_station_near(*other.ditch->study, find_shown_heading(app), shown.pose.place);
    if (!station) return std::nullopt;
    return DitchGhost{*ghost->setup, other, *station, ghost->words};
}

std::string say_why_no_ghost(const AppState& app) {
    const std::string key = find_ghost_key(app);
    if (!key.starts_with("A ")) return {};
    const Analysis& a = app.view.compare.a->analysis;
    const bool drawn = app.now.setup.implement.attachment == Attachment::drawn;
    if ((app.view.compare.a->setup.implement.attachment == Attachment::drawn) != drawn)
        return "A is not drawn: one of the two is mounted on the linkage and the other drawn on the drawbar.";
    if (!drawn) {
        if (app.view.act.switches.mounted == MountedPicture::plan) return "From above shows B alone; A is drawn from the side and from behind.";
        const bool closes = a.linkage && a.linkage->low.pose.closes && a.linkage->high.pose.closes;
        if (!closes) return "A is not drawn: its linkage does not close, or a reading is missing.";
        return app.results.analysis.linkage ? std::string() : "A is not drawn: B has no picture, since a reading is missing or its linkage does not close.";
    }
    if (!app.results.analysis.drawn) return "A is not drawn: B has no picture, since a reading of its hitch is missing.";
    if (!a.drawn) return "A is not drawn: a reading of its hitch is missing.";
    if (app.view.drawn_picture == DrawnPicture::chart) return "Turn and dip shows B alone; A is drawn from above and from the side.";
    const DitchStation* station = app.view.drawn_picture == DrawnPicture::ditch ? find_shown_station(app) : nullptr;
    if (station && !find_ditch_ghost(app, *station)) return "A is not drawn in the ditch: it does not cross this ground here.";
    return {};
}

}  // namespace hitchwright
