#include "gui/measure_hint_view.h"

#include <cfloat>

#include <fmt/format.h>

#include "gui/field_edits.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "report/card_words.h"
#include "report/measure_sketch.h"

namespace hitchwright {
namespace {

constexpr float tooltip_ems = 26.0F, sketch_share = 0.55F;

std::string join(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
    return text;
}

std::string say_allowed(const SetupEntry& e, UnitSystem units) {
    switch (e.form) {
        case CardForm::quantity:
            return fmt::format("Possible: {} to {}.", show_quantity(e.spec.least, e.spec.dimension, units), show_quantity(e.spec.most, e.spec.dimension, units));
        case CardForm::whole:
        case CardForm::whole_list:
            return fmt::format("Possible: {}whole numbers from {} to {}.", e.form == CardForm::whole ? "" : "one or several ", e.least, e.most);
        case CardForm::word:
            return "One of: " + join(e.words) + ".";
        case CardForm::name:
        case CardForm::flag:
            break;
    }
    return {};
}

/// How the value came into the set-up.
std::string say_source(const AppState& app, const SetupEntry& e) {
    const auto found = app.now.notes.find(e.key);
    if (found == app.now.notes.end()) return {};
    const FieldNote& n = found->second;
    std::string text;
    if (n.by_default) text = "Nobody gave it; assumed: " + escape_text(n.note, 200);
    else {
        text = n.file == "--set" ? "Changed here" : "From " + escape_text(n.file, 200);
        if (n.line > 0) text += fmt::format(", line {}", n.line);
        if (!n.typed.empty()) text += ": \"" + escape_text(n.typed, 80) + "\"";
        if (!n.note.empty()) text += " (" + escape_text(n.note, 200) + ")";
    }
    return text + ".";
}

void show_sketch(Screen& screen, const SetupEntry& e) {
    if (e.form == CardForm::flag) return;
    const bool drawn = screen.app.now.setup.implement.attachment == Attachment::drawn;
    const std::string value = show_entry_value(screen.app, e);
    const ScreenTextMeasure measure(screen.fonts);
    const double width = screen.room_mm();
    const auto page = draw_measure_sketch(e.pattern, drawn, value.empty() || value.size() > 24 ? "?" : value, width, static_cast<double>(sketch_share) * width, measure);
    if (!page) return;
    const float ppm = screen.fonts.pixels_per_mm;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const ImVec2 size{static_cast<float>(page->width_mm) * ppm, static_cast<float>(page->height_mm) * ppm};
    ImGui::GetWindowDrawList()->AddRectFilled(corner, {corner.x + size.x, corner.y + size.y}, palette().paper);
    draw_page(*ImGui::GetWindowDrawList(), page->shapes, {corner, ppm}, screen.fonts);
    ImGui::Dummy(size);
    remember_place(screen, "sketch " + e.pattern);
    show_quiet_text(page->title + " Not to scale.");
}

}  // namespace

void show_measure_hint(Screen& screen, const SetupEntry& e) {
    const UnitSystem units = screen.app.view.units;
    show_text(e.what, screen.fonts.bold, palette().ink);
    show_sketch(screen, e);
    if (e.form == CardForm::quantity && e.spec.tolerance > 0.0)
        show_text("Usual error: +- " + show_quantity(e.spec.tolerance, e.spec.dimension, units) + ". Another one is typed behind the value: +- 1/4 in.");
    const std::string allowed = say_allowed(e, units), source = say_source(screen.app, e);
    if (!allowed.empty()) show_text(allowed);
    if (!source.empty()) show_quiet_text(source);
    if (e.form == CardForm::quantity && e.place.station != Station::none) {
        for (const std::string& caution : station_cautions(e.place.station)) show_warning(caution);
    }
    show_quiet_text(e.key);
}

void show_measure_tooltip(Screen& screen, const SetupEntry& e) {
    const float share = screen.app.view.column.on ? 0.9F : 0.6F;
    const float width = std::min(tooltip_ems * screen.em(), share * ImGui::GetIO().DisplaySize.x);
    ImGui::SetNextWindowSizeConstraints({width, 0.0F}, {width, FLT_MAX});
    if (!begin_hint(screen)) return;
    show_measure_hint(screen, e);
    ImGui::EndTooltip();
}

}  // namespace hitchwright
