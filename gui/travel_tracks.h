// The tracks of the lift slider as values: for each thing that can be wrong its bands over the travel, and in words how it
// stands at the height shown. Numbers come from geometry/travel_bands and geometry/pose_report.
#pragma once

#include <string>
#include <vector>

#include "geometry/pose_report.h"
#include "gui/app_state.h"
#include "report/drawing.h"

namespace hitchwright {

/// A kind of trouble on a track, with how it is drawn.
struct TrackBand {
    const std::vector<HeightRange>* heights;  ///< of the state's results
    Role form;                                ///< whose hatch it has
    const char* words;
};

/// One thing that can be wrong.
struct TravelTrack {
    const char* label;
    std::vector<TrackBand> bands;  ///< later ones lie over earlier ones
    std::string number;            ///< at the height shown: "4 3/4 in"
    std::string error;             ///< what the readings may move it by: " +- 1/4 in"; empty: not known
    std::string state;             ///< words of the worst band there, else that it is well
    std::string about = {};        ///< which parts, where that depends on the height
};

/// How much of a track's words there is room for.
enum class TrackWords { number, number_and_state, all };

/// The words beside a track.
std::string say_track(const TravelTrack& track, TrackWords words);

/// The longest such words that are usual, to leave room for.
const char* longest_track_words(TrackWords words);

/// Number of tracks, without computing a position.
std::size_t count_tracks(const AppState& app);

/// The tracks for a position; needs bands and a linkage. They point into the state's results.
std::vector<TravelTrack> list_tracks(const AppState& app, const PoseReport& pose);

}  // namespace hitchwright
