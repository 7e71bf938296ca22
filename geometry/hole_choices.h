// Every hole at once, briefly: for each pair of upper-link holes on tractor and mast the verdict and the numbers a person
// chooses by. Each pair is analysed as a set-up of its own, as it would be after switching to it.
#pragma once

#include <optional>
#include <vector>

#include "geometry/analysis.h"

namespace hitchwright {

/// One pair of holes.
struct HoleChoice {
    std::size_t tractor_pin = 0, mast_pin = 0;  ///< indices into the set-up's lists
    Setup setup;                                ///< the set-up with these holes chosen
    Verdict verdict = Verdict::not_known;
    bool chosen = false;                        ///< the set-up has this pair
    std::optional<double> upper_link_length;    ///< m
    bool within_reach = true;                   ///< false: the link cannot be set to that length
    std::optional<double> pitch_at_top;         ///< rad
    std::optional<double> worst_joint_angle;    ///< rad, greatest of both joints over the travel
};

/// The set-up with other holes. A typed link length belonged to the holes it was typed for: with others the length
/// follows from the working pitch, unless there is no working height to set it at.
Setup with_holes(const Setup& setup, std::size_t tractor_pin, std::size_t mast_pin);

/// All pairs in the order of the lists; empty for a drawn implement.
std::vector<HoleChoice> find_hole_choices(const Setup& setup, const Mark& mark);

}  // namespace hitchwright
