#include "gui/origin_marks.h"

#include "gui/palette.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr float half_size = 0.33F, thickness = 0.09F, gap = 0.35F;  // ems
constexpr std::optional<Origin> all_origins[] = {Origin::measured, Origin::manual, Origin::preset, Origin::assumed, std::nullopt};

}  // namespace

void draw_origin_mark(ImDrawList& list, ImVec2 corner, float em, std::optional<Origin> origin) {
    const ImVec2 c{corner.x + 0.5F * em, corner.y + 0.5F * em};
    const float r = half_size * em, wide = std::max(1.0F, thickness * em);
    const ImU32 ink = palette().ink;
    if (!origin) {
        list.AddLine({c.x - r, c.y - r}, {c.x + r, c.y + r}, ink, wide);
        list.AddLine({c.x - r, c.y + r}, {c.x + r, c.y - r}, ink, wide);
        return;
    }
    switch (*origin) {
        case Origin::measured:
            list.AddCircleFilled(c, r, ink);
            break;
        case Origin::manual:
            list.AddRect({c.x - r, c.y - r}, {c.x + r, c.y + r}, ink, 0.0F, 0, wide);
            list.AddLine({c.x - 0.6F * r, c.y}, {c.x + 0.6F * r, c.y}, ink, wide);
            break;
        case Origin::preset:
            list.AddCircle(c, r, ink, 0, wide);
            break;
        case Origin::assumed:
            list.AddTriangle({c.x, c.y - r}, {c.x + r, c.y + r}, {c.x - r, c.y + r}, ink, wide);
            break;
        case Origin::computed:
            list.AddLine({c.x - r, c.y - 0.4F * r}, {c.x + r, c.y - 0.4F * r}, ink, wide);
            list.AddLine({c.x - r, c.y + 0.4F * r}, {c.x + r, c.y + 0.4F * r}, ink, wide);
            break;
    }
}

std::string_view say_origin(std::optional<Origin> origin) { return origin ? origin_word(*origin) : "unknown"; }

void show_origin_legend(Screen& screen) {
    const float em = screen.em(), line = ImGui::GetTextLineHeight();
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    bool first = true;
    for (const auto& origin : all_origins) {
        const std::string_view word = say_origin(origin);
        const float width = (1.0F + gap) * em + ImGui::CalcTextSize(word.data(), word.data() + word.size()).x;
        if (!first) {
            ImGui::SameLine(0.0F, 0.8F * em);
            if (ImGui::GetCursorScreenPos().x + width > right) ImGui::NewLine();
        }
        first = false;
        draw_origin_mark(*ImGui::GetWindowDrawList(), ImGui::GetCursorScreenPos(), line, origin);
        ImGui::Dummy({em, line});
        ImGui::SameLine(0.0F, gap * em);
        ImGui::PushStyleColor(ImGuiCol_Text, palette().quiet);
        ImGui::TextUnformatted(word.data(), word.data() + word.size());
        ImGui::PopStyleColor();
    }
}

}  // namespace hitchwright
