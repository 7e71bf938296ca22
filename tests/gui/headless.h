// A window without a screen: Dear ImGui's input and output alone, frame by frame, with the mouse and keys of a test.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "gui/panels.h"

namespace hitchwright::test {

/// The viewer on one set-up, drawn frame by frame.
class Headless {
public:
    explicit Headless(const std::string& setup, Edits edits = {}, ImVec2 size = {1280.0F, 800.0F});
    ~Headless();
    Headless(const Headless&) = delete;
    Headless& operator=(const Headless&) = delete;

    AppState& app() { return app_; }
    const AppState& app() const { return app_; }
    /// Draws frames as the window does after an event; the table of holes is whole before each.
    void settle(int frames = 3);
    /// One frame as it comes: with as much of the work (frame_work.h) done as there was time for.
    void draw_frame();
    void resize(float width, float height);
    bool is_shown(const std::string& place) const { return app_.view.places.count(place) > 0; }
    /// Middle of a control; fails the test when it was never shown.
    ImVec2 middle_of(const std::string& place) const;
    /// A point of a control by its shares of width and height.
    ImVec2 point_of(const std::string& place, float across, float down) const;
    /// Where a place of the drawing is, from the state that the panel itself was laid out by.
    ImVec2 on_screen(DrawingPoint p, bool drawn = false) const;
    void move_to(ImVec2 at);
    void press_at(ImVec2 at);
    void release();
    void click(const std::string& place);
    void wheel(ImVec2 at, float notches);
    /// Clicks into a field, replaces its text and presses Enter.
    void type_into(const std::string& place, std::string_view text);
    /// Presses and lets go a key of the window system (gui/shortcuts.h) with what is held beside it.
    void press_key(int key, bool control = false, bool shift = false);
    /// The same for one that Dear ImGui names.
    void tap(ImGuiKey key, bool control = false);
    /// Everything that was put on the screen: vertices of the last frame.
    int vertices() const;

    /// Characters typed without a field, as over the picture.
    void type(std::string_view characters);
    const Fonts& fonts() const { return fonts_; }

private:
    AppState app_;
    Fonts fonts_;
};

}  // namespace hitchwright::test
