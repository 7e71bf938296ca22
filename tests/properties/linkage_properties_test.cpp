// The linkage in side view: every pose keeps every length, and gives back the link that made it.
#include <catch2/catch.hpp>

#include <cmath>
#include <ostream>

#include "geometry/closable_heights.h"
#include "geometry/link_length.h"
#include "geometry/pose_numbers.h"
#include "tests/properties/check_property.h"

using namespace hitchwright;
using properties::check_property;

namespace {

/// Relative to the longest bar; a pose is worked out in a dozen roundings.
constexpr double closeness = 1e-12;

/// A linkage and one height at which it closes, in whole millimetres and thousandths of its travel.
struct LinkageAt {
    PlanarLinkage linkage;
    double height = 0.0;
};

void showValue(const LinkageAt& l, std::ostream& out) {
    const PlanarLinkage& k = l.linkage;
    out << "pivot " << k.lower_pivot.transpose() << ", c' " << k.lower_length << ", pin " << k.upper_pin.transpose() << ", e "
        << k.upper_length << ", M " << k.mast_pin.transpose() << (k.side == MastSide::above ? "" : " below") << ", h " << l.height;
}

double draw_millimetres(int low, int high) { return *rc::gen::inRange(low, high + 1) / 1000.0; }

rc::Gen<LinkageAt> any_linkage() {
    return rc::gen::exec([] {
        PlanarLinkage k;
        k.lower_pivot = Point(draw_millimetres(-300, 300), draw_millimetres(100, 900));
        k.lower_length = draw_millimetres(50, 1500);
        k.upper_pin = Point(draw_millimetres(-400, 600), draw_millimetres(300, 2000));
        k.upper_length = draw_millimetres(50, 1500);
        k.mast_pin = Point(draw_millimetres(-300, 300), draw_millimetres(50, 1500));
        k.side = *rc::gen::element(MastSide::above, MastSide::below);
        const std::vector<HeightRange> ranges = find_closable_heights(k);
        RC_PRE(!ranges.empty());
        const HeightRange& h = ranges[*rc::gen::inRange<std::size_t>(0, ranges.size())];
        return LinkageAt{k, h.low + (h.high - h.low) * *rc::gen::inRange(1, 1000) / 1000.0};
    });
}

double find_size(const PlanarLinkage& k) {
    return k.lower_length + k.upper_length + k.mast_pin.norm() + k.lower_pivot.norm() + k.upper_pin.norm();
}

}  // namespace

TEST_CASE("property: pins of a pose are as far apart as the bars between them are long", "[random][residual]") {
    check_property(3000, [] {
        const LinkageAt at = *any_linkage();
        const PlanarLinkage& k = at.linkage;
        const PlanarPose p = solve_pose(k, at.height);
        RC_ASSERT(p.closes);
        const double allowed = closeness * find_size(k);
        RC_ASSERT(std::fabs((p.ball - k.lower_pivot).norm() - k.lower_length) < allowed);
        RC_ASSERT(std::fabs((p.mast_pin - k.upper_pin).norm() - k.upper_length) < allowed);
        RC_ASSERT(std::fabs((p.mast_pin - p.ball).norm() - k.mast_pin.norm()) < allowed);
        RC_ASSERT((place_point(p, k.mast_pin) - p.mast_pin).norm() < allowed);
        RC_ASSERT(std::fabs(p.ball.y() - at.height) < allowed);
        // On the side it was asked for: ball to upper-link pin, and the mast pin beside it.
        const Point d = k.upper_pin - p.ball, m = p.mast_pin - p.ball;
        const double side = d.x() * m.y() - d.y() * m.x();
        RC_ASSERT((k.side == MastSide::above ? -side : side) > -allowed);
    });
}

TEST_CASE("property: the pitch of a pose asks for the link that made it", "[random][residual]") {
    check_property(3000, [] {
        LinkageAt at = *any_linkage();
        const PlanarPose p = solve_pose(at.linkage, at.height);
        const double made = at.linkage.upper_length;
        at.linkage.upper_length = 0.0;
        const WantedLength wanted = solve_upper_link_length(at.linkage, at.height, p.pitch);
        RC_ASSERT(wanted.closure.closes());
        RC_ASSERT(std::fabs(wanted.length - made) < closeness * (find_size(at.linkage) + made));
    });
}

TEST_CASE("property: the link for a wanted pitch sets it, unless it says that a dead centre is in between", "[random][residual]") {
    check_property(3000, [] {
        const LinkageAt at = *any_linkage();
        const double pitch = *rc::gen::inRange(-900, 901) / 1000.0;
        const WantedLength wanted = solve_upper_link_length(at.linkage, at.height, pitch);
        RC_ASSERT(wanted.closure.closes());
        RC_PRE(wanted.length > 0.001);
        PlanarLinkage k = at.linkage;
        k.upper_length = wanted.length;
        if (wanted.past_dead_centre) k.side = k.side == MastSide::above ? MastSide::below : MastSide::above;
        const PlanarPose p = solve_pose(k, at.height);
        RC_PRE(p.closes);  // at a dead centre rounding may not close it
        // How the pitch follows the link (model: -1/(mast cos(upper-link angle - pitch))), so that a dead centre asks for less.
        const double miss = std::fabs(std::remainder(p.pitch - pitch, 2.0 * 3.14159265358979323846));
        const double mast_angle = std::atan2(p.mast_pin.y() - p.ball.y(), p.mast_pin.x() - p.ball.x());
        const double lever = k.mast_pin.norm() * std::fabs(std::sin(p.upper_link_angle - mast_angle));
        RC_ASSERT(miss * lever < closeness * find_size(k) + k.mast_pin.norm() * miss * miss);
    });
}

TEST_CASE("property: a linkage in a moved, scaled or turned-over frame has the same pose", "[random][metamorphic]") {
    check_property(2000, [] {
        const LinkageAt at = *any_linkage();
        const PlanarPose p = solve_pose(at.linkage, at.height);
        const Point by(draw_millimetres(-500, 500), draw_millimetres(-500, 500));
        const double scale = *rc::gen::element(0.5, 3.0, 10.0);
        PlanarLinkage k = at.linkage;
        k.lower_pivot = scale * (k.lower_pivot + by);
        k.upper_pin = scale * (k.upper_pin + by);
        k.mast_pin *= scale;
        k.lower_length *= scale;
        k.upper_length *= scale;
        const PlanarPose q = solve_pose(k, scale * (at.height + by.y()));
        RC_PRE(q.closes);
        const double allowed = closeness * scale * (find_size(at.linkage) + by.norm());
        const double condition = 1.0 / std::max(1e-9, std::fabs(std::sin(p.upper_link_angle - std::atan2(p.mast_pin.y() - p.ball.y(), p.mast_pin.x() - p.ball.x()))));
        const double run = std::max(1e-9, std::cos(p.lower_link_angle));
        RC_ASSERT((q.mast_pin - scale * (p.mast_pin + by)).norm() < 10.0 * allowed * condition / run);
        // One pose at a time by the other kernel.
        const PoseNumbers n = solve_pose_numbers(make_pose_constants(k, {}), scale * (at.height + by.y()));
        RC_ASSERT(!n.closes || std::fabs(std::remainder(n.pitch - q.pitch, 6.283185307179586)) < 1e-11 * (find_size(k) / scale) / at.linkage.mast_pin.norm() * condition / run);
    });
}
