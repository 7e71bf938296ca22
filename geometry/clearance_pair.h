// One pair of clearance.h, for searches that ask many times about it alone.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "geometry/clearance.h"

namespace hitchwright {

/// As find_heights_nearer_than (clearance.h), by the distance alone: a point that is in the cab is as far as it is from the line.
std::vector<HeightRange> find_heights_apart_by_less(const Setup& setup, const MountedModel& model, const TravelBox& box, const Clearance& like,
                                                    double room);

/// Room of such pairs pose by pose, looked up once. Needs the set-up as long as it lives.
class PairRooms {
public:
    PairRooms(const Setup& setup, const MountedModel& model, std::span<const Clearance> like);
    ~PairRooms();

    /// From now on with linkage and ends of the shaft of another model, in which the parts are where they were on their machines.
    void put_on(const MountedModel& model);

    /// Of pair number `pair`: m, negative when they overlap, at one place of the travel (the box's low ends count); nothing when there
    /// is no such pair or the pose does not close.
    std::optional<double> find_at(std::size_t pair, const TravelBox& place) const;

private:
    class Parts;
    std::unique_ptr<Parts> parts_;
};

}  // namespace hitchwright
