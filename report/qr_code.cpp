// See qr_code.h. The library is looked up at the first code, as Cairo is (cairo_library.h): few commands make one.
#include "report/qr_code.h"

#if !defined(HITCHWRIGHT_QRENCODE_LINKED)
#include <dlfcn.h>
#endif
#include <qrencode.h>

#include <algorithm>
#include <memory>
#include <string>

namespace hitchwright {
namespace {

constexpr int quiet_squares = 4;  // ISO/IEC 18004: quiet zone of a QR code

struct QrLibrary {
    decltype(&::QRcode_encodeString) encode_string = nullptr;
    decltype(&::QRcode_free) free = nullptr;
};

#if defined(HITCHWRIGHT_QRENCODE_LINKED)
constexpr const char* library_file = "libqrencode";
QrLibrary load() { return {&QRcode_encodeString, &QRcode_free}; }
#else
constexpr const char* library_file = "libqrencode.so.4";

QrLibrary load() {
    void* const file = dlopen(library_file, RTLD_LAZY | RTLD_LOCAL);
    if (file == nullptr) return {};
    return {reinterpret_cast<decltype(&::QRcode_encodeString)>(dlsym(file, "QRcode_encodeString")),
            reinterpret_cast<decltype(&::QRcode_free)>(dlsym(file, "QRcode_free"))};
}
#endif

const QrLibrary& library() {
    static const QrLibrary loaded = load();
    return loaded;
}

bool has_library() { return library().encode_string != nullptr && library().free != nullptr; }

struct FreeCode {
    void operator()(QRcode* code) const { library().free(code); }
};
using EncodedCode = std::unique_ptr<QRcode, FreeCode>;

/// Digits, capitals and " $%*+-./:" take 5.5 bits each instead of 8: the library chooses by itself.
EncodedCode encode(const std::string& text, QRecLevel level) {
    return EncodedCode(library().encode_string(text.c_str(), 0, level, QR_MODE_8, 1));
}

}  // namespace

std::string find_qr_problem() {
    return has_library() ? std::string() : std::string("the library ") + library_file + " is not there, or too old";
}

std::optional<QrCode> make_qr_code(std::string_view text) {
    const std::string whole(text);
    if (!has_library() || whole.empty() || whole.find('\0') != std::string::npos) return std::nullopt;
    EncodedCode encoded = encode(whole, QR_ECLEVEL_M);
    if (!encoded) encoded = encode(whole, QR_ECLEVEL_L);
    if (!encoded) return std::nullopt;
    QrCode code;
    code.size = encoded->width;
    const int count = code.size * code.size;
    for (int i = 0; i < count; ++i) code.dark.push_back((encoded->data[i] & 1U) != 0);
    return code;
}

std::vector<PageShape> place_qr_code(const QrCode& code, const PageRect& area) {
    const double side = std::min(area.width(), area.height()) / (code.size + 2 * quiet_squares);
    const double left = area.left + quiet_squares * side, top = area.top + quiet_squares * side;
    std::vector<PageShape> shapes;
    for (int row = 0; row < code.size; ++row) {
        for (int from = 0; from < code.size; ++from) {
            if (!code.at(from, row)) continue;
            int to = from;
            while (to < code.size && code.at(to, row)) ++to;
            const PageRect r{left + from * side, top + row * side, left + to * side, top + (row + 1) * side};
            shapes.push_back(
                {Role::code, PagePart::normal,
                 PagePath{{{r.left, r.top}, {r.right, r.top}, {r.right, r.bottom}, {r.left, r.bottom}}, true}});
            from = to;
        }
    }
    return shapes;
}

}  // namespace hitchwright
