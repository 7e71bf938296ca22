// The program: a window with its events, or a picture of it. With opengl_window, frame_painter,
// part_copy and pixel_blit the only file that knows GLFW and OpenGL.
//
// Nothing runs while nothing happens: the loop waits for an event, then draws a few frames, since a change made in one
// panel can show in another only in the next frame.
#include <cerrno>
#include <cstdlib>
#include <iostream>
#include <optional>
#include <string>
#include <vector>

#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>

#include "cli/prepare_process.h"
#include "gui/compare.h"
#include "gui/export.h"
#include "gui/frame_work.h"
#include "gui/key_queue.h"
#include "gui/palette.h"
#include "gui/open_setup.h"
#include "gui/opengl_window.h"
#include "gui/panels.h"
#include "gui/session.h"
#include "gui/state_folder.h"
#include "gui/state_report.h"
#include "gui/typing.h"
#include "gui/viewer_options.h"
#include "report/atomic_file.h"
#include "report/cairo_writer.h"

namespace {

using namespace hitchwright;

constexpr int frames_to_settle = 3;
constexpr int frames_to_follow = 30;
constexpr int least_width = 320, least_height = 360;  // of the window, points: below it the cautions find no room
constexpr unsigned gl_framebuffer = 0x8D40, gl_colour_attachment = 0x8CE0, gl_framebuffer_complete = 0x8CD5;

void say(const std::string& text) { std::cerr << text << std::flush; }

constexpr const char* in_place_of_window = "\"hitchwright draw\" makes the picture without a window";

/// What GLFW says about its last error, behind a colon; may be empty.
std::string say_reason() {
    const char* reason = nullptr;
    glfwGetError(&reason);
    return reason == nullptr ? std::string() : ": " + escape_text(reason);
}

int fail_without_screen() {
    say("hitchwright-viewer: there is no screen to open a window on" + say_reason() + ".\nSet DISPLAY or WAYLAND_DISPLAY; " +
        in_place_of_window +
        ",\nand \"xvfb-run -a hitchwright-viewer SETUP --screenshot FILE.png\" that of the window.\n");
    return exit_code::internal;
}

int fail_without_opengl() {
    say("hitchwright-viewer: this screen has no OpenGL 3.0, which the window needs" + say_reason() + ".\nInstead " +
        in_place_of_window + ".\n");
    return exit_code::internal;
}

/// What happened in the window since it opened.
struct WindowEvents {
    AppState* app = nullptr;
    int count = 0;
    bool lost = false;  ///< what was drawn into it
    KeyQueue keys;
};

WindowEvents& events_of(GLFWwindow* window) { return *static_cast<WindowEvents*>(glfwGetWindowUserPointer(window)); }

/// The same, with one more that wants frames of its own.
WindowEvents& next_event(GLFWwindow* window) {
    ++events_of(window).count;
    return events_of(window);
}

/// Hands a key or letter of a window on to Dear ImGui.
auto hand_on_to(GLFWwindow* window) {
    return [window](const KeyEvent& e) {
        if (e.kind == KeyEvent::Kind::letter) ImGui_ImplGlfw_CharCallback(window, e.letter);
        else ImGui_ImplGlfw_KeyCallback(window, e.key, e.scancode, e.kind == KeyEvent::Kind::press ? GLFW_PRESS : GLFW_RELEASE, e.held);
    };
}

void take_event(GLFWwindow* window, const KeyEvent& event) {
    next_event(window).keys.take(event, hand_on_to(window));
}

void take_key(GLFWwindow* window, int key, int scancode, int action, int held) {
    if (action == GLFW_REPEAT) return;  // Dear ImGui repeats by itself
    const auto kind = action == GLFW_PRESS ? KeyEvent::Kind::press : KeyEvent::Kind::release;
    take_event(window, {kind, key, 0, scancode, held});
}

void take_letter(GLFWwindow* window, unsigned letter) { take_event(window, {KeyEvent::Kind::letter, 0, letter, 0, 0}); }

/// Dear ImGui's backend calls these before its own.
void count_events(GLFWwindow* window) {
    glfwSetFramebufferSizeCallback(window, [](GLFWwindow* w, int, int) { next_event(w).lost = true; });
    glfwSetWindowRefreshCallback(window, [](GLFWwindow* w) { next_event(w).lost = true; });
    glfwSetMouseButtonCallback(window, [](GLFWwindow* w, int, int, int) { next_event(w); });
    glfwSetCursorPosCallback(window, [](GLFWwindow* w, double, double) { next_event(w); });
    glfwSetScrollCallback(window, [](GLFWwindow* w, double, double) { next_event(w); });
    glfwSetDropCallback(window, [](GLFWwindow* w, int count, const char** paths) { drop_files(*next_event(w).app, {paths, static_cast<std::size_t>(count)}); });
}

/// A texture to draw into, so that the size of the picture does not depend on the screen.
bool bind_offscreen(WindowSize size) {
    using Generate = void (*)(int, unsigned*);
    using Bind = void (*)(unsigned, unsigned);
    using Attach = void (*)(unsigned, unsigned, unsigned, unsigned, int);
    using Check = unsigned (*)(unsigned);
    const auto generate = reinterpret_cast<Generate>(glfwGetProcAddress("glGenFramebuffers"));
    const auto bind = reinterpret_cast<Bind>(glfwGetProcAddress("glBindFramebuffer"));
    const auto attach = reinterpret_cast<Attach>(glfwGetProcAddress("glFramebufferTexture2D"));
    const auto check = reinterpret_cast<Check>(glfwGetProcAddress("glCheckFramebufferStatus"));
    if (generate == nullptr || bind == nullptr || attach == nullptr || check == nullptr) return false;
    unsigned texture = 0, framebuffer = 0;
    glGenTextures(1, &texture);
    glBindTexture(GL_TEXTURE_2D, texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB, size.width, size.height, 0, GL_RGB, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    generate(1, &framebuffer);
    bind(gl_framebuffer, framebuffer);
    attach(gl_framebuffer, gl_colour_attachment, GL_TEXTURE_2D, texture, 0);
    return check(gl_framebuffer) == gl_framebuffer_complete;
}

PixelImage read_pixels(WindowSize size) {
    PixelImage image{size.width, size.height, {}};
    const auto row = 3 * static_cast<std::size_t>(size.width);
    std::vector<std::uint8_t> upward(row * static_cast<std::size_t>(size.height));
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, size.width, size.height, GL_RGB, GL_UNSIGNED_BYTE, upward.data());
    for (std::size_t y = static_cast<std::size_t>(size.height); y > 0; --y) {
        const auto from = upward.begin() + static_cast<std::ptrdiff_t>((y - 1) * row);
        image.rgb.insert(image.rgb.end(), from, from + static_cast<std::ptrdiff_t>(row));
    }
    return image;
}

int write_screenshot(Screen& screen, const ViewerOptions& options) {
    if (!bind_offscreen(options.size)) {
        say("hitchwright-viewer: this machine's OpenGL (3.0 is needed) cannot draw a picture of that size.\n");
        return exit_code::internal;
    }
    finish_hole_table(screen.app);
    FramePainter painter = FramePainter::by_opengl();
    for (int i = 0; i < frames_to_settle; ++i) draw_frame(screen, painter, options.size);
    const RenderResult png = encode_png(read_pixels(options.size));
    if (!png.ok()) {
        say("hitchwright-viewer: " + png.error + ".\n");
        return exit_code::internal;
    }
    if (const auto failed = write_file_atomically(options.screenshot, png.bytes)) {
        say("hitchwright-viewer: " + failed->message + ".\n");
        return exit_code::internal;
    }
    return exit_code::fits;
}

/// What goes out of the window besides the picture, after each group of frames.
class Followers {
public:
    Followers(Session& session, const ViewerOptions& options) : session_(session), state_file_(options.state_file) {}

    void follow(Screen& screen, GLFWwindow* window) {
        AppState& app = screen.app;
        // What is dragged goes through many values; it is kept where it is let go.
        if (!ImGui::IsMouseDown(ImGuiMouseButton_Left)) session_.follow(app);
        const std::string title = (has_changes(app) ? "* " : "") + setup_title(app) + " - Hitchwright";
        if (title != std::exchange(title_, title)) glfwSetWindowTitle(window, title.c_str());
        if (state_file_.empty()) return;
        const ImVec2 size = ImGui::GetIO().DisplaySize;
        const int frame = ImGui::GetFrameCount();
        const auto failed = write_file_atomically(
            state_file_, format_state_report(app, {frame, frame, size.x, size.y, session_.recovery_file()}));
        if (failed && !said_) say("hitchwright-viewer: " + failed->message + ".\n");
        said_ = failed.has_value();
    }

private:
    Session& session_;
    std::string state_file_, title_;
    bool said_ = false;
};

void run_loop(Screen& screen, Fonts& fonts, GLFWwindow* window, Followers& followers) {
    AppState& app = screen.app;
    FramePainter painter = FramePainter::in_window();
    while (!app.view.closed) {
        if (wants_frames(app)) glfwPollEvents();
        else glfwWaitEvents();
        // What happens while these frames are drawn wants frames of its own: a button let go in the last of them, say.
        int seen = events_of(window).count, drawn = 0, with_request = 0;
        for (int i = 0; i < frames_to_settle || events_of(window).keys.waits() || app.view.take.wants_screen; ++i) {
            if (i > 0) glfwPollEvents();
            if (std::exchange(seen, events_of(window).count) != events_of(window).count) i = 0;
            if (glfwWindowShouldClose(window) == GLFW_TRUE) {
                glfwSetWindowShouldClose(window, GLFW_FALSE);
                ask_to_close(app);
            }
            follow_scale(screen, fonts, painter, find_density(window));
            if (std::exchange(events_of(window).lost, false)) painter.take_up(window);
            with_request = app.view.take.wants_screen ? with_request + 1 : 0;
            if (with_request > 0) finish_hole_table(app);
            draw_frame(screen, painter, std::nullopt);
            // The question that asked for the picture is gone from it by then.
            if (app.view.take.wants_screen && with_request >= frames_to_settle) {
                WindowSize framebuffer;
                glfwGetFramebufferSize(window, &framebuffer.width, &framebuffer.height);
                finish_screen_export(app, encode_png(read_pixels(framebuffer)));
                glfwPostEmptyEvent();  // what was written is said in frames to come
            }
            painter.show(window);
            events_of(window).keys.start_frame(hand_on_to(window));
            if (app.view.closed) return;
            // A mouse that never rests keeps this going: what is to be kept does not wait for its end.
            if (++drawn % frames_to_follow == 0) followers.follow(screen, window);
        }
        followers.follow(screen, window);
    }
}

int show(AppState& app, const ViewerOptions& options, Session& session) {
    const GlfwSession glfw;
    if (!glfw.has_screen()) return fail_without_screen();
    const bool picture = !options.screenshot.empty();
    GLFWwindow* const window = open_window("Hitchwright: " + setup_title(app), options.size, !picture);
    if (window == nullptr) return fail_without_opengl();
    WindowEvents events{&app, 0, false, {}};
    glfwSetWindowUserPointer(window, &events);
    count_events(window);
    glfwSetWindowSizeLimits(window, least_width, least_height, GLFW_DONT_CARE, GLFW_DONT_CARE);
    const ImguiSession imgui(window);
    if (!imgui.has_opengl()) return fail_without_opengl();
    glfwSetKeyCallback(window, take_key);
    glfwSetCharCallback(window, take_letter);
    if (!picture) glfwSwapInterval(1);
    Fonts fonts = load_fonts((picture ? 1.0F : find_density(window)) * app.view.scale);
    set_style(fonts.regular.em, app.view.theme);
    Screen screen{app, fonts};
    if (picture) return write_screenshot(screen, options);
    glfwPostEmptyEvent();  // the first frames need no event of their own
    Followers followers(session, options);
    run_loop(screen, fonts, window, followers);
    WindowSize size;
    glfwGetWindowSize(window, &size.width, &size.height);
    session.end(app, size);
    return exit_code::fits;
}

/// A picture is of the command line alone: nothing that a window kept changes it, and it leaves nothing behind.
Session begin_session(const ViewerOptions& options) {
    return Session(options.screenshot.empty()
                       ? find_state_folder([](const char* name) -> const char* { return std::getenv(name); })
                       : std::string{});
}

void use_view_options(ViewState& view, const ViewerOptions& options) {
    view.theme = options.theme.value_or(view.theme);
    view.scale = options.scale.value_or(view.scale);
    view.touch.coarse = options.touch;
    view.side_room = options.side_room.value_or(view.side_room);
    view.answers.kind = options.answer.value_or(view.answers.kind);
    view.lower_room = options.lower_room.value_or(view.lower_room);
}

int start(ViewerOptions options) {
    const bool picture = !options.screenshot.empty();
    Session session = begin_session(options);
    session.fill_options(options);
    AppState app = session.open(open_library(), options);
    if (!picture) session.begin(app);
    const std::string troubles = session.troubles();
    if (!picture && !troubles.empty()) say("hitchwright-viewer: " + troubles + ".\n");
    if (!app.problems.empty()) {
        Failure failure;
        failure.code = exit_code::bad_file;
        failure.message = "this set-up cannot be read";
        failure.problems = app.problems;
        say(format_failure(failure, "hitchwright-viewer"));
    }
    use_view_options(app.view, options);
    if (!options.compare.empty() && app.problems.empty()) {
        const std::vector<Problem> problems = remember_named_as_a(app, options.compare);
        if (!problems.empty()) say("hitchwright-viewer: not compared: " + say_problem(problems) + "\n");
    }
    const std::string note = stand_at(app, options.ball_height);
    if (!note.empty()) say("hitchwright-viewer: " + note + "\n");
    const std::string other = choose_view(app, options.picture, options.mounted_picture);
    if (!other.empty()) say("hitchwright-viewer: " + other + "\n");
    const int code = show(app, options, session);
    return app.problems.empty() || code != exit_code::fits ? code : exit_code::bad_file;
}

int run(const std::vector<std::string>& args) {
    const ViewerCommand command = read_viewer_options(args);
    if (const auto* failure = std::get_if<Failure>(&command)) {
        say(format_failure(*failure, "hitchwright-viewer"));
        return failure->code;
    }
    if (const auto* answer = std::get_if<Answer>(&command)) {
        std::cout << answer->text << std::flush;
        return std::cout.good() || errno == EPIPE ? answer->code : exit_code::internal;
    }
    return start(std::get<ViewerOptions>(command));
}

}  // namespace

int main(int argc, char** argv) {
    prepare_process();
    try {
        return run(std::vector<std::string>(argv + (argc > 0 ? 1 : 0), argv + argc));
    } catch (const std::exception& error) {
        say("hitchwright-viewer: an error of the program: " + escape_text(error.what()) + ".\n");
    }
    return exit_code::internal;
}
