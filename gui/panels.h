// The panels of the window. Each fills the room it is given, draws what the state says, and changes the state when
// somebody does something; none computes more than places on the screen.
#pragma once

#include "gui/screen.h"

namespace hitchwright {

/// Title, undo and redo, units, what is not saved.
void show_tools(Screen& screen);

/// What the last change or the files want said. `show_tools` does it, unless there is one column, which may be scrolled away from it.
void show_notices(Screen& screen);

/// The verdict sentence with its mark, and what it is about. In the form of the printed page.
void show_verdict(Screen& screen);

/// Cautions that stand on the screen whatever else is shown; there is no switch for them.
void show_cautions(Screen& screen);
/// Height the cautions take in a window of the present width, pixels.
float find_caution_height(const Screen& screen);

/// What can be changed, in walking order round the machine.
void show_inputs(Screen& screen);

/// The field to find a reading by a word, and the marks of origins; true: words are typed, and what they are found in was
/// shown in place of everything else.
bool show_find(Screen& screen);
/// Every reading in walking order, folded by part.
void show_all_readings(Screen& screen);
/// Shows the field of a key, or a list, and lets one type there: in the next frame.
void go_to_input(AppState& app, const std::string& key);

/// Switches of the add-on parts that the set-up lists.
void show_parts(Screen& screen);
/// True when it lists any.
bool has_parts(const Setup& setup);

/// The side view at the height of the slider, with zoom and pan.
void show_side_view(Screen& screen);

/// The lift slider with the travel marked where something is wrong, and the numbers of the position shown.
void show_travel(Screen& screen);
/// Height it wants, pixels.
float find_travel_height(const Screen& screen);

/// Lines over the travel, or over the turn of a drawn implement, linked by one cursor.
void show_curves(Screen& screen);
bool has_curves(const AppState& app);
/// Height they want, pixels.
float find_curve_height(const Screen& screen);

/// In place of side view, lift and holes for a drawn implement: from above, from the side or the chart; turn and dip sliders
/// with the numbers there; the positions of the drawbar's pin.
void show_drawn_picture(Screen& screen);
void show_attitude(Screen& screen);
float find_attitude_height(const Screen& screen);
void show_positions(Screen& screen);
float find_position_height(const Screen& screen);

/// What to do, then the findings worst first, cautions beside their step.
void show_findings(Screen& screen);

/// Findings, and below them the holes or positions.
void show_findings_and_holes(Screen& screen);
/// Below the picture: the lift, or the sliders of a drawn implement.
void show_lift(Screen& screen);

/// Every pair of holes; a click switches.
void show_holes(Screen& screen);
/// Height it wants, pixels.
float find_hole_height(const Screen& screen);

/// The cut of the shaft: a mark to drag, before and after, cautions.
void show_cut(Screen& screen);

/// Level from side to side: lift rods, roll, sway and check chains to set, and what they come to.
void show_level(Screen& screen);
bool has_level(const AppState& app);

/// A beside B: what is kept for comparison, and what differs.
void show_compare(Screen& screen);

/// What is one switch away, with its verdict.
void show_switches(Screen& screen);

/// In place of everything else: what is wrong with the files.
void show_problems(Screen& screen);

/// Asks where changes are to be written, and writes them.
void show_save_question(Screen& screen);

/// The answers of the command line that have no room of their own: a row of questions, and the answer.
void show_answers(Screen& screen);

/// Asks what is to be taken along as a file, and writes it.
void show_export_question(Screen& screen);

/// All keys, what the mouse does, and the cautions that hold for this set-up.
void show_keys(Screen& screen);

/// What changed against the file, each value with the way back.
void show_changes(Screen& screen);

/// One's own and the built-in tractors, implements and shafts: to pair, and to put those of the set-up there.
void show_yard(Screen& screen);

/// Questions about files: a path, what was not opened, changes that would be lost or were left.
void show_file_questions(Screen& screen);

/// Asks before changes are lost.
void show_close_question(Screen& screen);

/// The picture of the set-up: a side view, or what is shown of a drawn implement.
void show_picture(Screen& screen);
/// In one column: the panel below the picture, and the rooms with their buttons.
void show_lower_panel(Screen& screen);
void show_side_room(Screen& screen);

/// The whole window, laid out for the size of the display.
void show_window(Screen& screen);

}  // namespace hitchwright
