// See wheel_contact.h.
#include "geometry/wheel_contact.h"

#include <algorithm>
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

/// The point of the rim with the least gap so far, at (cosine, sine)/scale, and the ground's slope there.
struct Best {
    double gap = infinity, cosine = 1.0, sine = 0.0, scale = 1.0, slope = 0.0;

    void take(const Best& other) {
        if (other.gap < gap) *this = other;
    }
};

/// The rim over a corner, its own slope there. `reach`: half of the wheel's length along s, which is
/// s = offset + reach cos(t - t0). Apart from its caller, which seldom needs it: its divisions would be made ahead for every wheel.
[[gnu::noinline]] void look_at_corner(const Point& corner, const Wave& s, const Wave& z, double reach, Best& best) {
    const double away = corner.x() - s.offset;
    if (reach == 0.0 || std::fabs(away) > reach + beside) return;
    const double to_cosine = s.first / reach, to_sine = s.second / reach;  // of t0
    const double along = std::clamp(away / reach, -1.0, 1.0), square_on = std::sqrt((1.0 - along) * (1.0 + along));
    const double side = z.second * to_cosine > z.first * to_sine ? -square_on : square_on;  // the lower one
    const double cosine = along * to_cosine - side * to_sine, sine = along * to_sine + side * to_cosine;
    const double rise = z.second * cosine - z.first * sine, run = -reach * side;
    best.take({z.at(cosine, sine) - corner.y(), cosine, sine, 1.0, run != 0.0 ? rise / run : 0.0});
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
}

WheelContact WheelGround::find(const WheelCircle& w) const {
    const Wave s{across_.dot(w.centre), w.radius * across_.dot(w.along), w.radius * across_.dot(w.up)};
    const Wave z{w.centre.z(), w.radius * w.along.z(), w.radius * w.up.z()};
    const double reach = std::sqrt(s.first * s.first + s.second * s.second);
    const double from = s.offset - reach - beside, to = s.offset + reach + beside;
    // The lower rim bends up everywhere: over a stretch its gap falls towards one place and rises from there. So the gap is least
    // at such a place, where that lies on its stretch, or over a corner towards which it falls from both sides.
    Best best;
    bool falls = false;  // to the end of the stretch before
    for (const Stretch& g : stretches_) {
        if (g.high < from) continue;
        if (g.low > to) break;
        const Wave over{z.offset - g.z0 - g.slope * (s.offset - g.s0), z.first - g.slope * s.first,
                        z.second - g.slope * s.second};
        const double depth = std::sqrt(over.first * over.first + over.second * over.second);
        const Best here = depth > 0.0 ? Best{over.offset - depth, -over.first, -over.second, depth, g.slope}
                                      : Best{over.offset, 1.0, 0.0, 1.0, g.slope};
        if (g.low <= from && g.high >= to) {
            best = here;
            break;
        }
        const double along = s.first * here.cosine + s.second * here.sine;
        const bool before = along < (g.low - s.offset) * here.scale, beyond = along > (g.high - s.offset) * here.scale;
        if (falls && before) look_at_corner({g.s0, g.z0}, s, z, reach, best);
        if (!before && !beyond) best.take(here);
        falls = beyond;
    }
    const double to_rim = w.radius / best.scale;
    return {best.gap, (to_rim * best.cosine) * w.along + (to_rim * best.sine) * w.up,
            {-best.slope * across_.x(), -best.slope * across_.y(), 1.0}};
}

}  // namespace hitchwright
