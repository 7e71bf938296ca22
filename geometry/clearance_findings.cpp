// Findings about room through the travel; see mounted_findings.h.
#include <algorithm>
#include <cmath>

#include "geometry/clearance_pair.h"
#include "geometry/closeness.h"
#include "geometry/finding_band.h"
#include "geometry/mounted_extremes.h"
#include "geometry/mounted_findings.h"

namespace hitchwright {
namespace {

const Limit practice{0.0, true, Grade::P, "common practice, no source"};
/// A point this deep in the ground at the working pose is a mistake of set-up and not an unlevel floor.
constexpr double ground_play = 0.00635;  // 1/4 in

/// Stops are looked for to this step (m) and stated on the safe side.
constexpr double stop_step = 0.001;

/// Neither touching nor clear when the readings can move it further than it is from touching.
void set_doubt(const ErrorModel& errors, const ErrorBand& band, Finding& f) {
    set_band(f, band);
    if (!straddles(band, f.value, LimitSide::at_least)) return;
    f.severity = Severity::unknown;
    for (Remedy& r : list_retakes(errors, band, f.value)) f.remedies.push_back(std::move(r));
}

Finding make_clearance(const Setup& s, const Clearance& c, const ErrorModel& errors, const ErrorBand& band) {
    Finding f;
    f.kind = FindingKind::clearance;
    f.subject = c.part;
    f.other = clearance_against(c.kind);
    f.value = c.least.bound;
    f.bound_error = find_bound_error(c.least);
    f.rule = s.rules.clearance.set ? s.rules.clearance : practice;
    f.has_limit = true;
    f.limit = s.rules.clearance.set ? s.rules.clearance.value : 0.0;
    f.margin = f.value - f.limit;
    f.has_height = true;
    f.height = c.least.height;
    const bool touches = f.value <= 0.0;
    f.severity = touches ? (c.side_view_only ? Severity::change : Severity::forbids)
                         : f.margin < 0.0 ? Severity::watch : Severity::good;
    if (c.side_view_only) f.terms.push_back({"side_view_only", 1.0, Dimension::ratio, "widths not known: they may pass beside each other"});
    set_doubt(errors, band, f);
    if (f.severity == Severity::good) return f;
    if (c.kind == ClearanceKind::guard_to_drawbar) f.remedies.push_back({RemedyKind::drawbar_away, 0, 0, ""});
    else f.remedies.push_back({RemedyKind::other_upper_link_pin, 0, 0, ""});
    f.cautions = {Caution::nobody_between};
    return f;
}

/// Tells over which heights a pair keeps a room: it is nowhere nearer, and does not begin inside the other part.
class RoomKeeping {
public:
    RoomKeeping(const Setup& s, const MountedModel& m, const Clearance& pair, double room)
        : box_(make_travel_box(m)), nearer_(find_heights_apart_by_less(s, m, box_, pair, std::max(room, 0.0) + length_closeness)),
          rooms_(s, m, {&pair, 1}) {}

    bool operator()(const HeightRange& heights) const {
        const auto meets = [&](const HeightRange& r) { return r.low <= heights.high && r.high >= heights.low; };
        if (std::any_of(nearer_.begin(), nearer_.end(), meets)) return false;
        return rooms_.find_at(0, {{heights.low, heights.low}, box_.upper_lengths}).value_or(0.0) > 0.0;
    }

private:
    TravelBox box_;
    std::vector<HeightRange> nearer_;
    PairRooms rooms_;
};

/// Where a stop of the lift, or of the lowering, would keep the two apart; nothing when they touch in work.
void add_stops(const Setup& s, const MountedModel& m, const Clearance& c, Finding& f) {
    const HeightRange &t = m.travel, &work = m.working_band;
    const auto last_good = [](double good, double bad, const auto& works) {
        while (std::fabs(bad - good) > stop_step) {
            const double middle = 0.5 * (good + bad);
            (works(middle) ? good : bad) = middle;
        }
        return good;
    };
    const RoomKeeping keeps_room(s, m, c, f.limit);
    const auto up_to = [&](double high) { return keeps_room({t.low, high}); };
    const auto from = [&](double low) { return keeps_room({low, t.high}); };
    const double top = std::max(work.high, t.low + stop_step), bottom = std::min(work.low, t.high - stop_step);
    if (top < t.high && up_to(top)) f.remedies.push_back({RemedyKind::lift_stop, last_good(top, t.high, up_to), 0, ""});
    if (bottom > t.low && from(bottom)) f.remedies.push_back({RemedyKind::lower_stop, last_good(bottom, t.low, from), 0, ""});
}

}  // namespace

std::vector<Finding> check_clearances(const ErrorModel& errors, const MountedModel& model,
                                      const std::vector<Clearance>& clearances) {
    std::vector<Finding> out;
    const Setup& setup = errors.setup();
    const std::vector<ErrorBand> bands = find_clearance_bands(errors, model, clearances);
    for (std::size_t i = 0; i < clearances.size(); ++i) {
        const Clearance& c = clearances[i];
        out.push_back(make_clearance(setup, c, errors, bands[i]));
        if (c.least.bound <= 0.0) add_stops(setup, model, c, out.back());
    }
    return out;
}

std::vector<Finding> check_ground(const MountedModel& m, const std::vector<GroundClearance>& ground) {
    std::vector<Finding> out;
    if (ground.empty()) return out;
    const GroundClearance& worst = ground.front();
    Finding f;
    f.kind = FindingKind::ground_clearance;
    f.subject = worst.part;
    f.other = "top";
    f.value = worst.at_top;
    f.has_limit = true;
    f.limit = 0.0;
    f.margin = worst.at_top;
    f.has_height = true;
    f.height = m.travel.high;
    f.rule = practice;
    f.severity = worst.at_top > 0.0 ? Severity::good : Severity::change;
    if (worst.at_top <= 0.0) f.remedies.push_back({RemedyKind::other_upper_link_pin, 0, 0, ""});
    f.cautions = {Caution::never_under_raised};
    out.push_back(f);
    for (const GroundClearance& g : ground) {
        if (!g.has_working || g.rests_on_ground || g.at_working >= -ground_play) continue;
        Finding w = f;
        w.severity = Severity::watch;
        w.subject = g.part;
        w.other = "working";
        w.value = w.margin = g.at_working;
        w.height = m.working_height;
        w.remedies = {{RemedyKind::working_height, 0, 0, ""}};
        w.cautions.clear();
        out.push_back(w);
    }
    return out;
}

}  // namespace hitchwright
