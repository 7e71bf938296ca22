// Static axle loads and least ballast, by moments.
//
// Everything that weighs stands at a place behind the rear axle (x, frame T; ahead of it negative); the front axle is at -b.
// Moments about the rear axle give the front axle, moments about the front axle the rear one:
//   front = sum m (-x)/b,  rear = sum m (b + x)/b.
// The tractor itself is two masses, what its axles carry empty: TV at -b and TH at 0. Printed ballast formulas follow from
// this and are only checked against it (one manual prints a wrong sign). Standing on level ground: no draught, no slope,
// no acceleration. Masses kg (a load over g), lengths m.
#pragma once

#include <optional>
#include <span>

#include "geometry/setup.h"

namespace hitchwright {

/// A mass and where its centre stands behind the rear axle.
struct PlacedMass {
    double mass = 0.0;  ///< kg; negative where something is lifted off
    double x = 0.0;     ///< m
    bool operator==(const PlacedMass&) const = default;
};

/// What the axles carry, kg. Negative: that axle would lift.
struct AxleLoads {
    double front = 0.0, rear = 0.0;
    double total() const { return front + rear; }
    bool operator==(const AxleLoads&) const = default;
};

/// Loads of both axles under all masses. `wheelbase` above 0.
AxleLoads find_axle_loads(std::span<const PlacedMass> masses, double wheelbase);

/// Which axle a share is asked of.
enum class Axle { front, rear };

/// A share of a base that an axle must keep.
struct AxleShare {
    Axle axle = Axle::front;
    LoadBase base = LoadBase::tractor_empty;
    double share = 0.2;          ///< 0 to 1
    double tractor_empty = 0.0;  ///< kg, the base of tractor_empty
};

/// Share of the base that the axle has, as AxleShare says.
double find_axle_share(const AxleLoads& loads, const AxleShare& wanted);

/// Least ballast at `x` with which the axle keeps its share; 0 when it does without. Nothing when no mass there can do it
/// (between the axles or beyond the other one, or the base grows faster than the axle's load).
std::optional<double> find_least_ballast(const AxleLoads& loads, double wheelbase, const AxleShare& wanted, double x);

}  // namespace hitchwright
