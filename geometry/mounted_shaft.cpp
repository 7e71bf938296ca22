#include "geometry/mounted_shaft.h"

#include <optional>
#include <string>
#include <utility>

#include "geometry/add_on_lengths.h"
#include "geometry/driveline_geometry.h"
#include "geometry/shaft_length.h"

namespace hitchwright {
namespace {

using Kind = ModelObstacle::Kind;

std::optional<double> as_optional(const Reading& r) {
    return r.known ? std::optional<double>(r.value) : std::nullopt;
}

Vec3<double> to_vec3(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }

class HalvesBuilder {
public:
    explicit HalvesBuilder(const Setup& setup) : setup_(setup) {}

    ShaftHalves build() {
        build_tubes();
        return std::move(result_);
    }

private:
    void build_tubes() {
        const Driveline& d = setup_.driveline;
        if (!setup_.has_driveline) return miss("driveline.use");
        if (!d.closed_length.known) return miss("driveline.shaft.closed_length");
        const ShaftEndDistances ends[2] = {{as_optional(d.tractor_joint.centre_to_groove), as_optional(d.tractor_joint.centre_to_end)},
                                           {as_optional(d.implement_joint.centre_to_groove), as_optional(d.implement_joint.centre_to_end)}};
        const auto to_centres = [&](double length) {
            return convert_shaft_length(length, d.reference, LengthReference::joint_centres, ends[0], ends[1]);
        };
        const LengthConversion closed = to_centres(d.closed_length.value);
        if (closed.status == LengthConversionStatus::missing_distance) return name_missing_distances(closed.missing);
        if (closed.status != LengthConversionStatus::ok) return contradict("driveline.shaft", HalvesStatus::length_not_positive);
        HalvesReadings readings{closed.length, as_optional(d.tractor_tube), as_optional(d.implement_tube),
                                as_optional(d.overlap_closed), std::nullopt};
        if (d.longest_usable.known) readings.longest_usable = to_centres(d.longest_usable.value).length;
        result_.uncut = make_halves(readings);
        if (result_.uncut.status == HalvesStatus::nothing_known) return miss("driveline.shaft.tractor_tube");
        if (result_.uncut.status != HalvesStatus::ok) return contradict("driveline.shaft", result_.uncut.status);
        const CutPair cut{setup_.choices.cut_tractor_half.value_or(0.0), setup_.choices.cut_implement_half.value_or(0.0)};
        const CutHalves after = cut_halves(result_.uncut.halves, cut);
        if (after.status != CutStatus::ok) return contradict("driveline.shaft", HalvesStatus::length_not_positive);
        result_.halves = after.halves;
        result_.known = true;
        build_guard(cut, closed.length);
    }

    void build_guard(const CutPair& cut, double closed) {
        const Driveline& d = setup_.driveline;
        if (!d.guard_closed_length.known || !d.guard_overlap_closed.known) return;
        const AssumedHalves guard = make_guard_halves(d.guard_closed_length.value, d.guard_overlap_closed.value, closed);
        if (guard.status != HalvesStatus::ok) return contradict("driveline.guard", guard.status);
        const CutHalves after = cut_halves(guard.halves, cut);
        if (after.status != CutStatus::ok) return contradict("driveline.guard", HalvesStatus::length_not_positive);
        result_.guard = after.halves;
        result_.has_guard = true;
    }

    void name_missing_distances(const MissingDistances& m) {
        if (m.tractor_centre_to_groove) miss("driveline.tractor_joint.centre_to_groove");
        if (m.tractor_centre_to_end) miss("driveline.tractor_joint.centre_to_end");
        if (m.implement_centre_to_groove) miss("driveline.implement_joint.centre_to_groove");
        if (m.implement_centre_to_end) miss("driveline.implement_joint.centre_to_end");
    }

    void miss(const char* key) { result_.obstacles.push_back({Kind::missing, key, {}, 0.0, HalvesStatus::ok, {}}); }
    void contradict(const char* part, HalvesStatus status) { result_.obstacles.push_back({Kind::bad_halves, part, {}, 0.0, status, {}}); }

    const Setup& setup_;
    ShaftHalves result_;
};

class ShaftBuilder {
public:
    ShaftBuilder(const Setup& setup, MountedModelResult& result) : setup_(setup), result_(result) {}

    void build() {
        if (!setup_.has_driveline) return miss_shaft(Kind::missing, "driveline.use");
        if (!result_.shaft_obstacles.empty()) return;
        const PtoReadings& p = setup_.tractor.pto;
        const PicReadings& i = setup_.implement.pic;
        const Driveline& d = setup_.driveline;
        DrivelineEnds& e = result_.model.ends;
        MachineShaft stub{Eigen::Vector3d(p.stub_x.value, p.stub_y.value_or(0.0), p.stub_z.value),
                          make_shaft_axis(p.stub_slope.value_or(0.0), p.stub_plan_angle.value_or(0.0)),
                          d.tractor_joint.offset.value, find_added_stub_length(setup_.parts)};
        const Point input_end = find_body_point(result_.model, i.x, i.z);
        MachineShaft input{Eigen::Vector3d(input_end.x(), i.y.value_or(0.0), input_end.y()),
                           make_shaft_axis(i.slope.value_or(0.0), i.plan_angle.value_or(0.0)),
                           d.implement_joint.offset.value, 0.0};
        e.tractor_joint = to_vec3(find_tractor_joint(stub));
        e.stub_axis = to_vec3(stub.axis);
        e.implement_joint = to_vec3(find_implement_joint(input));
        e.input_axis = to_vec3(input.axis);
        e.yoke_phase_error = d.yoke_phase_error.value_or(0.0);
        if (!set_wide_angle()) return;
        result_.model.has_shaft = true;
        build_halves();
    }

private:
    void miss_shaft(Kind kind, std::string key) {
        result_.shaft_obstacles.push_back(ModelObstacle{kind, std::move(key), {}, 0.0, HalvesStatus::ok});
    }

    bool set_wide_angle() {
        const JointReadings& a = setup_.driveline.tractor_joint;
        const JointReadings& b = setup_.driveline.implement_joint;
        DrivelineEnds& e = result_.model.ends;
        if (a.kind == JointKind::wide_angle && b.kind == JointKind::wide_angle) {
            miss_shaft(Kind::not_modelled, "driveline.implement_joint.kind");
            return false;
        }
        if (a.kind == JointKind::plain && b.kind == JointKind::plain) return true;
        const bool tractor = a.kind == JointKind::wide_angle;
        e.wide_angle = tractor ? WideAngleEnd::tractor : WideAngleEnd::implement;
        const Reading& spacing = tractor ? a.spacing : b.spacing;
        if (!spacing.known) {
            miss_shaft(Kind::missing, tractor ? "driveline.tractor_joint.spacing" : "driveline.implement_joint.spacing");
            return false;
        }
        e.spacing = spacing.value;
        return true;
    }

    void build_halves() {
        ShaftHalves shaft = make_shaft_halves(setup_);
        MountedModel& m = result_.model;
        m.uncut = shaft.uncut;
        m.halves = shaft.halves;
        m.has_halves = shaft.known;
        m.guard = shaft.guard;
        m.has_guard = shaft.has_guard;
        for (ModelObstacle& o : shaft.obstacles) result_.shaft_obstacles.push_back(std::move(o));
    }

    const Setup& setup_;
    MountedModelResult& result_;
};

}  // namespace

ShaftHalves make_shaft_halves(const Setup& setup) { return HalvesBuilder(setup).build(); }

void build_mounted_shaft(const Setup& setup, MountedModelResult& result) { ShaftBuilder(setup, result).build(); }

void replace_mounted_shaft(const Setup& setup, MountedModelResult& result) {
    const MountedModel none;
    MountedModel& m = result.model;
    m.has_shaft = none.has_shaft;
    m.ends = none.ends;
    m.has_halves = none.has_halves;
    m.uncut = none.uncut;
    m.halves = none.halves;
    m.has_guard = none.has_guard;
    m.guard = none.guard;
    build_mounted_shaft(setup, result);
}

}  // namespace hitchwright
