// PDF and PNG of a placed picture, through Cairo. No type of that library appears here.
//
// Cairo draws lines and fonts better than we could; it stays behind this header so that nothing above depends on it.
// Text that comes out wider than the layout reckoned with (another font was installed) is squeezed to fit.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "report/page.h"

namespace hitchwright {

/// A rendered file in memory, or one sentence saying why there is none.
struct RenderResult {
    std::string bytes;
    std::string error;  ///< empty: rendered
    bool ok() const { return error.empty(); }
};

/// Least and most resolution of a PNG.
inline constexpr double least_png_dpi = 20.0;
inline constexpr double most_png_dpi = 600.0;

/// The picture as a PDF of one page of the picture's size, fonts embedded.
RenderResult render_pdf(const PagePicture& picture);

/// The pictures as one PDF, a page each, of their own sizes; the first one's title is the file's. No page: an error.
RenderResult render_pdf(const std::vector<PagePicture>& pages);

/// The picture as a PNG; `dpi` in dots per inch of paper, from least_png_dpi to most_png_dpi.
RenderResult render_png(const PagePicture& picture, double dpi = 150.0);

/// A picture of points: three bytes (red, green, blue) for each, rows from the top.
struct PixelImage {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;
    bool operator==(const PixelImage&) const = default;
};

/// The image as a PNG. An image without points, or whose bytes are not three for each point, is an error.
RenderResult encode_png(const PixelImage& image);

/// Measures text with the font that is installed, as the PDF and PNG will show it. Null where the library is not there.
std::unique_ptr<TextMeasure> make_cairo_text_measure();

}  // namespace hitchwright
