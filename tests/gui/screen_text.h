// Reads back what the last frame put on the screen: every line of text with its place, from the triangles that would be
// sent to the graphics card. What Dear ImGui left out, because it lies outside its panel, is not on the screen and not here.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include <imgui.h>

#include "gui/view_state.h"

namespace hitchwright::test {

/// A piece of text on one line.
struct ScreenWords {
    std::string text;
    ImVec2 least, most;            ///< around the ink of its letters, pixels
    ImVec4 clip;                   ///< what of it is shown: left, top, right, bottom
    std::string panel;             ///< name of the window it was drawn in
    bool scrolls = false;          ///< that window has more than it shows, so its words may end at the upper or lower edge
};

/// Everything written in the last frame, in the order of drawing.
std::vector<ScreenWords> read_screen();

/// True when a sentence is on the screen, on one line or wrapped over several; blanks and line ends do not count.
bool screen_says(std::string_view sentence);

/// The texts and named controls that are cut off by their panel's edge, and the pairs of texts of one panel that lie on each
/// other; each in a sentence for the test's message.
std::vector<std::string> find_text_faults(const ViewState& view);

/// Scrolls a panel ("findings") to its top, then on by what it shows with each call; false: it stood at its end.
bool scroll_to_top(std::string_view panel);
bool scroll_on(std::string_view panel);

}  // namespace hitchwright::test
