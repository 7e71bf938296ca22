// See shaft_candidates.h.
#include "presets/shaft_candidates.h"

#include <algorithm>

#include "presets/defaults.h"

namespace hitchwright {
namespace {

/// The set-up with a listed shaft in it, uncut, completed as a set-up file that names the shaft would be.
ShaftCandidate put_in(const Setup& setup, const Driveline& shaft) {
    ShaftCandidate candidate{setup, false};
    candidate.setup.has_driveline = true;
    candidate.setup.driveline = shaft;
    candidate.setup.choices.cut_tractor_half = candidate.setup.choices.cut_implement_half = Reading{};
    FieldNotes notes;
    fill_defaults(candidate.setup, notes);
    return candidate;
}

bool is_cut(const Setup& setup) {
    return setup.choices.cut_tractor_half.value_or(0.0) > 0.0 || setup.choices.cut_implement_half.value_or(0.0) > 0.0;
}

}  // namespace

std::vector<ShaftCandidate> list_shaft_candidates(const Setup& setup, const std::vector<Driveline>& shafts) {
    std::vector<ShaftCandidate> candidates;
    for (const Driveline& shaft : shafts) candidates.push_back(put_in(setup, shaft));
    if (!setup.has_driveline) return candidates;
    const auto listed = std::find_if(candidates.begin(), candidates.end(), [&](const ShaftCandidate& c) {
        return !is_cut(setup) && c.setup.driveline == setup.driveline;
    });
    if (listed == candidates.end()) candidates.push_back({setup, true});
    else listed->own = true;
    return candidates;
}

}  // namespace hitchwright
