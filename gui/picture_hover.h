// What the cursor and the keys find in a picture: names, readings, distances, and the field for exact values.
#pragma once

#include <vector>

#include "gui/picture_canvas.h"

namespace hitchwright {

/// The picture shown.
struct PictureContent {
    const Drawing& drawing;
    const std::vector<PicturePoint>& points;
    PictureFrame frame = PictureFrame::side;
};

/// How near the cursor must be to a point, pixels: wide enough for a glove on a touch pad.
float find_reach(const Screen& screen);

/// Index of the point under the cursor; -1: none.
int find_hovered_point(const Screen& screen, const PictureCanvas& canvas, const std::vector<PicturePoint>& points);

/// The named part under the cursor; none when there is nothing.
const Shape* find_hovered_shape(const Screen& screen, const PictureCanvas& canvas, const Drawing& drawing);

/// N and P step through the points, M picks one to measure from, Enter opens its readings. Only while the picture takes keys.
void use_point_keys(Screen& screen, const PictureContent& content);

/// Escape: nothing is pulled, stepped to or measured any more.
void use_escape(AppState& app);

/// The points picked where they stand now; one that is no longer there ends the measurement.
void follow_measured(PictureState& act, const std::vector<PicturePoint>& points);

/// Picks a point to measure from or to.
void pick_point(AppState& app, const PicturePoint& point);

/// Opens the field for the readings of a point, and its hole.
void open_point_field(AppState& app, const PicturePoint& point);

/// Rings, words and the sentence at the lower edge. `hovered`: the cursor is over the picture.
void show_picture_words(Screen& screen, const PictureCanvas& canvas, const PictureContent& content, bool hovered);

/// The field at a point, where it is open.
void show_point_field(Screen& screen, const PictureCanvas& canvas);

}  // namespace hitchwright
