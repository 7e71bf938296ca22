// Distances taped directly against what the linkage says of them: the check that comes before a cut.
//
// Each reading is simulated as it was taken, between the points it was taken between, at its ball height:
//   G = |(K + a_B u_B) - (Q - a_A u_A)|,  a: joint centre to groove or to the end of the machine's shaft, outward
// A floating link leaves a range of lengths; the nearest of it counts. The difference has the 95 % band of all readings
// together, the direct one's own among them. Whether readings agree, with the model and each other, and what would make them
// agree, comes from the fit (model_fit.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/mounted_model.h"
#include "geometry/setup.h"

namespace hitchwright {

/// A difference beyond this many 95 % bands contradicts the files: one in a thousand sound readings reaches it (3.29 sigma).
inline constexpr double direct_doubt = 1.645;

/// One direct reading against the linkage.
struct DirectCheck {
    std::size_t reading = 0;    ///< index into the set-up's direct readings, drawn: turn readings
    double predicted = 0.0;     ///< m between the reading's own points
    double off = 0.0;           ///< m, read less predicted
    double band = 0.0;          ///< 95 %, m, of `off`
    std::string widest;         ///< key of the reading that moves it most, the direct one's own left out
    bool agrees = true;
};

/// What would make all readings agree.
enum class DirectCause {
    unknown,           ///< nothing that was tried
    one_reading,       ///< all others agree; `subject` names it
    other_points,      ///< taken between the points named in `points`
    upper_link_pin,    ///< the upper link is in the tractor's hole `subject`
    mast_pin,          ///< the upper link is in the mast's hole `subject`
    drawbar_pin        ///< drawn: the drawbar's pin is in the position `subject`
};

struct DirectComparison {
    std::vector<DirectCheck> checks;  ///< of readings that can be simulated
    bool agree = true;
    DirectCause cause = DirectCause::unknown;
    LengthReference points = LengthReference::joint_centres;
    std::string subject;
};

/// What a tape should read there (m); empty when the height is outside of what closes, or a distance at a joint is missing.
std::optional<double> predict_direct_reading(const Setup& setup, const MountedModel& model, const DirectReading& reading);

struct ModelFit;

/// The distances among the readings of a fit; `setup`: as it was read.
DirectComparison make_direct_comparison(const Setup& setup, const ModelFit& fit);

}  // namespace hitchwright
