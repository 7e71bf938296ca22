// The hole table: every upper-link hole of the tractor with every hole of the mast and of the lift rods, side by side.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <tuple>

#include "gui/palette.h"
#include "gui/panels.h"

namespace hitchwright {
namespace {

constexpr std::size_t rows_in_view = 6;
constexpr std::size_t columns = 7;
constexpr const char* titles[columns] = {"tractor", "mast", "rank", "stands", "link", "at top", "joint"};
/// Which columns give way where there is no room, the first one first; a row's hint has them all.
constexpr std::size_t less_needed[] = {5, 6, 4, 2};

/// How a combination stands in a word or two, for a narrow column; in full in the hint.
struct StandingWords {
    const char* brief;
    const char* full;
};
StandingWords words_of(HoleStanding standing) {
    switch (standing) {
        case HoleStanding::fits:
            return {"fits", "Fits as it is, conditions included"};
        case HoleStanding::cut:
            return {"cut", "Fits after the shaft is cut"};
        case HoleStanding::change:
            return {"change", "Fits after a change"};
        case HoleStanding::not_decided:
            return {"not decided", "Too close to call, or a reading is missing"};
        case HoleStanding::other_shaft:
            return {"other shaft", "Must not run with this shaft: its length forbids it"};
        case HoleStanding::link_out_of_reach:
            return {"link short", "The upper link cannot be set to that length"};
        case HoleStanding::must_not_run:
            return {"MUST NOT", "Must not run"};
        case HoleStanding::does_not_close:
            break;
    }
    return {"open", "The linkage does not get through the travel"};
}

std::string signed_angle(double radians) {
    const std::string text = format_angle(radians);
    return radians > 0.0 && text != "0.0 deg" ? "+" + text : text;
}

std::array<std::string, columns> cells_of(const HoleResult& r, UnitSystem units) {
    const HoleNumbers& n = r.numbers;
    std::array<std::string, columns> cells{escape_text(n.tractor_pin, 16), escape_text(n.mast_pin, 16),
                                           std::to_string(r.place),        words_of(r.standing).brief,
                                           "-",                            "-",
                                           "-"};
    if (!n.rod_hole.empty()) cells[1] += ", rod " + escape_text(n.rod_hole, 16);
    if (!n.has_numbers) return cells;
    cells[4] = format_length(n.upper_length, units);
    cells[5] = signed_angle(n.pitch_top);
    if (n.shaft) cells[6] = format_angle(n.shaft->travel_angle.bound, Rounding::up);
    return cells;
}

using Cells = std::array<std::string, columns>;
using ShownColumns = std::array<bool, columns>;

std::string row_start(bool present) { return present ? "> " : "   "; }

/// The columns for which there is room.
ShownColumns choose_columns(const std::vector<Cells>& rows, float room) {
    std::array<float, columns> width{};
    float sum = ImGui::GetStyle().ScrollbarSize;
    for (std::size_t i = 0; i < columns; ++i) {
        width[i] = ImGui::CalcTextSize(titles[i]).x;
        for (const Cells& cells : rows)
            width[i] = std::max(width[i], ImGui::CalcTextSize((i == 0 ? row_start(false) + cells[i] : cells[i]).c_str()).x);
        width[i] += 2.0F * ImGui::GetStyle().CellPadding.x;
        sum += width[i];
    }
    ShownColumns shown;
    shown.fill(true);
    for (const std::size_t i : less_needed) {
        if (sum <= room) break;
        shown[i] = false;
        sum -= width[i];
    }
    return shown;
}

void show_row_hint(const HoleResult& result, const Cells& cells) {
    ImGui::SetTooltip("%s.\nHole %s on the tractor, %s on the mast; rank %s.\nUpper link %s, pitch fully raised %s, greatest joint angle %s.",
                      words_of(result.standing).full, cells[0].c_str(), cells[1].c_str(), cells[2].c_str(), cells[4].c_str(),
                      cells[5].c_str(), cells[6].c_str());
}

/// One row; true when it was clicked.
bool show_row(Screen& screen, const HoleResult& result, const Cells& cells, const ShownColumns& shown) {
    const HoleCombination& holes = result.numbers.holes;
    const bool present = is_chosen(screen.app.now.setup, holes);
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    // In use is said by a mark, not by the shade alone.
    const std::string label = fmt::format("{}{}##{}/{}/{}", row_start(present), cells[0], holes.tractor_pin, holes.mast_pin, holes.rod_hole);
    const bool clicked = ImGui::Selectable(label.c_str(), present, ImGuiSelectableFlags_SpanAllColumns);
    remember_place(screen, fmt::format("hole {}/{}", cells[0], cells[1]));
    if (present && ImGui::IsWindowAppearing()) ImGui::SetScrollHereY();
    if (ImGui::IsItemHovered()) show_row_hint(result, cells);
    for (std::size_t i = 1; i < cells.size(); ++i) {
        if (!shown[i]) continue;
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(cells[i].c_str());
    }
    return clicked;
}

/// Rows in the order of the machine, so that a click moves none; the rank stands beside them.
std::vector<const HoleResult*> list_rows(const HoleStudy& study) {
    std::vector<const HoleResult*> rows;
    for (const HoleResult& r : study.results) rows.push_back(&r);
    const auto key = [](const HoleResult* r) { return std::tuple(r->numbers.holes.tractor_pin, r->numbers.holes.mast_pin, r->numbers.holes.rod_hole); };
    std::sort(rows.begin(), rows.end(), [&](const HoleResult* a, const HoleResult* b) { return key(a) < key(b); });
    return rows;
}

std::string say_no_rows(const HoleStudy& study) {
    if (study.combinations > most_hole_combinations)
        return fmt::format("{} combinations of holes are more than any machine has: none were studied.", study.combinations);
    return "No holes can be compared: the findings say what is missing.";
}

}  // namespace

float find_hole_height(const Screen& screen) {
    const std::size_t rows = std::min(screen.app.results.holes.results.size(), rows_in_view) + 1;
    const float row = ImGui::GetTextLineHeight() + 2.0F * ImGui::GetStyle().CellPadding.y;
    return (static_cast<float>(rows) + 0.6F) * row + 2.6F * ImGui::GetTextLineHeightWithSpacing();
}

void show_holes(Screen& screen) {
    AppState& app = screen.app;
    const HoleStudy& study = app.results.holes;
    show_heading(screen, "Upper-link holes: a click switches");
    if (study.results.empty()) return show_quiet_text(say_no_rows(study));
    if (study.typed_link_ignored) show_quiet_text("Compared with the link set for the working pitch, not as typed.");
    const std::vector<const HoleResult*> rows = list_rows(study);
    std::vector<Cells> cells;
    cells.reserve(rows.size());
    for (const HoleResult* row : rows) cells.push_back(cells_of(*row, app.view.units));
    const ShownColumns shown = choose_columns(cells, ImGui::GetContentRegionAvail().x);
    const auto count = static_cast<int>(std::count(shown.begin(), shown.end(), true));
    constexpr ImGuiTableFlags flags = ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY | ImGuiTableFlags_SizingFixedFit;
    // Tables of other columns are other tables: widths are kept by name.
    if (!ImGui::BeginTable(fmt::format("holes {}", count).c_str(), count, flags)) return;
    ImGui::TableSetupScrollFreeze(0, 1);
    for (std::size_t i = 0; i < columns; ++i) {
        if (shown[i]) ImGui::TableSetupColumn(titles[i]);
    }
    ImGui::TableHeadersRow();
    std::optional<HoleCombination> clicked;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (show_row(screen, *rows[i], cells[i], shown)) clicked = rows[i]->numbers.holes;
    }
    ImGui::EndTable();
    remember_place(screen, "holes");
    if (!clicked) return;
    const std::vector<Problem> problems = change_holes(app, *clicked);
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

}  // namespace hitchwright
