// What a command of Dear ImGui draws, piece by piece: triangles, and upright rectangles, as which letters and boxes come.
#pragma once

#include "geometry/do_both.h"
#include "gui/tile_grid.h"

namespace hitchwright {

/// A triangle, or two that follow each other and make an upright rectangle of one colour whose texture is upright too.
struct FramePiece {
    Triangle triangle;          ///< of a rectangle the first: upper left, upper right, lower right
    bool is_rectangle = false;
};

namespace detail {

/// True where corners in the order in which Dear ImGui has them, from the upper left to the right, are those of such a rectangle.
inline bool are_upright(const ImDrawVert& a, const ImDrawVert& b, const ImDrawVert& c, const ImDrawVert& d) {
    const auto same = [](ImVec2 p, float x, float y) { return p.x == x && p.y == y; };
    return same(b.pos, c.pos.x, a.pos.y) && same(d.pos, a.pos.x, c.pos.y) && a.pos.x < c.pos.x && a.pos.y < c.pos.y &&
           same(b.uv, c.uv.x, a.uv.y) && same(d.uv, a.uv.x, c.uv.y) && a.col == b.col && a.col == c.col && a.col == d.col;
}

}  // namespace detail

/// The lists of a frame before this one hold about half of its triangles. `before`: what was given for the frame before, which is kept as
/// long as neither half has more than three quarters, so that the same lists stay together.
inline int find_half(const ImDrawData& frame, int before) {
    long all = 0, first = 0;
    for (int n = 0; n < frame.CmdListsCount; ++n) {
        all += frame.CmdLists[n]->IdxBuffer.Size;
        if (n < before) first += frame.CmdLists[n]->IdxBuffer.Size;
    }
    if (all > 0 && 4 * first >= all && 4 * first <= 3 * all) return before;
    int half = 0;
    for (first = 0; half < frame.CmdListsCount && 2 * first + frame.CmdLists[half]->IdxBuffer.Size <= all; ++half) first += frame.CmdLists[half]->IdxBuffer.Size;
    return half;
}

/// Triangles of a frame from which on a second thread is quicker.
constexpr int least_triangles_for_two = 3000;

/// Lists of a frame, the last not counted.
struct FrameLists {
    int first = 0, end = 0;
};

/// Calls `take(lists, 0)` with the lists before `half` and `take(lists, 1)` with the others, on two threads where that is quicker.
template <class Take>
void take_halves(const ImDrawData& frame, int half, int threads, const Take& take) {
    do_both(frame.TotalIdxCount < 3 * least_triangles_for_two ? 1 : threads, [&] { take(FrameLists{0, half}, 0); },
            [&] { take(FrameLists{half, frame.CmdListsCount}, 1); });
}

/// Calls `visit` with each piece in the order in which they are drawn.
template <class Visit>
void visit_pieces(const ImDrawList& list, const ImDrawCmd& command, const Visit& visit) {
    const ImDrawIdx* const index = list.IdxBuffer.Data + command.IdxOffset;
    const ImDrawVert* const corners = list.VtxBuffer.Data + command.VtxOffset;
    const unsigned end = command.ElemCount - command.ElemCount % 3;
    for (unsigned i = 0; i < end; i += 3) {
        FramePiece piece{{corners + index[i], corners + index[i + 1], corners + index[i + 2]}};
        if (i + 3 < end && index[i + 3] == index[i] && index[i + 4] == index[i + 2]) {
            const auto& [a, b, c] = piece.triangle;
            piece.is_rectangle = detail::are_upright(*a, *b, *c, corners[index[i + 5]]);
            if (piece.is_rectangle) i += 3;
        }
        visit(piece);
    }
}

}  // namespace hitchwright
