// Another set-up into the same window. Nothing here draws.
#pragma once

#include <span>
#include <string>

#include "gui/app_state.h"

namespace hitchwright {

/// The demo that a first start shows; the same as that of ./run.
inline constexpr const char* demo_setup = "compact-tiller-bottoms-out";

/// A path made absolute; the name of a preset as it stands.
std::string find_whole_name(const std::string& name);

/// Shows an opened set-up in place of the one before: the view that belonged to it begins anew, what belongs to the
/// window stays (units, rooms, recent set-ups).
void show_opened(AppState& app, AppState opened);

/// Opens it now. False: it cannot be read; the set-up shown stays, and all problems are listed in `view.files.refused`.
bool open_setup(AppState& app, const std::string& name);

/// The same, unless changes are not saved: then the window asks first.
void ask_to_open(AppState& app, const std::string& name);

/// Files dropped on the window, as the window system names them: the first is opened as above; of several the notice says so.
void drop_files(AppState& app, std::span<const char* const> paths);

/// The same for a set-up that is in no file yet, from its text; `title` is what to call it.
void ask_to_open_text(AppState& app, const std::string& text, const std::string& title);

/// Opens what waits, now, and drops the changes.
void open_what_waits(AppState& app);

/// Nothing waits any longer.
void forget_waiting(AppState& app);

/// Opens what waited for the changes to be written, once they are.
void open_waiting(AppState& app);

}  // namespace hitchwright
