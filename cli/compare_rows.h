// Two set-ups question by question: every finding before and after, those too that did not change.
#pragma once

#include <string>
#include <vector>

#include "cli/difference_output.h"

namespace hitchwright {

/// One side of a question.
struct CompareSide {
    std::string mark;    ///< as `fit` marks it; empty: it does not arise there
    std::string number;  ///< "1.252 in", with its limit: "1.252 in (limit 1.000 in)"
    std::string headline;
};

/// One question. Rows that flip stand first, then those whose numbers differ, then the rest.
struct CompareRow {
    std::string question;  ///< "gap at shortest", "joint angle in work, tractor joint"
    CompareSide a, b;
    std::string change;    ///< "new", "gone", "+0.250 in", "limit 1.0 in -> 1.5 in", "same"
    bool flips = false, differs = false;
    FindingDifference findings;  ///< point into the analyses
};

std::vector<CompareRow> list_compare_rows(const SetupDifference& difference, UnitSystem units);

}  // namespace hitchwright
