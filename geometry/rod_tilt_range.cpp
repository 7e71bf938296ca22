// See rod_tilt_range.h.
#include "geometry/rod_tilt_range.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

#include "geometry/angle.h"
#include "geometry/dual.h"
#include "geometry/taylor_extreme.h"

namespace hitchwright {
namespace {

constexpr std::size_t degree = 7;
using Model = TaylorModel<degree>;
using Rate = Dual<Model>;

double find_reach(const Model& m) { return detail::grow(detail::find_size(m) + m.radius); }
/// Least size of the function; not positive where none shows.
double find_least(const Model& m) { return detail::find_least_size(m) - m.radius; }

Model with_radius(Model m, double radius) {
    m.radius = radius;
    m.is_number = false;
    return m;
}

/// Polynomial through values at the Chebyshev points of [-1, 1], by divided differences. What it is off by is found elsewhere.
using Nodes = std::array<double, degree + 1>;

Nodes list_nodes() {
    Nodes x;
    for (std::size_t i = 0; i <= degree; ++i) x[i] = std::cos(pi * (static_cast<double>(i) + 0.5) / (degree + 1.0));
    return x;
}

Model interpolate(const Nodes& x, Nodes y) {
    for (std::size_t order = 1; order <= degree; ++order) {
        for (std::size_t i = degree; i >= order; --i) y[i] = (y[i] - y[i - 1]) / (x[i] - x[i - order]);
    }
    Model m(y[degree]);
    for (std::size_t i = degree; i-- > 0;) {
        for (std::size_t k = degree; k > 0; --k) m.c[k] = m.c[k - 1] - x[i] * m.c[k];
        m.c[0] = y[i] - x[i] * m.c[0];
    }
    m.is_number = false;
    return m;
}

/// Heights of a panel, with the rods' tilt and the heading of the hitch at one sway as polynomials of them.
struct Solved {
    Model tilt, heading;
};

class TiltPanel {
public:
    TiltPanel(const SpatialLinkage& k, const LiftRods& rods, const HeightRange& heights)
        : k_(k), rods_(rods), middle_(heights.low + 0.5 * (heights.high - heights.low)),
          half_(outward::above(std::max(heights.high - middle_, middle_ - heights.low))), height_(Model::variable(middle_, half_)) {
        height_.radius = 8.0 * detail::unit_roundoff * std::max(std::fabs(heights.low), std::fabs(heights.high));  // heights are rounded
    }

    /// The tilt over the panel at a sway.
    std::optional<Model> enclose(double sway) const {
        const std::optional<Solved> at = solve(sway);
        if (!at) return std::nullopt;
        const Rate fixed{Model(sway)};
        const std::optional<Rate> start = find_difference({height_, fixed, Rate(at->tilt, 1.0)}, at->heading);
        if (!start) return std::nullopt;
        const double rho = find_reach(start->v);
        const Model tube = with_radius(at->tilt, 2.0 * rho / std::fabs(start->d.c[0]));
        const std::optional<Rate> over = find_difference({height_, fixed, Rate(tube, 1.0)}, at->heading);
        if (!over) return std::nullopt;
        const double off = detail::grow(rho / find_least(over->d));
        if (!(find_least(over->d) > 0.0 && off <= tube.radius)) return std::nullopt;
        return with_radius(at->tilt, off);
    }

private:
    std::optional<Solved> solve(double sway) const {
        const Nodes x = list_nodes();
        Nodes tilt, heading;
        for (std::size_t i = 0; i <= degree; ++i) {
            const double h = middle_ + x[i] * half_;
            const RodPose pose = solve_on_rods(k_, rods_, h, sway);
            const std::optional<HitchHeading> turned = pose.closes ? solve_heading(k_, pose.hitch.at) : std::nullopt;
            if (!turned) return std::nullopt;
            tilt[i] = pose.hitch.at.tilt_sine;
            heading[i] = turned->sine;
        }
        return Solved{interpolate(x, tilt), interpolate(x, heading)};
    }

    /// F over the panel, with its derivative along what `at` moves; the heading near the polynomial.
    std::optional<Rate> find_difference(const HitchPlace<Rate>& at, const Model& heading) const {
        const auto start = detail::find_heading_terms<Model>(k_, {at.height.v, at.sway.v, at.tilt_sine.v}, heading);
        const double rho = find_reach(start.error);
        const Model tube = with_radius(heading, 2.0 * rho / std::fabs(start.slope.c[0]));
        const auto over = detail::find_heading_terms<Rate>(k_, at, Rate(tube));
        const double off = detail::grow(rho / find_least(over.slope.v));
        if (!(find_least(over.slope.v) > 0.0 && off <= tube.radius)) return std::nullopt;
        const Rate u(with_radius(heading, off), -(over.error.d / over.slope.v));
        const Rate run = detail::find_heading_terms<Rate>(k_, at, u).run;
        const Vec3<Rate> hitch{run + k_.side_view.lower_pivot.x(), at.sway, at.height};
        const Rate f = find_arm_difference(k_, rods_, hitch, detail::make_pin_axis(u, at.tilt_sine).along);
        return f.v.is_bounded() && f.d.is_bounded() ? std::optional<Rate>(f) : std::nullopt;
    }

    const SpatialLinkage& k_;
    const LiftRods& rods_;
    double middle_, half_;
    Model height_;
};

/// Sign of the tilt's slope by the sway all over heights and sways, on strips of height; 0 where none shows.
int find_slope_sign(const SpatialLinkage& k, const LiftRods& rods, const HeightRange& heights, const HeightRange& sways, int deepest) {
    const Interval by_sway = enclose_rod_tilt(k, rods, {Interval(heights.low, heights.high), Interval(sways.low, sways.high), Interval(0.0), Interval(1.0)}).d[1];
    if (by_sway.lo > 0.0 || by_sway.hi < 0.0) return by_sway.lo > 0.0 ? 1 : -1;
    if (deepest == 0) return 0;
    const double middle = heights.low + 0.5 * (heights.high - heights.low);
    const int low = find_slope_sign(k, rods, {heights.low, middle}, sways, deepest - 1);
    return low != 0 && find_slope_sign(k, rods, {middle, heights.high}, sways, deepest - 1) == low ? low : 0;
}

std::vector<HeightRange> divide(const HeightRange& r, int parts) {
    const auto at = [&](int n) { return n == parts ? r.high : r.low + (r.high - r.low) * n / parts; };
    std::vector<HeightRange> all;
    for (int i = 0; i < parts; ++i) all.push_back({at(i), at(i + 1)});
    return all;
}

/// The sways, the one at which the tilt is least all over the heights first; nothing where that does not show.
std::optional<std::array<double, 2>> order_sways(const SpatialLinkage& k, const LiftRods& rods, const HeightRange& heights, const HeightRange& sways) {
    constexpr int first_strips = 16, deepest = 4;
    if (sways.low == sways.high) return std::array{sways.low, sways.low};
    int sign = 0;
    for (const HeightRange& strip : divide(heights, first_strips)) {
        const int here = find_slope_sign(k, rods, strip, sways, deepest);
        if (here == 0 || here == -sign) return std::nullopt;
        sign = here;
    }
    return sign > 0 ? std::array{sways.low, sways.high} : std::array{sways.high, sways.low};
}

/// Least and greatest tilt over one panel.
std::optional<HeightRange> look(const TiltPanel& panel, const std::array<double, 2>& sways, double closeness) {
    const std::optional<Model> least = panel.enclose(sways[0]);
    const std::optional<Model> most = sways[1] == sways[0] ? least : panel.enclose(sways[1]);
    if (!least || !most) return std::nullopt;
    const ModelMinimum low = find_model_minimum(*least), high = find_model_minimum(-*most);
    if (!(low.value - low.bound <= closeness && high.value - high.bound <= closeness)) return std::nullopt;
    return HeightRange{low.bound, -high.bound};
}

}  // namespace

std::optional<HeightRange> find_rod_tilt_range(const SpatialLinkage& k, const LiftRods& rods, const HeightRange& heights,
                                               const HeightRange& sways, double closeness) {
    constexpr int first_panels = 4;
    constexpr double finest_share = 1.0 / 64.0;
    if (!(heights.low < heights.high && sways.low <= sways.high)) return std::nullopt;
    const std::optional<std::array<double, 2>> ends = order_sways(k, rods, heights, sways);
    if (!ends) return std::nullopt;
    std::vector<HeightRange> waiting = divide(heights, first_panels);
    HeightRange range{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
    while (!waiting.empty()) {
        const HeightRange part = waiting.back();
        waiting.pop_back();
        if (const std::optional<HeightRange> found = look(TiltPanel(k, rods, part), *ends, closeness)) {
            range = {std::min(range.low, found->low), std::max(range.high, found->high)};
            continue;
        }
        if (part.high - part.low < 2.0 * finest_share * (heights.high - heights.low)) return std::nullopt;
        const double middle = part.low + 0.5 * (part.high - part.low);
        waiting.push_back({part.low, middle});
        waiting.push_back({middle, part.high});
    }
    return range;
}

}  // namespace hitchwright
