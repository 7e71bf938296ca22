// Frames of Dear ImGui put together by hand, for tests.
#pragma once

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
    ImDrawData& data() { return data_; }
    /// Of the triangles added, three to each.
    ImDrawVert& corner(int n) { return list_->VtxBuffer[n]; }

private:
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
