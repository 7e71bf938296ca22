// See caution_text.h.
#include "report/caution_text.h"

#include <algorithm>

namespace hitchwright {
namespace {

struct CautionText {
    Caution caution;
    std::string_view word;
    std::string_view sentence;
};

constexpr CautionText texts[] = {
    {Caution::stop_before_touching, "stop_before_touching",
     "Engine off, key out, all at rest before you connect, measure, cut, grease."},
    {Caution::keep_from_turning_shaft, "keep_from_turning_shaft",
     "Keep away from a turning shaft, guarded or not. Never step over it."},
    {Caution::guards_complete, "guards_complete",
     "Guards complete, free to turn, chained. Cut guard tubes with the tubes; leave no bare gap."},
    {Caution::parts_or_breaks, "parts_or_breaks",
     "Too short, a shaft parts and flails; too long, it breaks bearings and housings."},
    {Caution::tug_both_ends, "tug_both_ends",
     "After coupling, pull hard on both ends of the shaft: both locks must hold."},
    {Caution::nobody_between, "nobody_between", "Nobody between tractor and implement while either can move."},
    {Caution::never_under_raised, "never_under_raised",
     "Never get under an implement held up by hydraulics alone. Use stands."},
    {Caution::pto_off_above_height, "pto_off_above_height", "Switch the PTO off before the hitch reaches that height."},
    {Caution::lift_stop_before_use, "lift_stop_before_use",
     "Set the lift stop and try it, PTO off, before the shaft first turns."},
    {Caution::weigh_before_relying, "weigh_before_relying", "Weigh the machines before you rely on a ballast figure."},
    {Caution::measure_before_cutting, "measure_before_cutting",
     "Do not cut before readings taken directly, shaft to shaft, agree with this."},
    {Caution::manual_rules, "manual_rules",
     "An aid only: the makers' manuals, local code and licensed practice decide."},
    {Caution::rops_and_belt, "rops_and_belt", "ROPS up, belt on."},
    {Caution::turn_with_pto_off, "turn_with_pto_off", "Switch the PTO off before you turn sharper than that."},
    {Caution::cross_ditches_slowly, "cross_ditches_slowly",
     "Cross ditches slowly, at an angle, PTO off. Never back into one or over a bank."},
    {Caution::hitch_to_drawbar_only, "hitch_to_drawbar_only", "Pull from the drawbar only, never from anything higher."},
    {Caution::safety_chains, "safety_chains", "Pin with its retainer in, safety chain on, jack up, before you move off."},
};

const CautionText& find_text(Caution caution) {
    const auto* const end = std::end(texts);
    const auto* const found =
        std::find_if(std::begin(texts), end, [caution](const CautionText& t) { return t.caution == caution; });
    return found == end ? texts[0] : *found;
}

/// A shaft is part of the answer, or would be if its readings were there.
bool concerns_shaft(const Analysis& a) {
    return a.shaft.has_value() || (a.drawn && a.drawn->model.has_shaft) || std::any_of(a.findings.begin(), a.findings.end(), [](const Finding& f) {
               return f.subject.starts_with("driveline") || f.subject.starts_with("tractor.pto") ||
                      f.kind == FindingKind::pto_speed_match;
           });
}

/// A cut is proposed, or a caution of a finding speaks of one.
bool concerns_cut(const Analysis& a) {
    return std::any_of(a.findings.begin(), a.findings.end(), [](const Finding& f) {
        return f.kind == FindingKind::cut || f.kind == FindingKind::no_cut_works ||
               std::find(f.cautions.begin(), f.cautions.end(), Caution::measure_before_cutting) != f.cautions.end();
    });
}

}  // namespace

std::string_view caution_word(Caution caution) { return find_text(caution).word; }

std::string_view caution_sentence(Caution caution) { return find_text(caution).sentence; }

const std::vector<Caution>& all_cautions() {
    static const std::vector<Caution> all = [] {
        std::vector<Caution> list;
        for (const CautionText& t : texts) list.push_back(t.caution);
        return list;
    }();
    return all;
}

std::vector<Caution> list_closing_cautions(const Analysis& analysis) {
    std::vector<Caution> list{Caution::stop_before_touching};
    if (concerns_shaft(analysis)) {
        list.insert(list.end(), {Caution::keep_from_turning_shaft, Caution::guards_complete, Caution::tug_both_ends,
                                 Caution::parts_or_breaks});
    }
    if (concerns_cut(analysis)) list.push_back(Caution::measure_before_cutting);
    if (analysis.drawn) {
        list.insert(list.end(), {Caution::turn_with_pto_off, Caution::cross_ditches_slowly, Caution::hitch_to_drawbar_only,
                                 Caution::safety_chains});
    }
    list.insert(list.end(),
                {Caution::nobody_between, Caution::never_under_raised, Caution::rops_and_belt, Caution::manual_rules});
    return list;
}

std::vector<Caution> list_sweep_cautions(bool with_shaft) {
    std::vector<Caution> list{Caution::stop_before_touching, Caution::nobody_between, Caution::manual_rules};
    if (with_shaft) list.insert(list.begin() + 1, Caution::keep_from_turning_shaft);
    return list;
}

std::vector<Caution> list_cutting_cautions() {
    return {Caution::stop_before_touching, Caution::measure_before_cutting, Caution::guards_complete,
            Caution::tug_both_ends,        Caution::parts_or_breaks,        Caution::keep_from_turning_shaft,
            Caution::manual_rules};
}

}  // namespace hitchwright
