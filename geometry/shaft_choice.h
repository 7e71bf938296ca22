// Which of several shafts suits a set-up: as it is, after a cut, or not at all.
//
// Each shaft is put into the set-up in place of its own, uncut, and the whole analysis is made; what concerns the shaft
// decides: gap, overlap, cut, guard, power, splines, type. Joint angles and clearances hang on the shaft's joints and
// guard only a little and are a matter of the whole fit.
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
    no_cut_works,
    wrong_kind,         ///< power, splines or type do not match
    not_known           ///< a reading is missing
};

struct ShaftChoice {
    std::string key, name;
    ShaftSuits suits = ShaftSuits::not_known;
    double closed_length = 0.0;  ///< m, joint centres, as bought; 0: not known
    bool has_plan = false;
    CutPlan plan;
    std::vector<Finding> reasons;  ///< findings about the shaft that are not good, worst first
};

/// Every shaft, best first: as it is before cut, then the least cut, then the most overlap left.
std::vector<ShaftChoice> study_shafts(const Setup& setup, const std::vector<Driveline>& shafts, const Mark& mark);

/// Closed length at most and length in use at least (m), for a shaft to order.
struct ShaftToOrder {
    bool known = false;  ///< the travel could be computed
    double closed_at_most = 0.0;
    double reaches_at_least = 0.0;  ///< with the overlap it needs still left
};
/// Joints as those of the set-up's own shaft, else of the first of `shafts`.
ShaftToOrder find_shaft_to_order(const Setup& setup, const std::vector<Driveline>& shafts, const Mark& mark);

}  // namespace hitchwright
