// The cut of the shaft as the window tries it: the whole shaft, the cuts that work, and the one in the set-up. Nothing
// here draws.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/cut_line.h"
#include "gui/app_state.h"
#include "report/cut_drawing.h"
#include "report/cut_words.h"

namespace hitchwright {

struct CutRoom {
    CutCase whole;                           ///< of the shaft before any cut of the set-up
    CutInterval interval;                    ///< cuts in the order of the trade that keep gap and overlap
    CutPair now;                             ///< in the set-up
    std::optional<TelescopingHalves> guard;  ///< guard tubes before the cut
};

/// The room of the set-up in the window; nothing without a shaft whose travel and tubes are known.
std::optional<CutRoom> find_cut_room(const AppState& app);

/// The cut shown: the one that is being dragged, else the set-up's.
CutPair find_shown_cut(const AppState& app, const CutRoom& room);

/// What is drawn of a cut.
CutPicture make_cut_picture(const CutRoom& room, const CutPair& cut);

/// The nearest mark inside the interval to a wanted one; `reason` says why it is another, or is emptied.
double bring_inside(const AppState& app, const CutRoom& room, double wanted, std::string& reason);

/// Writes the cut into the set-up as one change: `shortening` off the half that loses more. 0: the shaft is whole.
std::vector<Problem> set_cut(AppState& app, const CutRoom& room, double shortening);

/// "less leaves too little gap", ...; empty inside.
std::string say_cut_place(const CutRoom& room, double shortening, const SafeWords& words);

/// When no cut works: what else does. Found by analysing changed set-ups; made once for a state of this one.
const std::vector<std::string>& list_ways_out(AppState& app, const CutRoom& room);

}  // namespace hitchwright
