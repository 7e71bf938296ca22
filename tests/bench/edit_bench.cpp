// Time from an edit in the window to everything computed anew: the file read again, analysis, bands of the lift, hole
// table, box of the picture; on every demo set-up. Printed, never judged by a test. Aim: within a frame of 60 Hz, 16.7 ms.
// "frame" draws the window once without a screen, with nothing changed: what is left of a frame for it.
#include <benchmark/benchmark.h>

#include <array>
#include <string>

#include "gui/app_state.h"
#include "gui/palette.h"
#include "gui/panels.h"

using namespace hitchwright;

namespace {

void edit(benchmark::State& state, const std::string& name) {
    AppState app = open_app(Library(), name, {}, UnitSystem::inch, sixteenth_inch_mark);
    const bool drawn = app.results.analysis.drawn.has_value();
    const char* const key = drawn ? "choices.turn_left_most" : "choices.working_pitch";
    const std::array<const char*, 2> values = drawn ? std::array{"31 deg", "32 deg"} : std::array{"0.25 deg", "0.5 deg"};
    std::size_t i = 0;
    for (auto _ : state) {
        const std::vector<Problem> problems = change_value(app, key, values[i]);
        if (!problems.empty()) state.SkipWithError(problems.front().message.c_str());
        i = 1 - i;
    }
    state.counters["revisions"] = app.results.revision;
}

void frame(benchmark::State& state, const std::string& name) {
    AppState app = open_app(Library(), name, {}, UnitSystem::inch, sixteenth_inch_mark);
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui::GetIO().DisplaySize = {1280.0F, 800.0F};
    const Fonts fonts = load_fonts(1.0F);
    Screen screen{app, fonts};
    for (auto _ : state) {
        ImGui::NewFrame();
        show_window(screen);
        ImGui::Render();
    }
    ImGui::DestroyContext();
}

const int registered = [] {
    for (const PresetEntry& entry : Library().list(FileKind::setup)) {
        benchmark::RegisterBenchmark(("edit/" + entry.key).c_str(), edit, entry.key)->Unit(benchmark::kMillisecond);
        benchmark::RegisterBenchmark(("frame/" + entry.key).c_str(), frame, entry.key)->Unit(benchmark::kMillisecond);
    }
    return 0;
}();

}  // namespace
