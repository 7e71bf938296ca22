// One run of the window: what it found of the runs before, what it keeps while it lives, what it leaves. Nothing here
// draws.
#pragma once

#include <optional>
#include <string>

#include "gui/app_state.h"
#include "gui/recovery.h"
#include "gui/viewer_options.h"
#include "gui/window_state.h"

namespace hitchwright {

class Session {
public:
    /// `folder`: the state folder; empty, or one that cannot be made: nothing is kept, and `troubles` says so.
    explicit Session(const std::string& folder);

    /// What was not typed comes from the window before: size, units (and the mark that goes with them).
    void fill_options(ViewerOptions& options) const;

    /// The set-up of the options; without one that opened last, or the demo. Never the last word on problems: they are
    /// in the state.
    AppState open(const Library& library, const ViewerOptions& options) const;

    /// Puts the recent set-ups, and the changes that earlier windows left, into the window.
    void begin(AppState& app);

    /// After each change: keeps what is unsaved, or has the window say why not, and the window's own state when it is
    /// another one.
    void follow(AppState& app);

    /// The window was closed and nothing is to be recovered. `size`: the window's at its end.
    void end(const AppState& app, WindowSize size);

    const std::string& recovery_file() const { return recovery_.file(); }
    /// What could not be read or kept, in words; empty: nothing.
    std::string troubles() const;

private:
    WindowState take_state(const AppState& app) const;
    void write_state(const WindowState& state);

    std::string folder_;
    ReadWindowState read_;
    WindowState written_;
    Recovery recovery_;
    std::string state_trouble_;
};

}  // namespace hitchwright
