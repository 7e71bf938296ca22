// What a fit says of a set-up in one sentence, for commands that compare two states of it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/option_values.h"
#include "geometry/analysis.h"
#include "presets/load_setup.h"
#include "report/json_value.h"
#include "report/text_layout.h"

namespace hitchwright {

/// The verdict of a set-up, or why there is none.
struct Judgement {
    std::optional<Analysis> analysis;  ///< empty: its files have problems
    std::string sentence;              ///< the verdict as `fit` says it, or that there is none
};

/// Judges a loaded set-up.
Judgement judge(const LoadedSetup& loaded, const Mark& mark, UnitSystem units);

/// {verdict, text}; of a set-up with problems verdict is null, with the reason.
JsonValue make_judgement_json(const Judgement& judgement);

/// The cautions that end a report on these, each once.
std::vector<Caution> list_cautions(const std::vector<const Judgement*>& judgements);
std::string format_caution_list(const std::vector<Caution>& cautions, const TextStyle& style);

}  // namespace hitchwright
