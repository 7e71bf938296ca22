#include "gui/frame_damage.h"

#include <bit>
#include <cstring>
#include <utility>

#include "gui/box_join.h"

namespace hitchwright {
namespace {

/// A step of the fingerprint. For either argument fixed it is one to one in the other, so that a single word that differs
/// always shows.
std::uint64_t mix(std::uint64_t so_far, std::uint64_t next) {
    constexpr std::uint64_t odd = 0x9E3779B97F4A7C15U;  // 2^64 over the golden ratio
    constexpr std::uint64_t other = 0xC2B2AE3D27D4EB4FU;
    const std::uint64_t a = (so_far ^ next) * odd;
    return std::rotl(a ^ (a >> 29U), 31) * other;
}

std::uint64_t pair_of(ImVec2 v) {
    std::uint64_t bits = 0;
    static_assert(sizeof bits == sizeof v);
    std::memcpy(&bits, &v, sizeof v);
    return bits;
}

std::uint64_t fingerprint_of(const ImDrawCmd& command) {
    std::uint64_t texture = 0;
    static_assert(sizeof texture >= sizeof(ImTextureID));
    ImTextureID id = command.GetTexID();
    std::memcpy(&texture, &id, sizeof id);
    const ImVec4 clip = command.ClipRect;
    return mix(mix(texture, pair_of({clip.x, clip.y})), pair_of({clip.z, clip.w}));
}

std::uint64_t fingerprint_of(const FramePiece& piece, std::uint64_t command) {
    const auto add = [&](const ImDrawVert& corner) { command = mix(mix(command, pair_of(corner.pos)), pair_of(corner.uv)); };
    if (piece.is_rectangle) {
        // Two corners and one colour say all of it.
        constexpr std::uint64_t rectangle = 1ULL << 32U;
        add(*piece.triangle[0]);
        add(*piece.triangle[2]);
        return mix(command, rectangle | piece.triangle[0]->col);
    }
    for (const ImDrawVert* corner : piece.triangle) {
        add(*corner);
        command = mix(command, corner->col);
    }
    return command;
}

/// To paint another box costs as much as this many tiles do (measured with llvmpipe).
constexpr int tiles_of_a_box = 2;

}  // namespace

bool is_plain(const ImDrawData& frame) {
    const auto equals = [](ImVec2 v, float value) { return v.x == value && v.y == value; };
    if (!equals(frame.DisplayPos, 0.0F) || !equals(frame.FramebufferScale, 1.0F)) return false;
    for (int n = 0; n < frame.CmdListsCount; ++n)
        for (const ImDrawCmd& command : frame.CmdLists[n]->CmdBuffer)
            if (command.UserCallback != nullptr) return false;
    return true;
}

const std::vector<PixelBox>& FrameDamage::compare(const ImDrawData& frame, int threads) {
    const TileGrid grid{static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)};
    const bool plain = is_plain(frame);
    if (grid != std::exchange(grid_, grid) || !plain) forget();
    if (plain) take_fingerprints(frame, threads);
    boxes_.clear();
    if (last_[0].empty()) {
        boxes_ = {grid_.picture()};
    } else {
        find_runs();
        join_boxes(boxes_, tiles_of_a_box);
        for (PixelBox& box : boxes_) box = grid_.pixels_of(box);
    }
    if (plain) std::swap(last_, tiles_);
    return boxes_;
}

void FrameDamage::take_fingerprints(const ImDrawData& frame, int threads) {
    half_ = find_half(frame, half_);
    take_halves(frame, half_, threads, [&](FrameLists lists, std::size_t half) { take_fingerprints(frame, lists, tiles_[half]); });
}

void FrameDamage::take_fingerprints(const ImDrawData& frame, FrameLists lists, Fingerprints& prints) const {
    const auto columns = static_cast<std::size_t>(grid_.columns());
    prints.assign(columns * static_cast<std::size_t>(grid_.rows()), 0);
    for (int n = lists.first; n < lists.end; ++n) {
        const ImDrawList& list = *frame.CmdLists[n];
        for (const ImDrawCmd& command : list.CmdBuffer) {
            const PixelBox clip = find_clip(command, grid_);
            if (clip.empty()) continue;
            const std::uint64_t of_command = fingerprint_of(command);
            visit_pieces(list, command, [&](const FramePiece& piece) {
                const PixelBox pixels = find_pixels(piece.triangle, clip);
                if (pixels.empty()) return;
                const std::uint64_t print = fingerprint_of(piece, of_command);
                const PixelBox box = grid_.tiles_of(pixels);
                for (int row = box.top; row < box.bottom; ++row) {
                    std::uint64_t* const tiles = prints.data() + static_cast<std::size_t>(row) * columns;
                    for (int column = box.left; column < box.right; ++column) tiles[column] = mix(tiles[column], print);
                }
            });
        }
    }
}

void FrameDamage::find_runs() {
    const int columns = grid_.columns();
    for (int row = 0; row < grid_.rows(); ++row) {
        const std::size_t first = static_cast<std::size_t>(row) * static_cast<std::size_t>(columns);
        const auto damaged = [&](int column) {
            const std::size_t i = first + static_cast<std::size_t>(column);
            return tiles_[0][i] != last_[0][i] || tiles_[1][i] != last_[1][i];
        };
        for (int column = 0; column < columns; ++column) {
            if (!damaged(column)) continue;
            const int left = column;
            while (column < columns && damaged(column)) ++column;
            boxes_.push_back({left, row, column, row + 1});
        }
    }
}

}  // namespace hitchwright
