// Parts of a frame as a frame of their own: what touches them, cut to them, over a ground that wipes out what was there.
//
// Drawn over the frame before it gives the same pixels as the whole frame: a triangle is coloured alike wherever it is cut.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "gui/tile_grid.h"

namespace hitchwright {

/// One colour without a hole in it, through a texture's white spot.
struct Ground {
    ImU32 colour = 0;
    ImTextureID texture = {};
    ImVec2 white;  ///< place in the texture
};

class FramePart {
public:
    /// The parts: boxes of whole tiles, none over another. The result holds until the next call, as long as this lives.
    ImDrawData& take(const ImDrawData& frame, const std::vector<PixelBox>& parts, const Ground& ground);

private:
    /// Triangles in a row that are cut alike.
    struct Run {
        PixelBox clip;
        ImTextureID texture = {};
        std::size_t corners = 0;
    };
    struct Part {
        PixelBox box;
        std::vector<Run> runs;
        std::vector<std::size_t> corners;  ///< three to a triangle, counted through all lists of the frame
        unsigned taken = 0;                ///< the triangle taken last
    };

    void share_out(const std::vector<PixelBox>& parts);
    void gather(const ImDrawList& list, const ImDrawCmd& command, std::size_t first_corner);
    static bool wants_run(const Part& part, ImTextureID texture, const PixelBox& triangle, const PixelBox& clip);
    void add_ground(const Part& part, const Ground& ground);
    void add_runs(const Part& part);
    void close_command(const PixelBox& clip, ImTextureID texture);
    void need_room();
    void start_list();

    TileGrid grid_;
    std::vector<Part> parts_;
    std::vector<int> owners_;               ///< of each tile: the part it belongs to; -1: none
    std::vector<const ImDrawVert*> corners_;  ///< of all lists of the frame
    std::vector<int> places_;               ///< of each of them in the list being made; -1: none
    unsigned triangle_ = 0;                 ///< counted from 1
    std::vector<std::unique_ptr<ImDrawList>> lists_;
    std::vector<ImDrawList*> used_;
    ImDrawData data_;
};

}  // namespace hitchwright
