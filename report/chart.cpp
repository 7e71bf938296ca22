#include "report/chart.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/edge_units.h"
#include "report/label_layout.h"
#include "report/multiples.h"

namespace hitchwright {
namespace {

constexpr TextFace title_face{2.9, true};
constexpr TextFace tick_face{2.3, false};
constexpr TextFace label_face{2.5, false};
constexpr double left_mm = 13.0, right_mm = 42.0, title_mm = 5.0, bottom_mm = 6.0;
constexpr double tick_mm = 1.2;

constexpr double brief_left_mm = 10.0, brief_right_mm = 17.0, brief_title_mm = 1.5;
constexpr double kilograms_per_pound = 0.45359237;  // exact by definition
constexpr int most_x_ticks = 9, most_y_ticks = 6, brief_x_ticks = 5, brief_y_ticks = 4;

using Axes = ChartAxes;

/// Unit of an axis: as the reader weighs and tapes.
EdgeUnit find_axis_unit(Dimension dimension, UnitSystem units) {
    if (dimension == Dimension::mass && units == UnitSystem::inch) return {"lb", 1.0 / kilograms_per_pound};
    return find_edge_unit(dimension, units);
}

double right_of(ChartWords words) { return words == ChartWords::full ? right_mm : brief_right_mm; }

Axes make_axes(const ChartPanel& panel, const PageRect& area, UnitSystem units, ChartWords words) {
    Axes a;
    const bool full = words == ChartWords::full;
    a.plot = {area.left + (full ? left_mm : brief_left_mm), area.top + (full ? title_mm : brief_title_mm), area.right - right_of(words), area.bottom - bottom_mm};
    a.x_per_si = find_axis_unit(panel.x_dimension, units).per_si;
    a.y_per_si = find_axis_unit(panel.dimension, units).per_si;
    double low = 1e300, high = -1e300;
    const auto take = [&](double y) {
        if (!std::isfinite(y)) return;
        low = std::min(low, y * a.y_per_si);
        high = std::max(high, y * a.y_per_si);
    };
    for (const ChartLine& line : panel.lines) {
        for (const ChartPoint& p : line.points) {
            if (p.y <= panel.y_most) take(p.y);
        }
    }
    for (const ChartBand& band : panel.bands) {
        for (const ChartBand::Section& s : band.sections) take(s.low), take(s.high);
    }
    for (const ChartLimit& limit : panel.limits) take(limit.level);
    if (low > high) low = high = 0.0;
    const double room = std::max(0.06 * (high - low), 0.5);
    const double step = find_tick_step(high - low + 2.0 * room, full ? most_y_ticks : brief_y_ticks);
    a.y_low = std::floor((low - room) / step) * step;
    if (low >= 0.0) a.y_low = std::max(a.y_low, 0.0);
    a.y_high = std::ceil((high + room) / step) * step;
    a.x_low = panel.x_range.low * a.x_per_si;
    a.x_high = std::max(panel.x_range.high * a.x_per_si, a.x_low + 1e-9);
    return a;
}

void add_path(PagePicture& page, Role role, std::vector<PagePoint> points, bool closed = false) {
    page.shapes.push_back({role, PagePart::normal, PagePath{std::move(points), closed}});
}

void add_words(PagePicture& page, Role role, PagePoint at, const std::string& words, TextFace face,
               const TextMeasure& measure) {
    page.shapes.push_back({role, PagePart::normal, make_text(at, words, face, measure)});
}

std::string format_tick(double value) { return fmt::format("{:g}", value == 0.0 ? 0.0 : value); }

void add_ticks(PagePicture& page, const Axes& a, const ChartPanel& panel, UnitSystem units, const TextMeasure& measure,
               ChartWords words_wanted) {
    const bool full = words_wanted == ChartWords::full;
    const double x_step = find_tick_step(a.x_high - a.x_low, full ? most_x_ticks : brief_x_ticks);
    const double y_step = find_tick_step(a.y_high - a.y_low, full ? most_y_ticks : brief_y_ticks);
    double unit_left = a.plot.right + 1.5;  // behind the last tick's number
    for (const double x : list_multiples(a.x_low, a.x_high, x_step)) {
        const double at = a.plot.left + (x - a.x_low) / (a.x_high - a.x_low) * a.plot.width();
        add_path(page, Role::legend, {{at, a.plot.bottom}, {at, a.plot.bottom + tick_mm}});
        const std::string words = format_tick(x);
        const double half = 0.5 * measure.width_mm(words, tick_face);
        add_words(page, Role::legend, {at - half, a.plot.bottom + tick_mm + 2.4}, words, tick_face, measure);
        unit_left = std::max(unit_left, at + half + 1.0);
    }
    for (const double y : list_multiples(a.y_low, a.y_high, y_step)) {
        const double at = a.plot.bottom - (y - a.y_low) / (a.y_high - a.y_low) * a.plot.height();
        add_path(page, Role::legend, {{a.plot.left - tick_mm, at}, {a.plot.left, at}});
        const std::string words = format_tick(y);
        add_words(page, Role::legend, {a.plot.left - tick_mm - 0.8 - measure.width_mm(words, tick_face), at + 0.8}, words, tick_face, measure);
    }
    const std::string unit(find_axis_unit(panel.x_dimension, units).name);
    const std::string axis = full ? fmt::format("{}, {}", panel.x_name, unit) : unit;
    add_words(page, Role::legend, {unit_left, a.plot.bottom + tick_mm + 2.4}, axis, tick_face, measure);
    if (!full) return;
    add_words(page, Role::title, {a.plot.left, a.plot.top - 1.4}, fmt::format("{}, {}", panel.title, find_axis_unit(panel.dimension, units).name), title_face, measure);
}

/// Breaks a line at points that are not finite, or above what the panel shows.
void add_line(PagePicture& page, const Axes& a, const ChartLine& line, double y_most) {
    std::vector<PagePoint> run;
    const auto flush = [&] {
        if (run.size() > 1) add_path(page, line.role, run);
        run.clear();
    };
    for (const ChartPoint& p : line.points) {
        if (std::isfinite(p.y) && p.y <= y_most) run.push_back(a.to_page(p));
        else flush();
    }
    flush();
}

/// The area between the two edges, run by run.
void add_band(PagePicture& page, const Axes& a, const ChartBand& band) {
    const auto known = [](const ChartBand::Section& s) { return std::isfinite(s.low) && std::isfinite(s.high); };
    std::vector<PagePoint> low, high;
    const auto flush = [&] {
        if (low.size() > 1) {
            std::vector<PagePoint> around = low;
            around.insert(around.end(), high.rbegin(), high.rend());
            add_path(page, Role::error_band, std::move(around), true);
        }
        low.clear(), high.clear();
    };
    for (const ChartBand::Section& s : band.sections) {
        if (!known(s)) flush();
        else low.push_back(a.to_page({s.x, s.low})), high.push_back(a.to_page({s.x, s.high}));
    }
    flush();
}

/// Words beside the right end of the panel, moved apart so that none covers another.
void add_end_words(PagePicture& page, const Axes& a, std::vector<std::pair<double, std::string>> ends,
                   const TextMeasure& measure, double room_mm) {
    std::sort(ends.begin(), ends.end());
    const double pitch = measure.line_pitch_mm(label_face);
    std::vector<double> lines;
    for (const auto& [y, words] : ends) {
        lines.push_back(static_cast<double>(wrap_text(words, label_face, room_mm, measure).size()));
    }
    std::vector<double> at;
    double below = a.plot.top - pitch;
    for (std::size_t i = 0; i < ends.size(); ++i) {
        at.push_back(std::max(ends[i].first - 0.5 * pitch * (lines[i] - 1.0), below + 0.5 * pitch));
        below = at[i] + pitch * (lines[i] - 0.5);
    }
    double above = a.plot.bottom + pitch;
    for (std::size_t i = ends.size(); i-- > 0;) {
        at[i] = std::min(at[i], above - pitch * lines[i]);
        above = at[i];
    }
    for (std::size_t i = 0; i < ends.size(); ++i) {
        double y = at[i] + 0.9;
        add_path(page, Role::leader, {{a.plot.right, ends[i].first}, {a.plot.right + 1.6, at[i]}});
        for (const std::string& line : wrap_text(ends[i].second, label_face, room_mm, measure)) {
            add_words(page, Role::label, {a.plot.right + 2.2, y}, line, label_face, measure);
            y += pitch;
        }
    }
}

/// Hatching of a zone as far as the panel shows it; nothing of it outside.
void add_zone(PagePicture& page, const Axes& a, const ChartZone& zone) {
    const auto to_y = [&](double level) {
        return std::clamp(a.plot.bottom - (level * a.y_per_si - a.y_low) / (a.y_high - a.y_low) * a.plot.height(), a.plot.top, a.plot.bottom);
    };
    const double top = to_y(zone.high), bottom = to_y(zone.low);
    if (!(bottom - top > 0.05)) return;
    const std::vector<PagePoint> area{{a.plot.left, top}, {a.plot.right, top}, {a.plot.right, bottom}, {a.plot.left, bottom}};
    const RoleStyle& style = style_of(zone.role);
    for (PagePath& line : make_hatch(area, style.hatch, 1.8 * style.hatch_spacing_mm))
        page.shapes.push_back({zone.role, PagePart::hatch, std::move(line)});
}

const std::string& pick(const std::string& full, const std::string& brief, ChartWords words) {
    return words == ChartWords::full || brief.empty() ? full : brief;
}

}  // namespace

double ChartAxes::to_x(double page_x) const {
    const double share = std::clamp((page_x - plot.left) / std::max(plot.width(), 1e-9), 0.0, 1.0);
    return (x_low + share * (x_high - x_low)) / x_per_si;
}

ChartAxes find_chart_axes(const ChartPanel& panel, const PageRect& area, UnitSystem units, ChartWords words) {
    return make_axes(panel, area, units, words);
}

double find_tick_step(double span, int most) {
    if (!(span > 0.0) || !std::isfinite(span)) return 1.0;
    double step = std::pow(10.0, std::floor(std::log10(span / most)));
    for (const double factor : {1.0, 2.0, 5.0, 10.0}) {
        if (span / (step * factor) <= most) return step * factor;
    }
    return 10.0 * step;
}

std::vector<std::string> add_chart(PagePicture& page, const ChartPanel& panel, const PageRect& area, UnitSystem units,
                                   const TextMeasure& measure, ChartWords words) {
    const Axes a = make_axes(panel, area, units, words);
    const PageRect& p = a.plot;
    if (panel.shaded.low < panel.shaded.high) {
        const double left = std::clamp(a.to_page({panel.shaded.low, 0.0}).x, p.left, p.right);
        const double right = std::clamp(a.to_page({panel.shaded.high, 0.0}).x, p.left, p.right);
        add_path(page, Role::tyre, {{left, p.top}, {right, p.top}, {right, p.bottom}, {left, p.bottom}}, true);
    }
    for (const ChartBand& band : panel.bands) add_band(page, a, band);
    for (const ChartZone& zone : panel.zones) add_zone(page, a, zone);
    add_path(page, Role::frame, {{p.left, p.top}, {p.left, p.bottom}, {p.right, p.bottom}});
    add_ticks(page, a, panel, units, measure, words);
    std::vector<std::pair<double, std::string>> ends;
    Obstacles obstacles;
    for (const ChartLimit& limit : panel.limits) {
        const double y = a.to_page({panel.x_range.low, limit.level}).y;
        add_path(page, limit.role, {{p.left, y}, {p.right, y}});
    }
    for (const ChartLine& line : panel.lines) {
        add_line(page, a, line, panel.y_most);
        const bool ends_inside = !line.points.empty() && std::isfinite(line.points.back().y) && line.points.back().y <= panel.y_most;
        if (ends_inside) ends.emplace_back(a.to_page(line.points.back()).y, pick(line.name, line.brief, words));
    }
    const auto most = static_cast<std::size_t>(p.height() / measure.line_pitch_mm(label_face)) + 1;
    for (const ChartLimit& limit : panel.limits) {
        if (words == ChartWords::brief && ends.size() >= most) break;  // the lines' own names come first
        ends.emplace_back(a.to_page({panel.x_range.low, limit.level}).y, pick(limit.words, limit.brief, words));
    }
    add_end_words(page, a, std::move(ends), measure, right_of(words) - 3.0);
    add_obstacles(obstacles, page.shapes);
    std::vector<LabelRequest> requests;
    for (const ChartMark& mark : panel.marks) {
        page.shapes.push_back({Role::pin_chosen, PagePart::normal, PageCircle{a.to_page(mark.at), 0.7}});
        if (words == ChartWords::brief) continue;
        requests.push_back({{mark.words}, {label_face.size_mm, false}, a.to_page(mark.at), {}, 5, 1.2});
    }
    const LabelLayout labels = place_labels(requests, obstacles, {p.left, p.top - 4.0, p.right, p.bottom}, measure);
    for (const PlacedLabel& label : labels.placed) draw_label(page.shapes, label);
    std::vector<std::string> unplaced;
    for (const std::size_t i : labels.unplaced) unplaced.push_back(panel.marks[i].words);
    return unplaced;
}

}  // namespace hitchwright
