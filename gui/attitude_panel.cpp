// Turn and dip sliders of a drawn implement, and what the shaft does there; the positions of the drawbar's pin.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/angle.h"
#include "gui/ditch_march.h"
#include "gui/ditch_place.h"
#include "gui/picture_buttons.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "report/drawbar_report.h"

namespace hitchwright {
namespace {

/// What an angle does to each side, and the slider's name.
struct SliderWords {
    const char* name;
    const char* positive;
    const char* negative;
};

/// The value stands beside the slider: its handle would cover it.
void show_slider(Screen& screen, const SliderWords& words, const AngleRange& range, double& angle) {
    float degrees = static_cast<float>(to_degrees(angle));
    ImGui::SetNextItemWidth(std::max(0.55F * ImGui::GetContentRegionAvail().x, 8.0F * screen.em()));
    ImGui::PushID(words.name);
    if (ImGui::SliderFloat("##angle", &degrees, static_cast<float>(to_degrees(range.low)), static_cast<float>(to_degrees(range.high)), " "))
        angle = to_radians(static_cast<double>(degrees));
    ImGui::PopID();
    remember_place(screen, words.name, FingerMove::across);
    ImGui::SameLine();
    const bool level = std::fabs(degrees) < 0.05F;
    show_text(level ? fmt::format("{}: none", words.name) : fmt::format("{}: {} {}", words.name, format_angle(std::fabs(angle)), angle > 0.0 ? words.positive : words.negative));
}

std::string room_words(const char* what, double metres, double needed, UnitSystem units) {
    const std::string size = format_length(std::fabs(metres), units, metres < 0.0 ? Rounding::up : Rounding::down);
    return fmt::format("{} {}{}{}", what, size, metres < 0.0 ? " short" : "", metres >= 0.0 && metres < needed ? ", too little" : "");
}

void show_shaft_state(Screen& screen, const DrawnAnalysis& d, const Attitude& a) {
    if (!d.model.has_shaft) return show_quiet_text("The shaft is not known: the findings say why.");
    const UnitSystem units = screen.app.view.units;
    const DrivelineState s = find_driveline_state(d.model, a);
    std::string text = fmt::format("Joint to joint {}. Joints {} and {}.", format_length(s.length, units), format_angle(s.tractor_angle),
                                   format_angle(s.implement_angle));
    if (d.has_plan)
        text += fmt::format(" {}; {}.", room_words("Gap", find_gap(d.model.halves, s.length), d.limits.gap_required, units),
                            room_words("overlap", find_overlap(d.model.halves, s.length), d.plan.uncut.overlap_needed, units));
    show_text(text, screen.fonts.bold, palette().ink);
}

/// Play and pause, a station at a time, how fast.
void show_march_buttons(Screen& screen) {
    AppState& app = screen.app;
    DitchMarch& march = app.view.act.march;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ButtonRows rows(screen, corner, ImGui::GetContentRegionAvail().x);
    if (rows.button(march.plays ? "Pause" : "Play", "Drives the machine through the ditch, or stops it there. Key: space, over the picture")) toggle_march(app);
    if (rows.button("Back a step", "1 1/8 in (30 mm) back along the way")) step_march(app, -1);
    if (rows.button("Step", "1 1/8 in (30 mm) forward along the way")) step_march(app, 1);
    for (std::size_t i = 0; i < march_speeds.size(); ++i) {
        const std::string word = fmt::format("{} m/s", march_speeds[i]);
        if (rows.choice(word.c_str(), "How fast it plays; the ground does not care", march.speed == static_cast<int>(i))) march.speed = static_cast<int>(i);
    }
    ImGui::SetCursorScreenPos({corner.x, corner.y + rows.bottom()});
}

/// A mark with its word over the slider shown last, where the way is worst.
void mark_worst_place(Screen& screen) {
    const MarchShares shares = find_march_shares(screen.app);
    if (!shares.worst) return;
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    // The slider goes from the far end on the left to the start on the right; its grab keeps half its width from both ends.
    const float grab = 0.5F * ImGui::GetStyle().GrabMinSize + 2.0F;
    const float x = most.x - grab - static_cast<float>(*shares.worst) * (most.x - least.x - 2.0F * grab), half = 0.3F * screen.em();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddLine({x, least.y}, {x, most.y}, palette().alarm, 0.16F * screen.em());
    list.AddTriangleFilled({x - half, least.y}, {x + half, least.y}, {x, least.y + 1.6F * half}, palette().alarm);
    if (ImGui::IsItemHovered()) show_hint(screen, "The thick mark: the worst place on the way");
}

/// Where on the way the machine stands: driving forward the slider goes from right to left, as the picture does.
void show_ditch_place(Screen& screen, const DrawnAnalysis& d) {
    AppState& app = screen.app;
    const std::vector<DitchStation>& stations = d.ditch->study->ways.front().stations;
    const double first = stations.front().pose.place, last = stations.back().pose.place;
    const DitchStation shown = *find_shown_station(app);
    show_march_buttons(screen);
    float place = static_cast<float>(shown.pose.place);
    ImGui::SetNextItemWidth(std::max(0.55F * ImGui::GetContentRegionAvail().x, 8.0F * screen.em()));
    if (ImGui::SliderFloat("##place", &place, static_cast<float>(std::min(first, last)), static_cast<float>(std::max(first, last)), " ")) {
        app.view.ditch_place = static_cast<double>(place);
        if (app.view.act.march.plays) toggle_march(app);
    }
    remember_place(screen, "place on the way", FingerMove::across);
    mark_worst_place(screen);
    ImGui::SameLine();
    const bool before = shown.pose.place > 0.0;
    show_text(fmt::format("rear axle {} {} the middle{}", format_length(std::fabs(shown.pose.place), app.view.units), before ? "before" : "past",
                          app.view.ditch_place ? "" : ": the worst place"));
    const Attitude& a = shown.pose.relative;
    std::string text = fmt::format("Against the tractor the implement stands {} rear {}", format_angle(std::fabs(a.pitch)), a.pitch < 0.0 ? "down" : "up");
    if (std::fabs(to_degrees(a.roll)) >= 0.05) text += fmt::format(", {} {} side up", format_angle(std::fabs(a.roll)), a.roll > 0.0 ? "right" : "left");
    show_text(text + ".");
    show_shaft_state(screen, d, a);
}

std::string fit_word(ShaftFit fit) {
    switch (fit) {
        case ShaftFit::fits: return "as it is";
        case ShaftFit::after_cut: return "after a cut";
        case ShaftFit::not_known: return "not known";
        case ShaftFit::no_cut_works: return "no cut works";
    }
    return "not known";
}

}  // namespace

float find_attitude_height(const Screen& screen) {
    const float line = ImGui::GetTextLineHeightWithSpacing();
    return 4.0F * ImGui::GetFrameHeightWithSpacing() + 2.0F * line + 2.0F * ImGui::GetStyle().WindowPadding.y + 0.0F * screen.em();
}

void show_attitude(Screen& screen) {
    AppState& app = screen.app;
    const DrawnAnalysis& d = *app.results.analysis.drawn;
    if (app.view.drawn_picture == DrawnPicture::ditch && find_shown_station(app)) return show_ditch_place(screen, d);
    Attitude a = app.view.attitude ? *app.view.attitude : Attitude{d.model.level_pitch, 0.0, 0.0};
    const Attitude before = a;
    show_slider(screen, {"turn", "to the right", "to the left"}, d.model.box.yaw, a.yaw);
    show_slider(screen, {"dip", "rear up", "rear down"}, d.model.box.pitch, a.pitch);
    show_slider(screen, {"roll", "right side up", "left side up"}, d.model.box.roll, a.roll);
    if (!(a == before)) app.view.attitude = a;
    show_shaft_state(screen, d, a);
}

float find_position_height(const Screen& screen) {
    const auto rows = static_cast<float>(std::min<std::size_t>(screen.app.results.analysis.drawn->positions.pins.size(), 5));
    return (3.5F + rows) * (ImGui::GetTextLineHeightWithSpacing() + 4.0F) + 2.0F * ImGui::GetStyle().WindowPadding.y;
}

namespace {

constexpr std::size_t position_columns = 4;
constexpr const char* position_titles[position_columns] = {"position", "length", "shaft", "split"};
using PositionCells = std::array<std::string, position_columns>;

PositionCells cells_of(const AppState& app, const PinStudy& p) {
    const DrawnModel& m = app.results.analysis.drawn->model;
    const double split = std::fabs(p.at_turn.tractor_angle - p.at_turn.implement_angle);
    return {(p.pin == m.pin ? "> " : "   ") + escape_text(p.name, 20), format_length(p.length, app.view.units), fit_word(p.fit),
            m.has_shaft ? format_angle(split, Rounding::up) : std::string("-")};
}

/// How many columns find room, from the left; the hint of a row says them all.
std::size_t count_fitting_columns(const std::vector<PositionCells>& rows, float room) {
    float sum = ImGui::GetStyle().ScrollbarSize;
    for (std::size_t i = 0; i < position_columns; ++i) {
        float width = ImGui::CalcTextSize(position_titles[i]).x;
        for (const PositionCells& cells : rows) width = std::max(width, ImGui::CalcTextSize(cells[i].c_str()).x);
        sum += width + 2.0F * ImGui::GetStyle().CellPadding.x;
        if (sum > room) return std::max<std::size_t>(i, 1);
    }
    return position_columns;
}

/// One row; true when it was clicked.
bool show_position(Screen& screen, const PinStudy& pin, const PositionCells& cells, std::size_t columns) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    const bool present = pin.pin == screen.app.results.analysis.drawn->model.pin;
    const bool clicked = ImGui::Selectable(fmt::format("{}##{}", cells[0], pin.pin).c_str(), present, ImGuiSelectableFlags_SpanAllColumns, {0.0F, find_target(screen)});
    remember_place(screen, "position " + escape_text(pin.name, 20));
    if (ImGui::IsItemHovered())
        show_hint(screen, fmt::format("Length {}; shaft: {}; joint angles differ by {} in the sharpest turn.", cells[1], cells[2], cells[3]));
    for (std::size_t i = 1; i < columns; ++i) {
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(cells[i].c_str());
    }
    return clicked;
}

}  // namespace

void show_positions(Screen& screen) {
    AppState& app = screen.app;
    show_heading(screen, "Drawbar positions, best first: a click moves the pin");
    const DrawbarStudy& study = app.results.analysis.drawn->positions;
    std::vector<PositionCells> rows;
    for (const PinStudy& p : study.pins) rows.push_back(cells_of(app, p));
    const std::size_t columns = count_fitting_columns(rows, ImGui::GetContentRegionAvail().x);
    // Tables of other columns are other tables: widths are kept by name.
    const std::string name = fmt::format("positions {}", columns);
    if (!ImGui::BeginTable(name.c_str(), static_cast<int>(columns), ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_BordersInnerH)) return;
    for (std::size_t i = 0; i < columns; ++i) ImGui::TableSetupColumn(position_titles[i]);
    ImGui::TableHeadersRow();
    std::string wanted;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (show_position(screen, study.pins[i], rows[i], columns)) wanted = study.pins[i].name;
    }
    ImGui::EndTable();
    if (wanted.empty()) return;
    const std::vector<Problem> problems = change_value(app, "choices.drawbar_pin", wanted);
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

}  // namespace hitchwright
