// See random_setup.h.
#include "tests/validation/random_setup.h"

#include <cmath>
#include <stdexcept>

#include "geometry/angle.h"
#include "geometry/attitude.h"
#include "geometry/closable_heights.h"
#include "geometry/driveline_geometry.h"
#include "geometry/lower_link.h"
#include "geometry/mast_closure.h"
#include "geometry/two_joint.h"
#include "geometry/wide_angle_joint.h"
#include "tests/geometry/sample_setup.h"

namespace validation {

using namespace hitchwright;
using hitchwright::test::known;

namespace {

constexpr double inch = 0.0254;

struct Range {
    double low, high;
};

/// A class of tractor: inches.
struct TractorClass {
    Range pivot_z, pivot_spread, link, travel_low, travel_high, pto_x, pto_z, pin_x, pin_z, mast;
    double pivot_x, ball_spread;
};

constexpr TractorClass classes[] = {
    {{9.5, 10.5}, {9, 10}, {22, 26}, {5, 6}, {23, 25}, {7, 9}, {16, 17.5}, {4.5, 5.5}, {24.5, 27.5}, {17, 19}, 1.0, 14.1},
    {{14, 15}, {8, 9}, {28, 32}, {8, 9}, {31, 33}, {10, 12}, {20, 22}, {7.5, 8.5}, {29.5, 34.5}, {18, 20}, 1.5, 14.1},
    {{18.5, 19.5}, {8.5, 9.5}, {33, 38}, {8, 10}, {35, 38}, {13, 15}, {25, 27}, {10.5, 11.5}, {35, 43.5}, {18, 24}, 2.0, 17.1},
    {{22.5, 23.5}, {10, 11}, {39, 45}, {9, 11}, {41, 44}, {19, 21}, {30, 32}, {14.5, 15.5}, {46.5, 53.5}, {24, 27}, 3.0, 19.9}};

class Drawer {
public:
    Drawer(std::mt19937& random, const Features& features) : random_(random), features_(features) {}

    Setup draw() {
        const TractorClass& c = classes[std::uniform_int_distribution<std::size_t>(0, 3)(random_)];
        Setup s;
        s.key = s.name = "random";
        s.rules = hitchwright::test::make_general_rules();
        s.has_driveline = true;
        draw_tractor(c, s);
        draw_implement(c, s);
        draw_driveline(s);
        if (features_.beside) draw_beside(s);
        if (features_.wide_angle) draw_wide_angle(s);
        if (features_.slack) draw_slack(s);
        return s;
    }

private:
    double between(Range r) { return std::uniform_real_distribution<double>(r.low, r.high)(random_); }
    double angle(double most_deg) { return to_radians(between({-most_deg, most_deg})); }
    Reading inches(Range r) { return known(between(r) * inch); }
    bool coin() { return std::bernoulli_distribution(0.5)(random_); }

    void draw_tractor(const TractorClass& c, Setup& s) {
        Tractor& t = s.tractor;
        t.lower_link = {known(c.pivot_x * inch), inches(c.pivot_z), inches(c.link), inches(c.pivot_spread),
                        known(c.ball_spread * inch)};
        t.upper_link_pins = {{"1", inches(c.pin_x), inches(c.pin_z)}};
        t.travel = {inches(c.travel_low), inches(c.travel_high)};
        t.pto.stub_x = inches(c.pto_x);
        t.pto.stub_z = inches(c.pto_z);
    }

    void draw_implement(const TractorClass& c, Setup& s) {
        Implement& m = s.implement;
        m.mast_pins = {{"1", inches(c.mast), inches({-2, 3})}};
        m.pic.fitted = true;
        m.pic.x = inches({8, 34});
        m.pic.z = inches({4, 14});
        m.work.ball_height = known(s.tractor.travel.ball_height_low.value + between({1, 6}) * inch);
        m.work.pitch = known(angle(2.0));
    }

    void draw_driveline(Setup& s) {
        Driveline& d = s.driveline;
        d.closed_length = inches({24, 47});
        d.tractor_tube = known(d.closed_length.value - between({10, 13}) * inch);
        d.implement_tube = known(d.tractor_tube.value * between({0.85, 1.0}));
        d.tractor_joint.offset = d.implement_joint.offset = inches({1, 2});
    }

    void draw_beside(Setup& s) {
        s.tractor.pto.stub_y = inches({-1, 1});
        s.tractor.pto.stub_slope = known(angle(3.0));
        s.tractor.pto.stub_plan_angle = known(angle(2.0));
        s.implement.pic.y = inches({-10, 10});
        s.implement.pic.slope = known(angle(6.0));
        s.implement.pic.plan_angle = known(angle(10.0));
        s.driveline.yoke_phase_error = known(angle(20.0));
    }

    void draw_wide_angle(Setup& s) {
        JointReadings& j = coin() ? s.driveline.tractor_joint : s.driveline.implement_joint;
        j.kind = JointKind::wide_angle;
        j.spacing = known(between({0.06, 0.13}));
    }

    void draw_slack(Setup& s) {
        FloatReadings& f = s.implement.upper_link_float;
        const int kind = std::uniform_int_distribution<int>(0, 2)(random_);
        f.kind = kind == 0 ? UpperLinkKind::slot : kind == 1 ? UpperLinkKind::chain : UpperLinkKind::swing_strap;
        f.slack = inches({0.5, 4});
        f.strap_length = inches({0.5, 3});
    }

    std::mt19937& random_;
    Features features_;
};

/// Moves an end of the travel to within 5 mm of the nearest dead centre; false when there is none in reach.
bool move_to_dead_centre(std::mt19937& random, Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    if (!r.linkage_ok) return false;
    HeightRange closing{-1e9, 1e9};
    for (const double e : {effective_upper_lengths(r.model).low, effective_upper_lengths(r.model).high}) {
        PlanarLinkage k = r.model.linkage;
        k.upper_length = e;
        for (const HeightRange& h : find_closable_heights(k)) {
            if (!h.contains(r.model.working_height)) continue;
            closing = {std::max(closing.low, h.low), std::min(closing.high, h.high)};
        }
    }
    const double short_of = std::pow(10.0, std::uniform_real_distribution<double>(-5.0, -2.3)(random));
    const double upright = r.model.linkage.lower_pivot.y() + r.model.linkage.lower_length;
    if (closing.high < upright - 0.05) s.tractor.travel.ball_height_high = known(closing.high - short_of);
    else if (closing.low > upright - 2.0 * r.model.linkage.lower_length + 0.05) s.tractor.travel.ball_height_low = known(closing.low + short_of);
    else return false;
    return true;
}

/// Every pose closes and both joints stay below 85 deg, on a coarse grid by the second route.
bool is_sound(const RandomSetup& r) {
    const Reference reference(r.setup);
    const HeightRange& h = r.model.travel;
    const HeightRange e = effective_upper_lengths(r.model);
    for (int i = 0; i <= 40; ++i) {
        for (int k = 0; k <= 4; ++k) {
            const auto p = reference.at(h.low + (h.high - h.low) * i / 40.0, e.low + (e.high - e.low) * k / 4.0);
            if (!p || p->tractor_angle > to_radians(85.0) || p->implement_angle > to_radians(85.0) || p->length < 0.2) return false;
        }
    }
    return true;
}

}  // namespace

RandomSetup make_random_setup(std::mt19937& random, const Features& features) {
    for (int attempt = 0; attempt < 1000; ++attempt) {
        RandomSetup r;
        r.features = features;
        r.setup = Drawer(random, features).draw();
        if (features.dead_centre && !move_to_dead_centre(random, r.setup)) continue;
        const MountedModelResult built = make_mounted_model(r.setup);
        if (!built.linkage_obstacles.empty() || !built.shaft_obstacles.empty()) continue;
        r.model = built.model;
        if (is_sound(r)) return r;
    }
    throw std::runtime_error("no random set-up closes");
}

std::vector<RandomSetup> make_random_setups(unsigned seed, int count) {
    std::mt19937 random(seed);
    std::vector<RandomSetup> all;
    for (int i = 0; i < count; ++i) all.push_back(make_random_setup(random, {i % 2 == 1, i % 4 == 2, i % 5 == 3, i % 7 == 4}));
    return all;
}

Reference::Reference(const Setup& setup) : setup_(setup) {
    const LowerLinkReadings& l = setup.tractor.lower_link;
    const double sideways = l.half_spread_at_ball.value - l.half_spread_at_pivot.value;
    lower_pivot_ = Point(l.pivot_x.value, l.pivot_z.value);
    lower_length_ = std::sqrt(l.length.value * l.length.value - sideways * sideways);
    upper_pin_ = Point(setup.tractor.upper_link_pins[0].x.value, setup.tractor.upper_link_pins[0].z.value);
    mast_pin_ = Point(setup.implement.mast_pins[0].offset.value_or(0.0), setup.implement.mast_pins[0].height.value);
}

std::optional<ReferenceShafts> Reference::shafts_at(double ball_height, double upper_length) const {
    const LowerLinkPose lower = solve_lower_link(lower_pivot_, lower_length_, ball_height);
    if (!lower.closure.closes()) return std::nullopt;
    const MastPose mast = solve_mast(lower.ball, upper_pin_, upper_length, mast_pin_);
    if (!mast.closure.closes()) return std::nullopt;
    const PtoReadings& p = setup_.tractor.pto;
    const PicReadings& i = setup_.implement.pic;
    const Driveline& d = setup_.driveline;
    const MachineShaft stub{{p.stub_x.value, p.stub_y.value_or(0.0), p.stub_z.value},
                            make_shaft_axis(p.stub_slope.value_or(0.0), p.stub_plan_angle.value_or(0.0)),
                            d.tractor_joint.offset.value, 0.0};
    const MachineShaft in_frame_i{{i.x.value, i.y.value_or(0.0), i.z.value},
                                  make_shaft_axis(i.slope.value_or(0.0), i.plan_angle.value_or(0.0)),
                                  d.implement_joint.offset.value, 0.0};
    return ReferenceShafts{mast.pitch, stub,
                           move_shaft(in_frame_i, make_rotation({mast.pitch, 0.0, 0.0}), {lower.ball.x(), 0.0, lower.ball.y()})};
}

std::optional<ReferencePose> Reference::at(double ball_height, double upper_length) const {
    const auto shafts = shafts_at(ball_height, upper_length);
    if (!shafts) return std::nullopt;
    const Driveline& d = setup_.driveline;
    ReferencePose r;
    r.pitch = shafts->pitch;
    const bool wide_tractor = d.tractor_joint.kind == JointKind::wide_angle;
    if (wide_tractor || d.implement_joint.kind == JointKind::wide_angle) {
        const double spacing = wide_tractor ? d.tractor_joint.spacing.value : d.implement_joint.spacing.value;
        const WideAngleDriveline w = find_wide_angle_driveline(
            shafts->stub, shafts->input, wide_tractor ? MachineEnd::tractor : MachineEnd::implement, spacing);
        if (w.wide.solution.status != WideAngleStatus::ok) return std::nullopt;
        r.length = w.length;
        r.tractor_angle = wide_tractor ? w.wide_joint_angle : w.plain_joint_angle;
        r.implement_angle = wide_tractor ? w.plain_joint_angle : w.wide_joint_angle;
        r.non_uniformity = std::sin(w.plain_joint_angle) * std::tan(w.plain_joint_angle);
        return r;
    }
    const DrivelinePose shaft = find_driveline_pose(shafts->stub, shafts->input);
    if (shaft.status != DrivelineStatus::ok) return std::nullopt;
    r.length = shaft.length;
    r.tractor_angle = shaft.tractor_joint_angle;
    r.implement_angle = shaft.implement_joint_angle;
    const double equivalent = find_two_joint_motion({r.tractor_angle, r.implement_angle, shaft.bending_plane_angle,
                                                     d.yoke_phase_error.value_or(0.0)}).equivalent_angle;
    r.non_uniformity = std::sin(equivalent) * std::tan(equivalent);
    return r;
}

}  // namespace validation
