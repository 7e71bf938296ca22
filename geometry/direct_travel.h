// Shortest and longest shaft from distances taped directly, stub to input shaft, at three or more heights: no linkage.
//
// Between the readings the square of the distance is taken as a parabola of the ball height: exact for an input shaft that
// moves straight up, and within `curve_allowance` for 19 of 20 linkages of usual measures with a reading in the middle half
// (tests/validation/direct_travel_test.cpp; the farthest was twice that). With more than three readings the parabola
// is the least-squares one, and a reading that stands off it is named. What is shortest or longest is the least or
// greatest of the readings and of the parabola's vertex: nothing is taken from beyond the readings.
// A reading between grooves or shaft ends lies farther apart than the joint centres by a_A cos(bend) + a_B cos(bend), and
// the bends are not known here: both ends of what they may be are carried, the shorter for the gap, the longer for the
// overlap. Lengths m between joint centres, ball heights m.
#pragma once

#include <string>
#include <vector>

#include "geometry/setup.h"
#include "geometry/shaft_cut.h"

namespace hitchwright {

/// How far off the parabola may be between the readings, m (3/16 in; 95 %).
inline constexpr double curve_allowance = 3.0 * 0.0254 / 16.0;

/// How far the ends of the travel may lie beyond the readings, m (1/2 in).
inline constexpr double travel_end_slack = 0.0127;

/// What became of the direct readings.
enum class DirectStatus {
    none,              ///< there are none
    too_few,           ///< fewer than three heights
    no_middle,         ///< no reading in the middle half of the heights
    range_too_small,   ///< lowest and highest reading less than 50 mm apart
    misses_travel,     ///< the travel goes on beyond the readings; `missed_by`, `missed_high`
    distance_missing,  ///< a distance at a joint is needed to come to joint centres; `missing`
    impossible,        ///< joint centres at no distance
    wide_angle,        ///< a wide-angle joint bends about two crosses: not for readings alone
    ok
};

/// A reading brought to joint centres.
struct DirectLength {
    std::string name;
    double height = 0.0;
    double least = 0.0, most = 0.0;  ///< m between joint centres, the joints bent as far as they may be, or straight
    double error = 0.0;              ///< 95 %, m: tape, and the height's error times the slope
    double off = 0.0;                ///< m from the curve; 0 with three readings
};

/// One end of the range of lengths.
struct DirectExtreme {
    double length = 0.0, height = 0.0;
    double error = 0.0;      ///< 95 %, m
    bool at_reading = true;  ///< false: between readings
};

struct DirectTravel {
    DirectStatus status = DirectStatus::none;
    std::vector<DirectLength> lengths;  ///< in rising height
    DirectExtreme shortest, longest;
    bool travel_assumed = false;  ///< nobody gave the travel: the readings' ends are taken for it
    bool rough = false;           ///< a reading stands farther off the curve than its error and the curve's together
    std::size_t roughest = 0;     ///< index into lengths
    double missed_by = 0.0;
    bool missed_high = false;
    std::vector<std::string> missing;  ///< keys
};

/// A distance taped at a height, between joint centres.
struct DirectPoint {
    double height = 0.0, length = 0.0;
    double error = 0.0, height_error = 0.0;  ///< 95 %, m
};

/// The curve through points: three or more, in rising height.
DirectTravel fit_direct_points(const std::vector<DirectPoint>& points);

/// Lengths over the travel of a mounted set-up from its direct readings alone. `bend_most`: how far a joint may be bent
/// while a reading between grooves or ends was taken, rad.
DirectTravel find_direct_travel(const Setup& setup, double bend_most);

}  // namespace hitchwright
