// The viewer as a shell sees it: a picture on a virtual screen, and words where there is none.
#include <catch2/catch.hpp>

#include <cairo.h>
#include <fmt/format.h>
#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <memory>
#include <string>

namespace {

struct Run {
    int code = -1;
    std::string output;  ///< both streams
};

Run run(const std::string& command) {
    Run result;
    FILE* const pipe = popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> buffer;
    while (const std::size_t n = fread(buffer.data(), 1, buffer.size(), pipe)) result.output.append(buffer.data(), n);
    const int status = pclose(pipe);
    result.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return result;
}

struct Destroy {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
using Surface = std::unique_ptr<cairo_surface_t, Destroy>;

/// How often each colour occurs in a PNG.
std::map<std::uint32_t, int> count_colours(const std::string& file, int width, int height) {
    const Surface surface(cairo_image_surface_create_from_png(file.c_str()));
    REQUIRE(cairo_surface_status(surface.get()) == CAIRO_STATUS_SUCCESS);
    REQUIRE(cairo_image_surface_get_width(surface.get()) == width);
    REQUIRE(cairo_image_surface_get_height(surface.get()) == height);
    std::map<std::uint32_t, int> counts;
    const unsigned char* const data = cairo_image_surface_get_data(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            const unsigned char* p = data + y * stride + 4 * x;
            ++counts[(std::uint32_t{p[2]} << 16U) | (std::uint32_t{p[1]} << 8U) | p[0]];
        }
    }
    return counts;
}

struct Folder {
    std::filesystem::path path;
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "viewer-XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path = name;
    }
    ~Folder() { std::filesystem::remove_all(path); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
};

const std::string viewer = "'" HITCHWRIGHT_VIEWER "'";
const std::string on_virtual_screen = "'" HITCHWRIGHT_SOURCE_DIR "/tests/gui/with_screen.sh' ";

}  // namespace

TEST_CASE("viewer program: a picture of the window is written on a virtual screen and shows something", "[gui]") {
    const Folder folder;
    const std::string file = (folder.path / "window.png").string();
    const Run shot = run(on_virtual_screen + viewer + " compact-tiller-bottoms-out --size 1024x700 --screenshot " + file);
    INFO(shot.output);
    REQUIRE(shot.code == 0);
    const auto colours = count_colours(file, 1024, 700);
    // Paper, desk, ink, and the vermilion of a shaft that bottoms out; no colour covers it all.
    CHECK(colours.size() > 50);
    for (const std::uint32_t colour : {0xFFFFFFU, 0xF3F0E8U, 0x1A1C20U, 0xB8240EU}) {
        INFO(colour);
        CHECK(colours.count(colour) == 1);
    }
    for (const auto& [colour, count] : colours) CHECK(count < 1024 * 700 * 3 / 4);
}

TEST_CASE("viewer program: frames painted in part have the pixels of whole ones, whatever a person does", "[gui][random]") {
    const Run painted = run(on_virtual_screen + "'" HITCHWRIGHT_PAINT "'");
    INFO(painted.output);
    CHECK(painted.code == 0);
}

TEST_CASE("viewer program: files with problems give a picture of them, all problems on the error stream, and code 3",
          "[gui]") {
    const Folder folder;
    const std::string file = (folder.path / "window.png").string();
    const Run shot = run(on_virtual_screen + viewer + " compact-tiller-bottoms-out --set choices.lift_stop=rubbish --set a=1" +
                         " --screenshot " + file);
    INFO(shot.output);
    CHECK(shot.code == 3);
    CHECK(shot.output.find("choices.lift_stop") != std::string::npos);
    CHECK(std::filesystem::exists(file));
}

TEST_CASE("viewer program: without a screen it says what to do instead, with code 4", "[gui]") {
    for (const char* display : {"-u DISPLAY", "DISPLAY=", "DISPLAY=rubbish"}) {
        const Run no_screen = run(fmt::format("env -u WAYLAND_DISPLAY {} ", display) + viewer + " compact-tiller-bottoms-out");
        INFO(display << '\n' << no_screen.output);
        CHECK(no_screen.code == 4);
        CHECK(no_screen.output.find("hitchwright-viewer: there is no screen") == 0);
        CHECK(no_screen.output.find("hitchwright draw") != std::string::npos);
    }
}

TEST_CASE("viewer program: a screen without OpenGL 3.0 is said in words, with code 4 and no file", "[gui]") {
    const Folder folder;
    const std::string file = (folder.path / "window.png").string();
    // A server that has no OpenGL at all, and a driver that offers an older one.
    for (const char* lacking : {"SCREEN_OPTIONS='-extension GLX' ", "MESA_GL_VERSION_OVERRIDE=2.1 "}) {
        for (const std::string& shot : {std::string(), " --screenshot " + file}) {
            const Run no_opengl = run(lacking + on_virtual_screen + viewer + " compact-tiller-bottoms-out" + shot);
            INFO(lacking << '\n' << no_opengl.output);
            CHECK(no_opengl.code == 4);
            CHECK(no_opengl.output.find("hitchwright-viewer: this screen has no OpenGL 3.0") == 0);
            CHECK_FALSE(std::filesystem::exists(file));
        }
    }
}

TEST_CASE("viewer program: wrong words, output that cannot be written and help have their codes", "[gui]") {
    CHECK(run(viewer + " ''").code == 2);
    CHECK(run(viewer + " --help").code == 0);
    CHECK(run(viewer + " x --size rubbish").code == 2);
    const Run blocked =
        run(on_virtual_screen + viewer + " utility-cutter-fits --screenshot /no/such/folder/window.png");
    INFO(blocked.output);
    CHECK(blocked.code == 4);
    CHECK_FALSE(blocked.output.empty());
}

TEST_CASE("viewer program: a person with mouse and keyboard gets from the real window what they asked for", "[gui]") {
    const Folder folder;
    const Run window = run(on_virtual_screen + "bash '" HITCHWRIGHT_SOURCE_DIR "/tests/gui/use_window.sh' " + viewer + " '" + folder.path.string() + "'");
    INFO(window.output);
    CHECK(window.code == 0);
    // Each step was reached, the last one by closing over the question.
    CHECK(window.output.find("closed with 0") != std::string::npos);
}
