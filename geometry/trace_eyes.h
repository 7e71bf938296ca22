// Internal to trace_machine: what mounted and drawn machines have in common when they are looked at.
//
// Values are those of trace_seen.h; nothing where they cannot be reckoned. Frame T, m and rad.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "geometry/drawn_model.h"
#include "geometry/mounted_model.h"
#include "geometry/trace_machine.h"

namespace hitchwright::trace_eyes {

using Value = std::optional<double>;

/// The floor in frame T; level at 0 unless a tyre has changed.
class Floor {
public:
    /// Rear axle centre at (0, r) stands r + rear above it, front axle centre at (-wheelbase, f) f + front; nothing
    /// without radius and wheelbase, or for tyres no tractor has.
    static std::optional<Floor> make(const TraceMachine& machine);

    double height_of(double x, double z) const { return (z - at_axle - x * std::tan(slope)) * std::cos(slope); }
    bool is_level() const { return slope == 0.0 && at_axle == 0.0; }

    double slope = 0.0;    ///< rad, positive: rising rearward
    double at_axle = 0.0;  ///< z of it below the rear axle
};

constexpr int travel_steps = 32;

/// Least of `f` over [low, high]: equal steps, then a parabola through the least and its neighbours.
template <class F>
Value find_least(double low, double high, F&& f) {
    std::array<double, travel_steps + 1> at{};
    std::size_t best = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
        const Value v = f(low + (high - low) * static_cast<double>(i) / travel_steps);
        if (!v) return std::nullopt;
        at[i] = *v;
        if (at[i] < at[best]) best = i;
    }
    if (best == 0 || best + 1 == at.size()) return at[best];
    const double bend = at[best - 1] - 2.0 * at[best] + at[best + 1], slope = 0.5 * (at[best + 1] - at[best - 1]);
    if (!(bend > 0.0)) return at[best];
    const double shift = std::clamp(-slope / bend, -0.5, 0.5);
    const Value there = f(low + (high - low) * (static_cast<double>(best) + shift) / travel_steps);
    return there ? std::min(at[best], *there) : at[best];
}

/// Underside of a point or wheel in frame I.
struct Spot {
    double x = 0.0, z = 0.0, radius = 0.0;
};

/// Rearmost of all points and wheels, or the foremost deck edge (else the foremost point).
std::optional<Spot> find_spot(const Implement& implement, bool tail);

/// A known reading of the set-up by its key.
Value find_reading(const Setup& setup, const std::string& key);

/// The lesser of those that are there.
inline Value least_of(Value a, Value b) { return a && b ? std::min(*a, *b) : a ? a : b; }

/// How much of the limits of joint and evenness is left, as a share of the limit; the lesser of them.
Value find_joint_room(const Setup& setup, double tractor, double implement, double non_uniformity);

/// One observation of a mounted or a drawn machine whose model is built.
Value see_mounted(const TraceMachine& machine, const MountedModel& model, const Floor& floor, const Seen& seen);
Value see_drawn(const TraceMachine& machine, const DrawnModel& model, const Floor& floor, const Seen& seen);

}  // namespace hitchwright::trace_eyes
