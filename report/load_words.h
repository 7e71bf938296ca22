// Words of lift and axle loads, shared by findings, the report of loads and the printed sheet.
#pragma once

#include <string>

#include "geometry/axle_study.h"
#include "geometry/lift_study.h"

namespace hitchwright {

/// "implement carried at its highest": the state in words, from the fixed word of machine-readable output.
std::string say_load_state(std::string_view word);
/// "front axle"
std::string say_carrying_part(std::string_view word);
/// "of the tractor's empty mass"
std::string say_load_base(std::string_view word);
/// "the least published force", as the subject of a sentence.
std::string say_force_source(std::string_view word);

}  // namespace hitchwright
