// Variants of a set-up: what is one switch away from it, and what that switch changes.
//
// A switch is a part put on or taken off, other tyres, another hole or position, another shaft. Everything else stays as it
// is: with a length of the upper link typed, that length stays and the linkage may not close any more, which is the
// answer; without one the link is set anew for the working pitch. Distances that were taped from stub to input shaft hold
// for the machine as it was and are left out of every variant but another shaft. Another shaft comes uncut.
// Every answer is a whole analysis (analysis.h); nothing is estimated.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/finding_difference.h"
#include "geometry/part_effect.h"
#include "geometry/shaft_choice.h"
#include "geometry/special_members.h"

namespace hitchwright {

/// What is switched, in walking order from the tractor.
enum class VariantKind {
    link_extender,
    coupler,
    overrunning_clutch,
    spline_extender,
    tyres,
    upper_link_pin,
    lift_rod_hole,
    mast_pin,
    drawbar_pin,
    driveline
};

/// One switch.
struct Variant {
    VariantKind kind{};
    bool fitted = false;  ///< of a part: what it becomes
    std::string from;     ///< what is there now: hole, position, tyres (empty: its own), key of the shaft; empty: none
    std::string to;       ///< what is there then; of a part its name
    Driveline driveline = {};  ///< the other shaft
    bool operator==(const Variant&) const = default;
};

/// Fixed word of a kind: coupler, link_extender, overrunning_clutch, spline_extender, tyres, upper_link_pin, mast_pin,
/// lift_rod_hole, drawbar_pin, driveline.
std::string_view variant_word(VariantKind kind);
/// The kind of that word; false: there is none.
bool find_variant_kind(std::string_view word, VariantKind& kind);
/// True for the four parts that are on or off.
bool is_part(VariantKind kind);

/// The switch as it is typed: "coupler", "tyres=narrow", "tyres=" for its own, "mast_pin=2", "driveline=KEY".
std::string format_switch(const Variant& variant);

/// Every switch that the set-up has the readings for, in walking order: parts either way (off, when their measures are
/// there), every other tyre set and its own tyres, every other hole and position, and every shaft of `shafts` that is
/// not its own.
std::vector<Variant> list_variants(const Setup& setup, const std::vector<ShaftCandidate>& shafts = {});

/// The set-up with the switch thrown.
Setup apply_variant(const Setup& setup, const Variant& variant);

/// True when the switch leaves the upper link to be set anew: no length is typed and the linkage is another one.
bool sets_link_anew(const Setup& setup, const Variant& variant);
/// True when distances taped on the machine as it is are left out of it.
bool drops_distances(const Setup& setup, const Variant& variant);

/// A variant with its answer.
struct VariantAnswer {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(VariantAnswer);
    Variant variant;
    Setup setup;
    Analysis analysis;
};

/// Distances that contradict the linkage as it is say that a reading is wrong; leaving them out does not mend it. What they
/// found in `base` stays with `after`, the same set-up with a switch thrown.
void keep_contradiction(const Analysis& base, Analysis& after);

/// Analyses every variant; add-on parts are not compared once more in each.
std::vector<VariantAnswer> study_variants(const Setup& setup, const std::vector<Variant>& variants, const Mark& mark);

/// What flips from one list of findings to the other and matters for the verdict: another severity, or appeared or gone
/// and not merely worth knowing; worst in the new list first. The lists must outlive the answer.
std::vector<FindingDifference> find_flips(const std::vector<Finding>& before, const std::vector<Finding>& after);

}  // namespace hitchwright
