#include "geometry/finding_band.h"

#include <cmath>

#include "geometry/next_reading.h"

namespace hitchwright {

namespace {

/// A margin is not the value's distance from the limit where that may be missed by so much either way.
bool is_either_way(const Finding& f) {
    const double rising = f.value - f.limit, close = 1e-12 * (std::fabs(f.value) + std::fabs(f.limit));
    return std::fabs(rising - f.margin) > close && std::fabs(rising + f.margin) > close;
}

/// The margin of a cut is what it leaves of gap or overlap; its value and limit are cuts.
bool is_cut(const Finding& f) { return f.kind == FindingKind::cut || f.kind == FindingKind::no_cut_works; }

}  // namespace

LimitSide find_limit_side(const Finding& f) {
    if (is_cut(f)) return LimitSide::at_least;
    const double rising = f.value - f.limit, close = 1e-12 * (std::fabs(f.value) + std::fabs(f.limit));
    if (std::fabs(rising - f.margin) <= close) return LimitSide::at_least;
    if (std::fabs(rising + f.margin) <= close) return LimitSide::at_most;
    // So far from a wanted figure either way: the side the value stands on.
    return rising < 0.0 ? LimitSide::at_least : LimitSide::at_most;
}

void set_band(Finding& f, const ErrorBand& band) {
    f.band = band.width;
    f.error = band;
}

bool is_too_close(const Finding& f) {
    constexpr double may_be_lost = 0.0455;  // what a two-sigma band leaves out
    return f.band > 0.0 && (f.error.lost > may_be_lost || straddles(f.error, f.margin, find_limit_side(f)));
}

std::optional<double> find_chance_of_breaking(const Finding& f) {
    if (!f.has_limit || !(f.band > 0.0) || f.error.width <= 0.0) return std::nullopt;
    const LimitSide side = find_limit_side(f);
    const double chance = find_chance_of_breaking(f.error, f.margin, side);
    if (is_cut(f) || !is_either_way(f)) return chance;
    // The other end of what is allowed lies on the far side of the wanted figure.
    const LimitSide other = side == LimitSide::at_least ? LimitSide::at_most : LimitSide::at_least;
    return chance + find_chance_of_breaking(f.error, f.margin + 2.0 * std::fabs(f.value - f.limit), other) - f.error.lost;
}

std::vector<Remedy> list_retakes(const ErrorModel& errors, const ErrorBand& band, double margin) {
    std::vector<Remedy> remedies;
    for (const Retake& r : plan_retakes(errors, band, margin)) {
        const auto& readings = errors.readings();
        const auto at = std::find_if(readings.begin(), readings.end(), [&](const ReadingError& e) { return e.key == r.key; });
        const double share = std::fabs(band.slopes[static_cast<std::size_t>(at - readings.begin())]);
        remedies.push_back({RemedyKind::measure, share, r.error, r.key});
    }
    if (remedies.empty() && !band.widest.reading.empty()) remedies.push_back({RemedyKind::measure, band.widest.share, 0.0, band.widest.reading});
    return remedies;
}

void call_too_close(Finding& f, const ErrorModel& errors) {
    f.severity = Severity::unknown;
    const std::vector<Remedy> retakes = list_retakes(errors, f.error, f.margin);
    f.remedies.insert(f.remedies.begin(), retakes.begin(), retakes.end());
}

}  // namespace hitchwright
