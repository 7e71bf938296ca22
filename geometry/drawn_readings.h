// Readings of a drawn machine: drawbar, hitch, tongue, wheels, and the choices that belong to them. Part of setup.h.
//
//            stub end   Q                     K    input shaft (pic)
//   tractor ====|....(+)=====================(+)....|====   implement
//               |<--- length --->|
//                           pin  o  articulation centre, `articulation_above_top` above the top of the drawbar
// Frame I of a drawn implement has its origin in the middle of the hitch joint, x rearward, y right, z up, frame level.
// Keys, ranges and how to measure: drawn_fields.h.
#pragma once

#include <string>
#include <vector>

#include "geometry/reading.h"

namespace hitchwright {

/// Answer to a question that may not have been asked yet.
enum class YesNo { unknown, yes, no };

/// What joins a drawn implement to the drawbar pin: a ball lets it pitch and roll, a clevis only by its free play.
enum class DrawnHitchKind { unknown, ball, clevis };

/// One position of the drawbar's pin.
struct DrawbarPin {
    std::string name;
    Reading length;              ///< PTO end to pin centre, horizontal; with an adapter on the stub from the adapter's end
    Reading top_height;          ///< drawbar top above the ground in this position; unknown: the drawbar's own
    Reading vertical_load_most;  ///< the tractor's limit in this position, kg
    bool operator==(const DrawbarPin&) const = default;
};
struct DrawbarReadings {
    Reading end_x, end_z;  ///< rearmost upper edge of the drawbar, for clearance
    YesNo out_of_the_way = YesNo::unknown;
    Reading top_height = {};         ///< ground to the top of the drawbar
    Reading drop = {};               ///< PTO axis to the top of the drawbar, down positive; instead of top_height
    Reading articulation_above_top = {};  ///< middle of the hitch joint above the top of the drawbar; below: negative
    Reading adapter_length = {};     ///< what an adapter adds to the stub; lengths of pins count from its end
    bool operator==(const DrawbarReadings&) const = default;
};
struct FrontAxleReadings {
    Reading width, track;  ///< front tyre width; left to right tyre, middle to middle
    Reading pivot_height;  ///< ground to the pin the front axle rocks on
    bool operator==(const FrontAxleReadings&) const = default;
};
struct SteeringReadings {
    Reading least_radius;  ///< centre of the tightest turn to the middle of the rear axle
    bool operator==(const SteeringReadings&) const = default;
};

/// A straight bar of the tongue or frame in plan: centre line from front to rear end, and width.
struct PlanBar {
    std::string name;
    Reading front_x, front_y, rear_x, rear_y, width;  ///< frame I
    bool operator==(const PlanBar&) const = default;
};
/// A bearing on the tongue: the telescoping shaft ends there, a fixed shaft goes on to the input shaft.
struct SteadyBearingReadings {
    bool fitted = false;
    Reading x, y, z;            ///< front end of the bearing's shaft, frame I
    Reading rear_joint_offset;  ///< end of the input shaft to the third joint's centre, along its axis
    Reading phase;              ///< ears of the fixed shaft's yokes against each other; in one plane: 0
    bool operator==(const SteadyBearingReadings&) const = default;
};
struct DrawnImplementReadings {
    DrawnHitchKind hitch = DrawnHitchKind::unknown;
    Reading pitch_play, roll_play;  ///< clevis: free play either way from square to the drawbar
    Reading vertical_load;          ///< of the hitch on the drawbar, kg
    std::vector<PlanBar> bars;
    SteadyBearingReadings steady_bearing;
    bool operator==(const DrawnImplementReadings&) const = default;
};

/// A point of the ground along a line square to the ditch.
struct GroundPoint {
    std::string name;
    Reading x, z;
    bool operator==(const GroundPoint&) const = default;
};
/// A ditch (depth positive) or ridge (negative) across the way, by its measures or by points.
struct DitchReadings {
    Reading depth, bottom_width, side_slope;
    Reading crossing_angle;  ///< between the way and the ditch line; square is 90 deg
    std::vector<GroundPoint> points;
    bool operator==(const DitchReadings&) const = default;
};
struct DrawnChoices {
    std::string drawbar_pin;             ///< empty: the only one, else a finding
    Reading turn_left_most, turn_right_most;  ///< turns the driver keeps to, both positive
    Reading pitch_up_most, pitch_down_most;   ///< of the implement against the tractor, both positive
    Reading roll_most;                        ///< either way
    DitchReadings ditch;
    bool operator==(const DrawnChoices&) const = default;
};

}  // namespace hitchwright
