// The cuts of a shaft in the order of the trade, by one number: how much comes off the half that loses more.
//
// Halves unequal by d: only the longer is cut up to d, both beyond (shaft_cut.h). Every cut of that order shortens the
// closed length by its number, so that the gap grows and the overlap shrinks with it: the admissible ones are an
// interval. It is where the line of these cuts crosses the set of shaft_cut.h, from the same linear bounds (cut_set.h).
// Lengths m.
#pragma once

#include <optional>

#include "geometry/shaft_cut.h"

namespace hitchwright {

/// The cut that takes `shortening` (m, >= 0) off the closed length, each half losing the least that does.
CutPair find_cut_at(const TelescopingHalves& halves, double shortening);

/// The most either half loses: the number of a cut of that order.
double find_shortening(const CutPair& cut);

/// True when a pair of cuts is one of that order, to within cut_tolerance.
bool is_on_cut_line(const TelescopingHalves& halves, const CutPair& cut);

/// The halves before `cut` was taken off them: tubes longer, roots as they are.
TelescopingHalves undo_cut(const TelescopingHalves& halves, const CutPair& cut);

/// Guard tubes over a travel after a cut: they lose what the tubes lose, also when that is more than they have. Needs
/// halves that check_halves calls ok; else `status` says what is wrong with the guard's.
GuardResult check_guard_after_cut(const TelescopingHalves& steel, const TelescopingHalves& guard, const CutPair& cut,
                                  const ShaftTravel& travel);

/// Admissible cuts of that order, by the steel tubes alone.
struct CutInterval {
    bool any = false;    ///< false: no cut of that order works; `least` and `most` still say where gap and overlap are
    double least = 0.0;  ///< below it too little gap is left, m
    double most = 0.0;   ///< above it too little overlap is left, m; negative: already without a cut
    double longest = 0.0;  ///< no cut of that order can take more: it would leave nothing of a tube
    bool operator==(const CutInterval&) const = default;
};

/// Needs halves that check_halves calls ok, a travel and limits as plan_cut takes them.
CutInterval find_cut_interval(const TelescopingHalves& halves, const ShaftTravel& travel, const CutLimits& limits);

/// Where a cut stands against the interval.
enum class CutPlace { too_little_gap, inside, too_little_overlap };
CutPlace find_cut_place(const CutInterval& interval, double shortening);

/// The mark nearest to `wanted` inside the interval; its middle where no mark lies inside. Needs interval.any.
double snap_into(const CutInterval& interval, double wanted, const Mark& mark);

}  // namespace hitchwright
