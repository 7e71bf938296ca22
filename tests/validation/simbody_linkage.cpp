// See simbody_linkage.h. Simbody's pins turn about z, so the side view's (x, z) stands here as (x, y).
#include "tests/validation/simbody_linkage.h"

#include <Simbody.h>

#include <cmath>
#include <exception>

namespace validation {

SimbodyPose assemble_with_simbody(const SimbodyLinkage& k, double link_guess, double pitch_guess) {
    using SimTK::Vec3;
    SimTK::MultibodySystem system;
    SimTK::SimbodyMatterSubsystem matter(system);
    const SimTK::Body::Rigid bar(SimTK::MassProperties(1.0, Vec3(0), SimTK::Inertia(1.0)));
    const Vec3 pivot(k.lower_pivot_x, k.lower_pivot_z, 0), upper_pin(k.upper_pin_x, k.upper_pin_z, 0);
    const Vec3 ball_on_link(k.lower_length, 0, 0), mast_pin(k.mast_pin_x, k.mast_pin_z, 0);

    SimTK::MobilizedBody::Pin link(matter.Ground(), SimTK::Transform(pivot), bar, SimTK::Transform(Vec3(0)));
    SimTK::MobilizedBody::Pin implement(link, SimTK::Transform(ball_on_link), bar, SimTK::Transform(Vec3(0)));
    SimTK::Constraint::Rod(matter.Ground(), upper_pin, implement, mast_pin, k.upper_length);
    SimTK::Constraint::PointInPlane(matter.Ground(), SimTK::UnitVec3(0, 1, 0), k.ball_height, implement, Vec3(0));

    SimTK::State state = system.realizeTopology();
    system.realizeModel(state);
    link.setAngle(state, link_guess);
    implement.setAngle(state, pitch_guess - link_guess);
    SimbodyPose pose;
    try {
        SimTK::Assembler assembler(system);
        assembler.setErrorTolerance(1e-13);
        assembler.assemble(state);
    } catch (const std::exception&) {
        return pose;
    }
    system.realize(state, SimTK::Stage::Position);
    const Vec3 ball = implement.findStationLocationInGround(state, Vec3(0));
    const Vec3 mast = implement.findStationLocationInGround(state, mast_pin);
    const Vec3 along = implement.getBodyRotation(state) * Vec3(1, 0, 0);
    pose.assembled = true;
    pose.lower_link_angle = link.getAngle(state);
    pose.pitch = std::atan2(along[1], along[0]);
    pose.ball_x = ball[0];
    pose.ball_z = ball[1];
    pose.mast_pin_x = mast[0];
    pose.mast_pin_z = mast[1];
    pose.upper_link_error = (mast - upper_pin).norm() - k.upper_length;
    pose.height_error = ball[1] - k.ball_height;
    return pose;
}

}  // namespace validation
