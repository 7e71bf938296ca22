// The lift slider: ball height over the travel, with one track for each thing that can be wrong (travel_tracks.h). Bands on
// a track say by form how bad it is; the words beside it give the number of the position shown.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/pose_report.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/travel_tracks.h"

namespace hitchwright {
namespace {

constexpr float usual_em = 13.0F;            // pixels; what fixed sizes are given for
constexpr double step_share = 1.0 / 200.0;  // of the travel, for the arrow keys

constexpr float usual_row = 8.0F, tight_row = 3.0F;  // points between the text of one row and the next
constexpr float track_share = 0.36F;  // of the panel's width that words leave to the tracks

float find_row_height(const Screen& screen, float between) { return ImGui::GetTextLineHeight() + between * screen.em() / usual_em; }

/// Where the tracks lie, pixels.
struct TrackLayout {
    float left = 0.0F, right = 0.0F;
    float row = 0.0F, bar = 0.0F;  ///< height of a row, and of the track in it
    float unit = 1.0F;             ///< a point of a usual screen
    HeightRange travel;

    float to_x(double height) const {
        const double share = (height - travel.low) / std::max(travel.high - travel.low, 1e-9);
        return left + static_cast<float>(share) * (right - left);
    }
    double to_height(float x) const {
        const double share = std::clamp(static_cast<double>((x - left) / std::max(right - left, 1.0F)), 0.0, 1.0);
        return travel.low + share * (travel.high - travel.low);
    }
};

/// A box with the fill and hatch of a role.
void draw_band(Screen& screen, Role role, ImVec2 least, ImVec2 most) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float ppm = screen.fonts.pixels_per_mm;
    const std::vector<PagePoint> area{{0.0, 0.0},
                                      {static_cast<double>((most.x - least.x) / ppm), 0.0},
                                      {static_cast<double>((most.x - least.x) / ppm), static_cast<double>((most.y - least.y) / ppm)},
                                      {0.0, static_cast<double>((most.y - least.y) / ppm)}};
    const RoleStyle& style = style_of(role);
    std::vector<PageShape> shapes{{role, PagePart::wipe, PagePath{area, true}},
                                  {role, PagePart::normal, PagePath{area, true}}};
    for (PagePath& line : make_hatch(area, style.hatch, style.hatch_spacing_mm * 1.4))
        shapes.push_back({role, PagePart::hatch, std::move(line)});
    list.PushClipRect(least, {most.x + 1.0F, most.y + 1.0F}, true);
    draw_page(list, shapes, {least, ppm}, screen.fonts);
    list.PopClipRect();
}

/// Words in a band, on paper so that the hatch does not run through them; none where they do not fit.
void draw_band_words(const char* words, ImVec2 least, ImVec2 most, float unit) {
    const ImVec2 size = ImGui::CalcTextSize(words);
    if (size.x + 10.0F * unit > most.x - least.x) return;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 at{std::round((least.x + most.x - size.x) / 2.0F), std::round((least.y + most.y - size.y) / 2.0F)};
    list.AddRectFilled({at.x - 3.0F * unit, least.y + 2.0F * unit}, {at.x + size.x + 3.0F * unit, most.y - unit},
                       palette().paper);
    list.AddText(at, palette().ink, words);
}

/// Words of a band where no worse band lies over it.
void draw_words_of(const TravelTrack& track, std::size_t index, const TrackLayout& layout, float top) {
    const TrackBand& band = track.bands[index];
    for (const HeightRange& whole : *band.heights) {
        std::vector<HeightRange> over;
        if (index + 1 < track.bands.size()) over = *track.bands[index + 1].heights;
        for (const HeightRange& r : find_remaining_heights(whole, over))
            draw_band_words(band.words, {layout.to_x(r.low), top}, {layout.to_x(r.high), top + layout.bar}, layout.unit);
    }
}

void draw_track(Screen& screen, const TravelTrack& track, const TrackLayout& layout, float top) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float bottom = top + layout.bar;
    list.AddRectFilled({layout.left, top}, {layout.right, bottom}, palette().paper);
    for (const TrackBand& band : track.bands) {
        for (const HeightRange& r : *band.heights) {
            const float low = layout.to_x(r.low), high = std::max(layout.to_x(r.high), low + 2.0F * layout.unit);
            draw_band(screen, band.form, {low, top}, {high, bottom});
        }
    }
    for (std::size_t i = 0; i < track.bands.size(); ++i) draw_words_of(track, i, layout, top);
    list.AddRect({layout.left, top}, {layout.right, bottom}, palette().line);
}

/// The track of the height itself: the heights at which the shaft works, and the ends in words.
void draw_height_track(Screen& screen, const TrackLayout& layout, float top) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const TravelBands& b = *screen.app.results.bands;
    const float bottom = top + layout.bar, middle = (top + bottom) / 2.0F;
    list.AddLine({layout.left, middle}, {layout.right, middle}, palette().quiet, 2.0F * layout.unit);
    const float low = layout.to_x(b.work.low), high = layout.to_x(b.work.high);
    const float half = 3.0F * layout.unit;
    list.AddRectFilled({low - 1.0F, middle - half}, {high + 1.0F, middle + half}, palette().blue);
    for (const float x : {layout.left, layout.right}) list.AddLine({x, top}, {x, bottom}, palette().quiet, 2.0F * layout.unit);
}

/// The mark of the height shown, through all tracks.
void draw_handle(const TrackLayout& layout, double height, float top, float bottom, bool active) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float x = layout.to_x(height), half = 6.0F * layout.unit, width = 2.0F * layout.unit;
    const ImU32 colour = active ? palette().blue : palette().ink;
    list.AddLine({x, top}, {x, bottom}, colour, width);
    list.AddRectFilled({x - half, top}, {x + half, top + layout.bar}, colour, width);
    list.AddLine({x, top + 2.0F * width}, {x, top + layout.bar - 2.0F * width}, palette().paper, width);
}

void show_row_words(const TrackLayout& layout, float left, float top, const std::string& label, const std::string& value) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float y = top + (layout.bar - ImGui::GetTextLineHeight()) / 2.0F;
    list.AddText({left, y}, palette().ink, label.c_str());
    list.AddText({layout.right + 8.0F * layout.unit, y}, palette().ink, value.c_str());
}

/// In full, where the panel has no room for it: under the cursor.
void show_track_hint(Screen& screen, const TravelTrack& track, ImVec2 least, ImVec2 most) {
    if (!ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) || !ImGui::IsMouseHoveringRect(least, most)) return;
    show_hint(screen, fmt::format("{}: {}\n{}", track.label, say_track(track, TrackWords::all), track.about));
}

/// As much of the words as leaves the tracks their share.
TrackWords choose_words(float room) {
    for (const TrackWords words : {TrackWords::all, TrackWords::number_and_state}) {
        if (room - ImGui::CalcTextSize(longest_track_words(words)).x >= track_share * room) return words;
    }
    return TrackWords::number;
}

/// The layout in the room that is left; rows move together before any is out of sight.
TrackLayout find_layout(const Screen& screen, ImVec2 corner, std::size_t rows, TrackWords words) {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    TrackLayout layout;
    layout.travel = screen.app.results.bands->travel;
    layout.unit = screen.em() / usual_em;
    layout.row = std::clamp((room.y - ImGui::GetTextLineHeight()) / static_cast<float>(rows), find_row_height(screen, tight_row),
                            find_row_height(screen, usual_row));
    layout.bar = layout.row - std::min(4.0F, 0.15F * layout.row) * layout.unit;
    layout.left = corner.x + ImGui::CalcTextSize("ball height   ").x;
    layout.right = std::max(layout.left + 3.0F * screen.em(), corner.x + room.x - ImGui::CalcTextSize(longest_track_words(words)).x);
    return layout;
}

void move_with_keys(AppState& app, const HeightRange& travel, double height) {
    // While the keyboard walks from control to control, arrows belong to that.
    if (ImGui::GetIO().WantTextInput || ImGui::GetIO().NavVisible) return;
    // The mark of the cut has arrow keys of its own, and is drawn later in a frame.
    if (app.view.cut.keyed_frame + 1 >= ImGui::GetFrameCount()) return;
    const double step = step_share * (travel.high - travel.low);
    const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); };
    if (pressed(ImGuiKey_LeftArrow)) app.view.ball_height = std::max(travel.low, height - step);
    if (pressed(ImGuiKey_RightArrow)) app.view.ball_height = std::min(travel.high, height + step);
    if (pressed(ImGuiKey_Home)) app.view.ball_height = travel.low;
    if (pressed(ImGuiKey_End)) app.view.ball_height = travel.high;
}

std::string say_height(double height, double pitch, UnitSystem units, TrackWords words) {
    const std::string text = format_angle(pitch);
    const char* const named = words == TrackWords::number ? ", " : ", pitch ";
    return format_length(height, units) + named + (pitch > 0.0 && text != "0.0 deg" ? "+" : "") + text;
}

/// Everything but the words, in its order: what can be dragged, tracks, handle.
void show_slider(Screen& screen, const TrackLayout& layout, ImVec2 corner, float bottom) {
    AppState& app = screen.app;
    const float overhang = 6.0F * layout.unit;
    ImGui::SetCursorScreenPos({layout.left - overhang, corner.y});
    ImGui::InvisibleButton("lift", {layout.right - layout.left + 2.0F * overhang, bottom - corner.y});
    remember_place(screen, "lift", FingerMove::across);
    if (ImGui::IsItemActive()) app.view.ball_height = layout.to_height(ImGui::GetIO().MousePos.x);
    move_with_keys(app, layout.travel, shown_ball_height(app));
    draw_height_track(screen, layout, corner.y);
}

}  // namespace

float find_travel_height(const Screen& screen) {
    const auto rows = static_cast<float>(count_tracks(screen.app) + 1);
    return rows * find_row_height(screen, usual_row) + ImGui::GetTextLineHeightWithSpacing() + 2.0F * ImGui::GetStyle().WindowPadding.y;
}

void show_travel(Screen& screen) {
    AppState& app = screen.app;
    if (!app.results.bands) return show_quiet_text("No travel to move through: the findings say why.");
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const TrackWords words = choose_words(width - ImGui::CalcTextSize("ball height   ").x);
    const std::size_t rows = count_tracks(app) + 1;
    const TrackLayout layout = find_layout(screen, corner, rows, words);
    const float bottom = corner.y + layout.row * static_cast<float>(rows);
    show_slider(screen, layout, corner, bottom);
    const bool dragged = ImGui::IsItemActive();
    const double height = shown_ball_height(app);
    const PoseReport pose = make_pose_report(app.now.setup, app.results.analysis.linkage->model, height);
    show_row_words(layout, corner.x, corner.y, "ball height", say_height(height, pose.pose.pitch, app.view.units, words));
    float top = corner.y + layout.row;
    for (const TravelTrack& track : list_tracks(app, pose)) {
        draw_track(screen, track, layout, top);
        show_row_words(layout, corner.x, top, track.label, say_track(track, words));
        if (!dragged) show_track_hint(screen, track, {corner.x, top}, {corner.x + width, top + layout.row});
        top += layout.row;
    }
    draw_handle(layout, height, corner.y, bottom - layout.row + layout.bar, dragged);
    ImGui::SetCursorScreenPos({corner.x, bottom});
    const std::string ends = format_length(layout.travel.low, app.view.units) + " to " + format_length(layout.travel.high, app.view.units);
    const std::string blue = app.results.bands->tractor_joint ? "where the shaft is driven" : "working height";
    const std::string full = fmt::format("From {}. Blue: {}. Drag, or arrow keys.", ends, blue);
    show_quiet_text(ImGui::CalcTextSize(full.c_str()).x <= width ? full : fmt::format("{}. Blue: {}.", ends, blue));
}

}  // namespace hitchwright
