// The named points and parts of a picture as data: what the cursor finds, which readings put it there, what dragging changes.
//
// A point stands where the drawing of the same pose has it: tractor's points where they were read, the implement's carried
// along by the linkage (planar_linkage.h) or turned about the hitch (attitude.h). A point that two readings place by
// themselves says so with their keys and the frame they are taken in, so that a place in the picture can be turned back
// into readings. Coordinates m, in the frame of the picture (drawing.h).
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "geometry/analysis.h"
#include "report/drawing.h"
#include "report/format_length.h"

namespace hitchwright {

/// What the two coordinates of a picture are.
enum class PictureFrame {
    side,  ///< x behind the rear axle, z above the ground
    plan,  ///< x behind the rear axle, z to the tractor's right
    rear,  ///< x to the tractor's right, z above the ground
    ditch  ///< x behind the middle of the ditch along the way, z above the level ground
};

/// What dragging a point changes.
enum class PointDrag {
    none,
    lift,            ///< the height of the lift
    turn,            ///< a drawn implement about its hitch
    tractor_hole,    ///< the upper link to another hole of the tractor
    mast_hole,       ///< the upper link to another hole of the mast
    drawbar_pin,     ///< the drawbar's pin to another position
    left_lift_rod,   ///< the length of that lift rod, with the lift arms where they are
    right_lift_rod,
    sway,            ///< how far the hitch has swung to one side
    readings         ///< its own two readings
};

/// A named point.
struct PicturePoint {
    std::string name;
    DrawingPoint at;
    std::vector<std::string> keys = {};  ///< readings behind it, dotted as in files
    PointDrag drag = PointDrag::none;
    std::string hole = {};    ///< what the set-up calls it in its list of holes; empty: it is no hole
    std::size_t hole_index = 0;  ///< in that list
    bool chosen = false;      ///< of its list, the one in use
    std::string x_key = {}, z_key = {};  ///< the readings that are its coordinates; empty: it has none of its own
    DrawingPoint origin = {};  ///< of the frame these are taken in ...
    double turn = 0.0;         ///< ... and its turn, rad
    std::string note = {};     ///< one sentence about where it comes from, or why it cannot be moved
};

/// Values of the two readings that put a point where the cursor is, m.
DrawingPoint find_readings_at(const PicturePoint& point, DrawingPoint place);
/// Where readings of that size put the point.
DrawingPoint find_place_of(const PicturePoint& point, DrawingPoint readings);

/// Points of a mounted set-up with the lift at a ball height; empty where the linkage has no travel. In the order in which
/// somebody walks round the machine.
std::vector<PicturePoint> list_side_points(const Setup& setup, const Analysis& analysis, double ball_height);

/// Points of a mounted set-up seen from above.
std::vector<PicturePoint> list_plan_points(const Setup& setup, const Analysis& analysis, double ball_height);

/// Points of a drawn set-up from above or from the side, at an attitude.
std::vector<PicturePoint> list_drawn_points(const Setup& setup, const DrawnAnalysis& drawn, const Attitude& attitude, PictureFrame frame);

/// Points of a drawn set-up at a station of its way through the ditch.
std::vector<PicturePoint> list_ditch_points(const Setup& setup, const DrawnAnalysis& drawn, const DitchStation& station);

/// A named part of a drawing: the name in words and the readings its size comes from. Nothing for a shape without a name.
struct PicturePart {
    std::string name;
    std::vector<std::string> keys;
};
std::optional<PicturePart> find_part(const Shape& shape, const Setup& setup);

/// The foremost named shape of a drawing at a place, m: inside a closed one, or within `reach` of its line; none when nothing is there.
const Shape* find_shape_at(const Drawing& drawing, DrawingPoint place, double reach);

/// The nearest point within `reach` (m); of points at one place the first that can be dragged, else the first. -1: none.
int find_point_at(const std::vector<PicturePoint>& points, DrawingPoint place, double reach);

/// A point or part in words, for the cursor and for the keys.
struct PictureWords {
    std::string title;                  ///< name, with "in use" for a hole that is
    std::string place;                  ///< both coordinates in one sentence; empty for a part
    std::vector<std::string> readings;  ///< key, value, origin and usual error; "not known" where nobody gave it
    std::string action;                 ///< what can be done with it, or why nothing; empty for a part
};
PictureWords say_point(const PicturePoint& point, const Setup& setup, PictureFrame frame, UnitSystem units);
PictureWords say_part(const PicturePart& part, const Setup& setup, UnitSystem units);

/// "10 in behind the rear axle, 31 1/2 in above the ground".
std::string say_place(DrawingPoint place, PictureFrame frame, UnitSystem units);

/// A reading with key, value, origin and error.
std::string say_reading(const std::string& key, const Setup& setup, UnitSystem units);

/// The reading of a dotted key; one that is not known where there is no such key.
Reading find_reading(const std::string& key, const Setup& setup);

/// Step of a value dragged with the mouse: 1/16 in or 1 mm. Finer ones are typed.
double drag_step(UnitSystem units);

/// A length as a value for KEY=VALUE, rounded to a step (m, above 0), and that value, m.
std::pair<std::string, double> make_length_text(double metres, UnitSystem units, double step);

}  // namespace hitchwright
