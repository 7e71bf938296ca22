// How far the readings' errors move one number of the loads: first order, as error_band.h, masses with an error of
// their own.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>

#include "geometry/reading_band.h"
#include "geometry/visit_readings.h"

namespace hitchwright {

/// Two sigma of a reading. A mass nobody gave an error for: 3 % where it was weighed, else a brochure's 10 % (common
/// practice, no source).
inline double find_load_error(const Reading& r, const FieldSpec& spec) {
    if (r.tolerance > 0.0 || spec.dimension != Dimension::mass) return r.tolerance;
    return (r.origin == Origin::measured ? 0.03 : 0.10) * r.value;
}

/// Bands of N numbers that `values(const Setup&) -> std::optional<std::array<double, N>>` gives together: every reading is moved
/// once for all of them. A reading with which there are no numbers counts nothing. Limits of the maker (keys ending in "most")
/// are no readings.
template <std::size_t N, class F>
std::array<ErrorBand, N> find_load_bands(const Setup& setup, const F& values) {
    std::array<ErrorBand, N> bands;
    std::array<double, N> squares{};
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known || key.ends_with("_most")) return;
        const double error = find_load_error(r, spec), was = r.value;
        const double low = std::max(was - error, spec.least), high = std::min(was + error, spec.most);
        if (!(low < high)) return;
        r.value = low;
        const std::optional<std::array<double, N>> at_low = values(moved);
        r.value = high;
        const std::optional<std::array<double, N>> at_high = values(moved);
        r.value = was;
        if (!at_low || !at_high) return;
        for (std::size_t i = 0; i < N; ++i) {
            const double share = std::fabs((*at_high)[i] - (*at_low)[i]) * error / (high - low);
            squares[i] += share * share;
            if (share > bands[i].widest.share) bands[i].widest = {key, share};
        }
    });
    for (std::size_t i = 0; i < N; ++i) bands[i].width = std::sqrt(squares[i]);
    return bands;
}

/// Band of `value(const Setup&) -> std::optional<double>`.
template <class F>
ErrorBand find_load_band(const Setup& setup, const F& value) {
    return find_load_bands<1>(setup, [&](const Setup& moved) -> std::optional<std::array<double, 1>> {
        const std::optional<double> found = value(moved);
        return found ? std::optional(std::array{*found}) : std::nullopt;
    })[0];
}

}  // namespace hitchwright
