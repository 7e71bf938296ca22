// See wheel_contact.h.
#include "geometry/wheel_contact.h"

#include <cmath>
#include <limits>

namespace hitchwright {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double beside = 1.0e-9;  // m, above rounding

/// offset + first cos t + second sin t.
struct Wave {
    double offset, first, second;

    double at(double cosine, double sine) const { return offset + first * cosine + second * sine; }
};

/// The point of the rim with the least gap so far.
struct Best {
    double gap = infinity, cosine = 1.0, sine = 0.0, slope = 0.0;

    void take(double other, double c, double s, double m) {
        if (!(other < gap)) return;
        *this = {other, c, s, m};
    }
};

void look_at_corner(const Point& corner, const Wave& s, const Wave& z, double reach, Best& best) {
    const double away = corner.x() - s.offset;
    if (reach == 0.0 || std::fabs(away) > reach) return;
    const double along = away / reach, square_on = std::sqrt((reach - away) * (reach + away)) / reach;
    const double first = s.first / reach, second = s.second / reach;
    for (const double side : {square_on, -square_on}) {
        const double cosine = along * first - side * second, sine = along * second + side * first;
        const double rise = z.second * cosine - z.first * sine, run = -reach * side;  // by t
        best.take(z.at(cosine, sine) - corner.y(), cosine, sine, run != 0.0 ? rise / run : 0.0);
    }
}

}  // namespace

WheelGround::WheelGround(const GroundProfile& profile, const Eigen::Vector3d& across)
    : corners_(profile.corners), across_(across) {
    if (corners_.empty()) {
        stretches_.push_back({-infinity, infinity, 0.0, 0.0, 0.0});
        return;
    }
    stretches_.push_back({-infinity, corners_.front().x(), corners_.front().x(), corners_.front().y(), 0.0});
    for (std::size_t i = 1; i < corners_.size(); ++i) {
        const Point &from = corners_[i - 1], &to = corners_[i];
        stretches_.push_back({from.x(), to.x(), from.x(), from.y(), (to.y() - from.y()) / (to.x() - from.x())});
    }
    stretches_.push_back({corners_.back().x(), infinity, corners_.back().x(), corners_.back().y(), 0.0});
}

WheelContact WheelGround::find(const WheelCircle& w) const {
    const Wave s{across_.dot(w.centre), w.radius * across_.dot(w.along), w.radius * across_.dot(w.up)};
    const Wave z{w.centre.z(), w.radius * w.along.z(), w.radius * w.up.z()};
    const double reach = std::sqrt(s.first * s.first + s.second * s.second);
    Best best;
    for (const Stretch& g : stretches_) {
        if (g.high < s.offset - reach - beside || g.low > s.offset + reach + beside)
            continue;  // no point of the wheel over it
        const Wave over{z.offset - g.z0 - g.slope * (s.offset - g.s0), z.first - g.slope * s.first,
                        z.second - g.slope * s.second};
        const double size = std::sqrt(over.first * over.first + over.second * over.second);
        const double cosine = size > 0.0 ? -over.first / size : 1.0, sine = size > 0.0 ? -over.second / size : 0.0;
        const double at = s.at(cosine, sine);
        if (at >= g.low && at <= g.high) best.take(over.at(cosine, sine), cosine, sine, g.slope);
    }
    for (const Point& corner : corners_) look_at_corner(corner, s, z, reach, best);
    return {best.gap, w.radius * (best.cosine * w.along + best.sine * w.up),
            Eigen::Vector3d::UnitZ() - best.slope * across_};
}

}  // namespace hitchwright
