// What the page calls: texts in and out as UTF-8 with a zero at the end. An answer stands until the next call.
#include <string>
#include <utility>

#include <emscripten/emscripten.h>

#include "web/engine.h"
#include "web/viewer.h"

namespace {

const char* keep(std::string text) {
    static std::string kept;  // the caller cannot own memory of ours
    kept = std::move(text);
    return kept.c_str();
}

}  // namespace

extern "C" {

/// engine.h
EMSCRIPTEN_KEEPALIVE const char* hitchwright_answer(const char* request) { return keep(hitchwright::answer_request(request)); }

// viewer.h
EMSCRIPTEN_KEEPALIVE int hitchwright_start(const char* setup, int width, int height, float density) {
    return hitchwright::start_viewer(setup, {width, height, density}) ? 1 : 0;
}
EMSCRIPTEN_KEEPALIVE void hitchwright_resize(int width, int height, float density) { hitchwright::resize_viewer({width, height, density}); }
EMSCRIPTEN_KEEPALIVE const char* hitchwright_choose(const char* folder, const char* root) {
    return keep(hitchwright::choose_file_for_viewer(folder, root));
}
EMSCRIPTEN_KEEPALIVE const char* hitchwright_open(const char* setup, const char* changes) {
    return keep(hitchwright::open_in_viewer(setup, changes));
}
EMSCRIPTEN_KEEPALIVE const char* hitchwright_change(const char* key, const char* value) {
    return keep(hitchwright::change_in_viewer(key, value));
}
EMSCRIPTEN_KEEPALIVE const char* hitchwright_exports(const char* setup) { return keep(hitchwright::list_exports(setup)); }
EMSCRIPTEN_KEEPALIVE const char* hitchwright_export(const char* setup, const char* kind, const char* ending, int a4) {
    return keep(hitchwright::make_one_export(setup, kind, ending, a4 != 0));
}
EMSCRIPTEN_KEEPALIVE const char* hitchwright_work() { return keep(hitchwright::read_viewer_work()); }
EMSCRIPTEN_KEEPALIVE void hitchwright_wake() { hitchwright::wake_viewer(); }
EMSCRIPTEN_KEEPALIVE void hitchwright_draw() { hitchwright::draw_viewer(); }
EMSCRIPTEN_KEEPALIVE void hitchwright_coarse(int coarse) { hitchwright::point_with_fingers(coarse != 0); }
EMSCRIPTEN_KEEPALIVE void hitchwright_finger(int event, int id, float x, float y) { hitchwright::touch_viewer(event, id, x, y); }
EMSCRIPTEN_KEEPALIVE const char* hitchwright_typing() { return keep(hitchwright::read_viewer_typing()); }
EMSCRIPTEN_KEEPALIVE void hitchwright_type(const char* text, int takes_text) { hitchwright::type_in_viewer(text, takes_text != 0); }
EMSCRIPTEN_KEEPALIVE const char* hitchwright_report() { return keep(hitchwright::read_viewer_report()); }
EMSCRIPTEN_KEEPALIVE const char* hitchwright_setup() { return keep(hitchwright::read_viewer_setup()); }
EMSCRIPTEN_KEEPALIVE const char* hitchwright_state() { return keep(hitchwright::read_viewer_state()); }

}  // extern "C"
