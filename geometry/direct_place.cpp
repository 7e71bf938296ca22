#include "geometry/direct_place.h"

#include <algorithm>
#include <cmath>

#include "geometry/field_spec.h"
#include "geometry/link_length.h"
#include "geometry/setup_fields.h"
#include "geometry/shaft_kernel.h"

namespace hitchwright {
namespace {

/// Joint centre outward to the point taped at one machine; empty: not known.
std::optional<double> find_outward(const JointReadings& joint, LengthReference reference) {
    if (reference == LengthReference::joint_centres) return 0.0;
    const Reading& r = reference == LengthReference::shaft_ends ? joint.offset : joint.centre_to_groove;
    return r.known ? std::optional<double>(r.value) : std::nullopt;
}

/// From the point on the stub to the point on the machine's shaft whose joint centre is `k` and whose axis is `u`.
std::optional<double> find_distance(const DirectPlace& p, const Setup& s, const DrivelineEnds& ends, const Vec3<double>& k, const Vec3<double>& u) {
    const std::optional<double> a = find_outward(s.driveline.tractor_joint, p.reference), b = find_outward(s.driveline.implement_joint, p.reference);
    if (!a || !b) return std::nullopt;
    const Vec3<double> v = k + *b * u - (ends.tractor_joint - *a * ends.stub_axis);
    return std::sqrt(square(v.x) + square(v.y) + square(v.z));
}

std::optional<double> find_in_pose(const DirectPlace& p, const Setup& s, const MountedModel& m, double upper_length) {
    PlanarLinkage k = m.linkage;
    k.upper_length = upper_length;
    if (!closes_at(k, p.ball_height)) return std::nullopt;
    const KernelPose<double> pose = solve_kernel<double>(k, p.ball_height, upper_length);
    if (p.kind == DirectKind::shaft_length) {
        if (!m.has_shaft) return std::nullopt;
        return find_distance(p, s, m.ends, detail::place_in_space(pose, m.ends.implement_joint), detail::turn_in_space(pose, m.ends.input_axis));
    }
    if (p.kind == DirectKind::pitch) return std::atan2(pose.sin_pitch, pose.cos_pitch);
    const auto& points = s.implement.points;
    const auto at = std::find_if(points.begin(), points.end(), [&](const ImplementPoint& o) { return o.name == p.point; });
    if (at == points.end()) return std::nullopt;
    const Point body = find_body_point(m, at->x, at->z);
    return pose.place(body.x(), body.y()).z;
}

std::optional<double> find_link_length(const DirectPlace& p, const MountedModel& m) {
    const WantedLength wanted = solve_upper_link_length(m.linkage, p.ball_height, p.pitch);
    return wanted.closure.closes() ? std::optional<double>(wanted.length) : std::nullopt;
}

DirectKind kind_of(PoseQuantity what) {
    switch (what) {
        case PoseQuantity::pitch: return DirectKind::pitch;
        case PoseQuantity::tail_height: return DirectKind::tail_height;
        case PoseQuantity::upper_link_length: return DirectKind::upper_link_length;
        case PoseQuantity::lowest_ball_height: return DirectKind::lowest_ball_height;
        case PoseQuantity::greatest_ball_height: return DirectKind::greatest_ball_height;
    }
    return DirectKind::pitch;
}

template <class T>
std::string make_key(const char* list, const std::vector<T>& items, std::size_t i) {
    return std::string(list) + "[" + (items[i].name.empty() ? std::to_string(i + 1) : items[i].name) + "]";
}

}  // namespace

std::optional<double> predict_at(const DirectPlace& p, const std::optional<double>& read, const Setup& s, const MountedModel& m) {
    if (p.kind == DirectKind::lowest_ball_height) return m.travel_bounds.known ? std::optional<double>(m.travel_bounds.low.height) : std::nullopt;
    if (p.kind == DirectKind::greatest_ball_height) return m.travel_bounds.known ? std::optional<double>(m.travel_bounds.high.height) : std::nullopt;
    if (p.kind == DirectKind::upper_link_length) return find_link_length(p, m);
    const HeightRange lengths = effective_upper_lengths(m);
    const std::optional<double> drawn_out = find_in_pose(p, s, m, lengths.high);
    if (!(lengths.low < lengths.high) || !read || !drawn_out) return drawn_out;
    const std::optional<double> pushed_in = find_in_pose(p, s, m, lengths.low);
    if (!pushed_in) return std::nullopt;
    return std::clamp(*read, std::min(*pushed_in, *drawn_out), std::max(*pushed_in, *drawn_out));
}

std::optional<double> predict_at(const DirectPlace& p, const Setup& s, const DrawnModel& m) {
    if (p.kind != DirectKind::shaft_length || !m.has_shaft) return std::nullopt;
    const AttitudeKernel<double> k = make_attitude_kernel<double>(p.turn, m.level_pitch, 0.0);
    const DrivelineEnds& ends = m.driveline.ends;
    return find_distance(p, s, ends, m.driveline.pin + k.turn(ends.implement_joint), k.turn(ends.input_axis));
}

std::vector<Observation> list_observations(const Setup& s) {
    std::vector<Observation> all;
    const bool drawn = s.implement.attachment == Attachment::drawn;
    const auto add = [&](Observation o, const Reading& r) {
        o.read = r.value;
        o.dimension = find_dimension(o.place.kind);
        o.error = r.tolerance > 0.0 ? r.tolerance : find_usual_error(o.place.kind);
        o.place = find_place_of(o, s);
        if (r.known) all.push_back(std::move(o));
    };
    for (std::size_t i = 0; drawn && i < s.turn_readings.size(); ++i) {
        add({make_key("turn_reading", s.turn_readings, i), ObservationList::turn, i, {}}, s.turn_readings[i].distance);
    }
    if (drawn) return all;
    for (std::size_t i = 0; i < s.direct_readings.size(); ++i) {
        add({make_key("direct_reading", s.direct_readings, i), ObservationList::direct, i, {}}, s.direct_readings[i].distance);
    }
    for (std::size_t i = 0; i < s.pose_readings.size(); ++i) {
        const PoseReading& p = s.pose_readings[i];
        Observation o{make_key("pose_reading", s.pose_readings, i), ObservationList::pose, i, {}};
        o.place.kind = kind_of(p.what);
        add(std::move(o), p.what == PoseQuantity::pitch ? p.angle : p.length);
    }
    return all;
}

DirectPlace find_place_of(const Observation& o, const Setup& moved) {
    DirectPlace p = o.place;
    if (o.list == ObservationList::turn) {
        const TurnReading& r = moved.turn_readings[o.index];
        p.kind = DirectKind::shaft_length;
        p.reference = r.reference;
        p.turn = r.turn.value;
        return p;
    }
    if (o.list == ObservationList::direct) {
        const DirectReading& r = moved.direct_readings[o.index];
        p.kind = DirectKind::shaft_length;
        p.reference = r.reference;
        p.ball_height = r.ball_height.value;
        return p;
    }
    const PoseReading& r = moved.pose_readings[o.index];
    p.ball_height = r.ball_height.value;
    p.pitch = r.angle.value;
    p.point = r.point;
    return p;
}

Dimension find_dimension(DirectKind kind) { return kind == DirectKind::pitch ? Dimension::angle : Dimension::length; }

double find_usual_error(DirectKind kind) {
    if (kind == DirectKind::pitch) return field::angle_error;
    return kind == DirectKind::shaft_length ? field::groove_error : kind == DirectKind::upper_link_length ? field::pin_error : field::floor_error;
}

}  // namespace hitchwright
