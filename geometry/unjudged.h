// Questions a fit leaves open for want of a reading: what was not judged, and which readings would let it be.
//
// Only questions that the set-up does not need for its main answer; a missing reading of the main answer is a finding.
#pragma once

#include <string>
#include <vector>

#include "geometry/setup.h"

namespace hitchwright {

/// One question that was not judged.
struct Unjudged {
    std::string question;              ///< "guard tubes", in words
    std::vector<std::string> readings; ///< dotted keys of what is missing for it
    bool operator==(const Unjudged&) const = default;
};

/// Every optional question of a mounted set-up whose readings are not all there, in walking order.
std::vector<Unjudged> list_unjudged(const Setup& setup);

}  // namespace hitchwright
