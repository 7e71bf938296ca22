// What a matrix is made of: all combinations of machines, each a set-up that is loaded and judged as "fit" does.
//
// A combination is the SETUP (or an empty one) with `--set tractor.use=... implement.use=... driveline.use=...`, so that the
// files' rules and sentences hold. What the SETUP says of a machine that is not in the combination does not hold for another
// one: holes, the upper link's length, cuts, readings of the coupled machine, tyres. Holes that nobody chose are those that
// the study of holes puts first; of a drawn implement the position of the drawbar likewise.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/matrix_machines.h"
#include "cli/option_values.h"
#include "presets/load_setup.h"
#include "report/pair_row.h"

namespace hitchwright {

/// One row to make, by places in the lists of machines.
struct Combination {
    std::size_t tractor = 0, implement = 0;
    std::optional<std::size_t> driveline;  ///< none: the pair is not tried; as many as there are: without a shaft
    std::string inputs;                    ///< digest of all that goes into it
};

/// Everything a matrix is made from.
struct MatrixInputs {
    PresetText base;                ///< text of the SETUP; a header alone without one
    std::optional<Setup> own;       ///< the SETUP loaded
    std::vector<std::string> digests;  ///< what goes into every digest: versions, options, all rules, the SETUP and what it uses
    CommonValues common;
    bool all = false;  ///< pairs too that are not worth trying
    MatrixMachines<Tractor> tractors;
    MatrixMachines<Implement> implements;
    MatrixMachines<Driveline> drivelines;
};

/// Tractors in their order, then implements, then drivelines; one for a pair without a shaft, one for a pair not tried.
/// Pairs are judged with --set applied.
std::vector<Combination> list_combinations(const MatrixInputs& inputs, const Library& library);

/// How many there can be at most, before any is made.
std::size_t count_combinations(const MatrixInputs& inputs);

/// The set-up of a combination; for one that is tried.
LoadedSetup load_combination(const MatrixInputs& inputs, const Combination& combination, const Library& library);

/// Makes the row. Uses one thread; may be called on several at once. Never throws on readings.
PairRow make_pair_row(const MatrixInputs& inputs, const Combination& combination, const Library& library);

/// One for each file or name that could not be read.
std::vector<PairRow> list_unread_rows(const MatrixInputs& inputs);

}  // namespace hitchwright
