// The set-up: tractor, implement, driveline, rule set and the choices made, all as typed readings in SI.
//
// Frames (docs/frames.md): tractor frame T has its origin on the ground below the rear axle, x rearward,
// y to the right seen from the seat, z up. Implement frame I has its origin midway between the lower hitch
// points, or in the hitch joint of a drawn implement (drawn_readings.h). Angles in side view run from +x to +z; shaft
// axes point rearward, slope positive when the rear end is up.
// Which keys these members have in a file, their units, ranges and how to measure them: setup_fields.h.
#pragma once

#include <string>
#include <vector>

#include "geometry/drawn_readings.h"
#include "geometry/reading.h"
#include "geometry/rule_set.h"
#include "geometry/special_members.h"
#include "geometry/specification_line.h"

namespace hitchwright {

/// Three-point category as ISO 730 has it; `none`: not stated or outside the standard.
enum class Category { none, cat0, cat1, cat2, cat3, cat4 };
/// PTO type of ISO 500-1, or `other` for splines outside it.
enum class PtoType { unknown, type1, type2, type3, other };
/// Sense of rotation seen from behind the tractor looking forward, in the direction of travel.
enum class Rotation { unknown, clockwise, counterclockwise };
/// What the upper link is held by at the mast: a plain pin, or something with free travel.
enum class UpperLinkKind { rigid, slot, chain, swing_strap };
/// Between which points a shaft's length was measured.
enum class LengthReference { joint_centres, locking_grooves, shaft_ends };
/// Joint at one end of the driveline.
enum class JointKind { plain, wide_angle };

/// A named point in side view, with the half-width beside the median plane where it matters.
struct NamedPoint {
    std::string name;
    Reading x, z;
    bool operator==(const NamedPoint&) const = default;
};

struct LowerLinkReadings {
    Reading pivot_x, pivot_z, length, half_spread_at_pivot, half_spread_at_ball;
    Reading outer_half_width = {};  ///< its middle line to its outermost part towards the tyre
    bool operator==(const LowerLinkReadings&) const = default;
};
/// Which lift rod has the levelling screw.
enum class LevellingRod { right, left, both };

struct LiftRodReadings {
    Reading length, pin_along_link, pin_off_link, free_rise;
    Reading length_least = {}, length_most = {};  ///< of the rod with the levelling screw
    Reading advance_per_turn = {};                ///< of the levelling screw
    LevellingRod levelling = LevellingRod::right;
    bool operator==(const LiftRodReadings&) const = default;
};
/// A hole in the lower link that the foot of the lift rod can be pinned in.
struct LiftRodHole {
    std::string name;
    Reading pin_along_link;
    bool operator==(const LiftRodHole&) const = default;
};
struct LiftArmReadings {
    Reading pivot_x, pivot_z, length, half_spread, angle_low, angle_high;
    bool operator==(const LiftArmReadings&) const = default;
};
/// One position of the lower hitch point, read at some height of the lift, for pins nobody can tape (hidden_pins.h).
struct BallReading {
    std::string name;
    Reading x, z;       ///< ball centre, frame T
    Reading arm_angle;  ///< lift arm then, where it was read
    bool operator==(const BallReading&) const = default;
};
struct TravelReadings {
    Reading ball_height_low, ball_height_high;
    std::string lift_rod_hole = {};  ///< the rod was in then, where several are listed; of the ball readings too
    bool operator==(const TravelReadings&) const = default;
};
struct UpperLinkReadings {
    Reading length_least, length_most, advance_per_turn;
    bool operator==(const UpperLinkReadings&) const = default;
};
/// What holds the lower links from swaying: how far they were found to go, or chains that come taut. Both sides alike.
struct SwayReadings {
    Reading total_at_ball;  ///< from one side to the other
    bool operator==(const SwayReadings&) const = default;
};
/// Check chain, or stabiliser that slides, from the tractor to a lower link.
struct CheckChainReadings {
    Reading anchor_x, anchor_half_spread, anchor_z;  ///< its pin on the tractor
    Reading pin_along_link;  ///< its pin on the lower link's line, from the link's front pin
    Reading length;          ///< taut, pin centre to pin centre
    bool operator==(const CheckChainReadings&) const = default;
};
struct HitchReadings {
    Category category = Category::none;
    YesNo narrow = YesNo::unknown;
    Reading lower_ball_bore, upper_pin_diameter;
    bool operator==(const HitchReadings&) const = default;
};
struct PtoReadings {
    PtoType type = PtoType::unknown;
    std::vector<int> speeds_rpm;
    int splines = 0;  ///< 0: not stated
    Reading shaft_diameter;
    Rotation rotation = Rotation::unknown;
    Reading power;
    Reading stub_x, stub_y, stub_z, stub_slope, stub_plan_angle;
    bool operator==(const PtoReadings&) const = default;
};
struct TyreReadings {
    Reading rear_radius, rear_width, rear_track, front_radius;
    Reading front_load_most = {}, rear_load_most = {};  ///< that all tyres of one end carry together, kg
    bool operator==(const TyreReadings&) const = default;
};
/// Other tyres the tractor can stand on; its own readings were taken on those of `TyreReadings`.
struct TyreSet {
    std::string name;
    Reading rear_radius, rear_width, rear_track, front_radius;
    bool operator==(const TyreSet&) const = default;
};
struct TractorMassReadings {
    Reading mass, front_share, wheelbase, lift_at_610, lift_at_balls;
    Reading front_axle_most = {}, rear_axle_most = {}, total_most = {};  ///< what the maker allows, kg
    bool operator==(const TractorMassReadings&) const = default;
};
/// Lift at the ball ends at one height, from a published or measured curve.
struct LiftPoint {
    std::string name;
    Reading ball_height, force;
    bool operator==(const LiftPoint&) const = default;
};
/// How the published lift was tested.
struct LiftTestReadings {
    std::string upper_link_pin;  ///< empty: not stated
    std::string lift_rod_hole = {};  ///< where several are listed; empty: not stated
    Reading mast_height = {};
    bool operator==(const LiftTestReadings&) const = default;
};
/// Cylinder that turns the lift arm by a crank fixed to it; frame T.
struct LiftCylinderReadings {
    Reading base_x, base_z, crank_length, crank_angle, bore, pressure, efficiency;
    int cylinders = 0;  ///< of that bore; 0: not stated, one
    bool operator==(const LiftCylinderReadings&) const = default;
};

struct Tractor {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Tractor);
    std::string key, name, note;
    HitchReadings hitch;
    LowerLinkReadings lower_link;
    std::vector<NamedPoint> upper_link_pins;
    UpperLinkReadings upper_link;
    LiftArmReadings lift_arm;
    LiftRodReadings lift_rod;
    std::vector<LiftRodHole> lift_rod_holes;  ///< empty: the rod's only hole is that of lift_rod
    SwayReadings sway;
    CheckChainReadings check_chain;
    std::vector<BallReading> ball_readings;
    TravelReadings travel;
    PtoReadings pto;
    DrawbarReadings drawbar;
    std::vector<DrawbarPin> drawbar_pins;
    TyreReadings tyre;
    std::vector<TyreSet> tyre_sets;
    FrontAxleReadings front_axle;
    SteeringReadings steering;
    TractorMassReadings mass;
    LiftTestReadings lift_test;
    std::vector<LiftPoint> lift_points;
    LiftCylinderReadings lift_cylinder;
    std::vector<NamedPoint> cab_line;  ///< points of the rear of cab or ROPS, from top to bottom
    bool operator==(const Tractor&) const = default;
};

struct MastPin {
    std::string name;
    Reading height, offset;  ///< in frame I: z above the lower pins, x behind them (positive)
    bool operator==(const MastPin&) const = default;
};
struct PicReadings {
    bool fitted = false;  ///< false: the implement has no PTO input (a blade)
    PtoType type = PtoType::unknown;
    int speed_rpm = 0;  ///< 0: not stated
    int splines = 0;
    Reading shaft_diameter;
    Rotation rotation = Rotation::unknown;
    Reading power;
    Reading x, y, z, slope, plan_angle;  ///< end of the input shaft in frame I
    bool operator==(const PicReadings&) const = default;
};
struct ImplementHitchReadings {
    Category category = Category::none;
    YesNo narrow = YesNo::unknown;
    Reading lower_pin_diameter, upper_pin_diameter, shoulder_span;
    Reading side_play = {};  ///< a ball can slide outwards so far along its pin
    bool operator==(const ImplementHitchReadings&) const = default;
};
struct FloatReadings {
    UpperLinkKind kind = UpperLinkKind::rigid;
    Reading slack;         ///< slot or chain: free length beyond the link's own length
    Reading strap_length;  ///< swing strap: centre to centre
    Reading strap_stop_low = {}, strap_stop_high = {};  ///< its stops in frame I: direction mast pin to upper-link pin; unknown: none
    bool operator==(const FloatReadings&) const = default;
};
struct GroundContact {
    std::string name;
    Reading x, z, radius;  ///< wheel centre (or skid point with radius 0) in frame I
    Reading half_track = {};  ///< drawn: the two wheels of this axle stand so far beside the middle
    bool operator==(const GroundContact&) const = default;
};
/// What a named implement point is checked against.
struct ImplementPoint {
    std::string name;
    Reading x, z, half_width;
    bool deck_edge = false;  ///< checked against the guard of the shaft
    Reading y = {};          ///< middle of it to the right of the middle of the hitch
    bool operator==(const ImplementPoint&) const = default;
};
struct WorkReadings {
    Reading ball_height, pitch;
    bool operator==(const WorkReadings&) const = default;
};
struct ImplementMassReadings {
    Reading mass, cg_x, cg_z;
    bool operator==(const ImplementMassReadings&) const = default;
};

enum class Attachment { mounted, drawn };

struct Implement {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Implement);
    std::string key, name, note;
    Attachment attachment = Attachment::mounted;
    ImplementHitchReadings hitch;
    std::vector<MastPin> mast_pins;
    FloatReadings upper_link_float;
    PicReadings pic;
    WorkReadings work;
    std::vector<GroundContact> ground_contacts;
    std::vector<ImplementPoint> points;
    DrawnImplementReadings drawn;
    ImplementMassReadings mass;
    bool operator==(const Implement&) const = default;
};

/// One end of the driveline.
struct JointReadings {
    JointKind kind = JointKind::plain;
    Reading offset;            ///< shaft end (stub or PIC) to joint centre, along the axis
    Reading centre_to_groove;  ///< joint centre to locking groove, away from the tubes
    Reading centre_to_end;     ///< joint centre to the end of the yoke, away from the tubes
    Reading spacing;           ///< wide-angle joint: between its two crosses
    Reading angle_most;        ///< the maker's stop; unknown: the rule set's
    int splines = 0;
    bool operator==(const JointReadings&) const = default;
};

struct Driveline {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Driveline);
    std::string key, name, note;
    Reading closed_length;
    LengthReference reference = LengthReference::joint_centres;
    Reading tractor_tube, implement_tube;  ///< free tubes, root to end
    Reading overlap_closed;                ///< alternative to the tubes
    Reading longest_usable;                ///< of a table, at the same reference; leaves half the overlap
    Reading guard_radius;                  ///< outer radius of the guard
    Reading guard_closed_length, guard_overlap_closed;
    JointReadings tractor_joint, implement_joint;
    Reading yoke_phase_error;
    Reading power_540, power_1000;  ///< what it may carry at that speed
    YesNo adapter_declared = YesNo::unknown;
    bool operator==(const Driveline&) const = default;
};

/// Which mass a share of an axle is taken of; makers differ, the user says which binds.
enum class LoadBase {
    tractor_empty,  ///< the tractor's own mass; ballast does not change it
    all_together    ///< tractor, implement and ballast: what stands on the ground
};

/// Masses put on the tractor beyond what it weighs empty.
struct BallastReadings {
    Reading front, front_ahead;  ///< kg, and its centre ahead of the front axle
    Reading rear, rear_behind;   ///< kg, and its centre behind the rear axle; wheel weights: 0
    LoadBase base = LoadBase::tractor_empty;
    bool operator==(const BallastReadings&) const = default;
};

struct Choices {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Choices);
    std::string upper_link_pin, mast_pin;      ///< empty: the only one, else a finding
    std::string lift_rod_hole;                 ///< empty: that of the travel, or the only one
    Reading upper_link_length;                 ///< unknown: the length that gives working_pitch
    Reading upper_link_length_now;             ///< what is on the machine, for turns
    Reading left_lift_rod_length, right_lift_rod_length;  ///< as set; unknown: the tractor's
    Reading working_roll;                      ///< wanted; unknown: nobody asks for one
    Reading left_check_chain_length, right_check_chain_length;  ///< as set; unknown: the tractor's
    std::string tyre_set;                      ///< empty: the tyres the tractor was measured on
    Reading working_ball_height, working_pitch;  ///< unknown: the implement's own
    Reading working_band_low, working_band_high; ///< heights at which the shaft is driven
    Reading lift_stop, lower_stop;             ///< limits set at the lever, ball heights
    Reading transport_ball_height;             ///< standard transport height for the transport pitch
    Reading cut_tractor_half, cut_implement_half;  ///< cuts already made or proposed
    Reading hump_angle, hollow_angle;          ///< ground behind the tractor falls or rises against its own; unknown: assumed
    int pto_speed_rpm = 0;                     ///< 0: the implement's
    YesNo lower_bushings = YesNo::unknown, upper_bushing = YesNo::unknown;
    BallastReadings ballast;
    DrawnChoices drawn;
    bool operator==(const Choices&) const = default;
};

/// The distance from the PTO stub to the input shaft, taped in a straight line at one height of the lift.
struct DirectReading {
    std::string name;
    Reading ball_height, distance;
    LengthReference reference = LengthReference::locking_grooves;  ///< points on both machine shafts
    bool operator==(const DirectReading&) const = default;
};

/// What is read of the coupled machine at a known place, besides the distance of its shafts.
enum class PoseQuantity {
    pitch,                 ///< of the implement at `ball_height`: `angle`
    tail_height,           ///< floor to the named point of the implement at `ball_height`: `length`
    upper_link_length,     ///< pin to pin, the implement standing at `ball_height` with the pitch `angle`: `length`
    lowest_ball_height,    ///< lever right down: `length`
    greatest_ball_height   ///< lever right up: `length`
};
/// One such reading. What its quantity does not need is not looked at.
struct PoseReading {
    std::string name;
    PoseQuantity what = PoseQuantity::pitch;
    Reading ball_height, angle, length;
    std::string point;  ///< name of an outline point of the implement
    bool operator==(const PoseReading&) const = default;
};

/// The distance from the PTO stub to the input shaft of a drawn implement (to the shaft in its bearing on the tongue, where it
/// has one), taped in a straight line, both standing level, at one turn.
struct TurnReading {
    std::string name;
    Reading turn, distance;  ///< rad, a right turn positive, straight on 0
    LengthReference reference = LengthReference::locking_grooves;  ///< points on both machine shafts
    bool operator==(const TurnReading&) const = default;
};

/// Quick coupler: a rigid frame between the linkage and the implement. Frame C: origin midway between the coupler's own
/// lower pins (in the tractor's balls), axes as T with the coupler standing upright.
struct Coupler {
    bool fitted = false;  ///< the switch; false: as if it were not there
    std::string name, note;
    Reading set_back, hook_rise;       ///< lower hooks behind and above the own lower pins
    Reading hook_height, hook_offset;  ///< seat of the top hook above and behind the lower hooks
    Reading hook_depth;                ///< how far above its seat the top hook still holds a pin
    Reading pin_height, pin_offset;    ///< own pin of the upper link, above and behind the own lower pins
    Reading mass = {}, cg_x = {};      ///< its own mass, and its centre behind the own lower pins
    bool operator==(const Coupler&) const = default;
};
/// Lengthens both lower links at their ball ends.
struct LinkExtender {
    bool fitted = false;  ///< the switch
    std::string name, note;
    Reading length;  ///< what it adds to the lower link, along it
    bool operator==(const LinkExtender&) const = default;
};
/// Overrunning clutch or spline extender on the tractor's PTO stub.
struct PtoAddOn {
    bool fitted = false;  ///< the switch
    std::string name, note;
    Reading added_length;  ///< end of the stub to the end of the part's own shaft, along the axis
    bool operator==(const PtoAddOn&) const = default;
};
/// Add-on parts. The tractor's readings are those without them.
struct Parts {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Parts);
    Coupler coupler;
    LinkExtender link_extender;
    PtoAddOn overrunning_clutch, spline_extender;
    bool operator==(const Parts&) const = default;
};

/// Whose job it is, for the printed sheet; nothing is computed from it.
struct JobDetails {
    std::string customer, technician, date, hours, tractor_serial, implement_serial, driveline_serial;
    bool operator==(const JobDetails&) const = default;
};

/// Everything a fit is computed from.
struct Setup {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(Setup);
    std::string key, name, note;
    JobDetails job;
    Tractor tractor;
    Implement implement;
    bool has_driveline = false;
    Driveline driveline;
    RuleSet rules;
    Choices choices;
    std::vector<DirectReading> direct_readings;
    std::vector<PoseReading> pose_readings;
    std::vector<TurnReading> turn_readings;
    std::vector<SpecificationLine> specification;  ///< of lists the set-up names, then its own
    Parts parts;
    bool operator==(const Setup&) const = default;
};

}  // namespace hitchwright
