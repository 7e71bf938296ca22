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
    CutCase standing;                        ///< of the halves as they are, cuts of the set-up made: as `cut` says
    CutCase whole;                           ///< of the shaft before any cut of the set-up; the scale counts from it
    CutInterval interval;                    ///< cuts in the order of the trade that keep gap and overlap
    CutPair now;                             ///< in the set-up
    std::optional<TelescopingHalves> guard;  ///< guard tubes before the cut
    double guard_overlap_needed = 0.0;       ///< m, by the rule set; 0: none

    bool is_whole() const { return now.a <= cut_tolerance && now.b <= cut_tolerance; }
};

/// The room of the set-up in the window; nothing without a shaft whose travel and tubes are known.
std::optional<CutRoom> find_cut_room(const AppState& app);

/// The cut shown: the one that is being dragged, else the set-up's.
CutPair find_shown_cut(const AppState& app, const CutRoom& room);

/// What is drawn of a cut.
CutPicture make_cut_picture(const CutRoom& room, const CutPair& cut);

/// The nearest mark inside the interval to a wanted one; `reason` says why it is another, or is emptied.
double bring_inside(const AppState& app, const CutRoom& room, double wanted, std::string& reason);

/// What the plan of the halves as they are comes to, counted from the whole shaft; nothing where it proposes no cut.
std::optional<CutPair> find_recommended_total(const CutRoom& room);

/// A cut whose numbers stand beside the whole shaft's, and what it is called.
struct NamedCut {
    std::string name;  ///< "cut", or "recommended" while nothing is cut; empty: there is none
    CutPair cut;
};
NamedCut find_compared_cut(const AppState& app, const CutRoom& room);

/// What the mark says: which cut it stands at, and that the scale counts from the uncut shaft.
std::string say_shown_cut(const AppState& app, const CutRoom& room);

/// Which cuts keep what, or why the one shown does not.
struct CutRemark {
    std::string words;
    bool warns = false;
};
CutRemark say_about_cut(const AppState& app, const CutRoom& room);

/// Writes cuts, counted from the whole shaft, into the set-up as one change. Nothing off a half: its value is taken away.
std::vector<Problem> set_cuts(AppState& app, const CutPair& cut);

/// Writes the cut into the set-up as one change: `shortening` off the half that loses more. 0: the shaft is whole.
std::vector<Problem> set_cut(AppState& app, const CutRoom& room, double shortening);

/// "less leaves too little gap", ...; empty inside.
std::string say_cut_place(const CutRoom& room, double shortening, const SafeWords& words);

/// When no cut works: what else does. Found by analysing changed set-ups; made once for a state of this one.
const std::vector<std::string>& list_ways_out(AppState& app, const CutRoom& room);

}  // namespace hitchwright
