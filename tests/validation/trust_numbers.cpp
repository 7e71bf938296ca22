// See trust_numbers.h.
#include "tests/validation/trust_numbers.h"

#include <algorithm>
#include <cmath>

#include "geometry/clearance.h"
#include "geometry/joint_findings.h"
#include "geometry/ways_out.h"

namespace validation {

using namespace hitchwright;

namespace {

constexpr int steps = 40;

/// Least of values at even steps, a parabola through each three where it bends up.
class Least {
public:
    void add(double value) {
        if (count_ > 1) {
            const double bend = before_ - 2.0 * last_ + value, slope = 0.5 * (value - before_);
            if (bend > 0.0 && std::fabs(slope) < bend) least_ = std::min(least_, last_ - 0.5 * slope * slope / bend);
        }
        least_ = count_ == 0 ? value : std::min(least_, value);
        before_ = last_;
        last_ = value;
        ++count_;
    }
    double get() const { return least_; }

private:
    int count_ = 0;
    double before_ = 0.0, last_ = 0.0, least_ = 0.0;
};

/// Least of `value(pose)` over heights and the link's lengths.
template <class F>
double find_least_of(const MountedModel& m, const HeightRange& heights, const F& value) {
    const HeightRange lengths = effective_upper_lengths(m);
    const int pieces = lengths.high > lengths.low ? 4 : 0;
    double least = 1e9;
    for (int k = 0; k <= pieces; ++k) {
        const double e = pieces == 0 ? lengths.low : lengths.low + (lengths.high - lengths.low) * k / pieces;
        Least of_this;
        const int last = heights.high > heights.low ? steps : 0;
        for (int i = 0; i <= last; ++i) {
            const double h = last == 0 ? heights.low : heights.low + (heights.high - heights.low) * i / last;
            of_this.add(value(solve_kernel<double>(m.linkage, h, e)));
        }
        least = std::min(least, of_this.get());
    }
    return least;
}

double to_angle(double cosine) { return std::acos(std::clamp(cosine, -1.0, 1.0)); }

struct Flat {
    double x, z;
};

double find_distance(const Flat& p, const Flat& a, const Flat& b) {
    const double dx = b.x - a.x, dz = b.z - a.z, squared = dx * dx + dz * dz;
    const double t = squared > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.z - a.z) * dz) / squared, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - a.x - t * dx, p.z - a.z - t * dz);
}

using Pose = KernelPose<double>;

Flat put(const Pose& pose, double x, double z) {
    return {pose.ball.x + pose.cos_pitch * x - pose.sin_pitch * z, pose.ball.z + pose.sin_pitch * x + pose.cos_pitch * z};
}

class Sampler {
public:
    Sampler(const Setup& s, const MountedModel& m) : s_(s), m_(m) {}

    std::vector<Number> run() {
        if (m_.has_shaft && m_.has_halves) shaft();
        for (const ImplementPoint& p : s_.implement.points) room(p);
        return std::move(out_);
    }

private:
    void add(FindingKind kind, const std::string& subject, const std::string& other, double value) {
        out_.push_back({kind, subject, other, value});
    }

    double find_length(const HeightRange& heights, double sign) const {
        return sign * find_least_of(m_, heights, [&](const Pose& p) { return sign * find_shaft_state(m_.ends, p).length; });
    }

    double find_greatest_angle(const HeightRange& heights, bool tractor) const {
        return -find_least_of(m_, heights, [&](const Pose& p) {
            const auto state = find_shaft_state(m_.ends, p);
            return -to_angle(tractor ? state.cos_tractor_joint : state.cos_implement_joint);
        });
    }

    void shaft() {
        const double least = find_length(m_.travel, 1.0), most = find_length(m_.travel, -1.0);
        const double in_work = find_length(m_.working_band, -1.0);
        const RuleSet& r = s_.rules;
        const CutLimits limits = make_cut_limits(r);
        const double longer = std::max(m_.halves.tube_a, m_.halves.tube_b);
        add(FindingKind::gap_at_shortest, "shaft", "", find_gap(m_.halves, least));
        add(FindingKind::overlap_at_longest, "shaft", "",
            find_overlap(m_.halves, most) - std::max(limits.overlap_least, limits.overlap_fraction * longer));
        add(FindingKind::overlap_in_work, "shaft", "", find_overlap(m_.halves, in_work) - r.overlap_fraction_work.value * longer);
        if (m_.has_guard) {
            add(FindingKind::guard_gap, "shaft", "", find_gap(m_.guard, least));
            add(FindingKind::guard_overlap, "shaft", "", find_overlap(m_.guard, most));
        }
        add(FindingKind::non_uniformity, "shaft", "", -find_least_of(m_, m_.working_band, [&](const Pose& p) {
            return -std::sqrt(std::max(0.0, find_non_uniformity_squared(m_.ends, find_shaft_state(m_.ends, p))));
        }));
        for (const bool tractor : {true, false}) {
            const char* joint = tractor ? "tractor joint" : "implement joint";
            add(FindingKind::joint_angle_in_work, joint, "", find_greatest_angle(m_.working_band, tractor));
            add(FindingKind::joint_angle_over_travel, joint, "", find_greatest_angle(m_.travel, tractor));
        }
        if (s_.tractor.drawbar.end_x.known && s_.driveline.guard_radius.known) {
            const Flat end{s_.tractor.drawbar.end_x.value, s_.tractor.drawbar.end_z.value};
            add_room(ClearanceKind::guard_to_drawbar, "drawbar", [&](const Pose& p) { return to_shaft(p, end); });
        }
    }

    double to_shaft(const Pose& pose, const Flat& point) const {
        const auto state = find_shaft_state(m_.ends, pose);
        return find_distance(point, {state.from.x, state.from.z}, {state.to.x, state.to.z}) - s_.driveline.guard_radius.value;
    }

    template <class F>
    void add_room(ClearanceKind kind, const std::string& part, const F& at) {
        add(FindingKind::clearance, part, clearance_against(kind), find_least_of(m_, m_.travel, at));
    }

    void room(const ImplementPoint& p) {
        const Point body = find_body_point(m_, p.x, p.z);
        const double x = body.x(), z = body.y();
        if (p.deck_edge && m_.has_shaft && s_.driveline.guard_radius.known) {
            add_room(ClearanceKind::guard_to_deck_edge, p.name, [&](const Pose& pose) { return to_shaft(pose, put(pose, x, z)); });
        }
        const double radius = s_.tractor.tyre.rear_radius.value;
        add_room(ClearanceKind::point_to_tyre, p.name, [&](const Pose& pose) {
            const Flat at = put(pose, x, z);
            return std::hypot(at.x, at.z - radius) - radius;
        });
        const auto& cab = s_.tractor.cab_line;
        if (!cab.empty()) {
            add_room(ClearanceKind::point_to_cab, p.name, [&](const Pose& pose) {
                double least = 1e9;
                for (std::size_t i = 0; i + 1 < cab.size() || i == 0; ++i) {
                    const NamedPoint &a = cab[i], &b = cab[std::min(i + 1, cab.size() - 1)];
                    least = std::min(least, find_distance(put(pose, x, z), {a.x.value, a.z.value}, {b.x.value, b.z.value}));
                }
                return least;
            });
        }
        add_room(ClearanceKind::point_to_upper_link, p.name, [&](const Pose& pose) {
            const Point &upper = m_.linkage.upper_pin, &mast = m_.linkage.mast_pin;
            return find_distance(put(pose, x, z), {upper.x(), upper.y()}, put(pose, mast.x(), mast.y()));
        });
    }

    const Setup& s_;
    const MountedModel& m_;
    std::vector<Number> out_;
};

}  // namespace

FindingKind find_common_kind(FindingKind kind) {
    if (kind == FindingKind::separation) return FindingKind::overlap_at_longest;
    if (kind == FindingKind::joint_angle_watch) return FindingKind::joint_angle_in_work;
    return kind;
}

std::vector<Number> sample_numbers(const Setup& setup) {
    const MountedModelResult r = make_mounted_model(setup, nullptr, RangeSearch::at_a_few_heights);
    if (!r.linkage_ok) return {};
    return Sampler(setup, r.model).run();
}

const Number* find_number(const std::vector<Number>& numbers, const Finding& f) {
    const FindingKind kind = find_common_kind(f.kind);
    for (const Number& n : numbers) {
        if (n.kind != kind || n.subject != f.subject) continue;
        if (kind == FindingKind::clearance && n.other != f.other) continue;
        return &n;
    }
    return nullptr;
}

Lengths sample_lengths(const MountedModel& m) {
    const auto length = [&](const Pose& p) { return find_shaft_state(m.ends, p).length; };
    return {find_least_of(m, m.travel, length), -find_least_of(m, m.travel, [&](const Pose& p) { return -length(p); })};
}

}  // namespace validation
