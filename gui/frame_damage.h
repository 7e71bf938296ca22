// Where a frame differs from the one before, so that no more than that is drawn again.
//
// Method: every tile of the picture has a fingerprint of 64 bits of all triangles that may touch it: corners, colours,
// places in the texture, clip rectangle and texture, in the order in which they are drawn; one of each half of them, so that two threads
// can look. Tiles with another fingerprint are damaged; runs of them are joined to boxes. What is drawn later over the same tile,
// earlier, or no more, is seen as well. That a change is missed has a chance of 2^-64 a tile. What a texture shows is not looked at:
// who changes it calls `forget`.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "gui/frame_piece.h"

namespace hitchwright {

/// True where triangles are all there is to a frame, in pixels: no call of foreign code, no scale, no place of its own.
bool is_plain(const ImDrawData& frame);

class FrameDamage {
public:
    /// Boxes of whole tiles, none over another, that hold every pixel that can differ from the frame compared last. All of
    /// the picture for the first frame, after `forget`, at another size, and where the frame is not plain.
    /// With `threads` above one a second one looks at half of what is much: the boxes are the same.
    const std::vector<PixelBox>& compare(const ImDrawData& frame, int threads = 1);

    /// The next frame is new everywhere.
    void forget() { last_ = {}; }

private:
    using Fingerprints = std::vector<std::uint64_t>;  ///< of tiles, row by row; none: nothing to compare with

    void take_fingerprints(const ImDrawData& frame, int threads);
    void take_fingerprints(const ImDrawData& frame, FrameLists lists, Fingerprints& tiles) const;
    void find_runs();

    TileGrid grid_;
    int half_ = 0;                            ///< lists before this one have the first fingerprints, those from it on the second
    std::array<Fingerprints, 2> tiles_, last_;
    std::vector<PixelBox> boxes_;             ///< tiles while they are joined, then pixels
};

}  // namespace hitchwright
