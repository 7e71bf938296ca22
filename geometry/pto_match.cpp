// PTO side of compatibility.h.
#include <algorithm>
#include <optional>
#include <string>

#include "geometry/carried_bands.h"
#include "geometry/category.h"
#include "geometry/compatibility.h"

namespace hitchwright {
namespace {

const Limit makers{0.0, true, Grade::B, "operator manuals of several makers: same type, speed and splines, no adapters"};

Finding make(FindingKind kind, Severity severity, std::string subject, std::string other) {
    Finding f;
    f.kind = kind;
    f.severity = severity;
    f.subject = std::move(subject);
    f.other = std::move(other);
    f.dimension = Dimension::ratio;
    f.rule = makers;
    return f;
}

/// The maker's parts at both ends must match; only a mismatch forbids.
void check_type(const Setup& s, std::vector<Finding>& out) {
    const PtoType t = s.tractor.pto.type, i = s.implement.pic.type;
    if (t == PtoType::unknown || i == PtoType::unknown) return;
    const bool declared = s.has_driveline && s.driveline.adapter_declared == YesNo::yes;
    // A shaft with the right yoke at each end joins unlike types lawfully only at the speed of both, which the speed
    // finding judges; the type alone is then worth a word.
    const Severity severity = t == i ? Severity::good : declared ? Severity::watch : Severity::change;
    Finding f = make(FindingKind::pto_type_match, severity, find_pto_figures(i).name, find_pto_figures(t).name);
    if (severity == Severity::change) f.remedies.push_back({RemedyKind::match_part, 0, 0, "a shaft with the right yoke at each end, no adapter"});
    out.push_back(f);
}

int find_speed(const Setup& s) {
    return s.choices.pto_speed_rpm != 0 ? s.choices.pto_speed_rpm : s.implement.pic.speed_rpm;
}

/// Speeds typed, else the one the tractor's PTO type is made for.
std::vector<int> list_speeds(const PtoReadings& p) {
    const int of_type = find_pto_figures(p.type).speed_rpm;
    if (!p.speeds_rpm.empty() || of_type == 0) return p.speeds_rpm;
    return {of_type};
}

/// Splines counted, else those of the type; 0: neither.
int find_splines(int counted, PtoType type) { return counted != 0 ? counted : find_pto_figures(type).splines; }

void check_speed(const Setup& s, std::vector<Finding>& out) {
    const int chosen = find_speed(s);
    const int wanted = s.implement.pic.speed_rpm;
    if (chosen == 0) {
        out.push_back(make(FindingKind::pto_speed_match, Severity::watch, "", ""));
        return;
    }
    const std::vector<int> has = list_speeds(s.tractor.pto);
    const bool offered = has.empty() || std::find(has.begin(), has.end(), chosen) != has.end();
    const bool right = wanted == 0 || wanted == chosen;
    const Severity matched = has.empty() ? Severity::watch : Severity::good;  // not compared with anything
    Finding f = make(FindingKind::pto_speed_match, offered && right ? matched : Severity::forbids,
                     std::to_string(wanted == 0 ? chosen : wanted), "");
    f.dimension = Dimension::rotation_speed;
    f.other = right ? "" : std::to_string(chosen);
    for (std::size_t k = 0; right && k < has.size(); ++k) f.other += (k > 0 ? ", " : "") + std::to_string(has[k]);
    if (f.severity == Severity::forbids) f.remedies.push_back({RemedyKind::match_part, 0, 0, "the PTO speed the implement is made for"});
    out.push_back(f);
}

void check_splines(const char* end, int machine, int joint, YesNo adapter, std::vector<Finding>& out) {
    if (machine == 0 || joint == 0) return;
    const bool same = machine == joint;
    const Severity severity = same ? Severity::good : adapter == YesNo::yes ? Severity::watch : Severity::forbids;
    Finding f = make(FindingKind::pto_spline_match, severity, end, "");
    f.value = joint;
    f.has_limit = true;
    f.limit = machine;
    f.margin = same ? 0.0 : -1.0;
    if (severity == Severity::forbids) f.remedies.push_back({RemedyKind::match_part, static_cast<double>(machine), 0, "a yoke with the shaft's splines, no adapter"});
    out.push_back(f);
}

void check_rotation(const Setup& s, std::vector<Finding>& out) {
    const Rotation t = s.tractor.pto.rotation, i = s.implement.pic.rotation;
    if (t == Rotation::unknown || i == Rotation::unknown) return;
    const auto word = [](Rotation r) { return r == Rotation::clockwise ? "clockwise" : "counterclockwise"; };
    Finding f = make(FindingKind::pto_rotation_match, t == i ? Severity::good : Severity::forbids, word(i), word(t));
    if (t != i) f.remedies.push_back({RemedyKind::match_part, 0, 0, "the implement's rotation"});
    out.push_back(f);
}

/// What the driveline may carry at the speed in use; null: not known.
const Reading* find_power_class(const Setup& s, int speed) {
    if (!s.has_driveline || (speed != 540 && speed != 1000)) return nullptr;
    const Reading& carries = speed == 1000 ? s.driveline.power_1000 : s.driveline.power_540;
    return carries.known ? &carries : nullptr;
}

/// What has to go through it: what the tractor gives or the implement takes, the lesser where both are known.
std::optional<double> find_power_needed(const Setup& s) {
    const Reading& gives = s.tractor.pto.power;
    const Reading& takes = s.implement.pic.power;
    if (!gives.known) return takes.known ? std::optional<double>(takes.value) : std::nullopt;
    return takes.known ? std::min(gives.value, takes.value) : gives.value;
}

void check_power(const Setup& s, std::vector<Finding>& out) {
    const int speed = find_speed(s);
    const Reading* carries = find_power_class(s, speed);
    const std::optional<double> needed = find_power_needed(s);
    if (!carries || !needed) return;
    const Reading& gives = s.tractor.pto.power;
    const Reading& takes = s.implement.pic.power;
    Finding f = make(FindingKind::driveline_power, Severity::good, std::to_string(speed), "");
    f.dimension = Dimension::power;
    f.value = carries->value;
    f.has_limit = true;
    f.limit = *needed;
    f.margin = carries->value - *needed;
    if (gives.known) f.terms.push_back({"P_tractor", gives.value, Dimension::power, "power at the PTO"});
    if (takes.known) f.terms.push_back({"P_implement", takes.value, Dimension::power, "power the implement takes"});
    f.terms.push_back({"P_driveline", carries->value, Dimension::power, "power the driveline may carry at that speed"});
    if (f.margin < 0.0) {
        f.severity = Severity::change;
        f.remedies.push_back({RemedyKind::match_part, *needed, 0, "a driveline of the power class, or a torque limiter the makers allow"});
    } else if (gives.known && carries->value < gives.value) {
        f.severity = Severity::watch;
    }
    out.push_back(f);
}

/// Value less limit of one of these findings; splines are counted, not measured.
std::optional<double> find_difference(const Finding& f, const Setup& s) {
    if (f.kind != FindingKind::driveline_power) return f.value - f.limit;
    const Reading* carries = find_power_class(s, find_speed(s));
    const std::optional<double> needed = find_power_needed(s);
    return carries && needed ? std::optional<double>(carries->value - *needed) : std::nullopt;
}

std::vector<Finding> check_all(const Setup& s) {
    std::vector<Finding> out;
    if (!s.implement.pic.fitted) return out;
    check_type(s, out);
    check_speed(s, out);
    if (s.has_driveline) {
        const YesNo adapter = s.driveline.adapter_declared;
        check_splines("tractor end", find_splines(s.tractor.pto.splines, s.tractor.pto.type), s.driveline.tractor_joint.splines, adapter, out);
        check_splines("implement end", find_splines(s.implement.pic.splines, s.implement.pic.type), s.driveline.implement_joint.splines, adapter, out);
    }
    check_rotation(s, out);
    check_power(s, out);
    return out;
}

}  // namespace

std::vector<Finding> check_pto_match(const ErrorModel& errors) {
    std::vector<Finding> found = check_all(errors.setup());
    carry_differences(errors, found, find_difference, {"tractor.pto.", "implement.pic.", "driveline.power_"});
    for (Finding& f : found) {
        if (f.kind == FindingKind::driveline_power) doubt_if_close(f, errors);
    }
    return found;
}

}  // namespace hitchwright
