#include "geometry/drawn_model.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/add_on_lengths.h"
#include "geometry/angle.h"
#include "geometry/driveline_geometry.h"
#include "geometry/floating_link.h"
#include "geometry/ground_contact.h"
#include "geometry/mounted_shaft.h"
#include "geometry/pose_report.h"
#include "geometry/standing_tractor.h"
#include "geometry/visit_readings.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(DrawnModelResult);

namespace {

using Kind = ModelObstacle::Kind;

/// A fixed shaft shorter than this (m) has no direction that could be meant.
constexpr double shortest_fixed_shaft = 0.01;

Vec3<double> to_vec3(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }
Eigen::Vector3d to_eigen(const Vec3<double>& v) { return {v.x, v.y, v.z}; }

bool has_wide_angle(const Setup& s) {
    return s.has_driveline && (s.driveline.tractor_joint.kind == JointKind::wide_angle ||
                               s.driveline.implement_joint.kind == JointKind::wide_angle);
}

class DrawnBuilder {
public:
    /// `setup`: as its tractor stands; `tyres`: how it does.
    DrawnBuilder(const Setup& setup, const TyreChange& tyres) : setup_(setup) { result_.model.tyres = tyres; }

    DrawnModelResult build() {
        choose_pin();
        name_tyres();
        name_missing();
        if (result_.hitch_obstacles.empty()) {
            place_pin();
            set_level_pitch();
            set_box();
            result_.hitch_ok = true;
        }
        if (setup_.implement.pic.fitted) build_shaft();
        return std::move(result_);
    }

private:
    void obstruct(Kind kind, std::string key) {
        result_.hitch_obstacles.push_back(ModelObstacle{kind, std::move(key), {}, 0.0, HalvesStatus::ok});
    }
    /// `word`: what of a driveline is not modelled.
    void miss_shaft(Kind kind, std::string key, const char* word = nullptr) {
        result_.shaft_obstacles.push_back(ModelObstacle{kind, std::move(key), {}, 0.0, HalvesStatus::ok});
        if (word) result_.shaft_obstacles.back().holes.emplace_back(word);
    }

    void obstruct_pin(Kind kind) {
        obstruct(kind, "choices.drawbar_pin");
        for (const DrawbarPin& p : setup_.tractor.drawbar_pins) result_.hitch_obstacles.back().holes.push_back(p.name);
    }

    void choose_pin() {
        const std::vector<DrawbarPin>& pins = setup_.tractor.drawbar_pins;
        const std::string& name = setup_.choices.drawn.drawbar_pin;
        if (pins.empty()) return obstruct(Kind::missing, "tractor.drawbar_pin");
        if (name.empty()) {
            if (pins.size() > 1) obstruct_pin(Kind::pin_not_chosen);
            return;
        }
        const auto found = std::find_if(pins.begin(), pins.end(), [&](const DrawbarPin& p) { return p.name == name; });
        if (found == pins.end()) return obstruct_pin(Kind::no_such_pin);
        result_.model.pin = static_cast<std::size_t>(found - pins.begin());
    }

    void name_tyres() {
        const TyreChange& tyres = result_.model.tyres;
        if (tyres.status == TyreChange::Status::missing) {
            for (const std::string& key : tyres.missing) obstruct(Kind::missing, key);
        }
        if (tyres.status != TyreChange::Status::no_such_set) return;
        obstruct(Kind::no_such_pin, "choices.tyre_set");
        for (const TyreSet& set : setup_.tractor.tyre_sets) result_.hitch_obstacles.back().holes.push_back(set.name);
    }

    const DrawbarPin& pin() const { return setup_.tractor.drawbar_pins[result_.model.pin]; }

    void name_missing() {
        name_missing_readings();
        name_missing_places();
    }

    void name_missing_readings() {
        const auto is_missing = [](const Reading& r, const FieldSpec& spec) {
            return !r.known && (spec.need == Need::file || spec.need == Need::driveline);
        };
        if (!any_reading(setup_, is_missing)) return;
        Setup copy = setup_;
        visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
            if (r.known) return;
            if (spec.need == Need::file && key.starts_with("tractor.drawbar_pin")) obstruct(Kind::missing, key);
            if (spec.need == Need::file && key.starts_with("implement.ground_contact")) obstruct(Kind::missing, key);
            if (spec.need == Need::driveline && setup_.implement.pic.fitted) {
                miss_shaft(Kind::missing, key);
            }
        });
    }

    void name_missing_places() {
        // Without them there is no pin.
        for (const auto& [key, r] : {std::pair<const char*, const Reading&>{"tractor.pto.stub_x", setup_.tractor.pto.stub_x},
                                     {"tractor.pto.stub_z", setup_.tractor.pto.stub_z}}) {
            if (!r.known) obstruct(Kind::missing, key);
        }
        const DrawbarReadings& d = setup_.tractor.drawbar;
        const bool top = d.top_height.known || d.drop.known;
        const bool own = !setup_.tractor.drawbar_pins.empty() && pin().top_height.known;
        if (!top && !own) obstruct(Kind::missing, "tractor.drawbar.top_height");
        name_missing_bearing();
    }

    void name_missing_bearing() {
        const SteadyBearingReadings& b = setup_.implement.drawn.steady_bearing;
        if (!b.fitted || !setup_.implement.pic.fitted) return;
        if (!b.x.known) miss_shaft(Kind::missing, "implement.steady_bearing.x");
        if (!b.z.known) miss_shaft(Kind::missing, "implement.steady_bearing.z");
        if (!b.rear_joint_offset.known) miss_shaft(Kind::missing, "implement.steady_bearing.rear_joint_offset");
    }

    Eigen::Vector3d find_pto_end() const {
        const PtoReadings& p = setup_.tractor.pto;
        const Eigen::Vector3d end(p.stub_x.value, p.stub_y.value_or(0.0), p.stub_z.value);
        return end + setup_.tractor.drawbar.adapter_length.value_or(0.0) *
                         make_shaft_axis(p.stub_slope.value_or(0.0), p.stub_plan_angle.value_or(0.0));
    }

    void place_pin() {
        DrawnModel& m = result_.model;
        const DrawbarReadings& d = setup_.tractor.drawbar;
        const Eigen::Vector3d end = find_pto_end();
        const PtoReadings& pto = setup_.tractor.pto;
        const double added = find_added_stub_length(setup_.parts) *
                             make_shaft_axis(pto.stub_slope.value_or(0.0), pto.stub_plan_angle.value_or(0.0)).x();
        // The pin stays where it is when a clutch or an extender is put on the stub; from its end there is less to the pin.
        m.pto_end_x = end.x() + added;
        m.drawbar_length = pin().length.value - added;
        const double stub_z = setup_.tractor.pto.stub_z.value;
        const double own = d.top_height.known ? d.top_height.value : stub_z - d.drop.value;
        m.drawbar_top = pin().top_height.value_or(own);
        m.pto_above_drawbar = end.z() - m.drawbar_top;
        m.articulation_assumed = !d.articulation_above_top.known;
        m.driveline.pin = {m.pto_end_x + m.drawbar_length, 0.0, m.drawbar_top + d.articulation_above_top.value_or(0.0)};
    }

    void set_level_pitch() {
        DrawnModel& m = result_.model;
        std::vector<Contact> contacts;
        for (const GroundContact& c : setup_.implement.ground_contacts) {
            contacts.push_back({Point(c.x.value, c.z.value), c.radius.value_or(0.0)});
        }
        const GroundRest rest = solve_ground_rest(Point(m.driveline.pin.x, m.driveline.pin.z), contacts, {});
        const Choices& c = setup_.choices;
        const Reading& typed = c.working_pitch.known ? c.working_pitch : setup_.implement.work.pitch;
        if (!contacts.empty() && rest.state == GroundState::rests) {
            m.level_source = LevelPitchSource::wheels;
            m.level_pitch = rest.pitch;
        } else {
            m.level_source = typed.known ? LevelPitchSource::typed : LevelPitchSource::taken_level;
            m.level_pitch = typed.value_or(0.0);
        }
    }

    static void set_side(const Reading& typed, const LimitView& limit, bool of_rules, double& value, BoxBound& bound) {
        value = typed.known ? typed.value : limit.value;
        bound = typed.known ? BoxBound::typed : of_rules ? BoxBound::rules : BoxBound::general;
    }

    void set_box() {
        DrawnModel& m = result_.model;
        const DrawnChoices& c = setup_.choices.drawn;
        const DrawnLimits limits = find_drawn_limits(setup_);
        double left = 0.0, right = 0.0, down = 0.0, up = 0.0;
        set_side(c.turn_left_most, limits.turn, limits.turn_of_rules, left, m.bounds.turn_left);
        set_side(c.turn_right_most, limits.turn, limits.turn_of_rules, right, m.bounds.turn_right);
        set_side(c.pitch_down_most, limits.relative_pitch, limits.pitch_of_rules, down, m.bounds.pitch_down);
        set_side(c.pitch_up_most, limits.relative_pitch, limits.pitch_of_rules, up, m.bounds.pitch_up);
        const double roll = c.roll_most.value_or(assumed_roll);
        m.bounds.roll = c.roll_most.known ? BoxBound::typed : BoxBound::assumed;
        m.box = {{-left, right}, {-down, up}, {-roll, roll}};
        if (setup_.implement.drawn.hitch == DrawnHitchKind::clevis) narrow_to_play();
    }

    /// A clevis leaves pitch and roll its free play about square to the drawbar.
    void narrow_to_play() {
        DrawnModel& m = result_.model;
        const Reading& pitch = setup_.implement.drawn.pitch_play;
        const Reading& roll = setup_.implement.drawn.roll_play;
        if (pitch.known) {
            m.level_outside_play = std::fabs(m.level_pitch) > pitch.value;
            if (-pitch.value > m.box.pitch.low) {
                m.box.pitch.low = -pitch.value;
                m.bounds.pitch_down = BoxBound::clevis;
            }
            if (pitch.value < m.box.pitch.high) {
                m.box.pitch.high = pitch.value;
                m.bounds.pitch_up = BoxBound::clevis;
            }
        }
        if (roll.known && roll.value < m.box.roll.high) {
            m.box.roll = {-roll.value, roll.value};
            m.bounds.roll = BoxBound::clevis;
        }
    }

    void build_shaft() {
        const SteadyBearingReadings& b = setup_.implement.drawn.steady_bearing;
        if (b.fitted && setup_.has_driveline && setup_.driveline.implement_joint.kind == JointKind::wide_angle) {
            miss_shaft(Kind::not_modelled, "driveline.implement_joint.kind", "wide_angle_at_bearing");
        }
        MountedModelResult parts;
        parts.shaft_obstacles = std::move(result_.shaft_obstacles);
        build_mounted_shaft(setup_, parts);
        result_.shaft_obstacles = std::move(parts.shaft_obstacles);
        DrawnModel& m = result_.model;
        m.has_shaft = parts.model.has_shaft && result_.hitch_ok;
        if (!m.has_shaft) return;
        m.driveline.ends = parts.model.ends;
        m.has_halves = parts.model.has_halves;
        m.uncut = parts.model.uncut;
        m.halves = parts.model.halves;
        m.has_guard = parts.model.has_guard;
        m.guard = parts.model.guard;
        const double adapter = setup_.tractor.drawbar.adapter_length.value_or(0.0);
        Vec3<double>& q = m.driveline.ends.tractor_joint;
        q = q + adapter * m.driveline.ends.stub_axis;
        if (b.fitted) add_fixed_shaft();
    }

    /// The telescoping shaft ends at the bearing; the fixed shaft runs from there straight to the third joint.
    void add_fixed_shaft() {
        DrawnModel& m = result_.model;
        const SteadyBearingReadings& b = setup_.implement.drawn.steady_bearing;
        const PicReadings& i = setup_.implement.pic;
        const MachineShaft input{Eigen::Vector3d(i.x.value, i.y.value_or(0.0), i.z.value),
                                 make_shaft_axis(i.slope.value_or(0.0), i.plan_angle.value_or(0.0)),
                                 b.rear_joint_offset.value, 0.0};
        const Eigen::Vector3d front(b.x.value, b.y.value_or(0.0), b.z.value);
        const Eigen::Vector3d along = find_implement_joint(input) - front;
        const double length = along.norm();
        if (!(length > shortest_fixed_shaft)) {
            m.has_shaft = false;
            return miss_shaft(Kind::not_modelled, "implement.steady_bearing.x", "no_fixed_shaft");
        }
        const Eigen::Vector3d axis = along / length;
        m.driveline.ends.implement_joint = to_vec3(front - setup_.driveline.implement_joint.offset.value * axis);
        m.driveline.ends.input_axis = to_vec3(axis);
        m.driveline.fixed = {true, to_vec3(input.axis), b.phase.value_or(0.0)};
        m.last_joint_angle = find_angle_between(axis, input.axis);
    }

    const Setup& setup_;
    DrawnModelResult result_;
};

}  // namespace

DrawnLimits find_drawn_limits(const Setup& s) {
    const bool wide = has_wide_angle(s);
    const Limit& turn = wide ? s.rules.turn_wide_angle : s.rules.turn_plain;
    DrawnLimits l;
    l.turn_of_rules = turn.set;
    l.pitch_of_rules = s.rules.relative_pitch.set;
    const char* source = "operator manuals of drawn machines";
    l.turn = turn.set ? LimitView(turn) : LimitView(to_radians(wide ? 80.0 : 35.0), Grade::B, source);
    l.relative_pitch = l.pitch_of_rules ? LimitView(s.rules.relative_pitch) : LimitView(to_radians(25.0), Grade::B, source);
    return l;
}

DrawnModelResult make_drawn_model(const Setup& setup) {
    const StandingSetup on(setup);
    return DrawnBuilder(*on, find_tyre_change(setup)).build();
}

DrawnModel with_drawbar_length(DrawnModel m, double length) {
    m.drawbar_length = length;
    m.driveline.pin.x = m.pto_end_x + length;
    return m;
}

PinDistances find_pin_distances(const DrawnModel& m) {
    const Eigen::Vector3d k = make_rotation({m.level_pitch, 0.0, 0.0}) * to_eigen(m.driveline.ends.implement_joint);
    return {m.driveline.pin.x - m.driveline.ends.tractor_joint.x, k.x()};
}

DrawnState<double> find_drawn_state(const DrawnModel& m, const Attitude& a) {
    return find_drawn_state<double>(m.driveline, a.yaw, a.pitch, a.roll);
}

}  // namespace hitchwright
