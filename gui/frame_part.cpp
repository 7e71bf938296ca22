#include "gui/frame_part.h"

#include <algorithm>
#include <utility>

namespace hitchwright {
namespace {

ImVec4 clip_of(const PixelBox& box) {
    return {static_cast<float>(box.left), static_cast<float>(box.top), static_cast<float>(box.right), static_cast<float>(box.bottom)};
}

/// The next triangles of a list, with the indices from `first` on.
void add_command(ImDrawList& list, const PixelBox& clip, ImTextureID texture, int first) {
    ImDrawCmd command;
    command.ClipRect = clip_of(clip);
    command.TextureId = texture;
    command.IdxOffset = static_cast<unsigned>(first);
    command.ElemCount = static_cast<unsigned>(list.IdxBuffer.Size - first);
    list.CmdBuffer.push_back(command);
}

}  // namespace

ImDrawData& FramePart::take(const ImDrawData& frame, const std::vector<PixelBox>& parts, const Ground& ground) {
    grid_ = {static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)};
    used_.clear();
    data_ = frame;
    data_.TotalIdxCount = data_.TotalVtxCount = 0;
    if (!parts.empty()) {
        share_out(parts);
        add_ground(ground);
        for (int n = 0; n < frame.CmdListsCount; ++n) take_list(*frame.CmdLists[n]);
    }
    std::erase_if(used_, [](const ImDrawList* list) { return list->CmdBuffer.empty(); });
    for (const ImDrawList* list : used_) {
        data_.TotalIdxCount += list->IdxBuffer.Size;
        data_.TotalVtxCount += list->VtxBuffer.Size;
    }
    data_.CmdListsCount = static_cast<int>(used_.size());
    data_.CmdLists = used_.data();
    return data_;
}

void FramePart::share_out(const std::vector<PixelBox>& parts) {
    parts_ = parts;
    const int columns = grid_.columns();
    owners_.assign(static_cast<std::size_t>(columns) * static_cast<std::size_t>(grid_.rows()), -1);
    for (std::size_t part = 0; part < parts.size(); ++part) {
        const PixelBox tiles = grid_.tiles_of(parts[part]);
        for (int row = tiles.top; row < tiles.bottom; ++row)
            std::fill_n(owners_.begin() + row * columns + tiles.left, tiles.right - tiles.left, static_cast<int>(part));
    }
    indices_.resize(std::max(indices_.size(), parts.size()));
    taken_.assign(parts.size(), 0);
    triangle_ = 0;
}

void FramePart::add_ground(const Ground& ground) {
    ImDrawList& list = next_list();
    for (const PixelBox& part : parts_) {
        const ImVec4 p = clip_of(part);
        const auto corner = static_cast<ImDrawIdx>(list.VtxBuffer.Size);
        const int first = list.IdxBuffer.Size;
        for (const ImVec2 at : {ImVec2(p.x, p.y), ImVec2(p.z, p.y), ImVec2(p.z, p.w), ImVec2(p.x, p.w)})
            list.VtxBuffer.push_back({at, ground.white, ground.colour});
        for (const int i : {0, 1, 2, 0, 2, 3}) list.IdxBuffer.push_back(static_cast<ImDrawIdx>(corner + i));
        add_command(list, part, ground.texture, first);
    }
}

/// A list's corners keep their order and lose some, so that its indices stay in the range of one list.
void FramePart::take_list(const ImDrawList& list) {
    corners_.assign(static_cast<std::size_t>(list.VtxBuffer.Size), -1);
    bool begun = false;
    unsigned offset = 0;
    for (const ImDrawCmd& command : list.CmdBuffer) {
        // Indices start anew at another offset: a list of its own.
        if (!begun || command.VtxOffset != std::exchange(offset, command.VtxOffset)) {
            next_list();
            begun = true;
            std::fill(corners_.begin(), corners_.end(), -1);
        }
        take_command(list, command);
    }
}

void FramePart::take_command(const ImDrawList& list, const ImDrawCmd& command) {
    const PixelBox clip = find_clip(command, grid_);
    if (clip.empty()) return;
    for (unsigned n = 0; n < command.ElemCount / 3; ++n) {
        const PixelBox pixels = find_pixels(triangle_of(list, command, n), clip);
        if (!pixels.empty()) take_triangle(list, command, n, grid_.tiles_of(pixels));
    }
    ImDrawList& into = *used_.back();
    for (std::size_t part = 0; part < parts_.size(); ++part) {
        std::vector<ImDrawIdx>& indices = indices_[part];
        if (indices.empty()) continue;
        const int first = into.IdxBuffer.Size;
        into.IdxBuffer.resize(first + static_cast<int>(indices.size()));
        std::copy(indices.begin(), indices.end(), into.IdxBuffer.Data + first);
        add_command(into, common(clip, parts_[part]), command.GetTexID(), first);
        indices.clear();
    }
}

void FramePart::take_triangle(const ImDrawList& list, const ImDrawCmd& command, unsigned n, const PixelBox& tiles) {
    ++triangle_;
    const ImDrawIdx* const index = list.IdxBuffer.Data + command.IdxOffset + std::size_t{3} * n;
    for (int row = tiles.top; row < tiles.bottom; ++row) {
        const int* const owners = owners_.data() + row * grid_.columns();
        for (int column = tiles.left; column < tiles.right; ++column) {
            if (owners[column] < 0) continue;
            const auto part = static_cast<std::size_t>(owners[column]);
            if (std::exchange(taken_[part], triangle_) == triangle_) continue;
            for (int i = 0; i < 3; ++i) {
                const std::size_t place = command.VtxOffset + index[i];
                indices_[part].push_back(take_corner(list.VtxBuffer.Data[place], place));
            }
        }
    }
}

ImDrawIdx FramePart::take_corner(const ImDrawVert& corner, std::size_t place) {
    ImVector<ImDrawVert>& into = used_.back()->VtxBuffer;
    if (corners_[place] < 0) {
        corners_[place] = into.Size;
        into.push_back(corner);
    }
    return static_cast<ImDrawIdx>(corners_[place]);
}

ImDrawList& FramePart::next_list() {
    if (used_.size() == lists_.size()) lists_.push_back(std::make_unique<ImDrawList>(nullptr));
    ImDrawList& list = *lists_[used_.size()];
    list.CmdBuffer.resize(0);
    list.IdxBuffer.resize(0);
    list.VtxBuffer.resize(0);
    used_.push_back(&list);
    return list;
}

}  // namespace hitchwright
