#include "gui/travel_tracks.h"

#include <algorithm>

#include "geometry/telescoping.h"

namespace hitchwright {
namespace {

/// The worst band that a height lies in, else `good`.
std::string find_state(const std::vector<TrackBand>& bands, double height, const char* good) {
    std::string words = good;
    for (const TrackBand& band : bands) {
        const auto holds = [&](const HeightRange& r) { return r.contains(height); };
        if (std::any_of(band.heights->begin(), band.heights->end(), holds)) words = band.words;
    }
    return words;
}

std::string room_text(double metres, UnitSystem units) {
    return metres < 0.0 ? format_length(-metres, units, Rounding::up) + " short"
                        : format_length(metres, units, Rounding::down);
}

std::string error_text(double metres, UnitSystem units) {
    return metres > 0.0 ? " +- " + format_length(metres, units, Rounding::up) : std::string();
}

void add_tube_tracks(std::vector<TravelTrack>& tracks, const TubeBands& b, const PoseReport& pose, UnitSystem units) {
    const double height = pose.pose.ball_height;
    const auto add = [&](const char* label, std::vector<TrackBand> bands, double room, double error) {
        const std::string state = find_state(bands, height, "enough");
        tracks.push_back({label, std::move(bands), room_text(room, units), error_text(error, units), state});
    };
    add("gap",
        {{&b.gap_doubtful, Role::overlap, "in doubt"}, {&b.gap_short, Role::separation, "too little"}, {&b.bottoms_out, Role::clash, "bottoms out"}},
        pose.gap, b.gap_error);
    add("overlap",
        {{&b.overlap_doubtful, Role::overlap, "in doubt"}, {&b.overlap_short, Role::separation, "too little"}, {&b.apart, Role::clash, "apart"}},
        pose.overlap, b.overlap_error);
}

TravelTrack make_guard_track(const GuardBands& b, const TelescopingHalves& guard, const PoseReport& pose, UnitSystem units) {
    TravelTrack track{"guard",
                      {{&b.overlap_short, Role::separation, "too little"}, {&b.bare, Role::clash, "bare shaft"}, {&b.meet, Role::clash, "guards meet"}},
                      room_text(find_overlap(guard, pose.shaft_length), units), {}, {}};
    track.state = find_state(track.bands, pose.pose.ball_height, "covers");
    track.about = "The number is how far the guard tubes overlap.";
    return track;
}

TravelTrack make_joint_track(const char* label, const JointBands& b, double angle, double height) {
    TravelTrack track{label,
                      {{&b.no_work, Role::overlap, "no work"}, {&b.pto_off, Role::separation, "PTO off"}, {&b.past_stop, Role::clash, "past its stop"}},
                      format_angle(angle, Rounding::up), {}, {}};
    track.state = find_state(track.bands, height, "free");
    return track;
}

TravelTrack make_room_track(const AppState& app, const ClearanceBands& b, const PoseReport& pose) {
    TravelTrack track{"room",
                      {{&b.little, Role::overlap, "little"}, {&b.may_touch, Role::separation, "may touch"}, {&b.touch, Role::clash, "touch"}},
                      "not known", {}, {}};
    track.state = find_state(track.bands, pose.pose.ball_height, "enough");
    const auto nearest = find_nearest_clearance(app.now.setup, app.results.analysis.linkage->model, pose.pose.ball_height, pose.upper_length);
    if (!nearest) return track;
    track.number = room_text(nearest->least.value, app.view.units);
    track.about = "Nearest here: " + escape_text(nearest->part, 60) + " to " + clearance_against(nearest->kind) + ".";
    return track;
}

}  // namespace

std::string say_track(const TravelTrack& track, TrackWords words) {
    if (words == TrackWords::number) return track.number;
    return track.number + (words == TrackWords::all ? track.error : std::string()) + ", " + track.state;
}

const char* longest_track_words(TrackWords words) {
    switch (words) {
        case TrackWords::number: return "12 15/16 in, +10.5 deg";  // the height with its pitch
        case TrackWords::number_and_state: return "12 15/16 in short, bottoms out";
        case TrackWords::all: break;
    }
    return "12 15/16 in short +- 1 3/16 in, bottoms out";
}

std::size_t count_tracks(const AppState& app) {
    if (!app.results.bands) return 0;
    const TravelBands& b = *app.results.bands;
    return (b.tubes ? 2U : 0U) + (b.guard ? 1U : 0U) + (b.tractor_joint ? 1U : 0U) + (b.implement_joint ? 1U : 0U) + (b.clearances ? 1U : 0U);
}

std::vector<TravelTrack> list_tracks(const AppState& app, const PoseReport& pose) {
    std::vector<TravelTrack> tracks;
    const TravelBands& b = *app.results.bands;
    const double height = pose.pose.ball_height;
    if (b.tubes) add_tube_tracks(tracks, *b.tubes, pose, app.view.units);
    if (b.guard) tracks.push_back(make_guard_track(*b.guard, app.results.analysis.linkage->model.guard, pose, app.view.units));
    if (b.tractor_joint) tracks.push_back(make_joint_track("front joint", *b.tractor_joint, pose.tractor_angle, height));
    if (b.implement_joint) tracks.push_back(make_joint_track("rear joint", *b.implement_joint, pose.implement_angle, height));
    if (b.clearances) tracks.push_back(make_room_track(app, *b.clearances, pose));
    return tracks;
}

}  // namespace hitchwright
