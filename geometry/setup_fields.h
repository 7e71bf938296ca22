// The one list of all fields of a set-up: key, dimension, range, usual error, and from where to where to measure.
//
// File reader, `--set`, the key tables in docs/, the measuring hints and the error bands all visit the same
// functions, so a key cannot exist in one of them only. Ranges are limits of the possible, not of the usual:
// a value outside is refused. Usual errors are two sigma: tape between reachable pin centres 1/16 in, to a floor or
// plumb mark 1/8 in, hidden pivots 1/4 to 3/8 in, groove to groove 1/8 in (sources: docs/references.md, "Measuring").
//
// A visitor has these members (each takes the key as it stands in the file):
//   void reading(const char* key, Reading&, const FieldSpec&);
//   template <class E, std::size_t N> void choice(const char* key, E&, const ChoiceName<E> (&names)[N], const char* what);
//   void text(const char* key, std::string&, const char* what);
//   void whole(const char* key, int&, int least, int most, const char* what);
//   void whole_list(const char* key, std::vector<int>&, int least, int most, const char* what);
//   void flag(const char* key, bool&, const char* what);
//   template <class F> void table(const char* key, F&& visit_members);            // [key]
//   template <class F> void optional_table(const char* key, bool& present, F&&);  // [key], may be absent
//   template <class T, class F> void list(const char* key, std::vector<T>&, F&& visit_item, const char* what);  // [[key]]
// and, if it wants to know where a person stands to take a reading, and whether a job has it at all:
//   void stand_at(Station, Asked, Hitched);  // holds for the fields behind it in the same table, and for tables below it
#pragma once

#include <vector>

#include "geometry/drawn_fields.h"
#include "geometry/field_spec.h"
#include "geometry/setup.h"

namespace hitchwright {

namespace field {
inline constexpr ChoiceName<Category> categories[] = {
    {"none", Category::none}, {"0", Category::cat0}, {"1", Category::cat1},
    {"2", Category::cat2},    {"3", Category::cat3}, {"4", Category::cat4}};
inline constexpr ChoiceName<YesNo> yes_no[] = {{"unknown", YesNo::unknown}, {"yes", YesNo::yes}, {"no", YesNo::no}};
inline constexpr ChoiceName<LevellingRod> levelling_rods[] = {{"right", LevellingRod::right}, {"left", LevellingRod::left}, {"both", LevellingRod::both}};
inline constexpr ChoiceName<LoadBase> load_bases[] = {{"tractor_empty", LoadBase::tractor_empty}, {"all_together", LoadBase::all_together}};
inline constexpr ChoiceName<PtoType> pto_types[] = {{"unknown", PtoType::unknown}, {"1", PtoType::type1},
                                                    {"2", PtoType::type2},         {"3", PtoType::type3},
                                                    {"other", PtoType::other}};
inline constexpr ChoiceName<Rotation> rotations[] = {{"unknown", Rotation::unknown},
                                                     {"clockwise", Rotation::clockwise},
                                                     {"counterclockwise", Rotation::counterclockwise}};
inline constexpr ChoiceName<UpperLinkKind> upper_link_kinds[] = {{"rigid", UpperLinkKind::rigid},
                                                                 {"slot", UpperLinkKind::slot},
                                                                 {"chain", UpperLinkKind::chain},
                                                                 {"swing_strap", UpperLinkKind::swing_strap}};
inline constexpr ChoiceName<LengthReference> references[] = {{"joint_centres", LengthReference::joint_centres},
                                                             {"locking_grooves", LengthReference::locking_grooves},
                                                             {"shaft_ends", LengthReference::shaft_ends}};
inline constexpr ChoiceName<PoseQuantity> pose_quantities[] = {{"pitch", PoseQuantity::pitch},
                                                               {"tail_height", PoseQuantity::tail_height},
                                                               {"upper_link_length", PoseQuantity::upper_link_length},
                                                               {"lowest_ball_height", PoseQuantity::lowest_ball_height},
                                                               {"greatest_ball_height", PoseQuantity::greatest_ball_height}};
inline constexpr ChoiceName<JointKind> joint_kinds[] = {{"plain", JointKind::plain}, {"wide_angle", JointKind::wide_angle}};
inline constexpr ChoiceName<Attachment> attachments[] = {{"mounted", Attachment::mounted}, {"drawn", Attachment::drawn}};
}  // namespace field

template <class V>
void visit_named_point(NamedPoint& p, V&& v, Need need, const char* x_text, const char* z_text) {
    v.text("name", p.name, "name or number of the point, as it is called on the machine");
    v.reading("x", p.x, field::length(-4, 6, field::inch / 4, need, x_text));
    v.reading("z", p.z, field::length(-1, 6, field::floor_error, need, z_text));
}

/// Visits all fields of a tractor file.
template <class V>
void visit_fields(Tractor& t, V&& v) {
    using namespace field;
    v.text("name", t.name, "name shown");
    v.text("note", t.note, "free text");
    v.table("hitch", [&](auto& h) {
        stand_at(h, Station::lower_links);
        h.choice("category", t.hitch.category, categories, "three-point category (ISO 730)");
        stand_at(h, Station::none, Asked::other);
        h.choice("narrow", t.hitch.narrow, yes_no, "narrow (N) hitch: span of the next smaller category");
        stand_at(h, Station::lower_links);
        h.reading("lower_ball_bore", t.hitch.lower_ball_bore, length(0.01, 0.1, 0.0005, Need::optional, "bore of the lower-link balls"));
        stand_at(h, Station::upper_link);
        h.reading("upper_pin_diameter", t.hitch.upper_pin_diameter, length(0.01, 0.1, 0.0005, Need::optional, "bore of the upper link's ball at the implement end, for its pin"));
    });
    v.table("lower_link", [&](auto& l) {
        stand_at(l, Station::lower_links);
        l.reading("pivot_x", t.lower_link.pivot_x, length(-1.5, 2, hidden_error, Need::linkage, "plumb the rear hub centre and the front pin of the lower link to the floor; pin behind the hub mark is positive"));
        l.reading("pivot_z", t.lower_link.pivot_z, length(0.05, 2, inch / 4, Need::linkage, "floor to the front pin centre of the lower link, both sides, average"));
        l.reading("length", t.lower_link.length, length(0.2, 2.5, floor_error, Need::linkage, "lower link: front pin centre to ball centre, ends latched"));
        l.reading("half_spread_at_pivot", t.lower_link.half_spread_at_pivot, length(0, 1, floor_error, Need::linkage, "half the distance between the two front pin centres, across the tractor, at the middle of the link eyes"));
        l.reading("half_spread_at_ball", t.lower_link.half_spread_at_ball, length(0.1, 1, pin_error, Need::linkage, "half the distance between the two ball centres"));
        l.reading("outer_half_width", t.lower_link.outer_half_width, length(0, 0.3, pin_error, Need::optional, "middle line of the lower link to its outermost part towards the tyre, chain and pins counted"));
    });
    stand_at(v, Station::upper_link);
    v.list("upper_link_pin", t.upper_link_pins, [](NamedPoint& p, auto& i) {
        visit_named_point(p, i, Need::file, "plumb the hub centre and the hole of the upper-link bracket to the floor; hole behind the hub mark is positive", "floor to the hole centre");
    }, "each hole of the upper-link bracket on the tractor");
    v.table("upper_link", [&](auto& l) {
        stand_at(l, Station::upper_link);
        l.reading("length_least", t.upper_link.length_least, length(0.1, 2, pin_error, Need::optional, "upper link screwed right in: pin centre to pin centre"));
        l.reading("length_most", t.upper_link.length_most, length(0.1, 2.5, pin_error, Need::optional, "upper link at its longest with the least thread still holding (never past the groove): pin centre to pin centre"));
        l.reading("advance_per_turn", t.upper_link.advance_per_turn, {Dimension::length_per_turn, 0.0005, 0.05, 0.0002, Need::optional, "change of length in one turn of the body, both threads together"});
    });
    v.table("lift_arm", [&](auto& a) {
        stand_at(a, Station::lift, Asked::if_known);
        a.reading("pivot_x", t.lift_arm.pivot_x, length(-1.5, 2, hidden_error, Need::optional, "rockshaft centre behind the hub mark, plumbed"));
        a.reading("pivot_z", t.lift_arm.pivot_z, length(0.1, 3, inch / 4, Need::optional, "floor to rockshaft centre"));
        a.reading("length", t.lift_arm.length, length(0.05, 1.5, floor_error, Need::optional, "rockshaft centre to the pin of the lift rod"));
        a.reading("half_spread", t.lift_arm.half_spread, length(0, 1, floor_error, Need::optional, "half the distance between the lift-rod pins of the two arms"));
        a.reading("angle_low", t.lift_arm.angle_low, angle(-120, 120, Need::optional, "arm angle with the lever right down, from level, rear end up positive"));
        a.reading("angle_high", t.lift_arm.angle_high, angle(-120, 150, Need::optional, "arm angle with the lever right up"));
    });
    v.table("lift_rod", [&](auto& r) {
        stand_at(r, Station::lift, Asked::if_known);
        r.reading("length", t.lift_rod.length, length(0.1, 2, pin_error, Need::optional, "lift rod: pin centre to pin centre"));
        r.reading("pin_along_link", t.lift_rod.pin_along_link, length(0.05, 2.5, floor_error, Need::optional, "front pin centre of the lower link to the lift-rod pin, along the link"));
        r.reading("pin_off_link", t.lift_rod.pin_off_link, length(-0.3, 0.3, floor_error, Need::optional, "lift-rod pin above the line from front pin to ball (below: negative)"));
        r.reading("free_rise", t.lift_rod.free_rise, length(0, 0.5, floor_error, Need::optional, "free rise of the ball in the slot of rod or ball end"));
        r.reading("length_least", t.lift_rod.length_least, length(0.1, 2, pin_error, Need::optional, "lift rod with the levelling screw screwed right in: pin centre to pin centre"));
        r.reading("length_most", t.lift_rod.length_most, length(0.1, 2, pin_error, Need::optional, "the same rod at its longest with the least thread still holding (never past the groove)"));
        r.reading("advance_per_turn", t.lift_rod.advance_per_turn, {Dimension::length_per_turn, 0.0005, 0.05, 0.0002, Need::optional, "change of the rod's length in one turn of the levelling screw's crank"});
        r.choice("levelling", t.lift_rod.levelling, levelling_rods, "which lift rod has the levelling screw, seen from the seat; absent: the right one");
    });
    stand_at(v, Station::lift, Asked::if_known);
    v.list("lift_rod_hole", t.lift_rod_holes, [](LiftRodHole& h, auto& i) {
        i.text("name", h.name, "name or number on the machine");
        i.reading("pin_along_link", h.pin_along_link, length(0.05, 2.5, floor_error, Need::file, "front pin centre of the lower link to this hole, along the link"));
    }, "each hole in the lower link for the foot of the lift rod, where there are several; takes the place of lift_rod.pin_along_link");
    v.table("sway", [&](auto& w) {
        stand_at(w, Station::coupled);
        w.reading("total_at_ball", t.sway.total_at_ball, length(0, 0.5, floor_error, Need::optional, "balls pushed right over to one side and to the other near working height, chains and blocks as set: total travel"));
    });
    v.table("check_chain", [&](auto& c) {
        stand_at(c, Station::lower_links, Asked::if_known);
        c.reading("anchor_x", t.check_chain.anchor_x, length(-1.5, 2, inch / 4, Need::optional, "check chain or stabiliser: plumb the hub centre and its pin on the tractor to the floor; pin behind the hub mark is positive"));
        c.reading("anchor_half_spread", t.check_chain.anchor_half_spread, length(0, 1.5, floor_error, Need::optional, "half the distance between its pins on the tractor, left to right"));
        c.reading("anchor_z", t.check_chain.anchor_z, length(0, 2, floor_error, Need::optional, "floor to its pin on the tractor"));
        c.reading("pin_along_link", t.check_chain.pin_along_link, length(0, 2.5, floor_error, Need::optional, "front pin centre of the lower link to its pin on the link, along the link"));
        c.reading("length", t.check_chain.length, length(0.05, 2, pin_error, Need::optional, "pulled taut: pin centre to pin centre, both sides alike"));
    });
    stand_at(v, Station::lower_links, Asked::hidden_pivot);
    v.list("ball_reading", t.ball_readings, [](BallReading& b, auto& i) {
        i.text("name", b.name, "name or number of the reading");
        i.reading("x", b.x, length(-1, 4, floor_error, Need::file, "plumb the hub centre and the ball centre to the floor; ball behind the hub mark is positive"));
        i.reading("z", b.z, length(-0.5, 3, floor_error, Need::file, "floor to ball centre, the links level with each other"));
        i.reading("arm_angle", b.arm_angle, angle(-120, 150, Need::optional, "lift arm at this height, from level, rear end up positive"));
    }, "positions of one ball at three or more heights, far apart, for a front pin that cannot be taped");
    v.table("travel", [&](auto& h) {
        stand_at(h, Station::coupled);
        h.reading("ball_height_low", t.travel.ball_height_low, length(-0.5, 2.5, floor_error, Need::linkage, "floor to ball centre, lever right down, implement on"));
        h.reading("ball_height_high", t.travel.ball_height_high, length(-0.5, 3, floor_error, Need::linkage, "floor to ball centre, lever right up, implement on"));
        stand_at(h, Station::coupled, Asked::rod_holes);
        h.text("lift_rod_hole", t.travel.lift_rod_hole, "name of the hole the lift rod was in when ball heights were taped");
    });
    v.table("pto", [&](auto& p) {
        stand_at(p, Station::pto, Asked::with_shaft, Hitched::either);
        p.choice("type", t.pto.type, pto_types, "PTO type (ISO 500-1): 1 = 35 mm 6 splines, 2 = 35 mm 21 splines, 3 = 45 mm 20 splines");
        p.whole_list("speeds_rpm", t.pto.speeds_rpm, 100, 3000, "speeds the PTO can be set to");
        p.whole("splines", t.pto.splines, 3, 60, "splines of the stub, counted");
        p.reading("shaft_diameter", t.pto.shaft_diameter, length(0.01, 0.1, 0.0005, Need::optional, "diameter over the splines of the stub"));
        p.choice("rotation", t.pto.rotation, rotations, "way the stub turns, seen from behind the tractor");
        p.reading("power", t.pto.power, {Dimension::power, 500, 1.0e6, 0, Need::optional, "power at the PTO"});
        p.reading("stub_x", t.pto.stub_x, length(-1, 3, inch / 4, Need::driveline, "plumb the hub centre and the end of the PTO stub to the floor; stub end behind the hub mark is positive").when(Asked::from_stub));
        p.reading("stub_y", t.pto.stub_y, length(-0.5, 0.5, floor_error, Need::optional, "stub centre to the right of the middle of the tractor"));
        p.reading("stub_z", t.pto.stub_z, length(0.1, 2, floor_error, Need::driveline, "floor to the centre of the PTO stub").when(Asked::from_stub));
        p.reading("stub_slope", t.pto.stub_slope, angle(-20, 20, Need::optional, "angle finder on the stub, zeroed on the floor; rear end up positive"));
        p.reading("stub_plan_angle", t.pto.stub_plan_angle, angle(-20, 20, Need::optional, "stub turned to the right in plan view"));
    });
    v.table("drawbar", [&](auto& d) {
        stand_at(d, Station::drawbar);
        d.reading("end_x", t.drawbar.end_x, length(-1, 3, inch / 4, Need::optional, "rearmost point of the drawbar behind the hub mark"));
        d.reading("end_z", t.drawbar.end_z, length(0.05, 1.5, floor_error, Need::optional, "floor to the top of the drawbar at its end"));
        visit_drawbar(t.drawbar, d);
        stand_at(d, Station::drawbar);
        d.choice("out_of_the_way", t.drawbar.out_of_the_way, yes_no, "yes: the drawbar is taken off or pushed in for this implement");
    });
    visit_drawbar_pins(t.drawbar_pins, v);
    v.table("tyre", [&](auto& y) {
        stand_at(y, Station::rear_axle, Asked::always, Hitched::either);
        y.reading("rear_radius", t.tyre.rear_radius, length(0.1, 1.5, floor_error, Need::optional, "floor to rear hub centre, tyres at working pressure"));
        y.reading("rear_width", t.tyre.rear_width, length(0.05, 1.5, inch / 4, Need::optional, "width of the rear tyre at its widest"));
        y.reading("rear_track", t.tyre.rear_track, length(0.4, 4, inch / 4, Need::optional, "middle of the left to middle of the right rear tyre"));
        stand_at(y, Station::front_axle, Asked::ditch, Hitched::either);
        stand_at(y, Station::weight, Asked::other, Hitched::either);
        y.reading("front_load_most", t.tyre.front_load_most, {Dimension::mass, 50, 50000, 0, Need::optional, "what both front tyres together may carry at the pressure they have, from their table"});
        y.reading("rear_load_most", t.tyre.rear_load_most, {Dimension::mass, 50, 50000, 0, Need::optional, "what all rear tyres together may carry at the pressure they have, from their table"});
        stand_at(y, Station::front_axle, Asked::ditch, Hitched::either);
        y.reading("front_radius", t.tyre.front_radius, length(0.05, 1.5, floor_error, Need::optional, "floor to front hub centre"));
        visit_front_axle(t.front_axle, y);
    });
    stand_at(v, Station::none, Asked::other, Hitched::either);
    v.list("tyre_set", t.tyre_sets, [](TyreSet& y, auto& i) {
        i.text("name", y.name, "what these tyres are called");
        i.reading("rear_radius", y.rear_radius, length(0.1, 1.5, floor_error, Need::file, "floor to rear hub centre on these tyres, at working pressure"));
        i.reading("rear_width", y.rear_width, length(0.05, 1.5, inch / 4, Need::optional, "width of the rear tyre at its widest; absent: as the other tyres"));
        i.reading("rear_track", y.rear_track, length(0.4, 4, inch / 4, Need::optional, "middle of the left to middle of the right rear tyre; absent: as the other tyres"));
        i.reading("front_radius", y.front_radius, length(0.05, 1.5, floor_error, Need::optional, "floor to front hub centre; absent: as the other tyres"));
    }, "other tyres the tractor can stand on; all its heights were read on those of [tyre]");
    visit_steering(t.steering, v);
    v.table("mass", [&](auto& m) {
        stand_at(m, Station::weight, Asked::other);
        m.reading("mass", t.mass.mass, {Dimension::mass, 100, 50000, 0, Need::optional, "tractor empty, with fluids"});
        m.reading("front_share", t.mass.front_share, {Dimension::ratio, 0.05, 0.95, 0, Need::optional, "share of the empty mass on the front axle, 0 to 1"});
        stand_at(m, Station::front_axle, Asked::ditch, Hitched::either);
        m.reading("wheelbase", t.mass.wheelbase, length(0.8, 6, inch / 4, Need::optional, "front hub to rear hub"));
        stand_at(m, Station::weight, Asked::other);
        m.reading("lift_at_610", t.mass.lift_at_610, {Dimension::force, 100, 1.0e6, 0, Need::optional, "published lift 610 mm (24 in) behind the balls"});
        m.reading("lift_at_balls", t.mass.lift_at_balls, {Dimension::force, 100, 1.0e6, 0, Need::optional, "published lift at the ball ends"});
        stand_at(m, Station::weight, Asked::other, Hitched::either);
        m.reading("front_axle_most", t.mass.front_axle_most, {Dimension::mass, 50, 50000, 0, Need::optional, "what the front axle may carry, from plate or manual"});
        m.reading("rear_axle_most", t.mass.rear_axle_most, {Dimension::mass, 50, 50000, 0, Need::optional, "what the rear axle may carry, from plate or manual"});
        m.reading("total_most", t.mass.total_most, {Dimension::mass, 100, 80000, 0, Need::optional, "what the whole tractor may weigh, from plate or manual"});
    });
    v.table("lift_test", [&](auto& l) {
        stand_at(l, Station::weight, Asked::other);
        l.text("upper_link_pin", t.lift_test.upper_link_pin, "hole the upper link was in when the published lift was tested; absent: not stated");
        l.text("lift_rod_hole", t.lift_test.lift_rod_hole, "hole the lift rod was in then, where several are listed; absent: not stated");
        l.reading("mast_height", t.lift_test.mast_height, length(0.1, 2, pin_error, Need::optional, "mast of the test's frame; absent: the figure 610 mm behind counts for nothing"));
    });
    stand_at(v, Station::weight, Asked::other);
    v.list("lift_point", t.lift_points, [](LiftPoint& p, auto& i) {
        i.text("name", p.name, "name or number of the point");
        i.reading("ball_height", p.ball_height, length(-0.5, 3, floor_error, Need::file, "floor to ball centre there"));
        i.reading("force", p.force, {Dimension::force, 10, 1.0e6, 0, Need::file, "lift at the ball ends at that height"});
    }, "lift curve at the ball ends, two points or more");
    v.table("lift_cylinder", [&](auto& c) {
        stand_at(c, Station::lift, Asked::other);
        c.reading("base_x", t.lift_cylinder.base_x, length(-1, 2, inch / 4, Need::optional, "cylinder's pin on the tractor behind the hub mark"));
        c.reading("base_z", t.lift_cylinder.base_z, length(0, 3, inch / 4, Need::optional, "floor to the cylinder's pin on the tractor"));
        c.reading("crank_length", t.lift_cylinder.crank_length, length(0.02, 0.6, frame_error, Need::optional, "lift-arm pivot to the cylinder's pin on the crank"));
        c.reading("crank_angle", t.lift_cylinder.crank_angle, angle(-180, 180, Need::optional, "from the lift arm's centre line to the crank's, turning upwards from rearward positive"));
        c.reading("bore", t.lift_cylinder.bore, length(0.01, 0.4, 0.0005, Need::optional, "bore of the lift cylinder, from manual or plate"));
        c.whole("cylinders", t.lift_cylinder.cylinders, 1, 4, "lift cylinders of that bore that push together; absent: one");
        c.reading("pressure", t.lift_cylinder.pressure, {Dimension::pressure, 1.0e5, 6.0e7, 0, Need::optional, "pressure at which the relief valve opens"});
        c.reading("efficiency", t.lift_cylinder.efficiency, {Dimension::ratio, 0.3, 1, 0, Need::optional, "share of the thrust that friction leaves; absent: the force is taken as not more than this"});
    });
    stand_at(v, Station::cab, Asked::as_found);
    v.list("cab_line", t.cab_line, [](NamedPoint& p, auto& i) {
        visit_named_point(p, i, Need::file, "behind the hub mark", "above the floor");
    }, "points along the rear of cab, window or ROPS, from top to bottom");
}

/// Visits all fields of an implement file.
template <class V>
void visit_fields(Implement& m, V&& v) {
    using namespace field;
    v.text("name", m.name, "name shown");
    v.text("note", m.note, "free text");
    stand_at(v, Station::none, Asked::other, Hitched::either);
    v.choice("attachment", m.attachment, attachments, "mounted on the three-point linkage, or drawn on the drawbar");
    v.table("hitch", [&](auto& h) {
        stand_at(h, Station::implement_pins);
        h.choice("category", m.hitch.category, categories, "three-point category (ISO 730)");
        stand_at(h, Station::none, Asked::other);
        h.choice("narrow", m.hitch.narrow, yes_no, "narrow (N) hitch: span of the next smaller category");
        stand_at(h, Station::implement_pins);
        h.reading("lower_pin_diameter", m.hitch.lower_pin_diameter, length(0.01, 0.1, 0.0005, Need::optional, "diameter of the lower hitch pins"));
        stand_at(h, Station::mast);
        h.reading("upper_pin_diameter", m.hitch.upper_pin_diameter, length(0.01, 0.1, 0.0005, Need::optional, "diameter of the pin for the upper link"));
        stand_at(h, Station::implement_pins);
        h.reading("shoulder_span", m.hitch.shoulder_span, length(0.2, 2, pin_error, Need::optional, "shoulder to shoulder of the lower hitch pins"));
        stand_at(h, Station::implement_pins, Asked::if_known);
        h.reading("side_play", m.hitch.side_play, length(0, 0.1, floor_error, Need::optional, "how far a ball can slide outwards along its pin, to the linchpin"));
    });
    stand_at(v, Station::mast);
    v.list("mast_pin", m.mast_pins, [](MastPin& p, auto& i) {
        i.text("name", p.name, "name or number of the hole");
        i.reading("height", p.height, length(0.1, 2, pin_error, Need::file, "lower pin centre to upper pin centre, square to the frame"));
        i.reading("offset", p.offset, length(-1, 1, frame_error, Need::optional, "straight edge up from the lower pins: upper pin behind it is positive, ahead negative"));
    }, "each hole of the mast");
    v.table("upper_link_float", [&](auto& f) {
        stand_at(f, Station::mast);
        f.choice("kind", m.upper_link_float.kind, upper_link_kinds, "how the upper link is held at the mast");
        f.reading("slack", m.upper_link_float.slack, length(0, 1, pin_error, Need::part, "slot or chain: free travel, centre to centre of the pin's two ends").when(Asked::slot_or_chain));
        f.reading("strap_length", m.upper_link_float.strap_length, length(0.02, 1, pin_error, Need::part, "swing strap: hole centre to hole centre").when(Asked::swing_strap));
        f.reading("strap_stop_low", m.upper_link_float.strap_stop_low, angle(-360, 360, Need::optional, "swing strap on one stop: line from the mast pin to the upper link's pin, from level rearward, up positive (straight up 90, straight ahead 180), frame level").when(Asked::swing_strap));
        f.reading("strap_stop_high", m.upper_link_float.strap_stop_high, angle(-360, 360, Need::optional, "the same on its other stop, the greater angle").when(Asked::swing_strap));
    });
    stand_at(v, Station::input, Asked::with_shaft, Hitched::either);
    v.optional_table("pic", m.pic.fitted, [&](auto& p) {
        p.choice("type", m.pic.type, pto_types, "PTO type the input shaft is made for");
        p.whole("speed_rpm", m.pic.speed_rpm, 100, 3000, "speed the implement is made for");
        p.whole("splines", m.pic.splines, 3, 60, "splines of the input shaft, counted");
        p.reading("shaft_diameter", m.pic.shaft_diameter, length(0.01, 0.1, 0.0005, Need::optional, "diameter of the input shaft"));
        p.choice("rotation", m.pic.rotation, rotations, "rotation of the input shaft seen from behind the tractor");
        p.reading("power", m.pic.power, {Dimension::power, 100, 1.0e6, 0, Need::optional, "most power the implement takes or its input may carry"});
        p.reading("x", m.pic.x, length(-1, 4, frame_error, Need::driveline, "straight edge across the lower pins to the end of the input shaft, behind positive").on_drawbar("centre of the hitch pin to the end of the input shaft, level, behind positive"));
        p.reading("y", m.pic.y, length(-1, 1, frame_error, Need::optional, "input shaft to the right of the middle of the lower pins").on_drawbar("end of the input shaft to the right of the hitch pin, tongue straight behind the tractor"));
        p.reading("z", m.pic.z, length(-1, 2, frame_error, Need::driveline, "line of the lower pins to the centre of the input shaft, above positive, frame level").on_drawbar("middle of the hitch joint to the centre of the input shaft's end, plumb, above positive, frame level"));
        p.reading("slope", m.pic.slope, angle(-30, 30, Need::optional, "input shaft against the frame, rear end up positive"));
        p.reading("plan_angle", m.pic.plan_angle, angle(-45, 45, Need::optional, "input shaft turned to the right in plan view"));
    });
    // A set-up's choices ask for these two, once for all.
    v.table("work", [&](auto& w) {
        stand_at(w, Station::coupled, Asked::other);
        w.reading("ball_height", m.work.ball_height, length(-0.5, 2.5, floor_error, Need::optional, "floor to lower pin centre when working"));
        w.reading("pitch", m.work.pitch, angle(-30, 30, Need::optional, "pitch when working, rear end up positive; 0 is level"));
    });
    stand_at(v, Station::contacts, Asked::as_found, Hitched::either);
    v.list("ground_contact", m.ground_contacts, [](GroundContact& g, auto& i) {
        i.text("name", g.name, "wheel, roller or skid");
        i.reading("x", g.x, length(-2, 6, inch / 4, Need::file, "lower pins to the axle (wheel) or contact point (skid), behind positive").on_drawbar("centre of the hitch pin to the axle, level, behind positive"));
        i.reading("z", g.z, length(-2, 2, inch / 4, Need::file, "lower pins to the axle or contact point, above positive").on_drawbar("middle of the hitch joint to the axle's centre, plumb, above positive, below negative"));
        i.reading("radius", g.radius, length(0, 1, floor_error, Need::optional, "loaded radius of the wheel; none for a skid"));
        stand_at(i, Station::contacts, Asked::as_found, Hitched::drawn);
        i.reading("half_track", g.half_track, length(0, 6, inch / 4, Need::optional, "half the distance between the left and the right wheel of this axle, middle to middle"));
    }, "wheels, rollers and skids the implement stands on");
    stand_at(v, Station::outline, Asked::as_found);
    v.list("point", m.points, [](ImplementPoint& p, auto& i) {
        i.text("name", p.name, "name of the point");
        i.reading("x", p.x, length(-2, 8, inch / 4, Need::file, "behind the lower pins"));
        i.reading("z", p.z, length(-2, 4, inch / 4, Need::file, "above the lower pins, frame level"));
        i.reading("half_width", p.half_width, length(0, 6, inch / 4, Need::optional, "half the width of the implement there"));
        i.reading("y", p.y, FieldSpec{length(-4, 4, inch / 4, Need::optional, "middle of this point's left and right end, to the right of the middle between the lower pins; absent: in the middle")}.when(Asked::if_known));
        i.flag("deck_edge", p.deck_edge, "true: an edge the guard of the shaft could rub on");
    }, "outline points that could touch something");
    visit_drawn_implement(m.drawn, v);
    v.table("mass", [&](auto& w) {
        stand_at(w, Station::weight);
        w.reading("mass", m.mass.mass, FieldSpec{Dimension::mass, 5, 30000, 0, Need::optional, "mass of the implement"}.when(Asked::other));
        w.reading("cg_x", m.mass.cg_x, length(-1, 6, 2 * inch, Need::optional, "centre of gravity behind the lower pins"));
        w.reading("cg_z", m.mass.cg_z, length(-1, 3, 2 * inch, Need::optional, "centre of gravity above the lower pins"));
    });
}

/// Visits the fields of one end of the driveline.
template <class V>
void visit_joint(JointReadings& j, V&& v) {
    using namespace field;
    v.choice("kind", j.kind, joint_kinds, "plain cross joint or wide-angle (double) joint");
    v.reading("offset", j.offset, length(-0.2, 0.6, floor_error, Need::driveline, "end of the machine's shaft to the joint centre, along the axis, coupled"));
    v.reading("centre_to_groove", j.centre_to_groove, length(-0.1, 0.6, pin_error, Need::part, "joint centre to the locking groove, away from the tubes").when(Asked::locking_grooves));
    v.reading("centre_to_end", j.centre_to_end, length(0, 0.6, pin_error, Need::part, "joint centre to the end of the outer yoke, away from the tubes").when(Asked::shaft_ends));
    v.reading("spacing", j.spacing, length(0.02, 0.5, pin_error, Need::part, "wide-angle joint: cross centre to cross centre").when(Asked::wide_angle));
    v.reading("angle_most", j.angle_most, angle(5, 90, Need::optional, "the maker's stop of this joint"));
    v.whole("splines", j.splines, 3, 60, "splines of the yoke");
}

/// Visits all fields of a driveline file.
template <class V>
void visit_fields(Driveline& d, V&& v) {
    using namespace field;
    v.text("name", d.name, "name shown");
    v.text("note", d.note, "free text");
    stand_at(v, Station::shaft, Asked::with_shaft, Hitched::either);
    v.table("shaft", [&](auto& s) {
        s.choice("reference", d.reference, references, "between which points the lengths of this shaft are taken");
        s.reading("closed_length", d.closed_length, length(0.2, 4, pin_error, Need::driveline, "pushed fully home, between the points named by `reference`"));
        s.reading("tractor_tube", d.tractor_tube, length(0.03, 3, pin_error, Need::optional, "free tube of the tractor half: root (where the tube leaves yoke or bell) to tube end"));
        s.reading("implement_tube", d.implement_tube, length(0.03, 3, pin_error, Need::optional, "free tube of the implement half, root to end"));
        s.reading("overlap_closed", d.overlap_closed, length(0.03, 3, pin_error, Need::optional, "overlap of the tubes when pushed fully home").when(Asked::if_known));
        s.reading("longest_usable", d.longest_usable, length(0.2, 5, pin_error, Need::optional, "longest length of the maker's table; leaves half the overlap, never the point of separation").when(Asked::if_known));
        s.reading("yoke_phase_error", d.yoke_phase_error, {Dimension::angle, -90 * degree, 90 * degree, 2 * degree, Need::optional, "turn of one inner yoke against the other; ears in one plane is 0"});
        s.reading("power_540", d.power_540, {Dimension::power, 500, 1.0e6, 0, Need::optional, "power it may carry at 540 rpm"});
        s.reading("power_1000", d.power_1000, {Dimension::power, 500, 1.0e6, 0, Need::optional, "power it may carry at 1000 rpm"});
        s.choice("adapter_declared", d.adapter_declared, yes_no, "yes: a spline adapter is fitted and declared");
    });
    v.table("guard", [&](auto& g) {
        g.reading("radius", d.guard_radius, length(0.01, 0.4, inch / 4, Need::optional, "outer radius of the guard tube or cone where it comes nearest to anything"));
        g.reading("closed_length", d.guard_closed_length, length(0.1, 4, floor_error, Need::optional, "joint centre distance at which the guard tubes bottom"));
        g.reading("overlap_closed", d.guard_overlap_closed, length(0.01, 3, floor_error, Need::optional, "overlap of the guard tubes when the shaft is closed"));
    });
    v.table("tractor_joint", [&](auto& j) { visit_joint(d.tractor_joint, j); });
    v.table("implement_joint", [&](auto& j) { visit_joint(d.implement_joint, j); });
}

/// Visits what belongs to the set-up itself, neither to a machine nor to the choices.
template <class V>
void visit_setup_own(JobDetails& job, std::vector<DirectReading>& readings, std::vector<PoseReading>& poses,
                     std::vector<TurnReading>& turns, V&& v) {
    using namespace field;
    v.table("job", [&](auto& j) {
        stand_at(j, Station::none, Asked::other, Hitched::either);
        j.text("customer", job.customer, "for the printed sheet: whose machine it is");
        j.text("technician", job.technician, "for the printed sheet: who sets it up");
        j.text("date", job.date, "for the printed sheet: day of the work; absent: a line to write on");
        j.text("hours", job.hours, "for the printed sheet: hours on the tractor's meter");
        j.text("tractor_serial", job.tractor_serial, "for the printed sheet: the tractor's serial number");
        j.text("implement_serial", job.implement_serial, "for the printed sheet: the implement's serial number");
        j.text("driveline_serial", job.driveline_serial, "for the printed sheet: the shaft's number");
    });
    stand_at(v, Station::coupled, Asked::direct_check);
    v.list("direct_reading", readings, [](DirectReading& d, auto& i) {
        i.text("name", d.name, "name or number of the reading");
        i.reading("ball_height", d.ball_height, length(-0.5, 3, floor_error, Need::file, "floor to ball centre when the distance was taken"));
        i.reading("distance", d.distance, length(0.1, 6, groove_error, Need::file, "PTO stub to input shaft in a straight line, shaft off, implement on, between the points named by `reference`"));
        i.choice("reference", d.reference, references, "points on both machine shafts: locking grooves, shaft ends, or where the joint centres come to lie");
    }, "stub to input shaft, taped at the lowest, a middle and the highest height");
    stand_at(v, Station::coupled, Asked::as_found);
    v.list("pose_reading", poses, [](PoseReading& p, auto& i) {
        i.text("name", p.name, "name or number of the reading");
        i.choice("what", p.what, pose_quantities, "what was read: pitch of the implement; height of one of its points; length of the upper link; ball height with the lever right down or right up");
        i.reading("ball_height", p.ball_height, length(-0.5, 3, floor_error, Need::optional, "floor to ball centre when it was read; not for the two ball heights"));
        i.reading("angle", p.angle, angle(-90, 90, Need::optional, "pitch of the implement then, rear end up positive; for pitch and upper_link_length"));
        i.reading("length", p.length, length(-0.5, 6, floor_error, Need::optional, "floor to the point, floor to ball centre, or upper link pin centre to pin centre"));
        i.text("point", p.point, "tail_height: name of the implement's outline point");
    }, "the coupled machine read at known heights, to hold the model to");
    stand_at(v, Station::coupled, Asked::as_found, Hitched::drawn);
    v.list("turn_reading", turns, [](TurnReading& t, auto& i) {
        i.text("name", t.name, "name or number of the reading");
        i.reading("turn", t.turn, angle(-120, 120, Need::file, "tractor against tongue when the distance was taken, both level: straight on 0, a right turn positive, a left turn negative"));
        i.reading("distance", t.distance, length(0.1, 6, groove_error, Need::file, "PTO stub to input shaft, or to the shaft in its bearing on the tongue, in a straight line, shaft off, between the points named by `reference`"));
        i.choice("reference", t.reference, references, "points on both machine shafts: locking grooves, shaft ends, or where the joint centres come to lie");
    }, "drawn: stub to input shaft, taped straight on and in turns, to hold the model to");
}

/// Visits the choices of a set-up.
template <class V>
void visit_fields(Choices& c, V&& v) {
    using namespace field;
    stand_at(v, Station::upper_link);
    v.text("upper_link_pin", c.upper_link_pin, "name of the tractor hole the upper link is in");
    stand_at(v, Station::mast);
    v.text("mast_pin", c.mast_pin, "name of the mast hole");
    stand_at(v, Station::lift, Asked::rod_holes);
    v.text("lift_rod_hole", c.lift_rod_hole, "name of the hole in the lower link the lift rod is in; absent: the one of the travel");
    stand_at(v, Station::upper_link);
    v.reading("upper_link_length", c.upper_link_length, length(0.1, 3, pin_error, Need::optional, "upper link as set, pin centre to pin centre; absent: the length that gives the working pitch").when(Asked::if_known));
    v.reading("upper_link_length_now", c.upper_link_length_now, length(0.1, 3, pin_error, Need::optional, "upper link as it is now, to count the turns from"));
    stand_at(v, Station::lift, Asked::if_known);
    v.reading("left_lift_rod_length", c.left_lift_rod_length, length(0.1, 2, pin_error, Need::optional, "left lift rod as set, pin centre to pin centre; absent: as in the tractor's file"));
    v.reading("right_lift_rod_length", c.right_lift_rod_length, length(0.1, 2, pin_error, Need::optional, "right lift rod as set, pin centre to pin centre; absent: as in the tractor's file"));
    stand_at(v, Station::lower_links, Asked::if_known);
    v.reading("left_check_chain_length", c.left_check_chain_length, length(0.05, 2, pin_error, Need::optional, "left check chain as set, pulled taut; absent: as in the tractor's file"));
    v.reading("right_check_chain_length", c.right_check_chain_length, length(0.05, 2, pin_error, Need::optional, "right check chain as set, pulled taut; absent: as in the tractor's file"));
    stand_at(v, Station::none, Asked::other);
    v.reading("working_roll", c.working_roll, angle(-30, 30, Need::optional, "roll wanted when working, right side up positive; 0 is level"));
    stand_at(v, Station::none, Asked::other, Hitched::either);
    v.text("tyre_set", c.tyre_set, "name of the tractor's tyre set it stands on; absent: the tyres of its [tyre]");
    stand_at(v, Station::coupled);
    v.reading("working_ball_height", c.working_ball_height, length(-0.5, 2.5, floor_error, Need::optional, "floor to ball centre when working; absent: the implement's own"));
    stand_at(v, Station::coupled, Asked::pitch_not_found, Hitched::either);
    v.reading("working_pitch", c.working_pitch, angle(-30, 30, Need::optional, "pitch wanted when working, rear end up positive").on_drawbar("only where no wheel is given: angle finder on the frame, zeroed on the floor, hitched, rear end up positive"));
    stand_at(v, Station::coupled);
    v.reading("working_band_low", c.working_band_low, length(-0.5, 2.5, 0, Need::optional, "lowest ball height at which the shaft is driven").when(Asked::with_shaft));
    v.reading("working_band_high", c.working_band_high, length(-0.5, 2.5, 0, Need::optional, "greatest ball height at which the shaft is driven").when(Asked::with_shaft));
    v.reading("lift_stop", c.lift_stop, length(-0.5, 3, 0, Need::optional, "ball height of a fixed lift stop; the travel ends there"));
    v.reading("lower_stop", c.lower_stop, length(-0.5, 3, 0, Need::optional, "ball height of a fixed stop downwards; the travel begins there"));
    stand_at(v, Station::none, Asked::other);
    v.reading("transport_ball_height", c.transport_ball_height, length(0, 3, 0, Need::optional, "ball height for the transport pitch; absent: the category's"));
    stand_at(v, Station::none, Asked::other, Hitched::either);
    v.reading("cut_tractor_half", c.cut_tractor_half, length(0, 2, 0, Need::optional, "cut made to (or proposed for) the tractor half: tube and guard tube"));
    v.reading("cut_implement_half", c.cut_implement_half, length(0, 2, 0, Need::optional, "cut made to (or proposed for) the implement half: tube and guard tube"));
    stand_at(v, Station::none, Asked::other);
    v.reading("hump_angle", c.hump_angle, FieldSpec{Dimension::angle, 0, 30 * degree, 0, Need::optional, "hump: the ground under the implement falls away behind the rear axle by this against the tractor's, for a floating upper link"}.when(Asked::other));
    v.reading("hollow_angle", c.hollow_angle, FieldSpec{Dimension::angle, 0, 30 * degree, 0, Need::optional, "hollow: the ground under the implement rises behind the rear axle by this against the tractor's, for a floating upper link"}.when(Asked::other));
    stand_at(v, Station::pto, Asked::with_shaft, Hitched::either);
    v.whole("pto_speed_rpm", c.pto_speed_rpm, 100, 3000, "PTO speed chosen; absent: the implement's");
    stand_at(v, Station::implement_pins);
    v.choice("lower_bushings", c.lower_bushings, yes_no, "bushings on the lower hitch pins");
    stand_at(v, Station::mast);
    v.choice("upper_bushing", c.upper_bushing, yes_no, "bushing on the upper pin");
    visit_drawn_choices(c.drawn, v);
    v.table("ballast", [&](auto& b) {
        stand_at(b, Station::weight, Asked::other, Hitched::either);
        b.reading("front", c.ballast.front, {Dimension::mass, 0, 20000, 0, Need::optional, "front weights put on"});
        b.reading("front_ahead", c.ballast.front_ahead, length(-2, 4, inch, Need::optional, "centre of the front weights ahead of the front hub"));
        b.reading("rear", c.ballast.rear, {Dimension::mass, 0, 20000, 0, Need::optional, "rear ballast put on: wheel weights, fluid not in the tractor's own mass"});
        b.reading("rear_behind", c.ballast.rear_behind, length(-2, 3, inch, Need::optional, "centre of the rear ballast behind the rear hub; in the wheels 0"));
        b.choice("base", c.ballast.base, load_bases, "which mass the front axle's share is asked of: the tractor's own, or all together; makers differ");
    });
}

/// First key of every add-on part, and what it is called.
template <class P, class V>
void visit_part_head(P& part, V&& v, Hitched hitched = Hitched::mounted) {
    stand_at(v, Station::none, Asked::other, hitched);
    v.flag("fitted", part.fitted, "the switch: false leaves the part off, its other values stay in the file; must be given");
    v.text("name", part.name, "name shown");
    v.text("note", part.note, "free text");
    stand_at(v, Station::add_on_parts, Asked::always, hitched);
}

/// Visits the fields of a quick coupler.
template <class V>
void visit_fields(Coupler& c, V&& v) {
    using namespace field;
    visit_part_head(c, v);
    v.reading("set_back", c.set_back, length(-0.2, 0.6, pin_error, Need::linkage, "coupler upright: its own lower pins to the centre of a pin in its lower hooks, level, behind positive"));
    v.reading("hook_rise", c.hook_rise, length(-0.4, 0.4, pin_error, Need::optional, "coupler upright: centre of a pin in the lower hooks above its own lower pins (below: negative)"));
    v.reading("hook_height", c.hook_height, length(0.1, 2, pin_error, Need::linkage, "coupler upright: centre of a pin in the lower hooks to the centre of a pin seated in the top hook, plumb"));
    v.reading("hook_offset", c.hook_offset, length(-0.5, 0.5, frame_error, Need::optional, "coupler upright: pin in the top hook, against its rear lip, behind the pins in the lower hooks (ahead: negative)"));
    v.reading("hook_depth", c.hook_depth, length(0, 0.5, pin_error, Need::optional, "seat of the top hook to where its rear lip or latch lets the pin go, plumb"));
    v.reading("pin_height", c.pin_height, length(0.1, 2, pin_error, Need::linkage, "coupler upright: its own lower pins to its own pin for the upper link, plumb"));
    v.reading("pin_offset", c.pin_offset, length(-0.6, 0.6, frame_error, Need::optional, "coupler upright: its own pin for the upper link behind its own lower pins (ahead: negative)"));
    stand_at(v, Station::weight, Asked::other);
    v.reading("mass", c.mass, {Dimension::mass, 1, 2000, 0, Need::optional, "the coupler's own mass"});
    v.reading("cg_x", c.cg_x, length(-0.5, 1, inch, Need::optional, "the coupler's centre behind its own lower pins; absent: at its lower hooks"));
}

/// Visits the fields of an extender of the lower links.
template <class V>
void visit_fields(LinkExtender& e, V&& v) {
    using namespace field;
    visit_part_head(e, v);
    v.reading("length", e.length, length(0, 1, pin_error, Need::linkage, "ball centre without it to ball centre with it, along the lower link"));
}

/// Visits the fields of an overrunning clutch or a spline extender on the PTO stub.
template <class V>
void visit_fields(PtoAddOn& a, V&& v) {
    using namespace field;
    visit_part_head(a, v, Hitched::either);
    v.reading("added_length", a.added_length, length(0, 0.5, pin_error, Need::driveline, "part locked on the stub: end of the stub to the end of the part's own splined shaft, along the axis"));
}

/// Calls `use(key, part)` for every add-on part, in walking order from the tractor.
template <class P, class F>
void visit_parts(P& parts, F&& use) {
    use("link_extender", parts.link_extender);
    use("coupler", parts.coupler);
    use("overrunning_clutch", parts.overrunning_clutch);
    use("spline_extender", parts.spline_extender);
}

}  // namespace hitchwright
