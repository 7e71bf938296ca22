// One interface for the size of text, used by every layout, so that no layout knows which writer will draw it.
//
// BuiltInTextMeasure carries the advance widths of DejaVu Sans (regular and bold) for ASCII; the writers ask for that
// font first. Other characters get a fixed width on the wide side, so that a layout errs toward more room. Kerning is
// not modelled. cairo_writer.h has a second implementation that asks the installed font; a test compares the two.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// Share of the em kept free above and below the baseline (capitals and descenders of the common sans faces).
inline constexpr double text_ascent_share = 0.76;
inline constexpr double text_descent_share = 0.24;

/// Face of a text. Size is the em in mm on paper.
struct TextFace {
    double size_mm = 3.0;
    bool bold = false;
    bool operator==(const TextFace&) const = default;
};

/// Measures text. Implementations hold no state that changes.
class TextMeasure {
public:
    virtual ~TextMeasure() = default;
    /// Advance width of one line of UTF-8 text in mm.
    virtual double width_mm(std::string_view text, TextFace face) const = 0;

    /// Height above the baseline kept free for capitals and ascenders, mm.
    double ascent_mm(TextFace face) const { return text_ascent_share * face.size_mm; }
    /// Depth below the baseline kept free for descenders, mm.
    double descent_mm(TextFace face) const { return text_descent_share * face.size_mm; }
    /// Distance from baseline to baseline, mm.
    double line_pitch_mm(TextFace face) const { return 1.25 * face.size_mm; }
};

/// Widths of DejaVu Sans from a table; the same on every machine, so layouts built on it can be compared byte by byte.
class BuiltInTextMeasure final : public TextMeasure {
public:
    double width_mm(std::string_view text, TextFace face) const override;
};

/// `text` broken at spaces into lines not wider than `width_mm`; a word wider than that is broken inside. A number
/// stays with its fraction and its unit ("3 5/8 in" is never torn). Empty text gives no line.
std::vector<std::string> wrap_text(std::string_view text, TextFace face, double width_mm, const TextMeasure& measure);

/// `text`, or its beginning followed by "..." when it is wider than `width_mm`.
std::string shorten_text(std::string_view text, TextFace face, double width_mm, const TextMeasure& measure);

}  // namespace hitchwright
