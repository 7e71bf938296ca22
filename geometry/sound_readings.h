// Readings that cannot be: no number, infinite, or far beyond any machine. Files refuse them; a program that fills in a set-up may not.
//
// They are taken as not given, and named: nothing below the analysis has to ask of every number whether it is one, and no square of a
// length overflows.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/setup.h"

namespace hitchwright {

/// A set-up without the readings that cannot be.
struct SoundReadings {
    Setup setup;
    std::vector<std::string> dropped;  ///< dotted keys, in file order
};

/// Drops each reading whose value or tolerance is no finite number, or more than a thousand times as large as its field may be, or whose
/// tolerance is below 0; also a value that is not 0 and less than a thousandth of the least its field may be. Nothing when there is none,
/// as in every set-up read from a file.
/// Others out of their field's range are kept: what is made of them has finite numbers.
std::optional<SoundReadings> drop_impossible_readings(const Setup& setup);

}  // namespace hitchwright
