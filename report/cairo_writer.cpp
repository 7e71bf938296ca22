// See cairo_writer.h. Every Cairo call that can fail leaves its status in the context or surface; it is read once at
// the end, which is how the library means it to be used.
#include "report/cairo_writer.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <exception>

#include "report/cairo_library.h"
#include "report/lightness.h"
#include "report/text_clean.h"

#if defined(__SANITIZE_ADDRESS__)
// The font library keeps patterns of its configuration until the process ends (three blocks, whatever the number of
// pictures); the leak check of the development build must not take them for ours.
extern "C" const char* __lsan_default_suppressions() { return "leak:libfontconfig"; }
extern "C" const char* __lsan_default_options() { return "print_suppressions=0"; }
#endif

namespace hitchwright {
namespace {

const char* const font_name = "DejaVu Sans";
const char* const fallback_font_name = "Droid Sans Fallback";  ///< letters that the first one has not
constexpr double points_per_mm = 72.0 / 25.4;
constexpr double pi = 3.14159265358979323846;
constexpr double largest_page_mm = 2000.0;
constexpr std::size_t most_pixels = 100'000'000;
constexpr double width_tolerance = 1e-3;  // share; text that fits this well is not squeezed
constexpr double measuring_size = 100.0;  // large, so that font hinting cannot round the width

/// Only below the functions of the header, which ask first.
const CairoLibrary& cairo() { return *find_cairo(); }

struct DestroySurface {
    void operator()(cairo_surface_t* surface) const { cairo().surface_destroy(surface); }
};
struct DestroyContext {
    void operator()(cairo_t* context) const { cairo().destroy(context); }
};
using Surface = std::unique_ptr<cairo_surface_t, DestroySurface>;
using Context = std::unique_ptr<cairo_t, DestroyContext>;

/// Appends to a std::string; nothing may throw through Cairo's C code.
cairo_status_t append_bytes(void* closure, const unsigned char* data, unsigned int length) {
    try {
        static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), length);
        return CAIRO_STATUS_SUCCESS;
    } catch (const std::exception&) {
        return CAIRO_STATUS_WRITE_ERROR;
    }
}

void select_font(cairo_t* cr, TextFace face, bool fallback = false) {
    cairo().select_font_face(cr, fallback ? fallback_font_name : font_name, CAIRO_FONT_SLANT_NORMAL,
                           face.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo().set_font_size(cr, face.size_mm);
}

/// True when the font selected has a letter for the one character of `text`.
bool has_glyph(cairo_t* cr, const std::string& text) {
    cairo_glyph_t* glyphs = nullptr;
    int count = 0;
    const cairo_status_t status = cairo().scaled_font_text_to_glyphs(cairo().get_scaled_font(cr), 0.0, 0.0, text.data(), static_cast<int>(text.size()),
                                                                   &glyphs, &count, nullptr, nullptr, nullptr);
    const bool found = status == CAIRO_STATUS_SUCCESS && count > 0 && glyphs[0].index != 0;
    cairo().glyph_free(glyphs);
    return found;
}

/// A stretch of text in one font.
struct FontRun {
    std::string text;
    bool fallback = false;
};

/// The text cut where it needs the other font. The library's simple text interface takes a single font and shows a box for
/// what that one lacks. Letters are set one behind the other from the left: scripts that join or run from the right are
/// readable by letter only.
std::vector<FontRun> split_by_font(cairo_t* cr, const std::string& text, TextFace face) {
    const auto plain = [](char c) { return static_cast<unsigned char>(c) < 0x80; };
    if (std::all_of(text.begin(), text.end(), plain)) return {{text, false}};
    select_font(cr, face);
    std::vector<FontRun> runs;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t bytes = decode_character(text, at).bytes;
        const std::string letter = text.substr(at, bytes);
        const bool fallback = letter != " " && !has_glyph(cr, letter);
        if (runs.empty() || runs.back().fallback != fallback) runs.push_back({{}, fallback});
        runs.back().text += letter;
        at += bytes;
    }
    return runs;
}

/// Width of a text, each run in its font.
double advance_of(cairo_t* cr, const std::vector<FontRun>& runs, TextFace face) {
    double width = 0.0;
    for (const FontRun& run : runs) {
        select_font(cr, face, run.fallback);
        cairo_text_extents_t extents;
        cairo().text_extents(cr, run.text.c_str(), &extents);
        width += extents.x_advance;
    }
    return width;
}

/// The colour, or the grey of its lightness.
void set_colour(cairo_t* cr, Colour c, bool monochrome) {
    const double grey = lightness_of(c);
    if (monochrome) cairo().set_source_rgb(cr, grey, grey, grey);
    else cairo().set_source_rgb(cr, c.red / 255.0, c.green / 255.0, c.blue / 255.0);
}

bool is_finite(PagePoint p) { return std::isfinite(p.x) && std::isfinite(p.y); }

void paint(cairo_t* cr, const PageShape& shape, bool closed, bool monochrome) {
    const RoleStyle& style = style_of(shape.role);
    if (shape.part == PagePart::wipe) {
        cairo().set_source_rgb(cr, 1.0, 1.0, 1.0);
        cairo().fill(cr);
        return;
    }
    if (closed && style.filled && shape.part == PagePart::normal) {
        set_colour(cr, style.fill, monochrome);
        cairo().fill_preserve(cr);
    }
    set_colour(cr, style.line, monochrome);
    const bool hatch = shape.part == PagePart::hatch;
    cairo().set_line_width(cr, hatch ? hatch_line_mm : style.line_mm);
    cairo().set_dash(cr, style.dash_mm.data(), hatch ? 0 : static_cast<int>(style.dash_mm.size()), 0.0);
    if (hatch || style.line_mm > 0.0) cairo().stroke(cr);
    cairo().new_path(cr);
}

struct DrawForm {
    cairo_t* cr;
    const PageShape& shape;
    bool monochrome;

    void operator()(const PagePath& f) const {
        if (f.points.size() < 2 || !std::all_of(f.points.begin(), f.points.end(), is_finite)) return;
        for (const PagePoint& p : f.points) cairo().line_to(cr, p.x, p.y);
        if (f.closed) cairo().close_path(cr);
        paint(cr, shape, f.closed, monochrome);
    }
    void operator()(const PageCircle& f) const {
        if (!is_finite(f.centre) || !(f.radius >= 0.0) || !std::isfinite(f.radius)) return;
        cairo().arc(cr, f.centre.x, f.centre.y, f.radius, 0.0, 2.0 * pi);
        cairo().close_path(cr);
        paint(cr, shape, true, monochrome);
    }
    void operator()(const PageText& f) const {
        if (!is_finite(f.at) || !(f.face.size_mm > 0.0) || !std::isfinite(f.face.size_mm) || f.text.empty()) return;
        const std::string text = clean_text(f.text);
        cairo().save(cr);
        set_colour(cr, style_of(shape.role).line, monochrome);
        cairo().translate(cr, f.at.x, f.at.y);
        const std::vector<FontRun> runs = split_by_font(cr, text, f.face);
        const double advance = advance_of(cr, runs, f.face);
        // Wider than reckoned with it is squeezed; narrower letters of other scripts keep their shape.
        const bool fits = advance <= (1.0 + width_tolerance) * f.width_mm;
        if (!fits && advance > 0.0 && f.width_mm > 0.0) cairo().scale(cr, f.width_mm / advance, 1.0);
        cairo().move_to(cr, 0.0, 0.0);
        for (const FontRun& run : runs) {
            select_font(cr, f.face, run.fallback);
            cairo().show_text(cr, run.text.c_str());
        }
        cairo().restore(cr);
        cairo().new_path(cr);
    }
};

void draw_picture(cairo_t* cr, const PagePicture& picture) {
    cairo().set_source_rgb(cr, 1.0, 1.0, 1.0);
    cairo().paint(cr);
    cairo().set_line_cap(cr, CAIRO_LINE_CAP_ROUND);
    cairo().set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    cairo_font_options_t* options = cairo().font_options_create();
    cairo().font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo().font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo().set_font_options(cr, options);
    cairo().font_options_destroy(options);
    for (const PageShape& shape : picture.shapes) std::visit(DrawForm{cr, shape, picture.monochrome}, shape.form);
}

std::string check_library() {
    return find_cairo() ? std::string() : fmt::format("the picture could not be drawn: the library {} is not there, or too old", cairo_file);
}

std::string check_page(const PagePicture& picture) {
    if (std::string error = check_library(); !error.empty()) return error;
    const auto good = [](double mm) { return mm >= 1.0 && mm <= largest_page_mm; };
    if (good(picture.width_mm) && good(picture.height_mm)) return {};
    return fmt::format("a page of {} x {} mm cannot be drawn; from 1 to {} mm a side is possible", picture.width_mm,
                       picture.height_mm, largest_page_mm);
}

/// Error text of a failed drawing, or nothing.
std::string error_of(cairo_status_t status) {
    return status == CAIRO_STATUS_SUCCESS
               ? std::string()
               : fmt::format("the picture could not be drawn: {}", cairo().status_to_string(status));
}

/// Text measured at a large size, so that the answer is proportional to the size asked for.
class CairoTextMeasure final : public TextMeasure {
public:
    CairoTextMeasure()
        : surface_(cairo().image_surface_create(CAIRO_FORMAT_A8, 1, 1)), context_(cairo().create(surface_.get())) {}

    double width_mm(std::string_view text, TextFace face) const override {
        const TextFace large{measuring_size, face.bold};
        const std::vector<FontRun> runs = split_by_font(context_.get(), clean_text(text), large);
        return advance_of(context_.get(), runs, large) / measuring_size * face.size_mm;
    }

private:
    Surface surface_;
    Context context_;
};

}  // namespace

RenderResult render_pdf(const PagePicture& picture) { return render_pdf(std::vector<PagePicture>{picture}); }

RenderResult render_pdf(const std::vector<PagePicture>& pages) {
    RenderResult result;
    if (pages.empty()) result.error = "there is no page to draw";
    for (const PagePicture& page : pages) {
        if (result.ok()) result.error = check_page(page);
    }
    if (!result.ok()) return result;
    const Surface surface(cairo().pdf_surface_create_for_stream(append_bytes, &result.bytes,
                                                              pages.front().width_mm * points_per_mm,
                                                              pages.front().height_mm * points_per_mm));
    // No date of creation: the same set-up gives the same bytes.
    cairo().pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "");
    cairo().pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, clean_text(pages.front().title).c_str());
    const Context context(cairo().create(surface.get()));
    cairo().scale(context.get(), points_per_mm, points_per_mm);
    for (const PagePicture& page : pages) {
        cairo().pdf_surface_set_size(surface.get(), page.width_mm * points_per_mm, page.height_mm * points_per_mm);
        draw_picture(context.get(), page);
        cairo().show_page(context.get());
    }
    result.error = error_of(cairo().status(context.get()));
    cairo().surface_finish(surface.get());
    if (result.ok()) result.error = error_of(cairo().surface_status(surface.get()));
    if (!result.ok()) result.bytes.clear();
    return result;
}

RenderResult render_png(const PagePicture& picture, double dpi) {
    RenderResult result;
    result.error = check_page(picture);
    if (result.ok() && !(dpi >= least_png_dpi && dpi <= most_png_dpi)) {
        result.error = fmt::format("a resolution of {} dpi is not possible; from {} to {} dpi is", dpi, least_png_dpi,
                                   most_png_dpi);
    }
    if (!result.ok()) return result;
    const double dots_per_mm = dpi / 25.4;
    const int width = static_cast<int>(std::lround(picture.width_mm * dots_per_mm));
    const int height = static_cast<int>(std::lround(picture.height_mm * dots_per_mm));
    const Surface surface(cairo().image_surface_create(CAIRO_FORMAT_RGB24, std::max(width, 1), std::max(height, 1)));
    const Context context(cairo().create(surface.get()));
    cairo().scale(context.get(), dots_per_mm, dots_per_mm);
    draw_picture(context.get(), picture);
    result.error = error_of(cairo().status(context.get()));
    if (result.ok())
        result.error = error_of(cairo().surface_write_to_png_stream(surface.get(), append_bytes, &result.bytes));
    if (!result.ok()) result.bytes.clear();
    return result;
}

RenderResult encode_png(const PixelImage& image) {
    RenderResult result;
    const auto points = static_cast<std::size_t>(std::max(image.width, 0)) *
                        static_cast<std::size_t>(std::max(image.height, 0));
    if (points == 0 || points > most_pixels || image.rgb.size() != 3 * points) {
        result.error = fmt::format("an image of {} x {} points cannot be written", image.width, image.height);
        return result;
    }
    result.error = check_library();
    if (!result.ok()) return result;
    const Surface surface(cairo().image_surface_create(CAIRO_FORMAT_RGB24, image.width, image.height));
    result.error = error_of(cairo().surface_status(surface.get()));
    if (!result.ok()) return result;
    unsigned char* const data = cairo().image_surface_get_data(surface.get());
    const auto stride = static_cast<std::size_t>(cairo().image_surface_get_stride(surface.get()));
    const auto width = static_cast<std::size_t>(image.width);
    for (std::size_t i = 0; i < points; ++i) {
        const std::uint8_t* const p = &image.rgb[3 * i];
        const std::uint32_t packed = (std::uint32_t{p[0]} << 16U) | (std::uint32_t{p[1]} << 8U) | p[2];
        std::memcpy(data + i / width * stride + i % width * sizeof packed, &packed, sizeof packed);
    }
    cairo().surface_mark_dirty(surface.get());
    result.error = error_of(cairo().surface_write_to_png_stream(surface.get(), append_bytes, &result.bytes));
    if (!result.ok()) result.bytes.clear();
    return result;
}

std::unique_ptr<TextMeasure> make_cairo_text_measure() { return find_cairo() ? std::make_unique<CairoTextMeasure>() : nullptr; }

}  // namespace hitchwright
