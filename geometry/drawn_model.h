// A drawn set-up reduced to what the kernels need: plain numbers, choices made.
//
// Pin: drawbar length behind the end of the PTO (of its adapter; add-on parts of the set-up do not move it), level; the articulation centre stands
// `articulation_above_top` over the top of the drawbar. The driveline is that of mounted_shaft.h; only the hitch is
// another. The box of attitudes (implement against tractor, order of attitude.h) is what turn limits, rule set and the
// hitch leave: typed limits first, then the rule set's; a clevis narrows pitch and roll to its free play. The level
// attitude is the pitch at which the implement stands on its wheels on level ground.
// A reading that is needed and not there is named, never replaced. Frame T, SI.
#pragma once

#include <string>
#include <vector>

#include "geometry/attitude.h"
#include "geometry/drawn_kernel.h"
#include "geometry/mounted_model.h"
#include "geometry/setup.h"
#include "geometry/special_members.h"
#include "geometry/telescoping.h"

namespace hitchwright {

/// A closed range of angles, rad; low <= high.
struct AngleRange {
    double low = 0.0;
    double high = 0.0;

    constexpr bool contains(double angle) const { return low <= angle && angle <= high; }
    bool operator==(const AngleRange&) const = default;
};

/// Attitudes of the implement against the tractor, rad.
struct AttitudeBox {
    AngleRange yaw, pitch, roll;

    bool operator==(const AttitudeBox&) const = default;
};

/// What sets one side of the box.
enum class BoxBound {
    typed,    ///< a choice of the set-up
    rules,    ///< the rule set
    general,  ///< the rule set says nothing: figures of operator manuals of drawn machines
    assumed,  ///< nobody says anything: judgement
    clevis    ///< the free play of the hitch
};

/// Who sets the sides of the box.
struct BoxBounds {
    BoxBound turn_left = BoxBound::assumed, turn_right = BoxBound::assumed;
    BoxBound pitch_down = BoxBound::assumed, pitch_up = BoxBound::assumed, roll = BoxBound::assumed;

    bool operator==(const BoxBounds&) const = default;
};

/// Where the level attitude comes from.
enum class LevelPitchSource { wheels, typed, taken_level };

/// Limits of drawn machines, rule set first, figures of operator manuals where it says nothing. Good for as long as the set-up
/// is there.
struct DrawnLimits {
    LimitView turn;            ///< rad either way: plain or wide-angle, as the driveline is
    LimitView relative_pitch;  ///< rad either way
    bool turn_of_rules = false, pitch_of_rules = false;
};
DrawnLimits find_drawn_limits(const Setup& setup);
DrawnLimits find_drawn_limits(Setup&& setup) = delete;

/// A drawn set-up in numbers.
struct DrawnModel {
    TyreChange tyres;              ///< how the tractor stands; everything of it is where it is on these tyres
    std::size_t pin = 0;           ///< index into tractor.drawbar_pins
    double pto_end_x = 0.0;        ///< end of the stub, of its adapter, of a clutch or extender on it, m
    double drawbar_length = 0.0;   ///< from that end to the pin, m
    double drawbar_top = 0.0;      ///< above ground, m
    double pto_above_drawbar = 0.0;  ///< axis at the PTO's end above the top of the drawbar, m
    bool articulation_assumed = false;  ///< nobody said where on the drawbar the joint turns: taken at its top
    LevelPitchSource level_source = LevelPitchSource::taken_level;
    double level_pitch = 0.0;      ///< on level ground, rad
    AttitudeBox box;
    BoxBounds bounds;
    bool level_outside_play = false;  ///< the clevis does not allow the level attitude

    DrawnDriveline driveline;      ///< pin always; the rest with has_shaft
    bool has_shaft = false;
    double last_joint_angle = 0.0; ///< third joint behind a steady bearing, the same at every attitude, rad
    bool has_halves = false;
    AssumedHalves uncut;           ///< as measured
    TelescopingHalves halves;      ///< after the cuts of the set-up
    bool has_guard = false;
    TelescopingHalves guard;       ///< after the cuts of the set-up
};

/// Model and everything in its way.
struct DrawnModelResult {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(DrawnModelResult);
    DrawnModel model;
    bool hitch_ok = false;  ///< pin, box and level attitude are known
    std::vector<ModelObstacle> hitch_obstacles;
    std::vector<ModelObstacle> shaft_obstacles;
};

/// Builds the model of a drawn set-up. Never throws on readings; errors are obstacles.
DrawnModelResult make_drawn_model(const Setup& setup);

/// The same model with the pin at another drawbar length (m); everything else as it was, the level attitude too.
DrawnModel with_drawbar_length(DrawnModel model, double length);

/// Fore-and-aft distances about the pin with the machine straight and level: p from joint 1 to the pin, q from the pin
/// to joint 2 (m). Equal ones split the bend of a turn equally (plain joints).
struct PinDistances {
    double p = 0.0, q = 0.0;
    bool operator==(const PinDistances&) const = default;
};
/// Needs has_shaft.
PinDistances find_pin_distances(const DrawnModel& model);

/// State of the driveline at an attitude. Needs has_shaft.
DrawnState<double> find_drawn_state(const DrawnModel& model, const Attitude& attitude);

/// Roll either way when nobody says anything (rad, 10 deg). Judgement: common practice, no source.
inline constexpr double assumed_roll = 10.0 / 180.0 * 3.14159265358979323846;

}  // namespace hitchwright
