// Arrow, Page, Home and End keys for a control of our own that has the keyboard's focus.
//
// Dear ImGui moves the focus to the next control with the same keys: for the control that takes them they mean a step.
// Up and down go on moving the focus, so that one can leave again.
#pragma once

namespace hitchwright {

/// What the keys of this frame ask for.
struct KeySteps {
    int small = 0;                     ///< right and left arrow: +1, -1
    int large = 0;                     ///< Page up and Page down: +1, -1
    bool first = false, last = false;  ///< Home, End
    bool any() const { return small != 0 || large != 0 || first || last; }
};

/// How far the keys of a control move its value.
struct StepSizes {
    double low = 0.0, high = 1.0;  ///< ends of the range
    double small = 0.01, large = 0.1;
};

/// The keys for a panel whose value they move while nobody walks from control to control with the keyboard, types, or is
/// busy in another panel.
KeySteps take_key_steps();

/// The keys for the last control, while it has the keyboard's focus.
KeySteps take_focused_key_steps();

/// A value after the steps, inside the range.
double step_value(double value, const KeySteps& steps, const StepSizes& sizes);

/// A frame round the last control while it has the keyboard's focus. `after_click`: also where a click gave it, for a control
/// whose arrow keys change the set-up.
void show_focus(float thickness, bool after_click = false);

}  // namespace hitchwright
