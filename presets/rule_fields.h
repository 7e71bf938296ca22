// The one list of the limits of a rule set: key, dimension, range and meaning; the counterpart of
// setup_fields.h. Reader, key table and reports visit the same function.
//
// A visitor has `text` as in setup_fields.h, and
//   void limit(const char* key, Limit&, const FieldSpec&);
// The usual error of a limit is none; FieldSpec::measure says what it means.
#pragma once

#include "geometry/rule_set.h"
#include "geometry/setup_fields.h"

namespace hitchwright {

namespace field {
constexpr FieldSpec length_limit(double most, const char* meaning) {
    return {Dimension::length, 0.0, most, 0.0, Need::optional, meaning};
}
constexpr FieldSpec share_limit(const char* meaning) { return {Dimension::ratio, 0.0, 0.99, 0.0, Need::optional, meaning}; }
constexpr FieldSpec angle_limit(const char* meaning) {
    return {Dimension::angle, 0.0, 90.0 * degree, 0.0, Need::optional, meaning};
}
constexpr FieldSpec turn_limit(const char* meaning) {
    return {Dimension::angle, 0.0, 175.0 * degree, 0.0, Need::optional, meaning};
}
}  // namespace field

/// Visits all fields of a rule set.
template <class V>
void visit_fields(RuleSet& r, V&& v) {
    using namespace field;
    v.text("name", r.name, "name shown");
    v.text("note", r.note, "when to use it");
    v.limit("gap_required", r.gap_required, length_limit(0.3, "least gap left at the shortest point of the whole travel"));
    v.limit("gap_aimed", r.gap_aimed, length_limit(0.3, "gap a cut aims for"));
    v.limit("overlap_least", r.overlap_least, length_limit(1.0, "least overlap of the tubes at the longest point"));
    v.limit("overlap_fraction", r.overlap_fraction, share_limit("least overlap at the longest point, as a share of the free tube of the longer half"));
    v.limit("overlap_fraction_work", r.overlap_fraction_work, share_limit("the same over the working band only"));
    v.limit("overlap_fraction_aimed", r.overlap_fraction_aimed, share_limit("share a cut would like to leave at the longest point"));
    v.limit("angle_free", r.angle_free, angle_limit("joint angle up to which work is not limited"));
    v.limit("angle_pto_off", r.angle_pto_off, angle_limit("joint angle above which the PTO must be off"));
    v.limit("angle_stop", r.angle_stop, angle_limit("joint angle that must not be reached: a lift stop is needed"));
    v.limit("angle_watch", r.angle_watch, angle_limit("joint angle above which the joint is named, not limited"));
    v.limit("non_uniformity", r.non_uniformity, share_limit("non-uniformity of two joints (greatest less least speed ratio) above which it is named"));
    v.limit("clearance", r.clearance, length_limit(1.0, "least room between turning shaft's guard or implement and anything else"));
    v.limit("guard_overlap", r.guard_overlap, length_limit(1.0, "least overlap of the guard tubes"));
    v.limit("turn_plain", r.turn_plain, turn_limit("drawn implement: sharpest turn against the tractor with plain joints"));
    v.limit("turn_wide_angle", r.turn_wide_angle, turn_limit("drawn implement: sharpest turn with a wide-angle joint"));
    v.limit("relative_pitch", r.relative_pitch, angle_limit("drawn implement: pitch against the tractor, either way"));
    v.limit("front_axle_share", r.front_axle_share, share_limit("least share of the base on the front axle; the base is the tractor's empty mass, or all together, as choices.ballast.base says"));
    v.limit("rear_axle_share", r.rear_axle_share, share_limit("least share of the tractor's empty mass on the rear axle"));
}

}  // namespace hitchwright
