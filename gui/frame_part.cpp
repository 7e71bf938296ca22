#include "gui/frame_part.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace hitchwright {
namespace {

ImVec4 clip_of(const PixelBox& box) {
    return {static_cast<float>(box.left), static_cast<float>(box.top), static_cast<float>(box.right), static_cast<float>(box.bottom)};
}

/// Of a list, less those of one ground or triangle: indices have 16 bits.
constexpr int most_corners = std::numeric_limits<ImDrawIdx>::max() - 4;

}  // namespace

ImDrawData& FramePart::take(const ImDrawData& frame, const std::vector<PixelBox>& parts, const Ground& ground) {
    grid_ = {static_cast<int>(frame.DisplaySize.x), static_cast<int>(frame.DisplaySize.y)};
    share_out(parts);
    corners_.clear();
    for (int n = 0; n < frame.CmdListsCount; ++n) {
        const ImDrawList& list = *frame.CmdLists[n];
        const std::size_t first = corners_.size();
        for (const ImDrawVert& corner : list.VtxBuffer) corners_.push_back(&corner);
        for (const ImDrawCmd& command : list.CmdBuffer) gather(list, command, first);
    }
    used_.clear();
    if (!parts_.empty()) start_list();
    for (const Part& part : parts_) {
        add_ground(part, ground);
        add_runs(part);
    }
    data_ = frame;
    data_.TotalIdxCount = data_.TotalVtxCount = 0;
    for (const ImDrawList* list : used_) {
        data_.TotalIdxCount += list->IdxBuffer.Size;
        data_.TotalVtxCount += list->VtxBuffer.Size;
    }
    data_.CmdListsCount = static_cast<int>(used_.size());
    data_.CmdLists = used_.data();
    return data_;
}

void FramePart::share_out(const std::vector<PixelBox>& parts) {
    const int columns = grid_.columns();
    owners_.assign(static_cast<std::size_t>(columns) * static_cast<std::size_t>(grid_.rows()), -1);
    parts_.resize(parts.size());
    for (std::size_t n = 0; n < parts.size(); ++n) {
        parts_[n].box = parts[n];
        parts_[n].runs.clear();
        parts_[n].corners.clear();
        parts_[n].taken = 0;
        const PixelBox tiles = grid_.tiles_of(parts[n]);
        for (int row = tiles.top; row < tiles.bottom; ++row)
            std::fill_n(owners_.begin() + row * columns + tiles.left, tiles.right - tiles.left, static_cast<int>(n));
    }
    triangle_ = 0;
}

void FramePart::gather(const ImDrawList& list, const ImDrawCmd& command, std::size_t first_corner) {
    const PixelBox clip = find_clip(command, grid_);
    if (clip.empty() || parts_.empty()) return;
    for (unsigned n = 0; n < command.ElemCount / 3; ++n) {
        ++triangle_;
        const PixelBox unclipped = find_pixels(triangle_of(list, command, n), grid_.picture());
        const PixelBox pixels = common(unclipped, clip);
        if (pixels.empty()) continue;
        const ImDrawIdx* const index = list.IdxBuffer.Data + command.IdxOffset + std::size_t{3} * n;
        const std::size_t first = first_corner + command.VtxOffset;
        const PixelBox tiles = grid_.tiles_of(pixels);
        for (int row = tiles.top; row < tiles.bottom; ++row) {
            const int* const owners = owners_.data() + row * grid_.columns();
            for (int column = tiles.left; column < tiles.right; ++column) {
                if (owners[column] < 0) continue;
                Part& part = parts_[static_cast<std::size_t>(owners[column])];
                if (std::exchange(part.taken, triangle_) == triangle_) continue;
                if (wants_run(part, command.GetTexID(), unclipped, clip))
                    part.runs.push_back({pixels == unclipped ? part.box : common(clip, part.box), command.GetTexID()});
                part.runs.back().corners += 3;
                for (int i = 0; i < 3; ++i) part.corners.push_back(first + index[i]);
            }
        }
    }
}

/// False where the last run cuts the triangle as its own clip rectangle does.
bool FramePart::wants_run(const Part& part, ImTextureID texture, const PixelBox& triangle, const PixelBox& clip) {
    if (part.runs.empty() || part.runs.back().texture != texture) return true;
    const PixelBox here = common(triangle, part.box);
    return common(here, part.runs.back().clip) != common(here, clip);
}

void FramePart::add_ground(const Part& part, const Ground& ground) {
    need_room();
    ImDrawList& list = *used_.back();
    const ImVec4 p = clip_of(part.box);
    const int first = list.VtxBuffer.Size;
    for (const ImVec2 at : {ImVec2(p.x, p.y), ImVec2(p.z, p.y), ImVec2(p.z, p.w), ImVec2(p.x, p.w)})
        list.VtxBuffer.push_back({at, ground.white, ground.colour});
    for (const int i : {0, 1, 2, 0, 2, 3}) list.IdxBuffer.push_back(static_cast<ImDrawIdx>(first + i));
    close_command(part.box, ground.texture);
}

void FramePart::add_runs(const Part& part) {
    auto corner = part.corners.begin();
    for (const Run& run : part.runs) {
        for (std::size_t i = 0; i < run.corners; ++i, ++corner) {
            if (i % 3 == 0 && used_.back()->VtxBuffer.Size > most_corners) {
                close_command(run.clip, run.texture);
                need_room();
            }
            ImDrawList& list = *used_.back();
            int& place = places_[*corner];
            if (place < 0) {
                place = list.VtxBuffer.Size;
                list.VtxBuffer.push_back(*corners_[*corner]);
            }
            list.IdxBuffer.push_back(static_cast<ImDrawIdx>(place));
        }
        close_command(run.clip, run.texture);
    }
}

/// The indices since the last command become one; one cut as the last was is part of it.
void FramePart::close_command(const PixelBox& clip, ImTextureID texture) {
    ImDrawList& list = *used_.back();
    const unsigned first = list.CmdBuffer.empty() ? 0 : list.CmdBuffer.back().IdxOffset + list.CmdBuffer.back().ElemCount;
    const auto count = static_cast<unsigned>(list.IdxBuffer.Size) - first;
    if (count == 0) return;
    const ImVec4 c = clip_of(clip);
    if (!list.CmdBuffer.empty()) {
        ImDrawCmd& last = list.CmdBuffer.back();
        const ImVec4 l = last.ClipRect;
        if (last.GetTexID() == texture && l.x == c.x && l.y == c.y && l.z == c.z && l.w == c.w) {
            last.ElemCount += count;
            return;
        }
    }
    ImDrawCmd command;
    command.ClipRect = c;
    command.TextureId = texture;
    command.IdxOffset = first;
    command.ElemCount = count;
    list.CmdBuffer.push_back(command);
}

void FramePart::need_room() {
    if (used_.back()->VtxBuffer.Size > most_corners) start_list();
}

void FramePart::start_list() {
    if (used_.size() == lists_.size()) lists_.push_back(std::make_unique<ImDrawList>(nullptr));
    ImDrawList& list = *lists_[used_.size()];
    list.CmdBuffer.resize(0);
    list.IdxBuffer.resize(0);
    list.VtxBuffer.resize(0);
    used_.push_back(&list);
    places_.assign(corners_.size(), -1);
}

}  // namespace hitchwright
