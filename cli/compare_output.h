// The answers of compare: two set-ups question by question, or a set-up and what each switch changes.
#pragma once

#include <string>
#include <vector>

#include "cli/difference_output.h"
#include "report/variant_text.h"

namespace hitchwright {

/// `terms`: what the switches thrown leave to be said; may be empty.
std::string format_comparison(const SetupDifference& difference, const std::string& terms, const TextStyle& style);
std::string format_comparison_json(const SetupDifference& difference, UnitSystem units);
std::string format_comparison_csv(const SetupDifference& difference, UnitSystem units);

/// A set-up with its variants; `sentence`: its verdict.
std::string format_variants(const VariantStudy& study, const std::string& title, const std::string& sentence, const TextStyle& style);
std::string format_variants_json(const VariantStudy& study, const std::string& sentence, UnitSystem units);

/// The cautions that end a report on all of them, each once.
std::vector<Caution> list_variant_cautions(const VariantStudy& study);

}  // namespace hitchwright
