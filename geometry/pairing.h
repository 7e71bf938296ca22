// Which tractor and mounted implement belong together, by what their readings say, and whether the pair closes.
//
// Two questions. Is the pair worth trying at all: category, PTO speed, mast, front axle, power, each from readings of the
// two (no list of names). Does it close: every upper-link pin with every mast pin, over the whole travel, with the length of the
// link that gives the working pitch (mounted_model.h), and does the link reach that length. A reading that is not there
// never speaks against a pair. Frame T, SI.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/link_length.h"
#include "geometry/mounted_model.h"
#include "geometry/setup.h"

namespace hitchwright {

/// What speaks against trying a pair, in the order it is looked for.
enum class PairingObstacle {
    none,
    not_mounted, ///< the implement goes on the drawbar
    category,    ///< neither the tractor's category nor the next smaller one; value and limit: category numbers
    speed,       ///< the tractor's PTO does not have it, rpm; limit: the nearest it has
    mast,        ///< lower than the tractor's upper links are made for, m
    front_axle,  ///< too little of the tractor's mass would be left on the front axle, share of the empty mass
    power        ///< the tractor gives too small a share of the power the implement takes, W
};

/// The first thing that speaks against a pair, with its number and the limit, SI (speeds in rpm).
struct Pairing {
    PairingObstacle obstacle = PairingObstacle::none;
    double value = 0.0;
    double limit = 0.0;

    bool sensible() const { return obstacle == PairingObstacle::none; }
    bool operator==(const Pairing&) const = default;
};

/// Share of the tractor's empty mass that is left on the front axle with the implement raised to level lower links, at
/// rest, without ballast: moments about the rear axle (grade D). Negative: the front comes up. Empty when mass, share,
/// wheelbase, lower link, or mass or centre of gravity of the implement is not known.
std::optional<double> find_front_axle_share(const Tractor& tractor, const Implement& implement);

/// Is the pair worth trying? Limits are judgement (grade P), see pairing.cpp.
Pairing check_pairing(const Tractor& tractor, const Implement& implement);

/// How one upper-link pin does with one mast pin.
enum class HoleOutcome {
    closes,             ///< over the whole travel, and the link reaches
    link_out_of_reach,  ///< over the whole travel, but the link is shorter or longer than the tractor's goes
    does_not_close,     ///< not over the whole travel; `obstacle` says why
    not_known           ///< a reading is missing; `obstacle` names it
};

/// One upper-link pin with one mast pin.
struct HoleCheck {
    std::string tractor_pin, mast_pin, rod_hole;
    HoleOutcome outcome = HoleOutcome::not_known;
    std::optional<ModelObstacle> obstacle;  ///< the first one
    double upper_length = 0.0;              ///< m, for the working pitch; 0 when there is none
    std::optional<UpperLinkReach> reach;    ///< with the range of the link known
    HeightRange travel;                     ///< ball heights looked at, m; empty (0, 0) when there are none
};

/// A pair and all its holes.
struct PairingCheck {
    Pairing pairing;
    std::vector<HoleCheck> holes;  ///< none when the pair is not sensible
};

/// Checks a pair; its holes only when it is worth trying.
PairingCheck verify_pairing(const Tractor& tractor, const Implement& implement);

/// All holes of a pair, sensible or not.
std::vector<HoleCheck> check_holes(const Tractor& tractor, const Implement& implement);

}  // namespace hitchwright
