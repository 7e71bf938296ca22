#include "gui/palette.h"

#include <utility>

namespace hitchwright {
namespace {

constexpr std::pair<ImGuiCol, ImU32> colours[] = {
    {ImGuiCol_Text, palette::ink},
    {ImGuiCol_TextDisabled, palette::quiet},
    {ImGuiCol_WindowBg, palette::desk},
    {ImGuiCol_ChildBg, palette::desk},
    {ImGuiCol_PopupBg, palette::paper},
    {ImGuiCol_Border, palette::line},
    {ImGuiCol_FrameBg, palette::field},
    {ImGuiCol_FrameBgHovered, palette::pale_blue},
    {ImGuiCol_FrameBgActive, palette::pale_blue},
    {ImGuiCol_ScrollbarBg, palette::desk},
    {ImGuiCol_ScrollbarGrab, palette::line},
    {ImGuiCol_ScrollbarGrabHovered, palette::quiet},
    {ImGuiCol_ScrollbarGrabActive, palette::blue},
    {ImGuiCol_CheckMark, palette::blue},
    {ImGuiCol_SliderGrab, palette::ink},
    {ImGuiCol_SliderGrabActive, palette::blue},
    {ImGuiCol_Button, palette::field},
    {ImGuiCol_ButtonHovered, palette::pale_blue},
    {ImGuiCol_ButtonActive, palette::pale_blue},
    {ImGuiCol_Header, palette::pale_blue},
    {ImGuiCol_HeaderHovered, palette::pale_blue},
    {ImGuiCol_HeaderActive, palette::pale_blue},
    {ImGuiCol_Separator, palette::line},
    {ImGuiCol_TableHeaderBg, palette::desk},
    {ImGuiCol_TableBorderStrong, palette::line},
    {ImGuiCol_TableBorderLight, palette::line},
    {ImGuiCol_TextSelectedBg, palette::pale_blue},
    {ImGuiCol_NavHighlight, palette::blue},
    {ImGuiCol_TitleBg, palette::desk},
    {ImGuiCol_TitleBgActive, palette::desk},
    {ImGuiCol_ModalWindowDimBg, IM_COL32(0x1A, 0x1C, 0x20, 0x60)},
};

}  // namespace

void set_style(float em) {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle();
    ImGui::StyleColorsLight(&style);
    for (const auto& [which, colour] : colours) style.Colors[which] = ImGui::ColorConvertU32ToFloat4(colour);
    style.WindowPadding = {0.55F * em, 0.45F * em};
    style.FramePadding = {0.4F * em, 0.25F * em};
    style.ItemSpacing = {0.5F * em, 0.3F * em};
    style.CellPadding = {0.35F * em, 0.15F * em};
    style.ScrollbarSize = 0.8F * em;
    style.WindowRounding = style.ChildRounding = 0.0F;
    style.FrameRounding = style.GrabRounding = 0.15F * em;
    style.FrameBorderSize = style.ChildBorderSize = 1.0F;
    style.WindowBorderSize = 0.0F;
}

}  // namespace hitchwright
