// See follow_travel.h.
#include "geometry/follow_travel.h"

#include <cmath>

#include "geometry/pose_report.h"

namespace hitchwright {
namespace {

constexpr int steps = 40;
constexpr double height_closeness = 1.0e-5;  // m
constexpr double golden = 0.6180339887498949;

/// Origin and direction of the part.
struct PartFrame {
    Point origin = Point::Zero();
    double turn = 0.0;
};

PartFrame find_frame(const Setup& setup, const MountedModel& model, Carrier carrier, double ball_height) {
    const PlanarPose pose = make_pose_report(setup, model, ball_height).pose;
    if (carrier == Carrier::lower_link) return {model.linkage.lower_pivot, pose.lower_link_angle};
    return {pose.ball, pose.pitch};
}

}  // namespace

CarriedPoint hold_point(const Setup& setup, const MountedModel& model, double ball_height, const Point& at, Carrier carrier) {
    const PartFrame frame = find_frame(setup, model, carrier, ball_height);
    return {carrier, rotate(at - frame.origin, -frame.turn)};
}

Point place_carried(const Setup& setup, const MountedModel& model, const CarriedPoint& held, double ball_height) {
    const PartFrame frame = find_frame(setup, model, held.carrier, ball_height);
    return frame.origin + rotate(held.own, frame.turn);
}

double find_nearest_height(const Setup& setup, const MountedModel& model, const CarriedPoint& held, const Point& target) {
    const HeightRange& travel = model.travel;
    const auto off = [&](double h) { return (place_carried(setup, model, held, h) - target).squaredNorm(); };
    const auto at_step = [&](int i) { return i == steps ? travel.high : travel.low + (travel.high - travel.low) * i / steps; };
    int best = 0;
    double least = off(travel.low);
    for (int i = 1; i <= steps; ++i) {
        const double d = off(at_step(i));
        if (d < least) best = i, least = d;
    }
    double low = at_step(std::max(best - 1, 0)), high = at_step(std::min(best + 1, steps));
    while (high - low > height_closeness) {
        const double a = high - golden * (high - low), b = low + golden * (high - low);
        (off(a) <= off(b) ? high : low) = off(a) <= off(b) ? b : a;
    }
    // At an end the section closes in on the end without reaching it.
    for (const double h : {0.5 * (low + high), travel.low, travel.high}) {
        if (off(h) <= least) return h;
    }
    return at_step(best);
}

}  // namespace hitchwright
