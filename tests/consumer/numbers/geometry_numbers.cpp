// Linkage A of tests/validation/linkage_a.csv (first argument) through the installed geometry alone.
#include <geometry/angle.h>
#include <geometry/machine_sample.h>
#include <geometry/planar_linkage.h>
#include <geometry/pose_batch.h>

#include <vector>

#include "table.h"

using namespace hitchwright;

int main(int, char** arguments) {
    const PlanarLinkage linkage{.lower_pivot = Point(0.0, 0.500),
                                .lower_length = 0.885,
                                .upper_pin = Point(0.240, 0.960),
                                .upper_length = 0.660,
                                .mast_pin = Point(0.0, 0.610)};
    Comparison comparison;
    std::vector<double> heights;
    for (const Row& row : read_table(arguments[1])) {
        const PlanarPose pose = solve_pose(linkage, number(row, "ball_height_mm") / 1000.0);
        heights.push_back(pose.ball_height);
        comparison.compare("pitch", to_degrees(pose.pitch), number(row, "pitch_deg"), 1e-9);
        comparison.compare("lower link", to_degrees(pose.lower_link_angle), number(row, "lower_link_deg"), 1e-9);
        comparison.compare("upper link", to_degrees(pose.upper_link_angle), number(row, "top_link_deg"), 1e-9);
        comparison.compare("ball", 1000.0 * pose.ball.x(), number(row, "ball_x_mm"), 1e-9);
        comparison.compare("mast pin, x", 1000.0 * pose.mast_pin.x(), number(row, "mast_pin_x_mm"), 1e-9);
        comparison.compare("mast pin, z", 1000.0 * pose.mast_pin.y(), number(row, "mast_pin_z_mm"), 1e-9);
    }

    // With both joint centres on the pins of the upper link, the shaft is as long as the link.
    DrivelineEnds ends;
    ends.tractor_joint = {0.240, 0.0, 0.960};
    ends.implement_joint = {0.0, 0.0, 0.610};
    const std::size_t count = heights.size();
    std::vector<double> pitch(count), length(count), tractor_angle(count), implement_angle(count);
    solve_poses(linkage, ends, heights, {pitch, length, tractor_angle, implement_angle});
    for (const double l : length) comparison.compare("shaft on the pins of the link", l, 0.660, 1e-12);

    // Threads are among what the package brings.
    const std::vector<SampledMachine> machines(8, SampledMachine{linkage, ends, {heights.front(), heights.back()}});
    std::vector<SweepExtremes> extremes(machines.size());
    sweep_machines(machines, 64, 2, extremes);
    for (const SweepExtremes& e : extremes) comparison.compare("longest of a sweep", e.greatest_length, 0.660, 1e-12);
    return comparison.finish(16 * 6 + 16 + 8);
}
