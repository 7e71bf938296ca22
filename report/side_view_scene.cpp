// See side_view_scene.h.
#include "report/side_view_scene.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/add_on_lengths.h"
#include "geometry/lift_linkage.h"
#include "geometry/lower_link.h"
#include "geometry/standing_tractor.h"
#include "report/clearance_view.h"
#include "report/finding_text.h"
#include "report/outline_sketch.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(SideViewScene);

namespace {

constexpr int travel_steps = 48;
constexpr std::size_t findings_shown = 8;
constexpr double smallest_ghost_offset = 0.01;  // m; a ghost nearer than this only blurs the position it stands behind

DrawingPoint to_drawing(const Point& p) { return {p.x(), p.y()}; }

DrawingPoint side_view_of(const Vec3<double>& p) { return {p.x, p.z}; }

TractorView make_tractor_view(const Setup& setup, const MountedModel& model) {
    const StandingSetup on(setup);
    const Tractor& t = on->tractor;
    TractorView view;
    if (t.tyre.rear_radius.known) view.rear_tyre_radius = t.tyre.rear_radius.value;
    view.lower_link_pivot = to_drawing(model.linkage.lower_pivot);
    for (std::size_t i = 0; i < t.upper_link_pins.size(); ++i) {
        const NamedPoint& pin = t.upper_link_pins[i];
        if (pin.x.known && pin.z.known)
            view.upper_link_pins.push_back({{pin.x.value, pin.z.value}, pin.name, i == model.tractor_pin});
    }
    if (t.pto.stub_x.known && t.pto.stub_z.known)
        view.pto_stub_end = DrawingPoint{t.pto.stub_x.value, t.pto.stub_z.value};
    view.pto_slope = t.pto.stub_slope.value_or(0.0);
    const bool drawbar_there = t.drawbar.end_x.known && t.drawbar.end_z.known && t.drawbar.out_of_the_way != YesNo::yes;
    if (drawbar_there) view.drawbar_end = DrawingPoint{t.drawbar.end_x.value, t.drawbar.end_z.value};
    for (const NamedPoint& p : t.cab_line) {
        if (p.x.known && p.z.known) view.cab_line.push_back({p.x.value, p.z.value});
    }
    return view;
}

/// Lift arm and rod at a ball height, when all their readings are there and close.
std::optional<LiftParts> find_lift_parts(const Setup& setup, const MountedModel& model, double ball_height) {
    Setup resolved = setup;
    resolved.tractor = resolve_tractor(setup, model.rod_holes, &model.pin_decision).as_set;
    const Tractor& t = resolved.tractor;
    const LowerLinkReadings& link = t.lower_link;
    const bool known = has_lift_linkage(t) && link.half_spread_at_pivot.known && link.half_spread_at_ball.known &&
                       link.length.known;
    if (!known) return std::nullopt;
    const TractorLift whole = make_tractor_lift(t, find_lower_link_length(resolved));
    if (!whole.closure.closes()) return std::nullopt;
    const LiftLinkage& lift = whole.linkage;
    const LiftPose pose = solve_lift_from_ball(lift, ball_height);
    if (!pose.closure.closes()) return std::nullopt;
    return LiftParts{to_drawing(lift.arm_pivot), to_drawing(pose.arm_end), to_drawing(pose.rod_pin)};
}

/// Points of the implement that the sketch goes through, in the frame of the linkage. What stands above the input shaft (a gearbox) would
/// hide the shaft and is only marked.
std::vector<DrawingPoint> outline_points(const Implement& implement, const MountedModel& model) {
    std::vector<DrawingPoint> points;
    const bool has_input = implement.pic.fitted && implement.pic.z.known;
    for (const ImplementPoint& p : implement.points) {
        const bool above_input = has_input && p.z.value > implement.pic.z.value;
        if (p.x.known && p.z.known && !above_input) points.push_back(to_drawing(find_body_point(model, p.x, p.z)));
    }
    for (const GroundContact& c : implement.ground_contacts) {
        if (c.x.known && c.z.known && c.radius.value_or(0.0) == 0.0) points.push_back(to_drawing(find_body_point(model, c.x, c.z)));
    }
    return points;
}

void place_shaft(PoseView& view, const Setup& setup, const MountedModel& model, const PoseReport& report) {
    const PicReadings& pic = setup.implement.pic;
    if (pic.fitted && pic.x.known && pic.z.known) {
        view.input_shaft_end = to_drawing(place_point(report.pose, find_body_point(model, pic.x, pic.z)));
    }
    if (!model.has_shaft) return;
    const KernelPose<double> kernel = solve_kernel<double>(model.linkage, report.pose.ball_height, report.upper_length);
    const ShaftState<double> shaft = find_shaft_state(model.ends, kernel);
    view.tractor_joint = side_view_of(shaft.from);
    view.implement_joint = side_view_of(shaft.to);
    view.shaft_length = report.shaft_length;
    view.tractor_joint_angle = report.tractor_angle;
    view.implement_joint_angle = report.implement_angle;
}

PoseView make_pose_view(const Setup& setup, const MountedModel& model, const PoseReport& report) {
    PoseView view;
    const PlanarPose& pose = report.pose;
    view.lower_hitch_point = to_drawing(pose.ball);
    view.upper_hitch_point = to_drawing(pose.mast_pin);
    view.pitch = pose.pitch;
    const std::vector<MastPin>& pins = setup.implement.mast_pins;
    for (std::size_t i = 0; i < pins.size(); ++i) {
        if (pins[i].height.known) {
            const Point at = find_body_point(model, make_reading(pins[i].offset.value_or(0.0)), pins[i].height);
            view.mast_pins.push_back({to_drawing(place_point(pose, at)), pins[i].name, i == model.mast_pin});
        }
    }
    if (model.has_coupler)
        view.coupler = CouplerView{to_drawing(place_point(pose, model.coupled.lower_hook)),
                                   to_drawing(place_point(pose, model.coupled.top_hook))};
    const double work = model.has_working_height ? model.working_height : model.travel.low;
    std::vector<DrawingPoint> outline = sketch_outline(outline_points(setup.implement, model), -work);
    for (DrawingPoint& p : outline) p = to_drawing(place_point(pose, Point(p.x, p.z)));
    if (!outline.empty()) view.outlines.push_back(outline);
    for (const GroundContact& c : setup.implement.ground_contacts) {
        if (c.x.known && c.z.known)
            view.wheels.push_back({to_drawing(place_point(pose, find_body_point(model, c.x, c.z))), c.radius.value_or(0.0)});
    }
    for (const ImplementPoint& p : setup.implement.points) {
        if (p.x.known && p.z.known) view.points.push_back(to_drawing(place_point(pose, find_body_point(model, p.x, p.z))));
    }
    view.lift = find_lift_parts(setup, model, pose.ball_height);
    place_shaft(view, setup, model, report);
    return view;
}

void add_travel(SideViewScene& scene, const Setup& setup, const MountedModel& model) {
    for (int i = 0; i <= travel_steps; ++i) {
        const double h = model.travel.low + (model.travel.high - model.travel.low) * i / travel_steps;
        const PoseReport report = make_pose_report(setup, model, h);
        if (!report.pose.closes) continue;
        scene.ball_travel.push_back(to_drawing(report.pose.ball));
        PoseView view;
        place_shaft(view, setup, model, report);
        if (view.implement_joint) scene.joint_travel.push_back(*view.implement_joint);
    }
}

std::optional<double> when_positive(double value) { return value > 0.0 ? std::optional(value) : std::nullopt; }

bool recommends_cut(const CutPlan& plan) {
    return plan.answer == CutAnswer::cut_to_aim || plan.answer == CutAnswer::cut_short_of_aim ||
           plan.answer == CutAnswer::cut_between_marks;
}

std::string at_height(double height, UnitSystem units) { return "ball height " + format_length(height, units); }

std::vector<ShaftRow> make_shaft_rows(const ShaftAnalysis& shaft, const TelescopingHalves& halves, UnitSystem units) {
    const TravelExtreme &shortest = shaft.travel.shortest, &longest = shaft.travel.longest;
    ShaftRow least{"Shortest", at_height(shortest.height, units), shortest.value, halves, {}, {}, {}};
    ShaftRow most{"Longest", at_height(longest.height, units), longest.value, halves, {}, {}, {}};
    if (!shaft.has_plan) return {least, most};
    least.gap_needed = when_positive(shaft.limits.gap_required);
    most.overlap_needed = when_positive(shaft.plan.uncut.overlap_needed);
    const CutHalves cut = cut_halves(halves, shaft.plan.recommended);
    if (!recommends_cut(shaft.plan) || cut.status != CutStatus::ok) return {least, most};
    ShaftRow after = least;
    least.title += ", as it is";
    least.cut_marks = shaft.plan.recommended;
    after.title += ", after the cut";
    after.halves = cut.halves;
    most.title += ", after the cut";
    most.halves = cut.halves;
    most.overlap_needed = when_positive(shaft.plan.after.overlap_needed);
    return {least, after, most};
}

ShaftView make_shaft_view(const Setup& setup, const MountedModel& model, const Analysis& analysis, UnitSystem units) {
    ShaftView view;
    if (setup.driveline.guard_radius.known) view.guard_radius = setup.driveline.guard_radius.value;
    if (!model.has_halves) return view;
    view.halves = model.halves;
    view.halves_assumed = model.uncut.assumption != HalvesAssumption::none;
    if (analysis.shaft) view.rows = make_shaft_rows(*analysis.shaft, model.halves, units);
    return view;
}

/// Everything that forbids, is not known, must change or is a condition, worst first, but not what the verdict has
/// said.
std::vector<std::string> make_finding_lines(const Setup& setup, const Analysis& analysis, std::string_view already_said,
                                            UnitSystem units) {
    const FindingContext context = make_finding_context(setup, analysis, units);
    std::vector<std::string> lines;
    std::size_t left_out = 0;
    for (const Finding& finding : analysis.findings) {
        if (finding.severity == Severity::watch || finding.severity == Severity::good) continue;
        const FindingText text = describe_finding(finding, context);
        if (already_said.find(text.headline) != std::string_view::npos) continue;
        if (lines.size() < findings_shown)
            lines.push_back(text.mark + ": " + text.headline + ".");
        else
            ++left_out;
    }
    if (left_out > 0) lines.push_back(fmt::format("And {} more; the fit report has all.", left_out));
    return lines;
}

std::string make_subtitle(const Setup& setup, const MountedModel* model) {
    const auto hole = [](const std::string& name, const char* what) {
        return name.empty() ? std::string() : fmt::format(", {} {}", what, name);
    };
    std::string pin = setup.choices.upper_link_pin, mast = setup.choices.mast_pin;
    if (model != nullptr) {
        pin = setup.tractor.upper_link_pins[model->tractor_pin].name;
        mast = setup.implement.mast_pins[model->mast_pin].name;
    }
    std::string text = setup.tractor.name + hole(pin, "hole") + "; " + setup.implement.name + hole(mast, "mast hole");
    if (model != nullptr && setup.tractor.lift_rod_holes.size() > 1) text += hole(model->rod_hole, "lift-rod hole");
    if (setup.has_driveline)
        text += "; " + setup.driveline.name;
    else if (!setup.implement.pic.fitted)
        text += "; no PTO input, no shaft";
    if (!setup.rules.name.empty()) text += "; rules: " + setup.rules.name;
    return text;
}

bool has_travel(const Analysis& analysis) {
    return analysis.linkage && analysis.linkage->low.pose.closes && analysis.linkage->high.pose.closes;
}

/// Tractor, link and mast where they do not meet, when that is what is wrong.
void add_open_linkage(SideViewScene& scene, const Setup& setup, const Analysis& analysis, UnitSystem units) {
    scene.open = find_open_linkage(setup);
    if (!scene.open) return;
    scene.tractor = make_tractor_view(setup, make_mounted_model(setup).model);
    const auto cannot_close = [](const Finding& f) { return f.kind == FindingKind::linkage_cannot_close; };
    const auto found = std::find_if(analysis.findings.begin(), analysis.findings.end(), cannot_close);
    if (found != analysis.findings.end())
        scene.open->words = describe_finding(*found, make_finding_context(setup, analysis, units)).headline;
}

const char* const no_position_words =
    "No picture: a reading of the linkage is missing or the linkage cannot close; the findings name it.";

}  // namespace

SideViewScene make_bare_scene(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units) {
    SideViewScene scene;
    scene.units = units;
    if (!has_travel(analysis)) return scene;
    const MountedModel& model = analysis.linkage->model;
    scene.tractor = make_tractor_view(setup, model);
    scene.working = make_pose_view(setup, model, make_pose_report(setup, model, std::clamp(ball_height, model.travel.low, model.travel.high)));
    return scene;
}

SideViewScene make_pose_scene(const Setup& setup, const Analysis& analysis, double ball_height, UnitSystem units) {
    SideViewScene scene;
    scene.units = units;
    if (!has_travel(analysis)) {
        scene.no_position = no_position_words;
        add_open_linkage(scene, setup, analysis, units);
        return scene;
    }
    const LinkageAnalysis& linkage = *analysis.linkage;
    const MountedModel& model = linkage.model;
    const double height = std::clamp(ball_height, model.travel.low, model.travel.high);
    scene.tractor = make_tractor_view(setup, model);
    scene.working = make_pose_view(setup, model, make_pose_report(setup, model, height));
    scene.position_words = at_height(height, units);
    const bool has_work = model.has_working_height && linkage.working.pose.closes;
    if (has_work && std::fabs(model.working_height - height) > smallest_ghost_offset) {
        scene.lifted = make_pose_view(setup, model, linkage.working);
        scene.lifted_words = "at work";
    }
    scene.upper_link_length = model.linkage.upper_length;
    add_travel(scene, setup, model);
    if (model.has_shaft) scene.shaft = make_shaft_view(setup, model, analysis, units);
    return scene;
}

bool ghost_other(SideViewScene& scene, const Setup& other, const Analysis& analysis, double ball_height, std::string words) {
    if (!scene.working || !has_travel(analysis)) return false;
    const MountedModel& model = analysis.linkage->model;
    const double height = std::clamp(ball_height, model.travel.low, model.travel.high);
    scene.lifted = make_pose_view(other, model, make_pose_report(other, model, height));
    scene.lifted_tractor = make_tractor_view(other, model);
    scene.lifted_words = std::move(words);
    return true;
}

SideViewScene make_side_view_scene(const Setup& setup, const Analysis& analysis, const SideViewWords& words,
                                   UnitSystem units) {
    SideViewScene scene;
    scene.units = units;
    scene.verdict = analysis.verdict;
    scene.verdict_sentence = words.verdict_sentence;
    scene.cautions = words.cautions;
    scene.caption = words.caption;
    scene.findings = make_finding_lines(setup, analysis, words.verdict_sentence, units);
    const bool closes = has_travel(analysis);
    scene.subtitle = make_subtitle(setup, closes ? &analysis.linkage->model : nullptr);
    if (!closes) {
        scene.no_position = no_position_words;
        return scene;
    }
    const MountedModel& model = analysis.linkage->model;
    scene.tractor = make_tractor_view(setup, model);
    const bool has_work = model.has_working_height && analysis.linkage->working.pose.closes;
    scene.working = make_pose_view(setup, model, has_work ? analysis.linkage->working : analysis.linkage->low);
    if (!has_work) scene.position_words = "lowest position (no working height given)";
    if (words.drawn_height) {
        scene.working = make_pose_view(setup, model, make_pose_report(setup, model, *words.drawn_height));
        scene.position_words = "position at the ball height asked for";
    }
    scene.lifted = make_pose_view(setup, model, analysis.linkage->high);
    scene.upper_link_length = model.linkage.upper_length;
    add_travel(scene, setup, model);
    if (model.has_shaft) scene.shaft = make_shaft_view(setup, model, analysis, units);
    scene.clearances = make_clearance_views(setup, model, *scene.tractor, analysis.clearances, units);
    scene.notes.push_back(
        "Outline of the implement sketched through its measured points (crosses); widths of links and tubes are not to "
        "scale.");
    return scene;
}

}  // namespace hitchwright
