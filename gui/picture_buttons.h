// The rows of buttons and switches over a picture: as many rows as the width asks for, in one column one row and a button that
// folds the others out.
#pragma once

#include "gui/screen.h"

namespace hitchwright {

/// Places controls side by side from the panel's upper left corner and begins a new row where the next finds no room.
class ButtonRows {
public:
    /// `corner`, `width`: of the panel, pixels.
    ButtonRows(Screen& screen, ImVec2 corner, float width);

    /// A button; true when pressed. Its word is its place. `hint`: what exactly it does.
    bool button(const char* word, const char* hint);
    /// A switch: a box with a mark when it is on.
    void toggle(const char* word, const char* hint, bool& on);
    /// One of several: a round mark when it is the one; true when pressed.
    bool choice(const char* word, const char* hint, bool chosen);

    /// Lower edge of what was placed so far, pixels below the corner.
    float bottom() const { return y_ + ImGui::GetFrameHeight() - corner_.y + 0.3F * screen_.em(); }

    /// What is folded in is shown from now on, or no longer.
    void keep_folded(bool& more);

private:
    /// False: it is folded in.
    bool next(float width);
    void finish(const char* word, const char* hint);
    bool is_folded() const { return more_ != nullptr && !*more_; }
    Screen& screen_;
    bool* more_ = nullptr;
    bool full_ = false;  ///< the one row that is shown
    ImVec2 corner_;
    float right_, x_, y_;
};

}  // namespace hitchwright
