// See svg_writer.h. Neighbouring shapes of one look share a group, which keeps files small and gives each role its
// class.
#include "report/svg_writer.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "report/lightness.h"
#include "report/text_clean.h"

namespace hitchwright {
namespace {

const char* const font_family = "DejaVu Sans, Verdana, Arial, sans-serif";

/// Millimetres with at most three decimals, no trailing zeros, no negative zero.
std::string number(double value) {
    std::string text = fmt::format("{:.3f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

/// The colour, or the grey of its lightness.
std::string colour(Colour c, bool monochrome) {
    const auto grey = static_cast<std::uint8_t>(std::lround(255.0 * lightness_of(c)));
    const Colour shown = monochrome ? Colour{grey, grey, grey} : c;
    return fmt::format("#{:02x}{:02x}{:02x}", shown.red, shown.green, shown.blue);
}

bool is_finite(PagePoint p) { return std::isfinite(p.x) && std::isfinite(p.y); }

struct IsDrawable {
    bool operator()(const PagePath& f) const {
        return f.points.size() > 1 && std::all_of(f.points.begin(), f.points.end(), is_finite);
    }
    bool operator()(const PageCircle& f) const {
        return is_finite(f.centre) && std::isfinite(f.radius) && f.radius >= 0.0;
    }
    bool operator()(const PageText& f) const {
        return is_finite(f.at) && std::isfinite(f.face.size_mm) && std::isfinite(f.width_mm) && !f.text.empty();
    }
};

struct IsClosed {
    bool operator()(const PagePath& f) const { return f.closed; }
    bool operator()(const PageCircle&) const { return true; }
    bool operator()(const PageText&) const { return false; }
};

struct WriteForm {
    std::string& out;

    void operator()(const PagePath& f) const {
        out += "<path d=\"";
        char command = 'M';
        for (const PagePoint& p : f.points) {
            fmt::format_to(std::back_inserter(out), "{}{} {}", command, number(p.x), number(p.y));
            command = 'L';
        }
        out += f.closed ? "Z\"/>\n" : "\"/>\n";
    }
    void operator()(const PageCircle& f) const {
        fmt::format_to(std::back_inserter(out), "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", number(f.centre.x),
                       number(f.centre.y), number(f.radius));
    }
    void operator()(const PageText& f) const {
        fmt::format_to(std::back_inserter(out), "<text x=\"{}\" y=\"{}\" font-size=\"{}\"", number(f.at.x),
                       number(f.at.y), number(f.face.size_mm));
        if (f.face.bold) out += " font-weight=\"bold\"";
        if (f.width_mm > 0.0) {
            fmt::format_to(std::back_inserter(out), " textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"",
                           number(f.width_mm));
        }
        fmt::format_to(std::back_inserter(out), ">{}</text>\n", escape_xml(f.text));
    }
};

std::string dash_attribute(const RoleStyle& style) {
    std::string text;
    for (double length : style.dash_mm) {
        if (!text.empty()) text += ' ';
        text += number(length);
    }
    return text.empty() ? text : fmt::format(" stroke-dasharray=\"{}\"", text);
}

/// Opening tag of the group a shape belongs to; shapes with the same tag share a group.
std::string group_of(const PageShape& shape, bool monochrome) {
    const RoleStyle& style = style_of(shape.role);
    const std::string line = colour(style.line, monochrome);
    if (std::holds_alternative<PageText>(shape.form)) {
        return fmt::format("<g class=\"{}\" fill=\"{}\" stroke=\"none\" font-family=\"{}\">\n", style.name,
                           line, font_family);
    }
    if (shape.part == PagePart::wipe)
        return fmt::format("<g class=\"{} wipe\" fill=\"#ffffff\" stroke=\"none\">\n", style.name);
    const bool fills = style.filled && shape.part == PagePart::normal && std::visit(IsClosed{}, shape.form);
    const std::string fill = fills ? colour(style.fill, monochrome) : "none";
    if (shape.part == PagePart::hatch) {
        return fmt::format("<g class=\"{} hatch\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\">\n", style.name,
                           line, number(hatch_line_mm));
    }
    return fmt::format(
        "<g class=\"{}\" fill=\"{}\" stroke=\"{}\" stroke-width=\"{}\" stroke-linecap=\"round\" "
        "stroke-linejoin=\"round\"{}>\n",
        style.name, fill, style.line_mm > 0.0 ? line : "none", number(style.line_mm),
        dash_attribute(style));
}

}  // namespace

std::string escape_xml(std::string_view text) {
    std::string escaped;
    for (const char c : clean_text(text)) {
        switch (c) {
            case '&':
                escaped += "&amp;";
                break;
            case '<':
                escaped += "&lt;";
                break;
            case '>':
                escaped += "&gt;";
                break;
            case '"':
                escaped += "&quot;";
                break;
            case '\'':
                escaped += "&apos;";
                break;
            default:
                escaped += c;
        }
    }
    return escaped;
}

std::string format_svg_length(double mm) { return number(mm) + "mm"; }

std::string write_svg(const PagePicture& picture) {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + write_svg_element(picture);
}

std::string write_svg_element(const PagePicture& picture) {
    const std::string width = number(picture.width_mm), height = number(picture.height_mm);
    std::string out = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} "
        "{1}\">\n",
        width, height);
    out +=
        fmt::format("<title>{}</title>\n<desc>{}</desc>\n", escape_xml(picture.title), escape_xml(picture.description));
    out += fmt::format("<rect width=\"{}\" height=\"{}\" fill=\"#ffffff\"/>\n", width, height);
    std::string open_group;
    for (const PageShape& shape : picture.shapes) {
        if (!std::visit(IsDrawable{}, shape.form)) continue;
        const std::string group = group_of(shape, picture.monochrome);
        if (group != open_group) {
            if (!open_group.empty()) out += "</g>\n";
            out += group;
            open_group = group;
        }
        std::visit(WriteForm{out}, shape.form);
    }
    if (!open_group.empty()) out += "</g>\n";
    return out + "</svg>\n";
}

}  // namespace hitchwright
