// The file a draft becomes (setup_draft.h): what stands in it, how it is commented, what is left out.
//
// Of a measured machine every key stands there that belongs to the kind of job. What an answer cannot do without comes
// first in its table, with its words above it; the rest follows, one to a line where there is room. Of a machine that is
// taken from a file only what an answer needs stands there, for readings of one's own.
#pragma once

#include <cstddef>
#include <map>
#include <string>

namespace hitchwright {

/// What was typed under a key; empty: nothing.
std::string find_draft_answer(const std::map<std::string, std::string>& answers, const std::string& key);

/// The greatest place of a list that has an answer: "tractor.upper_link_pin[3].x" counts three for "tractor.upper_link_pin".
std::size_t count_draft_items(const std::map<std::string, std::string>& answers, const std::string& list);

}  // namespace hitchwright
