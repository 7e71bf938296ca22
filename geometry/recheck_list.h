// The readings that are taken once more after the first hour of work: what threads, pins, stops, latches and tyres hold
// can settle; what is cast or welded cannot. Which they are is common practice of set-up sheets, no standard.
#pragma once

#include <string>
#include <vector>

#include "geometry/field_spec.h"
#include "geometry/setup.h"

namespace hitchwright {

/// One reading to take again.
struct RecheckReading {
    std::string key;  ///< as for --set
    Reading reading;  ///< as the set-up has it
    Dimension dimension = Dimension::length;
    double tolerance = 0.0;         ///< usual error of taking it again, two sigma, SI
    const char* measure = nullptr;  ///< from where to where
    const char* reason = nullptr;   ///< what may have moved
};

/// Those of a set-up whose value is known, in the order of the files.
std::vector<RecheckReading> list_recheck_readings(const Setup& setup);

/// Usual error of taking a reading once more: that of the field; of a height or angle that was decided on and never
/// taken, that of a tape to the floor or an angle finder.
double find_retake_error(const FieldSpec& spec);

/// How far a value has moved, and what two readings of it may differ by without it.
struct Movement {
    double moved = 0.0;  ///< later less earlier, SI
    double error = 0.0;  ///< two sigma of the difference: root of the sum of both errors' squares
    bool told = false;   ///< false: the readings' errors alone explain it
};

/// Compares two readings of one thing. Both known.
Movement find_movement(const Reading& earlier, const Reading& later);

}  // namespace hitchwright
