// What a mounted set-up is judged by, by a second route: its travel sampled at even heights, parabolas between them.
//
// Least and greatest shaft length, joint angles, room of points and guard, each with the slack's lengths. Distances are worked
// out here; of the program only the pose and the driveline at one height are used. m, rad.
#pragma once

#include <string>
#include <vector>

#include "geometry/finding.h"
#include "geometry/mounted_model.h"

namespace validation {

/// One number as a finding has it: its value, or for an overlap what it has beyond its need.
struct Number {
    hitchwright::FindingKind kind{};
    std::string subject, other;
    double value = 0.0;
};

/// Findings about the same number have one kind: what comes apart is an overlap, an angle to watch one in work.
hitchwright::FindingKind find_common_kind(hitchwright::FindingKind kind);

/// Numbers of a set-up; empty when the linkage or, with a shaft, its halves are impossible. Sway and tilt are not looked at.
std::vector<Number> sample_numbers(const hitchwright::Setup& setup);

/// The one that a finding is about; nullptr: it is not among them.
const Number* find_number(const std::vector<Number>& numbers, const hitchwright::Finding& finding);

/// Least and greatest distance of the joint centres over the travel, likewise.
struct Lengths {
    double shortest = 0.0, longest = 0.0;
};
Lengths sample_lengths(const hitchwright::MountedModel& model);

}  // namespace validation
