#include "geometry/hole_numbers.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "geometry/angle.h"
#include "geometry/category.h"
#include "geometry/hole_search.h"
#include "geometry/implement_heights.h"
#include "geometry/joint_findings.h"
#include "geometry/linkage_quantities.h"
#include "geometry/pose_report.h"
#include "geometry/tractor_lift.h"
#include "geometry/ways_out.h"

namespace hitchwright {
namespace {

void set_greater(const MotionExtremes& s, TravelExtreme& angle, JointEnd& joint) {
    const bool implement = s.implement_angle.bound > s.tractor_angle.bound;
    joint = implement ? JointEnd::implement : JointEnd::tractor;
    angle = implement ? s.implement_angle : s.tractor_angle;
}

std::vector<HeightRange> overlap(const std::vector<HeightRange>& a, const std::vector<HeightRange>& b) {
    std::vector<HeightRange> both;
    for (const HeightRange& x : a) {
        for (const HeightRange& y : b) {
            const HeightRange r{std::max(x.low, y.low), std::min(x.high, y.high)};
            if (r.low <= r.high) both.push_back(r);
        }
    }
    return both;
}

/// Builds the row of one combination, part by part.
class RowBuilder {
public:
    RowBuilder(const Setup& setup, const MountedModelResult& result, const Mark& mark)
        : setup_(setup), model_(result.model), mark_(mark), box_(make_travel_box(result.model)) {
        row_.has_numbers = true;
        row_.whole_travel = result.linkage_obstacles.empty();
    }

    HoleNumbers build() {
        set_link();
        set_poses();
        set_transport();
        set_raised_points();
        row_.dead_centre = find_dead_centre_room(model_.linkage, box_);
        row_.lift = choose_load_point(setup_.implement, model_);
        row_.lift.known = has_bounded_rise(model_);
        search();
        return row_;
    }

private:
    void set_link() {
        row_.travel = model_.travel;
        row_.rod_lift_share = model_.lift_share_in_hole;
        row_.upper_length = model_.linkage.upper_length;
        row_.for_working_attitude = model_.upper_link_source == UpperLinkSource::for_working_pitch;
        const UpperLinkReadings& u = setup_.tractor.upper_link;
        if (u.length_least.known && u.length_most.known) {
            row_.reach = check_upper_link_reach(row_.upper_length, u.length_least.value, u.length_most.value);
        }
        const Reading& now = setup_.choices.upper_link_length_now;
        if (now.known && u.advance_per_turn.known) {
            row_.turns = find_turns(row_.upper_length, now.value, u.advance_per_turn.value);
        }
    }

    void set_poses() {
        const PoseReport low = make_pose_report(setup_, model_, model_.travel.low);
        row_.pitch_low = low.pose.pitch;
        row_.pitch_top = make_pose_report(setup_, model_, model_.travel.high).pose.pitch;
        row_.inverse_hitch_distance = low.inverse_hitch_distance;
        if (!model_.has_working_height || !model_.travel.contains(model_.working_height)) return;
        const PoseReport working = make_pose_report(setup_, model_, model_.working_height);
        if (!working.pose.closes) return;
        row_.pitch_working = working.pose.pitch;
        row_.inverse_hitch_distance = working.inverse_hitch_distance;
    }

    void set_transport() {
        row_.transport_height =
            find_transport_height(setup_.tractor.hitch.category, setup_.choices.transport_ball_height).value;
        if (row_.transport_height <= 0.0) return;
        const TransportPitch t = solve_transport_pitch(model_.linkage, row_.transport_height);
        if (t.closure.closes() && !t.past_dead_centre) row_.transport_pitch = t.pitch;
    }

    /// Rearmost and lowest of all points and contacts, hitch fully raised; a floating link at its longest, a strap between
    /// known stops where it hangs.
    void set_raised_points() {
        const KernelPose<double> top = solve_kernel<double>(model_.linkage, box_.heights.high, find_raised_length());
        double rearmost = 0.0;
        for (const HeldPoint& c : list_held_points(setup_.implement, model_)) {
            const RaisedPoint p{c.name, top.place(c.at.x(), c.at.y()).z - c.radius};
            if (!row_.tail || c.at.x() > rearmost) {
                row_.tail = p;
                rearmost = c.at.x();
            }
            if (!row_.lowest || p.height < row_.lowest->height) row_.lowest = p;
        }
    }

    double find_raised_length() const {
        return model_.strap_has_stops ? make_pose_report(setup_, model_, box_.heights.high).upper_length : box_.upper_lengths.high;
    }

    void search() {
        const bool shaft = is_height_alone(box_) && model_.has_shaft;
        TravelBox raised = box_;
        raised.upper_lengths.low = raised.upper_lengths.high;
        MotionSearch motion(raised, {model_, row_.lift.at, shaft, row_.lift.known});
        const MotionExtremes together = motion.find_extremes(box_.heights, {shaft, shaft, shaft, row_.lift.known});
        row_.lift.rise_least = together.rise_least;
        row_.lift.rise_most = together.rise_most;
        row_.evaluations = together.evaluations;
        // The working band: angles always, the longest length where the rules ask for overlap in work.
        if (shaft) {
            const bool overlap_in_work = setup_.rules.overlap_fraction_work.set;
            const MotionExtremes work = motion.find_extremes(model_.working_band, {overlap_in_work, false, true, false});
            set_shaft(together, work, [&](auto... asked) { return motion.find_heights_inside(asked...); });
            row_.evaluations += work.evaluations;
        } else if (model_.has_shaft) {
            TravelBox band = box_;
            band.heights = model_.working_band;
            const MotionExtremes travel = find_motion_extremes_in_box(model_, box_), work = find_motion_extremes_in_box(model_, band);
            set_shaft(travel, work, [&](auto... asked) { return find_heights_inside_in_box(model_, box_, asked...); });
            row_.evaluations += travel.evaluations + work.evaluations;
        }
    }

    /// `find_inside(limits, broken)`: heights at which the joints keep their limits.
    template <class FindInside>
    void set_shaft(const MotionExtremes& travel, const MotionExtremes& work, const FindInside& find_inside) {
        HoleShaft s;
        s.shortest = travel.shortest;
        s.longest = travel.longest;
        set_greater(travel, s.travel_angle, s.travel_joint);
        set_greater(work, s.work_angle, s.work_joint);
        set_heights(travel, s, find_inside);
        if (model_.has_halves) {
            const bool in_work = setup_.rules.overlap_fraction_work.set;
            const ShaftTravel lengths{s.shortest.bound, s.longest.bound,
                                      in_work ? std::min(work.longest.bound, s.longest.bound) : 0.0};
            s.plan = plan_cut(model_.halves, lengths, make_cut_limits(setup_.rules), mark_);
            s.has_plan = is_answered(s.plan);
        }
        row_.shaft = std::move(s);
    }

    template <class FindInside>
    void set_heights(const MotionExtremes& travel, HoleShaft& s, const FindInside& find_inside) const {
        const JointLimits t = find_joint_limits(setup_, JointEnd::tractor), i = find_joint_limits(setup_, JointEnd::implement);
        const AngleLimits limits{angle_of(t.free), angle_of(i.free), angle_of(t.pto_off), angle_of(i.pto_off)};
        const std::array<double, 2> greatest{travel.tractor_angle.bound, travel.implement_angle.bound};
        AngleMarks broken{};  // a joint whose greatest angle keeps the limit keeps it everywhere
        for (std::size_t k = 0; k < 4; ++k) broken[k] = greatest[k % 2] > limits[k];
        const auto inside = find_inside(limits, broken);
        s.work_heights = overlap(inside[0], inside[1]);
        s.pto_heights = overlap(inside[2], inside[3]);
    }

    static double angle_of(const LimitView& limit) { return limit.set ? limit.value : pi; }

    const Setup& setup_;
    const MountedModel& model_;
    const Mark& mark_;
    TravelBox box_;
    HoleNumbers row_;
};

template <class Pin>
bool is_named(const std::vector<Pin>& pins, std::size_t index, const std::string& chosen) {
    return chosen.empty() ? pins.size() == 1 : pins[index].name == chosen;
}

/// Holes are chosen by name. Where names are missing or the same (a file with that is refused) they are numbered.
template <class Pin>
void name_apart(std::vector<Pin>& pins) {
    std::set<std::string> names;
    for (const Pin& p : pins) {
        if (!p.name.empty()) names.insert(p.name);
    }
    if (names.size() == pins.size()) return;
    for (std::size_t i = 0; i < pins.size(); ++i) pins[i].name = std::to_string(i + 1);
}

void name_choices(Setup& s, const HoleCombination& holes) {
    s.choices.upper_link_pin = s.tractor.upper_link_pins[holes.tractor_pin].name;
    s.choices.mast_pin = s.implement.mast_pins[holes.mast_pin].name;
    if (!s.tractor.lift_rod_holes.empty()) s.choices.lift_rod_hole = s.tractor.lift_rod_holes[holes.rod_hole].name;
}

bool is_present_rod_hole(const Setup& setup, std::size_t hole) {
    const RodHoles holes = find_rod_holes(setup);
    return holes.status == RodHoles::Status::none_listed || (holes.status == RodHoles::Status::ok && holes.chosen == hole);
}

}  // namespace

std::vector<HoleCombination> list_hole_combinations(const Setup& setup) {
    std::vector<HoleCombination> list;
    const std::size_t rod_holes = std::max<std::size_t>(setup.tractor.lift_rod_holes.size(), 1);
    for (std::size_t t = 0; t < setup.tractor.upper_link_pins.size(); ++t) {
        for (std::size_t m = 0; m < setup.implement.mast_pins.size(); ++m) {
            for (std::size_t r = 0; r < rod_holes; ++r) list.push_back({t, m, r});
        }
    }
    return list;
}

Setup choose_holes(const Setup& setup, const HoleCombination& holes) {
    Setup s = setup;
    name_apart(s.tractor.upper_link_pins);
    name_apart(s.implement.mast_pins);
    name_apart(s.tractor.lift_rod_holes);
    name_choices(s, holes);
    if (s.choices.working_ball_height.known || s.implement.work.ball_height.known) s.choices.upper_link_length = Reading{};
    return s;
}

bool is_chosen(const Setup& setup, const HoleCombination& c) {
    return is_named(setup.tractor.upper_link_pins, c.tractor_pin, setup.choices.upper_link_pin) &&
           is_named(setup.implement.mast_pins, c.mast_pin, setup.choices.mast_pin) && is_present_rod_hole(setup, c.rod_hole);
}

HoleNumbers find_hole_numbers(const Setup& chosen, const MountedModelResult& result, const HoleCombination& holes,
                              const Mark& mark) {
    HoleNumbers row;
    if (result.linkage_ok) row = RowBuilder(chosen, result, mark).build();
    row.holes = holes;
    row.tractor_pin = chosen.tractor.upper_link_pins[holes.tractor_pin].name;
    row.mast_pin = chosen.implement.mast_pins[holes.mast_pin].name;
    if (!chosen.tractor.lift_rod_holes.empty()) row.rod_hole = chosen.tractor.lift_rod_holes[holes.rod_hole].name;
    return row;
}

std::vector<HoleNumbers> find_all_hole_numbers(const Setup& setup, const Mark& mark) {
    std::vector<HoleNumbers> rows;
    if (setup.implement.attachment == Attachment::drawn) return rows;
    const std::vector<HoleCombination> all = list_hole_combinations(setup);
    if (all.empty()) return rows;
    Setup chosen = choose_holes(setup, all.front());
    for (const HoleCombination& holes : all) {
        name_choices(chosen, holes);
        rows.push_back(find_hole_numbers(chosen, make_mounted_model(chosen), holes, mark));
        rows.back().is_present = is_chosen(setup, holes);
    }
    return rows;
}

}  // namespace hitchwright
