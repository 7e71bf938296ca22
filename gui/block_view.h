// Blocks of an answer (report/answer_blocks.h) laid out in a panel.
#pragma once

#include <string>
#include <vector>

#include "gui/screen.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// Shows the blocks one below the other. A table that finds no room across is shown row by row, each cell behind the
/// heading of its column. Returns the key of the block whose button was pressed; empty: none.
std::string show_blocks(Screen& screen, const std::vector<AnswerBlock>& blocks);

}  // namespace hitchwright
