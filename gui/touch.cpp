// See touch.h. The frame in between asks what lies under a finger: Dear ImGui knows it only of the place the mouse had.
#include "gui/touch.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cfloat>
#include <cmath>

#include "gui/picture_drag.h"

namespace hitchwright {
namespace {

constexpr double long_press = 0.5;        // s
constexpr float slop_lines = 0.6F;        // of a line of text: less is a finger that trembles
constexpr float least_glide = 60.0F;      // pixels a second
constexpr float glide_share = 0.035F;     // of the speed left after a second
constexpr float least_apart_lines = 1.0F; // of two fingers, for a zoom that can be told

float line() { return ImGui::GetCurrentContext()->FontBaseSize > 0.0F ? ImGui::GetCurrentContext()->FontBaseSize : 13.0F; }
float distance(ImVec2 a, ImVec2 b) { return std::hypot(a.x - b.x, a.y - b.y); }
ImVec2 middle_of(const std::vector<Finger>& f) { return {(f[0].at.x + f[1].at.x) / 2.0F, (f[0].at.y + f[1].at.y) / 2.0F}; }

void put_mouse(ImVec2 at, bool down) {
    ImGuiIO& io = ImGui::GetIO();
    io.MousePos = at;
    for (bool& button : io.MouseDown) button = false;
    io.MouseDown[0] = down;
}

void put_mouse_away() { put_mouse({-FLT_MAX, -FLT_MAX}, false); }

bool scrolls(const ImGuiWindow& w) { return w.ScrollMax.y > 0.0F && (w.Flags & ImGuiWindowFlags_NoScrollWithMouse) == 0; }

/// The innermost window round the one under the finger that has something to scroll; from the edge of all, what stands in it.
unsigned find_scrolled() {
    const ImGuiContext& context = *ImGui::GetCurrentContext();
    for (const ImGuiWindow* w = context.HoveredWindow; w != nullptr; w = w->ParentWindow) {
        if (scrolls(*w)) return w->ID;
        if ((w->Flags & ImGuiWindowFlags_ChildWindow) == 0) break;
    }
    for (const ImGuiWindow* w : context.Windows) {
        if (w->WasActive && w->ParentWindow != nullptr && w->ParentWindow == context.HoveredWindow && scrolls(*w)) return w->ID;
    }
    return 0;
}

void scroll_by(unsigned id, float pixels) {
    ImGuiWindow* const w = ImGui::FindWindowByID(id);
    if (w != nullptr) ImGui::SetScrollY(w, std::clamp(w->Scroll.y + pixels, 0.0F, w->ScrollMax.y));
}

/// What a finger that has moved far enough is doing.
FingerWork choose_work(const TouchState& t) {
    const bool sideways = std::fabs(t.at.x - t.began.x) > std::fabs(t.at.y - t.began.y);
    if (t.under == FingerMove::drags || (t.under != FingerMove::scrolls && sideways)) return FingerWork::starts;
    return FingerWork::scrolls;
}

bool has_moved(const TouchState& t) { return distance(t.at, t.began) > slop_lines * line(); }

void decide(TouchState& t, double now) {
    if (has_moved(t)) {
        t.work = choose_work(t);
        t.last = t.began;
        t.scrolled = t.work == FingerWork::scrolls ? find_scrolled() : 0;
        t.speed = 0.0F;
    } else if (t.lifted) {
        t.work = FingerWork::presses;
    } else if (now - t.since >= long_press) {
        t.work = FingerWork::hovers;
    } else {
        t.work = FingerWork::waits;
    }
}

void scroll_on(TouchState& t, float seconds) {
    const float by = t.last.y - t.at.y;
    t.last = t.at;
    scroll_by(t.scrolled, by);
    constexpr float newest = 0.5F;  // a finger does not stop dead in the last frame
    if (seconds > 0.0F) t.speed += newest * (by / seconds - t.speed);
}

void glide_on(TouchState& t, float seconds) {
    scroll_by(t.scrolled, t.speed * seconds);
    t.speed *= std::pow(glide_share, seconds);
    if (std::fabs(t.speed) < least_glide) t.work = FingerWork::none;
}

void move_picture(TouchState& t) {
    const ImVec2 middle = middle_of(t.fingers);
    const float apart = distance(t.fingers[0].at, t.fingers[1].at);
    t.pan = {middle.x - t.middle.x, middle.y - t.middle.y};
    if (t.apart > least_apart_lines * line() && apart > least_apart_lines * line()) t.zoom = apart / t.apart;
    t.middle = middle;
    t.apart = apart;
    put_mouse(middle, false);
}

void use_one(TouchState& t, double now, float seconds) {
    switch (t.work) {
        case FingerWork::looks:
            put_mouse(t.began, false);
            t.since = now;
            t.work = FingerWork::waits;
            t.under = FingerMove::scrolls;
            break;
        case FingerWork::waits:
            // What a slow frame lasted is no rest of the finger: where it has gone meanwhile is not known yet.
            t.since += static_cast<double>(ImGui::GetIO().DeltaTime - seconds);
            decide(t, now);
            if (t.work == FingerWork::scrolls) {
                put_mouse_away();
                scroll_on(t, seconds);
            } else {
                put_mouse(t.began, t.work == FingerWork::presses || t.work == FingerWork::starts);
            }
            if (t.work == FingerWork::presses) t.work = FingerWork::lets_go;
            if (t.work == FingerWork::starts) t.work = FingerWork::drags;
            break;
        case FingerWork::drags:
            // The button goes up in a frame of its own, at the place that the last one drew.
            if (t.lifted && distance(t.last, t.at) == 0.0F) t.work = FingerWork::spent;
            t.last = t.at;
            put_mouse(t.at, t.work == FingerWork::drags);
            break;
        case FingerWork::scrolls:
            put_mouse_away();
            if (t.lifted) t.work = FingerWork::glides;
            else scroll_on(t, seconds);
            break;
        case FingerWork::glides:
            put_mouse_away();
            glide_on(t, seconds);
            break;
        case FingerWork::lets_go:
            put_mouse(t.began, false);
            t.work = FingerWork::spent;
            break;
        case FingerWork::hovers:
            if (t.lifted) t.work = FingerWork::spent;
            else if (t.under == FingerMove::held && has_moved(t)) t.work = FingerWork::drags;
            t.last = t.began;
            put_mouse(t.work == FingerWork::drags ? t.began : t.at, t.work == FingerWork::drags);
            break;
        default: put_mouse_away();
    }
}

/// The second finger has come: on a picture the two move it, elsewhere the first goes on alone.
void begin_two(AppState& app) {
    TouchState& t = app.view.touch;
    const bool undecided = t.work == FingerWork::waits || t.work == FingerWork::hovers;
    if (t.under < FingerMove::held || (!undecided && t.work != FingerWork::drags)) return;
    if (app.view.act.drag) cancel_pull(app);
    t.work = FingerWork::moves;
    t.middle = middle_of(t.fingers);
    t.apart = distance(t.fingers[0].at, t.fingers[1].at);
}

}  // namespace

void take_finger(TouchState& t, FingerEvent event, Finger finger) {
    t.coarse = t.by_finger = true;
    const auto found = std::find_if(t.fingers.begin(), t.fingers.end(), [&](const Finger& f) { return f.id == finger.id; });
    if (event == FingerEvent::down && found == t.fingers.end()) {
        t.fingers.push_back(finger);
        if (t.fingers.size() > 1) return;
        t.began = t.at = t.last = finger.at;
        t.lifted = false;
        t.work = FingerWork::looks;
        return;
    }
    if (found == t.fingers.end()) return;
    found->at = finger.at;
    const bool first = !t.lifted && found == t.fingers.begin();
    if (first) t.at = finger.at;
    if (event == FingerEvent::move) return;
    t.fingers.erase(found);
    if (event == FingerEvent::cancel || t.work == FingerWork::moves) t.work = FingerWork::spent;
    t.lifted = t.lifted || first;
}

void take_mouse(TouchState& touch) {
    if (touch.fingers.empty()) touch.by_finger = false;
}

void use_fingers(AppState& app) {
    TouchState& t = app.view.touch;
    t.zoom = 1.0F;
    t.pan = {0.0F, 0.0F};
    if (!t.by_finger) return;
    constexpr float longest_frame = 0.1F;  // s; the first after a rest lasted as long as the rest
    const float seconds = std::min(ImGui::GetIO().DeltaTime, longest_frame);
    if (t.work == FingerWork::none || t.work == FingerWork::spent) put_mouse_away();
    if (t.work == FingerWork::spent && t.fingers.empty()) t.work = FingerWork::none;
    if (t.fingers.size() == 2 && t.work != FingerWork::looks && t.work != FingerWork::moves) begin_two(app);
    if (t.work == FingerWork::moves && t.fingers.size() >= 2) move_picture(t);
    else if (t.work != FingerWork::none && t.work != FingerWork::spent) use_one(t, ImGui::GetTime() + static_cast<double>(ImGui::GetIO().DeltaTime), seconds);
}

bool wants_frames(const TouchState& t) { return t.work != FingerWork::none && !(t.work == FingerWork::spent && !t.fingers.empty()); }

}  // namespace hitchwright
