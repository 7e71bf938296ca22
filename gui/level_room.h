// What the room "Level" shows as text: the words of `fit` on level, sway and tyre room, as blocks. Nothing here draws.
#pragma once

#include <string_view>
#include <vector>

#include "gui/app_state.h"
#include "report/answer_blocks.h"

namespace hitchwright {

/// Lines of text with columns two or more spaces apart become tables, other lines sentences. What heads the first column
/// stands over its table.
std::vector<AnswerBlock> make_column_blocks(std::string_view text);

/// The blocks for the set-up as it is; a sentence where nothing is said of rods, sway or tyres.
std::vector<AnswerBlock> make_level_blocks(const AppState& app);

/// The rod lengths that the wanted roll asks for (level where nobody asks), of the rods with a screw, as edits over the
/// present ones; nothing where they are as they should be, or where none is reached.
std::optional<Edits> find_wanted_rods(const AppState& app);

}  // namespace hitchwright
