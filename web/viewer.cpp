// See viewer.h. What gui/main.cpp is for a window, with the loop turned inside out: a few frames after each event, since a change
// made in one panel can show in another only in the next frame, and then nothing until the next event.
#include "web/viewer.h"

#include <algorithm>
#include <memory>
#include <optional>
#include <utility>

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <emscripten/em_js.h>
#include <emscripten/html5.h>

#include "cli/outcome.h"
#include "gui/frame_work.h"
#include "gui/key_queue.h"
#include "gui/open_setup.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/save_changes.h"
#include "gui/screen_keyboard.h"
#include "gui/state_report.h"
#include "gui/touch.h"
#include "report/fit_report.h"
#include "report/json_writer.h"
#include "web/page_exports.h"
#include "web/page_files.h"

// The page is told when all frames of an event are drawn, and whether the answer is another one since.
EM_JS(void, tell_page, (int revision), { if (Module["settled"]) Module["settled"](revision); });
// "Take with you" was pressed in the viewer.
EM_JS(void, ask_page_to_export, (), { if (Module["takeWithYou"]) Module["takeWithYou"](); });

namespace hitchwright {
namespace {

constexpr int frames_to_settle = 3;

struct Viewer {
    AppState app;
    Canvas canvas;
    Fonts fonts;
    KeyQueue keys;
    float density = 1.0F;
    int frames_left = 0;     ///< until an event is drawn in full
    int frames_to_rest = 0;  ///< more, for what is worked out in the rest of each frame
    bool requested = false;  ///< the browser will call for a frame
};

std::unique_ptr<Viewer>& viewer() {
    static std::unique_ptr<Viewer> only;  // the browser's calls bring nothing along
    return only;
}

auto hand_on_to(GLFWwindow* window) {
    return [window](const KeyEvent& e) {
        if (e.kind == KeyEvent::Kind::letter) ImGui_ImplGlfw_CharCallback(window, e.letter);
        else ImGui_ImplGlfw_KeyCallback(window, e.key, e.scancode, e.kind == KeyEvent::Kind::press ? GLFW_PRESS : GLFW_RELEASE, e.held);
    };
}

EM_BOOL draw(double, void*);

void request_frame(Viewer& v) {
    if (!std::exchange(v.requested, true)) emscripten_request_animation_frame(draw, nullptr);
}

/// The letters follow the canvas's density and the scale chosen.
void follow_scale(Viewer& v) {
    const float wanted = v.density * v.app.view.scale;
    if (wanted == v.fonts.scale) return;
    v.fonts = load_fonts(wanted);
    set_style(v.fonts.regular.em, v.app.view.theme);
    v.canvas.take_letters();
}

void draw_frame(Viewer& v) {
    follow_scale(v);
    v.canvas.begin_frame([&] { use_fingers(v.app); });
    Screen screen{v.app, v.fonts};
    show_window(screen);
    v.canvas.end_frame(palette().desk);
    v.keys.start_frame(hand_on_to(v.canvas.window()));
    v.app.view.closed = false;  // a page is not closed from within
}

EM_BOOL draw(double, void*) {
    Viewer& v = *viewer();
    v.requested = false;
    draw_frame(v);
    // What was worked out in this frame shows in the next one, and settles like any change. The words beside do not wait for it.
    const bool works = v.keys.waits() || wants_frames(v.app);
    v.frames_to_rest = works ? frames_to_settle : std::max(v.frames_to_rest - 1, 0);
    const bool settled = v.frames_left > 0 && --v.frames_left == 0;
    const bool rests = v.frames_left == 0 && v.frames_to_rest == 0;
    if (!rests) request_frame(v);
    if (settled || rests) tell_page(v.app.results.revision);
    return EM_FALSE;
}

void wake(Viewer& v) {
    v.frames_left = frames_to_settle;
    request_frame(v);
}

void take_key(GLFWwindow* window, const KeyEvent& event) {
    viewer()->keys.take(event, hand_on_to(window));
    wake_viewer();
}

/// Dear ImGui's backend calls these before its own.
void watch_events(GLFWwindow* window) {
    glfwSetMouseButtonCallback(window, [](GLFWwindow*, int, int, int) { wake_viewer(); });
    glfwSetCursorPosCallback(window, [](GLFWwindow*, double, double) {
        take_mouse(viewer()->app.view.touch);
        wake_viewer();
    });
}

/// Set after Dear ImGui's own, in place of them.
void take_over_events(GLFWwindow* window) {
    // What this GLFW calls an offset are the browser's pixels, downwards.
    glfwSetScrollCallback(window, [](GLFWwindow* w, double right, double down) {
        constexpr double pixels_per_notch = 100.0;
        ImGui_ImplGlfw_ScrollCallback(w, -right / pixels_per_notch, -down / pixels_per_notch);
        wake_viewer();
    });
    glfwSetKeyCallback(window, [](GLFWwindow* w, int key, int scancode, int action, int held) {
        if (action == GLFW_REPEAT) return;  // Dear ImGui repeats by itself
        const auto kind = action == GLFW_PRESS ? KeyEvent::Kind::press : KeyEvent::Kind::release;
        take_key(w, {kind, key, 0, scancode, held});
    });
    glfwSetCharCallback(window, [](GLFWwindow* w, unsigned letter) { take_key(w, {KeyEvent::Kind::letter, 0, letter, 0, 0}); });
}

/// What is shown; without a drawing, what the page shows as text.
AppState& find_shown(std::optional<AppState>& opened, const std::string& setup) {
    if (viewer()) return viewer()->app;
    return opened.emplace(open_app(open_library(), setup, {}, UnitSystem::inch, sixteenth_inch_mark));
}

}  // namespace

// The question of the window is the page's here (page/downloads.js).
void show_export_question(Screen& screen) {
    if (std::exchange(screen.app.view.take.open, false)) ask_page_to_export();
}

bool start_viewer(const std::string& setup, CanvasSize size) {
    AppState app = open_app(open_library(), setup, {}, UnitSystem::inch, sixteenth_inch_mark);
    const std::string title = "Hitchwright: " + setup_title(app);
    viewer() = std::unique_ptr<Viewer>(new Viewer{std::move(app), {title, size, watch_events}, {}, {}, size.density});
    Viewer& v = *viewer();
    if (!v.canvas.ok()) {
        viewer().reset();
        return false;
    }
    take_over_events(v.canvas.window());
    v.fonts = load_fonts(v.density * v.app.view.scale);
    set_style(v.fonts.regular.em, v.app.view.theme);
    wake(v);
    return true;
}

void resize_viewer(CanvasSize size) {
    if (!viewer()) return;
    viewer()->density = size.density;
    viewer()->canvas.resize(size);
    wake_viewer();
}

std::string choose_file_for_viewer(const std::string& folder, const std::string& root) {
    return choose_setup_file(folder, root, viewer() ? viewer()->app.library : open_library());
}

std::string open_in_viewer(const std::string& setup, const std::string& changes) {
    if (!viewer()) return "There is no viewer.\n";
    std::string problems = open_at_once(viewer()->app, setup, changes);
    wake_viewer();
    return problems;
}

void draw_viewer() {
    if (viewer()) draw_frame(*viewer());
}

void wake_viewer() {
    if (viewer()) wake(*viewer());
}

void point_with_fingers(bool coarse) {
    if (!viewer()) return;
    viewer()->app.view.touch.coarse = coarse || viewer()->app.view.touch.by_finger;
    wake_viewer();
}

void touch_viewer(int event, int id, float x, float y) {
    if (!viewer() || event < 0 || event > static_cast<int>(FingerEvent::cancel)) return;
    Viewer& v = *viewer();
    TouchState& touch = v.app.view.touch;
    take_finger(touch, static_cast<FingerEvent>(event), {id, {x, y}});
    // A tap is done before the browser's event ends: only then may the page bring the keyboard to the screen.
    constexpr int most_frames = 8;
    const bool ends = event >= static_cast<int>(FingerEvent::up) && touch.fingers.empty();
    for (int i = 0; ends && i < most_frames && wants_frames(touch) && touch.work != FingerWork::glides; ++i) draw_frame(v);
    wake(v);
}

std::string read_viewer_typing() {
    if (!viewer() || !viewer()->app.view.touch.by_finger) return {};
    const std::optional<TypedField> field = find_typed_field(viewer()->app);
    if (!field) return {};
    JsonObject o;
    o.add("text", field->text).add("label", field->label);
    o.number("left", static_cast<double>(field->place.left)).number("top", static_cast<double>(field->place.top));
    o.number("right", static_cast<double>(field->place.right)).number("bottom", static_cast<double>(field->place.bottom));
    return format_json_value(o.build());
}

void type_in_viewer(const std::string& text, bool takes_text) {
    if (!viewer()) return;
    Viewer& v = *viewer();
    if (takes_text) {
        replace_typed(text);
        draw_frame(v);
    }
    for (const bool down : {true, false}) {
        press_end_of_typing(takes_text, down);
        draw_frame(v);
    }
    wake(v);
}

std::string read_viewer_report() {
    if (!viewer() || !viewer()->app.problems.empty()) return {};
    const AppState& app = viewer()->app;
    return format_fit_report(app.now.setup, app.results.analysis, {app.view.units, page_width, false});
}

std::string read_viewer_setup() { return viewer() ? make_setup_text(viewer()->app) : std::string{}; }

std::string change_in_viewer(const std::string& key, const std::string& value) {
    if (!viewer()) return "There is no viewer.\n";
    std::string problems = change_at_once(viewer()->app, key, value);
    wake_viewer();
    return problems;
}

std::string list_exports(const std::string& setup) {
    std::optional<AppState> opened;
    return format_exports(find_shown(opened, setup));
}

std::string make_one_export(const std::string& setup, const std::string& kind, const std::string& ending, bool a4) {
    std::optional<AppState> opened;
    return make_page_export(find_shown(opened, setup), kind, ending, a4);
}

std::string read_viewer_work() { return viewer() ? format_work(viewer()->app) : std::string{}; }

std::string read_viewer_state() {
    if (!viewer()) return {};
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    const int frame = ImGui::GetFrameCount();
    return format_state_report(viewer()->app, {frame, frame, size.x, size.y, {}});
}

}  // namespace hitchwright
