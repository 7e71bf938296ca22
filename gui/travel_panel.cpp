// The lift slider: ball height over the travel, with one track for each thing that can be wrong. Bands on a track say by
// form how bad it is; the words beside it give the number of the position shown.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/pose_report.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"

namespace hitchwright {
namespace {

constexpr float usual_em = 13.0F;            // pixels; what fixed sizes are given for
constexpr double step_share = 1.0 / 200.0;  // of the travel, for the arrow keys

float find_row_height(const Screen& screen) { return ImGui::GetTextLineHeight() + 8.0F * screen.em() / usual_em; }

/// A kind of trouble on a track, with how it is drawn.
struct Band {
    const std::vector<HeightRange>* heights;
    Role form;  ///< whose hatch it has
    const char* words;
};

struct Track {
    const char* label;
    std::vector<Band> bands;  ///< later ones lie over earlier ones
    std::string value;        ///< at the height shown
};

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

/// The worst band that a height lies in, else `good`.
std::string find_state(const std::vector<Band>& bands, double height, const char* good) {
    std::string words = good;
    for (const Band& band : bands) {
        const auto holds = [&](const HeightRange& r) { return r.contains(height); };
        if (std::any_of(band.heights->begin(), band.heights->end(), holds)) words = band.words;
    }
    return words;
}

std::string room_text(double metres, UnitSystem units) {
    return metres < 0.0 ? format_length(-metres, units, Rounding::up) + " short"
                        : format_length(metres, units, Rounding::down);
}

void add_tube_tracks(std::vector<Track>& tracks, const TubeBands& b, const PoseReport& pose, UnitSystem units) {
    const double height = pose.pose.ball_height;
    Track gap{"gap", {{&b.gap_short, Role::separation, "too little"}, {&b.bottoms_out, Role::clash, "bottoms out"}}, {}};
    gap.value = room_text(pose.gap, units) + ", " + find_state(gap.bands, height, "enough");
    Track overlap{"overlap", {{&b.overlap_short, Role::separation, "too little"}, {&b.apart, Role::clash, "apart"}}, {}};
    overlap.value = room_text(pose.overlap, units) + ", " + find_state(overlap.bands, height, "enough");
    tracks.push_back(std::move(gap));
    tracks.push_back(std::move(overlap));
}

Track make_joint_track(const char* label, const JointBands& b, double angle, double height) {
    Track track{label,
                {{&b.no_work, Role::overlap, "no work"},
                 {&b.pto_off, Role::separation, "PTO off"},
                 {&b.past_stop, Role::clash, "past its stop"}},
                {}};
    track.value = format_angle(angle, Rounding::up) + ", " + find_state(track.bands, height, "free");
    return track;
}

std::vector<Track> list_tracks(const AppState& app, const PoseReport& pose) {
    std::vector<Track> tracks;
    const TravelBands& b = *app.results.bands;
    if (b.tubes) add_tube_tracks(tracks, *b.tubes, pose, app.view.units);
    const double height = pose.pose.ball_height;
    if (b.tractor_joint) tracks.push_back(make_joint_track("front joint", *b.tractor_joint, pose.tractor_angle, height));
    if (b.implement_joint)
        tracks.push_back(make_joint_track("rear joint", *b.implement_joint, pose.implement_angle, height));
    return tracks;
}

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
                       palette::paper);
    list.AddText(at, palette::ink, words);
}

/// Words of a band where no worse band lies over it.
void draw_words_of(const Track& track, std::size_t index, const TrackLayout& layout, float top) {
    const Band& band = track.bands[index];
    for (const HeightRange& whole : *band.heights) {
        std::vector<HeightRange> over;
        if (index + 1 < track.bands.size()) over = *track.bands[index + 1].heights;
        for (const HeightRange& r : find_remaining_heights(whole, over))
            draw_band_words(band.words, {layout.to_x(r.low), top}, {layout.to_x(r.high), top + layout.bar}, layout.unit);
    }
}

void draw_track(Screen& screen, const Track& track, const TrackLayout& layout, float top) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float bottom = top + layout.bar;
    list.AddRectFilled({layout.left, top}, {layout.right, bottom}, palette::paper);
    for (const Band& band : track.bands) {
        for (const HeightRange& r : *band.heights) {
            const float low = layout.to_x(r.low), high = std::max(layout.to_x(r.high), low + 2.0F * layout.unit);
            draw_band(screen, band.form, {low, top}, {high, bottom});
        }
    }
    for (std::size_t i = 0; i < track.bands.size(); ++i) draw_words_of(track, i, layout, top);
    list.AddRect({layout.left, top}, {layout.right, bottom}, palette::line);
}

/// The track of the height itself: the heights at which the shaft works, and the ends in words.
void draw_height_track(Screen& screen, const TrackLayout& layout, float top) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const TravelBands& b = *screen.app.results.bands;
    const float bottom = top + layout.bar, middle = (top + bottom) / 2.0F;
    list.AddLine({layout.left, middle}, {layout.right, middle}, palette::quiet, 2.0F * layout.unit);
    const float low = layout.to_x(b.work.low), high = layout.to_x(b.work.high);
    const float half = 3.0F * layout.unit;
    list.AddRectFilled({low - 1.0F, middle - half}, {high + 1.0F, middle + half}, palette::blue);
    for (const float x : {layout.left, layout.right}) list.AddLine({x, top}, {x, bottom}, palette::quiet, 2.0F * layout.unit);
}

/// The mark of the height shown, through all tracks.
void draw_handle(const TrackLayout& layout, double height, float top, float bottom, bool active) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float x = layout.to_x(height), half = 6.0F * layout.unit, width = 2.0F * layout.unit;
    const ImU32 colour = active ? palette::blue : palette::ink;
    list.AddLine({x, top}, {x, bottom}, colour, width);
    list.AddRectFilled({x - half, top}, {x + half, top + layout.bar}, colour, width);
    list.AddLine({x, top + 2.0F * width}, {x, top + layout.bar - 2.0F * width}, palette::paper, width);
}

void show_row_words(const TrackLayout& layout, float left, float top, const std::string& label, const std::string& value) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float y = top + (layout.bar - ImGui::GetTextLineHeight()) / 2.0F;
    list.AddText({left, y}, palette::ink, label.c_str());
    list.AddText({layout.right + 8.0F * layout.unit, y}, palette::ink, value.c_str());
}

void move_with_keys(AppState& app, const HeightRange& travel, double height) {
    if (ImGui::GetIO().WantTextInput) return;
    const double step = step_share * (travel.high - travel.low);
    const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); };
    if (pressed(ImGuiKey_LeftArrow)) app.view.ball_height = std::max(travel.low, height - step);
    if (pressed(ImGuiKey_RightArrow)) app.view.ball_height = std::min(travel.high, height + step);
    if (pressed(ImGuiKey_Home)) app.view.ball_height = travel.low;
    if (pressed(ImGuiKey_End)) app.view.ball_height = travel.high;
}

std::string pitch_text(double pitch) {
    const std::string text = format_angle(pitch);
    return "pitch " + (pitch > 0.0 && text != "0.0 deg" ? "+" + text : text);
}

}  // namespace

float find_travel_height(const Screen& screen) {
    const std::optional<TravelBands>& b = screen.app.results.bands;
    float rows = 1.0F;
    if (b && b->tubes) rows += 2.0F;
    if (b && b->tractor_joint) rows += 2.0F;
    return rows * find_row_height(screen) + ImGui::GetTextLineHeightWithSpacing() + 2.0F * ImGui::GetStyle().WindowPadding.y;
}

void show_travel(Screen& screen) {
    AppState& app = screen.app;
    if (!app.results.bands) return show_quiet_text("No travel to move through: the findings say why.");
    const double height = shown_ball_height(app);
    const PoseReport pose = make_pose_report(app.now.setup, app.results.analysis.linkage->model, height);
    std::vector<Track> tracks = list_tracks(app, pose);
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    TrackLayout layout;
    layout.travel = app.results.bands->travel;
    layout.unit = screen.em() / usual_em;
    layout.row = find_row_height(screen);
    layout.bar = layout.row - 4.0F * layout.unit;
    layout.left = corner.x + ImGui::CalcTextSize("ball height   ").x;
    layout.right = std::max(layout.left + 3.0F * screen.em(), corner.x + width - ImGui::CalcTextSize("12 15/16 in short, bottoms out").x);
    const float overhang = 6.0F * layout.unit;
    const float bottom = corner.y + layout.row * static_cast<float>(tracks.size() + 1);
    ImGui::SetCursorScreenPos({layout.left - overhang, corner.y});
    ImGui::InvisibleButton("lift", {layout.right - layout.left + 2.0F * overhang, bottom - corner.y});
    remember_place(screen, "lift");
    if (ImGui::IsItemActive()) app.view.ball_height = layout.to_height(ImGui::GetIO().MousePos.x);
    move_with_keys(app, layout.travel, height);
    draw_height_track(screen, layout, corner.y);
    show_row_words(layout, corner.x, corner.y, "ball height",
                   format_length(height, app.view.units) + ", " + pitch_text(pose.pose.pitch));
    float top = corner.y + layout.row;
    for (const Track& track : tracks) {
        draw_track(screen, track, layout, top);
        show_row_words(layout, corner.x, top, track.label, track.value);
        top += layout.row;
    }
    draw_handle(layout, height, corner.y, bottom - layout.row + layout.bar, ImGui::IsItemActive());
    ImGui::SetCursorScreenPos({corner.x, bottom});
    show_quiet_text(fmt::format("From {} to {}. Blue: {}. Drag, or arrow keys.",
                                format_length(layout.travel.low, app.view.units),
                                format_length(layout.travel.high, app.view.units),
                                app.results.bands->tractor_joint ? "where the shaft is driven" : "working height"));
}

}  // namespace hitchwright
