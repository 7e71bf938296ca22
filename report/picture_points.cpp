// See picture_points.h.
#include "report/picture_points.h"

#include <cmath>

#include "geometry/attitude.h"
#include "geometry/lift_linkage.h"
#include "geometry/pose_report.h"
#include "geometry/standing_tractor.h"
#include "report/side_view_scene.h"

namespace hitchwright {
namespace {

DrawingPoint to_drawing(const Point& p) { return {p.x(), p.y()}; }

std::string item_key(const char* list, const std::string& name, std::size_t index) {
    return std::string(list) + "[" + (name.empty() ? std::to_string(index + 1) : name) + "].";
}

const std::string& name_or(const std::string& name, const std::string& other) { return name.empty() ? other : name; }

/// On other tyres readings count from where their frame T has gone.
void set_frame(const TyreChange& tyres, PicturePoint& p) {
    if (!tyres.moved()) return;
    p.origin = to_drawing(tyres.place(Point::Zero()));
    p.turn = tyres.turn;
}

/// A point that two readings of the tractor place, where it is on the tyres it stands on.
PicturePoint tractor_point(const TyreChange& tyres, std::string name, const Reading& x, const Reading& z, const std::string& x_key,
                           const std::string& z_key) {
    PicturePoint p{std::move(name), {x.value, z.value}, {x_key, z_key}};
    p.drag = PointDrag::readings;
    set_frame(tyres, p);
    p.at = find_place_of(p, p.at);
    p.x_key = x_key;
    p.z_key = z_key;
    return p;
}

void add_pivot(const Setup& s, const MountedModel& m, std::vector<PicturePoint>& points) {
    const LowerLinkReadings& l = s.tractor.lower_link;
    PicturePoint p{"front pin of the lower link", to_drawing(m.linkage.lower_pivot), {"tractor.lower_link.pivot_x", "tractor.lower_link.pivot_z"}};
    if (m.pin_decision.use_pivot) {
        p.note = "Found from the readings of the ball; move those.";
    } else if (l.pivot_x.known && l.pivot_z.known) {
        p.drag = PointDrag::readings;
        p.x_key = p.keys[0];
        p.z_key = p.keys[1];
        set_frame(m.tyres, p);
    }
    points.push_back(p);
}

void add_tractor_holes(const Setup& s, const MountedModel& m, std::vector<PicturePoint>& points) {
    const std::vector<NamedPoint>& pins = s.tractor.upper_link_pins;
    for (std::size_t i = 0; i < pins.size(); ++i) {
        if (!pins[i].x.known || !pins[i].z.known) continue;
        const std::string key = item_key("tractor.upper_link_pin", pins[i].name, i);
        PicturePoint p = tractor_point(m.tyres, "upper-link hole " + name_or(pins[i].name, std::to_string(i + 1)) + " of the tractor", pins[i].x, pins[i].z,
                                       key + "x", key + "z");
        p.hole = name_or(pins[i].name, std::to_string(i + 1));
        p.hole_index = i;
        p.chosen = i == m.tractor_pin;
        if (pins.size() > 1) p.drag = p.chosen ? PointDrag::tractor_hole : PointDrag::none;
        points.push_back(p);
    }
}

void add_lift(const Setup& s, const MountedModel& m, const PoseView& pose, std::vector<PicturePoint>& points) {
    if (!pose.lift) return;
    PicturePoint pivot{"pivot of the lift arm", pose.lift->arm_pivot, {"tractor.lift_arm.pivot_x", "tractor.lift_arm.pivot_z"}};
    if (s.tractor.lift_arm.pivot_x.known && s.tractor.lift_arm.pivot_z.known) {
        pivot.drag = PointDrag::readings;
        pivot.x_key = pivot.keys[0];
        pivot.z_key = pivot.keys[1];
        set_frame(m.tyres, pivot);
    }
    points.push_back(pivot);
    points.push_back({"end of the lift arm", pose.lift->arm_end, {"tractor.lift_arm.length", "tractor.lift_rod.length"}});
    const std::string along = m.rod_hole.empty() ? "tractor.lift_rod.pin_along_link" : "tractor.lift_rod_hole[" + m.rod_hole + "].pin_along_link";
    points.push_back({"foot of the lift rod", pose.lift->rod_pin, {along, "tractor.lift_rod.length"}});
}

void add_axle(const Setup& s, std::vector<PicturePoint>& points) {
    const TyreChange tyres = find_tyre_change(s);
    const Reading& own = s.tractor.tyre.rear_radius;
    const std::string key = tyres.moved() ? "tractor.tyre_set[" + tyres.name + "].rear_radius" : "tractor.tyre.rear_radius";
    if (own.known) points.push_back({"rear axle", {0.0, tyres.moved() ? tyres.rear : own.value}, {key}});
}

void add_tractor(const Setup& s, const MountedModel& m, const PoseView& pose, std::vector<PicturePoint>& points) {
    const Tractor& t = s.tractor;
    add_axle(s, points);
    add_pivot(s, m, points);
    add_tractor_holes(s, m, points);
    add_lift(s, m, pose, points);
    if (t.pto.stub_x.known && t.pto.stub_z.known) {
        PicturePoint stub = tractor_point(m.tyres, "end of the PTO stub", t.pto.stub_x, t.pto.stub_z, "tractor.pto.stub_x", "tractor.pto.stub_z");
        stub.keys.insert(stub.keys.end(), {"tractor.pto.stub_y", "tractor.pto.stub_slope"});
        points.push_back(stub);
    }
    if (pose.tractor_joint)
        points.push_back({"front joint of the shaft", *pose.tractor_joint, {"driveline.tractor_joint.offset", "tractor.pto.stub_x", "tractor.pto.stub_z"}});
    if (t.drawbar.end_x.known && t.drawbar.end_z.known && t.drawbar.out_of_the_way != YesNo::yes)
        points.push_back(tractor_point(m.tyres, "end of the drawbar", t.drawbar.end_x, t.drawbar.end_z, "tractor.drawbar.end_x", "tractor.drawbar.end_z"));
    for (std::size_t i = 0; i < t.cab_line.size(); ++i) {
        const NamedPoint& c = t.cab_line[i];
        const std::string key = item_key("tractor.cab_line", c.name, i);
        if (c.x.known && c.z.known) points.push_back(tractor_point(m.tyres, "rear of cab or ROPS, " + name_or(c.name, std::to_string(i + 1)), c.x, c.z, key + "x", key + "z"));
    }
}

/// Where readings in frame I count from, a coupler allowed for.
struct BodyFrame {
    DrawingPoint origin;
    double turn = 0.0;
};
BodyFrame make_body_frame(const MountedModel& m, const PlanarPose& pose) {
    const Reading zero = make_reading(0.0);
    return {to_drawing(place_point(pose, find_body_point(m, zero, zero))), pose.pitch};
}

PicturePoint body_point(std::string name, const BodyFrame& frame, double x, double z, const std::string& x_key, const std::string& z_key) {
    PicturePoint p{std::move(name), {}, {x_key, z_key}};
    p.x_key = x_key;
    p.z_key = z_key;
    p.origin = frame.origin;
    p.turn = frame.turn;
    p.drag = PointDrag::readings;
    p.at = find_place_of(p, {x, z});
    return p;
}

void add_mast_holes(const Setup& s, const MountedModel& m, const BodyFrame& frame, std::vector<PicturePoint>& points) {
    const std::vector<MastPin>& pins = s.implement.mast_pins;
    for (std::size_t i = 0; i < pins.size(); ++i) {
        if (!pins[i].height.known) continue;
        const std::string key = item_key("implement.mast_pin", pins[i].name, i);
        PicturePoint p = body_point("mast hole " + name_or(pins[i].name, std::to_string(i + 1)), frame, pins[i].offset.value_or(0.0), pins[i].height.value,
                                    key + "offset", key + "height");
        p.hole = name_or(pins[i].name, std::to_string(i + 1));
        p.hole_index = i;
        p.chosen = i == m.mast_pin;
        if (pins.size() > 1) p.drag = p.chosen ? PointDrag::mast_hole : PointDrag::none;
        points.push_back(p);
    }
}

void add_implement(const Setup& s, const MountedModel& m, const PlanarPose& pose, const PoseView& view, std::vector<PicturePoint>& points) {
    const BodyFrame frame = make_body_frame(m, pose);
    PicturePoint ball{"lower hitch point, ball end of the lower link", to_drawing(pose.ball), {"tractor.lower_link.length", "tractor.lower_link.half_spread_at_ball"}};
    ball.drag = PointDrag::lift;
    points.push_back(ball);
    if (m.has_coupler) {
        points.push_back({"coupler's own pin for the upper link", view.upper_hitch_point, {"coupler.pin_height", "coupler.pin_offset"}});
        points.push_back({"lower hook of the coupler", view.coupler->lower_hook, {"coupler.set_back", "coupler.hook_rise"}});
        points.push_back({"top hook of the coupler", view.coupler->top_hook, {"coupler.hook_height", "coupler.hook_offset"}});
    }
    add_mast_holes(s, m, frame, points);
    const PicReadings& pic = s.implement.pic;
    if (pic.fitted && pic.x.known && pic.z.known) {
        PicturePoint end = body_point("end of the input shaft", frame, pic.x.value, pic.z.value, "implement.pic.x", "implement.pic.z");
        end.keys.insert(end.keys.end(), {"implement.pic.y", "implement.pic.slope"});
        points.push_back(end);
    }
    if (view.implement_joint)
        points.push_back({"rear joint of the shaft", *view.implement_joint, {"driveline.implement_joint.offset", "implement.pic.x", "implement.pic.z"}});
    for (std::size_t i = 0; i < s.implement.points.size(); ++i) {
        const ImplementPoint& p = s.implement.points[i];
        const std::string key = item_key("implement.point", p.name, i);
        if (!p.x.known || !p.z.known) continue;
        points.push_back(body_point(name_or(p.name, "point " + std::to_string(i + 1)), frame, p.x.value, p.z.value, key + "x", key + "z"));
        points.back().keys.push_back(key + "half_width");
    }
    for (std::size_t i = 0; i < s.implement.ground_contacts.size(); ++i) {
        const GroundContact& c = s.implement.ground_contacts[i];
        const std::string key = item_key("implement.ground_contact", c.name, i);
        if (!c.x.known || !c.z.known) continue;
        points.push_back(body_point(name_or(c.name, "wheel or skid " + std::to_string(i + 1)), frame, c.x.value, c.z.value, key + "x", key + "z"));
        if (c.radius.known) points.back().keys.push_back(key + "radius");
    }
}

/// A point of frame I of a drawn implement in frame T.
Eigen::Vector3d place_drawn(const DrawnModel& m, const Attitude& a, double x, double y, double z) {
    const Vec3<double>& pin = m.driveline.pin;
    return Eigen::Vector3d(pin.x, pin.y, pin.z) + make_rotation(a) * Eigen::Vector3d(x, y, z);
}

void add_drawbar_pins(const Setup& s, const DrawnModel& m, const auto& flat, std::vector<PicturePoint>& points) {
    const StandingSetup on(s);
    const std::vector<DrawbarPin>&pins = on->tractor.drawbar_pins, &read = s.tractor.drawbar_pins;
    for (std::size_t i = 0; i < pins.size(); ++i) {
        if (!pins[i].length.known) continue;
        const std::string key = item_key("tractor.drawbar_pin", pins[i].name, i);
        // Each position may have a height of its own; where it has none the drawbar stays as high as it is.
        const double raised = pins[i].top_height.known && i != m.pin ? pins[i].top_height.value - m.drawbar_top : 0.0;
        const double behind = pins[i].length.value - m.drawbar_length;
        PicturePoint p{"drawbar position " + name_or(pins[i].name, std::to_string(i + 1)),
                       flat(Eigen::Vector3d(m.driveline.pin.x + behind, m.driveline.pin.y, m.driveline.pin.z + raised)), {key + "length"}};
        p.hole = name_or(pins[i].name, std::to_string(i + 1));
        p.hole_index = i;
        p.chosen = i == m.pin;
        if (p.chosen && pins.size() > 1) p.drag = PointDrag::drawbar_pin;
        if (read[i].top_height.known) p.keys.push_back(key + "top_height");
        else p.keys.insert(p.keys.end(), {"tractor.drawbar.top_height", "tractor.drawbar.drop"});
        points.push_back(p);
    }
}

}  // namespace

DrawingPoint find_readings_at(const PicturePoint& point, DrawingPoint place) {
    const double dx = place.x - point.origin.x, dz = place.z - point.origin.z, c = std::cos(point.turn), s = std::sin(point.turn);
    return {c * dx + s * dz, c * dz - s * dx};
}

DrawingPoint find_place_of(const PicturePoint& point, DrawingPoint readings) {
    const double c = std::cos(point.turn), s = std::sin(point.turn);
    return {point.origin.x + c * readings.x - s * readings.z, point.origin.z + s * readings.x + c * readings.z};
}

std::vector<PicturePoint> list_side_points(const Setup& setup, const Analysis& analysis, double ball_height) {
    std::vector<PicturePoint> points;
    const SideViewScene scene = make_bare_scene(setup, analysis, ball_height, UnitSystem::millimetre);
    if (!scene.working || !analysis.linkage) return points;
    const MountedModel& m = analysis.linkage->model;
    const double height = scene.working->lower_hitch_point.z;
    const PoseReport report = make_pose_report(setup, m, std::min(std::max(height, m.travel.low), m.travel.high));
    add_tractor(setup, m, *scene.working, points);
    add_implement(setup, m, report.pose, *scene.working, points);
    return points;
}

std::vector<PicturePoint> list_plan_points(const Setup& setup, const Analysis& analysis, double ball_height) {
    std::vector<PicturePoint> points;
    if (!analysis.linkage) return points;
    const MountedModel& m = analysis.linkage->model;
    const PoseReport report = make_pose_report(setup, m, std::min(std::max(ball_height, m.travel.low), m.travel.high));
    const LowerLinkReadings& l = setup.tractor.lower_link;
    const auto both = [&](const char* name, double x, const Reading& half, std::vector<std::string> keys) {
        if (!half.known) return;
        points.push_back({std::string(name) + ", right", {x, half.value}, keys});
        points.push_back({std::string(name) + ", left", {x, -half.value}, std::move(keys)});
    };
    both("front pin of the lower link", m.linkage.lower_pivot.x(), l.half_spread_at_pivot, {"tractor.lower_link.half_spread_at_pivot", "tractor.lower_link.pivot_x"});
    both("ball end of the lower link", report.pose.ball.x(), l.half_spread_at_ball, {"tractor.lower_link.half_spread_at_ball", "tractor.lower_link.length"});
    points.push_back({"upper-link hole in use", {m.linkage.upper_pin.x(), 0.0}, {item_key("tractor.upper_link_pin", setup.tractor.upper_link_pins[m.tractor_pin].name, m.tractor_pin) + "x"}});
    points.push_back({"mast pin", {report.pose.mast_pin.x(), 0.0}, {item_key("implement.mast_pin", setup.implement.mast_pins[m.mast_pin].name, m.mast_pin) + "offset"}});
    if (m.has_shaft) {
        const ShaftState<double> s = find_shaft_state(m.ends, solve_kernel<double>(m.linkage, report.pose.ball_height, report.upper_length));
        points.push_back({"front joint of the shaft", {s.from.x, s.from.y}, {"tractor.pto.stub_y", "tractor.pto.stub_plan_angle", "driveline.tractor_joint.offset"}});
        points.push_back({"rear joint of the shaft", {s.to.x, s.to.y}, {"implement.pic.y", "implement.pic.plan_angle", "driveline.implement_joint.offset"}});
    }
    for (std::size_t i = 0; i < setup.implement.points.size(); ++i) {
        const ImplementPoint& p = setup.implement.points[i];
        if (!p.x.known || !p.z.known || !p.half_width.known) continue;
        const std::string key = item_key("implement.point", p.name, i), name = name_or(p.name, "point " + std::to_string(i + 1));
        both(name.c_str(), place_point(report.pose, find_body_point(m, p.x, p.z)).x(), p.half_width, {key + "half_width", key + "x"});
    }
    return points;
}

std::vector<PicturePoint> list_drawn_points(const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude, PictureFrame frame) {
    const DrawnModel& m = drawn.model;
    const bool above = frame == PictureFrame::plan;
    const auto flat = [above](const Eigen::Vector3d& p) { return above ? DrawingPoint{p.x(), p.y()} : DrawingPoint{p.x(), p.z()}; };
    const auto flat_vec = [&](const Vec3<double>& p) { return flat(Eigen::Vector3d(p.x, p.y, p.z)); };
    std::vector<PicturePoint> points;
    if (!above) add_axle(setup, points);
    points.push_back({"end of the PTO", flat(Eigen::Vector3d(m.pto_end_x, 0.0, m.pto_above_drawbar + m.drawbar_top)),
                      {"tractor.pto.stub_x", "tractor.pto.stub_z", "tractor.drawbar.adapter_length"}});
    add_drawbar_pins(setup, m, flat, points);
    if (m.has_shaft) {
        const DrawnState<double> s = find_drawn_state(m, attitude);
        points.push_back({"tractor joint of the shaft", flat_vec(s.shaft.from), {"driveline.tractor_joint.offset"}});
        points.push_back({"implement joint of the shaft", flat_vec(s.shaft.to), {"driveline.implement_joint.offset", "implement.pic.x", "implement.pic.z"}});
    }
    const auto add = [&](std::string name, double x, double y, double z, std::vector<std::string> keys) {
        PicturePoint p{std::move(name), flat(place_drawn(m, attitude, x, y, z)), std::move(keys)};
        p.drag = PointDrag::turn;
        points.push_back(p);
    };
    for (std::size_t i = 0; i < setup.implement.drawn.bars.size(); ++i) {
        const PlanBar& b = setup.implement.drawn.bars[i];
        if (!b.front_x.known || !b.rear_x.known) continue;
        const std::string key = item_key("implement.tongue_bar", b.name, i), name = name_or(b.name, "bar " + std::to_string(i + 1));
        add("front end of " + name, b.front_x.value, b.front_y.value_or(0.0), 0.0, {key + "front_x", key + "front_y", key + "width"});
        add("rear end of " + name, b.rear_x.value, b.rear_y.value_or(0.0), 0.0, {key + "rear_x", key + "rear_y", key + "width"});
    }
    for (std::size_t i = 0; i < setup.implement.ground_contacts.size(); ++i) {
        const GroundContact& c = setup.implement.ground_contacts[i];
        if (!c.x.known || !c.z.known) continue;
        const std::string key = item_key("implement.ground_contact", c.name, i), name = name_or(c.name, "axle " + std::to_string(i + 1));
        add(name, c.x.value, 0.0, c.z.value, {key + "x", key + "z", key + "radius", key + "half_track"});
    }
    return points;
}

std::vector<PicturePoint> list_ditch_points(const Setup& setup, const DrawnAnalysis& drawn, const DitchStation& station) {
    std::vector<PicturePoint> points;
    if (!station.pose.stands || !drawn.ditch) return points;
    const auto flat = [](const Eigen::Vector3d& p) { return DrawingPoint{p.x(), p.z()}; };
    const std::string pin = setup.tractor.drawbar_pins[drawn.model.pin].name;
    points.push_back({"hitch pin", flat(station.pose.pin), {item_key("tractor.drawbar_pin", pin, drawn.model.pin) + "length"}});
    const TerrainRig rig = make_terrain_rig(setup, drawn.model).rig;
    for (const StandingWheel& w : list_wheels(rig, drawn.ditch->crossing, station.pose)) points.push_back({std::string("hub of the ") + w.name, flat(w.circle.centre), {}});
    return points;
}

int find_point_at(const std::vector<PicturePoint>& points, DrawingPoint place, double reach) {
    int found = -1;
    double least = reach;
    constexpr double same_place = 1e-6;  // m
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double off = std::hypot(points[i].at.x - place.x, points[i].at.z - place.z);
        const bool takes_over = found >= 0 && std::fabs(off - least) < same_place && points[static_cast<std::size_t>(found)].drag == PointDrag::none &&
                                points[i].drag != PointDrag::none;
        if (off < least - same_place || takes_over || (found < 0 && off <= least)) {
            found = static_cast<int>(i);
            least = off;
        }
    }
    return found;
}

}  // namespace hitchwright
