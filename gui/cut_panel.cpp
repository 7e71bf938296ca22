// The room of the cut: a mark on a scale of what comes off, kept where gap and overlap are; the shaft before and after
// with its four parts; the cautions of cutting. The mark writes the cut into the set-up when it is let go.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "gui/cut_room.h"
#include "gui/key_steps.h"
#include "gui/page_canvas.h"
#include "gui/picture_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "report/caution_text.h"
#include "report/cut_report.h"
#include "report/exact_cut.h"

namespace hitchwright {
namespace {

constexpr float scale_ems = 2.6F;
constexpr float table_ems = 24.0F;    // narrower than this the numbers stand in lines
constexpr double end_share = 1.2;       // the scale goes on so far past the last cut of interest
constexpr int large_steps = 8;          // marks per Page key
constexpr float least_mark_gap = 4.0F;  // pixels; closer marks are not drawn

/// The scale of the cut on the screen.
struct CutScale {
    float left = 0.0F, right = 0.0F, top = 0.0F, bottom = 0.0F;
    double end = 0.1;  ///< m at the right
    float to_x(double cut) const { return left + static_cast<float>(std::clamp(cut / end, 0.0, 1.0)) * (right - left); }
    double to_cut(float x) const {
        return static_cast<double>(std::clamp((x - left) / std::max(right - left, 1.0F), 0.0F, 1.0F)) * end;
    }
};

double find_end(const CutRoom& room) {
    const double last = std::max({room.interval.most, room.interval.least, find_shortening(room.now), 0.05});
    return std::min(end_share * last, room.interval.longest);
}

void draw_zone(Screen& screen, Role role, const CutScale& s, double from, double to) {
    const ImVec2 least{s.to_x(from), s.top}, most{s.to_x(to), s.bottom};
    if (most.x - least.x < 1.0F) return;
    const float ppm = screen.fonts.pixels_per_mm;
    const double width = static_cast<double>((most.x - least.x) / ppm),
                 height = static_cast<double>((most.y - least.y) / ppm);
    const std::vector<PagePoint> area{{0.0, 0.0}, {width, 0.0}, {width, height}, {0.0, height}};
    std::vector<PageShape> shapes{{role, PagePart::normal, PagePath{area, true}}};
    for (PagePath& line : make_hatch(area, style_of(role).hatch, 1.4 * style_of(role).hatch_spacing_mm))
        shapes.push_back({role, PagePart::hatch, std::move(line)});
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRect(least, {most.x + 1.0F, most.y + 1.0F}, true);
    draw_page(list, shapes, {least, ppm}, screen.fonts);
    list.PopClipRect();
}

/// Words in a zone, on paper so that the hatch does not run through them; none where they do not fit.
void draw_zone_words(Screen& screen, const CutScale& s, double from, double to, const char* words) {
    const ImVec2 size = ImGui::CalcTextSize(words);
    const float left = s.to_x(from), right = s.to_x(to), margin = 0.3F * screen.em();
    if (right - left < size.x + 4.0F * margin) return;
    const ImVec2 at{std::round(0.5F * (left + right - size.x)), std::round(0.5F * (s.top + s.bottom - size.y))};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled({at.x - margin, at.y}, {at.x + size.x + margin, at.y + size.y}, palette().paper);
    list.AddText(at, palette().ink, words);
}

void draw_scale(Screen& screen, const CutRoom& room, const CutScale& s, double shown) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled({s.left, s.top}, {s.right, s.bottom}, palette().paper);
    const double most = std::max(room.interval.most, 0.0);
    draw_zone(screen, Role::separation, s, 0.0, std::min(room.interval.least, s.end));
    draw_zone(screen, room.interval.any ? Role::separation : Role::clash, s,
              room.interval.any ? most : std::min(most, room.interval.least), s.end);
    draw_zone_words(screen, s, 0.0, std::min(room.interval.least, room.interval.any ? s.end : most), "gap");
    draw_zone_words(screen, s, room.interval.any ? most : std::min(most, room.interval.least), s.end,
                    room.interval.any ? "overlap" : "neither keeps both");
    const double step = screen.app.mark.step;
    const float middle = 0.5F * (s.top + s.bottom);
    if (s.to_x(step) - s.left >= least_mark_gap) {
        for (int i = 1; i * step < s.end; ++i)
            list.AddLine({s.to_x(i * step), middle}, {s.to_x(i * step), s.bottom}, palette().quiet);
    }
    list.AddRect({s.left, s.top}, {s.right, s.bottom}, palette().line);
    const float x = s.to_x(shown), half = 0.45F * screen.em();
    list.AddRectFilled({x - half, s.top - 2.0F}, {x + half, middle}, palette().blue, 0.2F * screen.em());
    list.AddTriangleFilled({x - half, middle}, {x + half, middle}, {x, s.bottom}, palette().blue);
}

void say_refused(AppState& app, const std::vector<Problem>& problems) {
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

void forget_drag(CutState& c) {
    c.dragged.reset();
    c.reason.clear();
}

/// A drag belongs to the set-up and the scale it was begun on; Escape takes it back.
void end_stale_drag(const AppState& app, CutState& c) {
    const int frame = ImGui::GetFrameCount(), before = std::exchange(c.scale_frame, frame);
    if (c.dragged && (before + 1 < frame || c.drag_revision != app.results.revision || is_struck(ImGuiKey_Escape)))
        forget_drag(c);
}

/// Where the mark is pulled to; it is written when the button of the mouse is let go over it, and only then.
void use_drag(Screen& screen, const CutRoom& room, const CutScale& s) {
    AppState& app = screen.app;
    CutState& c = app.view.cut;
    const bool begun = ImGui::IsItemActivated() && ImGui::IsMouseDown(ImGuiMouseButton_Left);
    if (begun || (c.dragged && ImGui::IsItemActive() && ImGui::IsMouseDown(ImGuiMouseButton_Left))) {
        c.drag_revision = app.results.revision;
        c.dragged = bring_inside(app, room, s.to_cut(ImGui::GetIO().MousePos.x), c.reason);
    } else if (c.dragged) {
        const double to = *c.dragged;
        forget_drag(c);
        if (ImGui::IsItemDeactivated() && ImGui::IsMouseReleased(ImGuiMouseButton_Left))
            say_refused(app, set_cut(app, room, to));
    }
}

/// Drag and keys of the scale. A drag is one change, made when the mark is let go.
void use_scale(Screen& screen, const CutRoom& room, const CutScale& s) {
    AppState& app = screen.app;
    CutState& c = app.view.cut;
    end_stale_drag(app, c);
    if (!room.interval.any) return forget_drag(c);
    const int revision = app.results.revision;
    use_drag(screen, room, s);
    if (c.dragged || revision != app.results.revision) return;
    const KeySteps steps = take_focused_key_steps();
    if (!steps.any()) return;
    const double step = app.mark.step, now = find_shortening(room.now);
    const double wanted = step_value(
        now, steps, {std::max(room.interval.least - step, 0.0), room.interval.most + step, step, large_steps * step});
    const double to = bring_inside(app, room, wanted, c.reason);
    if (std::fabs(to - now) > cut_tolerance || !is_on_cut_line(room.whole.halves, room.now))
        say_refused(app, set_cut(app, room, to));
}

void show_scale(Screen& screen, const CutRoom& room) {
    AppState& app = screen.app;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float overhang = 0.5F * screen.em(), width = ImGui::GetContentRegionAvail().x,
                height = make_target(screen, scale_ems * screen.em());
    CutScale s{corner.x + overhang, corner.x + width - overhang, corner.y + 3.0F, corner.y + height - 3.0F,
               find_end(room)};
    ImGui::InvisibleButton("cut mark", {std::max(width, 4.0F), height});
    remember_place(screen, "cut mark", FingerMove::across);
    if (ImGui::IsItemFocused()) app.view.cut.keyed_frame = ImGui::GetFrameCount();
    if (ImGui::IsItemHovered() && !ImGui::IsItemActive())
        show_hint(screen,
                  "Drag, or arrow keys: how much comes off. The mark keeps to cuts that leave gap and overlap; letting go "
                  "writes it into the set-up");
    use_scale(screen, room, s);
    show_focus(0.3F * screen.fonts.pixels_per_mm, true);
    draw_scale(screen, room, s, find_shortening(find_shown_cut(app, room)));
}

/// What the mark says in words.
void show_mark_words(Screen& screen, const CutRoom& room) {
    AppState& app = screen.app;
    show_text(say_shown_cut(app, room), screen.fonts.bold, palette().ink);
    remember_place(screen, "cut words");
    if (!room.interval.any) return;
    const CutRemark remark = say_about_cut(app, room);
    if (remark.warns)
        show_warning(remark.words);
    else
        show_quiet_text(remark.words);
    remember_place(screen, "cut place");
}

void show_cut_buttons(Screen& screen, const CutRoom& room) {
    AppState& app = screen.app;
    if (const std::optional<CutPair> total = find_recommended_total(room)) {
        if (ImGui::Button("Recommended")) say_refused(app, set_cuts(app, *total));
        remember_place(screen, "recommended cut");
        if (ImGui::IsItemHovered())
            show_hint(screen, fmt::format("Sets the cut of the set-up to {}{}", format_exact_cut(*total, app.mark, app.view.units),
                                  room.is_whole() ? "" : ", counted from the uncut shaft").c_str());
        ImGui::SameLine();
    }
    if (ImGui::Button("Whole")) say_refused(app, set_cut(app, room, 0.0));
    remember_place(screen, "whole shaft");
    if (ImGui::IsItemHovered()) show_hint(screen, "Takes the cut out of the set-up: the shaft counts as whole");
}

/// The numbers one below another, where columns would break words.
void show_numbers_in_lines(Screen& screen, const std::vector<CutNumber>& numbers, const std::string& after) {
    const auto line = [&](const std::string& state, const std::string& text, bool bad) {
        const std::string words = fmt::format("{}: {}", state, text);
        if (bad) show_text("! " + words, screen.fonts.bold, palette().alarm);
        else show_text(words);
    };
    for (const CutNumber& n : numbers) {
        show_quiet_text(n.what);
        line("whole", n.before, n.bad_before);
        if (!after.empty()) line(after, n.after, n.bad_after);
    }
    remember_place(screen, "cut numbers");
}

/// Whole shaft against the cut shown; while nothing is cut, against the recommended one.
void show_numbers(Screen& screen, const CutRoom& room) {
    const auto [name, cut] = find_compared_cut(screen.app, room);
    const std::vector<CutNumber> numbers = list_cut_numbers(make_cut_picture(room, cut), {screen.app.view.units});
    if (ImGui::GetContentRegionAvail().x < table_ems * screen.em()) return show_numbers_in_lines(screen, numbers, name);
    const int columns = name.empty() ? 2 : 3;
    const char* table = name.empty() ? "whole numbers" : "cut numbers";
    if (!ImGui::BeginTable(table, columns, ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingStretchProp)) return;
    ImGui::TableSetupColumn("", ImGuiTableColumnFlags_WidthStretch, 2.0F);
    ImGui::TableSetupColumn("whole", ImGuiTableColumnFlags_WidthStretch, 1.2F);
    if (columns == 3) ImGui::TableSetupColumn(name.c_str(), ImGuiTableColumnFlags_WidthStretch, 1.2F);
    ImGui::TableHeadersRow();
    const auto cell = [&](const std::string& text, bool bad) {
        ImGui::TableNextColumn();
        if (bad)
            show_text("! " + text, screen.fonts.bold, palette().alarm);
        else
            show_text(text);
    };
    for (const CutNumber& n : numbers) {
        ImGui::TableNextRow();
        cell(n.what, false);
        cell(n.before, n.bad_before);
        if (columns == 3) cell(n.after, n.bad_after);
    }
    ImGui::EndTable();
    remember_place(screen, "cut numbers");
}

void show_picture(Screen& screen, const CutPicture& picture) {
    CutState& c = screen.app.view.cut;
    const double width = screen.room_mm();
    if (width < 30.0) return;
    const bool same = c.picture_revision == screen.app.results.revision && c.picture_cut == picture.cut &&
                      c.picture_width == width && c.picture_units == screen.app.view.units;
    if (!same) {
        const ScreenTextMeasure measure(screen.fonts);
        const SafeWords w{screen.app.view.units};
        c.page = {};
        const double parts = add_cut_parts(c.page, picture, w, {0.0, 1.0, width, 400.0}, measure);
        c.picture_height = add_cut_states(c.page, picture, w, {0.0, parts + 1.5, width, 400.0}, measure);
        c.picture_revision = screen.app.results.revision;
        c.picture_cut = picture.cut;
        c.picture_width = width;
        c.picture_units = screen.app.view.units;
    }
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float ppm = screen.fonts.pixels_per_mm;
    const ImVec2 size{static_cast<float>(width) * ppm, static_cast<float>(c.picture_height) * ppm};
    ImGui::Dummy(size);
    remember_place(screen, "cut picture");
    draw_page(*ImGui::GetWindowDrawList(), c.page.shapes, {corner, ppm}, screen.fonts);
}

void show_no_room(const AppState& app) {
    const bool no_shaft = !app.now.setup.implement.pic.fitted;
    show_quiet_text(no_shaft
                        ? "No shaft to cut: the implement has no PTO input."
                        : "No shaft length can be computed from these readings: the findings name what is missing.");
}

void show_cutting_cautions() {
    show_warning("Both tubes and both guard tubes; then deburr, clean, grease.");
    for (const Caution caution : list_cutting_cautions()) show_warning(caution_sentence(caution));
}

/// What `cut` says of the halves as they are, with its cautions.
void show_answer_words(Screen& screen, const CutRoom& room) {
    AppState& app = screen.app;
    const SafeWords w{app.view.units};
    show_text(format_cut_answer(room.standing, app.view.units), screen.fonts.bold, palette().ink);
    remember_place(screen, "cut answer");
    if (const std::string made = format_cuts_made(room.now, w); !made.empty()) show_text(made);
    if (is_too_close(room.standing))
        show_warning(
            "Too close to call: the errors of the readings reach across a limit for the halves as they are. Measure "
            "directly, shaft to shaft, before you cut or run it.");
    show_warning(caution_sentence(Caution::measure_before_cutting));
    if (room.standing.plan.answer != CutAnswer::no_cut_works) return;
    show_warning(format_cut_obstacle(room.standing.plan, w));
    show_text("Ways out:");
    for (const std::string& way : list_ways_out(app, room)) show_text("- " + way);
    remember_place(screen, "ways out");
}

/// What the cut does to the guard tubes, which the scale does not look at.
void show_guard_words(Screen& screen, const CutRoom& room) {
    const SafeWords w{screen.app.view.units};
    if (!room.guard) return show_quiet_text("The guard tubes are not measured: see that they neither meet nor part.");
    const NamedCut compared = find_compared_cut(screen.app, room);
    const std::string trouble = say_guard_trouble(make_cut_picture(room, compared.cut), w);
    if (trouble.empty()) return;
    show_warning((compared.name.empty() ? "" : compared.name == "cut" ? "At this cut: " : "At the recommended cut: ") +
                 trouble);
    remember_place(screen, "guard trouble");
}

}  // namespace

void show_cut(Screen& screen) {
    AppState& app = screen.app;
    const std::optional<CutRoom> room = find_cut_room(app);
    show_heading(screen, "The cut of the shaft");
    if (!room) {
        show_no_room(app);
        return show_cutting_cautions();
    }
    show_answer_words(screen, *room);
    show_scale(screen, *room);
    show_mark_words(screen, *room);
    show_guard_words(screen, *room);
    show_cut_buttons(screen, *room);
    show_numbers(screen, *room);
    show_picture(screen, make_cut_picture(*room, find_shown_cut(app, *room)));
    show_cutting_cautions();
}

}  // namespace hitchwright
