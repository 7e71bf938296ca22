// The rows of buttons and switches over a picture: as many rows as the width asks for.
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

private:
    void next(float width);
    void finish(const char* word, const char* hint);
    Screen& screen_;
    ImVec2 corner_;
    float right_, x_, y_;
};

}  // namespace hitchwright
