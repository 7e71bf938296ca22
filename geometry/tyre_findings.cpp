// See tyre_findings.h.
#include "geometry/tyre_findings.h"

namespace hitchwright {

std::vector<Finding> check_tyres(const Setup& s, const TyreChange& t) {
    if (!t.moved()) return {};
    Finding f;
    f.kind = FindingKind::other_tyres;
    f.severity = Severity::watch;
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
    for (const std::string& key : t.missing) f.remedies.push_back({RemedyKind::measure, 0.0, 0.0, key});
    f.cautions = {Caution::measure_before_cutting};
    return {f};
}

}  // namespace hitchwright
