#include "tests/gui/headless.h"

#include <catch2/catch.hpp>

#include "gui/palette.h"
#include "gui/picture_canvas.h"
#include "gui/shortcuts.h"
#include "gui/touch.h"

namespace hitchwright::test {

Headless::Headless(const std::string& setup, Edits edits, ImVec2 size)
    : app_(open_app(Library(), setup, std::move(edits), UnitSystem::inch, sixteenth_inch_mark)) {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplaySize = size;
    io.DeltaTime = 1.0F / 60.0F;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    for (int key = 0; key < ImGuiKey_COUNT; ++key) io.KeyMap[key] = key;
    fonts_ = load_fonts(1.0F);
    set_style(fonts_.regular.em, app_.view.theme);
    settle();
}

Headless::~Headless() { ImGui::DestroyContext(); }

void Headless::settle(int frames) {
    for (int i = 0; i < frames; ++i) {
        // How many frames it takes in the window hangs on the machine.
        if (app_.hole_table.wanted) finish_hole_table(app_);
        draw_frame();
    }
}

void Headless::draw_frame() {
    use_fingers(app_);
    ImGui::NewFrame();
    Screen screen{app_, fonts_};
    show_window(screen);
    ImGui::Render();
}

void Headless::resize(float width, float height) {
    ImGui::GetIO().DisplaySize = {width, height};
    settle();
}

ImVec2 Headless::point_of(const std::string& place, float across, float down) const {
    INFO("place " << place);
    const auto found = app_.view.places.find(place);
    REQUIRE(found != app_.view.places.end());
    const ScreenRect& r = found->second;
    return {r.left + across * (r.right - r.left), r.top + down * (r.bottom - r.top)};
}

ImVec2 Headless::middle_of(const std::string& place) const { return point_of(place, 0.5F, 0.5F); }

ImVec2 Headless::on_screen(DrawingPoint p, bool drawn) const {
    const ScreenRect r = app_.view.places.at(drawn ? "drawn picture" : "side view");
    PictureCanvas c;
    c.corner = {r.left, r.top};
    c.size = {r.right - r.left, r.bottom - r.top};
    c.ppm = fonts_.pixels_per_mm;
    c.area = drawn ? app_.view.placed_drawn.area : app_.view.picture.area;
    c.placement = find_placement(app_.view.camera, drawn ? *app_.view.fitted_box.box : *app_.results.drawn, c.area);
    return c.to_screen(p);
}

void Headless::move_to(ImVec2 at) {
    ImGui::GetIO().MousePos = at;
    settle(1);
}

void Headless::press_at(ImVec2 at) {
    move_to(at);
    ImGui::GetIO().MouseDown[0] = true;
    settle(1);
}

void Headless::release() {
    ImGui::GetIO().MouseDown[0] = false;
    settle();
}

void Headless::click(const std::string& place) {
    press_at(middle_of(place));
    release();
}

void Headless::wheel(ImVec2 at, float notches) {
    move_to(at);
    ImGui::GetIO().MouseWheel = notches;
    settle(1);
    settle();
}

void Headless::tap(ImGuiKey key, bool control) {
    ImGuiIO& io = ImGui::GetIO();
    io.KeyCtrl = control;
    io.KeysDown[key] = true;
    settle(1);
    io.KeysDown[key] = false;
    io.KeyCtrl = false;
    settle(1);
}

void Headless::type(std::string_view characters) {
    ImGui::GetIO().AddInputCharactersUTF8(std::string(characters).c_str());
    settle(2);
}

void Headless::type_into(const std::string& place, std::string_view text) {
    click(place);
    tap(ImGuiKey_A, true);
    if (text.empty()) tap(ImGuiKey_Delete);
    ImGui::GetIO().AddInputCharactersUTF8(std::string(text).c_str());
    settle(1);
    tap(ImGuiKey_Enter);
    settle();
}

void Headless::press_key(int key, bool control, bool shift) {
    ImGuiIO& io = ImGui::GetIO();
    io.KeyCtrl = control;
    io.KeyShift = shift;
    io.KeysDown[find_key_index(key)] = true;
    settle(1);
    io.KeysDown[find_key_index(key)] = false;
    io.KeyCtrl = io.KeyShift = false;
    settle();
}

int Headless::vertices() const { return ImGui::GetDrawData()->TotalVtxCount; }

}  // namespace hitchwright::test
