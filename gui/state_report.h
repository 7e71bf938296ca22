// What the window shows, as JSON for whoever drives the program from outside: tests first of all. docs/viewer.md has the
// keys.
#pragma once

#include <string>

#include "gui/app_state.h"

namespace hitchwright {

/// What the state alone does not know.
struct ReportFacts {
    int frame = 0;          ///< frames drawn since the start
    int shown_frame = 0;    ///< of Dear ImGui: controls drawn in it are on the screen now
    float width = 0.0F, height = 0.0F;  ///< of the window, pixels
    std::string recovery_file;          ///< where the changes of this window are kept; empty: nowhere
};

std::string format_state_report(const AppState& app, const ReportFacts& facts);

}  // namespace hitchwright
