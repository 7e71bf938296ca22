// The viewer on the page's canvas. The browser calls it, with events and for a frame; between two calls nothing runs.
#pragma once

#include <string>

#include "web/canvas.h"

namespace hitchwright {

/// Opens a set-up, by name or path, on the canvas. False: the browser gives no WebGL.
bool start_viewer(const std::string& setup, CanvasSize size);

// What follows does nothing, or gives an empty text, before that.

/// The canvas has another size.
void resize_viewer(CanvasSize size);

/// The set-up among the files of a folder (page_files.h); also before the viewer is there.
std::string choose_file_for_viewer(const std::string& folder, const std::string& root);

/// Another set-up in place of the one shown, as `open_at_once` (page_files.h): the page has asked.
std::string open_in_viewer(const std::string& setup, const std::string& changes);

/// One value of the set-up shown, as a field takes it (page_files.h).
std::string change_in_viewer(const std::string& key, const std::string& value);

/// What can be taken along of the set-up shown, and one of it (page_exports.h). `setup`: the one where there is no viewer, by name or path.
std::string list_exports(const std::string& setup);
std::string make_one_export(const std::string& setup, const std::string& kind, const std::string& ending, bool a4);

/// What of the set-up shown is to be kept (page_files.h).
std::string read_viewer_work();

/// Something outside the canvas wants it drawn anew.
void wake_viewer();

/// One frame more, at once: for who takes the canvas' picture before the browser's next call.
void draw_viewer();

/// Fingers point here, by what the browser knows of the device: what they are to hit is large.
void point_with_fingers(bool coarse);

/// A finger came, moved or went (FingerEvent), pixels of the canvas. A tap is drawn before this returns.
void touch_viewer(int event, int id, float x, float y);

/// The text field that a finger has opened for typing, as JSON with "text", "label" and its place; empty: none.
std::string read_viewer_typing();
/// What was typed for it elsewhere; false: the text that it had before stays.
void type_in_viewer(const std::string& text, bool takes_text);

/// The answer shown, as "fit" prints it without --units and --rules but with the units and changes of the window.
std::string read_viewer_report();

/// The set-up shown as the text of a file, with its changes.
std::string read_viewer_setup();

/// What is shown, as JSON (gui/state_report.h).
std::string read_viewer_state();

}  // namespace hitchwright
