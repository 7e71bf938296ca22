// What direct readings give: a cut without any linkage, or a check of the linkage computed.
#pragma once

#include <optional>
#include <vector>

#include "geometry/direct_check.h"
#include "geometry/direct_travel.h"
#include "geometry/finding.h"
#include "geometry/model_fit.h"
#include "geometry/mounted_shaft.h"
#include "geometry/special_members.h"

namespace hitchwright {

struct DirectAnalysis {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(DirectAnalysis);
    std::optional<DirectComparison> comparison;  ///< where the linkage and the shaft's ends could be computed
    DirectTravel travel;                         ///< else: lengths from the readings alone
    ShaftHalves shaft;
    CutLimits limits;
    CutPlan plan;  ///< from `travel`
    bool has_plan = false;
    double gap_band = 0.0, overlap_band = 0.0;  ///< 95 %, m
};

/// Analyses the direct readings of a mounted set-up that has some. `fit`: of the same set-up.
DirectAnalysis analyze_direct(const Setup& setup, const MountedModelResult& mounted, const std::optional<ModelFit>& fit, const Mark& mark);

/// Its findings: whether the readings agree with the linkage; without one, where the lengths come from, gap, overlap, cut.
std::vector<Finding> check_direct(const Setup& setup, const DirectAnalysis& direct);

}  // namespace hitchwright
