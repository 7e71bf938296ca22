// See axle_loads.h.
#include "geometry/axle_loads.h"

namespace hitchwright {
namespace {

double find_base(const AxleLoads& loads, const AxleShare& wanted) {
    return wanted.base == LoadBase::tractor_empty ? wanted.tractor_empty : loads.total();
}

}  // namespace

AxleLoads find_axle_loads(std::span<const PlacedMass> masses, double wheelbase) {
    AxleLoads loads;
    for (const PlacedMass& m : masses) {
        loads.front += m.mass * -m.x / wheelbase;
        loads.rear += m.mass * (wheelbase + m.x) / wheelbase;
    }
    return loads;
}

double find_axle_share(const AxleLoads& loads, const AxleShare& wanted) {
    return (wanted.axle == Axle::front ? loads.front : loads.rear) / find_base(loads, wanted);
}

std::optional<double> find_least_ballast(const AxleLoads& loads, double wheelbase, const AxleShare& wanted, double x) {
    const bool front = wanted.axle == Axle::front;
    const double lacking = wanted.share * find_base(loads, wanted) - (front ? loads.front : loads.rear);
    if (lacking <= 0.0) return 0.0;
    // Each kilogram adds this to the axle beyond what it adds to the share of the base.
    const double lever = front ? -x / wheelbase : (wheelbase + x) / wheelbase;
    const double gain = lever - (wanted.base == LoadBase::all_together ? wanted.share : 0.0);
    if (gain <= 0.0) return std::nullopt;
    return lacking / gain;
}

}  // namespace hitchwright
