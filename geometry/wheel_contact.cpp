// See wheel_contact.h.
#include "geometry/wheel_contact.h"

#include <cmath>
#include <limits>

namespace hitchwright {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double beside = 1.0e-9;  // m, above rounding
constexpr double straight = 1.0e-6;  // a bend that rounding could take for its opposite is less

/// offset + first cos t + second sin t.
struct Wave {
    double offset, first, second;

    double at(double cosine, double sine) const { return offset + first * cosine + second * sine; }
};

/// The point of the rim with the least gap so far: by the angle t round the rim the ground's z rises with s as rise/run.
struct Best {
    double gap = infinity, cosine = 1.0, sine = 0.0, rise = 0.0, run = 1.0;

    void take(double other, double c, double s, double by_rise, double by_run) {
        if (!(other < gap)) return;
        *this = {other, c, s, by_rise, by_run};
    }
    double slope() const { return run != 0.0 ? rise / run : 0.0; }
};

/// `reach`: half of the wheel's length along s, which is s = offset + reach cos(t - t0).
void look_at_corner(const Point& corner, const Wave& s, const Wave& z, double reach, Best& best) {
    const double away = corner.x() - s.offset;
    if (reach == 0.0 || std::fabs(away) > reach) return;
    const double to_cosine = s.first / reach, to_sine = s.second / reach;  // of t0
    const double along = away / reach, square_on = std::sqrt((1.0 - along) * (1.0 + along));
    const double side = z.second * to_cosine > z.first * to_sine ? -square_on : square_on;  // the lower one
    const double cosine = along * to_cosine - side * to_sine, sine = along * to_sine + side * to_cosine;
    best.take(z.at(cosine, sine) - corner.y(), cosine, sine, z.second * cosine - z.first * sine, -reach * side);
}

}  // namespace

WheelGround::WheelGround(const GroundProfile& profile, const Eigen::Vector3d& across) : across_(across) {
    const std::vector<Point>& corners = profile.corners;
    if (corners.empty()) {
        stretches_.push_back({-infinity, infinity, 0.0, 0.0, 0.0});
        return;
    }
    stretches_.push_back({-infinity, corners.front().x(), corners.front().x(), corners.front().y(), 0.0});
    for (std::size_t i = 1; i < corners.size(); ++i) {
        const Point &from = corners[i - 1], &to = corners[i];
        stretches_.push_back({from.x(), to.x(), from.x(), from.y(), (to.y() - from.y()) / (to.x() - from.x())});
    }
    stretches_.push_back({corners.back().x(), infinity, corners.back().x(), corners.back().y(), 0.0});
    for (std::size_t i = 0; i < corners.size(); ++i) {
        if (stretches_[i].slope > stretches_[i + 1].slope - straight) ridges_.push_back(corners[i]);
    }
}

WheelContact WheelGround::find(const WheelCircle& w) const {
    const Wave s{across_.dot(w.centre), w.radius * across_.dot(w.along), w.radius * across_.dot(w.up)};
    const Wave z{w.centre.z(), w.radius * w.along.z(), w.radius * w.up.z()};
    const double reach = std::sqrt(s.first * s.first + s.second * s.second);
    const double from = s.offset - reach - beside, to = s.offset + reach + beside;
    Best best;
    bool over_one = false;  // stretch alone, as a wheel mostly is: no corner is below it
    for (const Stretch& g : stretches_) {
        if (g.high < from || g.low > to) continue;
        const Wave over{z.offset - g.z0 - g.slope * (s.offset - g.s0), z.first - g.slope * s.first,
                        z.second - g.slope * s.second};
        const double depth = std::sqrt(over.first * over.first + over.second * over.second);
        const double cosine = depth > 0.0 ? -over.first / depth : 1.0, sine = depth > 0.0 ? -over.second / depth : 0.0;
        const double at = s.at(cosine, sine);
        over_one = g.low <= from && g.high >= to;
        if (over_one || (at >= g.low && at <= g.high)) best.take(over.offset - depth, cosine, sine, g.slope, 1.0);
        if (over_one) break;
    }
    if (!over_one) {
        for (const Point& corner : ridges_) look_at_corner(corner, s, z, reach, best);
    }
    return {best.gap, w.radius * (best.cosine * w.along + best.sine * w.up),
            Eigen::Vector3d::UnitZ() - best.slope() * across_};
}

}  // namespace hitchwright
