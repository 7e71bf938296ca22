// How the set-up is looked at: not part of it, not undone, not judged.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "geometry/attitude.h"
#include "geometry/special_members.h"
#include "gui/answer_state.h"
#include "gui/export_state.h"
#include "gui/compare_state.h"
#include "gui/curve_state.h"
#include "gui/cut_state.h"
#include "gui/file_view.h"
#include "gui/yard.h"
#include "gui/finding_state.h"
#include "gui/frame_work_state.h"
#include "gui/input_state.h"
#include "gui/palette.h"
#include "gui/picture_state.h"
#include "gui/touch_state.h"
#include "report/format_length.h"
#include "report/page.h"
#include "report/word_places.h"

namespace hitchwright {

/// Where a control is on the screen, pixels from its upper left corner.
struct ScreenRect {
    float left = 0.0F, top = 0.0F, right = 0.0F, bottom = 0.0F;
    bool cut = false;     ///< it reaches past the left or right edge of its panel
    int frame = 0;        ///< when it was last shown
    bool pressed = false; ///< it can be pressed, dragged or typed into
};

/// What stands in a text field, apart from the value it had when it was last understood.
struct FieldText {
    std::string text;
    std::string message;  ///< why the text was refused; empty: it was not
    bool active = false;  ///< somebody is typing
};

/// The block of cautions at the bottom, with what it was composed for.
struct PlacedCautions {
    double width = -1.0;  ///< mm
    float em = 0.0F;      ///< pixels
    std::vector<std::string> words;
    PagePicture page;
    double top = 0.0;   ///< its upper edge on the page, mm
    int composed = 0;   ///< counts up each time
};

/// Which part of the side view is shown, and how large.
struct SideCamera {
    bool fitted = true;              ///< the whole travel fills the panel, whatever its size
    DrawingPoint middle;             ///< what lies in the middle of the panel, m
    double scale_denominator = 8.0;  ///< as of a print at full size
    bool operator==(const SideCamera&) const = default;
};

/// A placed picture with what it was made from, so that it is made anew only when that changes.
struct PlacedPicture {
    int revision = -1;
    double ball_height = 0.0, sway = 0.0;
    SideCamera camera;
    PageRect area;
    UnitSystem units = UnitSystem::inch;
    PictureSwitches switches;
    std::vector<DrawingPoint> measured;
    std::string ghost = {};  ///< key of the set-up drawn as a ghost (compare.h)
    PagePicture page;
    std::vector<std::string> unplaced;  ///< words that found no place
    Drawing drawing;                    ///< what the page was made from
    std::vector<PicturePoint> points;   ///< in it
    WordPlaces places = {};
};

/// Box that the fitted picture from above or from behind shows.
struct MountedBox {
    int revision = -1;
    MountedPicture kind = MountedPicture::side;
    double ball_height = 0.0;  ///< from above; from behind it holds every height
    UnitSystem units = UnitSystem::inch;
    std::string ghost = {};    ///< as in PlacedPicture
    std::optional<DrawingBox> box;
};

/// What the travel sweeps, with the inputs it was computed for: it takes longer than a frame's share.
struct SweptPicture {
    int revision = -1;
    UnitSystem units = UnitSystem::inch;
    Drawing drawing;
};

/// What is shown of a drawn set-up.
enum class DrawnPicture { plan, side, chart, ditch };

/// The picture of a drawn set-up with what it was made from.
struct PlacedDrawn {
    int revision = -1;
    DrawnPicture kind = DrawnPicture::plan;
    Attitude attitude;
    double ditch_place = 0.0;
    SideCamera camera;
    PageRect area;
    UnitSystem units = UnitSystem::inch;
    std::vector<DrawingPoint> measured;
    std::string ghost = {};  ///< key of the set-up drawn as a ghost (compare.h)
    PagePicture page;
    std::vector<std::string> unplaced;  ///< words that found no place
    Drawing drawing;                    ///< what the page was made from; empty for the chart
    std::vector<PicturePoint> points;   ///< in it
    WordPlaces places = {};
};

/// Box that the fitted picture of a drawn set-up shows: of all that it can be moved through.
struct FittedBox {
    int revision = -1;
    DrawnPicture kind = DrawnPicture::plan;
    double ditch_place = 0.0;
    UnitSystem units = UnitSystem::inch;
    std::string ghost = {};  ///< as in PlacedDrawn
    std::optional<DrawingBox> box;
};

/// The question whether and where changes are written.
struct SaveQuestion {
    bool open = false, possible = false;
    std::string path;                ///< of the new file, for a built-in set-up
    std::string by;                  ///< who took the values; may be empty
    std::vector<std::string> lines;  ///< what would change
    std::string message;             ///< why it was not written
};

/// What stands on the right, in one column below the lift (rooms.h).
enum class SideRoom { findings, inputs, holes, cut, compare, answers, changes, yard, level };
/// What stands below the picture.
enum class LowerRoom { lift, curves };

/// One column in place of three, where the window is narrow.
struct ColumnView {
    bool on = false;                     ///< in the frame being drawn
    float width = 0.0F;                  ///< of the window for which it was laid out last, pixels
    std::map<std::string, float> heights; ///< of panels that are as high as what stands in them, pixels
    std::vector<float> tops;             ///< of the parts of the column and its end, pixels from its beginning
    std::size_t part = 0;                ///< at the upper edge
    float share = 0.0F;                  ///< of that part above the edge
    int frames_to_return = 0;            ///< laid out anew: so many frames until it stands there again
    bool go_to_picture = false;
    float notice_height = 0.0F;          ///< of what stands between column and cautions, pixels
    bool more_tools = false, more_picture = false;  ///< buttons that are folded in for want of room are shown
};

/// What is done once a text that is still being typed has been taken.
enum class AfterTyping { none, open, save, save_as, close };

struct ViewState {
    HITCHWRIGHT_DECLARE_SPECIAL_MEMBERS(ViewState);
    UnitSystem units = UnitSystem::inch;
    Theme theme = Theme::light;
    float scale = 1.0F;  ///< of everything, on top of the screen's own density
    SideRoom side_room = SideRoom::findings;
    LowerRoom lower_room = LowerRoom::lift;
    FrameWork work;
    std::optional<double> ball_height;  ///< of the picture, m; none: the working height, else the lowest
    SideCamera camera;
    PlacedPicture picture;
    SweptPicture swept;
    MountedBox mounted_box;
    PictureState act;  ///< what somebody does in the picture
    DrawnPicture drawn_picture = DrawnPicture::plan;
    std::optional<Attitude> attitude;  ///< of a drawn implement against the tractor; none: straight and level
    std::optional<double> ditch_place;  ///< rear axle behind the middle of the ditch, m; none: the worst place on the way
    PlacedDrawn placed_drawn;
    FittedBox fitted_box;
    PlacedCautions cautions;
    CurveState curves;
    CompareState compare;
    CutState cut;
    std::map<std::string, FieldText> fields;  ///< by key of the value
    InputState inputs;
    FindingState findings;
    std::string go_to_area;                   ///< panel that takes the keyboard in the next frame: inputs, picture, findings
    std::string hint;                         ///< words under the cursor in this frame; empty: none
    std::string notice;                       ///< one sentence about the last change that wants saying
    SaveQuestion save;
    AnswerView answers;
    ExportQuestion take;
    FileView files;
    KeptChangeList changes;
    YardView yard;
    TouchState touch;
    ColumnView column;
    bool asks_to_close = false;               ///< the window was closed with changes that are nowhere kept
    bool shows_keys = false;                  ///< the list of keys and cautions is open
    AfterTyping after_typing = AfterTyping::none;
    bool closed = false;                      ///< nothing holds the window open any more
    std::map<std::string, ScreenRect> places; ///< where each named control was last shown
    std::string focus;                        ///< the named control that has the keyboard; empty: none
};

/// Takes over what belongs to the window and not to a set-up, when another one is shown.
void keep_window_view(ViewState& fresh, ViewState&& before);

}  // namespace hitchwright
