#include "report/travel_chart.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "geometry/implement_heights.h"
#include "geometry/joint_findings.h"
#include "geometry/pose_report.h"
#include "report/page_blocks.h"
#include "report/page_header.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr int samples = 121;
constexpr double block_gap_mm = 2.0, column_gap_mm = 4.0;
constexpr double least_panel_mm = 22.0;
constexpr std::size_t most_in_one_column = 3;
constexpr double endless = std::numeric_limits<double>::infinity();
constexpr std::size_t longest_name = 24;
constexpr double most_shown_share = 3.0;  // of the mass or the least that is carried, whichever is more

/// Values at even steps of x.
struct Samples {
    const Setup& setup;
    const Analysis* analysis = nullptr;    ///< of a mounted set-up
    const DrawnAnalysis* drawn = nullptr;  ///< or of a drawn one
    std::vector<PoseReport> poses = {};
    std::vector<Attitude> attitudes = {};

    ChartLine line(std::string name, Role role, TravelQuantity quantity, std::string brief = {}) const {
        ChartLine l{std::move(name), role, {}, std::move(brief)};
        const auto add = [&](double x, const std::optional<double>& y) {
            l.points.push_back({x, y.value_or(std::numeric_limits<double>::quiet_NaN())});
        };
        for (const PoseReport& pose : poses)
            add(pose.pose.ball.y(), find_travel_quantity(setup, *analysis, pose, quantity));
        for (const Attitude& a : attitudes) add(a.yaw, find_turn_quantity(*drawn, a, quantity));
        return l;
    }
};

ChartMark mark_extreme(const char* what, const TravelExtreme& e, const std::string& shown, const SafeWords& w) {
    return {fmt::format("{} {} at {}", what, shown, w.place(e.height)), {e.height, e.bound}};
}

/// What shaft panels are held to.
struct ShaftLimits {
    TelescopingHalves halves;
    double gap = 0.0, overlap = 0.0;
    double in_work = 0.0;  ///< overlap asked for over the working band, where that is more; 0: it is not
    HeightRange work = {};
};

/// A limit that holds in the working band alone.
void add_limit_in_work(ChartPanel& p, const ShaftLimits& s, double level, std::string words) {
    if (s.in_work <= 0.0) return;
    p.lines.push_back({std::move(words), Role::cut, {{s.work.low, level}, {s.work.high, level}}, "in work"});
}

void add_length_limits(ChartPanel& p, const ShaftLimits& s, const SafeWords& w) {
    const double closed = s.halves.closed_length, apart = find_overlap(s.halves, 0.0);
    p.limits = {{fmt::format("not shorter: closed length and a gap of {}", w.need(s.gap)), closed + s.gap, "gap"},
                {fmt::format("not longer: {} of overlap left", w.need(s.overlap)), apart - s.overlap, "overlap"}};
    p.zones = {{closed, closed + s.gap, Role::separation},
               {-endless, closed, Role::clash},
               {apart - s.overlap, apart, Role::separation},
               {apart, endless, Role::clash}};
    add_limit_in_work(p, s, apart - s.in_work, fmt::format("not longer in work: {} of overlap", w.need(s.in_work)));
}

ChartPanel make_length_panel(const Samples& rows, const std::optional<ShaftLimits>& limits, const SafeWords& w) {
    ChartPanel p;
    p.title = "Shaft length between joint centres";
    p.lines = {rows.line("shaft length", Role::lower_link, TravelQuantity::shaft_length, "length")};
    if (limits) add_length_limits(p, *limits, w);
    return p;
}

ChartPanel make_overlap_panel(const Samples& rows, const ShaftLimits& limits, const SafeWords& w) {
    ChartPanel p;
    p.title = "Overlap of the tubes";
    p.lines = {rows.line("overlap", Role::lower_link, TravelQuantity::overlap)};
    p.limits = {{fmt::format("at least {} needed", w.need(limits.overlap)), limits.overlap, "needed"}};
    p.zones = {{0.0, limits.overlap, Role::separation}, {-endless, 0.0, Role::clash}};
    add_limit_in_work(p, limits, limits.in_work, fmt::format("in work at least {} needed", w.need(limits.in_work)));
    return p;
}

void add_limits(ChartPanel& p, const JointLimits& l, const char* joint, double greatest) {
    bool passed = true;  // the first limit that is not reached is the last one shown
    const auto add = [&](const LimitView& limit, const char* words, const char* brief) {
        const bool same = !p.limits.empty() && p.limits.back().level == limit.value;
        if (!limit.set || !passed || same) return;
        passed = greatest >= limit.value;
        p.limits.push_back(
            {fmt::format("{}{}: {}", joint, format_angle(limit.value, Rounding::down), words), limit.value, brief});
    };
    add(l.free, "no work above", "no work");
    add(l.pto_off, "PTO off above", "PTO off");
    add(l.stop, "never reached", "stop");
}

/// `at_tractor`, `at_implement`: greatest angles of the lines, rad.
ChartPanel make_angle_panel(const Setup& setup, const Samples& rows, double at_tractor, double at_implement) {
    ChartPanel p;
    p.title = "Joint angles";
    p.dimension = Dimension::angle;
    p.lines = {rows.line("tractor joint", Role::lower_link, TravelQuantity::tractor_joint, "front"),
               rows.line("implement joint (dotted)", Role::travel_arc, TravelQuantity::implement_joint, "rear")};
    const JointLimits front = find_joint_limits(setup, JointEnd::tractor),
                      rear = find_joint_limits(setup, JointEnd::implement);
    const bool same = front.free == rear.free && front.pto_off == rear.pto_off && front.stop == rear.stop;
    if (same) {
        add_limits(p, front, "", std::max(at_tractor, at_implement));
    } else {
        add_limits(p, front, "tractor joint ", at_tractor);
        add_limits(p, rear, "implement joint ", at_implement);
    }
    return p;
}

ChartPanel make_pitch_panel(const Analysis& a, const Samples& rows) {
    ChartPanel p;
    p.title = "Pitch, rear up is positive";
    p.dimension = Dimension::angle;
    p.lines = {rows.line("pitch", Role::implement_outline, TravelQuantity::pitch)};
    const PoseReport& working = a.linkage->working;
    if (working.pose.closes) {
        p.marks = {{fmt::format("working, {}", format_angle(working.pose.pitch)),
                    {working.pose.ball.y(), working.pose.pitch}}};
    }
    return p;
}

ChartPanel make_height_panel(const Setup& setup, const Analysis& a, const Samples& rows, const SafeWords& w) {
    ChartPanel p;
    p.title = "Implement over level ground";
    const std::vector<HeldPoint> points = list_held_points(setup.implement, a.linkage->model);
    const PlanarPose& top = a.linkage->high.pose;
    const std::string tail = printable_text(find_tail_height(points, top)->name, longest_name);
    p.lines = {rows.line("tail: " + tail, Role::implement_outline, TravelQuantity::tail_height, "tail"),
               rows.line("lowest point (dotted)", Role::travel_arc, TravelQuantity::lowest_height, "lowest")};
    const double at_top = find_tail_height(points, top)->height;
    const std::string raised = at_top < 0.0 ? w.need(-at_top) + " below the ground" : w.have(at_top);
    if (top.closes) p.marks = {{"fully raised " + raised, {top.ball.y(), at_top}}};
    p.limits = {{"the ground", 0.0, "ground", Role::ground}};
    return p;
}

ChartPanel make_lift_panel(const Analysis& a, const Samples& rows, UnitSystem units) {
    ChartPanel p;
    p.title = "What the lift carries at the load";
    p.dimension = Dimension::mass;
    p.lines = {rows.line("carries", Role::lower_link, TravelQuantity::capacity)};
    const LiftStudy& lift = *a.lift;
    if (lift.mass_known) {
        p.limits = {{"the implement weighs " + format_mass(lift.mass, units, Rounding::up), lift.mass, "weighs"}};
        p.zones = {{-endless, lift.mass, Role::separation}};
    }
    // Where the load hardly rises the lift carries any mass: nothing anybody could read.
    double least = endless;
    for (const ChartPoint& point : p.lines.front().points)
        least = std::isfinite(point.y) ? std::min(least, point.y) : least;
    p.y_most = most_shown_share * std::max(least, lift.mass_known ? lift.mass : 0.0);
    if (lift.least_capacity)
        p.marks = {{"least " + format_mass(lift.least_capacity->bound, units, Rounding::down),
                    {lift.least_capacity->height, lift.least_capacity->bound}}};
    return p;
}

std::vector<CurvePanel> make_shaft_panels(const Setup& setup, const Analysis& a, const Samples& rows,
                                          const SafeWords& w) {
    const ShaftAnalysis& s = *a.shaft;
    std::optional<ShaftLimits> limits;
    if (s.has_plan) {
        limits = ShaftLimits{a.linkage->model.halves, s.limits.gap_required, s.plan.uncut.overlap_needed};
        if (s.plan.uncut.overlap_in_work_needed > limits->overlap) {
            limits->in_work = s.plan.uncut.overlap_in_work_needed;
            limits->work = a.linkage->model.working_band;
        }
    }
    std::vector<CurvePanel> panels{{CurveKind::shaft_length, make_length_panel(rows, limits, w)}};
    panels.back().chart.marks = {mark_extreme("shortest", s.travel.shortest, w.have(s.travel.shortest.bound), w),
                                 mark_extreme("longest", s.travel.longest, w.need(s.travel.longest.bound), w)};
    const TravelExtreme &front = s.travel.tractor_angle, &rear = s.travel.implement_angle;
    panels.push_back({CurveKind::joint_angles, make_angle_panel(setup, rows, front.bound, rear.bound)});
    panels.back().chart.marks = {mark_extreme("tractor", front, format_angle(front.bound, Rounding::up), w),
                                 mark_extreme("implement", rear, format_angle(rear.bound, Rounding::up), w)};
    if (!limits) return panels;
    panels.push_back({CurveKind::overlap, make_overlap_panel(rows, *limits, w)});
    const double least = find_overlap(limits->halves, s.travel.longest.bound);
    panels.back().chart.marks = {
        {fmt::format("{} {} at {}", least < 0.0 ? "apart by" : "least", least < 0.0 ? w.need(-least) : w.have(least),
                     w.place(s.travel.longest.height)),
         {s.travel.longest.height, least}}};
    return panels;
}

double find_greatest(const ChartLine& line) {
    double most = 0.0;
    for (const ChartPoint& p : line.points) most = std::isfinite(p.y) ? std::max(most, p.y) : most;
    return most;
}

bool has_values(const ChartLine& line) {
    return std::any_of(line.points.begin(), line.points.end(), [](const ChartPoint& p) { return std::isfinite(p.y); });
}

/// Panels in one column, or in two where one would be too low for them.
std::vector<PageRect> lay_out_panels(const PageRect& area, std::size_t count) {
    const std::size_t columns = count > most_in_one_column ? 2 : 1, rows = (count + columns - 1) / columns;
    const double width =
        (area.width() - column_gap_mm * static_cast<double>(columns - 1)) / static_cast<double>(columns);
    const double height = area.height() / static_cast<double>(rows);
    std::vector<PageRect> places;
    for (std::size_t i = 0; i < count && height >= least_panel_mm; ++i) {
        const std::size_t row = i / columns, column = i % columns;
        const double left = area.left + static_cast<double>(column) * (width + column_gap_mm);
        const double top = area.top + static_cast<double>(row) * height;
        places.push_back({left, top, left + width, top + height - block_gap_mm});
    }
    return places;
}

/// Of the model that was analysed: direct readings may have moved it off the files.
std::vector<PoseReport> list_poses(const Setup& setup, const MountedModel& m) {
    std::vector<PoseReport> poses;
    const HeightRange& t = m.travel;
    for (int i = 0; i < samples; ++i)
        poses.push_back(make_pose_report(setup, m, i + 1 == samples ? t.high : t.low + (t.high - t.low) * i / (samples - 1)));
    return poses;
}

/// The numbers of a panel's lines, in their order.
std::vector<CurveNumber> list_numbers(CurveKind kind) {
    switch (kind) {
        case CurveKind::pitch: return {CurveNumber::pitch};
        case CurveKind::shaft_length: return {CurveNumber::shaft_length};
        case CurveKind::joint_angles: return {CurveNumber::tractor_joint, CurveNumber::implement_joint};
        case CurveKind::overlap: return {CurveNumber::overlap};
        case CurveKind::tail_height:
        case CurveKind::lift: break;
    }
    return {};
}

void add_bands(CurvePanel& panel, const CurveBands& bands) {
    constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
    const std::vector<CurveNumber> numbers = list_numbers(panel.kind);
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        ChartBand shaded;
        for (const ChartPoint& p : panel.chart.lines[i].points) {
            const std::optional<ErrorBand> band = bands.find(p.x, numbers[i]);
            // A joint does not bend by less than nothing.
            const double low = band ? p.y - band->below : unknown;
            shaded.sections.push_back({p.x, panel.kind == CurveKind::joint_angles ? std::max(low, 0.0) : low, band ? p.y + band->above : unknown});
        }
        panel.chart.bands.push_back(std::move(shaded));
    }
}

bool has_bands(const std::vector<CurvePanel>& panels) {
    return std::any_of(panels.begin(), panels.end(), [](const CurvePanel& p) { return !p.chart.bands.empty(); });
}

}  // namespace

std::string_view curve_name(CurveKind kind) {
    switch (kind) {
        case CurveKind::pitch:
            return "pitch";
        case CurveKind::tail_height:
            return "tail height";
        case CurveKind::shaft_length:
            return "shaft length";
        case CurveKind::joint_angles:
            return "joint angles";
        case CurveKind::overlap:
            return "overlap";
        case CurveKind::lift:
            return "lift";
    }
    return "pitch";
}

std::vector<CurvePanel> make_travel_panels(const Setup& setup, const Analysis& analysis, UnitSystem units, const CurveBands* bands) {
    std::vector<CurvePanel> panels;
    if (!analysis.linkage) return panels;
    const Samples rows{setup, &analysis, nullptr, list_poses(setup, analysis.linkage->model)};
    const SafeWords w{units};
    panels.push_back({CurveKind::pitch, make_pitch_panel(analysis, rows)});
    if (!list_held_points(setup.implement, analysis.linkage->model).empty())
        panels.push_back({CurveKind::tail_height, make_height_panel(setup, analysis, rows, w)});
    if (analysis.shaft) {
        for (CurvePanel& p : make_shaft_panels(setup, analysis, rows, w)) panels.push_back(std::move(p));
    }
    if (analysis.lift) {
        ChartPanel lift = make_lift_panel(analysis, rows, units);
        if (has_values(lift.lines.front())) panels.push_back({CurveKind::lift, std::move(lift)});
    }
    for (CurvePanel& p : panels) {
        if (bands != nullptr) add_bands(p, *bands);
        p.chart.x_range = analysis.linkage->model.travel;
        p.chart.shaded = analysis.linkage->model.working_band;
    }
    return panels;
}

std::vector<CurvePanel> make_turn_panels(const Setup& setup, const DrawnAnalysis& drawn, double pitch, double roll,
                                         UnitSystem units) {
    std::vector<CurvePanel> panels;
    if (!drawn.model.has_shaft) return panels;
    Samples rows{setup, nullptr, &drawn};
    const AngleRange& yaw = drawn.model.box.yaw;
    for (int i = 0; i < samples; ++i)
        rows.attitudes.push_back({pitch, roll, yaw.low + (yaw.high - yaw.low) * i / (samples - 1)});
    const SafeWords w{units};
    std::optional<ShaftLimits> limits;
    if (drawn.has_plan)
        limits = ShaftLimits{drawn.model.halves, drawn.limits.gap_required, drawn.plan.uncut.overlap_needed};
    panels.push_back({CurveKind::shaft_length, make_length_panel(rows, limits, w)});
    const auto greatest = [&](TravelQuantity q) { return find_greatest(rows.line("", Role::label, q)); };
    panels.push_back({CurveKind::joint_angles, make_angle_panel(setup, rows, greatest(TravelQuantity::tractor_joint),
                                                                greatest(TravelQuantity::implement_joint))});
    if (limits) panels.push_back({CurveKind::overlap, make_overlap_panel(rows, *limits, w)});
    for (CurvePanel& p : panels) {
        p.chart.x_dimension = Dimension::angle;
        p.chart.x_name = "turn, right is +";
        p.chart.x_range = {yaw.low, yaw.high};
    }
    return panels;
}

PagePicture compose_travel_chart(const SideViewScene& scene, const std::vector<CurvePanel>& panels,
                                 const PageSetup& setup, const TextMeasure& measure) {
    PageRect area;
    PagePicture page = start_page(scene, setup, measure, area);
    std::string words =
        "Over the travel of the lift. The grey band is where the shaft is driven. Lines are drawn through "
        "121 heights; the marked extremes are bounded over all heights. Hatched: too little is left; crossed: "
        "the shaft bottoms out or comes apart.";
    if (has_bands(panels)) words += " Shaded about a line: where it may be in truth (95 %), by the readings' errors.";
    if (panels.empty()) words = "No lines: a reading of the linkage is missing, or the linkage cannot close.";
    area.top = add_text_block(page, make_text_block(words, {2.6, false}, area.width(), measure), {area.left, area.top},
                              Role::legend, measure) +
               block_gap_mm;
    if (panels.empty()) return page;
    std::vector<std::string> unplaced;
    const std::vector<PageRect> places = lay_out_panels(area, panels.size());
    std::string names;
    for (std::size_t i = 0; i < places.size(); ++i) {
        for (std::string& text : add_chart(page, panels[i].chart, places[i], scene.units, measure))
            unplaced.push_back(std::move(text));
        names += fmt::format("{}{}", i == 0 ? "" : ", ", curve_name(panels[i].kind));
    }
    page.description += fmt::format(" Lines over ball height: {}.", names);
    for (const std::string& text : unplaced) page.description += " Not placed: " + text + ".";
    return page;
}

}  // namespace hitchwright
