// How high the measured points of an implement stand over level ground, as the linkage carries them.
//
// Points and contacts of the implement in frame I (moved to the ball by a coupler); a contact counts with its
// underside. The tail is the rearmost of them, the same one in every pose. Frames T and I, m.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/mounted_model.h"
#include "geometry/setup.h"

namespace hitchwright {

/// A point or contact of the implement on the linkage.
struct HeldPoint {
    std::string name;
    Point at = Point::Zero();  ///< frame I, moved to the ball
    double radius = 0.0;       ///< of a wheel; 0: a point
    bool operator==(const HeldPoint&) const = default;
};

/// Its name and height in one pose, m; negative: below level ground.
struct PointHeight {
    std::string name;
    double height = 0.0;
    bool operator==(const PointHeight&) const = default;
};

/// All points, then all contacts, in the order of the file.
std::vector<HeldPoint> list_held_points(const Implement& implement, const MountedModel& model);

/// Height of the underside of a point in a pose that closes.
double find_point_height(const HeldPoint& point, const PlanarPose& pose);

/// The rearmost point, and the lowest one of the pose; nothing without points.
std::optional<PointHeight> find_tail_height(const std::vector<HeldPoint>& points, const PlanarPose& pose);
std::optional<PointHeight> find_lowest_height(const std::vector<HeldPoint>& points, const PlanarPose& pose);

}  // namespace hitchwright
