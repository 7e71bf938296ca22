// The switches of add-on parts: those that the set-up has values for can be taken off and put on again.
#include <optional>

#include "geometry/setup_fields.h"
#include "gui/panels.h"
#include "report/finding_text.h"
#include "report/part_effect_text.h"

namespace hitchwright {
namespace {

/// Something of the part stands in the set-up, fitted or not.
template <class Part>
bool is_listed(Part part) {
    if (part.fitted) return true;
    return part != Part{};
}

void say_effect(const AppState& app, PartKind kind) {
    for (const PartEffect& effect : app.results.analysis.part_effects) {
        if (effect.part == kind) show_quiet_text("Without it: " + std::string(verdict_headline(effect.without.verdict)) + ".");
    }
}

/// One switch; the key and value to set when it was used.
template <class Part>
void show_switch(Screen& screen, const char* word, PartKind kind, const Part& part, std::optional<std::string>& key) {
    if (!is_listed(part)) return;
    show_text(part_name(kind, escape_text(part.name, 40)));
    bool fitted = part.fitted;
    ImGui::PushID(word);
    if (ImGui::Checkbox("fitted", &fitted)) key = std::string(word) + ".fitted";
    ImGui::PopID();
    remember_place(screen, std::string(word) + ".fitted");
    screen.app.view.inputs.shown.insert(std::string(word) + ".fitted");
    if (part.fitted) say_effect(screen.app, kind);
}

}  // namespace

bool has_parts(const Setup& setup) {
    bool any = false;
    visit_parts(setup.parts, [&](const char*, const auto& part) { any = any || is_listed(part); });
    return any;
}

void show_parts(Screen& screen) {
    AppState& app = screen.app;
    show_heading(screen, "Add-on parts");
    std::optional<std::string> key;
    bool was_fitted = false;
    std::size_t place = 0;
    constexpr PartKind kinds[] = {PartKind::link_extender, PartKind::coupler, PartKind::overrunning_clutch, PartKind::spline_extender};
    visit_parts(app.now.setup.parts, [&](const char* word, const auto& part) {
        const bool had = key.has_value();
        show_switch(screen, word, kinds[place++], part, key);
        if (key && !had) was_fitted = part.fitted;
    });
    if (!key) return;
    const std::vector<Problem> problems = change_value(app, *key, was_fitted ? "false" : "true");
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

}  // namespace hitchwright
