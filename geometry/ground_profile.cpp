#include "geometry/ground_profile.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hitchwright {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// offset + first cos t + second sin t.
struct Wave {
    double offset, first, second;

    double at(double cosine, double sine) const { return offset + first * cosine + second * sine; }
};

/// A straight stretch of ground from `low` to `high` along s, z = z0 + slope (s - s0).
struct Stretch {
    double low, high, s0, z0, slope;
};

class GapSearch {
public:
    GapSearch(const WheelCircle& wheel, const Eigen::Vector3d& across)
        : wheel_(wheel),
          s_{across.dot(wheel.centre), wheel.radius * across.dot(wheel.along), wheel.radius * across.dot(wheel.up)},
          z_{wheel.centre.z(), wheel.radius * wheel.along.z(), wheel.radius * wheel.up.z()}, reach_(std::hypot(s_.first, s_.second)) {}

    void look_at_stretch(const Stretch& g) {
        if (g.high < s_.offset - reach_ - beside || g.low > s_.offset + reach_ + beside) return;  // no point of the wheel over it
        const Wave over{z_.offset - g.z0 - g.slope * (s_.offset - g.s0), z_.first - g.slope * s_.first, z_.second - g.slope * s_.second};
        const double size = std::hypot(over.first, over.second);
        const double cosine = size > 0.0 ? -over.first / size : 1.0, sine = size > 0.0 ? -over.second / size : 0.0;
        const double s = s_.at(cosine, sine);
        if (s >= g.low && s <= g.high) take(over.at(cosine, sine), cosine, sine);
    }

    void look_at_corner(const Point& corner) {
        const double size = reach_, away = corner.x() - s_.offset;
        if (size == 0.0 || std::fabs(away) > size) return;
        // cos and sin of the angles whose s is the corner's, without going through the angles: this runs most of all.
        const double along = away / size, square_on = std::sqrt((size - away) * (size + away)) / size;
        const double first = s_.first / size, second = s_.second / size;
        for (const double side : {square_on, -square_on}) {
            const double cosine = along * first - side * second, sine = along * second + side * first;
            take(z_.at(cosine, sine) - corner.y(), cosine, sine);
        }
    }

    WheelGap best{infinity, Eigen::Vector3d::Zero()};

private:
    void take(double gap, double cosine, double sine) {
        if (gap >= best.gap) return;
        best.gap = gap;
        best.at = wheel_.centre + wheel_.radius * (cosine * wheel_.along + sine * wheel_.up);
    }

    static constexpr double beside = 1.0e-9;  // m, above rounding

    const WheelCircle& wheel_;
    Wave s_, z_;
    double reach_;  ///< of the wheel along s to either side of its centre, m
};

bool is_rising(const std::vector<Point>& corners) {
    for (std::size_t i = 0; i < corners.size(); ++i) {
        if (!corners[i].allFinite() || (i > 0 && corners[i].x() <= corners[i - 1].x())) return false;
    }
    return true;
}

}  // namespace

std::optional<GroundProfile> make_ditch_profile(double depth, double bottom_width, double side_slope) {
    if (!std::isfinite(depth) || !(bottom_width >= 0.0) || !std::isfinite(bottom_width)) return std::nullopt;
    if (depth == 0.0) return GroundProfile{};
    const double side = std::fabs(depth) / std::tan(side_slope), half = 0.5 * bottom_width;
    if (!(side_slope > 0.0 && side_slope < 1.57) || !std::isfinite(side)) return std::nullopt;
    GroundProfile p;
    p.corners = {Point(-half - side, 0.0), Point(-half, -depth)};
    if (half > 0.0) p.corners.emplace_back(half, -depth);
    p.corners.emplace_back(half + side, 0.0);
    return is_rising(p.corners) ? std::optional<GroundProfile>(p) : std::nullopt;
}

std::optional<GroundProfile> make_profile(const DitchReadings& d) {
    if (d.points.empty()) {
        if (!d.depth.known) return std::nullopt;
        if (d.depth.value != 0.0 && !d.side_slope.known) return std::nullopt;
        return make_ditch_profile(d.depth.value, d.bottom_width.value_or(0.0), d.side_slope.value);
    }
    GroundProfile p;
    for (const GroundPoint& g : d.points) {
        if (!g.x.known || !g.z.known) return std::nullopt;
        p.corners.emplace_back(g.x.value, g.z.value);
    }
    return is_rising(p.corners) ? std::optional<GroundProfile>(p) : std::nullopt;
}

GroundProfile mirror(const GroundProfile& profile) {
    GroundProfile m;
    for (auto c = profile.corners.rbegin(); c != profile.corners.rend(); ++c) m.corners.emplace_back(-c->x(), c->y());
    return m;
}

GroundProfile scale_heights(const GroundProfile& profile, double factor) {
    GroundProfile scaled = profile;
    for (Point& c : scaled.corners) c.y() *= factor;
    return scaled;
}

double find_ground_height(const GroundProfile& profile, double s) {
    const std::vector<Point>& c = profile.corners;
    if (c.empty()) return 0.0;
    if (s <= c.front().x()) return c.front().y();
    for (std::size_t i = 1; i < c.size(); ++i) {
        if (s > c[i].x()) continue;
        const double share = (s - c[i - 1].x()) / (c[i].x() - c[i - 1].x());
        return c[i - 1].y() + share * (c[i].y() - c[i - 1].y());
    }
    return c.back().y();
}

WheelGap find_wheel_gap(const GroundProfile& profile, const WheelCircle& wheel, const Eigen::Vector3d& across) {
    const std::vector<Point>& c = profile.corners;
    GapSearch search(wheel, across);
    if (c.empty()) {
        search.look_at_stretch({-infinity, infinity, 0.0, 0.0, 0.0});
        return search.best;
    }
    search.look_at_stretch({-infinity, c.front().x(), c.front().x(), c.front().y(), 0.0});
    search.look_at_stretch({c.back().x(), infinity, c.back().x(), c.back().y(), 0.0});
    for (std::size_t i = 0; i < c.size(); ++i) {
        search.look_at_corner(c[i]);
        if (i == 0) continue;
        const Point rise = c[i] - c[i - 1];
        search.look_at_stretch({c[i - 1].x(), c[i].x(), c[i - 1].x(), c[i - 1].y(), rise.y() / rise.x()});
    }
    return search.best;
}

}  // namespace hitchwright
