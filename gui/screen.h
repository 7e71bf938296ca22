// What every panel gets, and small pieces that several of them use.
#pragma once

#include <string>
#include <string_view>

#include <imgui.h>

#include "gui/app_state.h"
#include "gui/fonts.h"

namespace hitchwright {

/// State and fonts of the frame being drawn.
struct Screen {
    AppState& app;
    const Fonts& fonts;

    float em() const { return fonts.regular.em; }
    /// A page as wide as the room left in the current window, at the place of the cursor, mm.
    double room_mm() const { return static_cast<double>(ImGui::GetContentRegionAvail().x / fonts.pixels_per_mm); }
};

/// Notes where the last control was shown, under a name, and what a finger that moves on it does.
void remember_place(Screen& screen, const std::string& name, FingerMove move = FingerMove::scrolls);

/// Least height and width of what a finger is to hit, pixels: 9 mm and more. 0 with a mouse.
float find_target(const Screen& screen);
/// A height or width that is at least that.
float make_target(const Screen& screen, float pixels);
/// One of a list, as high as a finger needs; true when it was chosen.
bool show_line_of_list(Screen& screen, const char* words, bool chosen);
/// A heading that folds out with what stands below it; true: it is open.
bool show_fold_heading(Screen& screen, const char* words);

/// Scrolls so that the cursor's place is near the top of what is seen.
void scroll_here(Screen& screen);

/// The panel of that name takes the keyboard if a key asked for it; call it in the panel. True: it did, in this frame.
bool use_area(Screen& screen, std::string_view name);

/// Goes to a new line of a row of buttons when one with these words (and `extra` pixels besides) has no room on this one.
void start_in_row(const char* words, float extra = 0.0F);

/// Text wrapped at the panel's edge, escaped, never taken for a format.
void show_text(std::string_view text);
void show_text(std::string_view text, const ScreenFont& font, ImU32 colour);
/// The same in a quieter colour.
void show_quiet_text(std::string_view text);
/// A sentence that wants attention, with its mark "!".
void show_warning(std::string_view text);
/// Words under the cursor, in lines as given, wrapped so that they find room in any window. Every hint goes through here.
void show_hint(Screen& screen, std::string_view text);
/// The same for what is not words alone, ended by ImGui::EndTooltip(). False: no hint is wanted, and nothing was begun.
bool begin_hint(Screen& screen);
/// The widest line of a hint, pixels.
float find_hint_width();
/// Heading of a panel.
void show_heading(Screen& screen, std::string_view text);

/// First problem in words for a line on the screen, without the place on the command line.
std::string say_problem(const std::vector<Problem>& problems);

}  // namespace hitchwright
