#include "gui/quantity_field.h"

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include "presets/quantity.h"

namespace hitchwright {
namespace {

/// The value in the reader's units, or as it was typed.
std::string field_text(const AppState& app, const QuantityField& field, const Reading& now) {
    if (const auto typed = find_value(app.now.edits, field.key)) return escape_text(*typed, most_quantity_characters);
    if (!now.known) return {};
    return field.dimension == Dimension::angle ? format_angle(now.value) : format_length(now.value, app.view.units);
}

std::string_view plain_unit_word(Dimension dimension, UnitSystem units) {
    if (dimension == Dimension::angle) return "deg";
    return units == UnitSystem::inch ? "in" : "mm";
}

}  // namespace

std::string enter_quantity(AppState& app, const QuantityField& field, std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return say_problem(change_value(app, field.key, ""));
    const std::string_view unit = plain_unit_word(field.dimension, app.view.units);
    const Quantity quantity = parse_quantity(text, field.dimension, unit);
    if (!quantity.ok()) return format_refusal(text, quantity);
    // The file may have another unit for bare numbers than the screen.
    if (quantity.plain && quantity.has_tolerance)
        return fmt::format("\"{}\": with an error behind it a number needs its unit, such as 23 in +- 1/8 in",
                           escape_text(text, 80));
    const std::string value = quantity.plain ? fmt::format("{} {}", text, unit) : std::string(text);
    return say_problem(change_value(app, field.key, value));
}

void show_quantity_field(Screen& screen, const QuantityField& field, const Reading& now) {
    AppState& app = screen.app;
    FieldText& state = app.view.fields[field.key];
    if (!state.active && state.message.empty()) state.text = field_text(app, field, now);
    show_text(field.label);
    ImGui::SetNextItemWidth(-1.0F);
    ImGui::PushID(field.key);
    ImGui::InputTextWithHint("##value", field.when_unknown, &state.text);
    ImGui::PopID();
    remember_place(screen, field.key);
    state.active = ImGui::IsItemActive();
    if (ImGui::IsItemDeactivatedAfterEdit()) {
        const std::string typed = state.text;
        const std::string refused = enter_quantity(app, field, typed);
        // Everything computed anew has emptied the fields; this one is looked up again.
        FieldText& after = app.view.fields[field.key];
        after.active = false;
        after.message = refused;
        if (!refused.empty()) after.text = typed;
    }
    const std::string& message = app.view.fields[field.key].message;
    if (message.empty()) return;
    show_warning(message);
    show_quiet_text(now.known ? "Still in use: " + (field.dimension == Dimension::angle
                                                        ? format_angle(now.value)
                                                        : format_length(now.value, app.view.units))
                              : std::string("Still in use: ") + field.when_unknown);
}

}  // namespace hitchwright
