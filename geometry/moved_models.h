// Models of a mounted set-up with its readings moved by their errors, each made once for all numbers that are asked of it.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "geometry/error_model.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// Models of one set-up; kept by the move's number (MovedSetup::move).
class MovedModels {
public:
    /// The model of the moved set-up with the ball readings used as `decided`, the same for all. Valid until the next call.
    const MountedModelResult& find(const MovedSetup& moved, const PinDecision& decided, RangeSearch search);

private:
    using Kept = std::vector<std::unique_ptr<MountedModelResult>>;

    std::array<Kept, 3> kept_;  ///< by the search of sway and tilt
    MountedModelResult last_;   ///< of a move that is not kept
};

/// True when a reading may move the model of a mounted set-up in any of its numbers. False only where it is known not to: loads,
/// points beside linkage and shaft, holes and tyres that are not in use.
bool may_move_model(const Setup& setup, const MountedModel& model, std::string_view key);

}  // namespace hitchwright
