// Standard normal numbers that are the same on every machine and library (Box-Muller on 53 random bits), and quantiles.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

namespace hitchwright {

/// x with the share `p` of a standard normal below it, 0 < p < 1: Newton on the error function, to rounding.
inline double find_normal_quantile(double p) {
    double x = 0.0;
    for (int i = 0; i < 60; ++i) {
        const double density = std::exp(-0.5 * x * x) / std::sqrt(2.0 * std::numbers::pi);
        const double off = 0.5 * std::erfc(-x / std::numbers::sqrt2) - p;
        const double u = off / density, step = std::clamp(u / (1.0 + 0.5 * x * u), -1.0, 1.0);  // Halley
        x -= step;
        if (std::fabs(step) < 1e-12) break;
    }
    return x;
}

/// A fixed sequence for each seed.
class StandardNormal {
public:
    explicit StandardNormal(std::uint64_t seed) : random_(seed) {}

    double operator()() {
        if (has_second_) {
            has_second_ = false;
            return second_;
        }
        const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform())), turn = 2.0 * std::numbers::pi * uniform();
        second_ = radius * std::sin(turn);
        has_second_ = true;
        return radius * std::cos(turn);
    }

private:
    /// In [0, 1).
    double uniform() { return static_cast<double>(random_() >> 11) * 0x1.0p-53; }

    std::mt19937_64 random_;
    double second_ = 0.0;
    bool has_second_ = false;
};

}  // namespace hitchwright
