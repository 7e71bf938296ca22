// See closable_heights.h.
#include "geometry/closable_heights.h"

#include <algorithm>
#include <cmath>

#include "geometry/circle_circle.h"
#include "geometry/mast_closure.h"

namespace hitchwright {
namespace {

/// Every dead centre of the linkage, in rising order.
std::vector<DeadCentre> find_all_dead_centres(const PlanarLinkage& linkage) {
    const double mast = std::hypot(linkage.mast_pin.x(), linkage.mast_pin.y());
    const double stretched = mast + linkage.upper_length;
    const double folded = std::abs(mast - linkage.upper_length);
    std::vector<DeadCentre> found;
    const auto add = [&](double reach, DeadCentreKind kind) {
        for (const Side side : {Side::left, Side::right}) {
            const CircleIntersection meeting =
                find_circle_intersection(linkage.lower_pivot, linkage.lower_length, linkage.upper_pin, reach, side);
            const DeadCentre centre{meeting.at.y(), kind};
            const bool known = !found.empty() && found.back() == centre;
            if (meeting.meet && meeting.at.x() >= linkage.lower_pivot.x() && !known) {
                found.push_back(centre);
            }
        }
    };
    add(stretched, DeadCentreKind::stretched);
    add(folded, DeadCentreKind::folded);
    std::sort(found.begin(), found.end(), [](const DeadCentre& a, const DeadCentre& b) { return a.height < b.height; });
    return found;
}

bool has_sound_lengths(const PlanarLinkage& linkage) {
    const double reach = linkage.lower_length + linkage.upper_length;
    return std::isfinite(reach) && linkage.lower_length > 0.0 && linkage.upper_length > 0.0 &&
           linkage.lower_pivot.allFinite() && linkage.upper_pin.allFinite() && linkage.mast_pin.allFinite() &&
           !linkage.mast_pin.isZero(0.0);
}

}  // namespace

std::vector<HeightRange> find_closable_heights(const PlanarLinkage& linkage) {
    std::vector<HeightRange> ranges;
    if (!has_sound_lengths(linkage)) {
        return ranges;
    }
    std::vector<double> marks = {linkage.lower_pivot.y() - linkage.lower_length};
    for (const DeadCentre& centre : find_all_dead_centres(linkage)) {
        marks.push_back(centre.height);
    }
    marks.push_back(linkage.lower_pivot.y() + linkage.lower_length);
    for (std::size_t i = 0; i + 1 < marks.size(); ++i) {
        const double middle = 0.5 * (marks[i] + marks[i + 1]);
        if (!(marks[i] < marks[i + 1]) || !find_pose_closure(linkage, middle).closes()) {
            continue;
        }
        if (!ranges.empty() && ranges.back().high == marks[i]) {
            ranges.back().high = marks[i + 1];
        } else {
            ranges.push_back({marks[i], marks[i + 1]});
        }
    }
    return ranges;
}

std::vector<DeadCentre> find_dead_centres(const PlanarLinkage& linkage, const HeightRange& range) {
    std::vector<DeadCentre> found;
    if (!has_sound_lengths(linkage)) {
        return found;
    }
    for (const DeadCentre& centre : find_all_dead_centres(linkage)) {
        if (range.contains(centre.height)) {
            found.push_back(centre);
        }
    }
    return found;
}

}  // namespace hitchwright
