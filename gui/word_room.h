// Words of a picture, and those it has no room for: they stand under it, so that nothing that was to be said is dropped.
#pragma once

#include <string>
#include <vector>

#include "gui/picture_canvas.h"
#include "report/drawing.h"
#include "report/page.h"
#include "report/word_places.h"

namespace hitchwright {

/// Shapes and words of a drawing on a new page with its scale bar. Where not all words find room, those left get lines of their
/// own at the lower edge, and are added to `unplaced`, which may hold sentences already. `strip`: height of the buttons, mm,
/// kept free of words. `places`: where those of the picture before stood, afterwards where these do.
void place_words(Screen& screen, const PictureCanvas& canvas, const Drawing& drawing, double strip, PagePicture& page,
                 std::vector<std::string>& unplaced, WordPlaces& places);

/// Those sentences at the lower edge of a picture; more than two lines of them under the cursor on a short one.
void show_unplaced(Screen& screen, const std::vector<std::string>& unplaced, ImVec2 corner, ImVec2 room);

}  // namespace hitchwright
