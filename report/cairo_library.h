// The functions of Cairo that are used, found when the first picture is drawn.
//
// Cairo brings some fifteen libraries with it, and loading them takes longer than judging a set-up: most commands never draw on paper.
// So the program is not linked with it; its functions are looked up by name (POSIX dlopen), with the types of its own header.
#pragma once

#include <cairo-pdf.h>
#include <cairo.h>

#define HITCHWRIGHT_CAIRO_FUNCTIONS(f) \
    f(arc) f(close_path) f(create) f(destroy) f(fill) f(fill_preserve) f(font_options_create) f(font_options_destroy) \
    f(font_options_set_hint_metrics) f(font_options_set_hint_style) f(get_scaled_font) f(glyph_free) \
    f(image_surface_create) f(image_surface_get_data) f(image_surface_get_stride) f(line_to) f(move_to) f(new_path) \
    f(paint) f(pdf_surface_create_for_stream) f(pdf_surface_set_metadata) f(pdf_surface_set_size) f(restore) f(save) \
    f(scale) f(scaled_font_text_to_glyphs) f(select_font_face) f(set_dash) f(set_font_options) f(set_font_size) \
    f(set_line_cap) f(set_line_join) f(set_line_width) f(set_source_rgb) f(show_page) f(show_text) f(status) \
    f(status_to_string) f(stroke) f(surface_destroy) f(surface_finish) f(surface_mark_dirty) f(surface_status) \
    f(surface_write_to_png_stream) f(text_extents) f(translate)

namespace hitchwright {

#if defined(HITCHWRIGHT_CAIRO_LINKED)
inline constexpr const char* cairo_file = "Cairo";
#else
inline constexpr const char* cairo_file = "libcairo.so.2";
#endif

/// The library: its functions without `cairo_` before their names.
struct CairoLibrary {
#define HITCHWRIGHT_CAIRO_MEMBER(name) decltype(&::cairo_##name) name = nullptr;  // NOLINT(bugprone-macro-parentheses): a member
    HITCHWRIGHT_CAIRO_FUNCTIONS(HITCHWRIGHT_CAIRO_MEMBER)
#undef HITCHWRIGHT_CAIRO_MEMBER
};

/// Loaded once and kept; null when the system has no such library, or one that lacks a function.
const CairoLibrary* find_cairo();

}  // namespace hitchwright
