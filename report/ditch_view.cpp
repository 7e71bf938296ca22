// See ditch_view.h.
#include "report/ditch_view.h"

#include <fmt/format.h>

#include <cmath>

#include "geometry/attitude.h"
#include "geometry/standing_tractor.h"
#include "report/page_blocks.h"
#include "report/page_header.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr TextFace note_face{2.6, false};
constexpr double block_gap_mm = 2.0, shaft_width = 0.05, bar_depth = 0.12, ground_margin = 0.6;

DrawingPoint from_left(const Eigen::Vector3d& p) { return {p.x(), p.z()}; }

/// The rig at a place: points of tractor (frame T) and implement (frame I) in the world of terrain.h.
class Standing {
public:
    Standing(const TerrainRig& rig, const TerrainPose& pose)
        : axle_(pose.place, 0.0, pose.height), hub_(0.0, 0.0, rig.rear_radius), pin_(pose.pin), tractor_(make_rotation(pose.tractor)),
          implement_(make_rotation(pose.implement)) {}
    Eigen::Vector3d on_tractor(double x, double y, double z) const { return axle_ + tractor_ * (Eigen::Vector3d(x, y, z) - hub_); }
    Eigen::Vector3d on_implement(double x, double y, double z) const { return pin_ + implement_ * Eigen::Vector3d(x, y, z); }

private:
    Eigen::Vector3d axle_, hub_, pin_;
    Eigen::Matrix3d tractor_, implement_;
};

/// The ground along the way, `aside` to the right of the machine's middle.
Polyline cut_ground(const Crossing& crossing, double aside, double first, double last) {
    const double sine = std::sin(crossing.angle), cosine = std::cos(crossing.angle);
    Polyline line;
    const auto add = [&](double x) { line.points.push_back({x, find_ground_height(crossing.profile, x * sine - aside * cosine)}); };
    add(first);
    for (const Point& corner : crossing.profile.corners) {
        const double x = (corner.x() + aside * cosine) / sine;
        if (x > first && x < last) line.points.push_back({x, corner.y()});
    }
    add(last);
    return line;
}

/// `left_only`: those on the right hand would be dashed, which means something else here.
void add_wheels(const std::vector<StandingWheel>& wheels, bool left_only, Drawing& d) {
    for (std::size_t i = 0; i < wheels.size(); ++i) {
        const bool right = i % 2 == 1, tractor = i < 4;
        if (right && left_only) continue;
        const WheelCircle& w = wheels[i].circle;
        add_shape(d, right ? Role::ghost : tractor ? Role::tyre : Role::ground_contact, Circle{from_left(w.centre), w.radius});
    }
}

void add_bars(const Setup& s, const Standing& at, Role role, Drawing& d) {
    for (const PlanBar& b : s.implement.drawn.bars) {
        if (!b.front_x.known || !b.rear_x.known) continue;
        add_shape(d, role,
                  make_strip(from_left(at.on_implement(b.front_x.value, 0, 0)), from_left(at.on_implement(b.rear_x.value, 0, 0)), 0.0,
                             b.rear_x.value - b.front_x.value, bar_depth),
                  b.name);
    }
}

void add_machines(const Setup& s, const DrawnModel& m, const Standing& at, Drawing& d) {
    const double front = -StandingSetup(s)->tractor.mass.wheelbase.value_or(1.5), stub = m.pto_above_drawbar + m.drawbar_top;
    add_shape(d, Role::tractor_outline, Polyline{{from_left(at.on_tractor(front, 0, stub)), from_left(at.on_tractor(0.2, 0, stub))}});
    add_shape(d, Role::pto_stub, Polyline{{from_left(at.on_tractor(0.2, 0, stub)), from_left(at.on_tractor(m.pto_end_x, 0, stub))}});
    add_shape(d, Role::drawbar, Polyline{{from_left(at.on_tractor(0.2, 0, m.drawbar_top)), from_left(at.on_tractor(m.driveline.pin.x, 0, m.drawbar_top))}});
    add_bars(s, at, Role::implement_outline, d);
}

void add_shaft(const DrawnModel& m, const DitchStation& station, const Standing& at, const SafeWords& w, Drawing& d) {
    if (!m.has_shaft) return;
    const DrawnState<double> s = find_drawn_state(m, station.pose.relative);
    const DrawingPoint from = from_left(at.on_tractor(s.shaft.from.x, s.shaft.from.y, s.shaft.from.z));
    const DrawingPoint to = from_left(at.on_tractor(s.shaft.to.x, s.shaft.to.y, s.shaft.to.z));
    add_shape(d, Role::shaft_tractor_half, make_bar(from, to, shaft_width));
    add_shape(d, Role::joint, Marker{from, MarkerForm::cross, 2.4});
    add_shape(d, Role::joint, Marker{to, MarkerForm::cross, 2.4});
    d.labels.push_back({point_between(from, to, 0.5), "joint to joint " + w.place(station.shaft.length), 1, true});
    d.labels.push_back({from, "tractor joint " + format_angle(station.shaft.tractor_angle), 2, false});
    d.labels.push_back({to, "implement joint " + format_angle(station.shaft.implement_angle), 2, false});
}

std::string say_attitude(const Attitude& a) {
    const double pitch = to_degrees(a.pitch), roll = to_degrees(a.roll);
    std::string text = fmt::format("implement against tractor: {} rear {}", format_angle(std::fabs(a.pitch)), pitch < 0.0 ? "down" : "up");
    if (std::fabs(roll) >= 0.05) text += fmt::format(", {} {} side up", format_angle(std::fabs(a.roll)), roll > 0.0 ? "right" : "left");
    return text;
}

void add_other(const DitchGhost& other, const Crossing& crossing, Drawing& d) {
    const DrawnModel& m = other.drawn.model;
    const TerrainRig rig = make_terrain_rig(other.setup, m).rig;
    const TerrainPose& pose = other.station.pose;
    const Standing at(rig, pose);
    const std::vector<StandingWheel> wheels = list_wheels(rig, crossing, pose);
    for (std::size_t i = 0; i < wheels.size(); i += 2) add_shape(d, Role::ghost, Circle{from_left(wheels[i].circle.centre), wheels[i].circle.radius}, "wheel, compared");
    add_bars(other.setup, at, Role::ghost, d);
    add_shape(d, Role::ghost, Marker{from_left(pose.pin), MarkerForm::cross, 2.4}, "pin, compared");
    if (m.has_shaft) {
        const DrawnState<double> s = find_drawn_state(m, pose.relative);
        add_shape(d, Role::ghost, Polyline{{from_left(at.on_tractor(s.shaft.from.x, s.shaft.from.y, s.shaft.from.z)),
                                            from_left(at.on_tractor(s.shaft.to.x, s.shaft.to.y, s.shaft.to.z))}}, "shaft, compared");
    }
    d.labels.push_back({from_left(pose.pin), other.words + ", dashed: " + say_attitude(pose.relative), 2, false});
}

std::string say_worst(const DitchWorst& w, bool passes) {
    std::string_view what;
    switch (w.quantity) {
        case DitchQuantity::shortest: what = "the shaft is shortest"; break;
        case DitchQuantity::longest: what = "the shaft is longest"; break;
        case DitchQuantity::tractor_angle: what = "the tractor joint bends most"; break;
        case DitchQuantity::implement_angle: what = "the implement joint bends most"; break;
        case DitchQuantity::pitch_up: what = "the implement's rear stands highest against the tractor"; break;
        case DitchQuantity::pitch_down: what = "the implement's rear stands lowest against the tractor"; break;
        case DitchQuantity::roll: what = "the implement rolls most against the tractor"; break;
    }
    return fmt::format("From the left, where {}{}.", what, passes ? "" : ": a limit is broken there");
}

}  // namespace

Drawing draw_ditch_view(const Setup& s, const DrawnAnalysis& drawn, const DitchStation& station, Heading heading, UnitSystem units,
                        const DitchGhost* other) {
    const SafeWords w{units};
    const DrawnModel& m = drawn.model;
    const TerrainRig rig = make_terrain_rig(s, m).rig;
    Crossing crossing = drawn.ditch->crossing;
    if (heading == Heading::other_way) crossing.profile = mirror(crossing.profile);
    const Standing at(rig, station.pose);
    const bool square = std::fabs(std::cos(crossing.angle)) < 1e-9;
    Drawing d;
    if (other) add_other(*other, crossing, d);
    add_wheels(list_wheels(rig, crossing, station.pose), square || other, d);
    add_machines(s, m, at, d);
    add_shaft(m, station, at, w, d);
    add_shape(d, Role::pin_chosen, Marker{from_left(station.pose.pin), MarkerForm::circle, 2.4});
    d.labels.push_back({from_left(station.pose.pin), say_attitude(station.pose.relative), 3, false});
    const std::optional<DrawingBox> box = find_bounding_box(d);
    if (!box) return d;
    double first = box->least.x - ground_margin, last = box->most.x + ground_margin;
    for (const Point& corner : crossing.profile.corners) {
        first = std::min(first, corner.x() / std::sin(crossing.angle) - ground_margin);
        last = std::max(last, corner.x() / std::sin(crossing.angle) + ground_margin);
    }
    add_shape(d, Role::ground, cut_ground(crossing, 0.0, first, last));
    if (!square && !other) {
        for (const double aside : {-rig.rear_half_track, rig.rear_half_track}) add_shape(d, Role::ghost, cut_ground(crossing, aside, first, last));
    }
    return d;
}

PagePicture compose_ditch_view(const SideViewScene& scene, const Setup& s, const Analysis& analysis, const PageSetup& paper,
                               const TextMeasure& measure) {
    PageRect area;
    PagePicture page = start_page(scene, paper, measure, area);
    const DrawnAnalysis* drawn = analysis.drawn ? &*analysis.drawn : nullptr;
    const DitchStudy* study = drawn && drawn->ditch && drawn->ditch->study ? &*drawn->ditch->study : nullptr;
    const DitchWorst* worst = study ? find_telling_state(*study, drawn->model, make_ditch_limits(s, drawn->model, JointHold::stop)) : nullptr;
    std::string words = "No picture: a reading that the crossing needs is missing, or the set-up names no ditch; \"fit\" names it.";
    if (worst) {
        words = say_worst(*worst, study->passes);
        if (std::fabs(std::cos(drawn->ditch->crossing.angle)) >= 1e-9)
            words += " Dashed: the right wheels, and the ground under the left and the right ones.";
        if (worst->heading == Heading::other_way) words += " Crossed the other way: the ground is seen turned round.";
        words += " Wheels, hitch and shaft are where they stand, the rest is sketched.";
    }
    area.top = add_text_block(page, make_text_block(words, note_face, area.width(), measure), {area.left, area.top}, Role::legend, measure) + block_gap_mm;
    page.description += " View of the machine in the ditch.";
    if (!worst) return page;
    const Drawing drawing = draw_ditch_view(s, *drawn, worst->station, worst->heading, scene.units);
    add_fitted_drawing(page, drawing, area, scene.units, measure);
    return page;
}

}  // namespace hitchwright
