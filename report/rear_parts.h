// What the picture from behind and its points share: parts of the machine placed in its frame (rear_view.h).
#pragma once

#include <string>
#include <vector>

#include "geometry/space_study.h"
#include "report/drawing.h"
#include "report/safe_words.h"
#include "report/space_pose.h"

namespace hitchwright {

/// Widths for the eye, m.
inline constexpr double rear_link_width = 0.06, rear_rod_width = 0.028;

inline DrawingPoint from_behind(const Vec3<double>& p) { return {p.y, p.z}; }

/// A part of the implement across, end to end.
struct RearEdge {
    std::string name;
    double half_width = 0.0;
    DrawingPoint left, right;
};

/// Of every outline point that has a width, in the order of the file.
std::vector<RearEdge> list_rear_edges(const Implement& implement, const MountedModel& model, const SpacePose& pose);

/// The widest, where a level is laid (as levelling.h takes it), and the one nearest the ground. Of a list that is not empty.
const RearEdge& find_widest_edge(const std::vector<RearEdge>& edges);
const RearEdge& find_lowest_edge(const std::vector<RearEdge>& edges);

/// Corners of the smallest area without hollows around all ends, counterclockwise.
std::vector<DrawingPoint> find_hull(const std::vector<RearEdge>& edges);

/// A check chain from its pin on the tractor to that on the lower link.
struct ChainLine {
    Vec3<double> anchor{0, 0, 0}, pin{0, 0, 0};
    bool taut = false;
    double short_by = 0.0;  ///< m, where the place is beyond its reach; else 0
};
ChainLine find_chain_line(const MountedSpace& space, const SpacePose& pose, TractorSide side);

/// Where a lower link comes nearest to its tyre.
struct TyreRoomLine {
    DrawingPoint pivot, ball;  ///< of the link there
    DrawingPoint link, tyre;   ///< nearest point of the link's side, and level with it the tyre's inner face
    bool beside = false;       ///< the point lies beside the tyre, so that the way to the face is the room
};
TyreRoomLine find_tyre_room_line(const MountedSpace& space, const TyreRoomParts& parts, const TyreRoom& room);

/// True when an angle is printed as none.
bool is_shown_level(double radians);
/// True when a length is printed as none.
bool is_shown_zero(double metres, const SafeWords& words);

}  // namespace hitchwright
