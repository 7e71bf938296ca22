// See picture_canvas.h.
#include "gui/picture_canvas.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "gui/palette.h"

namespace hitchwright {
namespace {

constexpr double zoom_per_notch = 1.15, zoom_per_key = 1.25, pan_share = 0.1;
constexpr double margin_counted = 6.5;  // mm of the fitted picture's upper margin that one row of buttons takes anyway

PagePoint middle_of(const PageRect& area) { return {(area.left + area.right) / 2.0, (area.top + area.bottom) / 2.0}; }

/// What lay between two fingers stays there.
void follow_fingers(ViewState& view, const PictureCanvas& canvas) {
    const TouchState& touch = view.touch;
    if (touch.work != FingerWork::moves || (touch.zoom == 1.0F && touch.pan.x == 0.0F && touch.pan.y == 0.0F)) return;
    const PagePoint before = canvas.to_page({touch.middle.x - touch.pan.x, touch.middle.y - touch.pan.y});
    view.camera = zoom_about(canvas.placement, canvas.area, before, static_cast<double>(touch.zoom));
    const Placement zoomed = find_placement(view.camera, {}, canvas.area);
    view.camera = pan_by(zoomed, canvas.area, {static_cast<double>(touch.pan.x / canvas.ppm), static_cast<double>(touch.pan.y / canvas.ppm)});
}

}  // namespace

PictureCanvas make_canvas(const Screen& screen, float strip) {
    PictureCanvas c;
    c.corner = ImGui::GetCursorScreenPos();
    c.size = ImGui::GetContentRegionAvail();
    c.ppm = screen.fonts.pixels_per_mm;
    c.panel = {0.0, 0.0, static_cast<double>(c.size.x / c.ppm), static_cast<double>(c.size.y / c.ppm)};
    c.area = c.panel;
    // Where the buttons leave too little, the picture lies under them.
    const double top = std::max(static_cast<double>(strip / c.ppm) - margin_counted, 0.0);
    if (top < 0.5 * c.panel.height()) c.area.top = top;
    return c;
}

void move_camera(ViewState& view, const PictureCanvas& canvas, bool pans) {
    const ImGuiIO& io = ImGui::GetIO();
    SideCamera& camera = view.camera;
    if (ImGui::IsItemHovered()) follow_fingers(view, canvas);
    if (ImGui::IsItemHovered() && io.MouseWheel != 0.0F)
        camera = zoom_about(canvas.placement, canvas.area, canvas.to_page(io.MousePos), std::pow(zoom_per_notch, static_cast<double>(io.MouseWheel)));
    const bool left = pans && ImGui::IsItemActive();
    const bool other = ImGui::IsItemHovered() && (ImGui::IsMouseDown(ImGuiMouseButton_Right) || ImGui::IsMouseDown(ImGuiMouseButton_Middle));
    if ((left || other) && (io.MouseDelta.x != 0.0F || io.MouseDelta.y != 0.0F))
        camera = pan_by(canvas.placement, canvas.area, {static_cast<double>(io.MouseDelta.x / canvas.ppm), static_cast<double>(io.MouseDelta.y / canvas.ppm)});
}

void move_camera_with_keys(SideCamera& camera, const PictureCanvas& canvas) {
    if (is_typed('+') || is_typed('=')) camera = zoom_about(canvas.placement, canvas.area, middle_of(canvas.area), zoom_per_key);
    if (is_typed('-')) camera = zoom_about(canvas.placement, canvas.area, middle_of(canvas.area), 1.0 / zoom_per_key);
    if (is_typed('0')) camera.fitted = true;
    if (!ImGui::GetIO().KeyShift) return;
    const double across = pan_share * canvas.area.width(), down = pan_share * canvas.area.height();
    PagePoint by{0.0, 0.0};
    // The arrow says where to look: the picture moves the other way.
    if (is_struck(ImGuiKey_LeftArrow)) by.x += across;
    if (is_struck(ImGuiKey_RightArrow)) by.x -= across;
    if (is_struck(ImGuiKey_UpArrow)) by.y += down;
    if (is_struck(ImGuiKey_DownArrow)) by.y -= down;
    if (by.x == 0.0 && by.y == 0.0) return;
    camera = pan_by(canvas.placement, canvas.area, by);
    ImGui::NavMoveRequestCancel();  // the arrows were the picture's: the keyboard stays where it is
}

bool takes_picture_keys(const AppState& app) {
    const bool asked = app.view.save.open || app.view.asks_to_close;
    return !asked && !ImGui::GetIO().WantTextInput && (ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) || ImGui::IsItemFocused());
}

bool is_escaped(const AppState& app) {
    return is_struck(ImGuiKey_Escape) && !app.view.save.open && !app.view.asks_to_close && !app.view.act.typed && !ImGui::GetIO().WantTextInput;
}

bool is_typed(char character) {
    const ImGuiIO& io = ImGui::GetIO();
    const auto& typed = io.InputQueueCharacters;
    return !io.KeyCtrl && std::find(typed.begin(), typed.end(), static_cast<ImWchar>(character)) != typed.end();
}

bool is_struck(ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); }

void draw_tag(const Screen& screen, const PictureCanvas& canvas, ImVec2 at, const std::string& text) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const float pad = 0.35F * screen.em(), off = 1.1F * screen.em();
    const float most = std::max(0.6F * canvas.size.x, 8.0F * screen.em());
    const ImVec2 size = ImGui::CalcTextSize(text.c_str(), nullptr, false, most);
    ImVec2 corner{at.x + off, at.y - off - size.y};
    corner.x = std::clamp(corner.x, canvas.corner.x + pad, std::max(canvas.corner.x + pad, canvas.corner.x + canvas.size.x - size.x - pad));
    corner.y = std::clamp(corner.y, canvas.corner.y + pad, std::max(canvas.corner.y + pad, canvas.corner.y + canvas.size.y - size.y - pad));
    list.AddRectFilled({corner.x - pad, corner.y - pad}, {corner.x + size.x + pad, corner.y + size.y + pad}, palette().paper);
    list.AddRect({corner.x - pad, corner.y - pad}, {corner.x + size.x + pad, corner.y + size.y + pad}, palette().quiet);
    list.AddText(screen.fonts.regular.font, screen.fonts.regular.font->FontSize, corner, palette().ink, text.c_str(), nullptr, most);
}

}  // namespace hitchwright
