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

/// Another set-up in place of the one shown; the viewer asks first where changes would be lost.
void open_in_viewer(const std::string& setup);

/// Something outside the canvas wants it drawn anew.
void wake_viewer();

/// The answer shown, as "fit" prints it without --units and --rules but with the units and changes of the window.
std::string read_viewer_report();

/// The set-up shown as the text of a file, with its changes.
std::string read_viewer_setup();

/// What is shown, as JSON (gui/state_report.h).
std::string read_viewer_state();

}  // namespace hitchwright
