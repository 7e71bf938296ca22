// What of the set-up shown the page hands out as prints and downloads: the kinds, names and bytes of the window's "Take with you"
// (gui/export.h), but for what takes Cairo. The browser prints the HTML and makes the PNG of the SVG. Nothing here knows a browser.
#pragma once

#include <string>

#include "gui/app_state.h"

namespace hitchwright {

/// What can be had of the set-up. JSON: {"a4": paper by the units shown, "answer": name for the file of the answer as text, "kinds":
/// [{"name", "word", "hint", "endings": [".html"]}], "window": {"word", "hint", "file"} of the canvas, which the page itself has}.
std::string format_exports(const AppState& app);

/// One of them, also of a set-up that has no file yet. JSON: {"name": for the file, "text": what is in it, "error": why there is none; empty: it is there}.
std::string make_page_export(AppState& app, const std::string& kind, const std::string& ending, bool a4);

}  // namespace hitchwright
