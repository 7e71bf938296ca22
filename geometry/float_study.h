// A floating upper link at work: pitches its stops allow through the travel, how far it follows humps and hollows, and
// the guard of the shaft against the deck at both ends of the free travel.
//
// Hump and hollow: tractor on level ground, the ground under the implement a straight line through the point below the
// rear axle, falling away behind it by the hump angle or rising by the hollow angle; the balls stay at the working height.
// The pitch the ground gives rises steadily with the line's slope g,
//   dp/dg = 1 + (ball behind the axle)/(contact behind the ball) > 1, both along the ground,
// so that each stop is met at one g: the first contact that lies on the line with the implement at the stop's pitch,
//   X = H + R(p) C,  g = direction(X) - asin(r/|X|),  the least over the contacts behind the ball.
// Frame T, m and rad.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "geometry/clearance.h"
#include "geometry/error_model.h"
#include "geometry/ground_contact.h"
#include "geometry/mounted_model.h"
#include "geometry/travel_search.h"

namespace hitchwright {

/// Hump and hollow taken when the set-up names none, rad: 5 deg. Judgement, no source.
inline constexpr double usual_ground_angle = 0.08726646259971647;

/// The implement on one ground.
struct FloatOnGround {
    double ground_angle = 0.0;     ///< rad, positive: rising behind the axle (hollow)
    FloatPose pose;                ///< no_pitch: it does not stand on such ground; the rest is 0 then
    double left_to_stretch = 0.0;  ///< m the pins may still draw apart before the link is taut; negative: short by that
    double left_to_close = 0.0;    ///< m they may still come together before the other stop
};

/// Hump, level and hollow at the working height.
struct GroundFollowing {
    double hump_angle = 0.0, hollow_angle = 0.0;  ///< rad, both positive
    bool hump_typed = false, hollow_typed = false;
    FloatOnGround hump, level, hollow;
    std::optional<double> falls_to;  ///< slope at which the link goes taut, rad, rising positive; nothing: never
    std::optional<double> rises_to;  ///< slope at which it meets its other stop
    double slack_needed = 0.0;       ///< m from hump to hollow
    std::optional<double> length_to_set;  ///< m, the link that leaves as much to spare at both; nothing: slack too short
};

/// A deck edge and the guard of the shaft over the working band.
struct DeckEdgeFloat {
    std::string part;
    TravelExtreme least;       ///< over working band and free travel
    double at_longest = 0.0;   ///< m, least over the working band with the link drawn out
    double at_shortest = 0.0;  ///< m, the same with the link pushed in
};

/// Bands of what is left on hump and in hollow, m.
struct GroundBands {
    ErrorBand hump, hollow;

    bool operator==(const GroundBands&) const = default;
};

struct FloatStudy {
    HeightRange heights;            ///< the travel
    PitchBand at_low, at_high;      ///< pitches the stops allow at both ends of the travel
    std::optional<PitchBand> at_working;
    bool strap_without_stops = false;  ///< a swing strap whose stops nobody gave: taken as free to turn all round
    std::optional<GroundFollowing> ground;  ///< with ground contacts and a working height inside the travel
    GroundBands bands;  ///< of ground->hump.left_to_stretch and ground->hollow.left_to_close
    std::vector<DeckEdgeFloat> deck_edges;
};

/// Humps and hollows alone; nothing without ground contacts, a working height inside the travel, or a pose there.
std::optional<GroundFollowing> study_ground(const Setup& setup, const MountedModel& model);

/// The study of a floating link of the set-up of `errors`; nothing for a rigid one. `box` from make_travel_box.
std::optional<FloatStudy> study_float(const ErrorModel& errors, const MountedModel& model, const TravelBox& box);

/// Slope of the ground line through the origin (below the rear axle) at which the first of `contacts` behind the ball touches, the implement
/// held at `pitch`; nothing when none can.
std::optional<double> find_touching_slope(const Point& ball, double pitch, std::span<const Contact> contacts);

}  // namespace hitchwright
