// Where a value comes from, by the form of a mark and by a word: colour says nothing here.
#pragma once

#include <optional>

#include "geometry/reading.h"
#include "gui/screen.h"

namespace hitchwright {

/// Draws the mark of an origin in a square of one em: measured a full disc, manual a page with a line on it, preset an empty
/// ring, assumed a triangle, computed two strokes; none: unknown, a cross.
void draw_origin_mark(ImDrawList& list, ImVec2 corner, float em, std::optional<Origin> origin);

/// The word beside it; "unknown" without one.
std::string_view say_origin(std::optional<Origin> origin);

/// All marks with their words, in rows.
void show_origin_legend(Screen& screen);

}  // namespace hitchwright
