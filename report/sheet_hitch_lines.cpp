// Lines of the sheet about the job, the hitch, levelling and the travel; see sheet_lines.h.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/category.h"
#include "report/sheet_lines.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

std::string name_category(const Setup& s) {
    const Category c = s.tractor.hitch.category;
    return c == Category::none ? std::string() : fmt::format("category {}", find_category_figures(c).name);
}

const MountedModel* find_model(const SheetSource& x) {
    return x.analysis.linkage ? &x.analysis.linkage->model : nullptr;
}

std::string say_reach(const SheetSource& x) {
    const auto& reach = x.analysis.linkage->reach;
    if (!reach || !reach->within) return {};
    return fmt::format("Thread then left: {} to shorten, {} to lengthen.", x.words.have(reach->thread_left_to_shorten),
                       x.words.have(reach->thread_left_to_lengthen));
}

std::string say_turns(const SheetSource& x) {
    const auto& turns = x.analysis.linkage->turns;
    if (!turns || std::fabs(*turns) < 0.125) return {};
    return fmt::format("From where it is: {} it by {}. ", *turns > 0.0 ? "lengthen" : "shorten",
                       format_turns(std::fabs(*turns)));
}

/// Why this hole: what the whole travel says for it.
std::string say_hole_reason(const SheetSource& x) {
    const Analysis& a = x.analysis;
    std::string text;
    if (a.linkage->working.pose.closes && a.linkage->high.pose.closes) {
        text = fmt::format("pitch {} at the top", format_angle(a.linkage->high.pose.pitch));
    }
    if (a.shaft) {
        const double most = std::max(a.shaft->travel.tractor_angle.bound, a.shaft->travel.implement_angle.bound);
        text += fmt::format("{}joints bend {} at most", text.empty() ? "" : ", ", format_angle(most, Rounding::up));
    }
    return text.empty() ? text : fmt::format("Why: {}.", text);
}

std::string say_float(UpperLinkKind kind) {
    switch (kind) {
        case UpperLinkKind::slot:
            return "slot: pin free to slide";
        case UpperLinkKind::chain:
            return "chain: slack with the implement on the ground";
        case UpperLinkKind::swing_strap:
            return "swing strap: free between its stops";
        case UpperLinkKind::rigid:
            break;
    }
    return {};
}

std::string name_pin(const std::vector<NamedPoint>& pins, const MountedModel* m) {
    return m && m->tractor_pin < pins.size() ? printable_text(pins[m->tractor_pin].name, 24) : std::string();
}

const SpaceStudy* find_space(const SheetSource& x) { return x.analysis.space ? &*x.analysis.space : nullptr; }

/// Left / right where they differ, else the one length of both.
std::string say_rods(const SheetSource& x) {
    const Reading& own = x.setup.tractor.lift_rod.length;
    const Choices& c = x.setup.choices;
    if (!own.known) return {};
    const std::string left = x.words.place(c.left_lift_rod_length.value_or(own.value)),
                      right = x.words.place(c.right_lift_rod_length.value_or(own.value));
    return left == right ? left : left + " / " + right;
}

std::string say_sway(const SheetSource& x) {
    const SpaceStudy* space = find_space(x);
    if (!space || !space->sway || !space->sway->working.left || !space->sway->working.right) return "equal";
    const SwayAt& at = space->sway->working;
    if (*at.left > 0.0 || *at.right < 0.0) return "slack enough for the middle";
    return fmt::format("{} / {}", x.words.at_most(std::fabs(*at.left)), x.words.at_most(std::fabs(*at.right)));
}

/// The widest part at working height, both ends above the floor; nothing where no roll is known.
const EdgeHeights* find_level_part(const SheetSource& x) {
    const SpaceStudy* space = find_space(x);
    if (!space || !space->rods_told || !space->levelling) return nullptr;
    const Levelling& l = *space->levelling;
    const auto part = std::find_if(l.working.edges.begin(), l.working.edges.end(), [&](const EdgeHeights& e) { return e.name == l.measured_at; });
    return part == l.working.edges.end() ? nullptr : &*part;
}

std::string say_level_part(const SheetSource& x) {
    const EdgeHeights* part = find_level_part(x);
    return part ? ", " + printable_text(part->name, 24) : std::string();
}

std::string say_level(const SheetSource& x) {
    if (const EdgeHeights* part = find_level_part(x)) return fmt::format("{} / {}", x.words.place(part->left), x.words.place(part->right));
    const SpaceStudy* space = find_space(x);
    if (!space || !space->rods_told || !space->levelling || !space->levelling->working.closes) return "equal";
    const LevelPose& p = space->levelling->working;
    return fmt::format("balls {} / {}", x.words.place(p.left_ball), x.words.place(p.right_ball));
}

std::string say_tyre_room(const SheetSource& x) {
    const SpaceStudy* space = find_space(x);
    if (!space || !space->tyre || !space->sway) return {};
    return space->tyre->bound <= 0.0 ? "touches" : x.words.have(space->tyre->bound) + " or more";
}

const Clearance* find_tightest(const Analysis& a) {
    const auto least =
        std::min_element(a.clearances.begin(), a.clearances.end(),
                         [](const Clearance& l, const Clearance& r) { return l.least.bound < r.least.bound; });
    return least == a.clearances.end() ? nullptr : &*least;
}

/// ", 2 1/4 in +- 1/2 in"; empty where no band is known.
std::string say_room(const SheetSource& x, const Clearance& c) {
    const std::string within = say_within(x, FindingKind::clearance, c.part);
    return within.empty() || c.least.bound < 0.0 ? std::string() : fmt::format(", {}{}", x.words.have(c.least.bound), within);
}

}  // namespace

void add_job_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    LineWriter lines(SheetSection::job, out);
    lines.tick("manuals",
               fmt::format("Manuals of tractor, implement{} at hand. Rule set used here: {}.",
                           x.has_shaft() ? " and shaft" : "",
                           printable_text(x.setup.rules.name.empty() ? x.setup.rules.key : x.setup.rules.name, 60)));
    lines.read("floor_and_tyres", "Hard, level floor. Pressure of the rear tyres, left and right, equal",
               "equal; as in the manual");
    if (x.mounted()) {
        const std::string category = name_category(x.setup);
        lines.tick("category_and_pins", fmt::format("Pins match balls and links{}; linch pins in.",
                                                    category.empty() ? "" : ", " + category));
    }
    LineWriter safe(SheetSection::safe_state, out);
    safe.tick("safe_state", fmt::format("{}itch lowered, brake on, engine off, key out; all at rest.",
                                        x.has_shaft() ? "PTO off, h" : "H"));
    if (x.mounted()) safe.tick("stands", "Whatever is raised stands on stands; the lift is locked.");
    if (!x.has_shaft()) return;
    const int rpm = x.setup.choices.pto_speed_rpm > 0 ? x.setup.choices.pto_speed_rpm : x.setup.implement.pic.speed_rpm;
    lines.tick(
        "pto",
        fmt::format("PTO speed{}, splines and direction are those of the implement; shaft strong enough; no adapters.",
                    rpm > 0 ? fmt::format(" {} rpm", rpm) : ""));
}

void add_hitch_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    if (!x.mounted()) return;
    LineWriter lines(SheetSection::hitch, out);
    const MountedModel* m = find_model(x);
    const Setup& s = x.setup;
    const std::string rods = say_rods(x);
    lines.read("lower_links",
               fmt::format("Lower links latched. Lift rods left / right{}; thread in hand both ends",
                           m && !m->rod_hole.empty() ? ", in hole " + printable_text(m->rod_hole, 16) : ""),
               rods);
    if (m)
        lines.read("upper_link_pin", "Upper link in this hole of the tractor",
                   "hole " + name_pin(s.tractor.upper_link_pins, m), say_hole_reason(x));
    const std::string floating = say_float(s.implement.upper_link_float.kind);
    if (m && m->mast_pin < s.implement.mast_pins.size())
        lines.read("mast_pin", fmt::format("Hole of the mast{}", floating.empty() ? "" : "; " + floating),
                   "hole " + printable_text(s.implement.mast_pins[m->mast_pin].name, 24));
    if (m)
        lines.read("upper_link_length", "Upper link, pin centre to pin centre, thread equal at both ends",
                   x.words.place(m->linkage.upper_length), say_turns(x) + say_reach(x));
    const Coupler& c = s.parts.coupler;
    if (c.fitted)
        lines.read("coupler",
                   "Coupler: set-back / lower hooks to top hook / to its own upper pin; all hooks locked and tried",
                   c.set_back.known && c.hook_height.known && c.pin_height.known
                       ? fmt::format("{} / {} / {}", x.words.place(c.set_back.value),
                                     x.words.place(c.hook_height.value), x.words.place(c.pin_height.value))
                       : "");
    if (x.has_shaft())
        lines.tick("drawbar_away", "Drawbar taken off or pushed in: nothing of it under shaft or implement.");
    lines.read("sway", "Sway chains or blocks set, play left / right equal; they must not stop the lift", say_sway(x));
}

void add_levelling_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    LineWriter lines(SheetSection::levelling, out);
    const Setup& s = x.setup;
    if (!x.mounted()) {
        if (!s.implement.ground_contacts.empty())
            lines.read("wheels", "Wheels of the implement: height and pressure, left / right", "equal");
        return;
    }
    lines.read("side_to_side", fmt::format("Side to side at working height{}: left / right, by the lift rod's screw", say_level_part(x)), say_level(x));
    const MountedModel* m = find_model(x);
    const bool working = m && m->has_working_height;
    lines.read("front_to_rear", "Front to rear at working height, rear up positive",
               working ? format_angle(m->working_pitch) + say_within(x, m->working_height, CurveNumber::pitch) : "");
    lines.read("working_height", "Ball centre above the floor at work, and the implement at four points",
               working ? x.words.place(m->working_height) : "");
    if (!s.implement.ground_contacts.empty())
        lines.read("wheels", fmt::format("Wheels, rollers or skids set{}",
                                         s.implement.upper_link_float.kind == UpperLinkKind::rigid
                                             ? ""
                                             : "; the upper link has its slack on level ground"));
    std::string stops;
    if (m && m->lift_stop_binds) stops = x.words.at_most(m->travel.high) + " or lower";
    if (m && m->lower_stop_binds)
        stops += fmt::format("{}{} or higher", stops.empty() ? "" : "; ", x.words.at_least(m->travel.low));
    lines.read("lever_stops", "Stops of the lift lever set and tried", stops.empty() ? "none needed here" : stops);
}

void add_travel_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    if (!x.mounted()) return;
    LineWriter lines(SheetSection::full_travel, out);
    const MountedModel* m = find_model(x);
    std::string heights;
    if (m) {
        heights = x.words.place(m->travel.low);
        if (m->has_working_height) heights += " / " + x.words.place(m->working_height);
        heights += " / " + x.words.place(m->travel.high);
    }
    lines.read("ball_heights", "Slowly, PTO off: ball centre lowest / working / highest", heights);
    const Clearance* least = find_tightest(x.analysis);
    std::string touch;
    if (least)
        touch = x.setup.rules.clearance.set ? x.words.at_least(x.setup.rules.clearance.value) + " or more" : "no touch";
    const std::string where =
        least ? fmt::format("Nearest: {} to {}{}.", printable_text(least->part, 24), clearance_against(least->kind), say_room(x, *least)) : "";
    lines.read("nothing_touches",
               fmt::format("Nothing touches, all the way: upper link, mast, tyres, cab, hoses{}",
                           x.has_shaft() ? ", deck, shaft and guard by hand" : ""),
               touch, where);
    const auto lowest =
        std::min_element(x.analysis.ground.begin(), x.analysis.ground.end(),
                         [](const GroundClearance& a, const GroundClearance& b) { return a.at_top < b.at_top; });
    lines.read("transport_height", "Fully raised: lowest point above the floor",
               lowest == x.analysis.ground.end() ? ""
               : lowest->at_top <= 0.0           ? "strikes the floor"
                                                 : x.words.have(lowest->at_top));
    lines.read("tyre_gap", "Lower link to tyre, links swung to each side, raised and lowered", say_tyre_room(x));
}

void add_load_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    LineWriter lines(SheetSection::loads, out);
    const UnitSystem u = x.words.units;
    const Analysis& a = x.analysis;
    if (x.mounted()) {
        std::string lift;
        if (a.lift && a.lift->least_capacity && a.lift->mass_known)
            lift = fmt::format("{}; {} needed",
                               format_mass(std::max(0.0, a.lift->least_capacity->value), u, Rounding::down),
                               format_mass(a.lift->mass, u, Rounding::up));
        lines.read("lift", "It lifts to the top without labouring; lift at the worst height", lift);
    } else {
        const Reading& load = x.setup.implement.drawn.vertical_load;
        lines.read("vertical_load", "Vertical load on the drawbar, weighed",
                   load.known ? format_mass(load.value, u, Rounding::up) : "");
    }
    std::string front;
    if (a.axles && a.axles->known) {
        const AxleState& state = a.axles->states[a.axles->lightest];
        front = fmt::format("{}: {} / {}", format_mass(state.loads.front, u, Rounding::down),
                            format_percent(a.axles->shares[0].share, Rounding::down),
                            format_percent(a.axles->shares[1].share, Rounding::down));
    }
    lines.read("front_axle",
               x.mounted() ? "Front axle, implement raised: of tractor empty / of all together"
                           : "Front axle, implement hitched: of tractor empty / of all together",
               front);
    std::string ballast;
    if (a.axles && a.axles->known) {
        const FrontShare& f = a.axles->shares[a.axles->binding == LoadBase::tractor_empty ? 0 : 1];
        if (f.ballast)
            ballast = *f.ballast > 0.0 ? format_mass(*f.ballast, u, Rounding::up) + " in front" : "none needed";
    }
    lines.read("ballast", "Ballast on, axle and tyre limits kept; ROPS up, belt worn", ballast);
}

void add_run_lines(const SheetSource& x, std::vector<SheetLine>& out) {
    LineWriter lines(SheetSection::run, out);
    lines.tick("oil_and_fasteners", "Oil, grease, fasteners, hoses, lights, signs.");
    const Verdict verdict = x.analysis.verdict;
    const bool runs = verdict == Verdict::fits || verdict == Verdict::fits_after_change;
    if (!runs)
        lines.tick(
            "do_not_run",
            "DO NOT RUN before the answer at the head of this sheet has changed: no first run, no handing over.");
    else if (x.has_shaft())
        lines.tick("first_run", "Nobody near. PTO engaged at idle, raised slowly and listened to; then work speed.");
    lines.read("recheck", "After the first hour: pins, fasteners, lengths, levels again", "1 hour");
    lines.tick("operator", fmt::format("Operator shown: limits on this sheet{}, cautions, where the manuals are.",
                                       x.has_shaft() ? ", when the PTO is off" : ""));
    lines.tick("recheck_when", fmt::format("To be done anew when tractor, coupler, tyres{} changes.",
                                           x.has_shaft() ? ", hole or shaft" : " or hole"));
}

}  // namespace hitchwright
