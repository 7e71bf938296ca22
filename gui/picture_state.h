// What somebody is doing in the picture: switches over it, what is pulled, what is picked, what moves by itself.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/attitude.h"
#include "geometry/follow_travel.h"
#include "report/ditch_handles.h"
#include "report/picture_points.h"

namespace hitchwright {

/// From where a mounted set-up is shown.
enum class MountedPicture { side, plan, rear };

/// What the picture shows besides the machine.
struct PictureSwitches {
    bool names = true;   ///< words for parts
    bool sizes = false;  ///< the machine's dimensions
    bool travel = true;  ///< paths, ends of the travel, where the PTO must be off
    bool swept = false;  ///< what shaft and implement sweep
    MountedPicture mounted = MountedPicture::side;
    bool operator==(const PictureSwitches&) const = default;
};

/// Something being pulled with the mouse. It ends with the button, or with Escape, which leaves everything as it was.
struct PictureDrag {
    PointDrag what = PointDrag::none;
    PicturePoint point;               ///< grabbed, as it stood then; of a body only the place
    DrawingPoint grip;                ///< from the cursor to that point
    DrawingPoint now;                 ///< where it has been pulled
    int target = -1;                  ///< hole that would be taken, of the picture's points
    CarriedPoint held;                ///< of the lift
    std::optional<double> height;     ///< of the lift before, as the view had it
    std::optional<Attitude> attitude; ///< of a drawn implement before, as the view had it
    std::optional<DitchMeasure> ditch;
    DitchReadings ditch_now;          ///< the ditch as pulled
    double sway = 0.0;                ///< of the picture before
    std::optional<double> rod;        ///< length of the lift rod as pulled, m; none: nothing fits there
};

/// The machine on its way through the ditch by itself.
struct DitchMarch {
    bool plays = false;
    int speed = 1;  ///< of march_speeds
};

struct PictureState {
    PictureSwitches switches;
    std::optional<PictureDrag> drag;
    bool cancelled = false;              ///< Escape was pressed: the rest of this pull does nothing
    int stepped = -1;                    ///< point shown by the keys, of the picture's points; -1: none
    bool measures = false;               ///< clicks pick points to measure between
    std::vector<PicturePoint> measured;  ///< one or two
    std::optional<PicturePoint> typed;   ///< its field is open
    PictureWords words;                  ///< what was last shown at the cursor or by the keys; a title: something is shown
    std::string said;                    ///< one sentence at the lower edge: what a pull or a measurement comes to
    DitchMarch march;
    double sway = 0.0;                   ///< of the hitch in the picture from behind, to the right, m
    float strip = 0.0F;                  ///< height of the buttons over the picture as last laid out, pixels
};

}  // namespace hitchwright
