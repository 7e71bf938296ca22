// Checking one file by itself, whatever its kind: for listings and for a person who writes one.
#pragma once

#include <vector>

#include "presets/library.h"
#include "presets/problem.h"

namespace hitchwright {

/// All problems of one preset or file. A set-up is loaded with everything it names; the others stand alone.
std::vector<Problem> check_file(const PresetEntry& entry, const Library& library);

}  // namespace hitchwright
