#include "gui/fonts.h"

#include <array>
#include <cfloat>
#include <filesystem>
#include <string>
#include <system_error>

#include "report/text_clean.h"

namespace hitchwright {
namespace {

constexpr float regular_em = 13.0F, large_em = 19.0F;
constexpr float small_face_mm = 2.6F;
constexpr double large_from_mm = 3.6;
/// Dear ImGui sizes a font by its line, DejaVu's line is this many ems.
constexpr float line_per_em = 1.164F;

constexpr std::array<const char*, 4> font_folders = {"/usr/share/fonts/truetype/dejavu/", "/usr/share/fonts/dejavu/",
                                                     "/usr/share/fonts/dejavu-sans-fonts/", "/usr/share/fonts/TTF/"};

/// Latin, Greek, Cyrillic, signs of punctuation, fractions, and the mark for what could not be read.
constexpr std::array<ImWchar, 13> letters = {0x0020, 0x024F, 0x0370, 0x052F, 0x2010, 0x203A, 0x2044,
                                             0x2044, 0x2150, 0x215F, 0xFFFD, 0xFFFD, 0};

std::string find_font(const std::string& file) {
    for (const char* folder : font_folders) {
        std::error_code ignored;
        if (std::filesystem::is_regular_file(folder + file, ignored)) return folder + file;
    }
    return {};
}

ScreenFont add_font(const char* file, float em) {
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    const std::string path = find_font(file);
    if (!path.empty()) {
        if (ImFont* font = atlas.AddFontFromFileTTF(path.c_str(), em * line_per_em, nullptr, letters.data()))
            return {font, em};
    }
    ImFontConfig config;
    config.SizePixels = em;
    return {atlas.AddFontDefault(&config), em};
}

}  // namespace

const ScreenFont& Fonts::face(TextFace face) const {
    if (face.size_mm >= large_from_mm) return large;
    return face.bold ? bold : regular;
}

Fonts load_fonts(float scale) {
    Fonts fonts;
    fonts.regular = add_font("DejaVuSans.ttf", regular_em * scale);
    fonts.bold = add_font("DejaVuSans-Bold.ttf", regular_em * scale);
    fonts.large = add_font("DejaVuSans-Bold.ttf", large_em * scale);
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
