// A zero of a smooth function of one unknown by secants, for poses that have no closed form.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>

namespace hitchwright {

/// Where to begin and when to end.
struct ZeroSearch {
    double start = 0.0;
    double first_step = 0.0;  ///< to the second point
    double end = 0.0;         ///< step below which the zero is found
    double least = 0.0, most = 0.0;  ///< the search does not leave these
};

/// `function(x)` gives an optional number; where there is none the step is halved. Nothing when no zero is found; the caller
/// checks what he needs to hold there.
template <class F>
std::optional<double> find_scalar_zero(const F& function, const ZeroSearch& search) {
    constexpr int steps = 60;
    double x0 = search.start, x1 = search.start + search.first_step;
    std::optional<double> f0 = function(x0), f1 = function(x1);
    if (!f0 || !f1) return std::nullopt;
    for (int i = 0; i < steps; ++i) {
        if (*f1 == 0.0 || *f1 == *f0) return x1;
        double next = std::clamp(x1 - *f1 * (x1 - x0) / (*f1 - *f0), search.least, search.most);
        std::optional<double> value = function(next);
        for (int half = 0; !value && half < steps; ++half) {
            next = 0.5 * (next + x1);
            value = function(next);
        }
        if (!value) return std::nullopt;
        const double step = std::fabs(next - x1);
        x0 = x1, f0 = f1;
        x1 = next, f1 = value;
        if (step <= search.end) return x1;
    }
    return std::nullopt;
}

}  // namespace hitchwright
