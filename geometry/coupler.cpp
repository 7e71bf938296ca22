// See coupler.h.
#include "geometry/coupler.h"

#include <cmath>

#include "geometry/angle.h"

namespace hitchwright {

CouplerGeometry make_coupler_geometry(const Coupler& c) {
    CouplerGeometry g;
    g.lower_hook = Point(c.set_back.value, c.hook_rise.value_or(0.0));
    g.top_hook = Point(c.hook_offset.value_or(0.0), c.hook_height.value);
    g.own_pin = Point(c.pin_offset.value_or(0.0), c.pin_height.value);
    if (c.hook_depth.known) g.hook_depth = c.hook_depth.value;
    return g;
}

CouplerFit fit_coupler(const CouplerGeometry& c, const Point& mast_pin, double error) {
    CouplerFit fit;
    const double mast = mast_pin.norm(), sideways = c.top_hook.x();
    // Negated so that a length that is no number counts as one that does not reach.
    if (!(mast > std::fabs(sideways))) {
        fit.seat = MastSeat::beside;
        return fit;
    }
    const double up = std::sqrt((mast - sideways) * (mast + sideways));
    fit.error = error;
    fit.above_seat = up - c.top_hook.y();
    fit.tilt = wrap_angle(std::atan2(up, sideways) - direction(mast_pin));
    if (fit.above_seat < -error) fit.seat = MastSeat::below_seat;
    if (c.hook_depth && fit.above_seat > *c.hook_depth + error) fit.seat = MastSeat::above_lip;
    return fit;
}

CouplerFit fit_coupler(const Coupler& coupler, const MastPin& mast_pin) {
    const double error = std::hypot(mast_pin.height.tolerance, coupler.hook_height.tolerance);
    return fit_coupler(make_coupler_geometry(coupler), Point(mast_pin.offset.value_or(0.0), mast_pin.height.value), error);
}

CoupledBody make_coupled_body(const CouplerGeometry& c, double tilt) {
    return {rotate(c.own_pin, -tilt), rotate(c.lower_hook, -tilt), rotate(c.lower_hook + c.top_hook, -tilt)};
}

}  // namespace hitchwright
