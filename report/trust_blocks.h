// "How sure this is" in blocks, for `fit --trust` and the room of the viewer: the findings least sure first, what was read
// directly against files and fitted model, and what to read next.
#pragma once

#include "geometry/analysis.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// Heading and blocks; without any band or direct reading a sentence says so.
void add_trust(AnswerBuilder& out, const Analysis& analysis);

/// The findings with a band and a limit, least sure first.
std::vector<const Finding*> list_by_trust(const Analysis& analysis);

}  // namespace hitchwright
