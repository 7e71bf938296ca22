// The hole table: every upper-link hole of the tractor with every hole of the mast, side by side.
#include <fmt/format.h>

#include <array>

#include "gui/palette.h"
#include "gui/panels.h"
#include "report/finding_text.h"

namespace hitchwright {
namespace {

constexpr std::size_t rows_in_view = 6;
constexpr std::size_t columns = 6;

/// The verdict in a word or two, for a narrow column.
const char* short_verdict(Verdict verdict) {
    switch (verdict) {
        case Verdict::fits:
            return "fits";
        case Verdict::fits_after_change:
            return "change";
        case Verdict::must_not_run:
            return "MUST NOT";
        case Verdict::too_close_to_call:
            return "too close";
        case Verdict::not_known:
            break;
    }
    return "not known";
}

std::string signed_angle(double radians) {
    const std::string text = format_angle(radians);
    return radians > 0.0 && text != "0.0 deg" ? "+" + text : text;
}

std::array<std::string, columns> cells_of(const AppState& app, const HoleChoice& c) {
    const Setup& s = app.now.setup;
    std::string length = c.upper_link_length ? format_length(*c.upper_link_length, app.view.units) : "-";
    if (!c.within_reach) length += ", out of reach";
    return {escape_text(s.tractor.upper_link_pins[c.tractor_pin].name, 16),
            escape_text(s.implement.mast_pins[c.mast_pin].name, 16),
            short_verdict(c.verdict),
            length,
            c.pitch_at_top ? signed_angle(*c.pitch_at_top) : "-",
            c.worst_joint_angle ? format_angle(*c.worst_joint_angle, Rounding::up) : "-"};
}

/// One row; true when it was clicked.
bool show_row(Screen& screen, const HoleChoice& choice) {
    const std::array<std::string, columns> cells = cells_of(screen.app, choice);
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    // In use is said by a mark, not by the shade alone.
    const std::string label = fmt::format("{} {}##{}/{}", choice.chosen ? ">" : "  ", cells[0], choice.tractor_pin,
                                          choice.mast_pin);
    const bool clicked = ImGui::Selectable(label.c_str(), choice.chosen, ImGuiSelectableFlags_SpanAllColumns);
    remember_place(screen, fmt::format("hole {}/{}", cells[0], cells[1]));
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip("%s\nUpper link %s, pitch fully raised %s, greatest joint angle %s",
                          std::string(verdict_headline(choice.verdict)).c_str(), cells[3].c_str(), cells[4].c_str(),
                          cells[5].c_str());
    for (std::size_t i = 1; i < cells.size(); ++i) {
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(cells[i].c_str());
    }
    return clicked;
}

}  // namespace

float find_hole_height(const Screen& screen) {
    const std::size_t rows = std::min(screen.app.results.holes.size(), rows_in_view) + 1;
    const float row = ImGui::GetTextLineHeight() + 2.0F * ImGui::GetStyle().CellPadding.y;
    return (static_cast<float>(rows) + 0.6F) * row + 2.6F * ImGui::GetTextLineHeightWithSpacing();
}

void show_holes(Screen& screen) {
    AppState& app = screen.app;
    show_heading(screen, "Upper-link holes: a click switches");
    if (app.results.holes.empty()) return show_quiet_text("No holes are listed for these machines.");
    constexpr ImGuiTableFlags flags = ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                                      ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_ScrollX;
    if (!ImGui::BeginTable("holes", static_cast<int>(columns), flags)) return;
    ImGui::TableSetupScrollFreeze(0, 1);
    for (const char* title : {"tractor", "mast", "verdict", "link", "at top", "joint"})
        ImGui::TableSetupColumn(title);
    ImGui::TableHeadersRow();
    const HoleChoice* clicked = nullptr;
    for (const HoleChoice& choice : app.results.holes) {
        if (show_row(screen, choice)) clicked = &choice;
    }
    ImGui::EndTable();
    if (clicked == nullptr) return;
    const HoleChoice choice = *clicked;
    const std::vector<Problem> problems = change_holes(app, choice);
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

}  // namespace hitchwright
