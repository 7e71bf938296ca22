// What fingers are doing on the screen (touch.h), and what a control makes of one that moves.
#pragma once

#include <vector>

#include <imgui.h>

namespace hitchwright {

/// What a finger does that moves after it touched a control: scrolls what the control stands in, or drags like a mouse with its
/// button down; `across`: drags when it goes sideways, scrolls when it goes up or down; `held`: the same, but after a rest it drags
/// whichever way it goes. On what drags or is held two fingers move the picture.
enum class FingerMove { scrolls, across, held, drags };

/// One finger on the screen.
struct Finger {
    int id = 0;
    ImVec2 at;  ///< pixels
};

/// What the fingers mean.
enum class FingerWork {
    none,     ///< no finger is down
    looks,    ///< one is down: what lies under it is not known before the next frame
    waits,    ///< it has not moved: a tap or a long press
    presses,  ///< a tap that ended: the button goes down
    lets_go,  ///< and up again
    starts,   ///< a drag: the button goes down where the finger came down
    drags,
    scrolls,
    glides,   ///< let go while scrolling: it goes on by itself for a while
    hovers,   ///< a long press: as the mouse without a button
    moves,    ///< two: the picture goes with them
    spent,    ///< nothing more until all are lifted
};

struct TouchState {
    bool coarse = false;     ///< fingers point here: what they are to hit is large
    bool by_finger = false;  ///< what pointed last was a finger, not a mouse
    FingerWork work = FingerWork::none;
    std::vector<Finger> fingers;
    ImVec2 began, at, last;    ///< of the first: where it came down, where it is or was lifted, where the frame before had it
    double since = 0.0;        ///< when it came down, s of Dear ImGui's time
    bool lifted = false;       ///< before it could be said what it meant
    FingerMove under = FingerMove::scrolls;  ///< of the control under it, as the frame before found
    unsigned scrolled = 0;     ///< window that it scrolls, by Dear ImGui's number
    float speed = 0.0F;        ///< of scrolling, pixels a second
    float apart = 0.0F;        ///< between two fingers in the frame before, pixels
    ImVec2 middle;             ///< of them in the frame before
    float zoom = 1.0F;         ///< of the picture in this frame, by two fingers
    ImVec2 pan;                ///< and how far it goes, pixels

    /// A finger that is on its way somewhere else asks for no words.
    bool hides_hints() const { return by_finger && work != FingerWork::hovers; }
};

}  // namespace hitchwright
