// Keys between two frames: none is lost, none comes early.
#include <catch2/catch.hpp>

#include <vector>

#include "gui/key_queue.h"

using namespace hitchwright;

namespace {

constexpr KeyEvent press(int key) { return {KeyEvent::Kind::press, key, 0, 0, 0}; }
constexpr KeyEvent release(int key) { return {KeyEvent::Kind::release, key, 0, 0, 0}; }
constexpr KeyEvent letter(unsigned code) { return {KeyEvent::Kind::letter, 0, code, 0, 0}; }

struct Seen {
    KeyQueue queue;
    std::vector<KeyEvent> events;
    void take(const KeyEvent& event) {
        queue.take(event, [&](const KeyEvent& e) { events.push_back(e); });
    }
    void frame() {
        events.clear();
        queue.start_frame([&](const KeyEvent& e) { events.push_back(e); });
    }
};

}  // namespace

TEST_CASE("key queue: a key pressed and let go between two frames is down for a whole frame", "[gui]") {
    Seen seen;
    seen.take(press(257));
    seen.take(release(257));
    CHECK(seen.events == std::vector{press(257)});
    CHECK(seen.queue.waits());
    seen.frame();
    CHECK(seen.events == std::vector{release(257)});
    CHECK_FALSE(seen.queue.waits());
}

TEST_CASE("key queue: what comes behind a waiting key waits with it, in its order", "[gui]") {
    Seen seen;
    const std::vector<KeyEvent> typed{press(341), press('A'), release('A'), release(341), letter('2'), letter('5'), press(257), release(257)};
    for (const KeyEvent& event : typed) seen.take(event);
    CHECK(seen.events == std::vector{press(341), press('A')});
    seen.frame();
    CHECK(seen.events == std::vector{release('A'), release(341), letter('2'), letter('5'), press(257)});
    seen.frame();
    CHECK(seen.events == std::vector{release(257)});
    CHECK_FALSE(seen.queue.waits());
}

TEST_CASE("key queue: Control let go in the frame in which its letter was pressed is held for that frame", "[gui]") {
    Seen seen;
    seen.take(press(341));
    seen.frame();
    for (const KeyEvent& event : {press('A'), release(341), release('A')}) seen.take(event);
    CHECK(seen.events == std::vector{press('A')});
    seen.frame();
    CHECK(seen.events == std::vector{release(341), release('A')});
}

TEST_CASE("key queue: Control pressed behind a letter does not take the letter away", "[gui]") {
    Seen seen;
    for (const KeyEvent& event : {letter('4'), press(341), press('Z')}) seen.take(event);
    CHECK(seen.events == std::vector{letter('4')});
    seen.frame();
    CHECK(seen.events == std::vector{press(341), press('Z')});
}

TEST_CASE("key queue: a key tapped three times is pressed three times", "[gui]") {
    Seen seen;
    for (int i = 0; i < 3; ++i) {
        seen.take(press('Z'));
        seen.take(release('Z'));
    }
    std::vector<KeyEvent> all = seen.events;
    int frames = 0;
    for (; seen.queue.waits() && frames < 20; ++frames) {
        seen.frame();
        CHECK(seen.events.size() <= 1);
        all.insert(all.end(), seen.events.begin(), seen.events.end());
    }
    CHECK(frames == 5);
    CHECK(all == std::vector{press('Z'), release('Z'), press('Z'), release('Z'), press('Z'), release('Z')});
}
