// The answer of `presets verify`: which pairs of tractor and implement close over the whole travel, which not and why.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "geometry/pairing.h"
#include "report/text_layout.h"

namespace hitchwright {

/// A pair of machines by their keys.
struct VerifiedPair {
    std::string tractor, implement;
    PairingCheck check;
};

/// Fixed words of machine-readable output.
std::string_view pairing_obstacle_word(PairingObstacle obstacle);
std::string_view hole_outcome_word(HoleOutcome outcome);

/// Why a pair is not tried: "category 3 on category 1". Empty for a sensible pair.
std::string format_pairing_obstacle(const Pairing& pairing, UnitSystem units);

/// What is wrong with a hole: part, shortfall, height. Empty when it closes and the link reaches.
std::string format_hole_obstacle(const HoleCheck& hole, UnitSystem units);

/// The whole answer: pairs by tractor, holes only where something is wrong, then the sum.
std::string format_pairings(const std::vector<VerifiedPair>& pairs, const TextStyle& style);

}  // namespace hitchwright
