#include "gui/fonts.h"

#include <array>
#include <cfloat>
#include <string>

#include "gui/embedded_fonts.h"
#include "report/text_clean.h"

namespace hitchwright {
namespace {

constexpr float regular_em = 13.0F, large_em = 19.0F;
constexpr float small_face_mm = 2.6F;
constexpr double large_from_mm = 3.6;
/// Dear ImGui sizes a font by its line, DejaVu's line is this many ems.
constexpr float line_per_em = 1.164F;

/// Latin, Greek, Cyrillic, signs of punctuation, fractions, and the mark for what could not be read.
constexpr std::array<ImWchar, 13> letters = {0x0020, 0x024F, 0x0370, 0x052F, 0x2010, 0x203A, 0x2044,
                                             0x2044, 0x2150, 0x215F, 0xFFFD, 0xFFFD, 0};

ScreenFont add_font(std::string_view file, float em) {
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    // Dear ImGui asks for a pointer to what it may not change unless it owns it.
    void* const bytes = const_cast<char*>(file.data());
    ImFont* const font = ImGui::GetIO().Fonts->AddFontFromMemoryTTF(bytes, static_cast<int>(file.size()), em * line_per_em, &config, letters.data());
    return {font, em};
}

}  // namespace

const ScreenFont& Fonts::face(TextFace face) const {
    if (face.size_mm >= large_from_mm) return large;
    return face.bold ? bold : regular;
}

Fonts load_fonts(float scale) {
    ImGui::GetIO().Fonts->Clear();
    Fonts fonts;
    fonts.scale = scale;
    fonts.regular = add_font(embedded_regular_font(), regular_em * scale);
    fonts.bold = add_font(embedded_bold_font(), regular_em * scale);
    fonts.large = add_font(embedded_bold_font(), large_em * scale);
    fonts.pixels_per_mm = regular_em * scale / small_face_mm;
    ImGui::GetIO().FontDefault = fonts.regular.font;
    ImGui::GetIO().Fonts->Build();
    return fonts;
}

double ScreenTextMeasure::width_mm(std::string_view text, TextFace face) const {
    const ScreenFont& f = fonts_.face(face);
    const std::string clean = clean_text(text);
    const float pixels = f.font->CalcTextSizeA(f.font->FontSize, FLT_MAX, 0.0F, clean.data(), clean.data() + clean.size()).x;
    return static_cast<double>(pixels / fonts_.pixels_per_mm);
}

}  // namespace hitchwright
