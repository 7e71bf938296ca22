#include "gui/triangles.h"

#include <cmath>

namespace hitchwright {
namespace {

double cross(PagePoint a, PagePoint b, PagePoint c) { return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x); }

double signed_area(const std::vector<PagePoint>& p) {
    double sum = 0.0;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const PagePoint a = p[i], b = p[(i + 1) % p.size()];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum;
}

struct Corner {
    std::size_t before, at, after;
};

/// True when the triangle at a corner turns the polygon's way and holds no other corner.
bool is_ear(const std::vector<PagePoint>& p, const std::vector<std::size_t>& rest, const Corner& c, double turn) {
    if (turn * cross(p[c.before], p[c.at], p[c.after]) <= 0.0) return false;
    for (const std::size_t i : rest) {
        if (i == c.before || i == c.at || i == c.after) continue;
        const bool inside = turn * cross(p[c.before], p[c.at], p[i]) >= 0.0 &&
                            turn * cross(p[c.at], p[c.after], p[i]) >= 0.0 &&
                            turn * cross(p[c.after], p[c.before], p[i]) >= 0.0;
        if (inside) return false;
    }
    return true;
}

}  // namespace

std::vector<std::array<std::size_t, 3>> fill_with_triangles(const std::vector<PagePoint>& corners) {
    std::vector<std::array<std::size_t, 3>> triangles;
    std::vector<std::size_t> rest(corners.size());
    for (std::size_t i = 0; i < rest.size(); ++i) rest[i] = i;
    const double turn = signed_area(corners) >= 0.0 ? 1.0 : -1.0;
    for (std::size_t n = rest.size(); n >= 3; --n) {
        // Without an ear (corners in line, or an outline that crosses itself) any corner is cut, so that it ends.
        std::size_t ear = 0;
        for (std::size_t i = 0; i < n; ++i) {
            if (!is_ear(corners, rest, {rest[(i + n - 1) % n], rest[i], rest[(i + 1) % n]}, turn)) continue;
            ear = i;
            break;
        }
        triangles.push_back({rest[(ear + n - 1) % n], rest[ear], rest[(ear + 1) % n]});
        rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(ear));
    }
    return triangles;
}

}  // namespace hitchwright
