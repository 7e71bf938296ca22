// Turn and dip sliders of a drawn implement, and what the shaft does there; the positions of the drawbar's pin.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "gui/ditch_place.h"
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
    remember_place(screen, words.name);
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

/// Where on the way the machine stands: driving forward the slider goes from right to left, as the picture does.
void show_ditch_place(Screen& screen, const DrawnAnalysis& d) {
    AppState& app = screen.app;
    const std::vector<DitchStation>& stations = d.ditch->study->ways.front().stations;
    const double first = stations.front().pose.place, last = stations.back().pose.place;
    const DitchStation shown = *find_shown_station(app);
    float place = static_cast<float>(shown.pose.place);
    ImGui::SetNextItemWidth(std::max(0.55F * ImGui::GetContentRegionAvail().x, 8.0F * screen.em()));
    if (ImGui::SliderFloat("##place", &place, static_cast<float>(std::min(first, last)), static_cast<float>(std::max(first, last)), " "))
        app.view.ditch_place = static_cast<double>(place);
    remember_place(screen, "place on the way");
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
    return 3.0F * ImGui::GetFrameHeightWithSpacing() + 2.0F * line + 2.0F * ImGui::GetStyle().WindowPadding.y + 0.0F * screen.em();
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

void show_positions(Screen& screen) {
    AppState& app = screen.app;
    show_heading(screen, "Drawbar positions, best first: a click moves the pin");
    const DrawbarStudy& study = app.results.analysis.drawn->positions;
    if (!ImGui::BeginTable("positions", 4, ImGuiTableFlags_SizingFixedFit | ImGuiTableFlags_BordersInnerH)) return;
    for (const char* column : {"position", "length", "shaft", "split"}) ImGui::TableSetupColumn(column);
    ImGui::TableHeadersRow();
    std::string wanted;
    for (const PinStudy& p : study.pins) {
        const bool present = p.pin == app.results.analysis.drawn->model.pin;
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        const std::string name = escape_text(p.name, 20);
        if (ImGui::Selectable(fmt::format("{} {}##{}", present ? ">" : "  ", name, p.pin).c_str(), present, ImGuiSelectableFlags_SpanAllColumns)) wanted = p.name;
        remember_place(screen, "position " + name);
        const double split = std::fabs(p.at_turn.tractor_angle - p.at_turn.implement_angle);
        for (const std::string& cell : {format_length(p.length, app.view.units), fit_word(p.fit), p.model.has_shaft ? format_angle(split, Rounding::up) : std::string("-")}) {
            ImGui::TableNextColumn();
            ImGui::TextUnformatted(cell.c_str());
        }
    }
    ImGui::EndTable();
    if (wanted.empty()) return;
    const std::vector<Problem> problems = change_value(app, "choices.drawbar_pin", wanted);
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

}  // namespace hitchwright
