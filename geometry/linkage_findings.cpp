// Findings about the linkage itself; see mounted_findings.h.
#include <cmath>
#include <string>

#include "geometry/closeness.h"
#include "geometry/mounted_findings.h"

namespace hitchwright {
namespace {

/// A pitch within this of the wanted one is as good as set: an angle finder reads no better.
constexpr double pitch_play = 0.0052;  // rad, 0.3 deg
/// Sine of the angle between upper link and mast below which the pitch runs away with small changes of height.
constexpr double near_dead_centre = 0.17;  // about 10 deg

/// Stops are looked for to this step (m) and stated on the safe side.
constexpr double stop_step = 0.001;

const Limit arithmetic{0.0, true, Grade::D, "closure of the linkage"};

const char* part_name(LinkagePart part) {
    switch (part) {
        case LinkagePart::lower_link: return "lower link";
        case LinkagePart::upper_link: return "upper link";
        case LinkagePart::lift_arm: return "lift arm";
        case LinkagePart::lift_rod: return "lift rod";
        case LinkagePart::mast: return "mast";
        case LinkagePart::none: break;
    }
    return "linkage";
}

Finding make(FindingKind kind, Severity severity, std::string subject) {
    Finding f;
    f.kind = kind;
    f.severity = severity;
    f.subject = std::move(subject);
    f.rule = arithmetic;
    return f;
}

Finding report_obstacle(const ModelObstacle& o) {
    using Kind = ModelObstacle::Kind;
    Finding f = make(FindingKind::missing_reading, Severity::unknown, o.key);
    switch (o.kind) {
        case Kind::missing:
        case Kind::no_such_pin:
        case Kind::pin_not_chosen:
            f.other = o.kind == Kind::missing ? "missing" : o.kind == Kind::no_such_pin ? "no_such_pin" : "pin_not_chosen";
            f.remedies.push_back({RemedyKind::measure, 0, 0, o.key});
            f.cautions = {Caution::stop_before_touching};
            for (const std::string& hole : o.holes) f.terms.push_back({hole, 1.0, Dimension::ratio, "name of a hole there is"});
            break;
        case Kind::cannot_close:
            f = make(FindingKind::linkage_cannot_close, Severity::forbids, part_name(o.closure.part));
            f.other = o.closure.misfit == Misfit::too_long    ? "too_long"
                      : o.closure.misfit == Misfit::too_short ? "too_short"
                                                              : "undefined";
            f.value = o.closure.shortfall;
            f.has_height = o.height != 0.0;
            f.height = o.height;
            f.cautions = {Caution::never_under_raised};
            break;
        case Kind::past_dead_centre:
            f = make(FindingKind::linkage_cannot_close, Severity::forbids, "upper link");
            f.other = "past_dead_centre";
            f.has_height = true;
            f.height = o.height;
            break;
        case Kind::empty_travel:
            f = make(FindingKind::travel_bound, Severity::forbids, o.key);
            f.other = "empty_travel";
            break;
        case Kind::bad_halves:
            f.other = "contradiction";
            f.remedies.push_back({RemedyKind::measure, 0, 0, o.key});
            f.cautions = {Caution::stop_before_touching};
            break;
        case Kind::mast_beside_hook:
            f = make(FindingKind::coupler_seat, Severity::forbids, o.holes.empty() ? std::string() : o.holes.front());
            f.other = "beside";
            f.remedies.push_back({RemedyKind::measure, 0, 0, o.key});
            f.cautions = {Caution::never_under_raised};
            break;
        case Kind::not_modelled:
            f = make(FindingKind::joint_model, Severity::unknown, o.key);
            f.other = o.holes.empty() ? "wide_angle_at_both_ends" : o.holes.front();
            break;
    }
    return f;
}

/// With one end of the link's range known, that end at least is judged.
void check_reach_one_sided(const Setup& s, Finding& f) {
    const Reading& least = s.tractor.upper_link.length_least;
    const Reading& most = s.tractor.upper_link.length_most;
    f.severity = Severity::watch;
    const bool shorter = least.known && f.value < least.value, longer = most.known && f.value > most.value;
    if (shorter == longer) return;  // inside the end that is known, or a range upside down
    f.severity = Severity::change;
    f.has_limit = true;
    f.limit = shorter ? least.value : most.value;
    f.margin = -std::fabs(f.value - f.limit);
    f.remedies = {{RemedyKind::other_upper_link_pin, 0, 0, ""},
                  {RemedyKind::match_part, f.value, 0, shorter ? "a shorter upper link" : "a longer upper link"}};
    f.cautions = {Caution::nobody_between};
}

void check_reach(const Setup& s, const LinkageAnalysis& a, std::vector<Finding>& out) {
    Finding f = make(FindingKind::upper_link_reach, Severity::good, s.tractor.upper_link_pins[a.model.tractor_pin].name);
    f.other = a.model.upper_link_source == UpperLinkSource::typed ? "typed" : "for_working_pitch";
    f.value = a.model.linkage.upper_length;
    if (a.turns) f.terms.push_back({"turns", *a.turns, Dimension::ratio, "turns from the present length, positive: lengthen"});
    if (!a.reach) {
        check_reach_one_sided(s, f);
        out.push_back(f);
        return;
    }
    f.has_limit = true;
    const bool low = a.reach->too_long_by > 0.0 ||
                     (a.reach->within && a.reach->thread_left_to_shorten < a.reach->thread_left_to_lengthen);
    f.limit = low ? s.tractor.upper_link.length_least.value : s.tractor.upper_link.length_most.value;
    f.margin = a.reach->within ? std::min(a.reach->thread_left_to_shorten, a.reach->thread_left_to_lengthen)
                               : -std::max(a.reach->too_long_by, a.reach->too_short_by);
    f.terms.push_back({"thread_left_to_shorten", a.reach->thread_left_to_shorten, Dimension::length, "thread left to shorten"});
    f.terms.push_back({"thread_left_to_lengthen", a.reach->thread_left_to_lengthen, Dimension::length, "thread left to lengthen"});
    if (!a.reach->within) {
        f.severity = Severity::change;
        f.remedies.push_back({RemedyKind::other_upper_link_pin, 0, 0, ""});
        f.remedies.push_back({RemedyKind::match_part, f.value, 0, low ? "a shorter upper link" : "a longer upper link"});
    }
    f.cautions = {Caution::nobody_between};
    out.push_back(f);
}

void check_working_pitch(const LinkageAnalysis& a, std::vector<Finding>& out) {
    if (!a.model.has_working_height || !a.working.pose.closes) return;
    Finding f = make(FindingKind::working_pitch, Severity::good, "working pitch");
    f.dimension = Dimension::angle;
    f.value = a.working.pose.pitch;
    // A link set by hand and no pitch asked for: nothing to judge it by.
    f.has_limit = a.model.working_pitch_typed || a.model.upper_link_source == UpperLinkSource::for_working_pitch;
    f.limit = a.model.working_pitch;
    f.margin = f.has_limit ? pitch_play - std::fabs(f.value - f.limit) : 0.0;
    f.has_height = true;
    f.height = a.model.working_height;
    if (a.pitch_per_turn) f.terms.push_back({"pitch_per_turn", *a.pitch_per_turn, Dimension::angle, "pitch change of one turn that lengthens the link"});
    if (f.margin < 0.0) {
        f.severity = Severity::change;
        const WantedLength w = solve_upper_link_length(find_linkage_to_strap(a.model), a.model.working_height, a.model.working_pitch);
        // The link as set is shorter than the distance it spans by what the pin stands off its stop; one that ends at a strap
        // between its stops spans its own length. When the ground decides the pitch, no length of the link changes it.
        const bool ground = a.working_float && a.working_float->state == FloatState::ground_borne;
        const double taken_up = a.model.strap_has_stops ? 0.0 : a.working.upper_length - a.model.linkage.upper_length;
        if (w.closure.closes() && !w.past_dead_centre && !ground) {
            f.remedies.push_back({RemedyKind::set_upper_link, w.length - taken_up, 0, ""});
        }
    }
    out.push_back(f);
}

void check_pitch_range(const LinkageAnalysis& a, std::vector<Finding>& out) {
    Finding f = make(FindingKind::pitch_range, Severity::good, "pitch");
    f.dimension = Dimension::angle;
    f.value = a.pitch.greatest.value;
    f.bound_error = find_bound_error(a.pitch.greatest);
    f.has_height = true;
    f.height = a.pitch.greatest.height;
    f.terms = {{"pitch_least", a.pitch.least.value, Dimension::angle, "least pitch over the travel"},
               {"height_least", a.pitch.least.height, Dimension::length, "ball height of it"},
               {"pitch_greatest", a.pitch.greatest.value, Dimension::angle, "greatest pitch over the travel"},
               {"height_greatest", a.pitch.greatest.height, Dimension::length, "ball height of it"}};
    if (a.transport_height > 0.0 && a.transport.closure.closes() && !a.transport.past_dead_centre) {
        f.terms.push_back({"transport_pitch", a.transport.pitch, Dimension::angle, "transport pitch: links level with the mast vertical, then lifted"});
        f.terms.push_back({"transport_height", a.transport_height, Dimension::length, "standard transport height"});
    }
    out.push_back(f);
}

/// A stop on the working side of a dead centre, at the height where upper link and mast are no nearer to one line than
/// 10 deg; none when the working pose is nearer itself.
void add_stop_before(const LinkageAnalysis& a, double height, Finding& f) {
    const auto is_clear = [&](double h) {
        const PlanarPose pose = solve_pose(a.model.linkage, h);
        return pose.closes && std::fabs(find_dead_centre_distance(find_link_points(a.model.linkage, pose)).sine) >= near_dead_centre;
    };
    double good = a.model.has_working_height ? a.model.working_height : a.model.travel.low, bad = height;
    if (!is_clear(good)) return;
    const RemedyKind kind = good < bad ? RemedyKind::lift_stop : RemedyKind::lower_stop;
    while (std::fabs(bad - good) > stop_step) {
        const double middle = 0.5 * (good + bad);
        (is_clear(middle) ? good : bad) = middle;
    }
    f.remedies.push_back({kind, good, 0, ""});
}

void check_dead_centre(const LinkageAnalysis& a, std::vector<Finding>& out) {
    for (const DeadCentre& d : a.dead_centres) {
        Finding f = make(FindingKind::dead_centre_in_travel, Severity::forbids, d.kind == DeadCentreKind::stretched ? "stretched" : "folded");
        f.has_height = true;
        f.height = d.height;
        f.value = d.height;
        f.remedies = {{RemedyKind::other_upper_link_pin, 0, 0, ""}};
        add_stop_before(a, d.height, f);
        f.cautions = {Caution::nobody_between};
        out.push_back(f);
    }
    if (!a.dead_centres.empty() || !a.high.pose.closes) return;
    const DeadCentreDistance d = find_dead_centre_distance(find_link_points(a.model.linkage, a.high.pose));
    if (std::fabs(d.sine) >= near_dead_centre) return;
    Finding f = make(FindingKind::dead_centre_in_travel, Severity::watch, "near");
    f.value = std::min(d.to_folded, d.to_stretched);
    f.has_height = true;
    f.height = a.high.pose.ball_height;
    out.push_back(f);
}

/// A working band typed beyond the travel is cut to it; said, since the angles are then judged over less.
void check_band(const Setup& s, const LinkageAnalysis& a, std::vector<Finding>& out) {
    for (const Reading* r : {&s.choices.working_band_low, &s.choices.working_band_high}) {
        if (!r->known || a.model.travel.contains(r->value)) continue;
        Finding f = make(FindingKind::travel_bound, Severity::watch, "working band");
        f.other = "outside";
        f.value = r->value;
        f.has_limit = true;
        f.limit = r->value < a.model.travel.low ? a.model.travel.low : a.model.travel.high;
        f.margin = -std::fabs(f.value - f.limit);
        out.push_back(f);
    }
}

void check_travel(const Setup& s, const LinkageAnalysis& a, std::vector<Finding>& out) {
    const auto add = [&](const TravelEnd& end, const char* which) {
        if (end.spare <= 0.0) return;
        Finding f = make(FindingKind::travel_bound, Severity::good, which);
        f.other = end.bound == TravelBound::typed ? "typed" : "lift_arm";
        f.value = end.height;
        f.terms = {{"spare", end.spare, Dimension::length, "how much farther the other information reaches"}};
        // A tape and the arm's dimensions that differ by an inch or more: one of them is wrong, or the rod was changed.
        if (end.spare > 0.0254) f.severity = Severity::watch;
        out.push_back(f);
    };
    add(a.model.travel_bounds.low, "low");
    add(a.model.travel_bounds.high, "high");
    check_band(s, a, out);
    if (!a.model.has_working_height || a.model.travel.contains(a.model.working_height)) return;
    Finding f = make(FindingKind::travel_bound, Severity::change, "working height");
    f.other = "outside";
    f.value = a.model.working_height;
    f.has_limit = true;
    f.limit = a.model.working_height < a.model.travel.low ? a.model.travel.low : a.model.travel.high;
    f.margin = -std::fabs(f.value - f.limit);
    f.remedies = {{RemedyKind::working_height, a.model.travel.low, a.model.travel.high, ""}};
    out.push_back(f);
}

void check_float(const LinkageAnalysis& a, std::vector<Finding>& out) {
    if (!a.working_band_of_pitch || !a.working_band_of_pitch->closure.closes()) return;
    Finding f = make(FindingKind::floating_link_band, Severity::good, "floating upper link");
    f.dimension = Dimension::angle;
    f.value = a.working_band_of_pitch->low;
    f.has_height = true;
    f.height = a.model.working_height;
    f.terms = {{"pitch_low", a.working_band_of_pitch->low, Dimension::angle, "lowest pitch the stops allow"},
               {"pitch_high", a.working_band_of_pitch->high, Dimension::angle, "highest pitch the stops allow"}};
    // Nobody decides the pitch: the ball is too low for what stands on the ground.
    if (a.working_float && a.working_float->state == FloatState::no_pitch) f.severity = Severity::change;
    if (a.working_float && a.working_float->state != FloatState::no_pitch) {
        const FloatPose& p = *a.working_float;
        f.terms.push_back({"hollow_left", p.hollow_left, Dimension::length, "fall of the ground under the rear contact until the link carries"});
        f.terms.push_back({"hump_left", p.hump_left, Dimension::length, "rise of the ground there until the link is at its other stop"});
        f.has_limit = true;
        f.margin = std::min(p.pitch_up_left, p.pitch_down_left);
        if (p.state != FloatState::ground_borne) f.severity = Severity::change;
    }
    out.push_back(f);
}

}  // namespace

std::vector<Finding> report_obstacles(const std::vector<ModelObstacle>& obstacles) {
    std::vector<Finding> out;
    for (const ModelObstacle& o : obstacles) out.push_back(report_obstacle(o));
    return out;
}

std::vector<Finding> check_linkage(const Setup& setup, const LinkageAnalysis& a) {
    std::vector<Finding> out;
    check_reach(setup, a, out);
    check_working_pitch(a, out);
    check_pitch_range(a, out);
    check_dead_centre(a, out);
    check_travel(setup, a, out);
    check_float(a, out);
    return out;
}

}  // namespace hitchwright
