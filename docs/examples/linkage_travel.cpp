// Pose, shaft length and joint angles of a three-point linkage over the travel of the lift, from plain numbers.
// Geometry alone: no file is read, nothing is judged.
#include <geometry/angle.h>
#include <geometry/closable_heights.h>
#include <geometry/lower_link.h>
#include <geometry/planar_linkage.h>
#include <geometry/pose_batch.h>

#include <cstdio>
#include <vector>

using namespace hitchwright;

int main() {
    // A lower link measures 0.840 m from pivot to ball, but stands aslant: what the side view sees of it is shorter.
    const LowerLink link{.length = 0.840, .half_spread_at_pivot = 0.200, .half_spread_at_ball = 0.365};
    const ProjectedLength projected = project_lower_link(link);
    if (!projected.closure.closes()) {
        std::printf("the lower link is %.0f mm too short to reach its ball\n", 1000.0 * projected.closure.shortfall);
        return 1;
    }

    // Points of the tractor from the ground below the rear axle: x to the rear, z up. The mast pin from the lower pins.
    const PlanarLinkage linkage{.lower_pivot = Point(0.030, 0.440),
                                .lower_length = projected.length,
                                .upper_pin = Point(0.190, 0.880),
                                .upper_length = 0.655,
                                .mast_pin = Point(0.020, 0.480)};
    // Joint centres of the PTO shaft, with y to the right: 25 mm beside the middle at the implement.
    DrivelineEnds ends;
    ends.tractor_joint = {0.330, 0.0, 0.560};
    ends.implement_joint = {0.560, 0.025, 0.200};

    for (const HeightRange& range : find_closable_heights(linkage))
        std::printf("closes at ball heights from %.1f to %.1f mm\n", 1000.0 * range.low, 1000.0 * range.high);

    // One pose, with its angles and points.
    const PlanarPose level = solve_pose(linkage, 0.440);
    const Point input = place_point(level, Point(0.560, 0.200));
    std::printf("at 440 mm: pitch %.2f deg, upper link %.2f deg, input shaft %.1f mm above the ground\n",
                to_degrees(level.pitch), to_degrees(level.upper_link_angle), 1000.0 * input.y());

    // Many poses at once, into columns of ours. A length of 0 says that there is no pose.
    std::vector<double> heights;
    for (int mm = 200; mm <= 1400; mm += 200) heights.push_back(mm / 1000.0);
    const std::size_t count = heights.size();
    std::vector<double> pitch(count), length(count), tractor(count), implement(count);
    const std::size_t shafts = solve_poses(linkage, ends, heights, {pitch, length, tractor, implement});

    std::printf("\nball mm  pitch deg  shaft mm  tractor joint deg  implement joint deg\n");
    for (std::size_t i = 0; i < count; ++i) {
        if (length[i] == 0.0)
            std::printf("%7.0f  does not close\n", 1000.0 * heights[i]);
        else
            std::printf("%7.0f  %9.2f  %8.1f  %17.2f  %19.2f\n", 1000.0 * heights[i], to_degrees(pitch[i]),
                        1000.0 * length[i], to_degrees(tractor[i]), to_degrees(implement[i]));
    }
    std::printf("%zu of %zu heights have a shaft\n", shafts, count);
}
