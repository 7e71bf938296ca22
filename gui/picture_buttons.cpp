// See picture_buttons.h.
#include "gui/picture_buttons.h"

namespace hitchwright {

ButtonRows::ButtonRows(Screen& screen, ImVec2 corner, float width)
    : screen_(screen), corner_(corner), right_(corner.x + width - 0.3F * screen.em()), x_(corner.x + 0.5F * screen.em()), y_(corner.y + 0.4F * screen.em()) {}

void ButtonRows::next(float width) {
    const float left = corner_.x + 0.5F * screen_.em();
    if (x_ > left && x_ + width > right_) {
        x_ = left;
        y_ += ImGui::GetFrameHeight() + 0.3F * screen_.em();
    }
    ImGui::SetCursorScreenPos({x_, y_});
    x_ += width + 0.6F * screen_.em();
}

void ButtonRows::finish(const char* word, const char* hint) {
    remember_place(screen_, word);
    if (ImGui::IsItemHovered()) show_hint(hint);
}

bool ButtonRows::button(const char* word, const char* hint) {
    next(ImGui::CalcTextSize(word).x + 2.0F * ImGui::GetStyle().FramePadding.x);
    const bool pressed = ImGui::Button(word);
    finish(word, hint);
    return pressed;
}

void ButtonRows::toggle(const char* word, const char* hint, bool& on) {
    next(ImGui::CalcTextSize(word).x + ImGui::GetFrameHeight() + ImGui::GetStyle().ItemInnerSpacing.x);
    ImGui::Checkbox(word, &on);
    finish(word, hint);
}

bool ButtonRows::choice(const char* word, const char* hint, bool chosen) {
    next(ImGui::CalcTextSize(word).x + ImGui::GetFrameHeight() + ImGui::GetStyle().ItemInnerSpacing.x);
    const bool pressed = ImGui::RadioButton(word, chosen);
    finish(word, hint);
    return pressed;
}

}  // namespace hitchwright
