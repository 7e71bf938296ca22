// What a mounted set-up has beside its side view: unlike lift rods, sway, and how far both go over the travel.
//
// Rods: those of the choices, else the tractor's, alike. Sway: from check chains whose readings are all there, else from the
// total travel found at the ball, the same at every height; else none. Tilt of the lower hitch points: what the rods give at
// any height and sway, and either way what a slot lets one ball rise alone. Both ranges together are the box over which shaft
// and joints are judged: at every height any sway with any tilt of them, a little more than can meet. Frame T, m.
#pragma once

#include "geometry/check_chains.h"
#include "geometry/setup.h"
#include "geometry/travel_box.h"

namespace hitchwright {

enum class SwaySource { none, total, chains };

/// Sway and tilt over a travel. Zero ranges: a motion in the side plane.
struct SideRanges {
    HeightRange sway;       ///< of the middle between the lower hitch points, m
    HeightRange tilt_sine;  ///< of the line through them
    bool proven = true;     ///< false: an end was found at a few heights only
    bool limited = true;    ///< false: chains set no limit to one side within the links' reach; 0 is taken there
    bool planar() const { return sway == HeightRange{} && tilt_sine == HeightRange{}; }
};

struct MountedSpace {
    SpatialLinkage linkage;
    bool has_rods = false;
    LiftRods rods;
    bool rods_set = false;  ///< a choice gives a length of its own to a rod
    SwaySource sway_source = SwaySource::none;
    double total_sway = 0.0;  ///< m at the balls, from one side to the other
    CheckChains chains;
    double slot_tilt = 0.0;  ///< sine of the tilt that a slot allows either way
    SideRanges side;         ///< over the travel in force
    bool side_closes = true; ///< false: at some place of the ranges the linkage does not close; the ranges are zero then
};

/// Linkage, rods and chains from the readings; ranges are not found. `lower_length`: of the lower links, an extender counted.
MountedSpace make_mounted_space(const Setup& setup, const PlanarLinkage& side_view, double lower_length);

/// Mean height of the balls with the rods as set, at the arm angle at which both rods of the tractor's own length hold them at
/// `height`; nothing where rods or links do not reach. Needs has_rods.
std::optional<double> carry_height_to_rods(const MountedSpace& space, double own_rod_length, double height);

/// How the ranges are found: with bounds; at a few heights, for readings that are only moved by their errors; or not at all,
/// where only the side plane is asked for.
enum class RangeSearch { bounded, at_a_few_heights, none };

/// Finds `side` over the heights and upper-link lengths of a box.
void set_side_ranges(MountedSpace& space, const TravelBox& box, RangeSearch search);

/// True when the linkage closes everywhere in a box.
bool closes_throughout(const SpatialLinkage& linkage, const SpatialBox& box);

/// The box of a travel in the variables of spatial_jets.h.
SpatialBox make_spatial_box(const TravelBox& box);

}  // namespace hitchwright
