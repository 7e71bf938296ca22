// Values to text at the edge: lengths as inch fractions to 1/16 or as millimetres, and the other quantities.
//
// The rounding direction is always the caller's choice, because only the caller knows which side is safe: a gap
// left rounds down, a gap needed rounds up, a cut's least rounds up, its most rounds down. Rounding up or down
// ignores less than 1e-6 mm, so that an exact sixteenth stays itself after a trip through metres.
// Values come in SI. A value that is no finite number gives "not known", never "nan".
#pragma once

#include <string>

namespace hitchwright {

/// Units a person reads: inches, pounds, horsepower; or millimetres, kilograms, kilowatts.
enum class UnitSystem { inch, millimetre };

/// Direction of rounding on the number line: `up` is toward plus infinity, `down` toward minus infinity.
/// `nearest` takes halves away from zero.
enum class Rounding { nearest, up, down };

/// Places after the point of a length in millimetres.
enum class MillimetrePlaces { whole, tenth };

/// One inch in metres, exact by definition.
inline constexpr double metres_per_inch = 0.0254;

/// Smallest step of a length in inches that is shown: 1/16 in, in metres.
inline constexpr double metres_per_sixteenth = metres_per_inch / 16.0;

/// Less than this (metres) is ignored when rounding up or down: 1e-6 mm, far below any tape, far above double rounding.
inline constexpr double rounding_slack = 1e-9;

/// `value` moved to a multiple of `step` in the given direction; `slack` (same unit) is ignored by up and down.
/// A value that is not finite is returned as it is. Never gives negative zero.
double round_to_step(double value, double step, Rounding rounding, double slack);

/// The length (m) that `format_length` shows for `metres`: for arithmetic that must agree with the printed text.
double shown_length(double metres, UnitSystem units, Rounding rounding = Rounding::nearest,
                    MillimetrePlaces places = MillimetrePlaces::whole);

/// Length in inches as a fraction to 1/16: "37 3/8 in", "5/8 in", "0 in", "-1/4 in".
std::string format_inches(double metres, Rounding rounding = Rounding::nearest);

/// Length in millimetres: "949 mm" or "948.7 mm".
std::string format_millimetres(double metres, MillimetrePlaces places = MillimetrePlaces::whole,
                               Rounding rounding = Rounding::nearest);

/// Length in the reader's unit; `places` matters for millimetres only.
std::string format_length(double metres, UnitSystem units, Rounding rounding = Rounding::nearest,
                          MillimetrePlaces places = MillimetrePlaces::whole);

/// Angle (rad) in degrees with one decimal: "12.3 deg".
std::string format_angle(double radians, Rounding rounding = Rounding::nearest);

/// Plain number with a fixed count of decimals (0 to 6), for ratios: "0.843".
std::string format_ratio(double ratio, int decimals = 3, Rounding rounding = Rounding::nearest);

/// Share as a percentage with one decimal: 0.205 gives "20.5 %".
std::string format_percent(double share, Rounding rounding = Rounding::nearest);

/// Mass (kg) as "694 lb" or "315 kg", whole.
std::string format_mass(double kilograms, UnitSystem units, Rounding rounding = Rounding::nearest);

/// Force (N) as "1600 lbf" or "7117 N", whole.
std::string format_force(double newtons, UnitSystem units, Rounding rounding = Rounding::nearest);

/// Power (W) as "35.0 hp" or "26.1 kW". The horsepower is the mechanical one, 550 ft lbf/s = 745.69987 W.
std::string format_power(double watts, UnitSystem units, Rounding rounding = Rounding::nearest);

/// Pressure (Pa) as "22.0 psi" or "152 kPa".
std::string format_pressure(double pascals, UnitSystem units, Rounding rounding = Rounding::nearest);

/// Torque (N m) as "66.4 lbf ft" or "90.0 N m".
std::string format_torque(double newton_metres, UnitSystem units, Rounding rounding = Rounding::nearest);

/// Rotation speed (rad/s) as "540 rpm", whole.
std::string format_rotation_speed(double radians_per_second, Rounding rounding = Rounding::nearest);

}  // namespace hitchwright
