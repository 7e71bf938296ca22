// A demo as the window opens it, and an edit that changes what is shown.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "gui/app_state.h"

namespace bench {

using hitchwright::AppState;

inline AppState open_demo(const std::string& name) {
    using namespace hitchwright;
    return open_app(Library(), name, {}, UnitSystem::inch, sixteenth_inch_mark);
}

/// Two values that change what is shown, by turns.
class Edit {
public:
    explicit Edit(const AppState& app) : drawn_(app.results.analysis.drawn) {}

    std::vector<hitchwright::Problem> make(AppState& app) {
        const std::array<const char*, 2> values = drawn_ ? std::array{"31 deg", "32 deg"} : std::array{"0.25 deg", "0.5 deg"};
        second_ = !second_;
        return change_value(app, drawn_ ? "choices.turn_left_most" : "choices.working_pitch", values[second_ ? 1 : 0]);
    }

private:
    bool drawn_, second_ = false;
};

}  // namespace bench
