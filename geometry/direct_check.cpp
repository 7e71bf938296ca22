// See direct_check.h.
#include "geometry/direct_check.h"

#include <algorithm>

#include "geometry/direct_place.h"
#include "geometry/model_fit.h"

namespace hitchwright {

std::optional<double> predict_direct_reading(const Setup& s, const MountedModel& m, const DirectReading& r) {
    return predict_at({DirectKind::shaft_length, r.reference, r.ball_height.value, 0.0, 0.0, {}}, r.distance.value, s, m);
}

DirectComparison make_direct_comparison(const Setup& setup, const ModelFit& fit) {
    DirectComparison c;
    const auto name_of = [&](const std::string& key) {
        for (const DirectReading& r : setup.direct_readings) {
            if (key == "direct_reading[" + r.name + "]") return r.name;
        }
        for (const TurnReading& r : setup.turn_readings) {
            if (key == "turn_reading[" + r.name + "]") return r.name;
        }
        return key;
    };
    for (const Observation& o : list_observations(setup)) {
        const auto at = std::find_if(fit.readings.begin(), fit.readings.end(), [&](const FittedReading& r) { return r.key == o.key; });
        if (o.list == ObservationList::pose || at == fit.readings.end() || !at->simulated) continue;
        c.checks.push_back({o.index, at->predicted, at->read - at->predicted, at->band, at->widest, at->fits});
        c.agree = c.agree && at->fits;
    }
    c.agree = c.agree && (fit.used || c.checks.empty());
    c.cause = fit.cause;
    c.points = fit.points;
    c.subject = name_of(fit.subject);
    return c;
}

}  // namespace hitchwright
