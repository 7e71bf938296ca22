// Tractor and drawn implement standing across a ditch or ridge: attitude of both, and of one against the other.
//
// The rig stands with its rear axle at a place along a straight way that crosses the line of the ditch at an angle (square is
// 90 deg). Tractor: both rear wheels touch; the front axle rocks on its centre pin until both front wheels touch: four wheels,
// four unknowns (height, pitch, roll, rock). Implement: the pin where the tractor holds it, the same plan heading, resting on
// its wheels: pitch and roll; with several axles on whichever come first. Wheels are rigid circles (ground_profile.h).
// Method: the gap under each wheel is exact, and so are its slopes (wheel_contact.h): Newton's steps, each halved until the
// greatest gap falls; where one closes little the pose is raised, tipped and rolled by the gaps too. Gaps end below 1e-10 m.
// Relative attitude: R = R_T^T R_I, taken apart in the order of attitude.h.
// A station is a place, whichever way the rig came there: driving forward over a ditch and backing over it pass the same ones.
// World frame: X along the way rearward, Y right, Z up; s = X sin a - Y cos a across the ditch, a: crossing angle (below
// 90 deg the right wheels come first). Left out: tyres that give, sinkage, speed. m, rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/attitude.h"
#include "geometry/drawn_extremes.h"
#include "geometry/ground_profile.h"

namespace hitchwright {

/// An axle of the implement, frame I.
struct ImplementAxle {
    double x = 0.0, z = 0.0, half_track = 0.0, radius = 0.0;
};

/// Everything that touches the ground.
struct TerrainRig {
    double rear_radius = 0.0, rear_half_track = 0.0;
    double wheelbase = 0.0;
    double front_radius = 0.0, front_half_track = 0.0, front_pivot_height = 0.0;
    Eigen::Vector3d pin = Eigen::Vector3d::Zero();  ///< articulation centre, frame T
    std::vector<ImplementAxle> axles;
    double level_pitch = 0.0;  ///< of the implement on level ground
};

/// Rig of a set-up and the keys of what is missing for it (empty: complete).
struct TerrainRigResult {
    TerrainRig rig;
    std::vector<std::string> missing;
};
TerrainRigResult make_terrain_rig(const Setup& setup, const DrawnModel& model);

/// The ground and how it is crossed.
struct Crossing {
    GroundProfile profile;
    double angle = 0.5 * 3.14159265358979323846;  ///< between way and ditch line, rad in (0, pi)
};

/// The rig at one place.
struct TerrainPose {
    bool stands = false;      ///< false: no pose was found to `contact_tolerance`; nothing else holds
    double place = 0.0;       ///< X of the rear axle's middle, m; the ditch lies at 0, driving forward it falls
    double height = 0.0;      ///< of the rear axle's middle, m
    Attitude tractor, implement;  ///< against the world; yaw 0
    double front_rock = 0.0;  ///< front axle against the tractor, rad
    Attitude relative;        ///< implement against tractor
    Eigen::Vector3d pin = Eigen::Vector3d::Zero();  ///< world
    double worst_contact = 0.0;  ///< greatest gap or depth left under a wheel that carries, m
    int steps = 0;
};

/// Gaps below this count as contact, m.
inline constexpr double contact_tolerance = 1.0e-10;

/// A wheel of the rig as it stands, for drawing and for checking.
struct StandingWheel {
    const char* name;  ///< "left rear wheel", ...
    WheelCircle circle;
    Eigen::Vector3d touches = Eigen::Vector3d::Zero();
    double gap = 0.0;  ///< m
};

/// Solves the pose at a place. `start`: a pose near by, or none.
TerrainPose solve_terrain_pose(const TerrainRig& rig, const Crossing& crossing, double place, const TerrainPose* start = nullptr);

/// All wheels of a pose that stands: the tractor's four, then the implement's, left before right.
std::vector<StandingWheel> list_wheels(const TerrainRig& rig, const Crossing& crossing, const TerrainPose& pose);

/// Places from where the whole rig stands before the ditch to where it has passed, driving forward: from `first` down to `last`.
struct WayRange {
    double first = 0.0, last = 0.0;
};
WayRange find_way(const TerrainRig& rig, const Crossing& crossing);

/// Attitude of an implement against a tractor, both given against the same frame.
Attitude find_relative_attitude(const Attitude& tractor, const Attitude& implement);

}  // namespace hitchwright
