// See qr_code.h.
#include "report/qr_code.h"

#include <qrencode.h>

#include <algorithm>
#include <memory>
#include <string>

namespace hitchwright {
namespace {

constexpr int quiet_squares = 4;  // ISO/IEC 18004: quiet zone of a QR code

struct FreeCode {
    void operator()(QRcode* code) const { QRcode_free(code); }
};
using EncodedCode = std::unique_ptr<QRcode, FreeCode>;

/// Digits, capitals and " $%*+-./:" take 5.5 bits each instead of 8: the library chooses by itself.
EncodedCode encode(const std::string& text, QRecLevel level) {
    return EncodedCode(QRcode_encodeString(text.c_str(), 0, level, QR_MODE_8, 1));
}

}  // namespace

std::optional<QrCode> make_qr_code(std::string_view text) {
    const std::string whole(text);
    if (whole.empty() || whole.find('\0') != std::string::npos) return std::nullopt;
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
