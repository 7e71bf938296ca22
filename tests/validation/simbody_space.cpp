// See simbody_space.h. The solver's frame is frame T itself.
#include "tests/validation/simbody_space.h"

#include <Simbody.h>

#include <cmath>
#include <exception>

namespace validation {
namespace {

using SimTK::Vec3;

// Both universal joints turn about their x, then about their new y: x is the lateral axis and y the link's normal, so that
// the link lies along z, level and rearward at rest.
SimTK::Rotation make_joint_frame() {
    return SimTK::Rotation(SimTK::Mat33(0, 0, 1,
                                        1, 0, 0,
                                        0, 1, 0), true);
}

// The rockshaft's pin turns about z; here -y of frame T, so that a raised arm has a positive angle.
SimTK::Rotation make_rockshaft_frame() {
    return SimTK::Rotation(SimTK::Mat33(1, 0, 0,
                                        0, 0, -1,
                                        0, 1, 0), true);
}

SimbodyPoint to_point(const Vec3& v) { return {v[0], v[1], v[2]}; }

}  // namespace

SimbodySpacePose assemble_space_with_simbody(const SimbodySpace& k, const SimbodyStart& start) {
    SimTK::MultibodySystem system;
    SimTK::SimbodyMatterSubsystem matter(system);
    const SimTK::Body::Rigid bar(SimTK::MassProperties(1.0, Vec3(0), SimTK::Inertia(1.0)));
    SimTK::MobilizedBody& ground = matter.Ground();
    const SimTK::Transform at_joint;

    SimTK::MobilizedBody::Pin rockshaft(ground, SimTK::Transform(make_rockshaft_frame(), Vec3(k.arm_pivot_x, 0, k.arm_pivot_z)), bar, at_joint);
    const auto pivot = [&](double sign) {
        return SimTK::Transform(make_joint_frame(), Vec3(k.lower_pivot_x, sign * k.half_spread_at_pivot, k.lower_pivot_z));
    };
    SimTK::MobilizedBody::Universal left(ground, pivot(-1), bar, at_joint), right(ground, pivot(1), bar, at_joint);
    SimTK::MobilizedBody::Free implement(ground, at_joint, bar, at_joint);

    const Vec3 ball(0, 0, k.lower_length), foot(0, k.rod_offset, k.rod_along);
    const Vec3 left_pin(0, -k.half_spread_at_ball, 0), right_pin(0, k.half_spread_at_ball, 0), mast(k.mast_pin_x, 0, k.mast_pin_z);
    // The rockshaft's own axes: x along the arm, z to the left.
    const Vec3 left_end(k.arm_length, 0, k.arm_half_spread), right_end(k.arm_length, 0, -k.arm_half_spread);
    const Vec3 upper_pin(k.upper_pin_x, 0, k.upper_pin_z);
    SimTK::Constraint::Ball(left, ball, implement, left_pin);
    SimTK::Constraint::Ball(right, ball, implement, right_pin);
    SimTK::Constraint::Rod(rockshaft, left_end, left, foot, k.left_rod);
    SimTK::Constraint::Rod(rockshaft, right_end, right, foot, k.right_rod);
    SimTK::Constraint::Rod(ground, upper_pin, implement, mast, k.upper_length);
    if (k.taut == 0) SimTK::Constraint::PointInPlane(ground, SimTK::UnitVec3(0, 1, 0), 0.0, implement, Vec3(0));
    else SimTK::Constraint::Rod(ground, Vec3(k.anchor_x, k.taut * k.anchor_half_spread, k.anchor_z), k.taut > 0 ? right : left,
                                Vec3(0, 0, k.chain_along), k.chain_length);

    SimTK::State state = system.realizeTopology();
    system.realizeModel(state);
    rockshaft.setAngle(state, k.arm_angle);
    // A positive turn about the lateral axis lowers the link.
    left.setQFromVector(state, SimTK::Vector(SimTK::Vec2(-start.left_raise, start.left_sway)));
    right.setQFromVector(state, SimTK::Vector(SimTK::Vec2(-start.right_raise, start.right_sway)));
    const SimTK::Rotation turn = SimTK::Rotation(start.yaw, SimTK::ZAxis) * SimTK::Rotation(-start.pitch, SimTK::YAxis) * SimTK::Rotation(start.roll, SimTK::XAxis);
    implement.setQToFitTransform(state, SimTK::Transform(turn, Vec3(start.hitch[0], start.hitch[1], start.hitch[2])));
    SimbodySpacePose pose;
    try {
        SimTK::Assembler assembler(system);
        assembler.lockMobilizer(rockshaft.getMobilizedBodyIndex());
        assembler.setErrorTolerance(1e-13);
        assembler.assemble(state);
    } catch (const std::exception&) {
        return pose;
    }
    system.realize(state, SimTK::Stage::Position);
    pose.assembled = true;
    pose.left_ball = to_point(implement.findStationLocationInGround(state, left_pin));
    pose.right_ball = to_point(implement.findStationLocationInGround(state, right_pin));
    pose.mast_pin = to_point(implement.findStationLocationInGround(state, mast));
    pose.behind = to_point(implement.findStationLocationInGround(state, Vec3(1, 0, 0)));
    pose.left_foot = to_point(left.findStationLocationInGround(state, foot));
    pose.right_foot = to_point(right.findStationLocationInGround(state, foot));
    pose.left_over = SimTK::max(SimTK::abs(state.getQErr()));
    return pose;
}

}  // namespace validation
