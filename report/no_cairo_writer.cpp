// cairo_writer.h where there is no Cairo: the browser. It prints the same picture by itself, from SVG.
#include "report/cairo_writer.h"

namespace hitchwright {
namespace {

RenderResult refuse() { return {{}, "PDF and PNG are not made here; take SVG, or print from the browser"}; }

}  // namespace

RenderResult render_pdf(const PagePicture&) { return refuse(); }
RenderResult render_pdf(const std::vector<PagePicture>&) { return refuse(); }
RenderResult render_png(const PagePicture&, double) { return refuse(); }
RenderResult encode_png(const PixelImage&) { return refuse(); }
std::unique_ptr<TextMeasure> make_cairo_text_measure() { return nullptr; }

}  // namespace hitchwright
