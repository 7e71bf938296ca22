// Numbers of machine-readable output without binary dust.
#pragma once

namespace hitchwright {

/// The finite `value` to 12 significant digits, less than 1e-9 of the unit printed becoming 0: 25.400000000000002 is
/// printed as 25.4, and -0 as 0. Far below any reading and any bound.
double round_for_output(double value);

}  // namespace hitchwright
