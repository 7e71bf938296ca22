// See hole_words.h.
#include "report/hole_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t longest_name = 24;

bool has_several(const HoleStudy& study, std::size_t HoleCombination::*place) {
    return std::any_of(study.results.begin(), study.results.end(), [&](const HoleResult& r) {
        return r.numbers.holes.*place != study.results.front().numbers.holes.*place;
    });
}

std::string say_value(double value, HoleMeasure measure, const SafeWords& words) {
    switch (measure) {
        case HoleMeasure::joint_angle:
        case HoleMeasure::joint_angle_in_work:
            return format_angle(value, Rounding::up);
        case HoleMeasure::pitch_change:
        case HoleMeasure::pitch_top:
            return format_angle(value);
        case HoleMeasure::lift_ratio:
            return format_ratio(value * 100.0, 0, Rounding::down) + " %";
        case HoleMeasure::tail_height:
        case HoleMeasure::thread_left:
            return words.have(value);
        case HoleMeasure::points:
            return format_ratio(value, 1);
        case HoleMeasure::load_rises:
            return value > 0.5 ? "at every height" : "not everywhere";
        default:
            return format_ratio(value, 0);
    }
}

/// The sentence with {} for the value of mine.
std::string_view find_sentence(HoleMeasure measure, const HoleNumbers& n) {
    switch (measure) {
        case HoleMeasure::standing:
            return "";
        case HoleMeasure::changes:
            return "things to change: {}";
        case HoleMeasure::load_rises:
            return "the load rises {}";
        case HoleMeasure::points:
            return "points: {}";
        case HoleMeasure::joint_angle:
            return "the joints bend {} at most over the travel";
        case HoleMeasure::joint_angle_in_work:
            return "the joints bend {} at most in work";
        case HoleMeasure::lift_ratio:
            return "the load gets {} of the lift at the balls where it is worst";
        case HoleMeasure::pitch_change:
            return n.pitch_working ? "the pitch changes {} from work to the top" : "the pitch changes {} from the lowest height to the top";
        case HoleMeasure::tail_height:
            return "the tail is {} above the ground at the top";
        case HoleMeasure::pitch_top:
            return "the pitch at the top is {}";
        case HoleMeasure::thread_left:
            return "the upper link has {} of thread left";
    }
    return "";
}

/// What is worth saying of two combinations, in this order.
std::vector<HoleMeasure> list_spoken(HoleWish wish) {
    std::vector<HoleMeasure> list{HoleMeasure::load_rises,  HoleMeasure::changes,    HoleMeasure::joint_angle,
                                  HoleMeasure::lift_ratio,  HoleMeasure::pitch_change};
    if (wish == HoleWish::tail_high) list.insert(list.begin(), {HoleMeasure::tail_height, HoleMeasure::pitch_top});
    list.push_back(HoleMeasure::thread_left);
    return list;
}

Severity find_worst(const Analysis& a) {
    return a.findings.empty() ? Severity::good : a.findings.front().severity;
}

}  // namespace

bool has_several_rod_holes(const HoleStudy& study) { return has_several(study, &HoleCombination::rod_hole); }

std::string name_holes(const HoleStudy& study, const HoleNumbers& n) {
    const bool tractor = has_several(study, &HoleCombination::tractor_pin);
    const bool mast = has_several(study, &HoleCombination::mast_pin);
    const std::string on_tractor = "tractor hole " + printable_text(n.tractor_pin, longest_name);
    const std::string on_mast = "mast hole " + printable_text(n.mast_pin, longest_name);
    const std::string holes = tractor && !mast ? on_tractor : mast && !tractor ? on_mast : on_tractor + ", " + on_mast;
    if (!has_several_rod_holes(study)) return holes;
    const std::string rod = "lift-rod hole " + printable_text(n.rod_hole, longest_name);
    return tractor || mast ? holes + ", " + rod : rod;
}

std::string_view say_wish(HoleWish wish) {
    switch (wish) {
        case HoleWish::general:
            return "least to change, then a balance of joint angle, change of pitch and lift";
        case HoleWish::level_carry:
            return "the least change of pitch from work to the top of the travel";
        case HoleWish::tail_high:
            return "the tail as high as it gets at the top of the travel";
        case HoleWish::most_lift:
            return "the most lift for the load where the linkage lifts worst";
        case HoleWish::shallow_joints:
            return "the least joint angle over the travel";
    }
    return "";
}

std::string_view say_standing_shortly(HoleStanding s) {
    switch (s) {
        case HoleStanding::fits:
            return "fits";
        case HoleStanding::cut:
            return "cut";
        case HoleStanding::change:
            return "change";
        case HoleStanding::not_decided:
            return "open";
        case HoleStanding::other_shaft:
            return "shaft";
        case HoleStanding::link_out_of_reach:
            return "link";
        case HoleStanding::must_not_run:
        case HoleStanding::does_not_close:
            return "no";
    }
    return "no";
}

std::string_view say_standing(HoleStanding s) {
    switch (s) {
        case HoleStanding::fits:
            return "fits as it is, conditions included";
        case HoleStanding::cut:
            return "fits after cutting the shaft";
        case HoleStanding::change:
            return "fits after a change";
        case HoleStanding::not_decided:
            return "not decided: too close to call, or a reading is missing";
        case HoleStanding::other_shaft:
            return "not with this shaft";
        case HoleStanding::link_out_of_reach:
            return "not with this upper link";
        case HoleStanding::must_not_run:
            return "must not run";
        case HoleStanding::does_not_close:
            return "the linkage does not get through the travel";
    }
    return "";
}

std::string compare_in_words(const HoleResult& mine, const HoleResult& other, HoleMeasure measure, const SafeWords& words) {
    if (measure == HoleMeasure::standing) {
        return fmt::format("{}; the other: {}", say_standing(mine.standing), say_standing(other.standing));
    }
    const std::optional<double> a = find_hole_measure(mine, measure), b = find_hole_measure(other, measure);
    if (!a) {
        const bool stops = measure == HoleMeasure::lift_ratio && mine.numbers.lift.load_stops();
        return stops ? "the load does not rise everywhere in the travel" : "";
    }
    std::string text = fmt::format(fmt::runtime(find_sentence(measure, mine.numbers)), say_value(*a, measure, words));
    if (b) text += ", not " + say_value(*b, measure, words);
    return text;
}

HoleReasons list_hole_reasons(const HoleResult& mine, const HoleResult& other, HoleWish wish, const SafeWords& words) {
    HoleReasons reasons;
    for (const HoleMeasure m : list_spoken(wish)) {
        if (m == HoleMeasure::pitch_top && mine.numbers.tail) continue;  // it only stands for the tail
        const int order = compare_hole_measure(mine, other, m);
        const std::string text = order == 0 ? std::string() : compare_in_words(mine, other, m, words);
        if (!text.empty()) (order < 0 ? reasons.better : reasons.worse).push_back(text);
    }
    return reasons;
}

std::string say_obstacles(const Setup& setup, const HoleResult& r, UnitSystem units, std::size_t most) {
    const Setup chosen = find_hole_setup(setup, r);
    const FindingContext context = make_finding_context(chosen, r.analysis, units);
    // A link out of reach is what puts the holes there, even if more is wrong.
    const bool link = r.standing == HoleStanding::link_out_of_reach;
    std::vector<std::string> said;
    std::size_t left_out = 0;
    const auto say = [&](const Finding& f) {
        const std::string text = describe_finding(f, context).headline;
        if (std::find(said.begin(), said.end(), text) != said.end()) return;
        if (said.size() < most) said.push_back(text);
        else ++left_out;
    };
    // Nor does anything else count while a coupler does not hold the mast.
    for (const Finding& f : r.analysis.findings) {
        const bool seat = f.kind == FindingKind::coupler_seat && f.severity == find_worst(r.analysis) && f.severity < Severity::condition;
        if (seat || (link && f.kind == FindingKind::upper_link_reach)) say(f);
    }
    for (const Finding& f : r.analysis.findings) {
        if (f.severity == find_worst(r.analysis) && f.severity < Severity::condition) say(f);
    }
    std::string text;
    for (const std::string& s : said) text += (text.empty() ? "" : "; ") + s;
    if (left_out > 0) text += fmt::format("; and {} more", left_out);
    return text;
}

std::string say_why_behind(const Setup& setup, const HoleStudy& study, const HoleResult& r, UnitSystem units) {
    if (study.results.empty() || r.place == study.results.front().place) return {};
    if (r.standing >= HoleStanding::not_decided) return say_obstacles(setup, r, units, 2);
    if (r.decided_by == HoleMeasure::standing) {
        return fmt::format("{}: {}", say_standing(r.standing), say_obstacles(setup, r, units, 2));
    }
    const SafeWords words{units};
    if (r.decided_by != HoleMeasure::points) return compare_in_words(r, study.results.front(), r.decided_by, words);
    // Points are a sum: what they are made of says more.
    std::string text;
    for (const std::string& reason : list_hole_reasons(r, study.results.front(), study.judged_by, words).worse) {
        if (reason.starts_with("the upper link")) continue;
        text += (text.empty() ? "" : "; ") + reason;
    }
    return text;
}

std::string say_best_holes(const HoleStudy& study) {
    if (study.results.empty()) return "No combination of holes can be studied";
    const HoleResult& best = study.results.front();
    const std::string name = name_holes(study, best.numbers);
    switch (best.standing) {
        case HoleStanding::fits:
        case HoleStanding::cut:
        case HoleStanding::change:
            return fmt::format("FIRST CHOICE: {}: {}", name, say_standing(best.standing));
        case HoleStanding::not_decided:
            return best.numbers.has_numbers ? fmt::format("NOT DECIDED. By the linkage alone: {}", name)
                                            : "NOT DECIDED: no combination has numbers";
        case HoleStanding::other_shaft:
            return fmt::format("NO HOLE WORKS WITH THIS SHAFT. With another: {}", name);
        case HoleStanding::link_out_of_reach:
            return fmt::format("NO HOLE WORKS WITH THIS UPPER LINK. With another: {}", name);
        case HoleStanding::must_not_run:
        case HoleStanding::does_not_close:
            return "NO HOLE WORKS";
    }
    return "NO HOLE WORKS";
}

Setup find_hole_setup(const Setup& setup, const HoleResult& r) { return choose_holes(setup, r.numbers.holes); }

}  // namespace hitchwright
