// See envelope_chart.h.
#include "report/envelope_chart.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/multiples.h"
#include "report/page_blocks.h"
#include "report/page_header.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t yaws = 91, pitches = 61;
constexpr TextFace tick_face{2.4, false}, word_face{2.8, true}, note_face{2.6, false};
constexpr double axis_left_mm = 14.0, axis_below_mm = 9.0, tick_mm = 1.2, degree = 3.14159265358979323846 / 180.0;
constexpr double block_gap_mm = 2.0;

void add_line(PagePicture& page, Role role, std::vector<PagePoint> points, bool closed = false) {
    page.shapes.push_back({role, PagePart::normal, PagePath{std::move(points), closed}});
}

void add_words(PagePicture& page, PagePoint middle, const std::string& text, TextFace face, Role role, const TextMeasure& measure) {
    PageText t = make_text({0, 0}, text, face, measure);
    t.at = {middle.x - 0.5 * t.width_mm, middle.y + 0.35 * measure.ascent_mm(face)};
    const PageRect box = grown(text_box(t), 0.4);
    page.shapes.push_back({Role::legend, PagePart::wipe, PagePath{{{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}}, true}});
    page.shapes.push_back({role, PagePart::normal, t});
}

/// Hatching of everything where a margin is negative, row by row; the middle of the longest row for its words.
std::optional<PagePoint> add_region(PagePicture& page, const Envelope& e, const EnvelopeAxes& axes, EnvelopeQuantity q, Role role) {
    std::optional<PagePoint> middle;
    double longest = 0.0;
    const double half = 0.5 * axes.area.height() / static_cast<double>(e.pitches - 1);
    for (std::size_t j = 0; j < e.pitches; ++j) {
        for (std::size_t i = 0; i < e.yaws; ++i) {
            if (!(find_margin(e.at(i, j), q) < 0.0)) continue;
            const std::size_t first = i;
            while (i + 1 < e.yaws && find_margin(e.at(i + 1, j), q) < 0.0) ++i;
            const PagePoint a = axes.to_page(e.at(first, j).yaw, e.at(first, j).pitch), b = axes.to_page(e.at(i, j).yaw, e.at(i, j).pitch);
            const double top = std::max(a.y - half, axes.area.top), bottom = std::min(a.y + half, axes.area.bottom);
            if (b.x - a.x < 0.2) continue;
            for (const PagePath& line : make_hatch({{a.x, top}, {b.x, top}, {b.x, bottom}, {a.x, bottom}}, style_of(role).hatch, 1.6))
                page.shapes.push_back({role, PagePart::hatch, line});
            if (b.x - a.x > longest) {
                longest = b.x - a.x;
                middle = PagePoint{a.x + 0.3 * (b.x - a.x), a.y};  // clear of the way across a ditch, which has no turn
            }
        }
    }
    return longest > 12.0 ? middle : std::nullopt;
}

void add_ticks(PagePicture& page, const EnvelopeAxes& axes, const TextMeasure& measure) {
    const auto tick = [&](double angle, bool across) {
        const PagePoint p = across ? axes.to_page(angle, axes.pitch.low) : axes.to_page(axes.yaw.low, angle);
        add_line(page, Role::frame, across ? std::vector<PagePoint>{p, {p.x, p.y + tick_mm}} : std::vector<PagePoint>{p, {p.x - tick_mm, p.y}});
        PageText t = make_text({0, 0}, fmt::format("{:.0f}", angle / degree), tick_face, measure);
        t.at = across ? PagePoint{p.x - 0.5 * t.width_mm, p.y + tick_mm + 0.6 + measure.ascent_mm(tick_face)}
                      : PagePoint{p.x - tick_mm - 0.6 - t.width_mm, p.y + 0.35 * measure.ascent_mm(tick_face)};
        page.shapes.push_back({Role::legend, PagePart::normal, t});
    };
    for (const double a : list_multiples(axes.yaw.low, axes.yaw.high, 10 * degree)) tick(a, true);
    for (const double a : list_multiples(axes.pitch.low, axes.pitch.high, 10 * degree)) tick(a, false);
    const auto name = [&](PagePoint at, const char* text) {
        const PageText t = make_text(at, text, tick_face, measure);
        page.shapes.push_back({Role::legend, PagePart::normal, t});
    };
    name({axes.area.left, axes.area.bottom + axis_below_mm - 0.6}, "turn, deg: left is -, right is +");
    name({axes.area.left, axes.area.top - 1.2}, "pitch of the implement against the tractor, deg: rear up is +");
}

void add_box(PagePicture& page, const DrawnModel& m, const EnvelopeAxes& axes, const TextMeasure& measure) {
    const AttitudeBox& b = m.box;
    add_line(page, Role::tractor_outline, {axes.to_page(b.yaw.low, b.pitch.low), axes.to_page(b.yaw.high, b.pitch.low), axes.to_page(b.yaw.high, b.pitch.high),
                                           axes.to_page(b.yaw.low, b.pitch.high), axes.to_page(b.yaw.low, b.pitch.low)});
    const PagePoint corner = axes.to_page(b.yaw.low, b.pitch.high);
    page.shapes.push_back({Role::legend, PagePart::normal, make_text({corner.x + 1.0, corner.y - 0.8}, "attitudes judged", tick_face, measure)});
    const PagePoint level = axes.to_page(0.0, m.level_pitch);
    page.shapes.push_back({Role::pin_chosen, PagePart::normal, PageCircle{level, 0.9}});
    page.shapes.push_back({Role::legend, PagePart::normal, make_text({level.x + 1.6, level.y - 0.8}, "straight and level", tick_face, measure)});
}

void add_way(PagePicture& page, const DrawnAnalysis& d, const EnvelopeAxes& axes, const TextMeasure& measure) {
    if (!d.ditch || !d.ditch->study) return;
    PagePoint last{0, 0};
    bool any = false;
    for (const DitchWay& way : d.ditch->study->ways) {
        std::vector<PagePoint> points;
        for (const DitchStation& s : way.stations) {
            const Attitude& a = s.pose.relative;
            if (!s.pose.stands || !axes.yaw.contains(a.yaw) || !axes.pitch.contains(a.pitch)) continue;
            points.push_back(axes.to_page(a.yaw, a.pitch));
            if (!any || points.back().y < last.y) last = points.back();
            any = true;
        }
        if (points.size() > 1) add_line(page, Role::implement_outline, std::move(points));
    }
    if (any) page.shapes.push_back({Role::legend, PagePart::normal, make_text({last.x + 1.2, last.y - 0.6}, "way across the ditch", tick_face, measure)});
}

}  // namespace

PagePoint EnvelopeAxes::to_page(double y, double p) const {
    return {area.left + area.width() * (y - yaw.low) / (yaw.high - yaw.low), area.bottom - area.height() * (p - pitch.low) / (pitch.high - pitch.low)};
}

Attitude EnvelopeAxes::to_attitude(PagePoint at) const {
    const double across = std::clamp((at.x - area.left) / area.width(), 0.0, 1.0), up = std::clamp((area.bottom - at.y) / area.height(), 0.0, 1.0);
    return {pitch.low + up * (pitch.high - pitch.low), 0.0, yaw.low + across * (yaw.high - yaw.low)};
}

EnvelopeAxes find_envelope_axes(const DrawnModel& m, const PageRect& area) {
    const AttitudeBox range = find_envelope_range(m);
    return {range.yaw, range.pitch, {area.left + axis_left_mm, area.top + 4.0, area.right, area.bottom - axis_below_mm}};
}

void add_envelope(PagePicture& page, const Setup& setup, const DrawnAnalysis& d, const PageRect& area, const TextMeasure& measure) {
    const Envelope e = study_envelope(d.model, make_turn_limits(setup, d.model, JointHold::pto_off), yaws, pitches);
    const EnvelopeAxes axes = find_envelope_axes(d.model, area);
    struct Region {
        EnvelopeQuantity quantity;
        Role role;
        const char* words;
        std::optional<PagePoint> middle;
    };
    Region regions[] = {{EnvelopeQuantity::joint, Role::overlap, "PTO off: a joint passes its limit", {}},
                        {EnvelopeQuantity::gap, Role::clash, "too little gap, or bottoms out", {}},
                        {EnvelopeQuantity::overlap, Role::separation, "too little overlap, or apart", {}}};
    for (Region& r : regions) {
        const bool known = r.quantity == EnvelopeQuantity::joint ? e.has_joint_limit : e.has_halves;
        if (known) r.middle = add_region(page, e, axes, r.quantity, r.role);
    }
    add_line(page, Role::frame, {{axes.area.left, axes.area.top}, {axes.area.right, axes.area.top}, {axes.area.right, axes.area.bottom}, {axes.area.left, axes.area.bottom}}, true);
    for (const Region& r : regions) {
        for (const ZeroSegment& s : find_zero_line(e, r.quantity)) add_line(page, r.role, {axes.to_page(s.yaw_a, s.pitch_a), axes.to_page(s.yaw_b, s.pitch_b)});
    }
    add_ticks(page, axes, measure);
    add_box(page, d.model, axes, measure);
    add_way(page, d, axes, measure);
    for (const Region& r : regions) {
        if (!r.middle) continue;
        const double half = 0.5 * make_text({0, 0}, r.words, word_face, measure).width_mm + 1.0;
        add_words(page, {std::clamp(r.middle->x, axes.area.left + half, axes.area.right - half), std::clamp(r.middle->y, axes.area.top + 4.0, axes.area.bottom - 4.0)}, r.words, word_face, Role::title, measure);
    }
}

PagePicture compose_envelope_chart(const SideViewScene& scene, const Setup& setup, const Analysis& analysis, const PageSetup& paper, const TextMeasure& measure) {
    PageRect area;
    PagePicture page = start_page(scene, paper, measure, area);
    const bool shaft = analysis.drawn && analysis.drawn->model.has_shaft;
    const std::string words = shaft ? "What is left at every turn and pitch of the implement, without roll. Hatched: beyond a limit. Lines: exactly at it. "
                                      "Extremes that are judged include roll and are bounded over all attitudes."
                                    : "No chart: the implement is not drawn, or a reading of hitch or shaft is missing.";
    area.top = add_text_block(page, make_text_block(words, note_face, area.width(), measure), {area.left, area.top}, Role::legend, measure) + block_gap_mm;
    page.description += " Chart of turn against pitch with the limits of gap, overlap and joints.";
    if (shaft) add_envelope(page, setup, *analysis.drawn, area, measure);
    return page;
}

}  // namespace hitchwright
