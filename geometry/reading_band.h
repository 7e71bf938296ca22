// A 95 % band of one quantity and the reading that has most of it.
#pragma once

#include <string>

namespace hitchwright {

/// The reading that moves a quantity most, and by how much its tolerance moves it.
struct ReadingShare {
    std::string reading;  ///< dotted key
    double share = 0.0;   ///< two sigma, SI
};

/// Band of one quantity.
struct ErrorBand {
    double width = 0.0;  ///< two sigma (95 %), SI
    ReadingShare widest;
};

}  // namespace hitchwright
