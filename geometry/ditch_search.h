// The last of a row of crossings that passes: depth or angle of ditch_study.h.
//
// Of the row its ends are looked at, then the middle, and so on by halves. What is left of every limit (DitchRooms) is taken to
// change from value to value no faster than `ditch_rate_margin` times the fastest change seen: where nothing could come to its
// limit between two values that pass, those between pass; all others are looked at. A value that fails like another one is
// told by one station (find_peak_near). Between the last that passes and the next the halving goes by such stations alone, or,
// where the rig finds no stand beyond, by looks along the whole way; what it ends at is then looked at along the whole way, and
// where that fails the halving is done again with what was found. Looks leave out stations: what is returned has been marched over
// with all of them, and where that fails the search goes on below by marches.
#pragma once

#include <functional>
#include <map>
#include <optional>

#include "geometry/ditch_pass.h"

namespace hitchwright {

/// Values from `good_end` to `bad_end`, both in it.
struct DitchRow {
    double good_end = 0.0, bad_end = 0.0;
    int steps = 1;
    double closeness = 0.0;  ///< where the halving ends

    double value(int i) const { return i == steps ? bad_end : good_end + (bad_end - good_end) * i / steps; }
};

class DitchSearch {
public:
    /// `model`, `rig` and `limits` must outlive it. `crossing_at`: the crossing of a value. `passes_march`: whether a crossing
    /// passes with every station looked at.
    DitchSearch(const DrawnModel& model, const TerrainRig& rig, const DitchLimits& limits, const DitchRow& row,
                std::function<Crossing(double)> crossing_at, std::function<bool(const Crossing&)> passes_march);

    /// What is known of a value of the row already, from a march with every station.
    void know(int index, const DitchPass& pass);

    /// The value nearest to `bad_end` that passes.
    StillPasses run();

private:
    using Rates = DitchRooms;

    DitchPass look_at(double value);
    const DitchPass& look(int index);
    bool fails_beside(int index) const;
    bool breaks_as_seen(double value);
    void learn_rates(int a, int b);
    bool may_break(int a, int b) const;
    void look_between(int a, int b);
    bool passes_at(int index) const;
    bool fails(double value);
    double halve(int last);
    void hold_to_march(int last, StillPasses& result) const;

    const DrawnModel& model_;
    const TerrainRig& rig_;
    const DitchLimits& limits_;
    DitchRow row_;
    std::function<Crossing(double)> crossing_at_;
    std::function<bool(const Crossing&)> passes_march_;
    std::map<int, DitchPass> looked_;  ///< others of the row pass
    bool stands_ = true;               ///< what failed last broke a limit
    std::optional<double> marched_;    ///< a value known to pass with every station looked at
    std::optional<DitchPlace> seen_;   ///< where a limit was broken last, or came nearest to it since
    Rates rates_{};                    ///< from each value to the next
};

}  // namespace hitchwright
