// A quick coupler between linkage and implement: where it holds the implement and how far the implement tilts in it.
//
//      U_C o own pin of the upper link            Frame C: coupler upright, origin midway between its own lower pins
//          |     T (seat of the top hook)         (in the tractor's balls), x rearward, z up.
//          |   \_o |  rear lip                    L lower hooks, T seat of the top hook, measured from L.
//          |     |                                M mast pin of the implement, frame I, m = |M|.
//     ball o-----o L
// The implement turns about L until its mast pin bears against the rear lip of the top hook (the weight behind the hooks
// pulls it there): R(k) M = (t_x, sqrt(m^2 - t_x^2)), so that implement pitch = coupler pitch + k, k constant. The pin
// then stands sqrt(m^2 - t_x^2) - t_z above the seat; below nothing, the mast does not reach the hook.
// Coupler and implement are one body for the linkage: frame I moved to the ball, in which the link acts at R(-k) U_C and
// every point of the implement lies at p + R(-k) L. Play in the hooks is left out. Lengths m, angles rad.
#pragma once

#include <optional>

#include "geometry/point.h"
#include "geometry/setup.h"

namespace hitchwright {

/// The coupler in numbers, frame C.
struct CouplerGeometry {
    Point lower_hook = Point::Zero();
    Point top_hook = Point::Zero();  ///< seat, from the lower hook
    Point own_pin = Point::Zero();
    std::optional<double> hook_depth;  ///< above the seat; nothing: not measured

    bool operator==(const CouplerGeometry&) const = default;
};

/// Where the mast pin comes to rest.
enum class MastSeat {
    held,       ///< in the top hook, at its seat or above it within the hook's depth
    below_seat, ///< the mast is too short to reach the hook
    above_lip,  ///< the mast is so tall that the pin stands above the lip
    beside      ///< the mast is shorter than the hook stands off sideways: the pin never meets the lip
};

/// An implement in a coupler. `beside`: the other members are 0.
struct CouplerFit {
    MastSeat seat = MastSeat::held;
    double above_seat = 0.0;  ///< m, mast pin above the seat of the top hook; negative: short by that much
    double tilt = 0.0;        ///< rad, k: implement pitch less coupler pitch
    double error = 0.0;       ///< m, error of above_seat from the readings; within it the seat counts as held

    bool operator==(const CouplerFit&) const = default;
};

/// Coupler and implement as one body with the axes of frame I and its origin at the ball.
struct CoupledBody {
    Point upper_link_pin = Point::Zero();  ///< the coupler's own pin
    Point lower_hook = Point::Zero();      ///< where the implement's lower pins are
    Point top_hook = Point::Zero();        ///< seat of the top hook

    bool operator==(const CoupledBody&) const = default;
};

/// Numbers of the readings; what is not known beside the needed ones counts as 0.
CouplerGeometry make_coupler_geometry(const Coupler& coupler);

/// Seats a mast pin (frame I) in the coupler. `error` (m, >= 0): how far hook and mast readings may be off together.
CouplerFit fit_coupler(const CouplerGeometry& coupler, const Point& mast_pin, double error);

/// The same from readings, with their tolerances.
CouplerFit fit_coupler(const Coupler& coupler, const MastPin& mast_pin);

/// The body that linkage and shaft see, the implement tilted by `tilt` in the coupler.
CoupledBody make_coupled_body(const CouplerGeometry& coupler, double tilt);

}  // namespace hitchwright
