// See tyre_findings.h.
#include "geometry/tyre_findings.h"

#include <algorithm>

namespace hitchwright {

std::vector<Finding> check_tyres(const Setup& s, const TyreChange& t) {
    if (!t.moved()) return {};
    Finding f;
    f.kind = FindingKind::other_tyres;
    // What is known of fewer readings must not be the better answer: without its turn the tractor's stand is not known.
    f.severity = t.level_assumed ? Severity::unknown : Severity::watch;
    f.subject = t.name;
    f.other = t.level_assumed ? "level_assumed" : t.turn == 0.0 ? "level" : "turned";
    f.value = t.rise();
    f.rule = Limit{0.0, true, Grade::D, "arithmetic"};
    f.terms = {{"r1", t.rear, Dimension::length, "rear radius now"},
               {"r0", t.own_rear, Dimension::length, "rear radius the tractor was measured on"}};
    if (!t.level_assumed) {
        f.terms.push_back({"front_rise", t.front_rise, Dimension::length, "rise of the front axle"});
        f.terms.push_back({"turn", t.turn, Dimension::angle, "turn of the tractor, rear end up positive"});
    }
    const TyreReadings& own = s.tractor.tyre;
    if (own.rear_load_most.known || own.front_load_most.known)
        f.terms.push_back({"loads_left_out", 1.0, Dimension::ratio, "what the own tyres may carry does not count for these"});
    const auto set = std::find_if(s.tractor.tyre_sets.begin(), s.tractor.tyre_sets.end(), [&](const TyreSet& y) { return y.name == t.name; });
    if (set != s.tractor.tyre_sets.end()) {
        const auto taken_over = [&](const char* symbol, const Reading& r, const char* meaning) {
            if (!r.known) f.terms.push_back({symbol, 1.0, Dimension::ratio, meaning});
        };
        taken_over("front_as_before", set->front_radius, "no front radius in the set: that of the own front tyres");
        taken_over("width_as_before", set->rear_width, "no width in the set: that of the own tyres");
        taken_over("track_as_before", set->rear_track, "no track in the set: that of the own tyres");
    }
    for (const std::string& key : t.missing) f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, key});
    if (s.implement.pic.fitted) f.cautions = {Caution::measure_before_cutting};
    std::vector<Finding> out{f};
    // A stop is a place of the lever: on other tyres it holds the balls at another height than the one typed.
    const auto stop = [&](const Reading& height, RemedyKind kind, const char* which) {
        if (!height.known) return;
        Finding g;
        g.kind = FindingKind::other_tyres;
        g.severity = Severity::condition;
        g.subject = t.name;
        g.other = which;
        g.value = height.value;
        g.rule = f.rule;
        g.remedies = {{kind, height.value, 0.0, ""}};
        g.cautions = {Caution::lift_stop_before_use};
        out.push_back(g);
    };
    stop(s.choices.lift_stop, RemedyKind::lift_stop, "lift_stop");
    stop(s.choices.lower_stop, RemedyKind::lower_stop, "lower_stop");
    return out;
}

}  // namespace hitchwright
