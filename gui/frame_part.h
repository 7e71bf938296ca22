// Parts of a frame as a frame of their own: what touches them, cut to them, over a ground that wipes out what was there.
//
// Drawn over the frame before it gives the same pixels as the whole frame: a triangle is coloured alike wherever it is cut.
#pragma once

#include <cstdint>
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
    void share_out(const std::vector<PixelBox>& parts);
    void add_ground(const Ground& ground);
    void take_list(const ImDrawList& list);
    void take_command(const ImDrawList& list, const ImDrawCmd& command);
    void take_triangle(const ImDrawList& list, const ImDrawCmd& command, unsigned n, const PixelBox& tiles);
    ImDrawIdx take_corner(const ImDrawVert& corner, std::size_t place);
    ImDrawList& next_list();

    TileGrid grid_;
    std::vector<PixelBox> parts_;
    std::vector<int> owners_;                     ///< of each tile: the part it belongs to; -1: none
    std::vector<std::vector<ImDrawIdx>> indices_;  ///< of the command being taken, for each part
    std::vector<unsigned> taken_;                 ///< for each part: the triangle it took last, counted from 1
    std::vector<int> corners_;                    ///< of each corner of the list being taken: its new place; -1: none
    unsigned triangle_ = 0;
    std::vector<std::unique_ptr<ImDrawList>> lists_;
    std::vector<ImDrawList*> used_;
    ImDrawData data_;
};

}  // namespace hitchwright
