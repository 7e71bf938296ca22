// Where the words of a drawing stand, by number of the places that are tried.
//
// A drawing that differs little from one before has its words at most of the same places. Tried first they show soon what else is
// not worth a look; what is found is the same with any guess.
#pragma once

#include <vector>

namespace hitchwright {

/// Number of none of the places.
inline constexpr int no_place = -1;

/// Of a dimension: its line, and its text along that.
struct DimensionPlace {
    int line = no_place, text = no_place;
    bool operator==(const DimensionPlace&) const = default;
};

/// In the order of the drawing's dimensions and labels.
struct WordPlaces {
    std::vector<DimensionPlace> dimensions;
    std::vector<int> labels;
    bool operator==(const WordPlaces&) const = default;
};

}  // namespace hitchwright
