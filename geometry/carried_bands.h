// The errors carried to numbers of a mounted model, and to findings that judge by little arithmetic.
//
// Each finding's band is that of its value less its limit, so that a limit that was read carries its own error.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "geometry/error_model.h"
#include "geometry/finding.h"
#include "geometry/mounted_model.h"

namespace hitchwright {

/// Numbers of a mounted set-up whose readings have moved; entries stay empty where there is no such number.
using ModelNumbers = std::function<void(const MovedSetup& moved, const MountedModel& model, std::span<std::optional<double>> numbers)>;

/// Numbers of a moved set-up from those of its model, with the ball readings used as `decided`: none where the linkage is impossible.
NumbersOf ask_models(const ErrorModel& errors, const PinDecision& decided, const ModelNumbers& numbers, RangeSearch side_search = RangeSearch::none);

/// Carries the errors to `count` numbers of the model built anew. Readings that make the linkage impossible are left out: that is
/// said elsewhere.
Propagation propagate_model(const ErrorModel& errors, const PinDecision& decided, std::size_t count, const ModelNumbers& numbers,
                            const ReadsKey& reads = nullptr, RangeSearch side_search = RangeSearch::none);

/// For `reads`: what may move the model, and keys that start with one of `also`. Valid as long as its arguments.
ReadsKey reads_model_and(const ErrorModel& errors, const MountedModel& model, std::vector<std::string_view> also);
/// The same without what moves the shaft alone.
ReadsKey reads_linkage_and(const ErrorModel& errors, const MountedModel& model, std::vector<std::string_view> also);

/// For `reads`: what may move a drawn machine behind its tractor; not the three-point linkage, the cab, what lies on the implement.
bool may_move_drawn(std::string_view key);

/// Value less limit of a finding for moved readings; empty where there is none.
using DifferenceOf = std::function<std::optional<double>(const Finding& finding, const Setup& moved)>;

/// Bands of those findings that have a limit and no band yet. The limit may move with the readings, not change its side. `reads`:
/// beginnings of the keys that they are judged by.
void carry_differences(const ErrorModel& errors, std::vector<Finding>& findings, const DifferenceOf& difference,
                       const std::vector<std::string_view>& reads);

/// Puts the band of a margin into the finding, turned to the way its value goes.
void set_margin_band(Finding& finding, ErrorBand band);

/// Too close to call where the limit lies inside the band; for findings whose broken limit asks for a change.
void doubt_if_close(Finding& finding, const ErrorModel& errors);

}  // namespace hitchwright
