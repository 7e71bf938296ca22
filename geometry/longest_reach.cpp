// See longest_reach.h.
#include "geometry/longest_reach.h"

#include <cmath>
#include <limits>

#include "geometry/angle.h"
#include "geometry/bounded_extreme.h"
#include "geometry/closeness.h"

namespace hitchwright {
namespace {

/// Sums and roots of lengths of a few metres are right to far less (m).
constexpr double length_rounding = 1.0e-12;

double size_of(const Vec3<double>& v) { return std::sqrt(dot(v, v)); }

/// The wide-angle joint at the origin of a frame of its own, the other joint on the circle of `radius` about (along,
/// beside) in the plane of its axis and the pin.
struct Circle {
    double along = 0.0, beside = 0.0, radius = 0.0;
};

/// `axis` points from the wide-angle joint's own machine to the other, `pin` is seen from the joint.
Circle make_circle(const Vec3<double>& pin, const Vec3<double>& axis, double radius) {
    const double along = dot(pin, axis);
    return {along, size_of(pin - along * axis), radius};
}

double search_circle(const Circle& circle, double spacing, int& evaluations) {
    DrivelineEnds ends;
    ends.wide_angle = WideAngleEnd::tractor;
    ends.spacing = spacing;
    const auto length = [&](const auto& x) {
        using T = std::decay_t<decltype(x[0])>;
        using std::cos;
        using std::sin;
        const Vec3<T> joint{T(circle.along) + circle.radius * cos(x[0]), T(0.0),
                            T(circle.beside) + circle.radius * sin(x[0])};
        return find_shaft_state(ends, PlacedInput<T>{joint, {T(1.0), T(0.0), T(0.0)}}).length;
    };
    // The mirrored half of the circle is nearer to the axis.
    const BoundedExtreme<1> e =
        find_maximum<1>(length, IntervalBox<1>{Interval(-0.5 * pi, 1.5 * pi)}, PlainCloseness{length_closeness});
    evaluations += e.evaluations;
    return std::isfinite(e.bound) ? e.bound : std::numeric_limits<double>::infinity();
}

}  // namespace

double find_longest_reach(const DrawnModel& m, int& evaluations) {
    const DrivelineEnds& e = m.driveline.ends;
    const Vec3<double> pin = m.driveline.pin - e.tractor_joint;  // from the tractor's joint
    const double front = size_of(pin), rear = size_of(e.implement_joint);
    switch (e.wide_angle) {
        case WideAngleEnd::none:
            return front + rear + length_rounding;
        case WideAngleEnd::tractor:
            return search_circle(make_circle(pin, e.stub_axis, rear), e.spacing, evaluations) + length_rounding;
        case WideAngleEnd::implement:
            return search_circle(make_circle(-1.0 * e.implement_joint, -1.0 * e.input_axis, front), e.spacing,
                                 evaluations) +
                   length_rounding;
    }
    return std::numeric_limits<double>::infinity();
}

}  // namespace hitchwright
