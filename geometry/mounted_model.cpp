#include "geometry/mounted_model.h"

#include "geometry/angle.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/add_on_lengths.h"
#include "geometry/closable_heights.h"
#include "geometry/dead_centre_room.h"
#include "geometry/held_strap.h"
#include "geometry/link_length.h"
#include "geometry/lower_link.h"
#include "geometry/mast_closure.h"
#include "geometry/mounted_shaft.h"
#include "geometry/tractor_lift.h"
#include "geometry/visit_readings.h"

namespace hitchwright {

HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(MountedModel);
HITCHWRIGHT_DEFINE_SPECIAL_MEMBERS(MountedModelResult);

namespace {

/// Kept from the very ends of the closable heights, where rounding alone could open the loop: share of the bars' lengths together. At a
/// dead centre angles change by the root of it, some 1e-4 rad.
constexpr double closing_share = 5.0e-10;

using Kind = ModelObstacle::Kind;

class ModelBuilder {
public:
    ModelBuilder(const Setup& setup, RangeSearch side_search) : setup_(setup), side_search_(side_search) {}
    /// `as_taped`: the tractor with the lift rod where it was when heights were taped; must outlive the builder.
    ModelBuilder(const Setup& setup, RangeSearch side_search, const RodHoles& holes, const Tractor& as_taped, const TyreChange& tyres)
        : setup_(setup), side_search_(side_search), as_taped_(&as_taped) {
        result_.model.tyres = tyres;
        result_.model.rod_holes = holes;
        if (holes.status == RodHoles::Status::ok) result_.model.rod_hole = setup.tractor.lift_rod_holes[holes.chosen].name;
    }

    MountedModelResult build() {
        choose_pins();
        name_missing();
        if (result_.linkage_obstacles.empty()) build_linkage();
        result_.linkage_ok = usable_;
        if (setup_.implement.pic.fitted) build_mounted_shaft(setup_, result_);
        return result_;
    }

private:
    void obstruct(ModelObstacle o) { result_.linkage_obstacles.push_back(std::move(o)); }
    void obstruct(Kind kind, const char* key) { obstruct(ModelObstacle{kind, key, {}, 0.0, HalvesStatus::ok}); }
    void miss_shaft(Kind kind, std::string key) {
        result_.shaft_obstacles.push_back(ModelObstacle{kind, std::move(key), {}, 0.0, HalvesStatus::ok});
    }

    template <class Pin>
    void obstruct_pin(Kind kind, const char* choice, const std::vector<Pin>& pins) {
        obstruct(kind, choice);
        for (const Pin& pin : pins) result_.linkage_obstacles.back().holes.push_back(pin.name);
    }

    template <class Pin>
    std::size_t choose(const std::vector<Pin>& pins, const std::string& name, const char* list, const char* choice) {
        if (pins.empty()) {
            obstruct(Kind::missing, list);
            return 0;
        }
        if (name.empty()) {
            if (pins.size() > 1) obstruct_pin(Kind::pin_not_chosen, choice, pins);
            return 0;
        }
        for (std::size_t i = 0; i < pins.size(); ++i) {
            if (pins[i].name == name) return i;
        }
        obstruct_pin(Kind::no_such_pin, choice, pins);
        return 0;
    }

    void choose_pins() {
        MountedModel& m = result_.model;
        m.tractor_pin = choose(setup_.tractor.upper_link_pins, setup_.choices.upper_link_pin,
                               "tractor.upper_link_pin", "choices.upper_link_pin");
        m.mast_pin = choose(setup_.implement.mast_pins, setup_.choices.mast_pin, "implement.mast_pin",
                            "choices.mast_pin");
        const RodHoles::Status rod = m.rod_holes.status;
        if (rod == RodHoles::Status::no_such_hole) obstruct_pin(Kind::no_such_pin, "choices.lift_rod_hole", setup_.tractor.lift_rod_holes);
        if (rod == RodHoles::Status::not_chosen) obstruct_pin(Kind::pin_not_chosen, "choices.lift_rod_hole", setup_.tractor.lift_rod_holes);
        if (m.tyres.status == TyreChange::Status::no_such_set) obstruct_pin(Kind::no_such_pin, "choices.tyre_set", setup_.tractor.tyre_sets);
        // A radius that a listed set lacks is named with all that is missing.
        if (m.tyres.status == TyreChange::Status::missing && !setup_.tractor.tyre.rear_radius.known) obstruct(Kind::missing, "tractor.tyre.rear_radius");
    }

    void name_missing() {
        name_missing_readings();
        name_missing_working_height();
        name_missing_slack();
    }

    void name_missing_readings() {
        // A model is made anew for each reading moved by its error: mostly nothing is missing, and no key has to be made.
        const auto is_missing = [](const Reading& r, const FieldSpec& spec) {
            return !r.known && (spec.need == Need::file || spec.need == Need::linkage || spec.need == Need::driveline);
        };
        if (!any_reading(setup_, is_missing)) return;
        const bool arm = has_lift_arm();
        Setup copy = setup_;
        visit_readings(copy, [&](const std::string& key, const Reading& r, const FieldSpec& spec) {
            if (r.known) return;
            const bool travel = key.starts_with("tractor.travel.");
            // A point without its place breaks the file it stands in; here it must not become the origin.
            if (spec.need == Need::file) obstruct(Kind::missing, key.c_str());
            if (spec.need == Need::linkage && !(travel && arm)) obstruct(Kind::missing, key.c_str());
            if (spec.need == Need::driveline && setup_.implement.pic.fitted) miss_shaft(Kind::missing, key);
        });
    }

    /// Needed for the length of the link, and for a driven shaft in any case: angles are judged where it works.
    void name_missing_working_height() {
        const Choices& c = setup_.choices;
        if (c.working_ball_height.known || setup_.implement.work.ball_height.known) return;
        if (!c.upper_link_length.known) obstruct(Kind::missing, "choices.working_ball_height");
        else if (setup_.implement.pic.fitted) miss_shaft(Kind::missing, "choices.working_ball_height");
    }

    void name_missing_slack() {
        const FloatReadings& f = setup_.implement.upper_link_float;
        const bool strap = f.kind == UpperLinkKind::swing_strap;
        if (strap && !f.strap_length.known) obstruct(Kind::missing, "implement.upper_link_float.strap_length");
        if (!strap && f.kind != UpperLinkKind::rigid && !f.slack.known) {
            obstruct(Kind::missing, "implement.upper_link_float.slack");
        }
    }

    bool has_lift_arm() const {
        const LiftArmReadings& a = setup_.tractor.lift_arm;
        return has_lift_linkage(setup_.tractor) && a.angle_low.known && a.angle_high.known;
    }

    void build_linkage() {
        MountedModel& m = result_.model;
        const LowerLinkReadings& l = setup_.tractor.lower_link;
        const ProjectedLength lower = project_length(LinkagePart::lower_link, find_lower_link_length(setup_),
                                                     l.half_spread_at_ball.value - l.half_spread_at_pivot.value);
        if (!lower.closure.closes()) return obstruct({Kind::cannot_close, "", lower.closure, 0.0, {}});
        const NamedPoint& u = setup_.tractor.upper_link_pins[m.tractor_pin];
        m.linkage.lower_pivot = Point(l.pivot_x.value, l.pivot_z.value);
        m.linkage.lower_length = m.lower_length_own = lower.length;
        m.linkage.upper_pin = Point(u.x.value, u.z.value);
        if (!set_mast_pin()) return;
        m.space = make_mounted_space(setup_, m.linkage, find_lower_link_length(setup_));
        if (!find_rods()) return;
        set_working();
        if (!set_travel() || !set_upper_link()) return;
        close_travel();
        m.space.linkage.side_view = m.linkage;
        if (usable_) set_side_ranges(m.space, m, side_search_);
    }

    /// A rod of its own length means nothing without the arms.
    bool find_rods() {
        const Choices& c = setup_.choices;
        if (result_.model.space.has_rods || (!c.left_lift_rod_length.known && !c.right_lift_rod_length.known)) return true;
        name_missing_lift();
        return false;
    }

    /// The pin the upper link acts on: that of the mast, or a coupler's own.
    bool set_mast_pin() {
        MountedModel& m = result_.model;
        const MastPin& p = setup_.implement.mast_pins[m.mast_pin];
        m.linkage.mast_pin = Point(p.offset.value_or(0.0), p.height.value);
        const Coupler& c = setup_.parts.coupler;
        if (!c.fitted) return true;
        m.has_coupler = true;
        m.coupler_fit = fit_coupler(c, p);
        if (m.coupler_fit.seat == MastSeat::beside) {
            obstruct({Kind::mast_beside_hook, "coupler.hook_offset", {}, 0.0, {}, {p.name}});
            return false;
        }
        m.coupled = make_coupled_body(make_coupler_geometry(c), m.coupler_fit.tilt);
        m.linkage.mast_pin = m.coupled.upper_link_pin;
        return true;
    }

    void set_working() {
        MountedModel& m = result_.model;
        const Choices& c = setup_.choices;
        const WorkReadings& w = setup_.implement.work;
        const Reading& height = c.working_ball_height.known ? c.working_ball_height : w.ball_height;
        m.has_working_height = height.known;
        m.working_height = height.value;
        m.working_pitch_typed = c.working_pitch.known || w.pitch.known;
        m.working_pitch = c.working_pitch.known ? c.working_pitch.value : w.pitch.value_or(0.0);
    }

    /// The range of the lift arm, when its dimensions are there and it moves.
    std::optional<HeightRange> find_arm_travel() {
        if (!has_lift_arm()) return std::nullopt;
        const Tractor& t = setup_.tractor;
        const TractorLift lift = make_tractor_lift(t, find_lower_link_length(setup_));
        if (!lift.closure.closes()) {
            obstruct({Kind::cannot_close, "", lift.closure, 0.0, {}});
            return std::nullopt;
        }
        const LiftTravel travel = find_lift_travel(lift.linkage, t.lift_arm.angle_low.value, t.lift_arm.angle_high.value);
        if (!travel.closure.closes()) {
            obstruct({Kind::cannot_close, "", travel.closure, 0.0, {}});
            return std::nullopt;
        }
        return travel.heights;
    }

    /// Tape and lift arm together. An end that was not taped goes as far as the arm does.
    CombinedTravel combine(const std::optional<HeightRange>& arm) {
        TravelReadings t = setup_.tractor.travel;
        double free_rise = setup_.tractor.lift_rod.free_rise.value_or(0.0);
        carry_over_to_hole(t, free_rise);
        carry_over_to_extender(t, free_rise);
        const bool low = t.ball_height_low.known, high = t.ball_height_high.known;
        if ((!low && !high) || (!arm && !(low && high))) return combine_travel(std::nullopt, arm, free_rise);
        const HeightRange typed{low ? t.ball_height_low.value : arm->low,
                                high ? t.ball_height_high.value : arm->high + free_rise};
        CombinedTravel travel = combine_travel(typed, arm, free_rise);
        if (!low) travel.low.bound = TravelBound::lift_arm;
        if (!high) travel.high.bound = TravelBound::lift_arm;
        return travel;
    }

    /// Heights were taped with the rod in one hole and hold in another only by way of the lift arm. (A free rise is that of
    /// the slot and stays as it was read.)
    void carry_over_to_hole(TravelReadings& t, double free_rise) {
        MountedModel& m = result_.model;
        if (!m.rod_holes.moved() || (!t.ball_height_low.known && !t.ball_height_high.known)) return;
        if (!has_lift_linkage(setup_.tractor)) return name_missing_lift();
        const double own = setup_.tractor.lower_link.length.value;
        const TractorLift from = make_tractor_lift(*as_taped_, own), to = make_tractor_lift(setup_.tractor, own);
        for (const TractorLift* lift : {&from, &to}) {
            if (!lift->closure.closes()) return obstruct({Kind::cannot_close, "", lift->closure, 0.0, {}});
        }
        const auto carry = [&](Reading& r, double slot, double& share) {
            if (!r.known) return;
            const CarriedHeight c = carry_height(from.linkage, to.linkage, r.value - slot);
            if (!c.closure.closes()) return obstruct({Kind::cannot_close, "", c.closure, r.value, {}});
            r.value = c.height + slot;
            share = c.lift_share;
            m.travel_moved_to_hole = true;
        };
        carry(t.ball_height_low, 0.0, m.lift_share_in_hole.low);
        carry(t.ball_height_high, free_rise, m.lift_share_in_hole.high);
    }

    void name_missing_lift() {
        const LiftArmReadings& a = setup_.tractor.lift_arm;
        const std::pair<const Reading*, const char*> wanted[] = {{&a.pivot_x, "tractor.lift_arm.pivot_x"},
                                                                 {&a.pivot_z, "tractor.lift_arm.pivot_z"},
                                                                 {&a.length, "tractor.lift_arm.length"},
                                                                 {&a.half_spread, "tractor.lift_arm.half_spread"},
                                                                 {&setup_.tractor.lift_rod.length, "tractor.lift_rod.length"},
                                                                 {&setup_.tractor.lift_rod.pin_along_link, "tractor.lift_rod.pin_along_link"}};
        for (const auto& [reading, key] : wanted) {
            if (!reading->known) obstruct(Kind::missing, key);
        }
    }

    /// Heights were taped without the extender. The same lift arm holds the lower link at the same angle, so that heights
    /// over its pivot grow as its length in side view. (The longer links lie at a smaller spread, which moves the rod's
    /// pin: left out, 2.5 mm at the top of linkage A.)
    void carry_over_to_extender(TravelReadings& t, double& free_rise) {
        MountedModel& m = result_.model;
        const LowerLinkReadings& l = setup_.tractor.lower_link;
        if (find_added_link_length(setup_.parts) == 0.0) return;
        const ProjectedLength own = project_length(LinkagePart::lower_link, l.length.value,
                                                   l.half_spread_at_ball.value - l.half_spread_at_pivot.value);
        if (!own.closure.closes() || own.length <= 0.0) return;
        m.lower_length_own = own.length;
        const double growth = m.linkage.lower_length / own.length;
        for (Reading* r : {&t.ball_height_low, &t.ball_height_high}) {
            if (!r->known) continue;
            r->value = l.pivot_z.value + growth * (r->value - l.pivot_z.value);
            m.travel_moved_by_extender = true;
        }
        free_rise *= growth;
    }

    /// Heights, taped or of the arm, hold for the tractor's own rods; the arms stay where they are.
    void carry_over_to_rods(CombinedTravel& travel) {
        MountedModel& m = result_.model;
        if (!m.space.rods_set || !travel.known || travel.empty) return;
        const double slot = setup_.tractor.lift_rod.free_rise.value_or(0.0);
        for (TravelEnd* end : {&travel.low, &travel.high}) {
            const double rise = end == &travel.high ? slot : 0.0;
            const std::optional<double> height = carry_height_to_rods(m.space, setup_.tractor.lift_rod.length.value, end->height - rise);
            if (!height) return obstruct({Kind::cannot_close, "", {LinkagePart::lift_rod, Misfit::undefined, 0.0}, end->height, {}});
            end->height = *height + rise;
            m.travel_moved_to_rods = true;
        }
    }

    bool set_travel() {
        MountedModel& m = result_.model;
        const std::optional<HeightRange> arm = find_arm_travel();
        if (!result_.linkage_obstacles.empty()) return false;
        m.travel_bounds = combine(arm);
        carry_over_to_rods(m.travel_bounds);
        if (!result_.linkage_obstacles.empty()) return false;
        if (!m.travel_bounds.known || m.travel_bounds.empty) {
            obstruct(Kind::empty_travel, "tractor.travel");
            return false;
        }
        m.travel = {m.travel_bounds.low.height, m.travel_bounds.high.height};
        const Choices& c = setup_.choices;
        m.lift_stop_binds = c.lift_stop.known && c.lift_stop.value < m.travel.high;
        m.lower_stop_binds = c.lower_stop.known && c.lower_stop.value > m.travel.low;
        if (m.lift_stop_binds) m.travel.high = c.lift_stop.value;
        if (m.lower_stop_binds) m.travel.low = c.lower_stop.value;
        if (m.travel.low >= m.travel.high) {
            obstruct(Kind::empty_travel, m.lift_stop_binds ? "choices.lift_stop" : "choices.lower_stop");
            return false;
        }
        set_working_band();
        return true;
    }

    void set_working_band() {
        MountedModel& m = result_.model;
        const Choices& c = setup_.choices;
        m.working_band_typed = c.working_band_low.known || c.working_band_high.known;
        // The working height always belongs to it, whatever was typed: the shaft is driven there.
        const double centre = m.has_working_height ? m.working_height : c.working_band_low.value_or(m.travel.low);
        const double low = c.working_band_low.value_or(centre), high = c.working_band_high.value_or(centre);
        m.working_band.low = std::clamp(std::min({low, high, centre}), m.travel.low, m.travel.high);
        m.working_band.high = std::clamp(std::max({low, high, centre}), m.travel.low, m.travel.high);
    }

    bool set_upper_link() {
        MountedModel& m = result_.model;
        const FloatReadings& f = setup_.implement.upper_link_float;
        m.float_kind = f.kind;
        if (f.kind == UpperLinkKind::swing_strap) m.slack = f.strap_length.value;
        // Stops a whole turn apart are none.
        m.strap_has_stops = f.kind == UpperLinkKind::swing_strap && f.strap_stop_low.known && f.strap_stop_high.known &&
                            f.strap_stop_high.value - f.strap_stop_low.value < 2.0 * pi - 1e-9;
        if (m.strap_has_stops) m.strap_stop_low = f.strap_stop_low.value, m.strap_stop_high = f.strap_stop_high.value;
        if (f.kind == UpperLinkKind::slot || f.kind == UpperLinkKind::chain) m.slack = f.slack.value;
        if (setup_.choices.upper_link_length.known) {
            m.upper_link_source = UpperLinkSource::typed;
            m.linkage.upper_length = setup_.choices.upper_link_length.value;
            return true;
        }
        const WantedLength w = solve_upper_link_length(find_linkage_to_strap(m), m.working_height, m.working_pitch);
        if (!w.closure.closes()) obstruct({Kind::cannot_close, "", w.closure, m.working_height, {}});
        else if (w.past_dead_centre) obstruct({Kind::past_dead_centre, "choices.upper_link_pin", {}, m.working_height, {}});
        // A slot or chain stands at half its slack when working, so that it can follow the ground both ways.
        m.linkage.upper_length = f.kind == UpperLinkKind::swing_strap ? w.length : w.length - 0.5 * m.slack;
        return result_.linkage_obstacles.empty();
    }

    double find_closing_margin() const {
        const PlanarLinkage& k = result_.model.linkage;
        return closing_share * (k.lower_length + k.upper_length + k.mast_pin.norm());
    }

    /// Keeps the part of the travel that closes for every effective length; names what does not.
    void close_travel() {
        MountedModel& m = result_.model;
        const HeightRange lengths = effective_upper_lengths(m);
        const double closing_margin = find_closing_margin();
        if (m.travel.high - m.travel.low > 2 * closing_margin && stays_clear_of_dead_centres(m.linkage, {m.travel, lengths})) {
            usable_ = true;
            return;
        }
        std::vector<HeightRange> closable{m.travel};
        for (const double e : {lengths.low, lengths.high}) {
            PlanarLinkage k = m.linkage;
            k.upper_length = e;
            closable = overlap(closable, find_closable_heights(k));
        }
        const double near = m.has_working_height ? m.working_height : m.travel.low;
        const HeightRange* best = nullptr;
        for (const HeightRange& r : closable) {
            if (!best || distance_to(r, near) < distance_to(*best, near)) best = &r;
        }
        for (const double h : {m.travel.low, m.travel.high}) {
            if (best && best->contains(h)) continue;
            for (const double e : {lengths.low, lengths.high}) {
                PlanarLinkage k = m.linkage;
                k.upper_length = e;
                const Closure closure = find_pose_closure(k, h);
                if (!closure.closes()) {
                    obstruct({Kind::cannot_close, "", closure, h, {}});
                    break;
                }
            }
        }
        if (!best) {
            if (result_.linkage_obstacles.empty()) obstruct({Kind::past_dead_centre, "choices.upper_link_pin", {}, near, {}});
            return;
        }
        usable_ = true;
        const bool whole = best->low <= m.travel.low && m.travel.high <= best->high;
        if (!whole && result_.linkage_obstacles.empty()) {
            // Both ends of the travel close, what lies between does not.
            const double cut = best->high < m.travel.high ? best->high : best->low;
            obstruct({Kind::past_dead_centre, "choices.upper_link_pin", {}, cut, {}});
        }
        m.travel = whole ? m.travel : HeightRange{best->low + closing_margin, best->high - closing_margin};
        set_working_band();
    }

    std::vector<HeightRange> overlap(const std::vector<HeightRange>& a, const std::vector<HeightRange>& b) const {
        std::vector<HeightRange> both;
        for (const HeightRange& x : a) {
            for (const HeightRange& y : b) {
                const HeightRange r{std::max(x.low, y.low), std::min(x.high, y.high)};
                if (r.high - r.low > 2.0 * find_closing_margin()) both.push_back(r);
            }
        }
        return both;
    }
    static double distance_to(const HeightRange& r, double h) { return std::max({0.0, r.low - h, h - r.high}); }

    const Setup& setup_;
    RangeSearch side_search_;
    const Tractor* as_taped_ = nullptr;
    MountedModelResult result_;
    bool usable_ = false;  ///< a part of the travel closes, so that numbers can be given in spite of obstacles
};

}  // namespace

MountedModelResult make_mounted_model(const Setup& setup, const PinDecision* decided, RangeSearch side_search) {
    const RodHoles holes = find_rod_holes(setup);
    const TyreChange tyres = find_tyre_change(setup);
    const bool as_read = setup.tractor.ball_readings.empty() && holes.status == RodHoles::Status::none_listed;
    if (as_read && tyres.status == TyreChange::Status::own) return ModelBuilder(setup, side_search).build();
    const ResolvedTractor tractor = resolve_tractor(setup, holes, decided);
    Setup resolved = setup;
    resolved.tractor = tractor.as_set;
    MountedModelResult result = ModelBuilder(resolved, side_search, holes, tractor.as_taped, tyres).build();
    result.model.pin_decision = tractor.decision;
    return result;
}

Point find_body_point(const MountedModel& m, const Reading& x, const Reading& z) {
    return m.coupled.lower_hook + Point(x.value, z.value);
}

PlanarLinkage find_linkage_to_strap(const MountedModel& m) {
    return m.strap_has_stops ? hold_strap(m, 0.5 * (m.strap_stop_low + m.strap_stop_high)) : m.linkage;
}

HeightRange effective_upper_lengths(const MountedModel& m) {
    const double e = m.linkage.upper_length;
    switch (m.float_kind) {
        case UpperLinkKind::rigid: return {e, e};
        case UpperLinkKind::slot:
        case UpperLinkKind::chain: return {e, e + m.slack};
        case UpperLinkKind::swing_strap: return {e - m.slack, e + m.slack};
    }
    return {e, e};
}

void set_side_ranges(MountedSpace& space, const MountedModel& m, RangeSearch search) {
    set_side_ranges(space, TravelBox{m.travel, effective_upper_lengths(m)}, search);
}

}  // namespace hitchwright
