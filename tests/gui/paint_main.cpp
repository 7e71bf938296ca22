// Paints frames of the window in parts over the ones before, and each whole as well: every pixel must be the same; and by OpenGL,
// whose pixels may round otherwise. Run on a screen by program_test.cpp; ends with 1 where pixels differ, or hardly a frame was
// painted in part.
#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <random>
#include <string>
#include <vector>

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_opengl3.h>

#include "gui/opengl_window.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/rooms.h"
#include "presets/library.h"

using namespace hitchwright;

namespace {

constexpr int frames_of_a_demo = 20;
constexpr unsigned seed = 9;

std::vector<std::uint8_t> read(WindowSize size) {
    std::vector<std::uint8_t> pixels(4U * static_cast<std::size_t>(size.width) * static_cast<std::size_t>(size.height));
    glReadPixels(0, 0, size.width, size.height, GL_RGBA, GL_UNSIGNED_BYTE, pixels.data());
    return pixels;
}

/// What a person does in a window, at random.
class Person {
public:
    explicit Person(unsigned start) : random_(start) {}

    void act(Screen& screen, WindowSize size) {
        AppState& app = screen.app;
        ImGui::GetIO().MousePos = {share() * static_cast<float>(size.width), share() * static_cast<float>(size.height)};
        switch (std::uniform_int_distribution<>(0, 7)(random_)) {
            case 0: edit(app); break;
            case 1: app.view.theme = app.view.theme == Theme::light ? Theme::dark : Theme::light; break;
            case 2: choose_room(app); break;
            case 3: ImGui::GetIO().MouseWheel = share() - 0.5F; break;
            case 4: move_lift(app); break;
            default: break;  // the mouse alone
        }
    }

private:
    float share() { return std::uniform_real_distribution<float>(0.0F, 1.0F)(random_); }
    void choose_room(AppState& app) {
        const auto rooms = side_rooms();
        app.view.side_room = rooms[std::uniform_int_distribution<std::size_t>(0, rooms.size() - 1)(random_)].choice;
    }
    void edit(AppState& app) {
        change_value(app, app.results.analysis.drawn ? "choices.turn_left_most" : "choices.working_pitch",
                     std::to_string(share() + (app.results.analysis.drawn ? 30.0F : 0.0F)) + " deg");
    }
    void move_lift(AppState& app) {
        if (!app.results.analysis.linkage) return;
        const HeightRange travel = app.results.analysis.linkage->model.travel;
        stand_at(app, travel.low + (travel.high - travel.low) * static_cast<double>(share()));
    }

    std::mt19937 random_;
};

/// A frame without the window's events: the mouse is the person's.
void lay_out(Screen& screen, WindowSize size) {
    ImGui_ImplOpenGL3_NewFrame();
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = {static_cast<float>(size.width), static_cast<float>(size.height)};
    io.DeltaTime = 1.0F / 60.0F;
    ImGui::NewFrame();
    show_window(screen);
    ImGui::Render();
}

struct Count {
    int frames = 0, in_part = 0;
    long pixels = 0, far_off = 0;  ///< of frames by OpenGL; those not within rounding of ours
};

/// Numbers of 0 to 255 are rounded to whole ones where letters are read, where they are multiplied, and where they are blended.
constexpr int rounding = 2;

void compare(const std::vector<std::uint8_t>& ours, const std::vector<std::uint8_t>& opengl, Count& count) {
    for (std::size_t i = 0; i < ours.size(); i += 4) {
        int apart = 0;
        for (std::size_t n = i; n < i + 3; ++n) apart = std::max(apart, std::abs(static_cast<int>(ours[n]) - static_cast<int>(opengl[n])));
        ++count.pixels;
        if (apart > rounding) ++count.far_off;
    }
}

bool paint_demo(const std::string& name, WindowSize size, Count& count) {
    AppState app = open_app(Library(), name, {}, UnitSystem::inch, sixteenth_inch_mark);
    GLFWwindow* const window = open_window(name, size, false);
    if (window == nullptr) return false;
    bool same = true;
    {
        const ImguiSession imgui(window);
        const Fonts fonts = load_fonts(1.0F);
        set_style(fonts.regular.em, app.view.theme);
        Screen screen{app, fonts};
        FramePainter in_part = FramePainter::in_window(), whole = FramePainter::in_window(), opengl = FramePainter::by_opengl();
        Person person(seed);
        for (int i = 0; i < frames_of_a_demo && same; ++i) {
            person.act(screen, size);
            lay_out(screen, size);
            in_part.paint(*ImGui::GetDrawData(), palette().desk);
            const std::vector<std::uint8_t> pixels = read(size);
            ++count.frames;
            if (!in_part.painted_all()) ++count.in_part;
            opengl.paint(*ImGui::GetDrawData(), palette().desk);
            compare(pixels, read(size), count);
            // Last, so that what the next parts are painted over is ours.
            whole.forget();
            whole.paint(*ImGui::GetDrawData(), palette().desk);
            same = read(size) == pixels;
            if (!same) std::cerr << name << ": frame " << i << " differs where it is painted in part\n";
        }
    }
    glfwDestroyWindow(window);
    return same;
}

}  // namespace

int main() {
    const GlfwSession glfw;
    if (!glfw.has_screen()) return 3;
    Count count;
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        const bool odd = count.frames % (2 * frames_of_a_demo) != 0;
        if (!paint_demo(entry.key, odd ? WindowSize{801, 613} : WindowSize{1280, 800}, count)) return 1;
    }
    if (count.in_part < count.frames / 2) return 1;
    std::cout << count.frames << " frames, " << count.in_part << " of them in part: the same; of " << count.pixels << " pixels "
              << count.far_off << " not as OpenGL has them\n";
    // A middle on an edge falls to one side or the other as the last bits of the corners do.
    constexpr long one_in = 100'000;
    return count.far_off > count.pixels / one_in ? 1 : 0;
}
