#include "gui/pixel_painter.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "geometry/do_both.h"
#include "gui/triangle_cover.h"

namespace hitchwright {
namespace {

constexpr std::uint32_t opaque = 0xFF000000U;

// What painting takes beside its pixels, and what it has to be for a second thread to be worth waking: in pixels.
constexpr int work_of_triangle = 40, work_of_line = 8;
constexpr long least_work_for_two = 100'000;

/// From red in the lowest byte to blue there.
constexpr std::uint32_t swap_ends(std::uint32_t c) { return (c & 0xFF00FF00U) | ((c >> 16U) & 0xFFU) | ((c & 0xFFU) << 16U); }

/// a b / 255 to the nearest, for 0 to 255.
constexpr std::uint32_t product_of(std::uint32_t a, std::uint32_t b) {
    const std::uint32_t p = a * b + 128U;
    return (p + (p >> 8U)) >> 8U;
}

/// Blue, red and green of a pixel as three numbers of 16 bits in one.
constexpr std::uint64_t spread(std::uint32_t c) { return (c & 0x00FF00FFU) | (std::uint64_t{c & 0xFF00U} << 24U); }

/// A colour, spread, over what is under it; alpha 0 to 255, each byte to the nearest.
constexpr std::uint32_t blend(std::uint32_t under, std::uint64_t colour, std::uint32_t alpha) {
    constexpr std::uint64_t bytes = 0x00FF00FF00FFU, halves = 0x008000800080U;
    std::uint64_t p = colour * alpha + spread(under) * (255U - alpha) + halves;
    p = ((p + ((p >> 8U) & bytes)) >> 8U) & bytes;
    return opaque | static_cast<std::uint32_t>(p) | (static_cast<std::uint32_t>(p >> 24U) & 0xFF00U);
}

/// A value that is linear over a triangle, at the middles of pixels.
struct Plane {
    float across = 0.0F, down = 0.0F, start = 0.0F;

    /// The same along a row, by x alone.
    Plane row(int y) const { return {across, 0.0F, start + down * static_cast<float>(y)}; }
    float at(int x) const { return start + across * static_cast<float>(x); }
};

/// Plane through values at the corners.
class Planes {
public:
    explicit Planes(const Triangle& t) {
        const ImVec2 a = t[0]->pos, b = t[1]->pos, c = t[2]->pos;
        x_ = static_cast<double>(a.x) - 0.5;
        y_ = static_cast<double>(a.y) - 0.5;
        bx_ = static_cast<double>(b.x) - static_cast<double>(a.x), by_ = static_cast<double>(b.y) - static_cast<double>(a.y);
        cx_ = static_cast<double>(c.x) - static_cast<double>(a.x), cy_ = static_cast<double>(c.y) - static_cast<double>(a.y);
        const double area = bx_ * cy_ - by_ * cx_;
        per_area_ = area == 0.0 ? 0.0 : 1.0 / area;
    }
    Plane through(float a, float b, float c) const {
        const double ab = static_cast<double>(b) - static_cast<double>(a), ac = static_cast<double>(c) - static_cast<double>(a);
        const double across = (ab * cy_ - ac * by_) * per_area_, down = (ac * bx_ - ab * cx_) * per_area_;
        return {static_cast<float>(across), static_cast<float>(down), static_cast<float>(static_cast<double>(a) - across * x_ - down * y_)};
    }

private:
    double x_, y_, bx_, by_, cx_, cy_, per_area_;
};

/// The nearest of 0 to 255. Not below 0 where the half is added; std::lround would be a call for each pixel.
std::uint32_t to_byte(float value) {
    return static_cast<std::uint32_t>(std::min(255.0F, std::max(0.0F, value)) + 0.5F);  // NOLINT(bugprone-incorrect-roundings)
}

float byte_of(ImU32 colour, unsigned n) { return static_cast<float>((colour >> (8U * n)) & 0xFFU); }

/// Between two whole places of a texture: 256ths of the way from the first to the next.
struct Between {
    int first = 0, share = 0;
};

/// `place` in pixels of the texture from the middle of its first one; beyond the edge it is the edge.
Between find_between(float place, int size) {
    const float inside = std::min(static_cast<float>(size - 1), std::max(0.0F, place));
    const int steps = static_cast<int>(256.0F * inside + 0.5F);  // NOLINT(bugprone-incorrect-roundings): as in to_byte
    const int first = std::min(steps >> 8, size - 2);
    return {first, steps - 256 * first};
}

/// Rows of the texture at one height, between which is read.
class TextureRow {
public:
    TextureRow(const CoverTexture& t, float v) : width_(t.width) {
        const Between rows = find_between(v, t.height);
        upper_ = t.pixels + static_cast<std::ptrdiff_t>(rows.first) * t.width;
        share_ = rows.share;
    }
    /// True at the middle of a row: no other shares in it.
    bool is_one() const { return share_ == 0; }
    std::uint32_t at(float u) const { return at(find_between(u, width_)); }
    std::uint32_t at(Between columns) const {
        const std::uint8_t* const p = upper_ + columns.first;
        const std::uint8_t* const q = p + width_;
        const int left = 256 * p[0] + share_ * (q[0] - p[0]), right = 256 * p[1] + share_ * (q[1] - p[1]);
        return static_cast<std::uint32_t>((256 * left + columns.share * (right - left) + 0x8000) >> 16);
    }
    /// The same in less time where it is one.
    std::uint32_t at_one(float u) const { return at_one(find_between(u, width_)); }
    std::uint32_t at_one(Between columns) const {
        const std::uint8_t* const p = upper_ + columns.first;
        return static_cast<std::uint32_t>((256 * p[0] + columns.share * (p[1] - p[0]) + 0x80) >> 8);
    }

private:
    const std::uint8_t* upper_;
    int share_, width_;
};

/// One colour, spread, over a pixel under it as far as a texture covers it.
void blend_covered(std::uint32_t& pixel, std::uint64_t colour, std::uint32_t alpha, std::uint32_t cover) {
    if (cover != 0) pixel = blend(pixel, colour, alpha == 255U ? cover : product_of(cover, alpha));
}

/// The place of a corner in the texture, in pixels from the middle of its first one.
ImVec2 place_in(const CoverTexture& letters, const ImDrawVert& corner) {
    return {corner.uv.x * static_cast<float>(letters.width) - 0.5F, corner.uv.y * static_cast<float>(letters.height) - 0.5F};
}

/// How an upright rectangle of one colour with a letter in it is coloured: where the texture is read is found once for all its rows.
class LetterPaint {
public:
    static constexpr int most_width = 64;

    /// `pixels`: those it covers, no more than `most_width` in a row.
    LetterPaint(const Triangle& t, const PixelBox& pixels, const CoverTexture& letters)
        : letters_(letters), colour_(spread(swap_ends(t[0]->col))), alpha_(t[0]->col >> 24U), left_(pixels.left) {
        const Planes planes(t);
        const ImVec2 a = place_in(letters, *t[0]), c = place_in(letters, *t[2]);
        const Plane u = planes.through(a.x, c.x, c.x);
        v_ = planes.through(a.y, a.y, c.y);
        for (int x = pixels.left; x < pixels.right; ++x) columns_[static_cast<std::size_t>(x - left_)] = find_between(u.at(x), letters.width);
    }

    void fill(std::uint32_t* row, int y, TriangleCover::Run run) const {
        const TextureRow texture(letters_, v_.row(y).start);
        if (texture.is_one()) put(row, run, [&](Between columns) { return texture.at_one(columns); });
        else put(row, run, [&](Between columns) { return texture.at(columns); });
    }

private:
    template <class Function>
    void put(std::uint32_t* row, TriangleCover::Run run, const Function& cover_at) const {
        for (int x = run.left; x < run.right; ++x) blend_covered(row[x], colour_, alpha_, cover_at(columns_[static_cast<std::size_t>(x - left_)]));
    }

    const CoverTexture& letters_;
    std::uint64_t colour_;
    std::uint32_t alpha_;
    int left_;
    Plane v_;
    std::array<Between, most_width> columns_;  ///< of the texture, by pixel
};

/// How a triangle is coloured.
class Paint {
public:
    Paint(const Triangle& t, const CoverTexture& letters) : letters_(letters), colour_(opaque | swap_ends(t[0]->col)) {
        const Planes planes(t);
        const ImU32 a = t[0]->col, b = t[1]->col, c = t[2]->col;
        fades_ = a != b || a != c;
        shifts_ = ((a ^ b) << 8U) != 0 || ((a ^ c) << 8U) != 0;
        for (unsigned n = 0; n < 4 && fades_; ++n) bytes_[n] = planes.through(byte_of(a, n), byte_of(b, n), byte_of(c, n));
        const std::array<ImVec2, 3> places{place_in(letters, *t[0]), place_in(letters, *t[1]), place_in(letters, *t[2])};
        const auto u = [&](std::size_t i) { return places[i].x; };
        const auto v = [&](std::size_t i) { return places[i].y; };
        alpha_ = a >> 24U;
        textured_ = u(0) != u(1) || u(0) != u(2) || v(0) != v(1) || v(0) != v(2);
        if (textured_) {
            u_ = planes.through(u(0), u(1), u(2));
            v_ = planes.through(v(0), v(1), v(2));
        } else {
            spot_ = TextureRow(letters, v(0)).at(u(0));
        }
    }

    /// Pixels from left up to right of row `y`, which begins at `row`.
    void fill(std::uint32_t* row, int y, TriangleCover::Run run) const {
        if (textured_) return fill_textured(row, y, run);
        if (!fades_ && alpha_ == 255U && spot_ == 255U) return std::fill(row + run.left, row + run.right, colour_);
        put(row, y, run, [this](int) { return spot_; });
    }

private:
    /// Where it is not alike all over.
    std::uint32_t colour_at(int x, int y) const {
        const auto byte = [&](std::size_t n) { return to_byte(bytes_[n].row(y).at(x)); };
        return opaque | (byte(0) << 16U) | (byte(1) << 8U) | byte(2);
    }

    /// `cover_at`: what the texture covers of a pixel, by x.
    template <class Function>
    void put(std::uint32_t* row, int y, TriangleCover::Run run, const Function& cover_at) const {
        const std::uint64_t colour = spread(colour_);
        if (!fades_) {
            const std::uint32_t alpha = alpha_;
            for (int x = run.left; x < run.right; ++x) blend_covered(row[x], colour, alpha, cover_at(x));
            return;
        }
        const Plane alpha = bytes_[3].row(y);
        for (int x = run.left; x < run.right; ++x)
            row[x] = blend(row[x], shifts_ ? spread(colour_at(x, y)) : colour, product_of(cover_at(x), to_byte(alpha.at(x))));
    }

    void fill_textured(std::uint32_t* row, int y, TriangleCover::Run run) const {
        const Plane u = u_.row(y), v = v_.row(y);
        const CoverTexture& letters = letters_;
        if (v.across != 0.0F) return put(row, y, run, [&](int x) { return TextureRow(letters, v.at(x)).at(u.at(x)); });
        // Letters stand upright, and a line's texture is one row: a row of the picture is one of the texture.
        const TextureRow upright(letters, v.start);
        if (upright.is_one()) put(row, y, run, [&](int x) { return upright.at_one(u.at(x)); });
        else put(row, y, run, [&](int x) { return upright.at(u.at(x)); });
    }

    const CoverTexture& letters_;
    std::uint32_t colour_, alpha_ = 0, spot_ = 0;
    bool fades_ = false, shifts_ = false, textured_ = false;
    Plane u_, v_;
    std::array<Plane, 4> bytes_;  ///< red, green, blue, alpha
};

}  // namespace

void PixelPainter::paint(const ImDrawData& frame, const std::vector<PixelBox>& parts, ImU32 ground, const CoverTexture& letters, int threads) {
    grid_ = {static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)};
    pixels_.resize(static_cast<std::size_t>(grid_.width) * static_cast<std::size_t>(grid_.height));
    share_out(parts);
    collect(frame, threads);
    const std::uint32_t under = opaque | swap_ends(ground);
    const int middle = threads > 1 ? find_middle() : grid_.rows();
    do_both(middle < grid_.rows() ? threads : 1, [&] { paint_rows({0, middle}, under, letters); },
            [&] { paint_rows({middle, grid_.rows()}, under, letters); });
}

void PixelPainter::share_out(const std::vector<PixelBox>& parts) {
    spans_.resize(static_cast<std::size_t>(grid_.rows()));
    for (std::vector<Span>& row : spans_) row.clear();
    for (const PixelBox& part : parts) {
        const PixelBox tiles = grid_.tiles_of(part);
        for (int row = tiles.top; row < tiles.bottom; ++row) spans_[static_cast<std::size_t>(row)].push_back({part.left, part.right});
    }
}

/// What reaches into the parts.
void PixelPainter::collect(const ImDrawData& frame, int threads) {
    take_halves(frame, find_half(frame, 0), threads, [&](FrameLists lists, std::size_t half) { collect(frame, lists, halves_[half]); });
}

void PixelPainter::collect(const ImDrawData& frame, FrameLists lists, Half& half) const {
    half.pieces.clear();
    half.work.assign(spans_.size(), 0);
    for (int n = lists.first; n < lists.end; ++n) {
        const ImDrawList& list = *frame.CmdLists[n];
        for (const ImDrawCmd& command : list.CmdBuffer) {
            const PixelBox clip = find_clip(command, grid_);
            if (clip.empty()) continue;
            visit_pieces(list, command, [&](const FramePiece& shape) {
                const Triangle& t = shape.triangle;
                const Piece piece{shape, shape.is_rectangle ? common(clip, find_covered(t[0]->pos, t[2]->pos)) : find_pixels(t, clip)};
                if (!piece.pixels.empty() && weigh(piece, half.work)) half.pieces.push_back(piece);
            });
        }
    }
}

/// Adds a piece to the work of its rows; false: it reaches into none of the parts.
bool PixelPainter::weigh(const Piece& piece, std::vector<long>& work) const {
    bool reaches = false;
    const PixelBox& pixels = piece.pixels;
    const PixelBox tiles = grid_.tiles_of(pixels);
    for (int tile = tiles.top; tile < tiles.bottom; ++tile) {
        const auto row = static_cast<std::size_t>(tile);
        const int lines = std::min(pixels.bottom, (tile + 1) * TileGrid::tile_height) - std::max(pixels.top, tile * TileGrid::tile_height);
        for (const Span& span : spans_[row]) {
            const int width = std::min(pixels.right, span.right) - std::max(pixels.left, span.left);
            if (width <= 0) continue;
            reaches = true;
            // A triangle is half of its box.
            work[row] += work_of_triangle + lines * (work_of_line + (piece.shape.is_rectangle ? width : width / 2));
        }
    }
    return reaches;
}

/// The row of tiles above which half of the work is done; of little work that below the last.
int PixelPainter::find_middle() const {
    const auto work = [this](std::size_t row) { return halves_[0].work[row] + halves_[1].work[row]; };
    long all = 0;
    for (std::size_t row = 0; row < spans_.size(); ++row) all += work(row);
    if (all < least_work_for_two) return grid_.rows();
    long before = 0;
    int row = 0;
    for (; row + 1 < grid_.rows() && 2 * (before + work(static_cast<std::size_t>(row)) / 2) < all; ++row) before += work(static_cast<std::size_t>(row));
    return row;
}

void PixelPainter::paint_rows(Rows rows, std::uint32_t ground, const CoverTexture& letters) {
    for (int tile = rows.first; tile < rows.end; ++tile) {
        const int bottom = std::min((tile + 1) * TileGrid::tile_height, grid_.height);
        for (const Span& span : spans_[static_cast<std::size_t>(tile)])
            for (int y = tile * TileGrid::tile_height; y < bottom; ++y)
                std::fill_n(pixels_.begin() + static_cast<std::ptrdiff_t>(y) * grid_.width + span.left, span.right - span.left, ground);
    }
    for (const Half& half : halves_)
        for (const Piece& piece : half.pieces) piece.shape.is_rectangle ? paint_rectangle(piece, rows, letters) : paint_triangle(piece, rows, letters);
}

/// Calls `fill` with each row of pixels of a box as far as it is painted: where the row begins, y, and from where to where.
template <class Fill>
void PixelPainter::visit_rows(const PixelBox& pixels, Rows rows, const Fill& fill) {
    const PixelBox tiles = grid_.tiles_of(pixels);
    for (int tile = std::max(tiles.top, rows.first); tile < std::min(tiles.bottom, rows.end); ++tile) {
        const int top = std::max(pixels.top, tile * TileGrid::tile_height), bottom = std::min(pixels.bottom, (tile + 1) * TileGrid::tile_height);
        for (const Span& span : spans_[static_cast<std::size_t>(tile)]) {
            const TriangleCover::Run limits{std::max(pixels.left, span.left), std::min(pixels.right, span.right)};
            if (limits.left >= limits.right) continue;
            std::uint32_t* row = pixels_.data() + static_cast<std::ptrdiff_t>(top) * grid_.width;
            for (int y = top; y < bottom; ++y, row += grid_.width) fill(row, y, limits);
        }
    }
}

void PixelPainter::paint_triangle(const Piece& piece, Rows rows, const CoverTexture& letters) {
    const Triangle& triangle = piece.shape.triangle;
    std::optional<TriangleCover> cover;
    std::optional<Paint> paint;
    visit_rows(piece.pixels, rows, [&](std::uint32_t* row, int y, TriangleCover::Run limits) {
        if (!cover) cover.emplace(triangle);
        const TriangleCover::Run run = cover->empty() ? TriangleCover::Run{} : cover->find_row(y, limits);
        if (run.left >= run.right) return;
        if (!paint) paint.emplace(triangle, letters);
        paint->fill(row, y, run);
    });
}

void PixelPainter::paint_rectangle(const Piece& piece, Rows rows, const CoverTexture& letters) {
    const Triangle& half = piece.shape.triangle;
    const auto paint_with = [&](auto paint, const auto&... more) {
        visit_rows(piece.pixels, rows, [&](std::uint32_t* row, int y, TriangleCover::Run run) {
            if (!paint) paint.emplace(half, more..., letters);
            paint->fill(row, y, run);
        });
    };
    const bool holds_letter = half[0]->uv.x != half[2]->uv.x || half[0]->uv.y != half[2]->uv.y;
    if (holds_letter && piece.pixels.right - piece.pixels.left <= LetterPaint::most_width) paint_with(std::optional<LetterPaint>(), piece.pixels);
    else paint_with(std::optional<Paint>());
}

}  // namespace hitchwright
