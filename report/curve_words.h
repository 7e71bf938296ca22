// What the lines over the travel say at one height, in words: number, and how it stands to its limit.
//
// Numbers come from the pose itself (geometry/pose_report.h, drawn_extremes.h), never from the sampled line. What is
// left is rounded down, what is needed or lacking up.
#pragma once

#include <string>

#include "geometry/travel_bands.h"
#include "report/travel_chart.h"

namespace hitchwright {

/// One line at one place: a short statement, and whether it is bad news.
struct CurveWords {
    std::string text;
    bool bad = false;
    bool operator==(const CurveWords&) const = default;
};

/// A panel at a pose of the set-up's linkage: "28 1/2 in, bottoms out by 3/8 in". `bands`: how joints and tubes stand is
/// taken from them, errors of the readings allowed for as in the findings; null: by the bare values. In the working band
/// the overlap is held to what is asked for there, too.
CurveWords say_curve(CurveKind kind, const Setup& setup, const Analysis& analysis, const PoseReport& pose,
                     UnitSystem units, const TravelBands* bands = nullptr);

/// A panel of a drawn set-up at an attitude. Needs the model's shaft.
CurveWords say_turn_curve(CurveKind kind, const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude,
                          UnitSystem units);

/// "+3.2 deg, rear up"; "level".
std::string say_pitch(double radians);

}  // namespace hitchwright
