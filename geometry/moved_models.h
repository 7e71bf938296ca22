// Models of a mounted set-up with its readings moved by their errors, each made once for all numbers that are asked of it.
#pragma once

#include <array>
#include <cassert>
#include <memory>
#include <mutex>
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
    explicit MovedModels(std::vector<std::string_view> keys) : keys_(std::move(keys)), kept_(std::make_shared<Kept>()) {}

    /// From now on keeps its models with those of another thread's for the same set-up and readings.
    void share(const MovedModels& other) {
        assert(keys_ == other.keys_);
        kept_ = other.kept_;
    }

    /// The model of the moved set-up with the ball readings used as `decided`, the same for all. One of a move that is not kept is
    /// valid until the next call.
    const MountedModelResult& find(const MovedSetup& moved, const PinDecision& decided, RangeSearch search);

private:
    using Model = std::shared_ptr<const MountedModelResult>;
    struct Kept {
        std::mutex mutex;
        std::array<std::vector<Model>, 3> models;  ///< by the search of sway and tilt
    };

    MountedModelResult make(const MovedSetup& moved, const PinDecision& decided);
    bool moves_nothing(const MovedSetup& moved, const MountedModelResult& as_read);
    Model look(RangeSearch search, std::size_t move) const;
    Model keep(RangeSearch search, std::size_t move, Model model);
    Model find_kept(const MovedSetup& moved, const PinDecision& decided, RangeSearch search);

    std::vector<std::string_view> keys_;
    std::shared_ptr<Kept> kept_;
    MountedModelResult last_;  ///< of a move that is not kept
};

/// Makes those of the readings moved one by one, with sway and tilt at a few heights and without: one half of the readings, so that two
/// threads that share them make one each.
enum class ReadingHalf { first, second };
void make_moved_models(const ErrorModel& errors, const PinDecision& decided, ReadingHalf half);

/// Index of the one reading that is moved; nothing where none is, or where all may be.
std::optional<std::size_t> find_moved_reading(const MovedSetup& moved, std::size_t readings);

/// True for a reading of the shaft or of an end of it: where all else is as read, so is the linkage.
bool moves_shaft_alone(std::string_view key);

/// True when a reading may move the model of a mounted set-up in any of its numbers. False only where it is known not to: loads,
/// points beside linkage and shaft, holes and tyres that are not in use.
bool may_move_model(const Setup& setup, const MountedModel& model, std::string_view key);

}  // namespace hitchwright
