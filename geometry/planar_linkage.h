// The pose kernel of the three-point linkage in side view: ball height in, ball, mast and pitch out.
//
//            U (upper-link pin, tractor)
//             o----------e----------o M (mast pin)     H: lower hitch point (ball), M in frame I
//                                  /                    |M| = mast, U-M = upper link e
//     P o---------- c' -----------o H
//
//   r = h - z_P = c' sin(theta),  H = P + (sqrt((c' - r)(c' + r)), r): of lengths, so that no digit is lost where the link stands upright
//   D = U - H, d = |D|, m = |M|:  W = M_T - H = (a D + b perp(D)) / d^2,
//   a = (d^2 + m^2 - e^2)/2,  b = -+ sqrt((m+d+e)(m+d-e)(e+m-d)(e-m+d))/2     (Heron's factors: no cancellation)
//   cos p = M.W/m^2, sin p = M x W/m^2
// The root's sign is the branch: constant as long as no dead centre (b = 0) is passed, so it is chosen once, at
// the working pose. Lengths are projected (lower_link.h): unprojected ones are wrong by 5 mm and 2 deg.
// Template over the scalar: double for poses, interval jets for bounds. Frame T; angles from +x to +z.
#pragma once

#include <cmath>

#include "geometry/point.h"
#include "geometry/vec.h"

namespace hitchwright {

/// On which side of the line ball -> upper-link pin the mast pin lies. `above` is how implements are built.
enum class MastSide { above, below };

/// The three-point linkage reduced to side view. Lengths in m, all > 0; frame T except mast_pin.
struct PlanarLinkage {
    Point lower_pivot{0.0, 0.0};
    double lower_length = 0.0;  ///< projected lower link
    Point upper_pin{0.0, 0.0};
    double upper_length = 0.0;
    Point mast_pin{0.0, 0.0};  ///< frame I: (behind, above the lower pins)
    MastSide side = MastSide::above;
};

/// What the kernel gives: positions relative to frame T, the turn of frame I as cosine and sine.
template <class T>
struct KernelPose {
    Vec2<T> ball;
    Vec2<T> mast_arm;  ///< ball to mast pin
    T cos_pitch, sin_pitch;

    /// A point of frame I (coordinates in m) in frame T.
    Vec2<T> place(double x, double z) const {
        return {ball.x + cos_pitch * x - sin_pitch * z, ball.z + sin_pitch * x + cos_pitch * z};
    }
    /// A direction of frame I in frame T.
    Vec2<T> turn(double x, double z) const { return {cos_pitch * x - sin_pitch * z, sin_pitch * x + cos_pitch * z}; }
};

/// Heron's product (m+d+e)(m+d-e)(e+m-d)(e-m+d): sixteen times the squared area of the triangle; >= 0 iff it closes.
template <class T>
T find_heron_product(double mast, const T& distance, const T& upper) {
    return (distance + mast + upper) * (distance + mast - upper) * (upper + mast - distance) * (upper - mast + distance);
}

/// The pose at ball height `h` with upper link `e`. Only for heights that close (closable_heights.h).
template <class T>
KernelPose<T> solve_kernel(const PlanarLinkage& k, const T& h, const T& e) {
    using std::sqrt;
    // At the very ends of the closable heights rounding may leave a little less than zero under both clamped roots.
    const double m2 = k.mast_pin.squaredNorm();
    const T rise = h - k.lower_pivot.y();
    const Vec2<T> ball{find_other_leg(k.lower_length, rise) + k.lower_pivot.x(), h};
    const Vec2<T> to_pin{k.upper_pin.x() - ball.x, k.upper_pin.y() - ball.z};
    const T d2 = square(to_pin.x) + square(to_pin.z);
    const T a = 0.5 * (d2 + m2 - square(e));
    const T root = 0.5 * clamped_sqrt(find_heron_product(std::sqrt(m2), sqrt(d2), e));
    const T b = k.side == MastSide::above ? -root : root;
    const Vec2<T> arm{(a * to_pin.x - b * to_pin.z) / d2, (a * to_pin.z + b * to_pin.x) / d2};
    const double mx = k.mast_pin.x() / m2, mz = k.mast_pin.y() / m2;
    return {ball, arm, mx * arm.x + mz * arm.z, mx * arm.z - mz * arm.x};
}

/// One pose in side view. `closes == false`: the other members are meaningless; ask closable_heights.h for the part.
struct PlanarPose {
    bool closes = false;
    double ball_height = 0.0;
    double lower_link_angle = 0.0;  ///< rad, pivot to ball
    double upper_link_angle = 0.0;  ///< rad, tractor pin to mast pin
    double pitch = 0.0;             ///< rad, rear up positive
    Point ball{0.0, 0.0};
    Point mast_pin{0.0, 0.0};  ///< frame T
};

/// The lower hitch point at that height, frame T, m; where the lower link does not reach, above or below its pivot.
Point find_ball(const PlanarLinkage& linkage, double ball_height);

/// True when the linkage closes at that ball height.
bool closes_at(const PlanarLinkage& linkage, double ball_height);

/// Pose with angles. Residual of every link length <= 1e-9 m (tests/geometry/planar_linkage_test.cpp).
PlanarPose solve_pose(const PlanarLinkage& linkage, double ball_height);

/// A point of frame I in frame T.
Point place_point(const PlanarPose& pose, const Point& in_frame_i);

}  // namespace hitchwright
