#include "geometry/unjudged.h"

#include <algorithm>

#include "geometry/standing_tractor.h"

namespace hitchwright {
namespace {

class OpenQuestions {
public:
    explicit OpenQuestions(const Setup& setup) : s_(setup) {}

    std::vector<Unjudged> run() {
        if (s_.implement.attachment == Attachment::drawn) return run_drawn();
        hitch();
        room();
        sides();
        loads();
        if (!s_.implement.pic.fitted) return found_;
        pto();
        if (s_.has_driveline) shaft();
        return found_;
    }

private:
    struct Part {
        const char* key;
        bool there;
    };

    void ask(const char* question, std::initializer_list<Part> parts) {
        Unjudged u{question, {}};
        for (const Part& p : parts) {
            if (!p.there) u.readings.emplace_back(p.key);
        }
        if (!u.readings.empty()) found_.push_back(std::move(u));
    }

    std::vector<Unjudged> run_drawn() {
        const TyreReadings& t = s_.tractor.tyre;
        const bool pin_load = std::any_of(s_.tractor.drawbar_pins.begin(), s_.tractor.drawbar_pins.end(),
                                          [](const DrawbarPin& p) { return p.vertical_load_most.known; });
        ask("vertical load on the drawbar", {{"implement.drawn.vertical_load", s_.implement.drawn.vertical_load.known},
                                             {"tractor.drawbar_pin.vertical_load_most", pin_load}});
        ask("rear tyre against the tongue in a turn", {{"tractor.tyre.rear_radius", t.rear_radius.known}, {"tractor.tyre.rear_width", t.rear_width.known},
                                                       {"tractor.tyre.rear_track", t.rear_track.known},
                                                       {"implement.tongue_bar", !s_.implement.drawn.bars.empty()}});
        ask("a ditch", {{"choices.ditch.depth", s_.choices.drawn.ditch.depth.known || !s_.choices.drawn.ditch.points.empty()}});
        axles(s_.implement.drawn.vertical_load.known, "implement.drawn.vertical_load");
        ask("where in the hitch the implement turns", {{"tractor.drawbar.articulation_above_top", s_.tractor.drawbar.articulation_above_top.known}});
        if (!s_.implement.pic.fitted) return found_;
        pto();
        if (s_.has_driveline) {
            driveline();
            guard_tubes();
        }
        return found_;
    }

    void hitch() {
        const HitchReadings& t = s_.tractor.hitch;
        const ImplementHitchReadings& i = s_.implement.hitch;
        ask("category", {{"tractor.hitch.category", t.category != Category::none},
                         {"implement.hitch.category", i.category != Category::none}});
        const bool coupler = s_.parts.coupler.fitted;
        if (coupler) ask("how high the coupler's top hook still holds a pin", {{"coupler.hook_depth", s_.parts.coupler.hook_depth.known}});
        // The implement's pins are in the coupler's hooks then, not in the tractor's balls.
        if (!coupler) ask_pins(i, t);
        const UpperLinkReadings& u = s_.tractor.upper_link;
        ask("reach of the upper link", {{"tractor.upper_link.length_least", u.length_least.known},
                                        {"tractor.upper_link.length_most", u.length_most.known}});
    }

    void ask_pins(const ImplementHitchReadings& i, const HitchReadings& t) {
        ask("lower pins in their balls", {{"tractor.hitch.lower_ball_bore", t.lower_ball_bore.known},
                                          {"implement.hitch.lower_pin_diameter", i.lower_pin_diameter.known}});
        ask("upper pin in its hole", {{"tractor.hitch.upper_pin_diameter", t.upper_pin_diameter.known},
                                      {"implement.hitch.upper_pin_diameter", i.upper_pin_diameter.known}});
        ask("span of the lower hitch points", {{"implement.hitch.shoulder_span", i.shoulder_span.known}});
    }

    void room() {
        const std::vector<ImplementPoint>& points = s_.implement.points;
        ask("room between implement and tyres, cab, upper link, ground", {{"implement.point", !points.empty()}});
        ask("room at the rear tyres", {{"tractor.tyre.rear_radius", s_.tractor.tyre.rear_radius.known}});
        ask("room at cab or ROPS", {{"tractor.cab_line", !s_.tractor.cab_line.empty()}});
    }

    /// What leaves the side plane. A check chain that is begun is asked for to its end.
    void sides() {
        const Tractor& t = s_.tractor;
        const LowerLinkReadings& l = t.lower_link;
        ask("room between lower links and tyres", {{"tractor.lower_link.outer_half_width", l.outer_half_width.known},
                                                   {"tractor.tyre.rear_radius", t.tyre.rear_radius.known},
                                                   {"tractor.tyre.rear_width", t.tyre.rear_width.known},
                                                   {"tractor.tyre.rear_track", t.tyre.rear_track.known}});
        const CheckChainReadings& c = t.check_chain;
        const Choices& set = s_.choices;
        if (c.anchor_x.known || c.anchor_half_spread.known || c.anchor_z.known || c.pin_along_link.known || c.length.known ||
            set.left_check_chain_length.known || set.right_check_chain_length.known) {
            ask("where the check chains come taut", {{"tractor.check_chain.anchor_x", c.anchor_x.known},
                                                     {"tractor.check_chain.anchor_half_spread", c.anchor_half_spread.known},
                                                     {"tractor.check_chain.anchor_z", c.anchor_z.known},
                                                     {"tractor.check_chain.pin_along_link", c.pin_along_link.known},
                                                     {"tractor.check_chain.length", c.length.known}});
        }
        if (!set.working_roll.known) return;
        ask("the wanted roll", {{"choices.working_ball_height", set.working_ball_height.known || s_.implement.work.ball_height.known}});
        ask("rod lengths for the wanted roll", {{"tractor.lift_arm.pivot_x", t.lift_arm.pivot_x.known}, {"tractor.lift_arm.pivot_z", t.lift_arm.pivot_z.known},
                                                {"tractor.lift_arm.length", t.lift_arm.length.known}, {"tractor.lift_arm.half_spread", t.lift_arm.half_spread.known},
                                                {"tractor.lift_rod.length", t.lift_rod.length.known}, {"tractor.lift_rod.pin_along_link", t.lift_rod.pin_along_link.known || !t.lift_rod_holes.empty()}});
    }

    void loads() {
        const ImplementMassReadings& i = s_.implement.mass;
        const Tractor& t = s_.tractor;
        ask("whether the tractor lifts it", {{"implement.mass.mass", i.mass.known},
                                             {"implement.mass.cg_x", i.cg_x.known},
                                             {"tractor.mass.lift_at_balls", t.mass.lift_at_balls.known || t.mass.lift_at_610.known ||
                                                                                t.lift_points.size() >= 2 || (t.lift_cylinder.pressure.known && t.lift_cylinder.bore.known && t.lift_cylinder.base_x.known && t.lift_cylinder.base_z.known &&
                                                                                 t.lift_cylinder.crank_length.known && t.lift_cylinder.crank_angle.known)}});
        axles(i.mass.known && i.cg_x.known, i.mass.known ? "implement.mass.cg_x" : "implement.mass.mass");
    }

    void axles(bool load_known, const char* load_key) {
        const TractorMassReadings& m = s_.tractor.mass;
        ask("what is left on the front axle", {{"tractor.mass.mass", m.mass.known},
                                               {"tractor.mass.front_share", m.front_share.known},
                                               {"tractor.mass.wheelbase", m.wheelbase.known},
                                               {load_key, load_known}});
    }

    void pto() {
        const PtoReadings& t = s_.tractor.pto;
        const PicReadings& i = s_.implement.pic;
        ask("PTO type", {{"tractor.pto.type", t.type != PtoType::unknown}, {"implement.pic.type", i.type != PtoType::unknown}});
        ask("PTO speed", {{"tractor.pto.speeds_rpm", !t.speeds_rpm.empty()}, {"implement.pic.speed_rpm", i.speed_rpm != 0}});
        ask("sense of rotation", {{"tractor.pto.rotation", t.rotation != Rotation::unknown},
                                  {"implement.pic.rotation", i.rotation != Rotation::unknown}});
    }

    void driveline() {
        const Driveline& d = s_.driveline;
        ask("splines", {{"tractor.pto.splines", s_.tractor.pto.splines != 0},
                        {"driveline.tractor_joint.splines", d.tractor_joint.splines != 0},
                        {"driveline.implement_joint.splines", d.implement_joint.splines != 0},
                        {"implement.pic.splines", s_.implement.pic.splines != 0}});
        ask("power of the shaft", {{"driveline.power_540", d.power_540.known || d.power_1000.known}});
    }

    void guard_tubes() {
        ask("guard tubes", {{"driveline.guard.closed_length", s_.driveline.guard_closed_length.known},
                            {"driveline.guard.overlap_closed", s_.driveline.guard_overlap_closed.known}});
    }

    void shaft() {
        driveline();
        const Driveline& d = s_.driveline;
        const DrawbarReadings& b = s_.tractor.drawbar;
        const bool edge = std::any_of(s_.implement.points.begin(), s_.implement.points.end(),
                                      [](const ImplementPoint& p) { return p.deck_edge; });
        ask("room beside the guard of the shaft", {{"driveline.guard.radius", d.guard_radius.known},
                                                   {"implement.point (deck_edge)", edge}});
        const bool away = b.out_of_the_way == YesNo::yes;
        ask("room between shaft and drawbar", {{"tractor.drawbar.end_x", away || b.end_x.known},
                                               {"tractor.drawbar.end_z", away || b.end_z.known}});
        guard_tubes();
    }

    const Setup& s_;
    std::vector<Unjudged> found_;
};

}  // namespace

std::vector<Unjudged> list_unjudged(const Setup& setup) {
    std::vector<Unjudged> open = OpenQuestions(*StandingSetup(setup)).run();
    const TyreReadings& own = setup.tractor.tyre;
    if (find_tyre_change(setup).moved() && (own.front_load_most.known || own.rear_load_most.known))
        open.push_back({"what the tyres may carry", {"tractor.tyre (its loads are those of the own tyres, not of the set chosen)"}});
    return open;
}

}  // namespace hitchwright
