// Which of several shafts suits a set-up: as it is, after a cut, or not at all.
//
// Each shaft comes as the set-up with that shaft put in, and the whole analysis is made; what concerns the shaft
// decides: gap, overlap, cut, guard tubes, power, splines. Everything else that is wrong with the set-up whatever the
// shaft (a linkage that does not close, a lift stop that is needed) is handed on beside the shafts, never left out.
// A clearance of the guard and a joint angle hang on the shaft only a little and stand among those.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"

namespace hitchwright {

/// How a shaft suits, best first.
enum class ShaftSuits {
    as_it_is,
    after_cut,
    too_close_to_call,  ///< the readings' errors decide
    other_reason,       ///< its length serves, but something else of this shaft forbids: a clearance of its guard, a joint
    wrong_guard,        ///< the tubes fit or can be cut, the guard tubes meet or come apart
    no_cut_works,
    wrong_kind,         ///< power, splines or type do not match
    not_known           ///< a reading is missing, or no shaft length can be computed
};

struct ShaftChoice {
    std::string key, name;
    bool own = false;            ///< the set-up's own shaft, with the cuts the set-up has
    ShaftSuits suits = ShaftSuits::not_known;
    double closed_length = 0.0;  ///< m, joint centres, with the set-up's cuts if `own`; 0: not known
    bool has_plan = false;
    CutPlan plan;
    double spare = 0.0;            ///< m, the less of what gap and overlap have above their limits, recommended cut made
    std::vector<Finding> reasons;  ///< findings that decide, worst first; not_known: what is missing
};

/// A set-up with one shaft in it.
struct ShaftCandidate {
    Setup setup;
    bool own = false;
};

/// Closed length at most and length in use at least (m), for a shaft to order; joints as those of `joints_like`.
struct ShaftToOrder {
    bool known = false;  ///< the whole travel could be computed
    double closed_at_most = 0.0;
    double reaches_at_least = 0.0;  ///< with the overlap it needs still left
    std::string joints_like;        ///< key of the shaft whose joint offsets were taken
};

/// All shafts of a list in one set-up.
struct ShaftStudy {
    std::vector<ShaftChoice> choices;  ///< best first
    ShaftToOrder order;
    std::vector<Finding> others;  ///< common to all shafts that have a plan: to change, not decided or forbidden, and not a matter of the shaft
    bool whole_travel = true;     ///< false: the linkage closes over part of the travel only, and so do the lengths hold
};

/// Judges every candidate. Order: as it is before cut and so on; then fewest remarks; then, uncut, the most to spare at
/// its tighter end, and, cut, the least that comes off.
ShaftStudy study_shafts(const std::vector<ShaftCandidate>& candidates, const Mark& mark);

}  // namespace hitchwright
