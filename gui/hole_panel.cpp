// The hole table: every upper-link hole of the tractor with every hole of the mast and of the lift rods, side by side.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numeric>
#include <optional>
#include <tuple>

#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"

namespace hitchwright {
namespace {

constexpr std::size_t rows_in_view = 6;
constexpr std::size_t columns = 8, stands_column = 3, link_column = 4, curve_column = 7;
constexpr const char* titles[columns] = {"tractor", "mast", "rank", "stands", "link", "at top", "joint", "pitch over travel"};
/// Which columns give way where there is no room, the first one first; a row's hint has them all.
constexpr std::size_t less_needed[] = {6, 5, 4, 7, 2};
constexpr float curve_ems = 7.0F, tall_row_ems = 3.0F;  // of a pitch curve: width; height of a row that has room for it

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
                                           "-",                            ""};
    if (!n.rod_hole.empty()) cells[1] += ", rod " + escape_text(n.rod_hole, 16);
    if (!n.has_numbers) return cells;
    cells[4] = format_length(n.upper_length, units);
    cells[5] = signed_angle(n.pitch_top);
    if (n.shaft) cells[6] = format_angle(n.shaft->travel_angle.bound, Rounding::up);
    return cells;
}

using Cells = std::array<std::string, columns>;
using ColumnWidths = std::array<float, columns>;

std::string row_start(bool present) { return present ? "> " : "   "; }

/// Below how a pair stands, where rows are tall and the link's length has no column of its own.
std::string second_line(const Cells& cells) { return cells[link_column] == "-" ? "" : "link " + cells[link_column]; }

/// Width of each column without its padding, pixels; 0: there is no room for it.
ColumnWidths choose_columns(const std::vector<Cells>& rows, float room, float curve_width, bool tall) {
    ColumnWidths width{};
    const float padding = 2.0F * ImGui::GetStyle().CellPadding.x;
    float sum = ImGui::GetStyle().ScrollbarSize;
    for (std::size_t i = 0; i < columns; ++i) {
        width[i] = ImGui::CalcTextSize(titles[i]).x;
        for (const Cells& cells : rows)
            width[i] = std::max(width[i], ImGui::CalcTextSize((i == 0 ? row_start(true) + cells[i] : cells[i]).c_str()).x);
        if (i == curve_column) width[i] = std::max(width[i], curve_width);
        if (i == stands_column && tall) {
            for (const Cells& cells : rows) width[i] = std::max(width[i], ImGui::CalcTextSize(second_line(cells).c_str()).x);
        }
        sum += width[i] + padding;
    }
    for (const std::size_t i : less_needed) {
        if (sum <= room) break;
        sum -= width[i] + padding;
        width[i] = 0.0F;
    }
    return width;
}

/// How rows are drawn.
struct RowForm {
    ColumnWidths widths{};
    bool shows(std::size_t column) const { return widths[column] > 0.0F; }
    bool tall = false;  ///< with room for a second line, and for a curve that says more
    float height = 0.0F, curve_width = 0.0F;
};

/// The pitch over the travel as a small line: level dashed, a ring at the working height. All rows have one scale.
void draw_curve(Screen& screen, const HoleResult& result, const std::vector<PitchPoint>& curve, ImVec2 corner, ImVec2 size) {
    const HoleCurves& all = screen.app.hole_table.curves;
    if (curve.size() < 2) return;
    const float margin = 0.2F * screen.em();
    const auto share = [](double value, double low, double high) { return static_cast<float>((value - low) / std::max(high - low, 1e-9)); };
    const auto place = [&](double height, double pitch) {
        return ImVec2{corner.x + margin + share(height, all.height_low, all.height_high) * (size.x - 2.0F * margin),
                      corner.y + size.y - margin - share(pitch, all.pitch_low, all.pitch_high) * (size.y - 2.0F * margin)};
    };
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImU32 ink = ImGui::GetColorU32(ImGuiCol_Text);  // of the row: quiet while it is old
    constexpr std::array<double, 2> dashes{1.1, 0.9};
    draw_dashed(list, {place(all.height_low, 0.0), place(all.height_high, 0.0)}, false, dashes, screen.fonts.pixels_per_mm, palette().quiet, 1.0F);
    std::vector<ImVec2> points;
    for (const PitchPoint& p : curve) points.push_back(place(p.ball_height, p.pitch));
    list.AddPolyline(points.data(), static_cast<int>(points.size()), ink, ImDrawFlags_None, 0.13F * screen.em());
    if (!result.numbers.pitch_working) return;
    const ImVec2 at = place(result.analysis.linkage->model.working_height, *result.numbers.pitch_working);
    list.AddCircleFilled(at, 0.22F * screen.em(), palette().paper);
    list.AddCircle(at, 0.22F * screen.em(), ink, 0, 0.1F * screen.em());
}

void show_curve(Screen& screen, const HoleResult& result, std::size_t index, const Cells& cells, const RowForm& form) {
    ImGui::TableNextColumn();
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::Dummy({form.curve_width, form.height});
    remember_place(screen, fmt::format("pitch curve {}/{}", cells[0], cells[1]));
    draw_curve(screen, result, screen.app.hole_table.curves.curves[index], corner, {form.curve_width, form.height});
}

void show_row_hint(Screen& screen, const HoleResult& result, const Cells& cells) {
    show_hint(screen, fmt::format("{}.\nHole {} on the tractor, {} on the mast; rank {}.\nUpper link {}, pitch fully raised {}, greatest joint angle {}.",
                          words_of(result.standing).full, cells[0], cells[1], cells[2], cells[4], cells[5], cells[6]));
}

/// The heading keeps its words, so that no row moves under the cursor.
std::string say_progress(const HoleTable& table) {
    if (!table.search) return "Being compared.";
    const std::string rows = table.study.results.empty() ? "" : " The rows are from before the change.";
    return fmt::format("Being compared: {} of {}.{}", std::min(table.search->done() + 1, table.search->total()), table.search->total(), rows);
}

/// One row; true when it was clicked.
bool show_row(Screen& screen, const HoleResult& result, std::size_t index, const Cells& cells, const RowForm& form) {
    const HoleCombination& holes = result.numbers.holes;
    const bool present = is_chosen(screen.app.now.setup, holes);
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    // In use is said by a mark, not by the shade alone.
    const std::string label = fmt::format("{}{}##{}/{}/{}", row_start(present), cells[0], holes.tractor_pin, holes.mast_pin, holes.rod_hole);
    const bool clicked = ImGui::Selectable(label.c_str(), present, ImGuiSelectableFlags_SpanAllColumns, {0.0F, form.height});
    remember_place(screen, fmt::format("hole {}/{}", cells[0], cells[1]));
    if (present && ImGui::IsWindowAppearing()) ImGui::SetScrollHereY();
    const bool focused = ImGui::IsItemFocused() && ImGui::GetIO().NavVisible;
    if (ImGui::IsItemHovered() || focused) screen.app.view.compare.hovered = holes;
    if (ImGui::IsItemHovered()) is_compared(screen.app) ? show_row_hint(screen, result, cells) : show_hint(screen, say_progress(screen.app.hole_table));
    for (std::size_t i = 1; i < curve_column; ++i) {
        if (!form.shows(i)) continue;
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(cells[i].c_str());
        if (i == stands_column && form.tall && !form.shows(link_column)) ImGui::TextUnformatted(second_line(cells).c_str());
    }
    if (form.shows(curve_column)) show_curve(screen, result, index, cells, form);
    return clicked;
}

/// Places in the study, in the order of the machine, so that a click moves none; the rank stands beside them.
std::vector<std::size_t> list_rows(const HoleStudy& study) {
    std::vector<std::size_t> rows(study.results.size());
    std::iota(rows.begin(), rows.end(), std::size_t{0});
    const auto key = [&](std::size_t i) {
        const HoleCombination& h = study.results[i].numbers.holes;
        return std::tuple(h.tractor_pin, h.mast_pin, h.rod_hole);
    };
    std::sort(rows.begin(), rows.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
    return rows;
}

/// Rows grow where all of them find room, so that the curves say more.
RowForm choose_form(const Screen& screen, const std::vector<Cells>& cells) {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float padding = 2.0F * ImGui::GetStyle().CellPadding.y, tall = tall_row_ems * screen.em();
    RowForm form;
    form.curve_width = curve_ems * screen.em();
    const float header = ImGui::GetTextLineHeight() + padding;
    // In one column the rows have all the height they want.
    const bool high = screen.app.view.column.on || header + static_cast<float>(cells.size()) * (tall + padding) <= room.y;
    form.widths = choose_columns(cells, room.x, form.curve_width, high);
    form.tall = high && (form.shows(curve_column) || !form.shows(link_column));
    form.height = make_target(screen, form.tall ? tall : ImGui::GetTextLineHeight());
    return form;
}

std::string say_no_rows(const HoleStudy& study) {
    if (study.combinations > most_hole_combinations)
        return fmt::format("{} combinations of holes are more than any machine has: none were studied.", study.combinations);
    return "No holes can be compared: the findings say what is missing.";
}

}  // namespace

float find_hole_height(const Screen& screen) {
    const Setup& setup = screen.app.now.setup;
    const std::size_t rows = std::min(list_hole_combinations(setup).size(), rows_in_view) + 1;
    const float row = ImGui::GetTextLineHeight() + 2.0F * ImGui::GetStyle().CellPadding.y;
    return (static_cast<float>(rows) + 0.6F) * row + 2.6F * ImGui::GetTextLineHeightWithSpacing();
}

void show_holes(Screen& screen) {
    AppState& app = screen.app;
    want_hole_table(app);
    const HoleStudy& study = app.hole_table.study;
    show_heading(screen, "Upper-link holes: a click switches");
    if (study.results.empty()) return show_quiet_text(is_compared(app) ? say_no_rows(study) : say_progress(app.hole_table));
    if (study.typed_link_ignored) show_quiet_text("Compared with the link set for the working pitch, not as typed.");
    const std::vector<std::size_t> rows = list_rows(study);
    std::vector<Cells> cells;
    cells.reserve(rows.size());
    for (const std::size_t row : rows) cells.push_back(cells_of(study.results[row], app.view.units));
    const RowForm form = choose_form(screen, cells);
    const auto count = static_cast<int>(columns) - static_cast<int>(std::count(form.widths.begin(), form.widths.end(), 0.0F));
    const ImGuiTableFlags scrolls = app.view.column.on ? ImGuiTableFlags_None : ImGuiTableFlags_ScrollY;
    const ImGuiTableFlags flags = ImGuiTableFlags_BordersInnerH | scrolls | ImGuiTableFlags_SizingFixedFit;
    // Tables of other columns are other tables: widths are kept by name.
    if (!ImGui::BeginTable(fmt::format("holes {} {}", count, scrolls).c_str(), count, flags)) return;
    if (scrolls != 0) ImGui::TableSetupScrollFreeze(0, 1);
    // With the width said, since what fits the contents is known to a table only after it was drawn.
    for (std::size_t i = 0; i < columns; ++i) {
        if (form.shows(i)) ImGui::TableSetupColumn(titles[i], ImGuiTableColumnFlags_WidthFixed, form.widths[i]);
    }
    ImGui::TableHeadersRow();
    std::optional<HoleCombination> clicked;
    ImGui::PushStyleColor(ImGuiCol_Text, is_compared(app) ? palette().ink : palette().quiet);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (show_row(screen, study.results[rows[i]], rows[i], cells[i], form)) clicked = study.results[rows[i]].numbers.holes;
    }
    ImGui::PopStyleColor();
    ImGui::EndTable();
    remember_place(screen, "holes");
    if (!clicked) return;
    const std::vector<Problem> problems = change_holes(app, *clicked);
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

}  // namespace hitchwright
