// See cairo_library.h.
#include "report/cairo_library.h"

#if !defined(HITCHWRIGHT_CAIRO_LINKED)
#include <dlfcn.h>
#endif

#include <optional>

namespace hitchwright {
namespace {

#if defined(HITCHWRIGHT_CAIRO_LINKED)
std::optional<CairoLibrary> load() {
    CairoLibrary library;
#define HITCHWRIGHT_CAIRO_TAKE(name) library.name = &::cairo_##name;
    HITCHWRIGHT_CAIRO_FUNCTIONS(HITCHWRIGHT_CAIRO_TAKE)
#undef HITCHWRIGHT_CAIRO_TAKE
    return library;
}
#else
template <class F>
bool take(void* file, const char* name, F& function) {
    function = reinterpret_cast<F>(dlsym(file, name));
    return function != nullptr;
}

std::optional<CairoLibrary> load() {
    void* const file = dlopen(cairo_file, RTLD_LAZY | RTLD_LOCAL);
    if (file == nullptr) return std::nullopt;
    CairoLibrary library;
    bool all = true;
#define HITCHWRIGHT_CAIRO_TAKE(name) all = take(file, "cairo_" #name, library.name) && all;
    HITCHWRIGHT_CAIRO_FUNCTIONS(HITCHWRIGHT_CAIRO_TAKE)
#undef HITCHWRIGHT_CAIRO_TAKE
    return all ? std::optional<CairoLibrary>(library) : std::nullopt;
}
#endif

}  // namespace

const CairoLibrary* find_cairo() {
    static const std::optional<CairoLibrary> library = load();
    return library ? &*library : nullptr;
}

}  // namespace hitchwright
