// Least clearances through the travel, in side view: what could touch what, how near, and at which height.
//
//   guard of the turning shaft  against  deck edges of the implement, end of the drawbar
//   points of the implement     against  rear tyre, rear of cab or ROPS, upper link
//   points and wheels           against  the ground (level, fully raised; and where they touch while lowering)
// Distance of a point to a segment: |p - a - t (b - a)| with t clamped to [0, 1]. Its square is differentiable, with t
// held where it is (the closest point's motion along the segment does not count), so interval jets bound it; where the height
// alone moves, Taylor models of its parts do (distance_panels.h). No sample is relied on. A side view sees no room beside the tyre: tyre clearances are marked when the widths leave it open.
// Lengths m; frame T.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/mounted_model.h"
#include "geometry/travel_search.h"

namespace hitchwright {

/// What is measured against what.
enum class ClearanceKind { guard_to_deck_edge, guard_to_drawbar, point_to_tyre, point_to_cab, point_to_upper_link };

/// A least clearance over the travel; negative: they overlap by that much, as far as the distance to the centre goes.
struct Clearance {
    ClearanceKind kind{};
    std::string part;   ///< point of the implement, or "drawbar"
    TravelExtreme least;
    bool side_view_only = false;  ///< they may pass beside each other: widths are not known
};

/// Height of a point or wheel of the implement above level ground.
struct GroundClearance {
    std::string part;
    bool rests_on_ground = false;  ///< a wheel, roller or skid
    double at_top = 0.0;      ///< m above ground with the hitch fully raised; negative: in the ground
    bool has_working = false; ///< the working height is known and inside the travel
    double at_working = 0.0;  ///< m at the working pose
    double least_over_travel = 0.0;
};

/// All clearances of the set-up that its readings allow. `model` must close over `box`.
std::vector<Clearance> find_clearances(const Setup& setup, const MountedModel& model, const TravelBox& box);

/// Those of the guard against deck edges alone, in the order of the implement's points.
std::vector<Clearance> find_deck_edge_clearances(const Setup& setup, const MountedModel& model, const TravelBox& box);

/// What a kind of clearance is measured against, as findings name it: "rear tyre".
const char* clearance_against(ClearanceKind kind);

/// The pair nearest to each other in one pose, with `least` there; nothing when no pair is known. The pose must close.
std::optional<Clearance> find_nearest_clearance(const Setup& setup, const MountedModel& model, double ball_height,
                                                double upper_length);

/// Ball heights at which the pair of `like` is nearer than `room` (m), whatever the slack; rounded outward, in rising
/// order. Two parts whose outlines are lines touch at room 0 at single heights only: ask for a little more than 0.
std::vector<HeightRange> find_heights_nearer_than(const Setup& setup, const MountedModel& model, const TravelBox& box,
                                                  const Clearance& like, double room);

/// Ground clearances of all points and ground contacts, worst at the top first.
std::vector<GroundClearance> find_ground_clearances(const Setup& setup, const MountedModel& model);

/// Height above level ground in one pose: of the lowest point or ground contact, and of the one of a name; nothing when there is
/// none, or the pose does not close.
std::optional<double> find_lowest_height(const Setup& setup, const MountedModel& model, double ball_height, double upper_length);
std::optional<double> find_part_height(const Setup& setup, const MountedModel& model, const std::string& part, double ball_height,
                                       double upper_length);

}  // namespace hitchwright
