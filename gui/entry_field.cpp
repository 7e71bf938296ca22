#include "gui/entry_field.h"

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include "gui/field_edits.h"
#include "gui/measure_hint_view.h"
#include "gui/origin_marks.h"
#include "gui/palette.h"
#include "gui/shortcuts.h"
#include "report/safe_words.h"
#include "report/text_clean.h"

namespace hitchwright {
namespace {

bool presses(ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key), false); }

/// Enter on the last control, while it has the keyboard.
bool takes_enter() {
    return ImGui::IsItemFocused() && ImGui::GetIO().NavVisible && !ImGui::GetIO().WantTextInput && presses(ImGuiKey_Enter);
}

/// Hint of the field just shown: at the cursor, or kept open below it by F1.
enum class FieldForm { text, choice };
void offer_hint(Screen& screen, const SetupEntry& entry, FieldForm form, bool typing = false) {
    InputState& inputs = screen.app.view.inputs;
    std::string& hint = inputs.hint;
    if (typing && ImGui::IsKeyPressed(find_key_index(key_f1), false)) hint = hint == entry.key ? std::string{} : entry.key;
    // Where nobody types, F1 is a key of the window, which asks for the field in the next frame (shortcuts.cpp).
    // A text field left by Enter is focused still, and may be out of sight: then it is not meant.
    const bool meant = form == FieldForm::choice || ImGui::GetIO().NavVisible;
    if (!typing && meant && ImGui::IsItemFocused()) {
        inputs.keyed = entry.key;
        inputs.keyed_frame = ImGui::GetFrameCount();
    }
    if (!typing && hint != entry.key && ImGui::IsItemHovered()) show_measure_tooltip(screen, entry);
}

std::optional<Origin> find_origin(const AppState& app, const SetupEntry& e) {
    if (e.form == CardForm::quantity) return e.reading.known ? std::optional(e.reading.origin) : std::nullopt;
    const auto note = app.now.notes.find(e.key);
    return note == app.now.notes.end() ? std::nullopt : std::optional(note->second.origin);
}

void show_origin_menu(Screen& screen, const SetupEntry& e) {
    if (!ImGui::BeginPopup("origin")) return;
    show_text("Where it comes from:");
    for (const Origin origin : {Origin::measured, Origin::manual, Origin::preset, Origin::assumed}) {
        const std::string word(origin_word(origin));
        if (show_line_of_list(screen, word.c_str(), e.reading.origin == origin)) {
            const std::string refused = change_origin(screen.app, e, word);
            if (!refused.empty()) screen.app.view.notice = "Not changed: " + refused;
        }
        remember_place(screen, "origin " + e.key + "/" + word);
    }
    ImGui::EndPopup();
}

/// Mark and word of where it comes from, and the error; a click on it changes the origin.
void show_origin(Screen& screen, const SetupEntry& e) {
    const float em = screen.em(), line = ImGui::GetTextLineHeight(), gap = 0.35F * em;
    const std::optional<Origin> origin = find_origin(screen.app, e);
    std::string words(e.known && !origin ? "as the file has it" : say_origin(origin));
    if (e.form == CardForm::quantity && e.reading.known && e.reading.tolerance > 0.0)
        words += ", good to " + show_quantity(e.reading.tolerance, e.spec.dimension, screen.app.view.units);
    const float wrap = std::max(ImGui::GetContentRegionAvail().x - em - gap, em);
    const ImVec2 size = ImGui::CalcTextSize(words.c_str(), nullptr, false, wrap), corner = ImGui::GetCursorScreenPos();
    const bool changes = e.form == CardForm::quantity && e.reading.known;
    const float height = changes ? make_target(screen, size.y) : size.y;
    const ImVec2 at{corner.x, corner.y + (height - size.y) / 2.0F};
    ImGui::PushID(e.key.c_str());
    if (changes) {
        if (ImGui::InvisibleButton("origin of it", {em + gap + size.x, height}) || takes_enter()) ImGui::OpenPopup("origin");
        if (ImGui::IsItemHovered()) show_hint(screen, "Click: say where this value comes from");
        if (ImGui::IsItemFocused()) ImGui::GetWindowDrawList()->AddRect(at, {at.x + em + gap + size.x, at.y + size.y}, palette().blue);
    } else {
        ImGui::Dummy({em + gap + size.x, size.y});
    }
    remember_place(screen, "origin " + e.key);
    if (ImGui::IsItemVisible()) {
        ImDrawList& list = *ImGui::GetWindowDrawList();
        draw_origin_mark(list, at, line, origin);
        list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), {at.x + em + gap, at.y}, palette().quiet, words.c_str(), nullptr, wrap);
    }
    show_origin_menu(screen, e);
    ImGui::PopID();
}

void show_wanted(Screen& screen, const SetupEntry& e) {
    const Wanted* wanted = e.known ? nullptr : find_wanted(screen.app, e.key);
    if (wanted == nullptr) return;
    if (*wanted == Wanted::for_the_verdict) show_warning("A finding misses this reading.");
    else show_quiet_text("With it more could be judged.");
}

void take(AppState& app, const SetupEntry& entry, const std::string& typed) {
    // Everything computed anew empties the fields and makes the entries anew.
    const SetupEntry own = entry;
    const std::string refused = enter_entry(app, own, typed);
    FieldText& after = app.view.fields[own.key];
    after.active = false;
    after.message = refused;
    if (!refused.empty()) after.text = typed;
}

std::optional<std::string> show_control(Screen& screen, const SetupEntry& e, const char* when_empty) {
    const std::string shown = show_entry_value(screen.app, e);
    std::optional<std::string> typed;
    if (e.form == CardForm::word) {
        std::vector<NamedPreset> words;
        for (const std::string& word : e.words) words.push_back({word, word});
        typed = show_choice(screen, e.key.c_str(), shown, words);
        offer_hint(screen, e, FieldForm::choice);
    } else if (e.form == CardForm::flag) {
        bool on = e.text == "true";
        ImGui::PushID(e.key.c_str());
        if (ImGui::Checkbox("yes", &on)) typed = on ? "true" : "false";
        ImGui::PopID();
        remember_place(screen, e.key);
        offer_hint(screen, e, FieldForm::choice);
    } else {
        const float room = ImGui::GetContentRegionAvail().x - 2.0F * ImGui::GetStyle().FramePadding.x;
        const std::string printed = escape_text(shown, 400);
        // What the field would cut off stands in full above it.
        if (ImGui::CalcTextSize(printed.c_str()).x > room) show_text(printed);
        typed = show_text_control(screen, e.key, shown, when_empty);
        offer_hint(screen, e, FieldForm::text, screen.app.view.fields[e.key].active);
    }
    return typed;
}

}  // namespace

bool show_button(const char* words) { return ImGui::Button(words) || takes_enter(); }

bool show_link(Screen& screen, const std::string& name, std::optional<Origin> origin, std::string_view words) {
    const std::string text = clean_text(words);
    const float em = screen.em(), gap = 0.35F * em, wrap = std::max(ImGui::GetContentRegionAvail().x - em - gap, em);
    const ImVec2 corner = ImGui::GetCursorScreenPos(), size = ImGui::CalcTextSize(text.c_str(), nullptr, false, wrap);
    const float height = make_target(screen, size.y);
    const ImVec2 at{corner.x, corner.y + (height - size.y) / 2.0F};
    const bool pressed = ImGui::InvisibleButton(name.c_str(), {em + gap + size.x, height}) || takes_enter();
    remember_place(screen, name);
    // What is scrolled out of sight adds nothing: text that wraps is drawn above a panel's edge all the same, and a panel of many
    // such lines would hold more corners than OpenGL 3.0 can count in one list.
    if (!ImGui::IsItemVisible()) return pressed;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const bool marked = ImGui::IsItemHovered() || (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible);
    if (marked) list.AddRectFilled(at, {at.x + em + gap + size.x, at.y + size.y}, palette().pale_blue);
    draw_origin_mark(list, at, ImGui::GetTextLineHeight(), origin);
    list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), {at.x + em + gap, at.y}, palette().blue, text.c_str(), nullptr, wrap);
    return pressed;
}

void use_go_to(Screen& screen, const std::string& key) {
    std::string& go_to = screen.app.view.inputs.go_to;
    if (go_to.empty() || go_to != key) return;
    // A panel as high as what stands in it is so in the frame after next: until then the column cannot be scrolled that far.
    constexpr int frames_until_high = 3;
    if (screen.app.view.column.on && screen.app.view.inputs.tries < frames_until_high) return scroll_here(screen);
    go_to.clear();
    scroll_here(screen);
    ImGui::SetKeyboardFocusHere();
}

std::optional<std::string> show_text_control(Screen& screen, const std::string& name, const std::string& shown, const char* when_empty) {
    FieldText& state = screen.app.view.fields[name];
    if (!state.active && state.message.empty()) state.text = shown;
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::PushID(name.c_str());
    ImGui::InputTextWithHint("##value", when_empty, &state.text);
    ImGui::PopID();
    remember_place(screen, name);
    state.active = ImGui::IsItemActive();
    if (ImGui::IsItemDeactivated() && presses(ImGuiKey_Escape)) {
        state.text = shown;
        state.message.clear();
        return std::nullopt;
    }
    if (!ImGui::IsItemDeactivatedAfterEdit()) return std::nullopt;
    if (state.text != shown) return state.text;
    state.message.clear();
    return std::nullopt;
}

std::optional<std::string> show_choice(Screen& screen, const char* label, const std::string& now, const std::vector<NamedPreset>& all) {
    std::optional<std::string> chosen;
    const std::string shown = escape_text(now, 80);
    const bool fits = ImGui::CalcTextSize(shown.c_str()).x + 2.5F * screen.em() < ImGui::GetContentRegionAvail().x;
    if (!fits) show_text(shown, screen.fonts.bold, palette().ink);
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::PushID(label);
    if (ImGui::BeginCombo("##choice", fits ? shown.c_str() : "choose another")) {
        for (const NamedPreset& preset : all) {
            if (show_line_of_list(screen, (preset.title + "##" + preset.key).c_str(), preset.title == now)) chosen = preset.key;
            remember_place(screen, std::string(label) + "/" + preset.key);
        }
        ImGui::EndCombo();
    } else {
        remember_place(screen, label);
    }
    ImGui::PopID();
    return chosen;
}

void show_entry_field(Screen& screen, const SetupEntry& entry, std::string_view label, const char* when_empty) {
    AppState& app = screen.app;
    app.view.inputs.shown.insert(entry.key);
    show_text(label);
    use_go_to(screen, entry.key);
    if (const auto typed = show_control(screen, entry, when_empty)) return take(app, entry, *typed);
    const std::string message = app.view.fields[entry.key].message;
    if (!message.empty()) {
        show_warning(message);
        const std::string value = show_entry_value(app, entry);
        show_quiet_text("Still in use: " + (value.empty() ? std::string(when_empty) : escape_text(value, 80)));
    }
    // Where something else holds in place of a value, the empty field says so.
    if (entry.known || when_empty == std::string_view("not given")) show_origin(screen, entry);
    show_wanted(screen, entry);
    if (app.view.inputs.hint == entry.key) show_measure_hint(screen, entry);
}

bool show_fold(Screen& screen, const std::string& name, std::string_view words, bool& open) {
    const std::string text = clean_text(words);
    const float em = screen.em(), pad = 0.25F * em, arrow = 1.1F * em;
    const float width = std::max(ImGui::GetContentRegionAvail().x, 2.0F * em), wrap = std::max(width - arrow - 2.0F * pad, em);
    const ImVec2 at = ImGui::GetCursorScreenPos(), size = ImGui::CalcTextSize(text.c_str(), nullptr, false, wrap);
    const float height = make_target(screen, size.y + 2.0F * pad), down = (height - size.y) / 2.0F;
    const ImVec2 most{at.x + width, at.y + height};
    if (ImGui::InvisibleButton(name.c_str(), {width, height}) || takes_enter()) open = !open;
    remember_place(screen, name);
    if (!ImGui::IsItemVisible()) return open;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    if (ImGui::IsItemHovered()) list.AddRectFilled(at, most, palette().pale_blue);
    list.AddRect(at, most, ImGui::IsItemFocused() ? palette().blue : palette().line);
    const ImVec2 c{at.x + pad + 0.4F * em, at.y + down + 0.5F * ImGui::GetTextLineHeight()};
    const float r = 0.28F * em;
    if (open) list.AddTriangleFilled({c.x - r, c.y - 0.6F * r}, {c.x + r, c.y - 0.6F * r}, {c.x, c.y + r}, palette().ink);
    else list.AddTriangleFilled({c.x - 0.6F * r, c.y - r}, {c.x + r, c.y}, {c.x - 0.6F * r, c.y + r}, palette().ink);
    list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), {at.x + pad + arrow, at.y + down}, palette().ink, text.c_str(), nullptr, wrap);
    return open;
}

}  // namespace hitchwright
