// See trust_draws.h.
#include "tests/validation/trust_draws.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <stdexcept>

#include "geometry/visit_readings.h"

namespace validation {

using namespace hitchwright;

bool is_long_run() { return std::getenv("HITCHWRIGHT_LONG") != nullptr; }

double find_stated_error(const Reading& reading, const FieldSpec& spec, const std::string& key) {
    if (reading.tolerance > 0.0) return reading.tolerance;
    if (spec.dimension != Dimension::mass || key.ends_with("_most")) return 0.0;
    return reading.origin == Origin::measured ? 0.03 * reading.value : 0.10 * reading.value;
}

Drawn::Drawn(const Setup& setup, bool exact) : setup_(setup) {
    visit_readings(setup_, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known) return;
        const double error = find_stated_error(r, spec, key);
        if (!(error > 0.0)) return;
        moved_.push_back({key, &r, r.value, 0.5 * error, std::min(r.value, spec.least), std::max(r.value, spec.most)});
        // A mass without a tolerance is taken as uncertain: one that is next to nothing instead.
        if (exact) r.tolerance = spec.dimension == Dimension::mass ? 1e-12 : 0.0;
    });
}

const Setup& Drawn::draw(std::mt19937_64& random) {
    std::normal_distribution<double> normal;
    for (const Moved& m : moved_) m.at->value = std::clamp(m.value + m.sigma * normal(random), m.least, m.most);
    return setup_;
}

namespace {

/// Share of a normal number beyond two standard deviations to one side.
constexpr double outside = 0.02275013194817921;

struct End {
    double at, error, density;
};

/// Quantile at `share` and its standard error: half the distance of the order statistics one standard deviation of the rank to
/// both sides.
End find_end(const std::vector<double>& sorted, double share) {
    const double n = static_cast<double>(sorted.size()), deviation = std::sqrt(n * share * (1.0 - share));
    const auto value = [&](double place) {
        place = std::clamp(place, 0.0, n - 1.000001);
        const auto k = static_cast<std::size_t>(place);
        return sorted[k] + (place - static_cast<double>(k)) * (sorted[k + 1] - sorted[k]);
    };
    const double place = share * n - 0.5, from = std::max(0.0, place - deviation), to = std::min(n - 1.0, place + deviation);
    const double slope = (value(to) - value(from)) / (to - from);  // of the value by the rank
    return {value(place), slope * deviation, 1.0 / (slope * n)};
}

/// The same end of a normal sample with this half width: what spacing says of few draws is itself uncertain.
double find_normal_error(double half, double n) {
    constexpr double density = 0.05399096651318806;  // at two standard deviations
    return 0.5 * half * std::sqrt(outside * (1.0 - outside) / n) / density;
}

}  // namespace

Middle find_middle(std::vector<double> sample) {
    if (sample.size() < 180) throw std::invalid_argument("a sample too small for its ends");
    std::sort(sample.begin(), sample.end());
    const End low = find_end(sample, outside), high = find_end(sample, 1.0 - outside);
    // Order statistics of one sample go together: covariance p (1 - q) / (n f_p f_q).
    const double together = outside * outside / (static_cast<double>(sample.size()) * low.density * high.density);
    const double squared = low.error * low.error + high.error * high.error - 2.0 * together;
    const double normal = find_normal_error(0.5 * (high.at - low.at), static_cast<double>(sample.size()));
    return {low.at, high.at, std::max(low.error, normal), std::max(high.error, normal),
            std::max(0.5 * std::sqrt(std::max(0.0, squared)), normal / std::sqrt(2.0))};
}

}  // namespace validation
