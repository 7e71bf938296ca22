// Frames of Dear ImGui put together by hand, for tests.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <memory>

#include <imgui.h>

#include "gui/pixel_painter.h"

namespace hitchwright::test {

/// A frame put together by hand.
class HandFrame {
public:
    static constexpr int width = 200, height = 90;  ///< no whole number of tiles

    HandFrame() {
        list_ = std::make_unique<ImDrawList>(nullptr);
        pointer_ = list_.get();
        data_.DisplaySize = {width, height};
        data_.FramebufferScale = {1.0F, 1.0F};
        data_.CmdListsCount = 1;
        data_.CmdLists = &pointer_;
    }
    HandFrame(const HandFrame&) = delete;
    HandFrame& operator=(const HandFrame&) = delete;

    struct Shape {
        ImVec2 a, b, c;
        ImU32 colour = 0xFF0000FFU;
        ImVec4 clip = {0.0F, 0.0F, width, height};
        float u = 0.5F;
        std::uintptr_t texture = 1;
    };
    HandFrame& add(const Shape& s) {
        for (const ImVec2 at : {s.a, s.b, s.c}) {
            list_->IdxBuffer.push_back(static_cast<ImDrawIdx>(list_->VtxBuffer.Size));
            list_->VtxBuffer.push_back({at, {s.u, 0.5F}, s.colour});
        }
        ImDrawCmd command;
        command.ClipRect = s.clip;
        command.TextureId = reinterpret_cast<ImTextureID>(s.texture);
        command.IdxOffset = static_cast<unsigned>(list_->IdxBuffer.Size - 3);
        command.ElemCount = 3;
        list_->CmdBuffer.push_back(command);
        return *this;
    }
    /// An upright rectangle with its part of the texture.
    struct Box {
        ImVec2 least, most;
        ImU32 colour = 0xFF0000FFU;
        ImVec2 uv_least = {0.5F, 0.5F}, uv_most = {0.5F, 0.5F};
        ImVec4 clip = {0.0F, 0.0F, width, height};
    };
    /// As Dear ImGui draws letters and boxes: four corners, six indices.
    HandFrame& add(const Box& b) {
        const int first = list_->VtxBuffer.Size;
        list_->VtxBuffer.push_back({b.least, b.uv_least, b.colour});
        list_->VtxBuffer.push_back({{b.most.x, b.least.y}, {b.uv_most.x, b.uv_least.y}, b.colour});
        list_->VtxBuffer.push_back({b.most, b.uv_most, b.colour});
        list_->VtxBuffer.push_back({{b.least.x, b.most.y}, {b.uv_least.x, b.uv_most.y}, b.colour});
        for (const int n : {0, 1, 2, 0, 2, 3}) list_->IdxBuffer.push_back(static_cast<ImDrawIdx>(first + n));
        add_command(b.clip, 6);
        return *this;
    }
    /// The same as two triangles that nobody takes for a rectangle: the second one is drawn from another corner.
    HandFrame& add_halves(const Box& b) {
        add(b);
        ImDrawIdx* const last = list_->IdxBuffer.Data + list_->IdxBuffer.Size - 3;
        std::rotate(last, last + 1, last + 3);
        return *this;
    }
    ImDrawData& data() { return data_; }
    /// Of the triangles added, three to each.
    ImDrawVert& corner(int n) { return list_->VtxBuffer[n]; }

private:
    void add_command(ImVec4 clip, unsigned indices) {
        ImDrawCmd command;
        command.ClipRect = clip;
        command.TextureId = reinterpret_cast<ImTextureID>(std::uintptr_t{1});
        command.IdxOffset = static_cast<unsigned>(list_->IdxBuffer.Size) - indices;
        command.ElemCount = indices;
        list_->CmdBuffer.push_back(command);
    }

    std::unique_ptr<ImDrawList> list_;
    ImDrawList* pointer_ = nullptr;
    ImDrawData data_;
};

/// A texture that covers all.
class Spot {
public:
    CoverTexture texture() const { return {pixels_.data(), 2, 2}; }

private:
    std::array<std::uint8_t, 4> pixels_{255, 255, 255, 255};
};

}  // namespace hitchwright::test
