// See rear_view.h.
#include "report/rear_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/standing_tractor.h"
#include "geometry/turn_limits.h"
#include "report/machine_drawing.h"
#include "report/rear_parts.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr double sketch_half = 0.22, axle_width = 0.10, level_overhang = 1.12, arc_share = 0.86;
constexpr double same_place = 0.005;  // m: nearer to where the room is least, the drawn place is it
constexpr std::size_t longest_name = 24;

void add_tractor(const Setup& s, const MountedModel& m, RearView& view) {
    const TyreReadings& t = s.tractor.tyre;
    Drawing& d = view.drawing;
    const double radius = t.rear_radius.value_or(0.5 * m.linkage.upper_pin.y());
    if (t.rear_radius.known && t.rear_width.known && t.rear_track.known) {
        for (const double side : {-1.0, 1.0}) {
            const double middle = 0.5 * side * t.rear_track.value;
            add_shape(d, Role::tyre, make_strip({middle, 0.0}, {middle, 2.0 * radius}, 0.0, 2.0 * radius, t.rear_width.value), side > 0.0 ? "right rear tyre" : "left rear tyre");
            d.labels.push_back({{middle, 2.0 * radius}, side > 0.0 ? "right" : "left", 1, true});
        }
        add_shape(d, Role::tractor_outline, make_strip({-0.5 * t.rear_track.value, radius}, {0.5 * t.rear_track.value, radius}, 0.5 * t.rear_width.value, t.rear_track.value - 0.5 * t.rear_width.value, axle_width), "rear axle, sketched");
    } else {
        view.not_known.push_back("The rear tyres: radius, width and track are not all known.");
        for (const double side : {-1.0, 1.0}) d.labels.push_back({{2.0 * side * sketch_half, m.linkage.upper_pin.y()}, side > 0.0 ? "right" : "left", 1, true});
    }
    const double top = std::max(m.linkage.upper_pin.y() + 0.08, radius + 0.15), bottom = std::max(0.05, m.linkage.lower_pivot.y() - 0.08);
    add_shape(d, Role::tractor_outline, Polygon{{{-sketch_half, bottom}, {-sketch_half, top}, {sketch_half, top}, {sketch_half, bottom}}}, "tractor, sketched");
    d.labels.push_back({{0.0, top}, "from behind, looking forward", 4, false});
}

void add_shafts(const Setup& s, const MountedModel& m, const SpacePose& p, Drawing& d) {
    constexpr double stub_radius = 0.022;
    const PtoReadings& pto = s.tractor.pto;
    if (pto.stub_x.known && pto.stub_z.known) add_shape(d, Role::pto_stub, Circle{{pto.stub_y.value_or(0.0), pto.stub_z.value}, stub_radius}, "PTO stub");
    const PicReadings& pic = s.implement.pic;
    if (pic.fitted && pic.x.known && pic.z.known) add_shape(d, Role::input_shaft, Circle{from_behind(place_in_space(m, p, pic.x, pic.z, pic.y.value_or(0.0))), stub_radius}, "input shaft");
}

/// Height of both ends of a part over the ground. `named`: the words say which part; else its name stands at it.
void add_edge_heights(const RearEdge& e, bool named, const SafeWords& w, Drawing& d) {
    const std::string name = printable_text(e.name, longest_name), before = named ? name + ", " : "";
    d.dimensions.push_back({{e.left.x, 0.0}, e.left, DimensionDirection::vertical, fmt::format("{}left end {}", before, w.place(e.left.z)), 1});
    d.dimensions.push_back({{e.right.x, 0.0}, e.right, DimensionDirection::vertical, fmt::format("{}right end {}", before, w.place(e.right.z)), 1});
    if (!named) d.labels.push_back({point_between(e.left, e.right, 0.12), name, 6, false});
}

/// The level line through the middle of a part, and the angle to it where there is one.
void add_level_line(const RearEdge& e, double roll, const std::vector<std::string>& words, Drawing& d) {
    const DrawingPoint middle = point_between(e.left, e.right, 0.5);
    const double half = 0.5 * std::hypot(e.right.x - e.left.x, e.right.z - e.left.z);
    const double slope = std::atan2(e.right.z - e.left.z, e.right.x - e.left.x);
    if (!is_shown_level(roll)) {
        add_shape(d, Role::dimension, Polyline{{{middle.x - level_overhang * half, middle.z}, {middle.x + level_overhang * half, middle.z}}}, "level line");
        add_shape(d, Role::dimension, Arc{middle, arc_share * half, std::min(0.0, slope), std::max(0.0, slope)}, "roll");
    }
    const DrawingPoint at{middle.x + arc_share * half, middle.z + 0.5 * arc_share * half * std::sin(slope)};
    for (const std::string& text : words) d.labels.push_back({at, text, text == words.front() ? 1 : 6, text == words.front()});
}

std::vector<std::string> say_roll_and_wish(const Setup& s, double roll) {
    const Reading& wanted = s.choices.working_roll;
    if (!wanted.known) return {say_roll(roll)};
    const std::string wish = is_shown_level(wanted.value) ? "level" : fmt::format("{}, {} side up", format_angle(std::fabs(wanted.value)), wanted.value > 0.0 ? "right" : "left");
    return {say_roll(roll), "wanted at work: " + wish};
}

void add_implement(const Setup& s, const MountedModel& m, const SpacePose& p, const SafeWords& w, RearView& view) {
    Drawing& d = view.drawing;
    const std::vector<RearEdge> edges = list_rear_edges(s.implement, m, p);
    std::string without;
    for (const ImplementPoint& q : s.implement.points) {
        if (q.x.known && q.z.known && !q.half_width.known) without += (without.empty() ? "" : ", ") + printable_text(q.name, longest_name);
    }
    if (!without.empty()) view.not_known.push_back("The implement's width at: " + without + ".");
    add_shape(d, Role::mast, make_bar(from_behind(p.hitch.left_ball), from_behind(p.hitch.right_ball), mast_width), "line of the lower hitch points");
    for (const Vec3<double>& ball : {p.hitch.left_ball, p.hitch.right_ball}) add_shape(d, Role::mast, make_bar(from_behind(ball), from_behind(p.mast_pin), mast_width), m.has_coupler ? "coupler" : "mast");
    const double roll = p.hitch.attitude.roll;
    const RearEdge balls{"balls", 0.0, from_behind(p.hitch.left_ball), from_behind(p.hitch.right_ball)};
    const std::vector<std::string> words = p.on_rods ? say_roll_and_wish(s, roll) : std::vector<std::string>{"drawn level"};
    if (edges.empty()) {
        view.not_known.push_back("The implement's outline: no point has a half-width.");
        return add_level_line(balls, roll, words, d);
    }
    add_shape(d, Role::implement_outline, Polygon{find_hull(edges)}, "implement");
    for (const RearEdge& e : edges) add_shape(d, Role::implement_outline, Polyline{{e.left, e.right}}, e.name);
    const RearEdge &widest = find_widest_edge(edges), &lowest = find_lowest_edge(edges);
    add_level_line(widest, roll, words, d);
    const bool two = &lowest != &widest;
    add_edge_heights(widest, two, w, d);
    if (two) add_edge_heights(lowest, two, w, d);
}

void add_linkage(const MountedModel& m, const SpacePose& p, const SafeWords& w, Drawing& d) {
    const DrawingPoint upper{0.0, m.linkage.upper_pin.y()};
    if (p.on_rods) {
        const LiftRods& rods = m.space.rods;
        const DrawingPoint left{-rods.arm_half_spread, rods.arm_pivot.y()}, right{rods.arm_half_spread, rods.arm_pivot.y()};
        add_shape(d, Role::lift_arm, make_bar(left, right, 0.5 * rear_link_width), "rockshaft");
    }
    for (const TractorSide side : {TractorSide::left, TractorSide::right}) {
        const bool is_right = side == TractorSide::right;
        const std::string word = is_right ? "right" : "left";
        const DrawingPoint pivot = from_behind(is_right ? p.right_pivot : p.left_pivot), ball = from_behind(is_right ? p.hitch.right_ball : p.hitch.left_ball);
        add_shape(d, Role::lower_link, make_bar(pivot, ball, rear_link_width), "lower link, " + word);
        add_shape(d, Role::pin, Marker{pivot, MarkerForm::circle, 1.9}, "front pin of the lower link, " + word);
        add_shape(d, Role::pin_chosen, Marker{ball, MarkerForm::circle, 2.5}, "ball end of the lower link, " + word);
        d.dimensions.push_back({{ball.x, 0.0}, ball, DimensionDirection::vertical, word + " ball " + w.place(ball.z), 2});
        if (!p.on_rods) continue;
        const LiftRods& rods = m.space.rods;
        const DrawingPoint arm{find_side_sign(side) * rods.arm_half_spread, rods.arm_pivot.y()};
        const DrawingPoint end = from_behind(is_right ? p.rods.right_arm_end : p.rods.left_arm_end), foot = from_behind(is_right ? p.rods.right_foot : p.rods.left_foot);
        add_shape(d, Role::lift_arm, make_bar(arm, end, rear_link_width), "lift arm, " + word);
        add_shape(d, Role::lift_rod, make_bar(end, foot, rear_rod_width), "lift rod, " + word);
        for (const DrawingPoint& q : {end, foot}) add_shape(d, Role::pin, Marker{q, MarkerForm::circle, 1.5});
        d.labels.push_back({point_between(end, foot, 0.35), fmt::format("{} lift rod {}", word, w.place(is_right ? rods.right_length : rods.left_length)), 1, false});
    }
    add_shape(d, Role::upper_link, make_bar(upper, from_behind(p.mast_pin), 0.042), "upper link");
    add_shape(d, Role::pin_chosen, Marker{upper, MarkerForm::circle, 2.5}, "upper-link hole in use");
    add_shape(d, Role::pin_chosen, Marker{from_behind(p.mast_pin), MarkerForm::circle, 2.5}, m.has_coupler ? "coupler's own pin" : "mast pin");
}

void add_chains(const MountedModel& m, const SpacePose& p, const SafeWords& w, Drawing& d) {
    if (m.space.sway_source != SwaySource::chains) return;
    for (const TractorSide side : {TractorSide::left, TractorSide::right}) {
        const ChainLine c = find_chain_line(m.space, p, side);
        const std::string name = side == TractorSide::right ? "check chain, right" : "check chain, left";
        add_shape(d, Role::lift_rod, Polyline{{from_behind(c.anchor), from_behind(c.pin)}}, name);
        add_shape(d, Role::pin, Marker{from_behind(c.anchor), MarkerForm::circle, 1.5}, "pin of the " + name);
        const std::string words = c.short_by > 0.0 ? "check chain too short here by " + w.need(c.short_by) : "taut";
        if (c.taut) d.labels.push_back({point_between(from_behind(c.anchor), from_behind(c.pin), 0.5), words, 2, c.short_by > 0.0});
    }
}

void add_sway(const SpacePose& p, const SafeWords& w, Drawing& d) {
    const double sway = p.hitch.at.sway;
    if (w.place(std::fabs(sway)) == w.place(0.0)) return;
    const DrawingPoint middle{p.hitch.pose.hitch.y, p.hitch.pose.hitch.z};
    add_shape(d, Role::dimension, Polyline{{{0.0, middle.z - 0.06}, {0.0, middle.z + 0.06}}}, "middle of the tractor");
    d.labels.push_back({middle, fmt::format("balls {} to the {}", w.place(std::fabs(sway)), sway > 0.0 ? "right" : "left"), 2, false});
}

void add_tyre_room(const Setup& s, const SpaceStudy& study, const MountedModel& m, const SpacePose& p, const SafeWords& w, RearView& view) {
    const bool tyres = s.tractor.tyre.rear_radius.known && s.tractor.tyre.rear_width.known && s.tractor.tyre.rear_track.known;
    if (!study.tyre && tyres && m.space.sway_source != SwaySource::none)
        view.not_known.push_back("The room beside the tyres: tractor.lower_link.outer_half_width is not known.");
    if (!study.tyre) return;
    Drawing& d = view.drawing;
    const TyreRoom here = find_tyre_room(m.space.linkage, study.tyre_parts, make_place_box(m, p.hitch.at)), &least = *study.tyre;
    const TyreRoomLine line = find_tyre_room_line(m.space, study.tyre_parts, here);
    const auto say = [&](const char* words, double room) { return room > 0.0 ? fmt::format("{} {}", words, w.have(room)) : fmt::format("link in the tyre, {} deep", w.need(-room)); };
    const Role role = here.room > 0.0 ? Role::clearance : Role::clash;
    if (line.beside) add_shape(d, role, Polyline{{line.link, line.tyre}}, "room to the tyre");
    add_shape(d, role, Marker{line.link, MarkerForm::cross, 1.6}, "room to the tyre");
    const bool is_least = std::fabs(here.room - least.room) < same_place && std::fabs(here.at.height - least.at.height) < same_place;
    d.labels.push_back({line.beside ? point_between(line.link, line.tyre, 0.5) : line.link, say(is_least ? "least room to the tyre" : "room to the tyre here", here.room), 2, here.room <= 0.0});
    if (is_least) return;
    const TyreRoomLine worst = find_tyre_room_line(m.space, study.tyre_parts, least);
    add_shape(d, Role::ghost, make_bar(worst.pivot, worst.ball, rear_link_width), "lower link, least room");
    if (worst.beside) add_shape(d, Role::ghost, Polyline{{worst.link, worst.tyre}}, "least room to the tyre");
    d.labels.push_back({worst.link, fmt::format("{}, at ball height {}", say("least room", least.room), w.place(least.at.height)), 6, false});
}

void add_ghost(const RearGhost& other, const HitchView& at, Drawing& d) {
    if (!other.analysis.linkage) return;
    const MountedModel& m = other.analysis.linkage->model;
    const SpacePose p = find_space_pose(m, at);
    if (!p.closes) return;
    const DrawingPoint left = from_behind(p.hitch.left_ball), right = from_behind(p.hitch.right_ball), mast = from_behind(p.mast_pin);
    add_shape(d, Role::ghost, make_bar(from_behind(p.left_pivot), left, rear_link_width), "lower link, left, compared");
    add_shape(d, Role::ghost, make_bar(from_behind(p.right_pivot), right, rear_link_width), "lower link, right, compared");
    add_shape(d, Role::ghost, Polyline{{left, mast, right, left}}, "mast, compared");
    if (p.on_rods) {
        add_shape(d, Role::ghost, Polyline{{from_behind(p.rods.left_arm_end), from_behind(p.rods.left_foot)}}, "lift rod, left, compared");
        add_shape(d, Role::ghost, Polyline{{from_behind(p.rods.right_arm_end), from_behind(p.rods.right_foot)}}, "lift rod, right, compared");
    }
    const std::string words = fmt::format("{}, dashed: {}", other.words, p.on_rods ? say_roll(p.hitch.attitude.roll) : "drawn level");
    DrawingPoint place = left;
    const std::vector<RearEdge> edges = list_rear_edges(other.setup.implement, m, p);
    if (!edges.empty()) {
        const RearEdge& widest = find_widest_edge(edges);
        add_shape(d, Role::ghost, Polygon{find_hull(edges)}, "implement, compared");
        place = point_between(widest.left, widest.right, 0.25);
    }
    d.labels.push_back({place, words, 3, false});
}

void grow(std::optional<DrawingBox>& box, const Drawing& drawing) {
    const auto one = find_bounding_box(drawing);
    if (!one) return;
    if (!box) box = one;
    box->least = {std::min(box->least.x, one->least.x), std::min(box->least.z, one->least.z)};
    box->most = {std::max(box->most.x, one->most.x), std::max(box->most.z, one->most.z)};
}

}  // namespace

std::string say_roll(double roll) {
    if (is_shown_level(roll)) return "level from side to side";
    return fmt::format("roll {}, {} side up", format_angle(std::fabs(roll)), roll > 0.0 ? "right" : "left");
}

RearView draw_rear_view(const Setup& s, const Analysis& analysis, const HitchView& at, UnitSystem units, const RearGhost* other) {
    RearView view;
    if (!analysis.linkage) return view;
    const MountedModel& m = analysis.linkage->model;
    const SafeWords w{units};
    const SpacePose p = find_space_pose(m, at);
    if (!p.closes) {
        view.not_known.push_back("Nothing drawn: the lift rods, or the links, do not reach this place.");
        return view;
    }
    const StandingSetup on(s);
    add_tractor(*on, m, view);
    if (!p.on_rods) view.not_known.push_back("Lift arm and lift rods are not known in full: the hitch is drawn level.");
    if (m.float_kind != UpperLinkKind::rigid) view.not_known.push_back("The upper link is drawn as set; its slack is not counted.");
    add_shafts(*on, m, p, view.drawing);
    add_implement(s, m, p, w, view);
    add_linkage(m, p, w, view.drawing);
    add_chains(m, p, w, view.drawing);
    add_sway(p, w, view.drawing);
    if (analysis.space) add_tyre_room(*on, *analysis.space, m, p, w, view);
    if (other) add_ghost(*other, at, view.drawing);
    draw_ground(view.drawing);
    return view;
}

std::optional<DrawingBox> find_rear_box(const Setup& s, const Analysis& analysis, UnitSystem units, const RearGhost* other) {
    std::optional<DrawingBox> box;
    if (!analysis.linkage) return box;
    const MountedModel& m = analysis.linkage->model;
    std::vector<double> heights{m.travel.low, m.travel.high};
    if (m.has_working_height) heights.push_back(m.working_height);
    for (const double height : heights) grow(box, draw_rear_view(s, analysis, {height, 0.0}, units, other).drawing);
    return box;
}

}  // namespace hitchwright
