// The state behind the window: the set-up as edited, its analysis (replaced whole), history, and the view apart.
//
// Inputs change in one way only: a new list of edits is put over the file, everything is computed anew, and the inputs
// before are remembered. Nothing here draws.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/special_members.h"
#include "geometry/travel_bands.h"
#include "gui/history.h"
#include "gui/hole_table.h"
#include "gui/view_state.h"
#include "presets/library.h"
#include "presets/load_setup.h"
#include "presets/parsed_files.h"
#include "report/space_pose.h"

namespace hitchwright {

/// A preset as a list shows it.
struct NamedPreset {
    std::string key, title;
};

/// Everything computed from the inputs.
struct Results {
    int revision = 0;  ///< counts up with every computation
    Analysis analysis;
    std::optional<TravelBands> bands;
    std::optional<DrawingBox> drawn;  ///< around the machine through the whole travel; none: nothing to draw
};

struct AppState {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(AppState);
    explicit AppState(Library presets) : library(std::move(presets)) {}

    Library library;
    std::shared_ptr<ParsedFiles> parsed = std::make_shared<ParsedFiles>();  ///< trees of its files, which each edit reads again
    std::string name;               ///< the set-up as named on the command line
    PresetText source;              ///< its own file as it was last read
    bool drafted = false;           ///< `source` is a text that has no file yet
    Mark mark;                      ///< what cuts are rounded to
    std::vector<Problem> problems;  ///< the set-up could not be read: there is nothing else to show
    Edits first;                    ///< edits at the start
    Setup first_setup;              ///< set-up at the start, to notice a file that changes meanwhile
    Snapshot now;
    History history;
    Results results;
    HoleTable hole_table;
    std::vector<NamedPreset> drivelines, rule_sets;
    ViewState view;
};

/// Opens a set-up. With `problems` in the result nothing was computed.
AppState open_app(Library library, std::string name, Edits edits, UnitSystem units, const Mark& mark);

/// A set-up that has no file yet, from its text. `name`: what to call it. Relative names in it begin at the working folder.
AppState open_draft(Library library, std::string text, std::string name, UnitSystem units, const Mark& mark);

/// Reads anew what can be chosen: shafts and rule sets.
void list_choices(AppState& app);

/// Puts other edits over the file and computes everything anew. Problems: nothing was changed.
std::vector<Problem> change_edits(AppState& app, Edits edits);

/// The same for one value.
std::vector<Problem> change_value(AppState& app, std::string_view key, std::string_view value);

/// Another shaft, by preset name; empty: the file's own. Values and cuts belonged to the shaft before and go with it.
std::vector<Problem> change_driveline(AppState& app, std::string_view key);

/// Other holes. A typed link length belonged to the holes before and goes, where the working pitch gives another.
std::vector<Problem> change_holes(AppState& app, const HoleCombination& holes);

/// Reads the file again, keeping the edits; undo and redo then go over the file as it is.
std::vector<Problem> read_again(AppState& app);

bool can_undo(const AppState& app);
bool can_redo(const AppState& app);
void undo(AppState& app);
void redo(AppState& app);

/// True when closing the window loses something.
bool has_changes(const AppState& app);

/// Ball height of the picture, inside the travel; 0 without one.
double shown_ball_height(const AppState& app);

/// Puts the lift at a height; one outside the travel is brought inside, and the sentence returned says so. The same
/// sentence stands in the window.
std::string stand_at(AppState& app, std::optional<double> ball_height);

/// Shows that picture of a drawn implement. What cannot be shown is said in the sentence returned.
std::string choose_picture(AppState& app, std::optional<DrawnPicture> picture);

/// The same for a view named on the command line, which may be one of drawn set-ups, of mounted ones or of both.
std::string choose_view(AppState& app, std::optional<DrawnPicture> drawn, std::optional<MountedPicture> mounted);

/// Another picture of a mounted set-up is shown: what belonged to the one before goes.
void leave_mounted_picture(AppState& app);

/// Where the picture from behind shows the hitch: height and sway, inside what the set-up lets it reach.
HitchView shown_place(const AppState& app);

/// The set-up's own name, or the one typed: what to call the set-up.
std::string setup_title(const AppState& app);

}  // namespace hitchwright
