// See simbody_peer.h. Simbody's pins turn about z, so the side view's (x, z) stands here as (x, y). The slide's height is
// the state's time: to change it costs nothing that would have to be worked out anew but the position.
#include "tests/bench/peers/simbody_peer.h"

#include <Simbody.h>

#include <exception>

namespace bench {

namespace {

using SimTK::Vec3;

constexpr double accuracy = 1e-6;  // of the constraints, m

/// A slide that stands at the state's time, m.
class HeightIsTime : public SimTK::Motion::Custom::Implementation {
public:
    SimTK::Motion::Level getLevel(const SimTK::State&) const override { return SimTK::Motion::Position; }
    void calcPrescribedPosition(const SimTK::State& s, int, SimTK::Real* q) const override { q[0] = s.getTime(); }
    void calcPrescribedPositionDot(const SimTK::State&, int, SimTK::Real* q) const override { q[0] = 1.0; }
    void calcPrescribedPositionDotDot(const SimTK::State&, int, SimTK::Real* q) const override { q[0] = 0.0; }
};

SimTK::Body::Rigid make_bar() { return SimTK::Body::Rigid(SimTK::MassProperties(1.0, Vec3(0), SimTK::Inertia(1.0))); }

}  // namespace

struct SimbodyPeer::Inside {
    explicit Inside(const PoseProblem& k)
        : problem(k), matter(system),
          link(matter.Ground(), SimTK::Transform(Vec3(k.lower_pivot_x, k.lower_pivot_z, 0)), make_bar(), SimTK::Transform()),
          implement(link, SimTK::Transform(Vec3(k.lower_length, 0, 0)), make_bar(), SimTK::Transform()),
          slide(matter.Ground(), turned(), make_bar(), turned()) {
        SimTK::Constraint::Rod(matter.Ground(), Vec3(k.upper_pin_x, k.upper_pin_z, 0), implement,
                               Vec3(k.mast_pin_x, k.mast_pin_z, 0), k.upper_length);
        SimTK::Constraint::PointInPlane(slide, SimTK::UnitVec3(0, 1, 0), 0.0, implement, Vec3(0));
        SimTK::Motion::Custom motion(slide, new HeightIsTime);
        state = system.realizeTopology();
        system.realizeModel(state);
        start();
    }

    /// A slide moves along x of its frame.
    static SimTK::Transform turned() { return SimTK::Rotation(SimTK::Pi / 2, SimTK::ZAxis); }

    void start() {
        link.setAngle(state, problem.first_link_angle);
        implement.setAngle(state, problem.first_pitch - problem.first_link_angle);
    }

    const PoseProblem& problem;
    SimTK::MultibodySystem system;
    SimTK::SimbodyMatterSubsystem matter;
    SimTK::MobilizedBody::Pin link, implement;
    SimTK::MobilizedBody::Slider slide;
    SimTK::State state;
    std::unique_ptr<SimTK::Assembler> assembler;
};

SimbodyPeer::SimbodyPeer(const PoseProblem& problem, SimbodyWay way) : inside_(std::make_unique<Inside>(problem)), way_(way) {
    if (way == SimbodyWay::project) return;
    inside_->assembler = std::make_unique<SimTK::Assembler>(inside_->system);
    inside_->assembler->setErrorTolerance(accuracy);
}
SimbodyPeer::~SimbodyPeer() = default;

void SimbodyPeer::start() { inside_->start(); }

bool SimbodyPeer::solve(double height, PoseNumbers& numbers) {
    SimTK::State& state = inside_->state;
    state.setTime(height);
    try {
        inside_->system.realize(state, SimTK::Stage::Time);
        inside_->system.prescribeQ(state);
        if (way_ == SimbodyWay::project) inside_->system.projectQ(state, accuracy);
        else inside_->assembler->assemble(state);
    } catch (const std::exception&) {
        return false;
    }
    const double link = inside_->link.getAngle(state);
    const double x[2] = {link, link + inside_->implement.getAngle(state)};
    numbers = find_pose_numbers(inside_->problem, x);
    return true;
}

}  // namespace bench
