// Least distance of a point to a point or a segment over the travel, and the heights at which it is less than some room, from
// Taylor models on panels (travel_panels.h). For a linkage of which nothing but the height moves.
//
// A distance to a segment a-b is smooth only piece by piece. Its parts are smooth throughout: the distances to both ends, |p-a| and
// |p-b|, which are never less than it, and the distance to the line through them, which is never greater. Where the nearest point
// lies before a, (p-a).(b-a) <= 0, it is |p-a|; beyond b, (p-b).(b-a) >= 0, it is |p-b|; between them it is the line's. So the least
// distance is the least of |p-a| and |p-b| over all heights and of the line's over those that may have the nearest point between
// the ends: what is undecided at their rims counts there, where the line's bound holds anyway. Lengths m; squares m^2.
#pragma once

#include <algorithm>
#include <array>
#include <limits>
#include <utility>
#include <vector>

#include "geometry/common_heights.h"
#include "geometry/height_bands.h"
#include "geometry/segment_distance.h"
#include "geometry/travel_panels.h"

namespace hitchwright {

/// `places(pose)` gives PointPlaces<T> of a pose over any scalar. `places` and what the poses need must outlive this.
template <class Places>
class PointPanels {
public:
    PointPanels(const TravelPoses& poses, const Places& places) : square_{places}, heights_(poses.heights), panels_(poses, square_) {}
    PointPanels(const PointPanels&) = delete;
    PointPanels& operator=(const PointPanels&) = delete;

    /// Square of the least distance; `close(value, bound)` judges the square.
    template <class Close>
    TravelExtreme find_least_square(const Close& close) { return panels_.find_least(0, heights_, close); }
    /// Heights at which the square is less than `square`, rounded outward.
    std::vector<HeightRange> find_below(double square) { return find_remaining_heights(heights_, panels_.find_not_below(0, square)); }

private:
    struct Square {
        const Places& places;
        template <class T>
        std::array<T, 1> operator()(const KernelPose<T>& pose) const { return {find_distance_squared(places(pose))}; }
    };
    Square square_;
    HeightRange heights_;
    TravelPanels<1, Square> panels_;
};

/// The same for SegmentPlaces<T>.
template <class Places>
class SegmentPanels {
public:
    SegmentPanels(const TravelPoses& poses, const Places& places)
        : linkage_(poses.linkage), upper_length_(poses.upper_length), parts_{places}, heights_(poses.heights), panels_(poses, parts_),
          before_(is_on(to_from) ? std::vector<HeightRange>{} : panels_.find_not_above(past_from, 0.0)),
          beyond_(is_on(to_to) ? std::vector<HeightRange>{} : panels_.find_not_below(past_to, 0.0)),
          between_(find_common_heights(find_rest(before_), find_rest(beyond_))) {}
    SegmentPanels(const SegmentPanels&) = delete;
    SegmentPanels& operator=(const SegmentPanels&) = delete;

    template <class Close>
    TravelExtreme find_least_square(const Close& close) {
        TravelExtreme least;
        least.value = least.bound = std::numeric_limits<double>::infinity();
        std::size_t nearest = to_line;
        const auto look = [&](std::size_t part, const HeightRange& heights) {
            const auto enough = [&](double value, double bound) { return bound > least.value || close(value, bound); };
            TravelExtreme e = panels_.find_least(part, heights, enough);
            if (part == to_line) e.value = find_square_at(e.height);
            const double bound = std::min(least.bound, e.bound);
            const int evaluations = least.evaluations + e.evaluations;
            if (e.value < least.value) {
                least = e;
                nearest = part;
            }
            least.bound = bound;
            least.evaluations = evaluations;
        };
        for (const HeightRange& r : between_) look(to_line, r);
        if (!before_.empty()) look(to_from, heights_);
        if (!beyond_.empty()) look(to_to, heights_);
        if (nearest != to_line) prefer_middle(least, close);
        least.converged = close(least.value, least.bound);
        return least;
    }
    std::vector<HeightRange> find_below(double square) {
        std::vector<HeightRange> below = find_common_heights(between_, find_rest(panels_.find_not_below(to_line, square)));
        const auto add = [&](std::size_t part) {
            for (const HeightRange& r : find_rest(panels_.find_not_below(part, square))) below = add_heights(std::move(below), r);
        };
        if (!before_.empty()) add(to_from);
        if (!beyond_.empty()) add(to_to);
        return below;
    }

private:
    struct Parts {
        const Places& places;
        template <class T>
        std::array<T, segment_parts> operator()(const KernelPose<T>& pose) const { return find_segment_parts(places(pose)); }
    };

    /// The point stays on an end, as one of the outline on the mast pin: on which side of it the point lies no search could say. All
    /// heights count as between then.
    bool is_on(SegmentPart end) const {
        constexpr double same_square = 1e-18;  // a nanometre
        const double middle = heights_.low + 0.5 * (heights_.high - heights_.low);
        return find_part_at(end, heights_.low) < same_square && find_part_at(end, middle) < same_square &&
               find_part_at(end, heights_.high) < same_square;
    }
    double find_part_at(SegmentPart part, double height) const {
        return parts_(solve_kernel<double>(linkage_, height, upper_length_))[part];
    }

    /// Where the distance is the same all over, as between two points of the implement, the middle of the heights stands for all.
    template <class Close>
    void prefer_middle(TravelExtreme& least, const Close& close) const {
        const double middle = heights_.low + 0.5 * (heights_.high - heights_.low), there = find_square_at(middle);
        if (!close(there, least.bound)) return;
        least.value = there;
        least.height = middle;
    }
    std::vector<HeightRange> find_rest(const std::vector<HeightRange>& inside) const { return find_remaining_heights(heights_, inside); }
    /// Not less than the square in one pose: there the nearest point may lie at an end after all.
    double find_square_at(double height) const {
        using Jet = IntervalJet<0>;
        return find_distance_squared(parts_.places(solve_jet_pose(linkage_, Jet(height), Jet(upper_length_)))).v.hi;
    }

    const PlanarLinkage& linkage_;
    double upper_length_;
    Parts parts_;
    HeightRange heights_;
    TravelPanels<segment_parts, Parts> panels_;
    std::vector<HeightRange> before_, beyond_;  ///< heights at which the nearest point is certainly the one end or the other
    std::vector<HeightRange> between_;          ///< all others
};

}  // namespace hitchwright
