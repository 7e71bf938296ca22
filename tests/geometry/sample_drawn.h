// A complete drawn set-up for tests that start from readings. Not a real machine.
//
// Tractor of the utility class with a 14 in drawbar, cutter on two wheels. The hitch joint stands at 450 mm, the wheels at
// the height that keeps the frame level; joints 30 mm off the shaft ends, so that p = 330 mm and q = 500 mm. Lengths m.
#pragma once

#include "geometry/drawn_model.h"
#include "tests/geometry/sample_setup.h"

namespace hitchwright::test {

RuleSet make_drawn_rules();
Tractor make_drawing_tractor();
Implement make_drawn_cutter();
Driveline make_drawn_driveline();
Setup make_drawn_setup();
void make_tractor_joint_wide(Setup& s, double spacing);

}  // namespace hitchwright::test
