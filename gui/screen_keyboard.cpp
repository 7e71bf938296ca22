#include "gui/screen_keyboard.h"

#include <imgui_internal.h>

#include "gui/field_edits.h"
#include "report/field_words.h"

namespace hitchwright {
namespace {

ImGuiInputTextState* find_text() {
    const ImGuiID id = ImGui::GetActiveID();
    return id == 0 ? nullptr : ImGui::GetInputTextState(id);
}

std::string read_text(const ImGuiInputTextState& state) {
    const ImWchar* const from = state.TextW.Data;
    std::string text(static_cast<std::size_t>(ImTextCountUtf8BytesFromStr(from, from + state.CurLenW)) + 1, '\0');
    ImTextStrToUtf8(text.data(), static_cast<int>(text.size()), from, from + state.CurLenW);
    text.pop_back();
    return text;
}

}  // namespace

std::optional<TypedField> find_typed_field(AppState& app) {
    const ImGuiInputTextState* const state = find_text();
    if (state == nullptr) return std::nullopt;
    const std::string& name = app.view.focus;
    TypedField field{read_text(*state), name, {}};
    if (const auto place = app.view.places.find(name); place != app.view.places.end()) field.place = place->second;
    const SetupEntry* const entry = app.problems.empty() ? find_entry(app, name) : nullptr;
    if (entry != nullptr) field.label = field_label(entry->pattern, app.now.setup.implement.attachment == Attachment::drawn);
    return field;
}

void replace_typed(std::string_view text) {
    ImGuiInputTextState* const state = find_text();
    if (state == nullptr) return;
    state->ClearText();
    ImGui::GetIO().AddInputCharactersUTF8(std::string(text).c_str());
}

void press_end_of_typing(bool takes_text, bool down) {
    const int key = ImGui::GetKeyIndex(takes_text ? ImGuiKey_Enter : ImGuiKey_Escape);
    if (key >= 0) ImGui::GetIO().KeysDown[key] = down;
}

}  // namespace hitchwright
