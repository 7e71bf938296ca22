// See drawn_view.h.
#include "report/drawn_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/attitude.h"
#include "geometry/standing_tractor.h"
#include "report/finding_sentences.h"
#include "report/page_blocks.h"
#include "report/page_header.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr TextFace note_face{2.6, false};
constexpr double block_gap_mm = 2.0, shaft_width = 0.05;

Eigen::Vector3d to_eigen(const Vec3<double>& v) { return {v.x, v.y, v.z}; }

/// A point of the implement in frame T at an attitude.
class Placing {
public:
    Placing(const DrawnModel& m, const Attitude& a) : pin_(to_eigen(m.driveline.pin)), turn_(make_rotation(a)) {}
    Eigen::Vector3d at(double x, double y, double z) const { return pin_ + turn_ * Eigen::Vector3d(x, y, z); }

private:
    Eigen::Vector3d pin_;
    Eigen::Matrix3d turn_;
};

DrawingPoint from_above(const Eigen::Vector3d& p) { return {p.x(), p.y()}; }
DrawingPoint from_left(const Eigen::Vector3d& p) { return {p.x(), p.z()}; }

Polygon make_rectangle(const PlanRectangle& r) {
    return make_strip({r.front.x(), r.front.y()}, {r.rear.x(), r.rear.y()}, 0.0, (r.rear - r.front).norm(), r.width);
}

void add_tyres(const Setup& s, Drawing& d) {
    const PlanShape tyres = make_tyre_shapes(s);
    for (std::size_t i = 0; i < tyres.rectangles.size(); ++i) add_shape(d, Role::tyre, make_rectangle(tyres.rectangles[i]), tyres.names[i]);
}

/// Middle of the tractor: a plain body between the axles, sketched.
void add_body(const Setup& s, const DrawnModel& m, Drawing& d) {
    const double front = -StandingSetup(s)->tractor.mass.wheelbase.value_or(1.5);
    const double half = 0.22;
    add_shape(d, Role::tractor_outline, Polygon{{{front - 0.3, -half}, {front - 0.3, half}, {0.35, half}, {0.35, -half}}}, "tractor, sketched");
    add_shape(d, Role::pto_stub, Polyline{{{0.35, 0.0}, {m.pto_end_x, 0.0}}}, "PTO stub");
    add_shape(d, Role::drawbar, Polyline{{{0.2, 0.0}, {m.driveline.pin.x, 0.0}}}, "drawbar");
}

void add_bars(const Setup& s, const DrawnModel& m, double yaw, Role role, Drawing& d) {
    const Point pin(m.driveline.pin.x, m.driveline.pin.y);
    const Placing place(m, {0.0, 0.0, yaw});
    for (const PlanBar& b : s.implement.drawn.bars) {
        if (!b.front_x.known || !b.rear_x.known || !b.width.known) continue;
        const DrawingPoint from = from_above(place.at(b.front_x.value, b.front_y.value_or(0.0), 0.0));
        const DrawingPoint to = from_above(place.at(b.rear_x.value, b.rear_y.value_or(0.0), 0.0));
        add_shape(d, role, make_strip(from, to, 0.0, std::hypot(to.x - from.x, to.z - from.z), b.width.value), b.name);
    }
}

void add_wheels_from_above(const Setup& s, const DrawnModel& m, double yaw, Role role, Drawing& d) {
    const Placing place(m, {0.0, 0.0, yaw});
    for (const GroundContact& c : s.implement.ground_contacts) {
        if (!c.x.known || !c.radius.known || !c.half_track.known) continue;
        for (const double side : {-1.0, 1.0}) {
            const DrawingPoint a = from_above(place.at(c.x.value - c.radius.value, side * c.half_track.value, 0.0));
            const DrawingPoint b = from_above(place.at(c.x.value + c.radius.value, side * c.half_track.value, 0.0));
            add_shape(d, role, make_strip(a, b, 0.0, 2.0 * c.radius.value, 0.22), c.name.empty() ? "wheel" : c.name);
        }
    }
}

/// Bars and wheels from the left.
void add_implement(const Setup& s, const DrawnModel& m, const Attitude& a, Role bars, std::optional<Role> wheels, Drawing& d) {
    const Placing place(m, a);
    for (const PlanBar& b : s.implement.drawn.bars) {
        if (!b.front_x.known || !b.rear_x.known) continue;
        add_shape(d, bars, make_strip(from_left(place.at(b.front_x.value, 0, 0)), from_left(place.at(b.rear_x.value, 0, 0)), 0.0,
                                      b.rear_x.value - b.front_x.value, 0.12), b.name);
    }
    for (const GroundContact& c : s.implement.ground_contacts) {
        if (wheels && c.x.known && c.z.known) add_shape(d, *wheels, Circle{from_left(place.at(c.x.value, 0, c.z.value)), c.radius.value_or(0.02)}, c.name.empty() ? "wheel" : c.name);
    }
}

/// Drawbar, pin and shaft of another set-up, and the words for it at the pin, which lies inside every picture.
void add_other_hitch(const DrawnGhost& other, bool above, const SafeWords& w, Drawing& d) {
    const DrawnModel& m = other.drawn.model;
    const auto flat = [above](const Vec3<double>& p) { return above ? DrawingPoint{p.x, p.y} : DrawingPoint{p.x, p.z}; };
    const DrawingPoint pin = flat(m.driveline.pin);
    add_shape(d, Role::ghost, Polyline{{{0.2, above ? 0.0 : m.drawbar_top}, {pin.x, above ? 0.0 : m.drawbar_top}}}, "drawbar, compared");
    add_shape(d, Role::ghost, Marker{pin, MarkerForm::cross, 2.4}, "pin, compared");
    if (m.has_shaft) {
        const DrawnState<double> state = find_drawn_state(m, other.attitude);
        add_shape(d, Role::ghost, Polyline{{flat(state.shaft.from), flat(state.shaft.to)}}, "shaft, compared");
    }
    std::string text = fmt::format("{}, dashed: drawbar {}", other.words, w.place(m.drawbar_length));
    const double turn = other.attitude.yaw, pitch = other.attitude.pitch;
    if (above && std::fabs(to_degrees(turn)) >= 0.05) text += fmt::format(", turned {} {}", format_angle(std::fabs(turn)), turn > 0.0 ? "right" : "left");
    if (!above && std::fabs(to_degrees(pitch)) >= 0.05) text += fmt::format(", {} rear {}", format_angle(std::fabs(pitch)), pitch < 0.0 ? "down" : "up");
    d.labels.push_back({pin, std::move(text), 2, false});
}

void add_shaft(const DrawnModel& m, const Attitude& a, bool above, const SafeWords& w, Drawing& d) {
    if (!m.has_shaft) return;
    const DrawnState<double> s = find_drawn_state(m, a);
    const auto flat = [above](const Vec3<double>& p) { return above ? DrawingPoint{p.x, p.y} : DrawingPoint{p.x, p.z}; };
    const DrawingPoint from = flat(s.shaft.from), to = flat(s.shaft.to);
    add_shape(d, Role::shaft_tractor_half, make_bar(from, to, shaft_width), "shaft");
    add_shape(d, Role::joint, Marker{from, MarkerForm::cross, 2.4});
    add_shape(d, Role::joint, Marker{to, MarkerForm::cross, 2.4});
    const DrivelineState state = find_driveline_state(m, a);
    d.labels.push_back({point_between(from, to, 0.5), "joint to joint " + w.place(state.length), 2, true});
    d.labels.push_back({from, "tractor joint " + format_angle(state.tractor_angle), 3, false});
    d.labels.push_back({to, "implement joint " + format_angle(state.implement_angle), 3, false});
}

/// The first stop of each side, ghosted and named.
void add_turn_stops(const Setup& s, const DrawnAnalysis& drawn, Drawing& d) {
    for (const TurnResult& turn : drawn.turns) {
        const auto first = std::find_if(turn.stops.begin(), turn.stops.end(), [](const TurnStop& x) { return x.reached; });
        if (first == turn.stops.end()) continue;
        const double yaw = turn.side == TurnSide::left ? -first->yaw : first->yaw;
        add_bars(s, drawn.model, yaw, Role::ghost, d);
        const char* const what = first->kind == TurnLimitKind::tyre ? "tyre meets the tongue"
                                 : first->kind == TurnLimitKind::bottoming ? "too little gap"
                                 : first->kind == TurnLimitKind::separation ? "too little overlap" : "joint at its limit, PTO off";
        const Placing place(drawn.model, {0.0, 0.0, yaw});
        d.labels.push_back({from_above(place.at(1.2, 0.0, 0.0)), fmt::format("{} at {}", what, format_angle(first->yaw, Rounding::down)), 1, false});
    }
}

}  // namespace

Drawing draw_plan_view(const Setup& s, const DrawnAnalysis& drawn, const Attitude& a, UnitSystem units, const DrawnGhost* other) {
    const SafeWords w{units};
    const DrawnModel& m = drawn.model;
    Drawing d;
    add_body(s, m, d);
    add_tyres(s, d);
    if (other) {
        add_bars(other->setup, other->drawn.model, other->attitude.yaw, Role::ghost, d);
        add_wheels_from_above(other->setup, other->drawn.model, other->attitude.yaw, Role::ghost, d);
        add_other_hitch(*other, true, w, d);
    } else {
        add_turn_stops(s, drawn, d);
    }
    add_bars(s, m, a.yaw, Role::implement_outline, d);
    add_wheels_from_above(s, m, a.yaw, Role::ground_contact, d);
    add_shaft(m, a, true, w, d);
    const DrawingPoint pin{m.driveline.pin.x, m.driveline.pin.y}, end{m.pto_end_x, 0.0};
    add_shape(d, Role::pin_chosen, Marker{pin, MarkerForm::circle, 2.4});
    d.dimensions.push_back({end, pin, DimensionDirection::horizontal, "drawbar " + w.place(m.drawbar_length), 1});
    return d;
}

Drawing draw_drawn_side_view(const Setup& s, const DrawnAnalysis& drawn, const Attitude& a, UnitSystem units, const DrawnGhost* other) {
    const SafeWords w{units};
    const DrawnModel& m = drawn.model;
    Drawing d;
    const StandingSetup on(s);
    const TyreReadings& t = on->tractor.tyre;
    const double front = -on->tractor.mass.wheelbase.value_or(1.5);
    if (t.rear_radius.known) add_shape(d, Role::tyre, Circle{{0.0, t.rear_radius.value}, t.rear_radius.value}, "rear tyre");
    if (t.front_radius.known) add_shape(d, Role::tyre, Circle{{front, t.front_radius.value}, t.front_radius.value}, "front tyre");
    const double stub = m.pto_above_drawbar + m.drawbar_top;
    add_shape(d, Role::pto_stub, Polyline{{{0.2, stub}, {m.pto_end_x, stub}}}, "PTO stub");
    add_shape(d, Role::drawbar, Polygon{{{0.2, m.drawbar_top - 0.04}, {m.driveline.pin.x + 0.06, m.drawbar_top - 0.04},
                                         {m.driveline.pin.x + 0.06, m.drawbar_top}, {0.2, m.drawbar_top}}}, "drawbar");
    if (other) {
        add_implement(other->setup, other->drawn.model, other->attitude, Role::ghost, Role::ghost, d);
        add_other_hitch(*other, false, w, d);
    } else {
        for (const double pitch : {m.box.pitch.low, m.box.pitch.high}) add_implement(s, m, {pitch, 0.0, 0.0}, Role::ghost, std::nullopt, d);
    }
    add_implement(s, m, a, Role::implement_outline, Role::ground_contact, d);
    add_shaft(m, a, false, w, d);
    const std::optional<DrawingBox> box = find_bounding_box(d);
    if (box) add_shape(d, Role::ground, Polyline{{{box->least.x - 0.2, 0.0}, {box->most.x + 0.2, 0.0}}});
    const DrawingPoint pin{m.driveline.pin.x, m.driveline.pin.z};
    add_shape(d, Role::pin_chosen, Marker{pin, MarkerForm::circle, 2.4});
    d.dimensions.push_back({{m.pto_end_x, stub}, {m.driveline.pin.x, m.drawbar_top}, DimensionDirection::horizontal, "drawbar " + w.place(m.drawbar_length), 1});
    d.dimensions.push_back({{m.pto_end_x, m.drawbar_top}, {m.pto_end_x, stub}, DimensionDirection::vertical, w.place(m.pto_above_drawbar), 2});
    d.dimensions.push_back({{m.driveline.pin.x, 0.0}, {m.driveline.pin.x, m.drawbar_top}, DimensionDirection::vertical, "top " + w.place(m.drawbar_top), 2});
    return d;
}

PagePicture compose_drawn_view(const SideViewScene& scene, const Setup& s, const Analysis& analysis, DrawnView view, const PageSetup& paper,
                               const TextMeasure& measure) {
    PageRect area;
    PagePicture page = start_page(scene, paper, measure, area);
    const bool above = view == DrawnView::plan;
    std::string words = above ? "From above, straight and level; upwards is the tractor's right. Dashed: the turn that stops first on each side. Tyres, tongue "
                                "and shaft are the readings, the body is sketched."
                              : "From the left, straight and level; dashed: the pitches judged. Tyres, wheels, hitch and shaft are the readings, the rest is sketched.";
    if (!analysis.drawn) words = "No picture: a reading of the hitch is missing; \"fit\" names it.";
    area.top = add_text_block(page, make_text_block(words, note_face, area.width(), measure), {area.left, area.top}, Role::legend, measure) + block_gap_mm;
    page.description += above ? " View from above." : " View from the left.";
    if (!analysis.drawn) return page;
    const Attitude level{analysis.drawn->model.level_pitch, 0.0, 0.0};
    const Drawing drawing = above ? draw_plan_view(s, *analysis.drawn, level, scene.units) : draw_drawn_side_view(s, *analysis.drawn, level, scene.units);
    add_fitted_drawing(page, drawing, area, scene.units, measure);
    return page;
}

}  // namespace hitchwright
