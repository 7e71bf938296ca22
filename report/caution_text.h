// The usual cautions in words: one sentence each, said at the step it belongs to and at the end of every report.
//
// There is no switch for them. Which finding carries which caution is the geometry's decision (finding.h); this file
// holds only the sentences and the list that ends every report.
#pragma once

#include <string_view>
#include <vector>

#include "geometry/analysis.h"
#include "geometry/finding.h"

namespace hitchwright {

/// Fixed word of a caution, as used in machine-readable output.
std::string_view caution_word(Caution caution);

/// The caution as a sentence.
std::string_view caution_sentence(Caution caution);

/// All cautions, in the order of the enumeration; for tests and lists.
const std::vector<Caution>& all_cautions();

/// What ends a report about this analysis: the general ones always, those of a shaft when there is one or one is
/// missing, the one on cutting when a cut is named or proposed.
std::vector<Caution> list_closing_cautions(const Analysis& analysis);

/// What ends a table of positions; `with_shaft`: it shows a shaft.
std::vector<Caution> list_sweep_cautions(bool with_shaft);

/// What ends a report about cutting a shaft.
std::vector<Caution> list_cutting_cautions();

}  // namespace hitchwright
