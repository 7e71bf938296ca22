// Verdict and cautions in the form of the printed page: the same blocks, drawn on the screen.
#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "report/caution_text.h"
#include "report/fit_report.h"
#include "report/page_blocks.h"
#include "report/side_view.h"
#include "report/travel_table.h"

namespace hitchwright {
namespace {

constexpr double far_below_mm = 1000.0;
constexpr float low_window_ems = 50.0F;
constexpr std::size_t endless = 100000;  // columns: the page wraps, not the text

/// Draws a page whose part between `top` and `bottom` (mm) is to appear at the cursor, and takes that room.
void show_page(Screen& screen, const PagePicture& page, double top, double bottom) {
    const float ppm = screen.fonts.pixels_per_mm;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    draw_page(*ImGui::GetWindowDrawList(), page.shapes, {{at.x, at.y - static_cast<float>(top) * ppm}, ppm},
              screen.fonts);
    ImGui::Dummy({ImGui::GetContentRegionAvail().x, static_cast<float>(bottom - top) * ppm});
}

std::string describe_machines(const AppState& app) {
    const Setup& s = app.now.setup;
    const auto name = [](const std::string& own, const std::string& key) { return own.empty() ? key : own; };
    std::string text = setup_title(app) + ": " + name(s.tractor.name, s.tractor.key) + "; " +
                       name(s.implement.name, s.implement.key);
    if (s.has_driveline) text += "; " + name(s.driveline.name, s.driveline.key);
    else if (!s.implement.pic.fitted) text += "; no PTO input, no shaft";
    text += "; rules: " + name(s.rules.name, s.rules.key) + ". ";
    return text + format_origins(s, {app.view.units, endless, false});
}

std::vector<std::string> list_standing_cautions(const AppState& app) {
    std::vector<std::string> cautions;
    for (const Caution caution : standing_cautions) {
        const bool no_shaft = app.problems.empty() && !app.results.analysis.shaft && !app.now.setup.implement.pic.fitted;
        if (caution == Caution::keep_from_turning_shaft && no_shaft) continue;
        cautions.emplace_back(caution_sentence(caution));
    }
    return cautions;
}

/// The caution block, composed anew when its words or its room are others.
const PlacedCautions& place_cautions(const Screen& screen) {
    PlacedCautions& p = screen.app.view.cautions;
    const double width = screen.room_mm();
    std::vector<std::string> words = list_standing_cautions(screen.app);
    if (p.width == width && p.em == screen.em() && p.words == words) return p;
    p = {width, screen.em(), std::move(words), {}, 0.0, p.composed + 1};
    p.top = add_cautions(p.page, p.words, {0.0, 0.0, width, far_below_mm}, ScreenTextMeasure(screen.fonts));
    return p;
}

/// In one column the mark stands above the words, and they run on: a narrow page would be full of them.
std::string join_cautions(const AppState& app) {
    std::string text;
    for (const std::string& caution : list_standing_cautions(app)) text += (text.empty() ? "" : " ") + caution;
    return text;
}

float find_joined_height(const Screen& screen, const std::string& words) {
    const float pad = 0.5F * screen.em(), wrap = ImGui::GetContentRegionAvail().x - 2.0F * pad;
    return ImGui::CalcTextSize(words.c_str(), nullptr, false, std::max(wrap, screen.em())).y + ImGui::GetTextLineHeight() + 2.0F * pad;
}

void show_joined_cautions(Screen& screen) {
    const std::string words = join_cautions(screen.app);
    const float em = screen.em(), pad = 0.5F * em, line = ImGui::GetTextLineHeight(), width = ImGui::GetContentRegionAvail().x;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy({width, find_joined_height(screen, words)});
    const ImVec2 most = ImGui::GetItemRectMax();
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(at, most, palette().paper);
    list.AddRect(at, most, palette().ink, 0.0F, 0, 0.15F * em);
    const ImVec2 top{at.x + pad, at.y + pad};
    const ImFont* const bold = screen.fonts.bold.font;
    list.AddTriangle({top.x + 0.6F * em, top.y}, {top.x + 1.2F * em, top.y + em}, {top.x, top.y + em}, palette().ink, 0.13F * em);
    list.AddText(bold, bold->FontSize, {top.x + 1.6F * em, top.y}, palette().ink, "CAUTION");
    list.AddText(ImGui::GetFont(), ImGui::GetFontSize(), {top.x, top.y + line}, palette().ink, words.c_str(), nullptr, std::max(width - 2.0F * pad, em));
}

}  // namespace

void show_verdict(Screen& screen) {
    const AppState& app = screen.app;
    const ScreenTextMeasure measure(screen.fonts);
    const PageRect area{0.0, 0.0, screen.room_mm(), far_below_mm};
    const std::string sentence = format_verdict_sentence(app.now.setup, app.results.analysis, app.view.units);
    PagePicture page;
    const std::string machines = describe_machines(app);
    // In a low window the room is the picture's: there the machines are under the cursor.
    const bool low = ImGui::GetIO().DisplaySize.y < low_window_ems * screen.em();
    const double bottom =
        add_verdict_header(page, app.results.analysis.verdict, sentence, low ? std::string() : machines, area, measure);
    show_page(screen, page, area.top, bottom);
    remember_place(screen, "verdict");
    if (low && ImGui::IsItemHovered()) show_hint(screen, machines);
}

float find_caution_height(const Screen& screen) {
    if (screen.app.view.column.on) return find_joined_height(screen, join_cautions(screen.app));
    return static_cast<float>(far_below_mm - place_cautions(screen).top) * screen.fonts.pixels_per_mm;
}

void show_cautions(Screen& screen) {
    if (screen.app.view.column.on) {
        show_joined_cautions(screen);
    } else {
        const PlacedCautions& p = place_cautions(screen);
        show_page(screen, p.page, p.top, far_below_mm);
    }
    remember_place(screen, "cautions");
}

}  // namespace hitchwright
