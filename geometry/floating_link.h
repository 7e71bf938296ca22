// The upper link with free travel: the band of pitch it leaves the implement at a given ball height.
//
// Slot or chain: the distance upper pin - mast pin may be anything between two stops. On the working branch pitch falls
// steadily as that distance grows (rate -1/lever), so the band ends where the distance meets its stops, in closed form.
// Swing strap: not scalar slack but an extra bar B-M of length w, hinged at the mast pin M and free between two stops
// of its angle s in the implement frame; the upper link e ends at its other pin B. For a strap held at s the pitch
// follows from a mast pin at M + w unit(s). The extremes over s lie at the stops, or where strap and upper link are in
// line (d pitch/d s = 0 exactly there): stretched, distance e + w, or folded, e - w. At most four candidates, all
// closed forms.
//
//   U ----- e ----- B          raised, the implement hangs as far down as the link lets it: in tension, stretched,
//                   | w        or with the strap on its stop.
//                   M (mast pin)
// Frame T, m and rad; pitch positive: rear up.
#pragma once

#include "geometry/angle.h"
#include "geometry/closure.h"
#include "geometry/planar_linkage.h"

namespace hitchwright {

/// Distance from upper-link pin to mast pin that a slot or chain allows, m; 0 <= shortest <= longest.
/// A chain is taken with its free travel as a second stop, as a slot: what lies beyond, the chain slack and the rear riding
/// up further, is for the person to look at.
struct LinkStops {
    double shortest = 0.0;
    double longest = 0.0;

    bool operator==(const LinkStops&) const = default;
};

/// Stops of an upper link of `length` (m, at its shortest) with `slack` (m) beyond it.
constexpr LinkStops make_link_stops(double length, double slack) { return {length, length + slack}; }

/// A strap hinged at the mast pin that carries the upper link at its other end.
struct SwingStrap {
    double link_length = 0.0;   ///< m, upper-link pin to strap pin
    double strap_length = 0.0;  ///< m, strap pin to mast pin; shorter than the link
    double stop_low = -pi;      ///< rad, frame I, direction mast pin -> strap pin at one stop
    double stop_high = pi;      ///< rad, at the other; stop_low <= stop_high, one turn apart: no stops

    bool operator==(const SwingStrap&) const = default;
};

/// What ends a band of pitch.
enum class BandEnd {
    stop,         ///< end of the slot, chain tight, strap on its stop
    in_line,      ///< strap and upper link in one line, between the strap's stops
    dead_centre,  ///< nothing stops it before mast and upper link fall into one line
};

/// Pitches the link allows at one ball height, rad, low <= high. Raised clear of the ground the implement takes `low`:
/// the weight behind the ball pulls the rear down until the link is taut (mast pin above the line ball -> upper-link
/// pin).
struct PitchBand {
    Closure closure{};  ///< upper_link too_short: cannot reach even at its longest; too_long: even at its shortest
    double low = 0.0;
    double high = 0.0;
    BandEnd low_end = BandEnd::stop;
    BandEnd high_end = BandEnd::stop;

    bool operator==(const PitchBand&) const = default;
};

/// Band for a slot or chain with the ball at `ball_height`. `linkage.upper_length` is not used.
PitchBand find_pitch_band(const PlanarLinkage& linkage, double ball_height, const LinkStops& stops);

/// Band for a swing strap. The link must reach for every strap angle between the stops; if not, the closure says by how
/// much it misses at the worst. `linkage.upper_length` is not used.
PitchBand find_pitch_band(const PlanarLinkage& linkage, double ball_height, const SwingStrap& strap);

}  // namespace hitchwright
