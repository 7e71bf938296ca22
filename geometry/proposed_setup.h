// The set-up after the steps a fit proposes: another hole or position, a stop of the lift, ballast.
//
// Only the first remedy of a finding that asks for something is a step. A cut is not made: it is measured out later, on
// the machine. With a working height known, another hole gives up a typed link length, as in the study of holes.
#pragma once

#include <string>
#include <vector>

#include "geometry/analysis.h"

namespace hitchwright {

/// What was changed, in dotted keys with their new names or values (SI).
struct ProposedChange {
    std::string key, name;  ///< `name`: of a hole or position; empty: a value
    double value = 0.0;
    Dimension dimension = Dimension::length;
    bool operator==(const ProposedChange&) const = default;
};

struct ProposedSetup {
    Setup setup;
    std::vector<ProposedChange> changes;  ///< empty: nothing is proposed
};

ProposedSetup propose_setup(const Setup& setup, const Analysis& analysis);

/// True when cutting the shaft is among the steps: the first thing that a finding asks for.
bool advises_cut(const Analysis& analysis);

}  // namespace hitchwright
