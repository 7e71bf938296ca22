// The room of answers: a row of questions, and the answer to the one chosen. What the command line prints as text stands
// here in blocks; what it prints on paper, as pages.
#include "gui/panels.h"

#include <algorithm>

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include "cli/seen_list.h"
#include "gui/answers.h"
#include "gui/block_view.h"
#include "gui/choices.h"
#include "gui/export.h"
#include "gui/page_canvas.h"
#include "gui/palette.h"

namespace hitchwright {
namespace {

constexpr float least_zoom = 0.4F, most_zoom = 6.0F, zoom_step = 1.25F;

void show_questions(Screen& screen) {
    AppState& app = screen.app;
    const AnswerKind shown = shown_answer(app).choice;
    for (const AnswerEntry& entry : answer_entries()) {
        if (!is_there(app, entry)) continue;
        if (show_choice(screen, entry.word, entry.choice == shown, std::string("answer ") + entry.name)) app.view.answers.kind = entry.choice;
        if (ImGui::IsItemHovered()) show_hint(screen, entry.hint);
    }
    end_choices();
    ImGui::Separator();
}

/// Senses and places of something ticked, and its number.
void show_tick_fields(Screen& screen, const SeenItem& item, SeenTick& tick, std::size_t number) {
    const std::string place = fmt::format("seen {}", number);
    if (!is_complaint(item.kind)) {
        ImGui::SetNextItemWidth(std::min(9.0F * screen.em(), ImGui::GetContentRegionAvail().x));
        const bool angle = seen_dimension(item.kind) == Dimension::angle;
        const bool inch = screen.app.view.units == UnitSystem::inch;
        ImGui::InputTextWithHint(("##" + place).c_str(), angle ? "2 deg" : inch ? "1 1/2 in" : "38 mm", &tick.number);
        remember_place(screen, place + " number");
    }
    if (item.more != nullptr) {
        if (show_choice(screen, item.more, tick.more, place + " more")) tick.more = true;
        if (show_choice(screen, item.less, !tick.more, place + " less")) tick.more = false;
        end_choices();
    }
    const std::vector<SeenSpot> spots = list_spots(item, screen.app.now.setup);
    if (spots.size() > 1) {
        tick.spot = std::min(tick.spot, spots.size() - 1);
        for (std::size_t i = 0; i < spots.size(); ++i) {
            if (show_choice(screen, spots[i].words, tick.spot == i, fmt::format("{} spot {}", place, i))) tick.spot = i;
        }
        end_choices();
    }
    if (!tick.problem.empty()) show_warning(tick.problem);
}

/// A line of the list, with its fields once it is ticked.
void show_seen(Screen& screen, std::size_t number) {
    const SeenItem& item = seen_items()[number];
    SeenTick& tick = screen.app.view.answers.seen[number];
    ImGui::PushID(static_cast<int>(number));
    ImGui::Checkbox("##tick", &tick.ticked);
    remember_place(screen, fmt::format("seen {}", number));
    ImGui::SameLine();
    show_text(item.words);
    if (ImGui::IsItemClicked()) tick.ticked = !tick.ticked;
    if (tick.ticked) {
        ImGui::Indent(1.5F * screen.em());
        show_tick_fields(screen, item, tick, number);
        ImGui::Unindent(1.5F * screen.em());
    }
    ImGui::PopID();
}

bool is_ticked(const AppState& app, std::size_t number) {
    const auto found = app.view.answers.seen.find(number);
    return found != app.view.answers.seen.end() && found->second.ticked;
}

/// What is ticked stands first; the rest steps aside for the answer, behind a button.
void show_seen_list(Screen& screen) {
    AppState& app = screen.app;
    std::vector<std::size_t> ticked, others;
    for (std::size_t i = 0; i < seen_items().size(); ++i) {
        if (is_there(seen_items()[i], app.now.setup)) (is_ticked(app, i) ? ticked : others).push_back(i);
    }
    show_heading(screen, ticked.empty() ? "Tick what is seen at the machine" : "Seen at the machine");
    for (const std::size_t i : ticked) show_seen(screen, i);
    if (!ticked.empty()) {
        bool& more = app.view.answers.lists_more;
        if (ImGui::Button(more ? "Hide the rest of the list###more seen" : "Something else is seen too###more seen")) more = !more;
        remember_place(screen, "more seen");
    }
    if (ticked.empty() || app.view.answers.lists_more) {
        for (const std::size_t i : others) show_seen(screen, i);
    }
    if (!ticked.empty()) {
        ImGui::Checkbox("##all causes", &app.view.answers.all_causes);
        remember_place(screen, "all causes");
        ImGui::SameLine();
        show_text("Show every cause, those too that cannot be it");
    }
    ImGui::Separator();
}

/// The answer; while something is held and dragged the one before stands, since some take longer than a frame.
void show_answer_blocks(Screen& screen) {
    AppState& app = screen.app;
    const bool held = ImGui::IsMouseDown(ImGuiMouseButton_Left) && app.view.answers.made.kind == shown_answer(app).choice &&
                      !app.view.answers.made.blocks.empty() && is_stale(app);
    if (held) show_warning("This is the answer before the change; let go for the new one.");
    const std::vector<AnswerBlock>& blocks = held ? app.view.answers.made.blocks : make_answer(app);
    const std::string tried = show_blocks(screen, blocks);
    if (tried.empty()) return;
    const std::vector<Problem> problems = change_driveline(app, tried);
    if (!problems.empty()) app.view.notice = "Not changed: " + say_problem(problems);
}

bool show_small_button(Screen& screen, const char* label, const char* hint) {
    start_in_row(label);
    const bool pressed = ImGui::Button(label);
    remember_place(screen, label);
    if (ImGui::IsItemHovered()) show_hint(screen, hint);
    ImGui::SameLine();
    return pressed;
}

void show_page_controls(Screen& screen, PagePreview& p) {
    AppState& app = screen.app;
    for (std::size_t i = 0; i < p.pages.size(); ++i) {
        const std::string name = name_page(app, i);
        if (show_choice(screen, name, p.page == i, name)) p.page = i;
    }
    end_choices();
    if (show_choice(screen, "letter", !p.a4, "letter")) p.a4 = false;
    if (show_choice(screen, "A4", p.a4, "A4")) p.a4 = true;
    end_choices();
    if (show_small_button(screen, "Larger", "The page larger")) p.zoom = std::min(most_zoom, p.zoom * zoom_step);
    if (show_small_button(screen, "Smaller", "The page smaller")) p.zoom = std::max(least_zoom, p.zoom / zoom_step);
    if (show_small_button(screen, "Whole width", "The page as wide as this room")) p.zoom = 1.0F;
    if (show_small_button(screen, "As a file", "Takes it along as a PDF"))  {
        choose_export(app, p.kind == AnswerKind::sheet ? "sheet" : "card");
        app.view.take.a4 = p.a4;
        ask_to_export(app);
    }
    ImGui::NewLine();
}

/// Arrow and page keys move a page that is larger than the room; so does dragging it.
void move_page(float step, float room) {
    const auto pressed = [](ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); };
    if (ImGui::IsItemActive() && ImGui::IsMouseDragging(ImGuiMouseButton_Left, 0.0F)) {
        ImGui::SetScrollX(ImGui::GetScrollX() - ImGui::GetIO().MouseDelta.x);
        ImGui::SetScrollY(ImGui::GetScrollY() - ImGui::GetIO().MouseDelta.y);
    }
    if (!ImGui::IsWindowFocused() || ImGui::GetIO().WantTextInput) return;
    if (pressed(ImGuiKey_DownArrow)) ImGui::SetScrollY(ImGui::GetScrollY() + step);
    if (pressed(ImGuiKey_UpArrow)) ImGui::SetScrollY(ImGui::GetScrollY() - step);
    if (pressed(ImGuiKey_RightArrow)) ImGui::SetScrollX(ImGui::GetScrollX() + step);
    if (pressed(ImGuiKey_LeftArrow)) ImGui::SetScrollX(ImGui::GetScrollX() - step);
    if (pressed(ImGuiKey_PageDown)) ImGui::SetScrollY(ImGui::GetScrollY() + room);
    if (pressed(ImGuiKey_PageUp)) ImGui::SetScrollY(ImGui::GetScrollY() - room);
}

void show_page(Screen& screen, const PagePreview& p) {
    const PagePicture& page = p.pages[p.page];
    constexpr ImGuiWindowFlags flags = ImGuiWindowFlags_HorizontalScrollbar;
    if (ImGui::BeginChild("paper", {0.0F, 0.0F}, false, flags)) {
        const ImVec2 room = ImGui::GetContentRegionAvail();
        const float per_mm = p.zoom * room.x / static_cast<float>(page.width_mm);
        const ImVec2 size{static_cast<float>(page.width_mm) * per_mm, static_cast<float>(page.height_mm) * per_mm};
        const ImVec2 corner = ImGui::GetCursorScreenPos();
        ImGui::InvisibleButton("page", size);
        remember_place(screen, "page");
        move_page(4.0F * screen.em(), 0.8F * ImGui::GetWindowHeight());
        ImDrawList& list = *ImGui::GetWindowDrawList();
        list.AddRectFilled(corner, {corner.x + size.x, corner.y + size.y}, IM_COL32_WHITE);
        list.AddRect(corner, {corner.x + size.x, corner.y + size.y}, palette().line);
        draw_page(list, page.shapes, {corner, per_mm, true}, screen.fonts);
    }
    ImGui::EndChild();
}

void show_paper(Screen& screen) {
    make_preview(screen.app);
    show_page_controls(screen, screen.app.view.answers.preview);
    const PagePreview& p = make_preview(screen.app);
    if (p.pages.empty()) return show_warning(p.refused.empty() ? "There is no page." : p.refused + ".");
    show_page(screen, p);
}

}  // namespace

void show_answers(Screen& screen) {
    show_questions(screen);
    const AnswerKind kind = shown_answer(screen.app).choice;
    if (is_paper(kind)) return show_paper(screen);
    if (kind == AnswerKind::wrong) show_seen_list(screen);
    show_answer_blocks(screen);
}

}  // namespace hitchwright
