// A mounted machine as the tests of trust look at it: what its shaft is judged by, and which numbers nothing competes with.
//
// Extremes are sampled at 41 heights and five lengths of a slack, with a parabola about the best. A number stands alone where its
// extreme lies at an end of the travel and falls from there at once, or well inside, and no other place comes near it within
// several bands: then it has no kink within the errors. m, rad.
#pragma once

#include <array>
#include <optional>

#include "geometry/analysis.h"

namespace validation {

inline constexpr std::size_t quantities = 6;
inline constexpr std::array<const char*, quantities> quantity_names{"gap", "overlap", "tractor joint", "implement joint", "shortest", "longest"};

/// The usual tolerance of its field for every known reading.
void set_usual_tolerances(hitchwright::Setup& setup);

/// Numbers of one model, what an analysis would hand on to find_error_bands, and which numbers stand alone.
struct Seen {
    std::array<double, quantities> number{};
    std::array<bool, quantities> plain{};
    hitchwright::LinkageAnalysis linkage;
    hitchwright::ShaftAnalysis shaft;
};

/// Nothing when the linkage or the shaft is impossible. Sway and tilt are not looked at.
std::optional<Seen> look_at(const hitchwright::Setup& setup);

}  // namespace validation
