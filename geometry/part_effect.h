// What an add-on part changes: the answer with it beside the answer with it switched off and all else as it is.
//
// Both sides are whole analyses (analysis.h), so that nothing is estimated. Lengths m, angles rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/finding.h"
#include "geometry/setup.h"
#include "geometry/shaft_cut.h"

namespace hitchwright {

struct Analysis;

/// Add-on parts, in walking order from the tractor.
enum class PartKind { link_extender, coupler, overrunning_clutch, spline_extender };

/// The shaft's figures over the whole travel.
struct ShaftFigures {
    double shortest = 0.0, longest = 0.0;
    double angle_in_work = 0.0;      ///< greatest joint angle over the working band, either joint
    double angle_over_travel = 0.0;  ///< the same over the travel
    std::optional<double> gap, overlap;  ///< at the shortest, at the longest; nothing when the tubes are not known

    bool operator==(const ShaftFigures&) const = default;
};

/// The figures that add-on parts change. What could not be computed is not there.
struct PartFigures {
    Verdict verdict = Verdict::not_known;
    std::optional<double> upper_link_length;  ///< as set, or for the working pitch
    std::optional<double> height_at_top;      ///< of the balls, fully raised
    std::optional<double> pitch_at_top;
    double lift_share = 1.0;  ///< lift at the balls as a share of that without an extender
    std::optional<ShaftFigures> shaft;

    bool operator==(const PartFigures&) const = default;
};

/// One part, fitted and not.
struct PartEffect {
    PartKind part{};
    std::string name;  ///< as the set-up calls it; may be empty
    PartFigures with, without;

    bool operator==(const PartEffect&) const = default;
};

/// The figures of an analysis.
PartFigures summarize(const Analysis& analysis);

/// For every fitted part: `with` is the analysis of `setup`, `without` that of the same set-up without this part.
std::vector<PartEffect> compare_parts(const Setup& setup, const Analysis& with, const Mark& mark);

}  // namespace hitchwright
