// See key_steps.h.
#include "gui/key_steps.h"

#include <algorithm>

#include <imgui.h>
#include <imgui_internal.h>

#include "gui/palette.h"

namespace hitchwright {
namespace {

bool pressed(ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); }

KeySteps read_keys() {
    KeySteps steps;
    steps.small = (pressed(ImGuiKey_RightArrow) ? 1 : 0) - (pressed(ImGuiKey_LeftArrow) ? 1 : 0);
    steps.large = (pressed(ImGuiKey_PageUp) ? 1 : 0) - (pressed(ImGuiKey_PageDown) ? 1 : 0);
    steps.first = pressed(ImGuiKey_Home);
    steps.last = pressed(ImGuiKey_End);
    if (steps.any()) ImGui::NavMoveRequestCancel();
    return steps;
}

bool is_free() {
    const ImGuiIO& io = ImGui::GetIO();
    return !io.WantTextInput && !io.KeyCtrl &&
           !ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
}

}  // namespace

KeySteps take_key_steps() {
    const ImGuiWindow *here = ImGui::GetCurrentWindow(), *focused = GImGui->NavWindow;
    const bool elsewhere = focused != nullptr && focused != here && focused != here->RootWindow;
    return is_free() && !elsewhere && !ImGui::GetIO().NavVisible ? read_keys() : KeySteps{};
}

KeySteps take_focused_key_steps() { return is_free() && ImGui::IsItemFocused() ? read_keys() : KeySteps{}; }

double step_value(double value, const KeySteps& steps, const StepSizes& sizes) {
    if (steps.first) return sizes.low;
    if (steps.last) return sizes.high;
    return std::clamp(value + steps.small * sizes.small + steps.large * sizes.large, sizes.low, sizes.high);
}

void show_focus(float thickness, bool after_click) {
    if (!ImGui::IsItemFocused() || !(after_click || ImGui::GetIO().NavVisible)) return;
    ImGui::GetWindowDrawList()->AddRect(ImGui::GetItemRectMin(), ImGui::GetItemRectMax(), palette().blue, 0.0F, 0,
                                        thickness);
}

}  // namespace hitchwright
