#include "report/travel_chart.h"

#include <limits>

#include <fmt/format.h>

#include "geometry/joint_findings.h"
#include "report/page_blocks.h"
#include "report/page_header.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr int samples = 121;
constexpr double block_gap_mm = 2.0;
constexpr double least_panel_mm = 22.0;

using Rows = std::vector<PoseReport>;

template <class Value>
ChartLine make_line(const char* name, Role role, const Rows& rows, const Value& value) {
    ChartLine line{name, role, {}};
    for (const PoseReport& row : rows) {
        const double y = row.pose.closes ? value(row) : std::numeric_limits<double>::quiet_NaN();
        line.points.push_back({row.pose.ball.y(), y});
    }
    return line;
}

ChartMark mark_extreme(const char* what, const TravelExtreme& e, const std::string& shown, const SafeWords& w) {
    return {fmt::format("{} {} at {}", what, shown, w.place(e.height)), {e.height, e.bound}};
}

ChartPanel make_length_panel(const Analysis& a, const Rows& rows, const SafeWords& w) {
    const ShaftAnalysis& s = *a.shaft;
    ChartPanel p;
    p.title = "Shaft length between joint centres";
    p.lines = {make_line("shaft length", Role::lower_link, rows, [](const PoseReport& r) { return r.shaft_length; })};
    p.marks = {mark_extreme("shortest", s.travel.shortest, w.have(s.travel.shortest.bound), w),
               mark_extreme("longest", s.travel.longest, w.need(s.travel.longest.bound), w)};
    if (!s.has_plan) return p;
    const TelescopingHalves& h = a.linkage->model.halves;
    const double gap = s.limits.gap_required, overlap = s.plan.uncut.overlap_needed;
    p.limits = {{fmt::format("not shorter: closed length and a gap of {}", w.need(gap)), h.closed_length + gap},
                {fmt::format("not longer: {} of overlap left", w.need(overlap)), find_overlap(h, 0.0) - overlap}};
    return p;
}

ChartPanel make_angle_panel(const Setup& setup, const Analysis& a, const Rows& rows, const SafeWords& w) {
    const ShaftAnalysis& s = *a.shaft;
    ChartPanel p;
    p.title = "Joint angles";
    p.dimension = Dimension::angle;
    p.lines = {make_line("tractor joint", Role::lower_link, rows, [](const PoseReport& r) { return r.tractor_angle; }),
               make_line("implement joint (dotted)", Role::travel_arc, rows,
                         [](const PoseReport& r) { return r.implement_angle; })};
    p.marks = {mark_extreme("tractor", s.travel.tractor_angle, format_angle(s.travel.tractor_angle.bound, Rounding::up), w),
               mark_extreme("implement", s.travel.implement_angle, format_angle(s.travel.implement_angle.bound, Rounding::up), w)};
    const JointLimits l = find_joint_limits(setup, JointEnd::tractor);
    const auto add = [&p](const Limit& limit, const char* words) {
        if (limit.set && (p.limits.empty() || p.limits.back().level != limit.value)) {
            p.limits.push_back({fmt::format("{}: {}", format_angle(limit.value, Rounding::down), words), limit.value});
        }
    };
    add(l.free, "no work above");
    add(l.pto_off, "PTO off above");
    add(l.stop, "never reached");
    if (s.travel.tractor_angle.bound < l.free.value && s.travel.implement_angle.bound < l.free.value) p.limits.resize(1);
    return p;
}

ChartPanel make_pitch_panel(const Analysis& a, const Rows& rows) {
    ChartPanel p;
    p.title = "Pitch, rear up is positive";
    p.dimension = Dimension::angle;
    p.lines = {make_line("pitch", Role::implement_outline, rows, [](const PoseReport& r) { return r.pose.pitch; })};
    const PoseReport& working = a.linkage->working;
    if (working.pose.closes) {
        p.marks = {{fmt::format("working, {}", format_angle(working.pose.pitch)), {working.pose.ball.y(), working.pose.pitch}}};
    }
    return p;
}

}  // namespace

std::vector<ChartPanel> make_travel_panels(const Setup& setup, const Analysis& analysis, UnitSystem units) {
    std::vector<ChartPanel> panels;
    if (!analysis.linkage) return panels;
    const Rows rows = sweep_travel(setup, samples);
    const SafeWords w{units};
    if (analysis.shaft) {
        panels.push_back(make_length_panel(analysis, rows, w));
        panels.push_back(make_angle_panel(setup, analysis, rows, w));
    }
    panels.push_back(make_pitch_panel(analysis, rows));
    for (ChartPanel& p : panels) {
        p.x_range = analysis.linkage->model.travel;
        p.shaded = analysis.linkage->model.working_band;
    }
    return panels;
}

PagePicture compose_travel_chart(const SideViewScene& scene, const std::vector<ChartPanel>& panels,
                                 const PageSetup& setup, const TextMeasure& measure) {
    PageRect area;
    PagePicture page = start_page(scene, setup, measure, area);
    std::string words = "Over the travel of the lift. The grey band is where the shaft is driven. Lines are drawn through "
                        "121 heights; the marked extremes are bounded over all heights.";
    if (panels.empty()) words = "No lines: a reading of the linkage is missing, or the linkage cannot close.";
    area.top = add_text_block(page, make_text_block(words, {2.6, false}, area.width(), measure), {area.left, area.top},
                              Role::legend, measure) + block_gap_mm;
    if (panels.empty()) return page;
    std::vector<std::string> unplaced;
    const double height = area.height() / static_cast<double>(panels.size());
    for (std::size_t i = 0; i < panels.size() && height >= least_panel_mm; ++i) {
        const double top = area.top + static_cast<double>(i) * height;
        for (std::string& text : add_chart(page, panels[i], {area.left, top, area.right, top + height - block_gap_mm}, scene.units, measure)) {
            unplaced.push_back(std::move(text));
        }
    }
    page.description += " Lines of shaft length, joint angles and pitch over ball height.";
    for (const std::string& text : unplaced) page.description += " Not placed: " + text + ".";
    return page;
}

}  // namespace hitchwright
