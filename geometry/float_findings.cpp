// Findings about a floating link on uneven ground; see mounted_findings.h.
#include <optional>

#include "geometry/finding_band.h"
#include "geometry/mounted_findings.h"

namespace hitchwright {
namespace {

Finding check_ground(const ErrorModel& errors, const GroundFollowing& g, const FloatOnGround& on, const ErrorBand& band, bool hump, bool typed) {
    Finding f;
    f.kind = FindingKind::floating_link_slot;
    f.subject = hump ? "hump" : "hollow";
    f.other = typed ? "typed" : "assumed";
    f.rule = Limit{0.0, true, Grade::D, "closure of the linkage"};
    f.terms = {{"ground_angle", hump ? g.hump_angle : g.hollow_angle, Dimension::angle, "of the ground behind the rear axle"},
               {"slack_needed", g.slack_needed, Dimension::length, "free travel from hump to hollow"}};
    const std::optional<double>& end = hump ? g.falls_to : g.rises_to;
    if (end) f.terms.push_back({"slope_at_stop", *end, Dimension::angle, "slope at which the link meets this stop, rising positive"});
    if (on.pose.state == FloatState::no_pitch) {
        f.other = "no_pitch";
        f.severity = Severity::watch;
        return f;
    }
    f.value = f.margin = hump ? on.left_to_stretch : on.left_to_close;
    f.has_limit = true;
    set_band(f, band);
    const bool unsure = is_too_close(f);
    if (f.margin >= 0.0 && !unsure) return f;
    f.severity = typed ? Severity::change : Severity::watch;
    if (typed && unsure) call_too_close(f, errors);
    if (g.length_to_set) f.remedies.push_back({RemedyKind::set_upper_link, *g.length_to_set, 0.0, ""});
    else f.remedies.push_back({RemedyKind::match_part, g.slack_needed, 0.0, "a slot or chain with this much free travel"});
    return f;
}

}  // namespace

std::vector<Finding> check_float_study(const ErrorModel& errors, const FloatStudy& study) {
    if (!study.ground) return {};
    const GroundFollowing& g = *study.ground;
    return {check_ground(errors, g, g.hump, study.bands.hump, true, g.hump_typed), check_ground(errors, g, g.hollow, study.bands.hollow, false, g.hollow_typed)};
}

}  // namespace hitchwright
