// How far the readings' errors move one number of the loads: first order, as error_band.h, masses with an error of
// their own.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/reading_band.h"
#include "geometry/visit_readings.h"

namespace hitchwright {

/// Two sigma of a reading. A mass nobody gave an error for: 3 % where it was weighed, else a brochure's 10 % (common
/// practice, no source).
inline double find_load_error(const Reading& r, const FieldSpec& spec) {
    if (r.tolerance > 0.0 || spec.dimension != Dimension::mass) return r.tolerance;
    return (r.origin == Origin::measured ? 0.03 : 0.10) * r.value;
}

/// Band of `value(const Setup&) -> std::optional<double>`. A reading with which there is no number counts nothing.
/// Limits of the maker (keys ending in "most") are no readings.
template <class F>
ErrorBand find_load_band(const Setup& setup, const F& value) {
    ErrorBand band;
    double squares = 0.0;
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known || key.ends_with("_most")) return;
        const double error = find_load_error(r, spec), was = r.value;
        const double low = std::max(was - error, spec.least), high = std::min(was + error, spec.most);
        if (!(low < high)) return;
        r.value = low;
        const std::optional<double> at_low = value(moved);
        r.value = high;
        const std::optional<double> at_high = value(moved);
        r.value = was;
        if (!at_low || !at_high) return;
        const double share = std::fabs(*at_high - *at_low) * error / (high - low);
        squares += share * share;
        if (share > band.widest.share) band.widest = {key, share};
    });
    band.width = std::sqrt(squares);
    return band;
}

}  // namespace hitchwright
