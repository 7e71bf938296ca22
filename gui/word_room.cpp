// See word_room.h.
#include "gui/word_room.h"

#include "gui/page_canvas.h"
#include "gui/palette.h"
#include "report/page_blocks.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr float unplaced_lines = 2.2F;  // of text at the lower edge

}  // namespace

void place_words(Screen& screen, const PictureCanvas& canvas, const Drawing& drawing, double strip, PagePicture& page,
                 std::vector<std::string>& unplaced, WordPlaces& places) {
    const ScreenTextMeasure measure(screen.fonts);
    const PageRect& area = canvas.panel;
    const PageRect buttons{area.left, area.top, area.right, area.top + strip};
    const std::vector<std::string> not_known = unplaced;
    for (const bool with_lines : {!not_known.empty(), true}) {
        page = {};
        unplaced = not_known;
        const double lines = with_lines ? static_cast<double>(unplaced_lines * ImGui::GetTextLineHeight() / canvas.ppm) : 0.0;
        PageRect free = area;
        free.bottom -= lines;
        const PageRect bar = add_scale_bar(page, canvas.placement.scale_denominator, screen.app.view.units, {free.right - 2.0, free.bottom - 1.5}, measure);
        const std::vector<std::string> left = add_drawing(page, drawing, canvas.placement, free, {grown(bar, 0.5), buttons}, measure, &places);
        for (const std::string& words : left) unplaced.push_back("No room in the picture for: " + words + ".");
        if (unplaced.empty() || with_lines) return;
    }
}

void show_unplaced(Screen& screen, const std::vector<std::string>& unplaced, ImVec2 corner, ImVec2 room) {
    if (unplaced.empty()) return;
    std::string text;
    for (const std::string& words : unplaced) text += (text.empty() ? "" : " ") + words;
    const std::string all = text;
    const float width = room.x - 4.0F, height = ImGui::CalcTextSize(text.c_str(), nullptr, false, width).y;
    const bool too_long = height > 2.1F * ImGui::GetTextLineHeight();
    if (too_long) text = "No room for " + format_count(unplaced.size(), "sentence") + (screen.app.view.touch.coarse ? ": hold a finger here, or larger." : ": cursor here, or larger (+).");
    const float used = ImGui::CalcTextSize(text.c_str(), nullptr, false, width).y;
    const ImVec2 at{corner.x + 2.0F, corner.y + room.y - used};
    ImGui::GetWindowDrawList()->AddRectFilled(at, {corner.x + room.x, corner.y + room.y}, palette().paper);
    ImGui::SetCursorScreenPos(at);
    show_quiet_text(text);
    if (too_long && ImGui::IsItemHovered()) show_hint(screen, all);
}

}  // namespace hitchwright
