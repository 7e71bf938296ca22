#include "gui/palette.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace hitchwright {
namespace {

constexpr ImU32 rgb(std::uint32_t hex) { return IM_COL32((hex >> 16U) & 0xFFU, (hex >> 8U) & 0xFFU, hex & 0xFFU, 255); }

constexpr Palette light{rgb(0x1A1C20), rgb(0x4A525C), rgb(0xB9B4A6), rgb(0xFFFFFF), rgb(0xF3F0E8), rgb(0xFFFEFA), rgb(0x124780),
                        rgb(0xD6E4F1), rgb(0x8A4B08), rgb(0xB8240E), rgb(0xFBE4DF), IM_COL32(0x1A, 0x1C, 0x20, 0x60)};
constexpr Palette dark{rgb(0xF0EDE6), rgb(0xBDBAB0), rgb(0x5C6167), rgb(0x22262B), rgb(0x181B1F), rgb(0x2C3137), rgb(0x93C4F2),
                       rgb(0x2F465D), rgb(0xE6AC62), rgb(0xFF927A), rgb(0x532A22), IM_COL32(0x00, 0x00, 0x00, 0xA0)};

/// The printed colours of report/role_style.cpp and what stands for them in the dark.
constexpr std::array<std::pair<std::uint32_t, std::uint32_t>, 12> in_the_dark{{
    {0x1A1C20, 0xF0EDE6},
    {0x5A626C, 0xB0B6BD},
    {0x8C939B, 0x7C848C},
    {0x124780, 0x93C4F2},
    {0x8A4B08, 0xE6AC62},
    {0xB8240E, 0xFF927A},
    {0x000000, 0xFFFFFF},
    {0xFFFFFF, 0x22262B},
    {0xF1F2F3, 0x31363C},
    {0xE3ECF5, 0x2A3B4D},
    {0xF8F1E4, 0x3A3225},
    {0xFBE4DF, 0x532A22},
}};

std::uint32_t hex_of(Colour c) {
    return (std::uint32_t{c.red} << 16U) | (std::uint32_t{c.green} << 8U) | std::uint32_t{c.blue};
}

struct StyleColour {
    ImGuiCol which;
    ImU32 Palette::* colour;
};

constexpr StyleColour colours[] = {
    {ImGuiCol_Text, &Palette::ink},
    {ImGuiCol_TextDisabled, &Palette::quiet},
    {ImGuiCol_WindowBg, &Palette::desk},
    {ImGuiCol_ChildBg, &Palette::desk},
    {ImGuiCol_PopupBg, &Palette::paper},
    {ImGuiCol_Border, &Palette::line},
    {ImGuiCol_FrameBg, &Palette::field},
    {ImGuiCol_FrameBgHovered, &Palette::pale_blue},
    {ImGuiCol_FrameBgActive, &Palette::pale_blue},
    {ImGuiCol_ScrollbarBg, &Palette::desk},
    {ImGuiCol_ScrollbarGrab, &Palette::line},
    {ImGuiCol_ScrollbarGrabHovered, &Palette::quiet},
    {ImGuiCol_ScrollbarGrabActive, &Palette::blue},
    {ImGuiCol_CheckMark, &Palette::blue},
    {ImGuiCol_SliderGrab, &Palette::ink},
    {ImGuiCol_SliderGrabActive, &Palette::blue},
    {ImGuiCol_Button, &Palette::field},
    {ImGuiCol_ButtonHovered, &Palette::pale_blue},
    {ImGuiCol_ButtonActive, &Palette::pale_blue},
    {ImGuiCol_Header, &Palette::pale_blue},
    {ImGuiCol_HeaderHovered, &Palette::pale_blue},
    {ImGuiCol_HeaderActive, &Palette::pale_blue},
    {ImGuiCol_Separator, &Palette::line},
    {ImGuiCol_TableHeaderBg, &Palette::desk},
    {ImGuiCol_TableBorderStrong, &Palette::line},
    {ImGuiCol_TableBorderLight, &Palette::line},
    {ImGuiCol_TextSelectedBg, &Palette::pale_blue},
    {ImGuiCol_NavHighlight, &Palette::blue},
    {ImGuiCol_TitleBg, &Palette::desk},
    {ImGuiCol_TitleBgActive, &Palette::desk},
    {ImGuiCol_ModalWindowDimBg, &Palette::shade},
    {ImGuiCol_PlotLines, &Palette::blue},
    {ImGuiCol_DragDropTarget, &Palette::blue},
};

}  // namespace

ImVec2 find_frame_padding(float em, float target) {
    constexpr float usual_x = 0.4F, usual_y = 0.25F, line = 1.164F;  // ems; of a line of text as gui/fonts.cpp sizes it
    if (target <= 0.0F) return {usual_x * em, usual_y * em};
    return {0.8F * em, std::max(usual_y * em, std::ceil((target - std::floor(line * em)) / 2.0F))};
}

const Palette& palette_of(Theme theme) { return theme == Theme::dark ? dark : light; }

const Palette& palette() {
    const void* const set = ImGui::GetCurrentContext() == nullptr ? nullptr : ImGui::GetIO().UserData;
    return set == nullptr ? light : *static_cast<const Palette*>(set);
}

ImU32 printed_colour(Colour c) { return IM_COL32(c.red, c.green, c.blue, 255); }

ImU32 screen_colour(Colour c) {
    if (&palette() != &dark) return printed_colour(c);
    for (const auto& [printed, shown] : in_the_dark) {
        if (printed == hex_of(c)) return rgb(shown);
    }
    return printed_colour(c);
}

void set_style(float em, Theme theme, float target) {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle();
    if (theme == Theme::dark) ImGui::StyleColorsDark(&style);
    else ImGui::StyleColorsLight(&style);
    const Palette& chosen = palette_of(theme);
    ImGui::GetIO().UserData = const_cast<Palette*>(&chosen);  // Dear ImGui keeps it; nobody writes through it
    for (const StyleColour& c : colours) style.Colors[c.which] = ImGui::ColorConvertU32ToFloat4(chosen.*c.colour);
    style.WindowPadding = {0.55F * em, 0.45F * em};
    style.FramePadding = find_frame_padding(em, target);
    style.GrabMinSize = std::max(style.GrabMinSize, 0.7F * target);
    style.ItemSpacing = {0.5F * em, 0.3F * em};
    style.CellPadding = {0.35F * em, 0.15F * em};
    style.ScrollbarSize = 0.8F * em;
    style.WindowRounding = style.ChildRounding = 0.0F;
    style.FrameRounding = style.GrabRounding = 0.15F * em;
    style.FrameBorderSize = style.ChildBorderSize = 1.0F;
    style.WindowBorderSize = 0.0F;
}

}  // namespace hitchwright
