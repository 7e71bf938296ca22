// See ditch_search.h.
#include "geometry/ditch_search.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace hitchwright {
namespace {

/// The last value found good, from one that is towards one that is not.
template <class F>
double halve_between(double good, double bad, double closeness, const F& is_bad) {
    while (std::fabs(bad - good) > closeness) {
        const double middle = 0.5 * (good + bad);
        (is_bad(middle) ? bad : good) = middle;
    }
    return good;
}

}  // namespace

DitchSearch::DitchSearch(const DrawnModel& model, const TerrainRig& rig, const DitchLimits& limits, const DitchRow& row,
                         std::function<Crossing(double)> crossing_at, std::function<bool(const Crossing&)> passes_march)
    : model_(model), rig_(rig), limits_(limits), row_(row), crossing_at_(std::move(crossing_at)), passes_march_(std::move(passes_march)) {}

void DitchSearch::know(int index, const DitchPass& pass) {
    looked_[index] = pass;
    if (pass.passes) marched_ = row_.value(index);
    if (pass.stands && pass.breaks) seen_ = pass.breaks;
}

bool DitchSearch::breaks_as_seen(double value) {
    if (!seen_) return false;
    const DitchPeak peak = find_peak_near(model_, rig_, crossing_at_(value), limits_, *seen_);
    seen_ = peak.at;
    return peak.breaks;
}

DitchPass DitchSearch::look_at(double value) {
    DitchPass pass = look_whether_passes(model_, rig_, crossing_at_(value), limits_);
    if (!pass.passes) stands_ = pass.stands;
    if (pass.stands && pass.breaks) seen_ = pass.breaks;
    return pass;
}

bool DitchSearch::fails_beside(int index) const {
    const auto above = looked_.lower_bound(index);
    return (above != looked_.end() && !above->second.passes) || (above != looked_.begin() && !std::prev(above)->second.passes);
}

const DitchPass& DitchSearch::look(int index) {
    const auto known = looked_.find(index);
    if (known != looked_.end()) return known->second;
    const double value = row_.value(index);
    return looked_[index] = fails_beside(index) && breaks_as_seen(value) ? DitchPass{} : look_at(value);
}

void DitchSearch::learn_rates(int a, int b) {
    const DitchPass &from = looked_.at(a), &to = looked_.at(b);
    if (!from.rooms || !to.rooms) return;
    for (std::size_t q = 0; q < rates_.size(); ++q)
        rates_[q] = std::max(rates_[q], std::fabs((*to.rooms)[q] - (*from.rooms)[q]) / (b - a));
}

bool DitchSearch::may_break(int a, int b) const {
    const DitchPass &from = looked_.at(a), &to = looked_.at(b);
    if (!from.passes || !to.passes) return true;
    for (std::size_t q = 0; q < rates_.size(); ++q) {
        if ((*from.rooms)[q] + (*to.rooms)[q] <= ditch_rate_margin * rates_[q] * (b - a)) return true;
    }
    return false;
}

void DitchSearch::look_between(int a, int b) {
    if (b - a <= 1 || !may_break(a, b)) return;
    const int middle = (a + b) / 2;
    look(middle);
    learn_rates(a, middle);
    learn_rates(middle, b);
    look_between(a, middle);
    look_between(middle, b);
}

bool DitchSearch::passes_at(int index) const {
    const auto known = looked_.find(index);
    return known == looked_.end() || known->second.passes;
}

bool DitchSearch::fails(double value) { return stands_ && seen_ ? breaks_as_seen(value) : !look_at(value).passes; }

double DitchSearch::halve(int last) {
    stands_ = looked_.at(last + 1).stands;
    const double passing = row_.value(last);
    double failing = row_.value(last + 1);
    for (;;) {
        const double good = halve_between(passing, row_.value(last + 1), row_.closeness, [&](double middle) {
            return std::fabs(middle - passing) >= std::fabs(failing - passing) || fails(middle);
        });
        if (good == passing || look_at(good).passes) return good;
        failing = good;
    }
}

void DitchSearch::hold_to_march(int last, StillPasses& result) const {
    const auto marches = [&](double value) { return value == marched_ || passes_march_(crossing_at_(value)); };
    if (!result.any || marches(result.value)) return;
    double bad = result.value;
    for (; last >= 0 && !marches(row_.value(last)); --last) {
        bad = row_.value(last);
        while (last > 0 && !passes_at(last - 1)) --last;
    }
    result.any = last >= 0;
    result.value = result.any ? halve_between(row_.value(last), bad, row_.closeness, [&](double middle) { return !marches(middle); }) : row_.good_end;
}

StillPasses DitchSearch::run() {
    StillPasses r;
    look(0);
    look(row_.steps);
    learn_rates(0, row_.steps);
    const int middle = row_.steps / 2;
    look(middle);
    learn_rates(0, middle);
    learn_rates(middle, row_.steps);
    for (Rates before{-1.0}; before != rates_;) {
        before = rates_;
        look_between(0, row_.steps);
    }
    int changes = 0, last = -1;
    for (int i = 0; i <= row_.steps; ++i) {
        if (passes_at(i)) last = i;
        if (i > 0 && passes_at(i) != passes_at(i - 1)) ++changes;
    }
    r.any = last >= 0;
    r.monotone = changes <= 1 && (passes_at(0) || !r.any);
    if (!r.any) r.value = row_.good_end;
    else r.value = last == row_.steps ? row_.bad_end : halve(last);
    hold_to_march(last, r);
    return r;
}

}  // namespace hitchwright
