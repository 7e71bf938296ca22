#include "geometry/carried_bands.h"

#include <algorithm>
#include <iterator>

#include "geometry/finding_band.h"
#include "geometry/moved_models.h"

namespace hitchwright {

namespace {

bool starts_with_any(std::string_view key, const std::vector<std::string_view>& starts) {
    return std::any_of(starts.begin(), starts.end(), [&](std::string_view start) { return key.starts_with(start); });
}

}  // namespace

NumbersOf ask_models(const ErrorModel& errors, const PinDecision& decided, const ModelNumbers& numbers, RangeSearch side_search) {
    return [&errors, &decided, &numbers, side_search](const MovedSetup& moved, std::span<std::optional<double>> out) {
        const MountedModelResult& r = errors.moved_models().find(moved, decided, side_search);
        if (r.linkage_ok) numbers(moved, r.model, out);
    };
}

Propagation propagate_model(const ErrorModel& errors, const PinDecision& decided, std::size_t count, const ModelNumbers& numbers,
                            const ReadsKey& reads, RangeSearch side_search) {
    return propagate(errors, count, ask_models(errors, decided, numbers, side_search), reads);
}

ReadsKey reads_model_and(const ErrorModel& errors, const MountedModel& model, std::vector<std::string_view> also) {
    return [&errors, &model, also = std::move(also)](std::string_view key) {
        return may_move_model(errors.setup(), model, key) || starts_with_any(key, also);
    };
}

ReadsKey reads_linkage_and(const ErrorModel& errors, const MountedModel& model, std::vector<std::string_view> also) {
    return [&errors, &model, also = std::move(also)](std::string_view key) {
        return (!moves_shaft_alone(key) && may_move_model(errors.setup(), model, key)) || starts_with_any(key, also);
    };
}

bool may_move_drawn(std::string_view key) {
    constexpr std::string_view beside[] = {"tractor.hitch.",    "tractor.lower_link.", "tractor.upper_link", "tractor.lift_",   "tractor.travel.",
                                           "tractor.check_chain.", "tractor.cab_line", "implement.hitch.", "implement.mast_pin", "implement.mass."};
    return std::none_of(std::begin(beside), std::end(beside), [&](std::string_view start) { return key.starts_with(start); });
}

void carry_differences(const ErrorModel& errors, std::vector<Finding>& findings, const DifferenceOf& difference,
                       const std::vector<std::string_view>& reads) {
    std::vector<Finding*> asked;
    for (Finding& f : findings) {
        if (f.has_limit && !(f.band > 0.0)) asked.push_back(&f);
    }
    if (asked.empty()) return;
    const Propagation p = propagate(errors, asked.size(), [&](const MovedSetup& moved, std::span<std::optional<double>> out) {
        for (std::size_t i = 0; i < asked.size(); ++i) {
            if (moved.asks(i)) out[i] = difference(*asked[i], moved.setup);
        }
    }, [&](std::string_view key) { return starts_with_any(key, reads); });
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
