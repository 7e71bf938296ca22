#include "geometry/carried_bands.h"

#include <algorithm>

#include "geometry/finding_band.h"

namespace hitchwright {

Propagation propagate_model(const ErrorModel& errors, const PinDecision& decided, std::size_t count, const ModelNumbers& numbers,
                            RangeSearch side_search) {
    return propagate(errors, count, [&](const Setup& moved, std::span<std::optional<double>> out) {
        const MountedModelResult r = make_mounted_model(moved, &decided, side_search);
        if (r.linkage_ok) numbers(moved, r.model, out);
    });
}

void carry_differences(const ErrorModel& errors, std::vector<Finding>& findings,
                       const std::function<std::vector<Finding>(const Setup&)>& again) {
    std::vector<Finding*> asked;
    for (Finding& f : findings) {
        if (f.has_limit && !(f.band > 0.0)) asked.push_back(&f);
    }
    if (asked.empty()) return;
    const Propagation p = propagate(errors, asked.size(), [&](const Setup& moved, std::span<std::optional<double>> out) {
        const std::vector<Finding> now = again(moved);
        for (std::size_t i = 0; i < asked.size(); ++i) {
            const auto same = std::find_if(now.begin(), now.end(), [&](const Finding& f) {
                return f.kind == asked[i]->kind && f.subject == asked[i]->subject && f.other == asked[i]->other;
            });
            if (same != now.end()) out[i] = same->value - same->limit;
        }
    });
    for (std::size_t i = 0; i < asked.size(); ++i) set_band(*asked[i], p.bands[i]);
}

void set_margin_band(Finding& f, ErrorBand band) {
    if (find_limit_side(f) == LimitSide::at_most) {
        std::swap(band.below, band.above);
        for (double& s : band.slopes) s = -s;
        std::reverse(band.sample.begin(), band.sample.end());
        for (double& x : band.sample) x = -x;
    }
    set_band(f, band);
}

void doubt_if_close(Finding& f, const ErrorModel& errors) {
    if (is_too_close(f)) call_too_close(f, errors);
}

}  // namespace hitchwright
