// Time from an edit in the window to everything computed anew: the file read again, analysis, bands of the lift, box of
// the picture; on every demo set-up. "edit_and_frame": with the picture placed anew and the window
// drawn. Printed, never judged by a test. Aim: within a frame of 60 Hz, 16.7 ms.
// "frame" draws the window once without a screen, with nothing changed: what is left of a frame for it.
#include <benchmark/benchmark.h>

#include <string>

#include "gui/palette.h"
#include "gui/panels.h"
#include "tests/bench/edits.h"

using namespace hitchwright;
using namespace bench;

namespace {

void edit(benchmark::State& state, const std::string& name) {
    AppState app = open_demo(name);
    Edit change(app);
    for (auto _ : state) {
        const std::vector<Problem> problems = change.make(app);
        if (!problems.empty()) state.SkipWithError(problems.front().message.c_str());
    }
    state.counters["revisions"] = app.results.revision;
}

/// Frames of a window without a screen; with `edits` each begins with an edit.
void draw(benchmark::State& state, const std::string& name, bool edits) {
    AppState app = open_demo(name);
    Edit change(app);
    // What is worked on in the rest of a frame is not part of it: none is wanted in this room.
    if (edits) app.view.side_room = SideRoom::cut;
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().DisplaySize = {1280.0F, 800.0F};
    const Fonts fonts = load_fonts(1.0F);
    Screen screen{app, fonts};
    for (auto _ : state) {
        if (edits && !change.make(app).empty()) state.SkipWithError("refused");
        ImGui::NewFrame();
        show_window(screen);
        ImGui::Render();
    }
    ImGui::DestroyContext();
}

void frame(benchmark::State& state, const std::string& name) { draw(state, name, false); }
void edit_and_frame(benchmark::State& state, const std::string& name) { draw(state, name, true); }

const int registered = [] {
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        benchmark::RegisterBenchmark(("edit/" + entry.key).c_str(), edit, entry.key)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime()->UseRealTime();
        benchmark::RegisterBenchmark(("frame/" + entry.key).c_str(), frame, entry.key)->Unit(benchmark::kMillisecond);
        benchmark::RegisterBenchmark(("edit_and_frame/" + entry.key).c_str(), edit_and_frame, entry.key)->Unit(benchmark::kMillisecond);
    }
    return 0;
}();

}  // namespace
