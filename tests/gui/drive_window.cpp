// drive_window WINDOW-TITLE-PART ACTION...: presses keys and buttons in a window of another program, as a person would.
//
// Actions: click X,Y   press and let go at a point of the window
//          type TEXT   letters, digits, blank, dot, slash and dash
//          key NAME    one key by its X name: Return, Escape, Down
//          ctrl KEY    one key with Control held
//          wait MS     nothing for that long
//          close       asks the window to close, as its title bar would
// Ends with 0, or with 1 and a sentence when the window does not appear within ten seconds.
#include <X11/Xatom.h>
#include <X11/Xlib.h>
#include <X11/keysym.h>

#include <chrono>
#include <cstdio>
#include <cstring>
#include <string>
#include <thread>
#include <vector>

namespace {

void wait_ms(int ms) { std::this_thread::sleep_for(std::chrono::milliseconds(ms)); }

std::string name_of(Display* display, Window window) {
    char* name = nullptr;
    if (XFetchName(display, window, &name) == 0 || name == nullptr) return {};
    std::string text(name);
    XFree(name);
    return text;
}

Window find_window(Display* display, Window below, const std::string& part) {
    if (name_of(display, below).find(part) != std::string::npos) return below;
    Window root = 0, parent = 0, found = 0;
    Window* children = nullptr;
    unsigned count = 0;
    if (XQueryTree(display, below, &root, &parent, &children, &count) == 0) return 0;
    for (unsigned i = 0; i < count && found == 0; ++i) found = find_window(display, children[i], part);
    if (children != nullptr) XFree(children);
    return found;
}

class Driver {
public:
    Driver(Display* display, Window window) : display_(display), window_(window) {
        XSetInputFocus(display_, window_, RevertToParent, CurrentTime);
        XSync(display_, False);
        wait_ms(100);
    }

    void click(int x, int y) {
        x_ = x;
        y_ = y;
        XWarpPointer(display_, None, window_, 0, 0, 0, 0, x, y);
        settle();
        button(ButtonPress);
        button(ButtonRelease);
    }
    void type(const std::string& text) {
        for (const char c : text) press(find_symbol(c), c >= 'A' && c <= 'Z' ? ShiftMask : 0U);
    }
    void press(KeySym symbol, unsigned state) {
        key(KeyPress, symbol, state);
        key(KeyRelease, symbol, state);
    }
    void press_with_control(KeySym symbol) {
        key(KeyPress, XK_Control_L, 0);
        press(symbol, ControlMask);
        key(KeyRelease, XK_Control_L, ControlMask);
    }
    void close() {
        XEvent event{};
        event.xclient.type = ClientMessage;
        event.xclient.window = window_;
        event.xclient.message_type = XInternAtom(display_, "WM_PROTOCOLS", False);
        event.xclient.format = 32;
        event.xclient.data.l[0] = static_cast<long>(XInternAtom(display_, "WM_DELETE_WINDOW", False));
        XSendEvent(display_, window_, False, NoEventMask, &event);
        settle();
    }

private:
    static KeySym find_symbol(char c) {
        switch (c) {
            case ' ':
                return XK_space;
            case '.':
                return XK_period;
            case '/':
                return XK_slash;
            case '-':
                return XK_minus;
            default:
                return static_cast<KeySym>(static_cast<unsigned char>(c));
        }
    }
    void settle() {
        XSync(display_, False);
        wait_ms(120);
    }
    void button(int type) {
        XEvent event{};
        event.xbutton.type = type;
        event.xbutton.window = window_;
        event.xbutton.root = DefaultRootWindow(display_);
        event.xbutton.button = Button1;
        event.xbutton.state = type == ButtonRelease ? Button1Mask : 0U;
        event.xbutton.x = x_;
        event.xbutton.y = y_;
        event.xbutton.same_screen = True;
        XSendEvent(display_, window_, False, type == ButtonPress ? ButtonPressMask : ButtonReleaseMask, &event);
        settle();
    }
    void key(int type, KeySym symbol, unsigned state) {
        XEvent event{};
        event.xkey.type = type;
        event.xkey.display = display_;
        event.xkey.window = window_;
        event.xkey.root = DefaultRootWindow(display_);
        event.xkey.keycode = XKeysymToKeycode(display_, symbol);
        event.xkey.state = state;
        // The program takes two presses of one time for a repetition.
        event.xkey.time = ++time_;
        event.xkey.same_screen = True;
        XSendEvent(display_, window_, False, type == KeyPress ? KeyPressMask : KeyReleaseMask, &event);
        settle();
    }

    Display* display_;
    Window window_;
    int x_ = 0, y_ = 0;
    Time time_ = 1;
};

bool act(Driver& driver, const std::string& action, const std::string& value) {
    int x = 0, y = 0;
    if (action == "click" && std::sscanf(value.c_str(), "%d,%d", &x, &y) == 2)
        driver.click(x, y);
    else if (action == "type")
        driver.type(value);
    else if (action == "key")
        driver.press(XStringToKeysym(value.c_str()), 0);
    else if (action == "ctrl")
        driver.press_with_control(XStringToKeysym(value.c_str()));
    else if (action == "wait")
        wait_ms(std::atoi(value.c_str()));
    else
        return false;
    return true;
}

}  // namespace

int main(int argc, char** argv) {
    const std::vector<std::string> words(argv + 1, argv + argc);
    Display* const display = XOpenDisplay(nullptr);
    if (words.empty() || display == nullptr) return std::fputs("drive_window: no title, or no screen\n", stderr), 1;
    Window window = 0;
    for (int i = 0; i < 100 && window == 0; ++i) {
        window = find_window(display, DefaultRootWindow(display), words[0]);
        if (window == 0) wait_ms(100);
    }
    if (window == 0) return std::fputs("drive_window: there is no such window\n", stderr), 1;
    Driver driver(display, window);
    for (std::size_t i = 1; i < words.size(); ++i) {
        if (words[i] == "close") {
            driver.close();
            continue;
        }
        if (i + 1 >= words.size() || !act(driver, words[i], words[i + 1])) {
            std::fprintf(stderr, "drive_window: \"%s\" is no action\n", words[i].c_str());
            return 1;
        }
        ++i;
    }
    XCloseDisplay(display);
    return 0;
}
