// Variants in words, as blocks, as JSON and as CSV: verdict before and after, what flips, what the numbers do.
#pragma once

#include <string>
#include <vector>

#include "geometry/variant.h"
#include "report/answer_blocks.h"
#include "report/json_value.h"

namespace hitchwright {

/// What a variant is, behind "as it is, but": "without the coupler", "on tyres narrow", "the upper link in hole 3".
std::string say_variant(const Variant& variant);

/// "FITS -> MUST NOT RUN", or "FITS, as before".
std::string say_verdict_change(Verdict before, Verdict after);

/// What a switch leaves to be said: that the link is set anew, that taped distances are left out; may be empty.
std::string say_variant_terms(const Setup& setup, const Variant& variant);

/// Figures that are not the same, in one sentence without its stop: "gap 1 in -> 3/4 in, joint in work 12 deg -> 15 deg".
/// Empty when none is told apart.
std::string say_figure_changes(const PartFigures& before, const PartFigures& after, UnitSystem units);

/// One flip in words: "MUST NOT RUN (was OK): headline", "no longer: headline".
std::string say_flip(const FindingDifference& flip, const FindingContext& before, const FindingContext& after);

/// A set-up, its answer and those of its variants.
struct VariantStudy {
    const Setup& setup;
    const Analysis& analysis;
    const std::vector<VariantAnswer>& answers;
};

/// A heading, an item for each variant with what flips, and what the words mean; with no variants the sentence that says
/// why. `most_flips`: of each variant at most so many are written out.
void add_variants(AnswerBuilder& out, const VariantStudy& study, std::size_t most_flips);

/// An object for each variant; docs/json.md.
JsonValue make_variants_json(const VariantStudy& study, UnitSystem units);

/// A line for each variant and one for each flip of it.
std::string format_variants_csv(const VariantStudy& study);

}  // namespace hitchwright
