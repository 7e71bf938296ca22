#include "gui/key_queue.h"

namespace hitchwright {

namespace {

/// Shift, Control, Alt and the like, as GLFW numbers them.
constexpr bool is_modifier(int key) { return key >= 340 && key <= 347; }

}  // namespace

bool KeyQueue::has_to_wait(const KeyEvent& event) const {
    switch (event.kind) {
        case KeyEvent::Kind::press: return released_.contains(event.key) || (letters_ && is_modifier(event.key));
        case KeyEvent::Kind::release: return !pressed_.empty();
        case KeyEvent::Kind::letter: break;
    }
    return false;
}

void KeyQueue::hand_on(const KeyEvent& event, const Forward& forward) {
    if (event.kind == KeyEvent::Kind::press) pressed_.insert(event.key);
    if (event.kind == KeyEvent::Kind::release) released_.insert(event.key);
    if (event.kind == KeyEvent::Kind::letter) letters_ = true;
    forward(event);
}

void KeyQueue::take(const KeyEvent& event, const Forward& forward) {
    if (waits() || has_to_wait(event)) waiting_.push_back(event);
    else hand_on(event, forward);
}

void KeyQueue::start_frame(const Forward& forward) {
    pressed_.clear();
    released_.clear();
    letters_ = false;
    while (waits() && !has_to_wait(waiting_.front())) {
        const KeyEvent event = waiting_.front();
        waiting_.pop_front();
        hand_on(event, forward);
    }
}

}  // namespace hitchwright
