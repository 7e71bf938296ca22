// A mounted set-up from behind: level from side to side, lift rods, check chains, and the room beside the tyres.
//
// Seen by somebody who stands behind the tractor and looks forward, so that its right side is on the right of the picture.
// Frame of the picture: x to the tractor's right (y of frame T), z above the ground. Links and arms hang back and up, so that
// they show short here; lengths in words are those in space. m.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/format_length.h"
#include "report/picture_points.h"
#include "report/space_pose.h"

namespace hitchwright {

/// The picture, and a sentence for each thing that is not known or not as it looks.
struct RearView {
    Drawing drawing;
    std::vector<std::string> not_known;
};

/// Another mounted set-up whose links and implement are dashed behind, with words for it.
struct RearGhost {
    const Setup& setup;
    const Analysis& analysis;
    std::string words;
};

/// With the hitch at a place, brought inside travel and sway. Empty without a travel, or where the lift rods do not reach.
RearView draw_rear_view(const Setup& setup, const Analysis& analysis, const HitchView& at, UnitSystem units, const RearGhost* other = nullptr);

/// Box that holds the picture at every height. No value: there is nothing to draw.
std::optional<DrawingBox> find_rear_box(const Setup& setup, const Analysis& analysis, UnitSystem units, const RearGhost* other = nullptr);

/// Its named points. The balls pull the lift rod of their side, the middle between them the sway.
std::vector<PicturePoint> list_rear_points(const Setup& setup, const Analysis& analysis, const HitchView& at);

/// "roll 1.2 deg, right side up", "level from side to side".
std::string say_roll(double roll);

}  // namespace hitchwright
