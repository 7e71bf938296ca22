// What changed between the findings of two set-ups.
//
// Findings belong together when they are of one kind and about the same parts; of what is left, when they are the only
// ones of one kind about the same part and say it in another word. A number counts as changed from 1e-6 of its SI unit
// on (1 um, 1 urad): two runs on the same set-up agree to the last digit, and less is no matter of machines.
#pragma once

#include <vector>

#include "geometry/finding.h"

namespace hitchwright {

/// One finding of two set-ups. Both point into the lists that were compared; null: it is not there.
struct FindingDifference {
    const Finding* old_finding = nullptr;
    const Finding* new_finding = nullptr;

    bool changed_severity() const {
        return old_finding && new_finding && old_finding->severity != new_finding->severity;
    }
    /// Appeared, gone, or of another severity.
    bool flipped() const { return !old_finding || !new_finding || changed_severity(); }
};

/// True when one side lacks it, or severity or a number is not the same.
bool differs(const FindingDifference& difference);

/// Appeared, in the order of the new findings; then gone, in the order of the old ones; then changed, in the order of
/// the new ones, those of another severity first. The lists must outlive the answer.
std::vector<FindingDifference> compare_findings(const std::vector<Finding>& old_findings,
                                                const std::vector<Finding>& new_findings);

/// Every finding of either side once, also those that did not change: what flipped, then what differs by numbers, then
/// the same; each in the order of the old findings, new ones behind. The lists must outlive the answer.
std::vector<FindingDifference> match_findings(const std::vector<Finding>& old_findings,
                                              const std::vector<Finding>& new_findings);

}  // namespace hitchwright
