// A mounted set-up from the side, from above or from behind, at the height of the slider. What can be pulled follows the cursor; the
// rest of the picture pans. Wheel: zoom about the cursor.
#include <algorithm>
#include <cmath>
#include <utility>

#include "gui/compare.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/picture_buttons.h"
#include "gui/picture_drag.h"
#include "gui/picture_hover.h"
#include "gui/word_room.h"
#include "report/mounted_plan_view.h"
#include "report/page_blocks.h"
#include "report/picture_sizes.h"
#include "report/rear_view.h"
#include "report/safe_words.h"
#include "report/side_view_scene.h"
#include "report/swept_region.h"
#include "report/travel_marks.h"

namespace hitchwright {
namespace {

constexpr double least_panel_mm = 15.0, narrow_panel_mm = 110.0, low_panel_mm = 80.0;
// Ranks of side_view_drawing.cpp: names of parts come after.
constexpr int last_rank_of_shaft = 2, last_rank_of_numbers = 4, last_rank_of_travel = 5;

bool inside(const PageRect& r, PagePoint p) { return p.x >= r.left && p.x <= r.right && p.y >= r.top && p.y <= r.bottom; }

/// A linkage that does not close has the picture from the side alone, which shows what is lacking.
MountedPicture shown_kind(const AppState& app) { return app.results.analysis.linkage ? app.view.act.switches.mounted : MountedPicture::side; }

PictureFrame frame_of(const AppState& app) {
    switch (shown_kind(app)) {
        case MountedPicture::plan: return PictureFrame::plan;
        case MountedPicture::rear: return PictureFrame::rear;
        case MountedPicture::side: break;
    }
    return PictureFrame::side;
}

/// The last rank of words that a panel has room for: in a small one names of parts would bury the parts, and the numbers of the
/// position come first; on a phone those of the shaft.
int find_last_rank(const PictureSwitches& switches, const PageRect& area) {
    if (area.width() < narrow_panel_mm) return area.height() < low_panel_mm ? last_rank_of_shaft : last_rank_of_numbers;
    return switches.names ? 100 : last_rank_of_travel;
}

/// Words for what lies outside the panel would only point past its edge.
void leave_out_words(Drawing& drawing, const PictureSwitches& switches, const Placement& placement, const PageRect& area) {
    const int most_rank = find_last_rank(switches, area);
    std::erase_if(drawing.labels, [&](const Label& l) {
        return l.rank > most_rank || (!switches.travel && l.rank == last_rank_of_travel) || !inside(area, placement.to_page(l.at));
    });
    std::erase_if(drawing.dimensions, [&](const DimensionMark& d) {
        return (most_rank == last_rank_of_shaft && d.rank > most_rank) || !inside(area, placement.to_page(d.from)) || !inside(area, placement.to_page(d.to));
    });
    if (!switches.travel) std::erase_if(drawing.shapes, [](const Shape& s) { return s.role == Role::travel_arc; });
}

void append(Drawing& to, const Drawing& from) {
    to.shapes.insert(to.shapes.end(), from.shapes.begin(), from.shapes.end());
    to.labels.insert(to.labels.end(), from.labels.begin(), from.labels.end());
    to.dimensions.insert(to.dimensions.end(), from.dimensions.begin(), from.dimensions.end());
}

const Drawing& find_swept(AppState& app) {
    SweptPicture& s = app.view.swept;
    if (s.revision != app.results.revision || s.units != app.view.units) s = {app.results.revision, app.view.units, draw_swept(app.now.setup, app.results.analysis, app.view.units)};
    return s.drawing;
}

Drawing make_side_drawing(AppState& app, double height) {
    const PictureSwitches& on = app.view.act.switches;
    SideViewScene scene = make_pose_scene(app.now.setup, app.results.analysis, height, app.view.units);
    add_ghost(scene, app, height);
    Drawing d = draw_side_view(scene);
    if (!app.results.analysis.linkage) return d;
    if (on.travel && app.results.bands) append(d, draw_travel_marks(app.now.setup, app.results.analysis.linkage->model, *app.results.bands, app.view.units));
    if (on.swept) append(d, find_swept(app));
    if (on.sizes) {
        const std::vector<DimensionMark> sizes = list_size_marks(app.now.setup, app.results.analysis, height, app.view.units);
        d.dimensions.insert(d.dimensions.end(), sizes.begin(), sizes.end());
    }
    return d;
}

/// The other set-up that is dashed, as the picture from behind takes it; nothing where it is drawn on a drawbar.
std::optional<RearGhost> find_rear_ghost(const AppState& app, Setup& hovered) {
    const std::optional<Ghost> ghost = find_ghost(app, hovered);
    if (!ghost || !ghost->analysis->linkage) return std::nullopt;
    return RearGhost{*ghost->setup, *ghost->analysis, ghost->words};
}

RearView make_rear_view(const AppState& app) {
    Setup hovered;
    const std::optional<RearGhost> ghost = find_rear_ghost(app, hovered);
    return draw_rear_view(app.now.setup, app.results.analysis, shown_place(app), app.view.units, ghost ? &*ghost : nullptr);
}

/// Box that the fitted camera shows; those from above and from behind are kept, since they are drawn for it.
DrawingBox find_box(AppState& app) {
    const MountedPicture kind = shown_kind(app);
    if (kind == MountedPicture::side) return *app.results.drawn;
    MountedBox& b = app.view.mounted_box;
    const bool above = kind == MountedPicture::plan;
    const double height = above ? shown_ball_height(app) : 0.0;
    const bool same = b.revision == app.results.revision && b.kind == kind && b.ball_height == height && b.units == app.view.units && b.ghost == find_ghost_key(app);
    if (!same) {
        b = {app.results.revision, kind, height, app.view.units, find_ghost_key(app), std::nullopt};
        Setup hovered;
        const std::optional<RearGhost> ghost = find_rear_ghost(app, hovered);
        b.box = above ? find_bounding_box(draw_mounted_plan(app.now.setup, app.results.analysis, height, app.view.units).drawing)
                      : find_rear_box(app.now.setup, app.results.analysis, app.view.units, ghost ? &*ghost : nullptr);
    }
    return b.box ? *b.box : *app.results.drawn;
}

std::vector<DrawingPoint> measured_places(const AppState& app) {
    std::vector<DrawingPoint> places;
    for (const PicturePoint& p : app.view.act.measured) places.push_back(p.at);
    return places;
}

/// Places the picture anew when something it depends on has changed. `strip`: height of the buttons, kept free of words.
const PlacedPicture& place_picture(Screen& screen, const PictureCanvas& canvas, double strip) {
    AppState& app = screen.app;
    PlacedPicture& p = app.view.picture;
    const double height = shown_ball_height(app);
    const PictureSwitches& switches = app.view.act.switches;
    const std::vector<DrawingPoint> measured = measured_places(app);
    const MountedPicture kind = shown_kind(app);
    const double sway = kind == MountedPicture::rear ? shown_place(app).sway : 0.0;
    const bool same = p.revision == app.results.revision && p.ball_height == height && p.sway == sway && p.camera == app.view.camera && p.area == canvas.area &&
                      p.units == app.view.units && p.switches == switches && p.measured == measured && p.ghost == find_ghost_key(app);
    if (same) return p;
    WordPlaces places = std::move(p.places);
    p = {app.results.revision, height, sway, app.view.camera, canvas.area, app.view.units, switches, measured, find_ghost_key(app), {}, {}, {}, {}, std::move(places)};
    if (kind == MountedPicture::rear) {
        RearView rear = make_rear_view(app);
        p.drawing = std::move(rear.drawing);
        p.unplaced = std::move(rear.not_known);
        p.points = list_rear_points(app.now.setup, app.results.analysis, shown_place(app));
    } else if (kind == MountedPicture::plan) {
        MountedPlan plan = draw_mounted_plan(app.now.setup, app.results.analysis, height, app.view.units);
        p.drawing = std::move(plan.drawing);
        p.unplaced = std::move(plan.not_known);
        p.points = list_plan_points(app.now.setup, app.results.analysis, height);
    } else {
        p.drawing = make_side_drawing(app, height);
        p.points = list_side_points(app.now.setup, app.results.analysis, height);
    }
    follow_measured(app.view.act, p.points);
    p.measured = measured_places(app);
    Drawing drawing = p.drawing;
    leave_out_words(drawing, switches, canvas.placement, canvas.panel);
    if (p.measured.size() == 2) {
        const std::vector<DimensionMark> marks = measure_between(p.measured[0], p.measured[1], app.view.units);
        drawing.dimensions.insert(drawing.dimensions.begin(), marks.begin(), marks.end());
    }
    place_words(screen, canvas, drawing, strip, p.page, p.unplaced, p.places);
    return p;
}

/// Buttons and switches; returns the height they take, pixels.
float show_view_buttons(Screen& screen, ImVec2 corner, float width) {
    ViewState& view = screen.app.view;
    PictureSwitches& on = view.act.switches;
    ButtonRows rows(screen, corner, width);
    if (view.column.on) rows.keep_folded(view.column.more_picture);
    if (rows.button("Fit to window", "Shows all of the machine. Key: 0")) view.camera.fitted = true;
    if (rows.button("At work", "Brings the lift back to the working height, the hitch centred")) {
        view.ball_height.reset();
        view.act.sway = 0.0;
    }
    if (!screen.app.results.analysis.linkage) return rows.bottom();
    const MountedPicture before = on.mounted;
    const auto offer = [&](const char* word, const char* hint, MountedPicture kind) {
        bool chosen = on.mounted == kind;
        rows.toggle(word, hint, chosen);
        if (chosen != (on.mounted == kind)) on.mounted = chosen ? kind : MountedPicture::side;
    };
    offer("From above", "Shows the machine from above: links, shaft and width, sway and tyre room, as far as they were measured", MountedPicture::plan);
    offer("From behind", "Shows the machine from behind: level from side to side, lift rods, sway and tyre room", MountedPicture::rear);
    if (before != on.mounted) leave_mounted_picture(screen.app);
    rows.toggle("Names", "Names of the parts", on.names);
    if (on.mounted == MountedPicture::side) {
        rows.toggle("Sizes", "Heights, mast height, lengths of the links, offsets, and the nearest two parts here", on.sizes);
        rows.toggle("Travel", "Path of the ball ends with lowest, working and highest position, and where the PTO must be off", on.travel);
        rows.toggle("Swept", "What shaft and implement sweep through the whole travel, and the tightest spot of it", on.swept);
    }
    rows.toggle("Measure", "Click two points: their distance, straight, level and plumb. Escape ends it", view.act.measures);
    if (!view.act.measures) view.act.measured.clear();
    return rows.bottom();
}

void show_no_picture(Screen& screen, ImVec2 corner) {
    ImGui::SetCursorScreenPos({corner.x + screen.em(), corner.y + screen.em()});
    ImGui::BeginGroup();
    show_text("No picture", screen.fonts.large, palette().alarm);
    const bool drawn = screen.app.now.setup.implement.attachment == Attachment::drawn;
    show_text(drawn ? "A reading of the hitch is missing. The findings name it."
                    : "A reading of the linkage is missing, or the linkage cannot close. The findings name it.");
    ImGui::EndGroup();
    remember_place(screen, "no picture");
}

bool lifts(Role role) {
    return role == Role::implement_outline || role == Role::mast || role == Role::ground_contact || role == Role::input_shaft || role == Role::lower_link ||
           role == Role::lift_rod || role == Role::lift_arm;
}

/// What a press of the left button begins.
void begin_press(Screen& screen, const PictureCanvas& canvas) {
    AppState& app = screen.app;
    const PlacedPicture& p = app.view.picture;
    const DrawingPoint place = canvas.to_drawing(ImGui::GetIO().MousePos);
    const int under = find_hovered_point(screen, canvas, p.points);
    if (under >= 0) {
        const PicturePoint point = p.points[static_cast<std::size_t>(under)];
        if (app.view.act.measures) return pick_point(app, point);
        if (ImGui::IsMouseDoubleClicked(0)) return open_point_field(app, point);
        if (grab_point(app, point, place)) return;
    }
    const Shape* shape = app.view.act.measures || shown_kind(app) == MountedPicture::plan ? nullptr : find_hovered_shape(screen, canvas, p.drawing);
    if (!shape || !lifts(shape->role)) return;
    if (shown_kind(app) == MountedPicture::rear) return grab_height(app, place);
    const bool link = shape->role == Role::lower_link || shape->role == Role::lift_rod || shape->role == Role::lift_arm;
    grab_lift(app, link ? Carrier::lower_link : Carrier::implement, place);
}

/// Mouse and keys on the picture, which is the item shown last.
void use_picture(Screen& screen, const PictureCanvas& canvas) {
    AppState& app = screen.app;
    PictureState& act = app.view.act;
    const std::vector<PicturePoint> points = app.view.picture.points;
    if (ImGui::IsItemActivated() && ImGui::IsMouseClicked(0)) {
        act.cancelled = false;
        begin_press(screen, canvas);
    }
    if (act.drag && ImGui::IsMouseDown(0) && (ImGui::GetIO().MouseDelta.x != 0.0F || ImGui::GetIO().MouseDelta.y != 0.0F))
        pull_to(app, points, canvas.to_drawing(ImGui::GetIO().MousePos), {});
    use_escape(app);
    if (act.drag && !ImGui::IsMouseDown(0)) let_go(app, points);
    move_camera(app.view, canvas, !act.drag && !act.cancelled && !act.measures);
    if (!takes_picture_keys(app)) return;
    move_camera_with_keys(app.view.camera, canvas);
    use_point_keys(screen, {app.view.picture.drawing, app.view.picture.points, frame_of(app)});
}

}  // namespace

void show_side_view(Screen& screen) {
    AppState& app = screen.app;
    PictureCanvas canvas = make_canvas(screen, app.view.act.strip);
    if (canvas.panel.width() < least_panel_mm || canvas.panel.height() < least_panel_mm) return;
    const ImVec2 end{canvas.corner.x + canvas.size.x, canvas.corner.y + canvas.size.y};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(canvas.corner, end, palette().paper);
    if (!app.results.drawn) return show_no_picture(screen, canvas.corner);
    ImGui::SetItemAllowOverlap();
    ImGui::InvisibleButton("side view", canvas.size);
    ImGui::SetItemAllowOverlap();
    remember_place(screen, "side view", app.view.column.on ? FingerMove::held : FingerMove::drags);
    const bool hovered = ImGui::IsItemHovered();
    canvas.placement = find_placement(app.view.camera, find_box(app), canvas.area);
    use_picture(screen, canvas);
    canvas.placement = find_placement(app.view.camera, find_box(app), canvas.area);
    list.ChannelsSplit(2);
    list.ChannelsSetCurrent(1);
    const float strip = app.view.act.strip = show_view_buttons(screen, canvas.corner, canvas.size.x);
    list.ChannelsSetCurrent(0);
    const PlacedPicture& picture = place_picture(screen, canvas, static_cast<double>(strip / canvas.ppm));
    list.PushClipRect(canvas.corner, end, true);
    draw_page(list, picture.page.shapes, {canvas.corner, canvas.ppm}, screen.fonts);
    list.PopClipRect();
    list.ChannelsMerge();
    show_unplaced(screen, picture.unplaced, canvas.corner, canvas.size);
    show_picture_words(screen, canvas, {picture.drawing, picture.points, frame_of(app)}, hovered);
    show_point_field(screen, canvas);
    if (app.results.analysis.linkage) return;
    ImGui::SetCursorScreenPos({canvas.corner.x + 0.5F * screen.em(), canvas.corner.y + strip + 0.3F * screen.em()});
    show_text("The linkage does not close here", screen.fonts.bold, palette().alarm);
    remember_place(screen, "does not close");
}

}  // namespace hitchwright
