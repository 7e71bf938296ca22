// Frames of the viewer on a screen, drawn to their last pixel: the window with the room "Cut", 1280 x 800.
//   rest: nothing changed   lift: the lift stands elsewhere in each frame (drawn set-ups: the same)
//   edit: each frame begins with an edit and everything computed anew
//   first: opening the window and its first frame
// Without a screen tests/gui/with_screen.sh gives one, drawn by the processor: then the driver's name has llvmpipe in it.
// Threads are those the program itself takes: the processor's time is that of all of them, the clock on the wall says how long
// somebody waits.
#include <benchmark/benchmark.h>

#include <cmath>
#include <iostream>
#include <string>

#include <GLFW/glfw3.h>

#include "gui/frame_work.h"
#include "gui/opengl_window.h"
#include "gui/palette.h"
#include "tests/bench/edits.h"

using namespace hitchwright;
using namespace bench;

namespace {

constexpr WindowSize size;
constexpr int frames_to_settle = 3;

/// A window that is not shown, its context the current one.
struct HiddenWindow {
    HiddenWindow() : window(open_window("bench_screen", size, false)) {}
    ~HiddenWindow() {
        if (window != nullptr) glfwDestroyWindow(window);
    }
    HiddenWindow(const HiddenWindow&) = delete;
    HiddenWindow& operator=(const HiddenWindow&) = delete;

    GLFWwindow* window;
};

/// One with a demo in it.
class DemoWindow {
public:
    /// Triangles of the last frame, and their areas as a share of the window's.
    void count(benchmark::State& state) const {
        const ImDrawData& data = *ImGui::GetDrawData();
        double area = 0.0;
        for (int n = 0; n < data.CmdListsCount; ++n) {
            const ImDrawList& list = *data.CmdLists[n];
            for (int i = 0; i + 2 < list.IdxBuffer.Size; i += 3) {
                const ImVec2 a = list.VtxBuffer[list.IdxBuffer[i]].pos, b = list.VtxBuffer[list.IdxBuffer[i + 1]].pos,
                             c = list.VtxBuffer[list.IdxBuffer[i + 2]].pos;
                const double one = 0.5 * std::abs(static_cast<double>((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)));
                area += one;
            }
        }
        state.counters["triangles"] = data.TotalIdxCount / 3;
        state.counters["layers"] = area / (size.width * size.height);
    }
    explicit DemoWindow(const std::string& name)
        : app_(open_demo(name)), imgui_(window_.window), fonts_(load_fonts(1.0F)), screen_{app_, fonts_} {
        set_style(fonts_.regular.em, app_.view.theme);
    }

    AppState& app() { return app_; }
    void draw() {
        draw_frame(screen_, painter_, size);
        painter_.show(window_.window);
        glFinish();
    }

private:
    AppState app_;
    HiddenWindow window_;
    ImguiSession imgui_;
    FramePainter painter_ = FramePainter::in_window();
    Fonts fonts_;
    Screen screen_;
};

enum class Kind { rest, lift, edit };

void move_lift(AppState& app, int frame) {
    if (!app.results.analysis.linkage) return;
    const HeightRange travel = app.results.analysis.linkage->model.travel;
    constexpr int steps = 64;
    stand_at(app, travel.low + (travel.high - travel.low) * (frame % steps) / (steps - 1));
}

void draw_frames(benchmark::State& state, const std::string& name, Kind kind) {
    DemoWindow demo(name);
    Edit edit(demo.app());
    // What is worked on in the rest of a frame is not part of it: none is wanted in this room.
    demo.app().view.side_room = SideRoom::cut;
    for (int i = 0; i < frames_to_settle || wants_frames(demo.app()); ++i) demo.draw();
    int frame = 0;
    for (auto _ : state) {
        if (kind == Kind::edit && !edit.make(demo.app()).empty()) state.SkipWithError("refused");
        if (kind == Kind::lift) move_lift(demo.app(), frame++);
        demo.draw();
    }
    demo.count(state);
}

void draw_first(benchmark::State& state, const std::string& name) {
    for (auto _ : state) DemoWindow(name).draw();
}

template <class Function, class... More>
void add(const std::string& name, Function function, More... more) {
    benchmark::RegisterBenchmark(name.c_str(), function, more...)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();
}

void add_all() {
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        add("screen_frame/rest/" + entry.key, draw_frames, entry.key, Kind::rest);
        add("screen_frame/lift/" + entry.key, draw_frames, entry.key, Kind::lift);
        add("screen_frame/edit/" + entry.key, draw_frames, entry.key, Kind::edit);
        add("screen_frame/first/" + entry.key, draw_first, entry.key);
    }
}

bool name_driver() {
    const HiddenWindow trial;
    if (trial.window == nullptr) return false;
    benchmark::AddCustomContext("opengl", reinterpret_cast<const char*>(glGetString(GL_RENDERER)));
    return true;
}

}  // namespace

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 2;
    const GlfwSession glfw;
    if (!glfw.has_screen()) {
        std::cerr << "bench_screen: there is no screen; \"tests/gui/with_screen.sh COMMAND\" gives one.\n";
        return 3;
    }
    if (!name_driver()) {
        std::cerr << "bench_screen: this screen has no OpenGL 3.0.\n";
        return 3;
    }
    add_all();
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return 0;
}
