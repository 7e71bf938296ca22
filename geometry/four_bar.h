// The plane four-bar in textbook notation: crank, coupler, rocker and ground.
//
// Crank pivot at the origin, rocker pivot at (ground, 0); crank angle from the ground line. The crank pin A and the
// coupler pin B: |A| = crank, |B - A| = coupler, |B - (ground, 0)| = rocker. B lies left or right of the directed
// line from A to the rocker pivot: those are the two assemblies, and a motion keeps its side until it passes a toggle.
//
//              coupler ___ B
//              ___----    /
//          A --          / rocker        left assembly: B above the line A -> rocker pivot
//   crank /             /
//        o --- ground - o
//   crank pivot     rocker pivot
#pragma once

#include "geometry/circle_circle.h"

namespace hitchwright {

/// Bar lengths, any one unit; all positive.
struct FourBar {
    double crank = 0.0;
    double coupler = 0.0;
    double rocker = 0.0;
    double ground = 0.0;

    bool operator==(const FourBar&) const = default;
};

/// Whether the shortest bar can turn fully: shortest + longest against the other two (Grashof's condition).
enum class GrashofClass {
    grashof,      ///< smaller: the shortest bar turns fully
    special,      ///< equal: all bars can fall into one line
    non_grashof,  ///< larger: no bar turns fully
};

/// A solved position, or by how much the bars miss.
struct FourBarPose {
    bool assembles = false;
    Miss miss = Miss::undefined;
    double shortfall = 0.0;           ///< by how much coupler and rocker miss each other, unit of the bars
    double coupler_angle = 0.0;       ///< of A -> B, rad in [-pi, pi]
    double rocker_angle = 0.0;        ///< of rocker pivot -> B, rad in [-pi, pi]
    double transmission_angle = 0.0;  ///< acute angle between coupler and rocker, rad in [0, pi/2]
    Point crank_pin = Point::Zero();
    Point coupler_pin = Point::Zero();

    bool operator==(const FourBarPose&) const = default;
};

/// Position for `crank_angle` (rad) on the chosen assembly. Never throws; bars that cannot assemble are a result.
FourBarPose solve_four_bar(const FourBar& bars, double crank_angle, Side assembly);

/// Grashof class; sums that agree within 1e-12 of themselves count as equal.
GrashofClass find_grashof_class(const FourBar& bars);

}  // namespace hitchwright
