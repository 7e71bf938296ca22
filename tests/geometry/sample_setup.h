// A complete mounted set-up around linkage A (linkage_a.h), for tests that start from readings. Not a real machine.
//
// The lower links stand 210 mm from the median plane at the pivots and 412.5 mm at the balls, and are so much longer than
// 885 mm that they measure 885 mm in side view. Lengths m, frame T and I. Rule set: figures of the general one.
#pragma once

#include "geometry/setup.h"

namespace hitchwright::test {

inline Reading known(double value, double tolerance = 0.0) { return make_reading(value, Origin::measured, tolerance); }
inline Limit limit(double value) { return {value, true, Grade::B, "test"}; }

/// Lower link in space whose projection is `projected`.
LowerLinkReadings make_lower_link(double pivot_x, double pivot_z, double projected, double spread_at_pivot,
                                  double spread_at_ball);

RuleSet make_general_rules();

/// Tractor of linkage A: travel by tape 200 to 950 mm, PTO stub at (350, 600).
Tractor make_tractor_a();

/// Lift arm and rod of linkage A, longer in space than in side view; arm ends at 250 mm.
void add_lift_a(Tractor& t, double angle_low_deg, double angle_high_deg);

/// Implement with a 610 mm mast, input shaft 500 mm behind and 250 mm above the lower pins, working at 300 mm.
Implement make_implement_a();

/// Shaft of 800 mm closed between joint centres, tubes 500 and 450 mm, joints 30 mm off the shaft ends.
Driveline make_driveline_a();

/// The set-up with the upper link of linkage A, 660 mm, typed.
Setup make_setup_a();

}  // namespace hitchwright::test
