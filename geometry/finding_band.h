// Putting a band into a finding, and what to do when its limit lies inside.
#pragma once

#include "geometry/error_model.h"
#include "geometry/finding.h"

namespace hitchwright {

/// The number of a finding is allowed on this side of its limit, as its margin says. A figure to be kept either way within a
/// play: the side that the value would leave it at.
LimitSide find_limit_side(const Finding& finding);

/// Puts the band into the finding.
void set_band(Finding& finding, const ErrorBand& band);

/// True when the finding's limit lies inside its band: the readings decide less than the limit asks.
bool is_too_close(const Finding& finding);

/// Chance that the limit is broken in truth; nothing where no band or no limit is known.
std::optional<double> find_chance_of_breaking(const Finding& finding);

/// Severity unknown; before the remedies there are: which readings to take again, and how well (next_reading.h).
void call_too_close(Finding& finding, const ErrorModel& errors);

/// Those remedies alone; the reading that moves it most where no care would settle it.
std::vector<Remedy> list_retakes(const ErrorModel& errors, const ErrorBand& band, double margin);

}  // namespace hitchwright
