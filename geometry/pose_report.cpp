#include "geometry/pose_report.h"

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/driveline_geometry.h"
#include "geometry/link_length.h"
#include "geometry/linkage_quantities.h"
#include "geometry/lower_link.h"

namespace hitchwright {
namespace {

double find_mast_distance(const MountedModel& m, double ball_height, double pitch) {
    return solve_upper_link_length(m.linkage, ball_height, pitch).length;
}

/// The same for a strap between known stops: raised it hangs on its lower pitch, on the ground without known contacts it
/// stands at its middle, with contacts where they put it. Never outside the band the stops allow.
double choose_strap_distance(const Setup& setup, const MountedModel& m, double ball_height, FloatState& state) {
    const HeightRange lengths = effective_upper_lengths(m);
    const PitchBand band = find_float_band(m, ball_height);
    const auto at_pitch = [&](double pitch) { return std::clamp(find_mast_distance(m, ball_height, pitch), lengths.low, lengths.high); };
    state = FloatState::carried;
    if (!band.closure.closes()) return lengths.high;
    const bool raised = m.has_working_height && ball_height > m.working_height;
    const std::vector<Contact> contacts = list_contacts(setup.implement, m);
    if (contacts.empty()) {
        state = raised ? FloatState::carried : FloatState::ground_borne;
        const PlanarPose middle = solve_pose(find_linkage_to_strap(m), ball_height);
        return at_pitch(raised || !middle.closes ? band.low : std::clamp(middle.pitch, band.low, band.high));
    }
    const PlanarPose any = solve_pose(find_linkage_to_strap(m), ball_height);
    if (!any.closes) return at_pitch(band.low);
    const FloatPose pose = solve_float(any.ball, band, solve_ground_rest(any.ball, contacts, {}), contacts, {});
    state = pose.state;
    return at_pitch(pose.state == FloatState::no_pitch ? band.low : pose.pitch);
}

/// Effective length of the upper link at a height, and who decides it.
double choose_upper_length(const Setup& setup, const MountedModel& m, double ball_height, FloatState& state) {
    const HeightRange lengths = effective_upper_lengths(m);
    if (m.strap_has_stops) return choose_strap_distance(setup, m, ball_height, state);
    state = FloatState::carried;
    if (m.float_kind == UpperLinkKind::rigid) return lengths.low;
    const std::vector<Contact> contacts = list_contacts(setup.implement, m);
    if (contacts.empty()) {
        const bool raised = m.has_working_height && ball_height > m.working_height;
        state = raised ? FloatState::carried : FloatState::ground_borne;
        return raised ? lengths.high : 0.5 * (lengths.low + lengths.high);
    }
    const Point ball = find_ball(m.linkage, ball_height);
    const FloatPose pose = solve_float(ball, find_float_band(m, ball_height), solve_ground_rest(ball, contacts, {}), contacts, {});
    state = pose.state;
    if (pose.state == FloatState::no_pitch) return lengths.high;
    return std::clamp(find_mast_distance(m, ball_height, pose.pitch), lengths.low, lengths.high);
}

void report_shaft(const MountedModel& m, double upper_length, PoseReport& r) {
    const KernelPose<double> k = solve_kernel<double>(m.linkage, r.pose.ball_height, upper_length);
    const ShaftState<double> s = find_shaft_state(m.ends, k);
    r.shaft_length = s.length;
    r.tractor_angle = std::acos(std::clamp(s.cos_tractor_joint, -1.0, 1.0));
    r.implement_angle = std::acos(std::clamp(s.cos_implement_joint, -1.0, 1.0));
    const Eigen::Vector3d v(s.to.x - s.from.x, s.to.y - s.from.y, s.to.z - s.from.z);
    // A cosine tells little of a small angle; all there is where a wide-angle joint has no pose.
    if (m.ends.wide_angle == WideAngleEnd::none || v.squaredNorm() > 0.0) {
        r.tractor_angle = find_angle_between({s.stub_axis.x, s.stub_axis.y, s.stub_axis.z}, v);
        r.implement_angle = find_angle_between(v, {s.input_axis.x, s.input_axis.y, s.input_axis.z});
    }
    r.turns = std::max(r.tractor_angle, r.implement_angle) < 0.5 * pi;
    if (r.turns) r.non_uniformity = std::sqrt(std::max(0.0, find_non_uniformity_squared(m.ends, s)));
    if (!m.has_halves) return;
    r.gap = find_gap(m.halves, s.length);
    r.overlap = find_overlap(m.halves, s.length);
}

}  // namespace

std::vector<Contact> list_contacts(const Implement& implement, const MountedModel& m) {
    std::vector<Contact> contacts;
    for (const GroundContact& c : implement.ground_contacts) {
        contacts.push_back({find_body_point(m, c.x, c.z), c.radius.value_or(0.0)});
    }
    return contacts;
}

PitchBand find_float_band(const MountedModel& m, double ball_height) {
    if (m.float_kind == UpperLinkKind::swing_strap) {
        SwingStrap strap{m.linkage.upper_length, m.slack};
        if (m.strap_has_stops) strap.stop_low = m.strap_stop_low, strap.stop_high = m.strap_stop_high;
        return find_pitch_band(m.linkage, ball_height, strap);
    }
    const HeightRange lengths = effective_upper_lengths(m);
    return find_pitch_band(m.linkage, ball_height, LinkStops{lengths.low, lengths.high});
}

PoseReport make_pose_report(const Setup& setup, const MountedModel& m, double ball_height) {
    PoseReport r;
    r.upper_length = choose_upper_length(setup, m, ball_height, r.float_state);
    PlanarLinkage linkage = m.linkage;
    linkage.upper_length = r.upper_length;
    r.pose = solve_pose(linkage, ball_height);
    if (!r.pose.closes) return r;
    r.inverse_hitch_distance = find_inverse_hitch_distance(find_link_points(linkage, r.pose));
    if (m.has_shaft) report_shaft(m, r.upper_length, r);
    return r;
}

std::optional<FloatPose> find_float_pose(const Setup& setup, const MountedModel& m, double ball_height) {
    if (m.float_kind == UpperLinkKind::rigid) return std::nullopt;
    const std::vector<Contact> contacts = list_contacts(setup.implement, m);
    const LowerLinkPose link = solve_lower_link(m.linkage.lower_pivot, m.linkage.lower_length, ball_height);
    if (contacts.empty() || !link.closure.closes()) return std::nullopt;
    return solve_float(link.ball, find_float_band(m, ball_height), solve_ground_rest(link.ball, contacts, {}), contacts, {});
}

}  // namespace hitchwright
