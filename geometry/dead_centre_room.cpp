#include "geometry/dead_centre_room.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace hitchwright {
namespace {

/// Farther than any linkage reaches (m): all dead centres there are.
constexpr HeightRange everywhere{-1.0e3, 1.0e3};

/// Heights where the ball's distance from the upper-link pin can be greatest or least.
std::array<double, 3> list_turning_heights(const PlanarLinkage& k, const HeightRange& heights) {
    const Point to_pin = k.upper_pin - k.lower_pivot;
    const double apart = std::hypot(to_pin.x(), to_pin.y());
    std::array<double, 3> list{heights.low, heights.high, heights.low};
    if (apart <= 0.0) return list;
    // The ball behind its pivot: of the two crossings of the line one at most has x > 0.
    const double sine = (to_pin.x() >= 0.0 ? 1.0 : -1.0) * to_pin.y() / apart;
    const double crossing = k.lower_pivot.y() + k.lower_length * sine;
    if (heights.contains(crossing)) list[2] = crossing;
    return list;
}

double find_pin_distance(const PlanarLinkage& k, double height) {
    const Point ball = find_ball(k, height);
    return std::hypot(ball.x() - k.upper_pin.x(), ball.y() - k.upper_pin.y());
}

/// The room without what lies beyond the travel.
DeadCentreRoom find_room_within(const PlanarLinkage& k, const TravelBox& box) {
    DeadCentreRoom room;
    const double mast = std::hypot(k.mast_pin.x(), k.mast_pin.y());
    double nearest = -1.0;
    for (const double height : list_turning_heights(k, box.heights)) {
        const double d = find_pin_distance(k, height);
        for (const double e : {box.upper_lengths.low, box.upper_lengths.high}) {
            const double cosine = (mast * mast + e * e - d * d) / (2.0 * mast * e);
            if (std::fabs(cosine) <= nearest) continue;
            nearest = std::fabs(cosine);
            room.height = height;
            room.nearer = cosine < 0.0 ? DeadCentreKind::stretched : DeadCentreKind::folded;
        }
    }
    room.angle = std::acos(std::min(1.0, nearest));
    return room;
}

void find_beyond(const PlanarLinkage& linkage, const TravelBox& box, DeadCentreRoom& room) {
    for (const double e : {box.upper_lengths.low, box.upper_lengths.high}) {
        PlanarLinkage k = linkage;
        k.upper_length = e;
        for (const DeadCentre& d : find_dead_centres(k, everywhere)) {
            const double by = std::max(box.heights.low - d.height, d.height - box.heights.high);
            if (by < 0.0 || (room.beyond && by >= room.beyond_by)) continue;
            room.beyond = d.height;
            room.beyond_by = by;
        }
    }
}

}  // namespace

bool stays_clear_of_dead_centres(const PlanarLinkage& k, const TravelBox& box) {
    constexpr double clear = 1e-6;  // share of the bars
    const HeightRange &heights = box.heights, &lengths = box.upper_lengths;
    const double reach = (1.0 - clear) * k.lower_length;  // the lower link stands upright nowhere
    if (!(lengths.low > 0.0 && heights.low - k.lower_pivot.y() > -reach && heights.high - k.lower_pivot.y() < reach)) return false;
    const double mast = std::hypot(k.mast_pin.x(), k.mast_pin.y());
    const double folded = std::max(std::fabs(mast - lengths.low), std::fabs(mast - lengths.high)) + clear * mast;
    const double stretched = (1.0 - clear) * (mast + lengths.low);
    for (const double height : list_turning_heights(k, heights)) {
        const double distance = find_pin_distance(k, height);
        if (!(distance > folded && distance < stretched)) return false;
    }
    return true;
}

DeadCentreRoom find_dead_centre_room(const PlanarLinkage& k, const TravelBox& box) {
    DeadCentreRoom room = find_room_within(k, box);
    find_beyond(k, box, room);
    return room;
}

double find_dead_centre_angle(const PlanarLinkage& k, const TravelBox& box) { return find_room_within(k, box).angle; }

}  // namespace hitchwright
