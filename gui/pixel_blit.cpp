#include "gui/pixel_blit.h"

#include <cstddef>
#include <utility>

#include <GLFW/glfw3.h>

namespace hitchwright {
namespace {

// Of OpenGL 1.2 and 3.0, which the header of 1.1 does not name.
constexpr unsigned gl_bgra = 0x80E1, gl_bytes_of_a_word = 0x8367, gl_read_framebuffer = 0x8CA8, gl_colour_attachment = 0x8CE0;

}  // namespace

std::optional<PixelBlit> PixelBlit::find() {
    PixelBlit found;
    found.generate_ = reinterpret_cast<Generate>(glfwGetProcAddress("glGenFramebuffers"));
    found.bind_ = reinterpret_cast<Bind>(glfwGetProcAddress("glBindFramebuffer"));
    found.attach_ = reinterpret_cast<Attach>(glfwGetProcAddress("glFramebufferTexture2D"));
    found.blit_ = reinterpret_cast<Blit>(glfwGetProcAddress("glBlitFramebuffer"));
    if (found.generate_ == nullptr || found.bind_ == nullptr || found.attach_ == nullptr || found.blit_ == nullptr) return std::nullopt;
    return found;
}

void PixelBlit::fit(const TileGrid& picture) {
    if (texture_ == 0) {
        glGenTextures(1, &texture_);
        generate_(1, &framebuffer_);
    }
    glBindTexture(GL_TEXTURE_2D, texture_);
    if (std::exchange(size_, picture) == picture) return;
    // A format without a size leaves the driver to take the one of the pixels.
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, picture.width, picture.height, 0, gl_bgra, gl_bytes_of_a_word, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    bind_(gl_read_framebuffer, framebuffer_);
    attach_(gl_read_framebuffer, gl_colour_attachment, GL_TEXTURE_2D, texture_, 0);
}

void PixelBlit::put(const std::vector<std::uint32_t>& pixels, const TileGrid& picture, const std::vector<PixelBox>& parts) {
    fit(picture);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, picture.width);
    for (const PixelBox& p : parts)
        glTexSubImage2D(GL_TEXTURE_2D, 0, p.left, p.top, p.right - p.left, p.bottom - p.top, gl_bgra, gl_bytes_of_a_word,
                        pixels.data() + static_cast<std::ptrdiff_t>(p.top) * picture.width + p.left);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
    glBindTexture(GL_TEXTURE_2D, 0);
    bind_(gl_read_framebuffer, framebuffer_);
    // The texture's first row is the picture's uppermost; OpenGL counts from below.
    for (const PixelBox& p : parts)
        blit_(p.left, p.top, p.right, p.bottom, p.left, picture.height - p.top, p.right, picture.height - p.bottom, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    bind_(gl_read_framebuffer, 0);
}

}  // namespace hitchwright
