// Which tractor and implement belong together, and whether the linkage of such a pair closes over the whole travel.
//
// A pairing is sensible when the categories are the same, the implement weighs no more than 30 % of the tractor (usual
// advice, operator manuals), and the tractor has the PTO speed it asks for. What is not known speaks for it.
#pragma once

#include <string>
#include <vector>

#include "geometry/setup.h"

namespace hitchwright {

/// Why a pairing is not sensible; `none`: it is.
enum class PairingObstacle { none, category, too_heavy, speed, not_mounted };

/// The first thing that speaks against the pairing.
PairingObstacle find_pairing_obstacle(const Tractor& tractor, const Implement& implement);

/// Closure of one combination of holes over the whole travel, link set for the working pitch.
struct PairingCheck {
    std::string tractor_pin, mast_pin;
    bool closes = false;          ///< at every height of the travel, on one branch
    std::string part;             ///< what does not close or is missing: part, or key of a reading
    double shortfall = 0.0;       ///< m, of the part
    double height = 0.0;          ///< ball height, m; 0: not at one height
    double upper_length = 0.0;    ///< m, as needed for the working pitch; 0: not known
    bool link_reaches = false;    ///< the tractor's own upper link reaches that length
};

/// Every tractor pin with every mast pin.
std::vector<PairingCheck> check_pairing(const Tractor& tractor, const Implement& implement);

}  // namespace hitchwright
