#include "gui/page_canvas.h"

#include <algorithm>
#include <cmath>

#include "gui/palette.h"
#include "gui/triangles.h"
#include "report/text_clean.h"

namespace hitchwright {
namespace {

constexpr float thinnest_line = 1.0F;   // pixels; thinner ones fade away
constexpr float farthest = 1.0e5F;      // pixels; beyond it the sums of the renderer lose their pixels
constexpr std::size_t most_dashes = 20000;

bool is_drawable(ImVec2 p) { return std::fabs(p.x) < farthest && std::fabs(p.y) < farthest; }

class ShapePainter {
public:
    ShapePainter(ImDrawList& list, const PageView& view, const Fonts& fonts, const PageShape& shape)
        : list_(list), view_(view), fonts_(fonts), shape_(shape), style_(style_of(shape.role)) {}

    void operator()(const PagePath& path) const {
        std::vector<ImVec2> points;
        for (const PagePoint& p : path.points) points.push_back(view_.to_screen(p));
        if (points.size() < 2 || !std::all_of(points.begin(), points.end(), is_drawable)) return;
        const bool wiped = shape_.part == PagePart::wipe;
        if (path.closed && (wiped || (style_.filled && shape_.part == PagePart::normal)))
            fill(path.points, points, colour_of(wiped ? Colour{255, 255, 255} : style_.fill));
        if (!wiped) stroke(points, path.closed);
    }

    void operator()(const PageCircle& circle) const {
        const ImVec2 centre = view_.to_screen(circle.centre);
        const float radius = static_cast<float>(circle.radius) * view_.pixels_per_mm;
        if (!is_drawable(centre) || !(radius >= 0.0F) || !(radius < farthest)) return;
        if (style_.filled) list_.AddCircleFilled(centre, radius, colour_of(style_.fill), 0);
        if (style_.line_mm <= 0.0) return;
        if (style_.dash_mm.empty()) {
            list_.AddCircle(centre, radius, colour_of(style_.line), 0, line_width());
            return;
        }
        constexpr int pieces = 64;
        std::vector<ImVec2> points;
        for (int i = 0; i < pieces; ++i) {
            const float a = 6.2831853F * static_cast<float>(i) / pieces;
            points.emplace_back(centre.x + radius * std::cos(a), centre.y + radius * std::sin(a));
        }
        stroke(points, true);
    }

    void operator()(const PageText& text) const {
        const ScreenFont& f = font_of(text.face);
        const ImVec2 base = view_.to_screen(text.at);
        if (!is_drawable(base)) return;
        const std::string clean = clean_text(text.text);
        // On paper letters are as large as the page says, on the screen as large as the window's.
        const float share = view_.as_printed ? static_cast<float>(text.face.size_mm) * view_.pixels_per_mm / f.em : 1.0F;
        // Whole pixels keep letters sharp.
        const ImVec2 corner{std::round(base.x), std::round(base.y - share * f.font->Ascent)};
        list_.AddText(f.font, share * f.font->FontSize, corner, colour_of(style_.line), clean.data(),
                      clean.data() + clean.size());
    }

private:
    const ScreenFont& font_of(TextFace face) const {
        return !view_.as_printed ? fonts_.face(face) : face.bold ? fonts_.bold : fonts_.regular;
    }

    ImU32 colour_of(Colour c) const { return view_.as_printed ? printed_colour(c) : screen_colour(c); }

    /// Whole pixels: two triangles a piece from the texture of lines, where other widths take six.
    float line_width() const {
        const double mm = shape_.part == PagePart::hatch ? hatch_line_mm : style_.line_mm;
        return std::max(thinnest_line, std::ceil(static_cast<float>(mm) * view_.pixels_per_mm - 0.5F));
    }

    void fill(const std::vector<PagePoint>& corners, const std::vector<ImVec2>& points, ImU32 colour) const {
        // Antialiased edges of neighbouring triangles would show as seams.
        const ImDrawListFlags flags = list_.Flags;
        list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
        for (const auto& t : fill_with_triangles(corners))
            list_.AddTriangleFilled(points[t[0]], points[t[1]], points[t[2]], colour);
        list_.Flags = flags;
    }

    void stroke(const std::vector<ImVec2>& points, bool closed) const {
        const bool hatch = shape_.part == PagePart::hatch;
        if (!hatch && style_.line_mm <= 0.0) return;
        draw_dashed(list_, points, closed, hatch ? std::span<const double>{} : style_.dash_mm, view_.pixels_per_mm,
                    colour_of(style_.line), line_width());
    }

    ImDrawList& list_;
    const PageView& view_;
    const Fonts& fonts_;
    const PageShape& shape_;
    const RoleStyle& style_;
};

/// Walks along a line and draws every other piece of the pattern.
class DashWalk {
public:
    DashWalk(ImDrawList& list, std::span<const double> dash_mm, float pixels_per_mm, ImU32 colour, float width)
        : list_(list), colour_(colour), width_(width) {
        for (const double mm : dash_mm) pattern_.push_back(std::max(1.0F, static_cast<float>(mm) * pixels_per_mm));
        left_ = pattern_.front();
    }

    void line(ImVec2 a, ImVec2 b) {
        const float length = std::hypot(b.x - a.x, b.y - a.y);
        float done = 0.0F;
        while (done < length && drawn_ < most_dashes) {
            const float step = std::min(left_, length - done);
            const auto at = [&](float s) { return ImVec2{a.x + (b.x - a.x) * s / length, a.y + (b.y - a.y) * s / length}; };
            if (piece_ % 2 == 0) list_.AddLine(at(done), at(done + step), colour_, width_);
            done += step;
            left_ -= step;
            if (left_ > 0.0F) continue;
            ++drawn_;
            piece_ = (piece_ + 1) % pattern_.size();
            left_ = pattern_[piece_];
        }
    }

private:
    ImDrawList& list_;
    ImU32 colour_;
    float width_;
    std::vector<float> pattern_;
    std::size_t piece_ = 0, drawn_ = 0;
    float left_ = 0.0F;
};

}  // namespace

void draw_dashed(ImDrawList& list, const std::vector<ImVec2>& points, bool closed, std::span<const double> dash_mm,
                 float pixels_per_mm, ImU32 colour, float width) {
    if (dash_mm.empty()) {
        list.AddPolyline(points.data(), static_cast<int>(points.size()), colour, closed ? ImDrawFlags_Closed : 0, width);
        return;
    }
    DashWalk walk(list, dash_mm, pixels_per_mm, colour, width);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) walk.line(points[i], points[i + 1]);
    if (closed && points.size() > 2) walk.line(points.back(), points.front());
}

void draw_page(ImDrawList& list, const std::vector<PageShape>& shapes, const PageView& view, const Fonts& fonts) {
    for (const PageShape& shape : shapes) std::visit(ShapePainter(list, view, fonts, shape), shape.form);
}

}  // namespace hitchwright
