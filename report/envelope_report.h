// What is left at every turn and pitch of a drawn implement, as a coarse table of letters.
#pragma once

#include <string>
#include <vector>

#include "geometry/envelope.h"
#include "geometry/setup.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// Turns, and pitches, of the table.
inline constexpr std::size_t envelope_columns = 11;

/// The report for a person in blocks, ended by the cautions.
std::vector<AnswerBlock> make_envelope_blocks(const Setup& setup, const Envelope& envelope, const TextStyle& style);
/// The same, lines of at most style.width columns.
std::string format_envelope_report(const Setup& setup, const Envelope& envelope, const TextStyle& style);

}  // namespace hitchwright
