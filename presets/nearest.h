// The known word that looks most like one typed wrongly.
//
// Method: Damerau-Levenshtein distance in its restricted form (insert, delete, replace, swap of
// neighbours), G. Navarro, "A guided tour to approximate string matching", ACM Computing Surveys 33 (2001).
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// Number of single-character edits between two texts, letter case ignored.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The known word nearest to `typed`, the first one on a tie; empty when none is near enough to be what was
/// meant (more than a third of its characters wrong, and more than two), or `typed` is over 64 characters.
std::string nearest_word(std::string_view typed, const std::vector<std::string>& known);

}  // namespace hitchwright
