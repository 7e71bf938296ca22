// Frames of Dear ImGui painted by the processor into pixels in memory: for screens where the processor draws in any case.
//
// A driver that does what a graphics card does takes some 100 ns for each 16 pixels of each triangle (llvmpipe). Here all is known
// beforehand: triangles without depth, over each other in their order, coloured by their corners and by one texture that holds no
// colour but how much of a pixel is covered. A pixel depends on nothing but the triangles, so that parts painted alone are
// those of the whole.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "gui/frame_piece.h"

namespace hitchwright {

/// How much of each pixel letters and lines cover, 0 to 255, row by row; at least two by two.
struct CoverTexture {
    const std::uint8_t* pixels = nullptr;
    int width = 0, height = 0;
};

class PixelPainter {
public:
    /// Paints parts of a plain frame (frame_damage.h) on a ground without a hole in it, over the frame painted before, which was of
    /// the same size, or where all of it is one part. Parts: boxes of whole tiles, none over another. With `threads` above one a second
    /// one looks through half of what is much and paints the lower half of it: the pixels are the same.
    void paint(const ImDrawData& frame, const std::vector<PixelBox>& parts, ImU32 ground, const CoverTexture& letters, int threads = 1);

    /// Of the size of the frame painted last; row by row from the top, blue in the lowest byte, then green and red, all opaque.
    const std::vector<std::uint32_t>& pixels() const { return pixels_; }

private:
    struct Span {
        int left = 0, right = 0;
    };

    /// What reaches into the parts that are painted, and its pixels: of a triangle those it may touch, of a rectangle those it covers.
    struct Piece {
        FramePiece shape;
        PixelBox pixels;
    };
    /// Rows of tiles, the last not counted.
    struct Rows {
        int first = 0, end = 0;
    };

    /// Of half of the lists.
    struct Half {
        std::vector<Piece> pieces;  ///< in the order they lie over each other
        std::vector<long> work;     ///< of each row of tiles: what painting it takes, in pixels
    };

    void share_out(const std::vector<PixelBox>& parts);
    void collect(const ImDrawData& frame, int threads);
    void collect(const ImDrawData& frame, FrameLists lists, Half& half) const;
    bool weigh(const Piece& piece, std::vector<long>& work) const;
    int find_middle() const;
    void paint_rows(Rows rows, std::uint32_t ground, const CoverTexture& letters);
    void paint_triangle(const Piece& piece, Rows rows, const CoverTexture& letters);
    void paint_rectangle(const Piece& piece, Rows rows, const CoverTexture& letters);
    template <class Fill>
    void visit_rows(const PixelBox& pixels, Rows rows, const Fill& fill);

    TileGrid grid_;
    std::vector<std::vector<Span>> spans_;  ///< of each row of tiles: pixels that are painted
    std::array<Half, 2> halves_;            ///< the second lies over the first
    std::vector<std::uint32_t> pixels_;
};

}  // namespace hitchwright
