#include "gui/part_copy.h"

#include <GLFW/glfw3.h>

namespace hitchwright {
namespace {

/// A function of GLX, whose headers stay out: of it this needs four functions, on X11 alone.
template <class Function>
Function find_function(const char* name) {
    return reinterpret_cast<Function>(glfwGetProcAddress(name));
}

bool draws_by_processor() {
    constexpr int glx_renderer_accelerated = 0x8186;
    const auto query = find_function<int (*)(int, unsigned*)>("glXQueryCurrentRendererIntegerMESA");
    unsigned accelerated = 1;
    return query != nullptr && query(glx_renderer_accelerated, &accelerated) != 0 && accelerated == 0;
}

}  // namespace

std::optional<PartCopy> PartCopy::find() {
    for (const char* extension : {"GLX_MESA_copy_sub_buffer", "GLX_MESA_query_renderer"})
        if (glfwExtensionSupported(extension) != GLFW_TRUE) return std::nullopt;
    const auto display = find_function<void* (*)()>("glXGetCurrentDisplay");
    const auto drawable = find_function<unsigned long (*)()>("glXGetCurrentDrawable");
    PartCopy found;
    found.copy_ = find_function<Copy>("glXCopySubBufferMESA");
    if (display == nullptr || drawable == nullptr || found.copy_ == nullptr || !draws_by_processor()) return std::nullopt;
    found.display_ = display();
    found.drawable_ = drawable();
    if (found.display_ == nullptr || found.drawable_ == 0) return std::nullopt;
    return found;
}

void PartCopy::copy(const PixelBox& part, int height) const {
    copy_(display_, drawable_, part.left, height - part.bottom, part.right - part.left, part.bottom - part.top);
}

}  // namespace hitchwright
