// Keys on their way from the window system to Dear ImGui, which looks at which keys are down once a frame: one that was
// pressed and let go between two frames would be none, and one let go before another was seen would not be held beside it.
// Here such an event waits for the next frame, and all that came behind it with it, in their order.
#pragma once

#include <deque>
#include <functional>
#include <set>

namespace hitchwright {

/// A key pressed or let go, or a letter.
struct KeyEvent {
    enum class Kind { press, release, letter };
    Kind kind = Kind::press;
    int key = 0;             ///< as the window system names it
    unsigned letter = 0;     ///< its code point, for a letter
    int scancode = 0, held = 0;  ///< handed on as they came
    bool operator==(const KeyEvent&) const = default;
};

class KeyQueue {
public:
    using Forward = std::function<void(const KeyEvent&)>;

    /// An event came: it is handed on, or waits.
    void take(const KeyEvent& event, const Forward& forward);
    /// A frame was drawn: what waited is handed on as far as it goes in one frame.
    void start_frame(const Forward& forward);
    bool waits() const { return !waiting_.empty(); }

private:
    bool has_to_wait(const KeyEvent& event) const;
    void hand_on(const KeyEvent& event, const Forward& forward);

    std::deque<KeyEvent> waiting_;
    std::set<int> pressed_, released_;  ///< since the last frame
    bool letters_ = false;              ///< came since then
};

}  // namespace hitchwright
