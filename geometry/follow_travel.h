// Which height of the lift brings a point that somebody holds nearest to where they hold it.
//
// The point is fixed to the lower link or to the implement and moves on its own path through the travel (pose_report.h).
// The nearest place on the path is looked for over even steps of ball height and then narrowed by golden section between
// the neighbours of the best step, to a hundredth of a millimetre of height; the ends of the travel are places like any
// other. Frame T, m.
#pragma once

#include "geometry/mounted_model.h"
#include "geometry/point.h"

namespace hitchwright {

/// What a held point is fixed to.
enum class Carrier { lower_link, implement };

/// A point held somewhere on a moving part, in the frame of that part: the lower link's pivot and direction, or the pose of
/// the implement.
struct CarriedPoint {
    Carrier carrier = Carrier::implement;
    Point own = Point::Zero();
};

/// The point of that part which lies at `at` with the lift at `ball_height`.
CarriedPoint hold_point(const Setup& setup, const MountedModel& model, double ball_height, const Point& at, Carrier carrier);

/// Where it lies at another height.
Point place_carried(const Setup& setup, const MountedModel& model, const CarriedPoint& held, double ball_height);

/// Ball height inside the travel at which it lies nearest to `target`.
double find_nearest_height(const Setup& setup, const MountedModel& model, const CarriedPoint& held, const Point& target);

}  // namespace hitchwright
