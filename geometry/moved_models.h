// Models of a mounted set-up with its readings moved by their errors, each made once for all numbers that are asked of it.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "geometry/error_model.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// Models of one set-up; kept by the move's number (MovedSetup::move), the one as read for all readings that move nothing of it.
class MovedModels {
public:
    /// `keys`: of the readings that are moved, as long as it lives.
    explicit MovedModels(std::vector<std::string_view> keys) : keys_(std::move(keys)) {}

    /// The model of the moved set-up with the ball readings used as `decided`, the same for all. Valid until the next call.
    const MountedModelResult& find(const MovedSetup& moved, const PinDecision& decided, RangeSearch search);

private:
    using Kept = std::vector<std::unique_ptr<MountedModelResult>>;

    MountedModelResult make(const MovedSetup& moved, const PinDecision& decided);
    bool moves_nothing(const MovedSetup& moved, const MountedModelResult& as_read);
    Kept& kept(RangeSearch search) { return kept_[static_cast<std::size_t>(search)]; }

    std::vector<std::string_view> keys_;
    std::array<Kept, 3> kept_;  ///< by the search of sway and tilt
    MountedModelResult last_;   ///< of a move that is not kept
};

/// Index of the one reading that is moved; nothing where none is, or where all may be.
std::optional<std::size_t> find_moved_reading(const MovedSetup& moved, std::size_t readings);

/// True for a reading of the shaft or of an end of it: where all else is as read, so is the linkage.
bool moves_shaft_alone(std::string_view key);

/// True when a reading may move the model of a mounted set-up in any of its numbers. False only where it is known not to: loads,
/// points beside linkage and shaft, holes and tyres that are not in use.
bool may_move_model(const Setup& setup, const MountedModel& model, std::string_view key);

}  // namespace hitchwright
