// See picture_buttons.h.
#include "gui/picture_buttons.h"

namespace hitchwright {

ButtonRows::ButtonRows(Screen& screen, ImVec2 corner, float width)
    : screen_(screen), corner_(corner), right_(corner.x + width - 0.3F * screen.em()), x_(corner.x + 0.5F * screen.em()), y_(corner.y + 0.4F * screen.em()) {}

void ButtonRows::keep_folded(bool& more) {
    const char* const word = more ? "Less" : "More";
    if (button(word, "The other switches of the picture")) more = !more;
    more_ = &more;
}

bool ButtonRows::next(float width) {
    const float left = corner_.x + 0.5F * screen_.em();
    const bool breaks = x_ > left && x_ + width > right_;
    full_ = full_ || (breaks && is_folded());
    if (full_) return false;
    if (breaks) {
        x_ = left;
        y_ += ImGui::GetFrameHeight() + 0.3F * screen_.em();
    }
    ImGui::SetCursorScreenPos({x_, y_});
    x_ += width + 0.6F * screen_.em();
    return true;
}

void ButtonRows::finish(const char* word, const char* hint) {
    remember_place(screen_, word);
    if (ImGui::IsItemHovered()) show_hint(screen_, hint);
}

bool ButtonRows::button(const char* word, const char* hint) {
    if (!next(ImGui::CalcTextSize(word).x + 2.0F * ImGui::GetStyle().FramePadding.x)) return false;
    const bool pressed = ImGui::Button(word);
    finish(word, hint);
    return pressed;
}

void ButtonRows::toggle(const char* word, const char* hint, bool& on) {
    if (!next(ImGui::CalcTextSize(word).x + ImGui::GetFrameHeight() + ImGui::GetStyle().ItemInnerSpacing.x)) return;
    ImGui::Checkbox(word, &on);
    finish(word, hint);
}

bool ButtonRows::choice(const char* word, const char* hint, bool chosen) {
    if (!next(ImGui::CalcTextSize(word).x + ImGui::GetFrameHeight() + ImGui::GetStyle().ItemInnerSpacing.x)) return false;
    const bool pressed = ImGui::RadioButton(word, chosen);
    finish(word, hint);
    return pressed;
}

}  // namespace hitchwright
